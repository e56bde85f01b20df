//! Signs in comments that readers see as they are written: marks that are invalid or only partly
//! read, HTML, numeric glyphs.

use crate::lesson::Lesson;
use crate::notation::Comment;
use crate::notation::comment::mark::{self, looks_like_a_square};
use crate::notation::comment::passage::Passage;
use crate::notation::word::nag;
use crate::text::{Code, Finding, Findings, is_letter_or_digit, quote};

/// The signs in the comments of a lesson that do not do what they look like.
pub(super) fn stray_markup(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        let comments = node.before.iter().chain(node.comments.iter());
        for passage in comments.flat_map(Comment::passages) {
            signs(passage, &mut findings);
        }
    }
    findings
}

fn signs(passage: &Passage, findings: &mut Findings) {
    if passage.is_silent() {
        return;
    }
    let text = passage.sentences_and_marks();
    let raw = &*text;
    let mut push = |code, at: usize, written: &str, message: String, help: String| {
        let span = passage.span(at..at + written.len());
        findings.push(Finding::new(code, span, message).with_help(help));
    };
    for (at, _) in raw.match_indices('@') {
        let before = raw[..at].chars().next_back();
        if let Some((written, message, help)) = half(before, &raw[at..]) {
            let message = format!("{} {message}", quote(written));
            push(Code::NoSuchSquare, at, written, message, help);
        }
    }
    if let Some((at, written, help)) = html(raw) {
        let message = format!(
            "{} is shown as it is written: HTML is not read in a comment",
            quote(written)
        );
        push(Code::AsWritten, at, written, message, help.to_owned());
    }
    for (at, written) in glyphs(raw) {
        let message =
            format!("{written} is shown as it is written: in a comment it is only a word");
        let help = "a glyph is written after the move, outside the braces".to_owned();
        push(Code::AsWritten, at, written, message, help);
    }
}

/// A mark at the start of a text that is invalid or only partly read: the text, what is wrong, and
/// the help. Marks of squares that do not exist are reported by every page.
fn half(before: Option<char>, rest: &str) -> Option<(&str, String, String)> {
    let is_apart = |letter: char| {
        !is_letter_or_digit(letter) && !matches!(letter, '@' | '.' | '_' | '+' | '-')
    };
    if !before.is_none_or(is_apart) {
        return None;
    }
    let word = |text: &str| {
        text.find(|sign| !is_letter_or_digit(sign))
            .unwrap_or(text.len())
    };
    if let Some((mark, length)) = mark::read(before, rest) {
        let tail = &rest[length..];
        if let Some(next) = tail.strip_prefix('-')
            && looks_like_a_square(&next[..word(next)])
        {
            let end = length + 1 + word(next);
            let message = format!(
                "marks {} alone: {} is no square",
                mark.text(),
                &next[..word(next)]
            );
            let help = "squares are a1 to h8, with `-` between those of an arrow".to_owned();
            return Some((&rest[..end], message, help));
        }
        let more = mark::read(None, tail).map(|(_, more)| more)?;
        let message = format!("marks {} alone, and the rest is text", mark.text());
        let help = format!(
            "an arrow is written {}-{}; for two marks leave a space between them",
            &rest[..length],
            tail[1..more].trim_start_matches(['!', '?'])
        );
        return Some((&rest[..length + more], message, help));
    }
    let after = rest.strip_prefix('@')?;
    let name = after.strip_prefix(['!', '?']).unwrap_or(after);
    let end = word(name);
    let written = &rest[..rest.len() - name.len() + end];
    let name = &name[..end];
    let message = "marks nothing".to_owned();
    let small = format!(
        "{}{}",
        &written[..written.len() - end],
        name.to_ascii_lowercase()
    );
    if name.bytes().any(|byte| byte.is_ascii_uppercase()) && mark::read(None, &small).is_some() {
        return Some((
            written,
            message,
            format!("squares have small letters: {small}"),
        ));
    }
    if let Some((one, other)) = name.split_at_checked(2)
        && looks_like_a_square(one)
        && looks_like_a_square(other)
    {
        let start = written.len() - other.len();
        return Some((
            written,
            message,
            format!("an arrow is written {}-{other}", &written[..start]),
        ));
    }
    // `@!Q`: a sign says that a mark is meant; `@name` is a name.
    let is_signed = after.len() > name.len() && after.starts_with(['!', '?']);
    (is_signed && !name.is_empty() && !looks_like_a_square(name)).then(|| {
        let help = "after the sign comes a square, a1 to h8".to_owned();
        (written, message, help)
    })
}

/// Elements that authors write by habit, and what to write instead.
const ELEMENTS: &[(&[&str], &str)] = &[
    (&["b", "strong"], "`**words**` are strong"),
    (&["i", "em", "u"], "`*words*` are emphasised"),
    (&["p", "br", "div"], "a blank line begins a paragraph"),
    (&["a"], "a link is written [words](https://...)"),
    (
        &[
            "span", "font", "ul", "ol", "li", "sub", "sup", "small", "big", "code", "pre", "img",
            "h1", "h2", "h3",
        ],
        "leave it out",
    ),
];
const ENTITIES: &[&str] = &[
    "amp", "lt", "gt", "quot", "apos", "nbsp", "ndash", "mdash", "hellip",
];

/// The first sign of HTML in a text, where it is, and what to write instead.
fn html(raw: &str) -> Option<(usize, &str, &'static str)> {
    for (at, sign) in raw.match_indices(['<', '&']) {
        let rest = &raw[at..];
        let close = if sign == "<" { '>' } else { ';' };
        let end = 1 + rest[1..].find([close, '<', '&'])?;
        if !rest[end..].starts_with(close) {
            continue;
        }
        let inner = &rest[1..end];
        if sign == "&" {
            if ENTITIES.contains(&inner) || inner.starts_with('#') && inner.len() > 1 {
                return Some((at, &rest[..=end], "write the sign itself"));
            }
            continue;
        }
        let name = inner
            .trim_matches('/')
            .split(char::is_whitespace)
            .next()
            .unwrap_or_default();
        let name = name.to_ascii_lowercase();
        let mut elements = ELEMENTS.iter();
        if let Some((_, help)) = elements.find(|(names, _)| names.contains(&name.as_str())) {
            return Some((at, &rest[..=end], help));
        }
    }
    None
}

/// The numeric glyphs with which a comment begins or ends. Elsewhere a `$` is a price.
fn glyphs(raw: &str) -> Vec<(usize, &str)> {
    let inner = raw.trim_start_matches(['{', ';']).trim_start();
    let start = raw.len() - inner.len();
    let inner = inner.trim_end_matches('}').trim_end();
    let mut words = inner.split_whitespace();
    let mut list = Vec::new();
    for word in [words.next(), words.next_back()].into_iter().flatten() {
        let number = word
            .strip_prefix('$')
            .and_then(|digits| digits.parse::<u8>().ok());
        let at = match list.is_empty() && inner.starts_with(word) {
            true => start,
            false => start + inner.len() - word.len(),
        };
        if number.is_some_and(|number| !nag::sign(number).is_empty()) {
            list.push((at, word));
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::text::Source;

    /// The codes of a comment's findings, and the words at their places.
    fn told(comment: &str) -> Vec<(&'static str, String)> {
        let text = format!("1. e4 {{{comment}}} *");
        let source = Source::new("a.pgn", text.as_str());
        let lesson = lesson(&text);
        let findings = stray_markup(&lesson);
        let list = findings.iter();
        list.map(|it| (it.code.id(), source.slice(it.span).to_owned()))
            .collect()
    }

    #[test]
    fn a_mark_that_is_none_or_half_of_one_is_told() {
        for written in [
            "@e4-x5",
            "@E4",
            "@!E4",
            "@!Q",
            "@e4-e5-e4-z9",
            "@c7@e5",
            "@e2e4",
            "@?x",
        ] {
            assert_eq!(
                told(&format!("See {written}.")),
                [("P051", written.to_owned())]
            );
        }
    }

    #[test]
    fn marks_names_and_addresses_are_not_told() {
        for comment in [
            "See @e4-e5, @!c5 and @?f3-d2-c4.",
            "The @e4-pawn, the @e4-square.",
            "Ask a@b.example or @anna, or @@e4.",
            "@ @! @? (@e4)",
        ] {
            assert_eq!(told(comment), [], "{comment}");
        }
    }

    #[test]
    fn html_is_told_once_a_comment() {
        let tag = |written: &str| vec![("P074", written.to_owned())];
        assert_eq!(told("<b>White</b> &amp; Black"), tag("<b>"));
        assert_eq!(told("One<br/>two"), tag("<br/>"));
        assert_eq!(told("White &amp; Black"), tag("&amp;"));
        for comment in ["a < b > c", "R & B; x", "<x> and <3", "&c."] {
            assert_eq!(told(comment), [], "{comment}");
        }
    }

    #[test]
    fn a_glyph_at_the_beginning_or_the_end_of_a_comment_is_told() {
        assert_eq!(told("level $10"), [("P074", "$10".to_owned())]);
        assert_eq!(told("$10 Now it is level."), [("P074", "$10".to_owned())]);
        assert_eq!(told("$14"), [("P074", "$14".to_owned())]);
        for comment in ["a price of $10 a piece", "it costs $250", "US$10"] {
            assert_eq!(told(comment), [], "{comment}");
        }
    }
}
