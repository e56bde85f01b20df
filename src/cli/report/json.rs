//! Findings to programs, as JSON (design, section 8). Absent values are null.

use crate::text::{Elsewhere, Finding, LineColumn, Source, Span};
use serde::Serialize;

/// A finding as a program reads it.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Line<'a> {
    file: &'a str,
    code: &'static str,
    severity: &'static str,
    message: &'a str,
    #[serde(flatten)]
    place: Place,
    help: Option<&'a str>,
    fix: Option<FixLine<'a>>,
    related: Vec<RelatedLine<'a>>,
}

/// Lines and columns from 1, columns in Unicode scalar values, the end exclusive.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Place {
    line: u32,
    column: u32,
    end_line: u32,
    end_column: u32,
}

#[derive(Serialize)]
struct FixLine<'a> {
    #[serde(flatten)]
    place: Place,
    text: &'a str,
}

#[derive(Serialize)]
struct RelatedLine<'a> {
    file: &'a str,
    message: &'a str,
    #[serde(flatten)]
    place: Place,
}

impl Place {
    fn new(source: &Source, span: Span) -> Place {
        let place = |at| {
            let LineColumn { line, column, .. } = source.place(at);
            (line, column)
        };
        Place::between(place(span.from), place(span.to))
    }

    fn between(from: (u32, u32), to: (u32, u32)) -> Place {
        Place {
            line: from.0,
            column: from.1,
            end_line: to.0,
            end_column: to.1,
        }
    }
}

impl<'a> Line<'a> {
    /// The line for a finding.
    pub fn new(source: &'a Source, finding: &'a Finding) -> Line<'a> {
        let related = finding.related.iter().map(|other| RelatedLine {
            file: match &other.elsewhere {
                Some(elsewhere) => &elsewhere.file,
                None => source.name(),
            },
            message: &other.message,
            place: match &other.elsewhere {
                Some(Elsewhere { from, to, .. }) => Place::between(*from, *to),
                None => Place::new(source, other.span),
            },
        });
        Line {
            file: source.name(),
            code: finding.code.id(),
            severity: finding.severity().word(),
            message: &finding.message,
            place: Place::new(source, finding.span),
            help: finding.help.as_deref(),
            fix: finding.fix.as_ref().map(|fix| FixLine {
                place: Place::new(source, fix.span),
                text: &fix.text,
            }),
            related: related.collect(),
        }
    }
}
