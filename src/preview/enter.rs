//! What an author has typed into the one field: moves with whatever belongs to them, signs alone, or words alone.

use super::form::lesson_of;
use super::made::{Made, text_of};
use super::open::Open;
use super::refused::Refused;
use super::told::find;
use crate::edit::{Edit, Notation, Piece, Written, piece, unread};
use crate::lesson::reason::suggest;
use crate::lesson::{Attempt, Lesson, Node, NodeId, attempt_typed, validate};
use crate::notation::word::{nag, san};
use crate::notation::{ItemKind, Letters, Syntax, parse};
use crate::text::{Code, Finding, Source};

/// What was typed, read at a place of a lesson.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// All the glyphs that the move has then.
    Signs(Vec<u8>),
    /// Words for a new comment; how many there are already.
    Comment { nth: usize, text: String },
    /// Moves.
    Moves {
        /// Those that follow each other, in English SAN, where nothing else was typed.
        run: Option<Vec<String>>,
        /// The main line of what was typed.
        line: Vec<String>,
        /// Whether it begins at the lesson's start instead of the place.
        from_start: bool,
        /// How many there are.
        count: usize,
        /// Whether sentences name them, which do not enter themselves.
        is_named: bool,
        /// The first word that cannot be read.
        stop: Option<Stop>,
        /// All of those words.
        unread: Vec<String>,
    },
}

impl Typed {
    /// The edit that enters it at a place, and the moves from the start to which it leads.
    pub fn edit(&self, at: &[String], text: &str) -> (Edit, Vec<String>) {
        let at = at.to_vec();
        match self {
            Typed::Signs(nags) => {
                let nags = nags.clone();
                let edit = Edit::Sign {
                    at: at.clone(),
                    nags,
                };
                (edit, at)
            }
            Typed::Comment { nth, text } => {
                let edit = Edit::Comment {
                    at: at.clone(),
                    nth: *nth,
                    was: String::new(),
                    text: text.clone(),
                };
                (edit, at)
            }
            Typed::Moves {
                run,
                line,
                from_start,
                ..
            } => {
                let from = if *from_start { Vec::new() } else { at.clone() };
                let to = match line.is_empty() {
                    true => at.clone(),
                    false => [from.clone(), line.clone()].concat(),
                };
                let edit = match run {
                    Some(moves) => Edit::Keep {
                        at: from,
                        moves: moves.clone(),
                    },
                    None => Edit::Paste {
                        at,
                        text: text.to_owned(),
                    },
                };
                (edit, to)
            }
        }
    }
}

/// A word that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Where it is in what was typed, in UTF-16 units.
    pub from: u32,
    pub to: u32,
    pub reason: String,
    pub help: String,
    /// Moves that may have been meant.
    pub near: Vec<String>,
}

/// Reads what was typed at a place of a lesson, which has this text.
///
/// # Errors
/// Where the place is gone, or nothing of it can be read.
pub fn typed(lesson: &str, at: &[String], text: &str) -> Result<Typed, Refused> {
    let begun = || lesson_of("*").0;
    let lesson = lesson_of(lesson).0.or_else(begun);
    let gone = || {
        Refused::new(
            "place-gone",
            "the lesson does not hold this place any more",
            "read it again",
        )
    };
    let lesson = lesson.ok_or_else(gone)?;
    let node = find(&lesson, at).ok_or_else(gone)?;
    if text.trim().is_empty() {
        return Err(Refused::new("no-move", "nothing was typed", "type a move"));
    }
    if let Some(glyphs) = signs(text) {
        let joined = joined(&lesson.node(node).nags, &glyphs);
        return Ok(Typed::Signs(joined));
    }
    if let Some(run) = run_of(&lesson, node, text) {
        return Ok(Typed::Moves {
            count: run.len(),
            line: run.clone(),
            run: Some(run),
            from_start: false,
            is_named: false,
            stop: None,
            unread: Vec::new(),
        });
    }
    if let Some(text) = words_alone(text) {
        let there = lesson.node(node);
        let nth = there.before.len() + there.comments.len();
        return Ok(Typed::Comment { nth, text });
    }
    let bare = Source::new("typed", text);
    let (syntax, _) = parse(&bare);
    if syntax.games.iter().any(|game| !game.tags.is_empty()) {
        return Ok(games(&bare, &syntax));
    }
    let read = piece(&lesson, node, text);
    let stop = match read {
        Some(read) if read.has_moves() => {
            let from_start = read.from == 0 && node != 0;
            return Ok(moves(&lesson, read, from_start, text));
        }
        read => read.and_then(|it| stop_of(&lesson, &it, text)),
    };
    let stop = stop.unwrap_or_else(|| nothing(text));
    Err(Refused {
        place: Some((stop.from, stop.to)),
        near: stop.near,
        ..Refused::new("no-move", stop.reason, stop.help)
    })
}

fn nothing(text: &str) -> Stop {
    Stop {
        from: 0,
        to: text.encode_utf16().count() as u32,
        reason: "this is no move".to_owned(),
        help: "write it as in Nf3".to_owned(),
        near: Vec::new(),
    }
}

/// Moves that follow each other, as they are typed in haste: capitals may be missing. None where there is anything else.
fn run_of(lesson: &Lesson, node: NodeId, text: &str) -> Option<Vec<String>> {
    if text.contains(['(', ')', '{', '}', '[', ';', '$']) {
        return None;
    }
    let mut position = lesson.node(node).position.clone();
    let mut run = Vec::new();
    let is_number = |word: &str| {
        word.chars()
            .all(|it| it.is_ascii_digit() || matches!(it, '.' | '\u{2026}'))
    };
    for word in text.split_whitespace().filter(|word| !is_number(word)) {
        let is_signed = nag::sign_at_end(word).is_some();
        match attempt_typed(&position, word, lesson.letters()) {
            Attempt::Played(tried) if !is_signed => {
                run.push(tried.san);
                position = tried.position;
            }
            _ => return None,
        }
    }
    (!run.is_empty()).then_some(run)
}

/// The glyphs of a text of signs alone.
fn signs(text: &str) -> Option<Vec<u8>> {
    let mut glyphs = Vec::new();
    for word in text.split_whitespace() {
        match word.strip_prefix('$') {
            Some(number) => glyphs.push(number.parse().ok()?),
            None => {
                let mut rest = word;
                while !rest.is_empty() {
                    let (glyph, length) = nag::sign_at_end(rest)?;
                    glyphs.insert(0, glyph);
                    rest = rest.get(..rest.len() - length)?;
                }
            }
        }
    }
    Some(glyphs)
}

/// The glyphs of a move with others: of each group the last that was typed.
fn joined(there: &[u8], new: &[u8]) -> Vec<u8> {
    let mut all = there.to_vec();
    for &glyph in new {
        all.retain(|&it| it != glyph && (group(it).is_none() || group(it) != group(glyph)));
        all.push(glyph);
    }
    all
}

/// Glyphs of which a move has one: those of the move, and those of the position (PGN standard, section 10).
fn group(glyph: u8) -> Option<u8> {
    match glyph {
        1..=6 => Some(1),
        10..=21 => Some(2),
        _ => None,
    }
}

/// The words of a text that has comments and nothing else.
fn words_alone(text: &str) -> Option<String> {
    // Without a move or a result it would be no game.
    let source = Source::new("typed", format!("{text}\n*"));
    let (syntax, _) = parse(&source);
    let game = syntax.games.first().filter(|_| syntax.games.len() == 1)?;
    let line = game
        .lines
        .first()
        .filter(|_| game.lines.len() == 1 && game.tags.is_empty())?;
    let is_comment = line.items.iter().all(|it| it.kind == ItemKind::Comment);
    if !is_comment || line.items.is_empty() {
        return None;
    }
    let words = line.items.iter().map(|it| {
        let word = source.slice(it.span);
        word.trim_start_matches(['{', ';'])
            .trim_end_matches('}')
            .trim()
            .to_owned()
    });
    Some(words.collect::<Vec<_>>().join(" "))
}

/// Whole games, which say where they begin.
fn games(source: &Source, syntax: &Syntax) -> Typed {
    let (lessons, _) = validate(source, syntax);
    let lessons: Vec<Lesson> = lessons.into_iter().flatten().collect();
    let unread = lessons.iter().flat_map(|it| unread(source, it));
    Typed::Moves {
        run: None,
        line: Vec::new(),
        from_start: true,
        is_named: false,
        count: lessons.iter().map(|it| it.nodes.len() - 1).sum(),
        stop: None,
        unread: unread.collect(),
    }
}

/// How many positions a lesson has more after what was made.
pub fn looked(open: &Open, lesson: usize, made: &Made) -> usize {
    let count = |text: &str| lesson_of(text).0.map_or(1, |it| it.nodes.len());
    let after = count(&text_of(&made.text, open.form, lesson));
    let before = open.blocks().get(lesson).map_or(1, |it| count(&it.text));
    after.saturating_sub(before)
}

/// A piece that has moves.
fn moves(lesson: &Lesson, piece: Piece, from_start: bool, text: &str) -> Typed {
    let stop = stop_of(lesson, &piece, text);
    let read = &piece.lesson;
    let mut line = Vec::new();
    let mut at = 0;
    while let Some(&next) = read.node(at).children.first() {
        line.push(read.node(next).san.to_string());
        at = next;
    }
    let (run, count) = match &piece.written {
        Written::Notation(notation) => {
            let is_plain = is_plain(read, notation) && line.len() + 1 == read.nodes.len();
            (is_plain.then(|| line.clone()), read.nodes.len() - 1)
        }
        Written::Sentences { named } => (None, *named),
    };
    Typed::Moves {
        run,
        line,
        from_start,
        count,
        is_named: matches!(piece.written, Written::Sentences { .. }),
        stop,
        unread: piece.unread,
    }
}

/// Whether notation is nothing but moves in the letters of the lesson.
fn is_plain(read: &Lesson, notation: &Notation) -> bool {
    let is_bare = |it: &Node| it.nags.is_empty() && it.comments.is_empty() && it.before.is_empty();
    let is_own = |it: &Finding| it.code != Code::OtherLetters;
    read.unread.is_empty()
        && read.nodes.iter().all(is_bare)
        && notation.syntax.games.len() == 1
        && notation.findings.iter().all(is_own)
}

/// The first word of a piece of notation that cannot be read.
fn stop_of(lesson: &Lesson, piece: &Piece, text: &str) -> Option<Stop> {
    let Written::Notation(Notation { source, begin, .. }) = &piece.written else {
        return None;
    };
    let unread = piece.lesson.unread.first()?;
    let words = source.slice(unread.span);
    let word = words.split_whitespace().next().unwrap_or_default();
    let begin = (unread.span.from as usize).saturating_sub(*begin);
    Some(stop(
        &piece.lesson,
        unread.after,
        lesson.letters(),
        text,
        begin,
        word,
    ))
}

fn stop(
    read: &Lesson,
    after: NodeId,
    letters: &Letters,
    text: &str,
    begin: usize,
    word: &str,
) -> Stop {
    let position = &read.node(after).position;
    let units = |text: &str| text.encode_utf16().count() as u32;
    let from = units(text.get(..begin).unwrap_or_default());
    let (reason, help) = match attempt_typed(position, word, letters) {
        Attempt::Refused(reason) => (reason.message, reason.help.unwrap_or_default()),
        _ => (
            format!("\u{201c}{word}\u{201d} is no move"),
            "write it as in Nf3".to_owned(),
        ),
    };
    Stop {
        from,
        to: from + units(word),
        reason,
        help,
        near: suggest::near(position, &san::read(word, letters), letters),
    }
}
