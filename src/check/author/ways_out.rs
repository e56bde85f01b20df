//! Help for the findings of the passes over a lesson: kept out of the page, because only authors
//! read it.

use crate::lesson::{Lesson, way_out};
use crate::text::{Code, Finding, Findings, Source};

/// The same findings with their help.
pub(super) fn added(source: &Source, lesson: &Lesson, mut findings: Findings) -> Findings {
    for finding in findings.iter_mut() {
        if let Some(help) = of(source, lesson, finding) {
            finding.help = Some(help);
        }
    }
    findings
}

fn of(source: &Source, lesson: &Lesson, finding: &Finding) -> Option<String> {
    match finding.code {
        Code::LocatorNone => {
            // In a comment it is the address of a link.
            let place = source.slice(finding.span).strip_prefix('#')?;
            Some(way_out(lesson, place))
        }
        Code::NoAnswer => Some("write the answer as the next move, without `?` or `?!`".to_owned()),
        Code::PromptTells => {
            Some("ask in other words; `Hint:` and `Because:` may name it".to_owned())
        }
        _ => None,
    }
}
