//! Sentences about a position and a move, from the words of a language.

use super::{Word, Words};
use crate::lesson::rules::square_name;
use crate::lesson::{Lesson, LineId, NodeId};
use crate::notation::comment::keyword::Lead;
use crate::notation::comment::mark::{Mark, MarkKind};
use crate::notation::comment::passage::{Does, Paragraph, Passage};
use crate::text::{Finding, Listed, Source, Span, find, is_letter_or_digit, join, typeset};

use shakmaty::{Chess, Color, Piece, Position, Role, Square};

/// The longest that first words are, in characters: about two lines beside a board.
const FIRST_WORDS: usize = 72;

/// Whose turn it is, or how it ended, after a comma.
pub fn turn<'a>(words: &'a Words, position: &Chess) -> &'a str {
    words.get(
        match (
            position.turn(),
            position.is_checkmate(),
            position.is_stalemate(),
        ) {
            (_, true, _) => Word::Checkmated,
            (_, _, true) => Word::Stalemated,
            (Color::White, ..) => Word::WhiteToMove,
            (Color::Black, ..) => Word::BlackToMove,
        },
    )
}

/// A kind of piece.
pub fn role(words: &Words, role: Role) -> &str {
    words.get(match role {
        Role::King => Word::King,
        Role::Queen => Word::Queen,
        Role::Rook => Word::Rook,
        Role::Bishop => Word::Bishop,
        Role::Knight => Word::Knight,
        Role::Pawn => Word::Pawn,
    })
}

/// A piece with its colour.
pub fn piece(words: &Words, piece: Piece) -> &str {
    words.get(match (piece.color, piece.role) {
        (Color::White, Role::King) => Word::WhiteKing,
        (Color::White, Role::Queen) => Word::WhiteQueen,
        (Color::White, Role::Rook) => Word::WhiteRook,
        (Color::White, Role::Bishop) => Word::WhiteBishop,
        (Color::White, Role::Knight) => Word::WhiteKnight,
        (Color::White, Role::Pawn) => Word::WhitePawn,
        (Color::Black, Role::King) => Word::BlackKing,
        (Color::Black, Role::Queen) => Word::BlackQueen,
        (Color::Black, Role::Rook) => Word::BlackRook,
        (Color::Black, Role::Bishop) => Word::BlackBishop,
        (Color::Black, Role::Knight) => Word::BlackKnight,
        (Color::Black, Role::Pawn) => Word::BlackPawn,
    })
}

/// A position in words: every piece, White first.
pub fn describe(words: &Words, position: &Chess) -> String {
    describe_board(words, position.board())
}

/// Pieces in words, those of a side that has none left out.
pub fn describe_board(words: &Words, board: &shakmaty::Board) -> String {
    if board.occupied().is_empty() {
        return words.get(Word::EmptyBoard).to_owned();
    }
    let mut text = String::new();
    for (color, name) in [(Color::White, Word::White), (Color::Black, Word::Black)] {
        if board.by_color(color).is_empty() {
            continue;
        }
        let name = words.get(name);
        text.push_str(match text.is_empty() {
            true => name.trim_start_matches([';', ' ']),
            false => name,
        });
        let mut first = true;
        for kind in Role::ALL.into_iter().rev() {
            for square in board.by_piece(Piece { color, role: kind }) {
                text.push_str(if first { "" } else { ", " });
                first = false;
                text.push_str(role(words, kind));
                text.push(' ');
                text.push_str(&square_name(square));
            }
        }
    }
    text
}

/// What is on a square: `d7, black knight`.
pub fn cell(words: &Words, position: &Chess, square: Square) -> String {
    let what = match position.board().piece_at(square) {
        Some(standing) => piece(words, standing),
        None => words.get(Word::Empty),
    };
    words.fill(
        Word::Cell,
        &[("square", &square_name(square)), ("what", what)],
    )
}

/// Marks in words, after what is said before them: `Marked: c5; the arrow from b4 to b5, a plan
/// to play`. Each is said once; empty if there are none.
pub fn marks_said(words: &Words, before: &str, marks: &[&Mark]) -> String {
    let mut text = String::new();
    for (at, mark) in marks.iter().enumerate() {
        if marks[..at].contains(mark) {
            continue;
        }
        let intro = words.get(Word::Marked);
        text.push_str(match text.is_empty() {
            true if before.ends_with(['.', '!', '?', '\u{2026}']) => intro.trim_start_matches('.'),
            true => intro,
            false => "; ",
        });
        let names: Vec<String> = mark.squares.iter().map(|&it| square_name(it)).listed();
        let of = |one: Word, several: Word| if names.len() == 1 { one } else { several };
        match &names[..] {
            [from, by @ .., to] => {
                let word = if by.is_empty() {
                    Word::Arrow
                } else {
                    Word::Route
                };
                let by = join(by, ", ");
                text.push_str(&words.fill(word, &[("from", from), ("by", &by), ("to", to)]));
            }
            one => text.push_str(&join(one, "")),
        }
        text.push_str(match mark.kind {
            MarkKind::Plain => "",
            MarkKind::Strong => words.get(of(Word::Strong, Word::ToPlay)),
            MarkKind::Weak => words.get(of(Word::Weak, Word::ToStop)),
        });
    }
    text
}

/// What a listener is told of the marks of a comment at its end, in a sentence of its own. A mark
/// that says no more than its squares, which the comment names, is left out.
pub fn marked(words: &Words, before: &str, marks: &[&Mark]) -> String {
    let mut telling = Vec::new();
    for &mark in marks {
        if mark.kind != MarkKind::Plain {
            telling.push(mark);
        }
    }
    let mut text = marks_said(words, before, &telling);
    if !text.is_empty() {
        text.push('.');
    }
    text
}

/// A comment as plain text to be spoken, with the meaning of its marks.
pub(crate) fn plain(passage: &Passage, words: &Words) -> String {
    text(passage, words, true)
}

/// A comment as plain text to be read, where its marks are seen: only the author's sentences.
pub(crate) fn written(passage: &Passage, words: &Words) -> String {
    text(passage, words, false)
}

fn text(passage: &Passage, words: &Words, is_heard: bool) -> String {
    let mut text = String::new();
    let mut marks = Vec::new();
    for paragraph in passage.paragraphs() {
        let mut pieces = paragraph.pieces().peekable();
        if paragraph.lead == Some(Lead::InShort) || paragraph.is_heard() {
            continue; // the recap's, and the talk's
        }
        if !text.is_empty() {
            text.push(' ');
        }
        match (paragraph.lead, pieces.peek()) {
            (None | Some(Lead::InShort | Lead::Diagram), _) => {}
            (Some(Lead::Choose), first) => {
                text.push_str(words.get(Word::Choose));
                text.push_str(if first.is_none() { "." } else { ": " });
            }
        }
        for piece in pieces {
            text.push_str(&typeset(&piece.text));
            if let Does::Marks(mark) = piece.does
                && is_heard
            {
                marks.push(mark);
            }
        }
    }
    let said = marked(words, &text, &marks.iter().listed());
    text + &said
}

/// The first words that the author says of a move.
pub(crate) fn first_words(lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    for said in [&node.before[..], &node.comments[..]] {
        for said in said {
            let first = said.passages().next();
            if let Some(words) = first.and_then(shorten) {
                return typeset(&words);
            }
        }
    }
    String::new()
}

/// The first words that the author says in a line, up to its first question.
pub(crate) fn first_words_of_line(lesson: &Lesson, line: LineId) -> String {
    for id in lesson.line_nodes(line) {
        let words = first_words(lesson, id);
        if !words.is_empty() || lesson.node(id).ask().is_some() {
            return words;
        }
    }
    String::new()
}

/// The words of a paragraph; none where it only points at squares, which the board shows.
fn first_said(paragraph: Paragraph) -> Option<String> {
    let mut pieces = paragraph.pieces();
    let is_said = pieces.any(|piece| {
        let mut letters = piece.text.chars();
        !matches!(piece.does, Does::Marks(_)) && letters.any(is_letter_or_digit)
    });
    is_said.then(|| paragraph.words())
}

/// The first sentence of a comment's first paragraph, cut between words where it is long.
fn shorten(passage: &Passage) -> Option<String> {
    let paragraphs = passage.paragraphs();
    let mut paragraphs = paragraphs
        .filter(|one| !matches!(one.lead, Some(Lead::InShort | Lead::Diagram)) && !one.is_heard());
    let whole = paragraphs.find_map(first_said)?;
    let sentence = match find(&whole, ". ") {
        // A number's period, as in "4. cxd5", ends no sentence.
        Some(end) if !whole[..end].ends_with(|c: char| c.is_ascii_digit()) => &whole[..end],
        _ => whole.strip_suffix('.').unwrap_or(&whole),
    };
    if sentence.chars().count() <= FIRST_WORDS {
        return Some(sentence.to_owned());
    }
    let cut: String = sentence.chars().take(FIRST_WORDS).collect();
    let cut = match cut.bytes().rposition(|byte| byte == b' ') {
        Some(end) => &cut[..end],
        None => &cut,
    };
    Some(format!(
        "{}\u{2026}",
        cut.trim_end_matches([',', ';', ':', ' '])
    ))
}

/// A text with numbers in the place of `{count}`, `{of}`, `{recalled}` and `{again}`.
pub(crate) fn counted(words: &Words, word: Word, numbers: [u32; 4]) -> String {
    let [count, of, recalled, again] = numbers;
    let values = [
        ("count", &*count.to_string()),
        ("of", &of.to_string()),
        ("recalled", &recalled.to_string()),
        ("again", &again.to_string()),
    ];
    words.fill(word, &values)
}

/// A finding in one line, for its author; in English, as all that authors see. One about an
/// attribute names that, and one about the page no place at all.
pub fn note(source: &Source, finding: &Finding) -> String {
    let mut text = finding.severity().word().to_owned();
    text.push(' ');
    text.push_str(finding.code.id());
    if !finding.attribute.is_empty() {
        text.push_str(", in ");
        text.push_str(finding.attribute);
    } else if finding.span != Span::default() {
        let place = source.place(finding.span.from);
        text.push_str(", line ");
        text.push_str(&place.line.to_string());
        text.push_str(", column ");
        text.push_str(&place.column.to_string());
    }
    text.push_str(": ");
    text.push_str(&finding.message);
    if let Some(help) = &finding.help {
        text.push_str(" (");
        text.push_str(help);
        text.push(')');
    }
    text
}
