//! Tags whose value has lost one of its quotes, has one too many, or has one in the wrong place.

use crate::check::attributes::ATTRIBUTES;
use crate::notation::Game;
use crate::text::{Code, Finding, Source, Span};

/// A change of some bytes of a text.
pub(super) struct Splice {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) text: String,
}

/// The names of tags that everybody uses (PGN standard, 8.1.1 and 9).
const COMMON: [&str; 14] = [
    "Event",
    "Site",
    "Date",
    "Round",
    "White",
    "Black",
    "Result",
    "FEN",
    "SetUp",
    "Annotator",
    "ECO",
    "Opening",
    "Variation",
    "PlyCount",
];

/// Whether all before the moves of a game, which begin at a byte, is tags as nearly all are,
/// `[Name "value"]` with two quotes: then nothing is wrong with them.
pub(super) fn are_plain(source: &Source, game: &Game, begin: usize) -> bool {
    let is_space = |from: u32, to: u32| source.slice(Span { from, to }).trim_ascii().is_empty();
    let mut at = game.span.from;
    for tag in &game.tags {
        let (whole, name, value) = (tag.span, tag.name, tag.value_span);
        // A value as long as what is between its quotes protects none with a backslash.
        let is_plain = whole.from + 1 == name.from
            && name.to + 1 == value.from
            && value.to + 1 == whole.to
            && tag.value.len() as u32 + 2 == value.to - value.from;
        if !is_plain || !is_space(at, whole.from) {
            return false;
        }
        at = whole.to;
    }
    is_space(at, begin as u32)
}

/// What is wrong in the lines of some tags, and what they should be.
pub(super) fn quotes(head: &str) -> Vec<(Finding, Splice)> {
    let mut list = Vec::new();
    let mut at = 0;
    for line in head.split_inclusive('\n') {
        let from = at + line.len() - line.trim_start().len();
        let bare = line.trim();
        at += line.len();
        if let Some((message, text)) = mended(bare) {
            let to = from + bare.len();
            let span = Span::new(from, to);
            let finding = Finding::new(Code::BadTag, span, message.to_owned())
                .with_help(format!("write {text}"))
                .with_fix(span, text.clone());
            list.push((finding, Splice { from, to, text }));
        }
    }
    list
}

/// What is wrong with the quotes of a line, and the line with them where they belong.
fn mended(line: &str) -> Option<(&'static str, String)> {
    let count = line.matches('"').count();
    let is_plain = line.starts_with('[') && !line.contains(['\\', '\'', ';', '{']);
    if !is_plain || !(1..=3).contains(&count) || line.matches(']').count() != 1 {
        return None;
    }
    let bare: String = line.chars().filter(|&it| it != '"').collect();
    let inside = bare.strip_prefix('[')?.trim();
    let inside = inside.strip_suffix(']').unwrap_or(inside).trim();
    if inside.contains(']') {
        return None;
    }
    let (name, value) = inside
        .split_once(char::is_whitespace)
        .unwrap_or((inside, ""));
    let is_name = |it: char| it.is_ascii_alphanumeric() || it == '_';
    if name.is_empty() || !name.chars().all(is_name) {
        return None;
    }
    let value = value.trim();
    let wanted = format!("[{name} \"{value}\"]");
    if count == 2 && is_right(line, name) {
        return None;
    }
    let message = match count {
        1 => "the value of this tag has lost a quote",
        2 => "a quote of this tag is in the wrong place",
        _ => "this tag has a quote too many",
    };
    Some((message, wanted))
}

/// Whether two quotes are where they can be: a name that is known or nothing like one, then a value
/// up to the bracket.
fn is_right(line: &str, joined: &str) -> bool {
    let Some((name, rest)) = line[1..].split_once('"') else {
        return false;
    };
    let ends = rest
        .split_once('"')
        .is_some_and(|(_, end)| end.trim() == "]");
    let is_apart = name.ends_with(char::is_whitespace);
    let is_one = name.split_whitespace().count() == 1;
    if !ends || !is_one {
        return false;
    }
    // `[Event"x"]` is read by all; `[Eve"nt x"]` is a slip.
    let is_known =
        |name: &str| COMMON.contains(&name) || ATTRIBUTES.iter().any(|row| row.tag == name);
    is_apart || is_known(name.trim()) || !is_known(joined)
}
