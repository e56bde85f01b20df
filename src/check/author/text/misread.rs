//! Words that are no moves because of how they are written: a move and the next number without a
//! space between them, the piece letters of English in a text in another language.

use super::Text;
use super::numbered::{Numbered, numbered};
use crate::check::author::explained::Told;
use crate::lesson::rules::{self, san_of};
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Code, Finding, Span, quote};

/// Rewords the findings at such words.
pub(super) fn misread(text: &Text) -> Vec<Told> {
    let mut list = Vec::new();
    let is_meant = |finding: &&Finding| finding.code == Code::NotAMove;
    if !text.found.iter().any(|finding| is_meant(&finding)) {
        return list;
    }
    let numbered = numbered(text);
    for finding in text.found.iter().filter(is_meant) {
        let Some(here) = numbered.iter().find(|it| it.word.from == finding.span.from) else {
            continue;
        };
        let better = glued(text, here, finding).or_else(|| in_english(text, here, finding));
        list.extend(better.map(Told::alone));
    }
    list
}

/// `O-O8.`, where 8 is the number of the move after it.
fn glued(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let word = text.source.slice(here.word);
    let number = match here.turn.is_black() {
        true => here.right + 1,
        false => here.right,
    };
    let digits = number.to_string();
    let one = word.strip_suffix(digits.as_str())?;
    let rest = text.source.text().get(here.word.to as usize..)?;
    let shape = san::read(one, text.letters).shape?;
    let position = &text.lesson.node(here.at).position;
    if !rest.starts_with('.') || rules::resolve(position, &shape).is_err() {
        return None;
    }
    let mut finding = found.clone().with_help(format!("write {one} {digits}."));
    finding.message = format!(
        "\u{201c}{}\u{201d} is a move and a number without a space between them",
        quote(word)
    );
    Some(finding.with_fix(here.word, format!("{one} {digits}")))
}

/// An English piece letter where the text has those of another language, in which it is none.
fn in_english(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    if text.letters.is_english() {
        return None;
    }
    let word = san::read(text.source.slice(here.word), Letters::ENGLISH);
    let letter = word.core.chars().next().filter(char::is_ascii_uppercase)?;
    let position = &text.lesson.node(here.at).position;
    let (played, _) = rules::resolve(position, &word.shape?).ok()?;
    if text.letters.role(letter).is_some() {
        return None;
    }
    let write = text.letters.write(&san_of(position, played));
    let mut finding = found.clone().with_help(format!("write {write}"));
    finding.message = format!(
        "{} has an English piece letter, and this lesson those of another language",
        quote(word.core)
    );
    let from = here.word.from as usize;
    let span = Span::new(from, from + word.core.len());
    Some(finding.with_fix(span, write))
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// The first finding of a text.
    fn first(text: &str) -> Finding {
        let (_, findings) = looked(text, misread);
        findings.iter().next().expect("a finding").clone()
    }

    fn fix(text: &str) -> Option<String> {
        first(text).fix.clone().map(|fix| fix.text)
    }

    #[test]
    fn a_number_close_to_the_move_before_it_is_taken_apart() {
        assert_eq!(
            fix("1. e4 e5 2. Nf3 Nc63. Bb5 {x} *").as_deref(),
            Some("Nc6 3")
        );
        assert_eq!(
            fix("1. e4 e5 2. Nf3 Nc65. Bb5 {x} *").as_deref(),
            Some("Nc6")
        );
    }

    #[test]
    fn an_english_letter_in_a_german_text_is_written_in_german() {
        let text = "[Letters \"de\"]\n\n1. e4 e5 2. Sf3 Nc6 3. Lb5 {x} *";
        assert_eq!(fix(text).as_deref(), Some("Sc6"));
    }
}
