//! A finding as a page sees it: places in UTF-16, as JavaScript counts.

use super::plain::leaves_as;
use super::{Plain, ToPlain};
use crate::text::{Findings, Listed, Source};

/// One finding.
#[derive(Debug)]
pub struct FindingData {
    /// `P` and three digits.
    pub code: &'static str,
    /// `error`, `warning` or `hint`.
    pub severity: &'static str,
    /// What is wrong.
    pub message: String,
    /// First UTF-16 unit.
    pub from: u32,
    /// One past the last UTF-16 unit.
    pub to: u32,
    /// Line, from 1.
    pub line: u32,
    /// Column in Unicode scalar values, from 1.
    pub column: u32,
    /// Help.
    pub help: Option<String>,
    /// A certain fix.
    pub fix: Option<FixData>,
}

/// A certain fix.
#[derive(Debug)]
pub struct FixData {
    /// First UTF-16 unit.
    pub from: u32,
    /// One past the last UTF-16 unit.
    pub to: u32,
    /// The text that replaces them.
    pub text: String,
}

leaves_as!(
    FixData,
    "from": from,
    "to": to,
    "text": text,
);

/// Help and fix are left out if there is none.
impl ToPlain for FindingData {
    fn to_plain(&self) -> Plain<'_> {
        let mut plain = Plain::object(&[
            ("code", &self.code),
            ("severity", &self.severity),
            ("message", &self.message),
            ("from", &self.from),
            ("to", &self.to),
            ("line", &self.line),
            ("column", &self.column),
        ]);
        if let Plain::Object(fields) = &mut plain {
            if let Some(help) = &self.help {
                fields.push(("help", help.to_plain()));
            }
            if let Some(fix) = &self.fix {
                fields.push(("fix", fix.to_plain()));
            }
        }
        plain
    }
}

/// The findings of a text.
pub fn findings(source: &Source, findings: &Findings) -> Vec<FindingData> {
    let utf16 = |byte| source.place(byte).utf16;
    findings
        .iter()
        .map(|finding| {
            let from = source.place(finding.span.from);
            FindingData {
                code: finding.code.id(),
                severity: finding.severity().word(),
                message: finding.message.clone(),
                from: from.utf16,
                to: utf16(finding.span.to),
                line: from.line,
                column: from.column,
                help: finding.help.clone(),
                fix: finding.fix.as_ref().map(|fix| FixData {
                    from: utf16(fix.span.from),
                    to: utf16(fix.span.to),
                    text: fix.text.clone(),
                }),
            }
        })
        .listed()
}
