//! Findings to people, as text with the source line, and to programs, as JSON; and the line
//! that counts them.

use super::args::Format;
use super::snippet::Painter;
use crate::text::{Finding, Findings, Severity, Source, Span};
use serde::Serialize;
use std::io::{self, Write};

/// A report on any number of texts.
pub struct Report<W> {
    out: W,
    format: Format,
    painter: Painter,
    texts: usize,
    /// How many findings there are of each severity, errors first.
    counts: [usize; 3],
}

impl<W: Write> Report<W> {
    /// A report to this output.
    pub fn new(out: W, format: Format, colour: bool) -> Report<W> {
        Report {
            out,
            format,
            painter: Painter::new(colour),
            texts: 0,
            counts: [0; 3],
        }
    }

    /// Reports on one text.
    ///
    /// # Errors
    /// Those of the output.
    pub fn add(&mut self, source: &Source, findings: &Findings) -> io::Result<()> {
        self.texts += 1;
        for finding in findings.iter() {
            self.counts[match finding.severity() {
                Severity::Error => 0,
                Severity::Warning => 1,
                Severity::Hint => 2,
            }] += 1;
            match self.format {
                Format::Text => {
                    writeln!(self.out, "{}\n", self.painter.paint(source, finding))?;
                }
                Format::Json => {
                    serde_json::to_writer(&mut self.out, &Line::new(source, finding))?;
                    writeln!(self.out)?;
                }
            }
        }
        Ok(())
    }

    /// Ends the report and gives its last line, the count, such as "2 errors, 1 warning in 3
    /// files"; none where no text was reported on.
    ///
    /// # Errors
    /// Those of the output.
    pub fn finish(mut self) -> io::Result<Option<String>> {
        self.out.flush()?;
        let names = [
            ("error", "errors"),
            ("warning", "warnings"),
            ("hint", "hints"),
        ];
        let found: Vec<String> = self
            .counts
            .into_iter()
            .zip(names)
            .filter(|&(count, _)| count > 0)
            .map(|(count, (one, many))| counted(count, one, many))
            .collect();
        let found = match found.is_empty() {
            true => "nothing found".to_owned(),
            false => found.join(", "),
        };
        let count = format!("{found} in {}", counted(self.texts, "file", "files"));
        Ok((self.texts > 0).then_some(count))
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// A finding as a program reads it (design, section 8). Absent values are null.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Line<'a> {
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
    message: &'a str,
    #[serde(flatten)]
    place: Place,
}

impl Place {
    fn new(source: &Source, span: Span) -> Place {
        let (from, to) = (source.place(span.from), source.place(span.to));
        Place {
            line: from.line,
            column: from.column,
            end_line: to.line,
            end_column: to.column,
        }
    }
}

impl<'a> Line<'a> {
    fn new(source: &'a Source, finding: &'a Finding) -> Line<'a> {
        let related = finding.related.iter().map(|other| RelatedLine {
            message: &other.message,
            place: Place::new(source, other.span),
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
