//! Every word on screen and every word spoken, in English.

use super::board::Board;
use super::lines::move_view;
use crate::lesson::rules::{landing, origin, square_name};
use crate::lesson::{Lesson, LineId, NodeId};
use crate::notation::comment;
use crate::text::{Finding, Source};
use shakmaty::{Chess, Color, Position, Role};

/// The main line, in a list of next moves.
pub const MAIN: &str = "main";
/// One move back.
pub const BACK: &str = "back";
/// One move on.
pub const NEXT: &str = "next";
/// To the start.
pub const TOP: &str = "from the top";
/// The other side below.
pub const TURN: &str = "turn";
/// Before the last move in a caption.
pub const AFTER: &str = "after ";
/// The caption at the start.
pub const START: &str = "the start";
/// Names the outline.
pub const OUTLINE: &str = "Variations";
/// Names the list of next moves.
pub const NEXT_MOVES: &str = "Next moves";
/// Names the row of buttons.
pub const CONTROLS: &str = "Step through the line";
/// Names a line in speech: `line B2`.
pub const LINE: &str = "line ";
/// Before the condition of a choice.
pub const CHOOSE: &str = "The choice";
/// Says what marked words are.
pub const UNREAD: &str = "This part of the notation could not be read";
/// Before the findings that an author sees.
pub const NOTES: &str = "For the author";
/// In the place of a lesson that cannot be drawn at all.
pub const FAILED: &str =
    "The board cannot be shown here; the moves are below as they were written.";
/// The same, where there is nothing below.
pub const FAILED_BARE: &str = "The board cannot be shown here.";

/// The longest that first words are, in characters: about two lines beside a board.
const FIRST_WORDS: usize = 72;

/// Whose turn it is, or how it ended, after a comma.
pub fn turn(position: &Chess) -> &'static str {
    match (
        position.turn(),
        position.is_checkmate(),
        position.is_stalemate(),
    ) {
        (_, true, _) => ", checkmate",
        (_, _, true) => ", stalemate",
        (Color::White, ..) => ", White to move",
        (Color::Black, ..) => ", Black to move",
    }
}

/// The board in words: every piece, White first.
pub fn describe(board: &Board) -> String {
    let mut text = String::new();
    for (color, name) in [(Color::White, "White: "), (Color::Black, "; Black: ")] {
        text.push_str(name);
        let mut first = true;
        for role in [
            Role::King,
            Role::Queen,
            Role::Rook,
            Role::Bishop,
            Role::Knight,
            Role::Pawn,
        ] {
            for (square, piece) in &board.pieces {
                if piece.color == color && piece.role == role {
                    text.push_str(if first { "" } else { ", " });
                    first = false;
                    text.push_str(role_name(role));
                    text.push(' ');
                    text.push_str(&square_name(*square));
                }
            }
        }
    }
    text
}

/// The move that leads to a node, in a sentence for the ear, with what follows from it.
pub fn say(lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    let Some(parent) = node.parent else {
        return "Start of the lesson".to_owned();
    };
    let before = &lesson.node(parent).position;
    let mut text = match before.turn() {
        Color::White => "White ".to_owned(),
        Color::Black => "Black ".to_owned(),
    };
    match node.played {
        None => text.push_str("passes"),
        Some(played) if played.is_castle() => text.push_str("castles"),
        Some(played) => {
            text.push_str(role_name(played.role()));
            text.push_str(" from ");
            text.push_str(&square_name(origin(played)));
            text.push_str(if played.is_capture() {
                " takes on "
            } else {
                " to "
            });
            text.push_str(&square_name(landing(played)));
            if let Some(role) = played.promotion() {
                text.push_str(", becomes a ");
                text.push_str(role_name(role));
            }
        }
    }
    match node.san.as_bytes().last() {
        Some(b'#') => text.push_str(", checkmate"),
        Some(b'+') => text.push_str(", check"),
        _ => {}
    }
    if !node.comments.is_empty() {
        text.push_str(". There is a comment");
    }
    match node.children.len() {
        0 => text.push_str(". The line ends here"),
        1 => {}
        several => {
            text.push_str(". ");
            text.push_str(&several.to_string());
            text.push_str(" moves go on from here");
        }
    }
    text
}

fn role_name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

/// The first words that the author says of a move.
pub(super) fn first_words(lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    let mut texts = node.before.iter().chain(&node.comments);
    texts
        .find_map(|said| shorten(&said.text))
        .unwrap_or_default()
}

/// The first words that the author says in a line.
pub(super) fn first_words_of_line(lesson: &Lesson, line: LineId) -> String {
    let mut words = lesson.line_nodes(line).map(|id| first_words(lesson, id));
    words.find(|words| !words.is_empty()).unwrap_or_default()
}

/// The first sentence of a comment's first paragraph, cut between words where it is long.
fn shorten(text: &str) -> Option<String> {
    let paragraph = comment::paragraphs(text)
        .into_iter()
        .find(|p| !p.pieces.is_empty())?;
    let whole: String = paragraph
        .pieces
        .into_iter()
        .map(|piece| piece.text)
        .collect();
    let sentence = match whole.find(". ") {
        // A number's period, as in "4. cxd5", ends no sentence.
        Some(end) if !whole[..end].ends_with(|c: char| c.is_ascii_digit()) => &whole[..end],
        _ => whole.strip_suffix('.').unwrap_or(&whole),
    };
    if sentence.chars().count() <= FIRST_WORDS {
        return Some(sentence.to_owned());
    }
    let cut: String = sentence.chars().take(FIRST_WORDS).collect();
    let cut = cut
        .rsplit_once(' ')
        .map_or(cut.as_str(), |(words, _)| words);
    Some(format!(
        "{}\u{2026}",
        cut.trim_end_matches([',', ';', ':', ' '])
    ))
}

/// The moves that lead to a node, in one line.
pub fn path(lesson: &Lesson, id: NodeId) -> String {
    let mut text = String::new();
    for &node in lesson.path(id).iter().skip(1) {
        let shown = move_view(lesson, node, text.is_empty());
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(shown.number.as_deref().unwrap_or_default());
        text.push_str(&shown.san);
    }
    text
}

/// A finding in one line, for its author.
pub fn note(source: &Source, finding: &Finding) -> String {
    let place = source.place(finding.span.from);
    let mut text = format!(
        "{} {}, line {}, column {}: {}",
        finding.severity().word(),
        finding.code.id(),
        place.line,
        place.column,
        finding.message
    );
    if let Some(help) = &finding.help {
        text.push_str(" (");
        text.push_str(help);
        text.push(')');
    }
    text
}
