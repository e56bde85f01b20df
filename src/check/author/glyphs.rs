//! Numeric glyphs among the moves that say nothing to a reader: without a meaning, with a sign close
//! to them, or with a space after the `$`. And a result that is missing after the moves.

use super::explained::{Explained, Told};
use crate::lesson::Lesson;
use crate::notation::word::nag;
use crate::notation::{Game, ItemKind};
use crate::text::{Code, Finding, Findings, Source, Span};

/// The last glyph that the standard gives a meaning (PGN standard, section 10).
const LAST: u8 = 139;

/// Whether a glyph beyond it is one that many programs write, with a meaning of their own (common
/// practice, no source).
fn is_common(number: u8) -> bool {
    matches!(number, 140..=146 | 220 | 221 | 238..=255)
}

/// The glyphs of a game that are odd.
pub(super) fn glyphs(source: &Source, game: &Game) -> Findings {
    let mut findings = Findings::default();
    for item in game.lines.iter().flat_map(|line| &line.items) {
        let ItemKind::Nag(number) = item.kind else {
            continue;
        };
        let written = source.slice(item.span);
        if !written.starts_with('$') {
            continue;
        }
        let to = item.span.to as usize;
        let rest = source.text().get(to..).unwrap_or_default();
        let length = rest
            .find(|it| !matches!(it, '!' | '?'))
            .unwrap_or(rest.len());
        if length > 0 && rest[..length] == *nag::sign(number) {
            continue; // it says the same twice
        }
        if length > 0 {
            let both = Span::new(item.span.from as usize, to + length);
            let message = format!("{} is a glyph and a sign in one", source.slice(both));
            let sign = match nag::sign(number) {
                "" => String::new(),
                sign => format!(" ({sign})"),
            };
            let help = format!("write {written}{sign} or {}", &rest[..length]);
            findings.push(Finding::new(Code::OddGlyph, both, message).with_help(help));
        } else if number > LAST && !is_common(number) {
            let message = format!("{written} has no meaning, and nothing is drawn for it");
            let finding = Finding::new(Code::OddGlyph, item.span, message);
            let shorter = written.get(..written.len() - 1).unwrap_or_default();
            let help = format!("did you mean {shorter}; the standard knows $0 to ${LAST}");
            findings.push(finding.with_help(help));
        }
    }
    findings
}

/// Glyphs with a space after their `$`, which were found as no glyphs.
pub(super) fn torn(source: &Source, lesson: &Lesson, found: &Findings) -> Vec<Told> {
    let mut list = Vec::new();
    for finding in found.iter().filter(|it| it.code == Code::BadNag) {
        let to = finding.span.to as usize;
        let rest = source.text().get(to..).unwrap_or_default();
        let digits = rest.trim_start();
        let gap = rest.len() - digits.len();
        let count = digits.bytes().take_while(u8::is_ascii_digit).count();
        if source.slice(finding.span) != "$" || gap == 0 || digits[..count].parse::<u8>().is_err() {
            continue;
        }
        let right = format!("${}", &digits[..count]);
        let mut better = finding.clone().with_help(format!("write {right}"));
        better.message = format!("{right} has a space in it");
        let nodes = &lesson.nodes;
        let after = nodes[1..].partition_point(|node| node.span.from < finding.span.from); // node 0 is there
        let last = nodes[after].span;
        list.push(Told {
            finding: better,
            explains: vec![Explained::One(Code::EndsInSilence, last)],
        });
    }
    list
}

/// That a game whose tag says its result does not end with one. `found` is what was found in it.
pub(super) fn no_result(source: &Source, game: &Game, found: &Findings) -> Option<Finding> {
    let tag = game
        .tags
        .iter()
        .find(|tag| source.slice(tag.name) == "Result")?;
    let last = game.lines.first()?.items.last()?;
    if game.result.is_some() || found.has_error() {
        return None;
    }
    let known = ["1-0", "0-1", "1/2-1/2", "*"];
    let value = known
        .iter()
        .find(|it| **it == tag.value.trim())
        .unwrap_or(&"*");
    let message = "the moves end without a result, and the tag Result has one".to_owned();
    let help = format!("write {value} after them: other readers wait for it");
    let to = last.span.to as usize;
    let place = Span::new(to.saturating_sub(1), to);
    let finding = Finding::new(Code::NoResult, place, message).with_help(help);
    Some(finding.with_related(tag.value_span, "the result".to_owned()))
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::{checked, codes, told};

    #[test]
    fn a_glyph_without_a_meaning_or_with_a_sign_is_told() {
        assert_eq!(told("1. e4 $166 {x} *"), [("P100", "$166".to_owned())]);
        assert_eq!(told("1. e4 $5! {x} *"), [("P100", "$5!".to_owned())]);
        for fine in [
            "1. e4 $5 {x} *",
            "1. e4! $14 {x} *",
            "1. e4 $139 e5 $0 {x} *",
        ] {
            assert!(codes(fine).is_empty(), "{fine}");
        }
    }

    #[test]
    fn a_glyph_with_a_space_in_it_is_one_finding_with_its_way_out() {
        let (_, findings) = checked("1. e4 e5 (1... c5 $ 14) 2. Nf3 {x} *");
        let told: Vec<_> = findings
            .iter()
            .map(|it| (it.code.id(), it.help.clone()))
            .collect();
        assert_eq!(told, [("P017", Some("write $14".to_owned()))]);
    }

    #[test]
    fn a_game_with_a_result_in_its_tag_ends_with_it() {
        assert_eq!(codes("[Result \"*\"]\n\n1. e4 e5 {x}"), ["P101"]);
        assert!(codes("[Result \"*\"]\n\n1. e4 e5 {x} *").is_empty());
        assert!(codes("1. e4 e5 {x}").is_empty());
    }
}
