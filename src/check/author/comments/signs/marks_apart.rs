//! Marks with a space inside, or with their sign in the wrong place: `@c4 -f7`, `@ g5`, `@e5?`.

use crate::notation::comment::mark;
use crate::notation::comment::passage::Passage;
use crate::text::{Code, Finding, Findings, is_letter_or_digit, quote};

/// Longest mark that is looked for, in bytes.
const LONGEST: usize = 200;

/// Such marks of a passage.
pub(super) fn marks(passage: &Passage, findings: &mut Findings) {
    if !passage.text().contains('@') {
        return;
    }
    let whole = passage.sentences_and_marks();
    for (at, _) in whole.match_indices('@') {
        let before = whole[..at].chars().next_back();
        // Only so much after it is looked at, because a comment may have many.
        let text = &whole[..whole.floor_char_boundary(at + LONGEST)];
        let found = match mark::read(before, &text[at..]) {
            Some((_, length)) => torn(text, at, length).or_else(|| sign_after(text, at, length)),
            None => apart(before, &text[at..]),
        };
        if let Some((code, length, what, right)) = found {
            let written = &text[at..at + length];
            let span = passage.span(at..at + length);
            let message = format!("{} {what}", quote(written));
            let finding = Finding::new(code, span, message);
            findings.push(finding.with_help(format!("write {right}")));
        }
    }
}

type Slip = (Code, usize, String, String);

/// `@c4 -f7` and `@c4- f7`: an arrow with a space in it. Its length so far is that of its first part.
fn torn(text: &str, at: usize, length: usize) -> Option<Slip> {
    let rest = &text[at + length..];
    let tail = [" -", "- ", " - "].into_iter().find_map(|gap| {
        let tail = rest.strip_prefix(gap)?;
        let square = format!("@{tail}");
        let (_, more) = mark::read(None, &square)?;
        let next = square[more..].chars().next();
        // `@c4 - e5 is weak`: a dash between spaces is a sentence's, except before a mark's end.
        let is_end = next.is_none_or(|it| !it.is_alphanumeric());
        (is_end && gap != " - ").then_some((gap, more - 1))
    });
    let (gap, more) = tail?;
    let whole = length + gap.len() + more;
    let first = &text[at..at + length];
    let right = format!("{first}-{}", &text[at + length + gap.len()..at + whole]);
    let message = "marks the first square alone, because of its space".to_owned();
    Some((Code::NoSuchSquare, whole, message, right))
}

/// `@e5?` alone after a sentence or after another mark: the sign belongs before the square.
fn sign_after(text: &str, at: usize, length: usize) -> Option<Slip> {
    let rest = &text[at + length..];
    let sign = rest.chars().next().filter(|it| matches!(it, '?' | '!'))?;
    let next = rest[1..].chars().next();
    let written = &text[at..at + length];
    let before = text[..at].trim_end();
    let near = &before[before.floor_char_boundary(before.len().saturating_sub(LONGEST))..];
    let last = near.rsplit(char::is_whitespace).next().unwrap_or_default();
    let stands_alone =
        before.is_empty() || before.ends_with(['.', '!', '?']) || last.starts_with('@');
    if !stands_alone
        || !next.is_none_or(char::is_whitespace)
        || written[1..].starts_with(['!', '?'])
    {
        return None;
    }
    let right = format!("@{sign}{}, with the sign before the square", &written[1..]);
    let message = format!("has its `{sign}` shown as text");
    Some((Code::AsWritten, length + 1, message, right))
}

/// `@ g5-f7`, `@! g5` and `@!?g5`: what is before the square is no beginning of a mark.
fn apart(before: Option<char>, rest: &str) -> Option<Slip> {
    if before.is_some_and(|it| is_letter_or_digit(it) || matches!(it, '@' | '.' | '_' | '+' | '-'))
    {
        return None;
    }
    let after = &rest[1..];
    let bare = after.trim_start_matches(['!', '?', ' ']);
    let between = &after[..after.len() - bare.len()];
    let sign = between.trim_start().get(..1).unwrap_or_default();
    let square = format!("@{sign}{bare}");
    let (_, length) = mark::read(None, &square)?;
    let right = &square[..length];
    let whole = length - sign.len() + between.len();
    let message = match between.contains(' ') {
        true => "marks nothing, because of its space",
        false => "marks nothing: one sign is before a square",
    };
    Some((
        Code::NoSuchSquare,
        whole,
        message.to_owned(),
        right.to_owned(),
    ))
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::checked;
    use crate::text::Finding;

    /// The words of the findings and their help.
    fn told(comment: &str) -> Vec<String> {
        let text = format!("1. e4 {{{comment}}} e5 {{x}} *");
        let (source, findings) = checked(&text);
        let told = |it: &Finding| {
            let help = it.help.clone().unwrap_or_default();
            format!("{} {}: {help}", it.code.id(), source.slice(it.span))
        };
        findings.iter().map(told).collect()
    }

    #[test]
    fn a_mark_with_a_space_or_a_sign_too_many_is_told() {
        for (comment, wanted) in [
            ("So @e4 -d5", "P051 @e4 -d5: write @e4-d5"),
            ("So @e4- d5.", "P051 @e4- d5: write @e4-d5"),
            ("So @ e4-d5.", "P051 @ e4-d5: write @e4-d5"),
            ("So @! e4", "P051 @! e4: write @!e4"),
            ("So @!?e4-d5", "P051 @!?e4-d5: write @!e4-d5"),
        ] {
            assert_eq!(told(comment), [wanted], "{comment}");
        }
    }

    #[test]
    fn a_sign_after_a_mark_that_stands_alone_is_told() {
        let told = |comment| told(comment).len();
        assert_eq!(told("The centre. @e4 @d5?"), 1);
        assert_eq!(told("@d5!"), 1);
        for fine in ["Do you see @d5?", "Look at @d5!", "The centre. @?d5"] {
            assert_eq!(told(fine), 0, "{fine}");
        }
    }

    #[test]
    fn a_dash_between_marks_and_words_is_a_sentence_s() {
        for fine in [
            "On @e4 - d5 comes",
            "See @e4 \u{2013} and go",
            "Ask a@b.example",
            "@ all",
        ] {
            assert_eq!(told(fine), [""; 0], "{fine}");
        }
    }
}
