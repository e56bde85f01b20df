//! Findings in the form that was asked for, and the line that counts them.

pub mod explain;
mod github;
pub mod json;
pub mod links;
mod snippet;

use self::snippet::Painter;
use super::args::Format;
use super::each_game::Read;
use super::fix::edits::{Edit, Edits};
use super::out::{self, clip, visible};
use crate::text::{Findings, Severity, Source, number_of};
use std::io::{self, Write};

/// The most that is shown of what was fixed, in characters.
const WORDS: usize = 60;

/// A report on any number of texts.
pub struct Report<W> {
    out: W,
    format: Format,
    painter: Painter,
    /// Whether a hint takes one line only, because where findings are not what was asked for.
    brief: bool,
    texts: usize,
    /// How many findings there are of each severity, errors first.
    counts: [usize; 3],
    mended: usize,
    /// How many of the findings can be fixed.
    certain: usize,
}

impl<W: Write> Report<W> {
    /// A report to this output.
    pub fn new(out: W, format: Format, colour: bool) -> Report<W> {
        Report {
            out,
            format,
            painter: Painter::new(colour),
            brief: false,
            texts: 0,
            counts: [0; 3],
            mended: 0,
            certain: 0,
        }
    }

    /// Where the report goes, for what is no finding.
    pub fn out(&mut self) -> &mut W {
        &mut self.out
    }

    /// Reports on one text.
    ///
    /// # Errors
    /// Those of the output.
    pub fn add(&mut self, source: &Source, findings: &Findings) -> io::Result<()> {
        self.texts += 1;
        let mut was_brief = false;
        for finding in findings.iter() {
            self.counts[match finding.severity() {
                Severity::Error => 0,
                Severity::Warning => 1,
                Severity::Hint => 2,
            }] += 1;
            self.certain += usize::from(finding.fix.is_some());
            let is_brief = self.brief && finding.severity() == Severity::Hint;
            if was_brief && !is_brief {
                writeln!(self.out)?;
            }
            was_brief = is_brief;
            match self.format {
                Format::Text if is_brief => {
                    writeln!(self.out, "{}", self.painter.line(source, finding))?;
                }
                Format::Text => {
                    writeln!(self.out, "{}\n", self.painter.paint(source, finding))?;
                }
                Format::Json => {
                    serde_json::to_writer(&mut self.out, &json::Line::new(source, finding))?;
                    writeln!(self.out)?;
                }
                Format::Github => writeln!(self.out, "{}", github::command(source, finding))?,
            }
        }
        if was_brief {
            writeln!(self.out)?;
        }
        Ok(())
    }

    /// Says what was fixed in a text, a line for each place, where it is now. A program that
    /// reads findings gets nothing else; then this goes to standard error.
    ///
    /// # Errors
    /// Those of the output.
    pub fn mended(&mut self, before: &Source, now: &Source, edits: &Edits) -> io::Result<()> {
        let mut lines = String::new();
        for edit in edits.iter() {
            self.mended += 1;
            lines += &line_of(before, now, edit);
        }
        match self.format {
            Format::Text if !lines.is_empty() => writeln!(self.out, "{lines}"),
            Format::Text => Ok(()),
            Format::Json | Format::Github => {
                // If standard error is closed, nobody reads this.
                let _ = io::stderr().write_all(lines.as_bytes());
                Ok(())
            }
        }
    }

    /// Ends the report and gives its last line, the count, such as "2 errors, 1 warning in 3
    /// files"; none if no text was reported on.
    ///
    /// # Errors
    /// Those of the output.
    pub fn finish(mut self) -> io::Result<Option<String>> {
        self.out.flush()?;
        let names = ["error", "warning", "hint"];
        let mut found: Vec<String> = self
            .counts
            .into_iter()
            .zip(names)
            .filter(|&(count, _)| count > 0)
            .map(|(count, one)| number_of(count, one))
            .collect();
        if found.is_empty() {
            found.push("nothing found".to_owned());
        }
        let mut count = format!("{} in {}", found.join(", "), number_of(self.texts, "file"));
        if self.mended > 0 {
            count = format!("{} fixed; {count}", number_of(self.mended, "place"));
        }
        if self.certain > 0 {
            count += &format!("; check --fix fixes {}", self.certain);
        }
        Ok((self.texts > 0).then_some(count))
    }
}

/// `a.pgn:5:3: 0-0 -> O-O [P030]` and a line end.
fn line_of(before: &Source, now: &Source, edit: &Edit) -> String {
    let place = now.place(edit.now.start as u32);
    let shown = |text: &str| visible(&clip(text.trim_end(), WORDS));
    let old = &before.text()[edit.first.clone()];
    let what = match (old, edit.text.as_str()) {
        ("", new) => format!("put in {}", shown(new)),
        (old, "") => format!("took out {}", shown(old)),
        (old, new) => format!("{} -> {}", shown(old), shown(new)),
    };
    let codes: Vec<&str> = edit.codes.iter().map(|code| code.id()).collect();
    format!(
        "{}:{}:{}: {what} [{}]\n",
        visible(now.name()),
        place.line,
        place.column,
        codes.join(", ")
    )
}

/// The findings of a text beside the output that was asked for: on standard error, hints on one
/// line each.
pub fn beside(done: &Read) {
    if done.findings.is_empty() {
        return;
    }
    let colour = out::wants_colour(&io::stderr());
    let mut report = Report::new(io::stderr().lock(), Format::Text, colour);
    report.brief = true;
    // What was asked for has been printed, also where standard error is closed.
    let _ = report.add(&done.source, &done.findings);
    if let Ok(Some(count)) = report.finish() {
        let _ = writeln!(io::stderr(), "{count}");
    }
}
