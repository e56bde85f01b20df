//! Fences that are nearly ours: a slip in the language of a block, which then stays code on the page, and
//! tags in a fence that cannot be read.

use super::elements::Tree;
use super::found::{Found, fence, is_within, language_of, marked, tags};
use super::names::{nearest, tag_names};
use crate::check::attributes::{KINDS, Kind};
use crate::lesson::reason::suggest::distance;
use crate::text::{Code, Finding, Span};

/// How many letters the shortest of our languages that is known without a look at its text has.
const LONG: usize = 4;

/// The findings about the languages of blocks that are none of ours.
pub fn languages(tree: &Tree) -> Vec<Finding> {
    let pre = (0..tree.nodes.len()).filter(|&node| tree.nodes[node].name == "pre");
    pre.filter_map(|node| language(tree, node)).collect()
}

fn language(tree: &Tree, pre: usize) -> Option<Finding> {
    if is_within(tree, pre) || fence(tree, pre).is_some() {
        return None;
    }
    let text = tree.text(pre).text;
    marked(tree, pre).find_map(|node| {
        let class = tree.attribute(node, "class")?;
        let words = class.value.text.split_whitespace();
        let mut named = words.filter_map(|word| {
            let name = language_of(word)?;
            Some((name, meant(name, &text)?))
        });
        let (name, near) = named.next()?;
        let at = class.value.text.find(name)?;
        let span = class.value.mapping.outer(Span::new(at, at + name.len()));
        let message = format!("\u{201c}{name}\u{201d} is no fence of plyline, so this stays code");
        let finding = Finding::new(Code::NameAmiss, span, message);
        Some(finding.with_help(format!("did you mean {near}?")))
    })
}

/// The language of ours that is meant. Short names are near to those of other languages: there the
/// text must look like notation too.
fn meant(name: &str, text: &str) -> Option<&'static str> {
    let name = name.to_ascii_lowercase();
    let all = || {
        KINDS
            .iter()
            .flat_map(|(_, _, languages)| languages.iter().copied())
    };
    if let Some(near) = nearest(&name, all().filter(|it| it.len() >= LONG)) {
        return Some(near);
    }
    all().find(|short| {
        let is_alike = match *short {
            "pgn" => is_notation(text),
            "fen" => is_placement(text),
            _ => return false,
        };
        is_alike && distance(name.as_bytes(), short.as_bytes()) <= 1
    })
}

/// Whether a text has a tag, `[Event "?"]`, or the number of a first move and a move after it.
fn is_notation(text: &str) -> bool {
    let is_tag = |line: &str| {
        let tag = line.trim_start().strip_prefix('[');
        let value = tag.map(|it| it.trim_start_matches(|sign: char| sign.is_ascii_alphanumeric()));
        value.is_some_and(|it| it.starts_with(" \""))
    };
    let is_move = |(at, number): (usize, &str)| {
        let is_word = text[..at].ends_with(|sign: char| sign.is_alphanumeric() || sign == '.');
        let after = text[at + number.len()..].trim_start();
        let is_letter = |sign: char| matches!(sign, 'a'..='h' | 'K' | 'Q' | 'R' | 'B' | 'N' | 'O');
        !is_word && after.starts_with(is_letter)
    };
    text.lines().any(is_tag) || text.match_indices("1.").any(is_move)
}

/// Whether a text has a word with rows of pieces.
fn is_placement(text: &str) -> bool {
    text.split_whitespace().any(|word| {
        let is_sign = |sign: char| "pnbrqkPNBRQK12345678/".contains(sign);
        word.chars().all(is_sign) && word.matches('/').count() > 3
    })
}

/// The findings about tags in a fence of an element that cannot be read. Words in brackets are none.
pub fn broken_tags(tree: &Tree, found: &Found) -> Vec<Finding> {
    if !found.is_fence || found.kind == Kind::Lesson || !tree.nodes[found.node].is_closed {
        return Vec::new();
    }
    let text = tree.text(found.node);
    let (_, _, unread) = tags(&text);
    let is_broken = |&open: &usize| {
        let (before, after) = text.text.split_at(open);
        let line = after.lines().next().unwrap_or_default();
        let is_first = before.trim_end_matches([' ', '\t']).ends_with(['\n', ']']);
        (is_first || before.trim().is_empty()) && is_tag_of(found.kind, line)
    };
    let broken = unread.into_iter().filter(is_broken);
    let find = |open: usize| {
        let rest = &text.text[open..];
        let line = rest.lines().next().unwrap_or_default();
        let length = line.find(']').map_or(line.trim_end().len(), |at| at + 1);
        let span = text.mapping.outer(Span::new(open, open + length));
        let finding = Finding::new(Code::BadTag, span, "this tag cannot be read".to_owned());
        finding.with_help("a tag is written `[Name \"value\"]`, on one line".to_owned())
    };
    broken.map(find).collect()
}

/// Whether a bracket and what follows it on its line are meant as a tag of such a fence, `[At 6.Nxd5]` or
/// `[for qgd]`: the value is a move, one word, or in quotes, and no text follows.
fn is_tag_of(kind: Kind, line: &str) -> bool {
    let words = line.trim_start_matches('[').trim_start();
    let is_other = |sign: char| !sign.is_ascii_alphanumeric();
    let (name, value) = words.split_at(words.find(is_other).unwrap_or(words.len()));
    let (value, rest) = value.split_once(']').unwrap_or((value, ""));
    if !rest.trim().is_empty() && !rest.trim_start().starts_with('[') {
        return false;
    }
    let mut all = value.split_whitespace();
    let is_move = all
        .next()
        .is_some_and(|it| it.contains(|sign: char| sign.is_ascii_digit()));
    let is_quoted = value.contains(['"', '\u{201c}', '\u{201d}', '\u{201e}', '\'']);
    if !is_move && !is_quoted && all.next().is_some() {
        return false;
    }
    let own = tag_names(kind);
    let name = name.to_ascii_lowercase();
    own.clone().any(|known| known == name) || nearest(&name, own).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_is_meant_by_its_name_and_a_short_one_by_its_text_too() {
        let moves = "1. e4 e5 *\n";
        let fen = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
        for (name, text, near) in [
            ("ply-quizz", "", Some("ply-quiz")),
            ("Ply-Recall", "", Some("ply-recall")),
            ("plydiagram", "", Some("ply-diagram")),
            ("PGN", moves, Some("pgn")),
            ("png", "[Event \"?\"]", Some("pgn")),
            ("pgm", moves, Some("pgn")),
            ("pgm", "P2 24 7 15", None),
            ("fenn", fen, Some("fen")),
            ("fenn", moves, None),
            ("php", moves, None),
            ("json", "{\"a\": [1.5]}", None),
            ("gn", "version = 1.2", None),
        ] {
            assert_eq!(meant(name, text), near, "{name} {text}");
        }
    }
}
