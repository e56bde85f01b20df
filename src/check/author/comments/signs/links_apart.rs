//! Links that have lost a bracket, or have a space between words and address: `[x] (#4.b4)`.

use crate::notation::comment::passage::{Does, Paragraph, Passage};
use crate::text::{Code, Finding, Findings};
use core::ops::Range;

/// What an address begins with.
const ADDRESSES: &[&str] = &["(#", "(https://", "(http://"];

/// How many bytes before an address its words may begin, and after it the address may end.
const WORDS: usize = 200;

/// Such links of a passage.
pub(super) fn links(passage: &Passage, findings: &mut Findings) {
    let text = passage.text();
    if !text.contains("(#") && !text.contains("(http") {
        return;
    }
    let mut known: Vec<Range<usize>> = Vec::new();
    for piece in passage.paragraphs().flat_map(Paragraph::pieces) {
        if matches!(piece.does, Does::Links(_) | Does::LinksNowhere { .. }) {
            known.push(piece.at);
        }
    }
    for address in ADDRESSES {
        for (at, _) in text.match_indices(address) {
            let before = known.partition_point(|link| link.start <= at);
            if before
                .checked_sub(1)
                .is_some_and(|link| known[link].contains(&at))
            {
                continue;
            }
            // Only so much around it is looked at, because a comment may have many.
            let mut from = at.saturating_sub(WORDS);
            while !text.is_char_boundary(from) {
                from += 1;
            }
            from += text[from..at].rfind("\n\n").map_or(0, |end| end + 2);
            let mut end = (at + WORDS).min(text.len());
            while !text.is_char_boundary(end) {
                end += 1;
            }
            let end = text[at..end].find("\n\n").map_or(end, |end| at + end);
            if let Some((start, help)) = slip(text, from, at, end) {
                let message = "this is no link: it is shown as it is written".to_owned();
                let length = text[at..end].find([')', ' ']);
                let span = passage.span(start..length.map_or(end, |length| at + length + 1));
                let finding = Finding::new(Code::LinkBroken, span, message);
                findings.push(finding.with_help(help.to_owned()));
            }
        }
    }
}

/// Where a link begins that has lost something, and what: its address is at `at`, its words begin at
/// `from` or later, and its paragraph ends at `end`.
fn slip(text: &str, from: usize, at: usize, end: usize) -> Option<(usize, &'static str)> {
    let before = &text[from..at];
    let bare = before.trim_end();
    let closes = bare.ends_with(']');
    let words = bare.trim_end_matches(']');
    let open = words
        .rfind('[')
        .filter(|&open| !words[open..].contains(']'));
    let start = from + open.unwrap_or(words.rfind(' ').map_or(0, |space| space + 1));
    let is_closed = text[at + 1..end].contains(')');
    match (open.is_some(), closes) {
        (true, true) if bare.len() < before.len() => {
            Some((start, "write `](` without a space between the two"))
        }
        (true, true) => Some((start, "close its address with `)`")),
        (true, false) => Some((start, "close its words with `]` before the address")),
        (false, true) if bare.len() == before.len() && is_closed => {
            Some((start, "open its words with `[`"))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::told;

    fn codes(comment: &str) -> Vec<&'static str> {
        let text = format!("1. e4 {{{comment}}} e5 2. Nf3 {{x}} *");
        told(&text).into_iter().map(|(code, _)| code).collect()
    }

    #[test]
    fn a_link_that_has_lost_a_sign_or_has_a_space_is_told() {
        for comment in [
            "See [the knight] (#2.Nf3).",
            "See [the knight(#2.Nf3).",
            "See the knight](#2.Nf3).",
            "See [the knight](#2.Nf3 and on",
            "See [a page] (https://example.org/).",
        ] {
            assert_eq!(codes(comment), ["P099"], "{comment}");
        }
    }

    #[test]
    fn links_and_other_brackets_are_not_told() {
        for comment in [
            "See [the knight](#2.Nf3) and [it](#2.Nf3).",
            "See [the first](#1.e4 e5 2.Nf3) and [the page](https://example.org/a).",
            "So it is [as they say] (more or less).",
            "See there (https://example.org/).",
            "[sic] and then (#1 of them)",
        ] {
            assert!(!codes(comment).contains(&"P099"), "{comment}");
        }
    }
}
