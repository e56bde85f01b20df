//! Words of a game whose writing says what happened: letters of another alphabet or language, a
//! capital that was lost, the dash of a word processor.

use super::Text;
use super::numbered::{Numbered, numbered};
use crate::check::author::explained::Told;
use crate::lesson::reason::phrases::list;
use crate::lesson::rules::{self, san_of};
use crate::notation::word::san;
use crate::notation::{ItemKind, Letters};
use crate::text::{Code, Finding, Severity, Span, join, quote};

/// Letters of other alphabets that look like Latin ones, and these: Cyrillic, then Greek.
const ALIKE: &[(char, char)] = &[
    ('\u{430}', 'a'),
    ('\u{435}', 'e'),
    ('\u{441}', 'c'),
    ('\u{445}', 'x'),
    ('\u{410}', 'A'),
    ('\u{412}', 'B'),
    ('\u{41a}', 'K'),
    ('\u{41e}', 'O'),
    ('\u{425}', 'x'),
    ('\u{3b1}', 'a'),
    ('\u{39f}', 'O'),
    ('\u{392}', 'B'),
    ('\u{39a}', 'K'),
    ('\u{39d}', 'N'),
];

/// Most findings of a game that are looked at.
const LOOKED: usize = 32;

/// Most languages that are named.
const LANGUAGES: usize = 8;

/// Most moves that are written out.
const WRITTEN: usize = 6;

/// Rewords the findings at such words.
pub(super) fn spelling(text: &Text) -> Vec<Told> {
    let mut list = Vec::new();
    let is_bad = |it: &Finding| it.severity() == Severity::Error;
    let numbered = match text.found.iter().any(is_bad) {
        true => numbered(text),
        false => Vec::new(),
    };
    for finding in text.found.iter().filter(|it| is_bad(it)).take(LOOKED) {
        let Some(here) = numbered.iter().find(|it| it.word.from == finding.span.from) else {
            continue;
        };
        let better = alike(text, here, finding)
            .or_else(|| castles(text, here, finding))
            .or_else(|| capital(text, here, finding))
            .or_else(|| language(text, here, finding));
        list.extend(better.map(Told::alone));
    }
    for finding in text.found.iter().filter(|it| it.code == Code::Spelling) {
        list.extend(dash(text, finding).map(Told::alone));
    }
    list
}

/// A letter of another alphabet in a move.
fn alike(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let word = text.source.slice(here.word);
    let latin = |it: char| ALIKE.iter().find(|(other, _)| *other == it);
    let (other, _) = *word.chars().find_map(latin)?;
    let right: String = word
        .chars()
        .map(|it| latin(it).map_or(it, |(_, it)| *it))
        .collect();
    can_play(text, here, &right)?;
    let alphabet = if other < '\u{400}' {
        "Greek"
    } else {
        "Cyrillic"
    };
    let (_, small) = *latin(other)?;
    let help = format!("write {right} with Latin letters");
    let mut finding = found.clone().with_help(help);
    finding.message = format!(
        "the {other} in \u{201c}{}\u{201d} is a {alphabet} letter, and no Latin {small}",
        quote(word)
    );
    Some(finding.with_fix(here.word, right))
}

/// `OO` and `000`.
fn castles(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let word = text
        .source
        .slice(here.word)
        .trim_end_matches(['!', '?', '+', '#']);
    let is_o = |it: char| matches!(it, 'O' | 'o' | '0');
    let right = match word.len() {
        2 if word.chars().all(is_o) => "O-O",
        3 if word.chars().all(is_o) => "O-O-O",
        _ => return None,
    };
    can_play(text, here, right)?;
    let from = here.word.from as usize;
    let mut finding = found.clone().with_help(format!("write {right}"));
    finding.message = format!("castling is written {right}, and not {word}");
    Some(finding.with_fix(Span::new(from, from + word.len()), right.to_owned()))
}

/// `bc4`, which as a pawn's move cannot be played, and as a bishop's can.
fn capital(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let word = text.source.slice(here.word);
    let rest = word.strip_prefix('b')?;
    let san = can_play(text, here, &format!("B{rest}"))?;
    let mut help = format!("with a capital it is the bishop's move: write {san}");
    let more = found.help.as_deref().unwrap_or_default().split("; ");
    for more in more.filter(|it| !it.is_empty() && !it.starts_with("legal here and close")) {
        help = format!("{help}; {more}");
    }
    Some(found.clone().with_help(help))
}

/// A line in the piece letters of another language.
fn language(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let word = text.source.slice(here.word);
    let first = word.chars().next()?;
    if found.code != Code::NotAMove || !text.letters.is_english() || !first.is_uppercase() {
        return None;
    }
    let items = &text.game.lines.get(here.line)?.items;
    let moves = items.iter().filter(|it| it.kind == ItemKind::Move);
    let rest: Vec<&str> = moves
        .filter(|it| it.span.from >= here.word.from)
        .map(|it| text.source.slice(it.span))
        .collect();
    let plays = |letters: &&'static Letters| {
        let written = in_english(text, here, &rest, letters)?;
        // One move proves nothing; two letters of its own do.
        let own = rest
            .iter()
            .zip(&written)
            .filter(|(one, other)| **one != other.as_str());
        (own.count() > 1).then_some(written)
    };
    let mut all = Letters::ALL[1..]
        .iter()
        .filter_map(|letters| Some((letters, plays(&letters)?)));
    let (letters, written) = all.next()?;
    let mut languages: Vec<String> = letters.languages().map(str::to_owned).collect();
    for (letters, _) in all {
        languages.extend(letters.languages().map(str::to_owned));
    }
    let languages = match languages.len() {
        ..=LANGUAGES => list(languages, "or"),
        _ => "of another language".to_owned(),
    };
    let mut changed: Vec<&str> = Vec::new();
    for (one, other) in rest.iter().zip(&written) {
        if one != other && changed.len() < WRITTEN {
            changed.push(other);
        }
    }
    let mut finding = found.clone();
    finding.message = format!(
        "from {} on the piece letters of this line are {languages}, not English",
        quote(word)
    );
    Some(finding.with_help(format!("write {}", join(&changed, ", "))))
}

/// The moves of a line, written in English, if all of them play in these letters.
fn in_english(
    text: &Text,
    here: &Numbered,
    words: &[&str],
    letters: &Letters,
) -> Option<Vec<String>> {
    let mut position = text.lesson.node(here.at).position.clone();
    let mut list = Vec::new();
    for word in words {
        let read = san::read(word, letters);
        let (played, _) = rules::resolve(&position, &read.shape?).ok()?;
        list.push(match san::read(word, text.letters).shape.is_some() {
            true => (*word).to_owned(),
            false => san_of(&position, played),
        });
        position = rules::after(&position, played);
    }
    Some(list)
}

/// The move of a word that can be played here, as the text's letters write it.
fn can_play(text: &Text, here: &Numbered, word: &str) -> Option<String> {
    let position = &text.lesson.node(here.at).position;
    let shape = san::read(word, text.letters).shape?;
    let (played, _) = rules::resolve(position, &shape).ok()?;
    Some(text.letters.write(&san_of(position, played)))
}

/// A long dash, or a letter for a zero.
fn dash(text: &Text, found: &Finding) -> Option<Finding> {
    let word = text.source.slice(found.span);
    let mut finding = found.clone();
    if found.message.starts_with("a pass") {
        return None;
    }
    let why = if word.contains(['\u{2013}', '\u{2014}', '\u{2212}']) {
        "its long dash is a word processor's"
    } else if word.contains(['O', 'o']) && word.bytes().any(|it| it.is_ascii_digit()) {
        "it has a letter for a zero"
    } else if word == "1/2" {
        "half a point is no result of two players"
    } else {
        return None;
    };
    finding.message = format!("{}: {why}", finding.message);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// The first finding of a text.
    fn first(text: &str) -> Finding {
        let (_, findings) = looked(text, spelling);
        findings.iter().next().expect("a finding").clone()
    }

    #[test]
    fn a_letter_of_another_alphabet_is_named() {
        let told = first("1. e4 e5 2. \u{441}3 {x} *");
        assert!(
            told.message.contains("Cyrillic letter, and no Latin c"),
            "{}",
            told.message
        );
        assert_eq!(told.fix.clone().map(|it| it.text).as_deref(), Some("c3"));
    }

    #[test]
    fn castling_without_dashes_is_written_with_them() {
        let told = first("1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. OO {x} *");
        assert_eq!(told.fix.clone().map(|it| it.text).as_deref(), Some("O-O"));
    }

    #[test]
    fn a_bishop_that_has_lost_its_capital_is_offered_first() {
        let help = first("1. e4 e5 2. bc4 {x} *")
            .help
            .clone()
            .unwrap_or_default();
        assert!(
            help.starts_with("with a capital it is the bishop's move: write Bc4"),
            "{help}"
        );
    }

    #[test]
    fn a_line_in_german_letters_is_told_as_one() {
        let told = first("1. e4 e5 (1... c5 2. Sf3 Sc6 {x}) 2. Nf3 {x} *");
        assert!(
            told.message.contains("piece letters of this line are"),
            "{}",
            told.message
        );
        assert_eq!(told.help.as_deref(), Some("write Nf3, Nc6"));
        assert!(
            !first("1. e4 e5 2. Sf3 {x} *")
                .message
                .contains("letters of this line")
        );
    }

    #[test]
    fn why_a_word_is_not_the_standard_s_is_said() {
        let ends = |text: &str, why: &str| first(text).message.ends_with(why);
        assert!(ends(
            "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. O\u{2013}O {x} *",
            "word processor's"
        ));
        assert!(ends("1. e4 e5 {x} O-1", "a letter for a zero"));
    }
}
