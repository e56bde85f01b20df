//! Stars of emphasis that nothing closes: `*three retreats`.

use crate::notation::comment::passage::{Does, Passage, Style};
use crate::text::{Code, Finding, Findings};

/// The first star of each paragraph that opens and is shown as written.
pub(super) fn open(passage: &Passage, findings: &mut Findings) {
    if !passage.text().contains('*') {
        return;
    }
    for paragraph in passage.paragraphs() {
        let mut pieces = paragraph.pieces().filter(|it| it.does == Does::Says);
        let found = pieces.find_map(|piece| {
            let at = opening(&piece.text).filter(|_| piece.style == Style::Plain)?;
            let from = piece.at.start + at;
            // The words of plain pieces are as they are written.
            passage.text()[from..].starts_with('*').then_some(from)
        });
        let Some(from) = found else {
            continue;
        };
        let rest = &passage.text()[from..];
        let stars = rest.len() - rest.trim_start_matches('*').len();
        let signs = &rest[..stars];
        let message = format!("{signs} is shown as it is written: nothing closes it");
        let finding = Finding::new(Code::AsWritten, passage.span(from..from + stars), message);
        let help = format!("write {signs} after the last word too, or leave it out");
        findings.push(finding.with_help(help));
    }
}

/// Where stars are right before a letter, and after none.
fn opening(text: &str) -> Option<usize> {
    text.match_indices('*').map(|(at, _)| at).find(|&at| {
        let before = text[..at].chars().next_back();
        // Only of the first of several is what comes after them looked at: a comment may have many.
        let after = || text[at..].trim_start_matches('*').chars().next();
        before.is_none_or(|it| it.is_whitespace() || matches!(it, '(' | '"' | '\u{201c}'))
            && after().is_some_and(char::is_alphabetic)
    })
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::told;

    fn found(comment: &str) -> Vec<(&'static str, String)> {
        told(&format!("1. e4 {{{comment}}} e5 {{x}} *"))
    }

    #[test]
    fn a_star_that_opens_and_is_not_closed_is_told() {
        assert_eq!(
            found("There are *three retreats of it."),
            [("P074", "*".to_owned())]
        );
        assert_eq!(
            found("There are **three retreats."),
            [("P074", "**".to_owned())]
        );
        for fine in [
            "There are *three retreats*.",
            "**All** of *it*",
            "3 * 4",
            "so*",
            "a * b",
        ] {
            assert!(found(fine).is_empty(), "{fine}");
        }
    }
}
