//! Findings as workflow commands: one line each, which GitHub's runner shows beside the lines
//! of a change. Their form, and which characters are written as `%` and two digits, are those of
//! `command.js` in npm's `@actions/core` 3.0.1.

use crate::text::{Finding, Severity, Source};

/// The command for a finding, without a line end.
pub fn command(source: &Source, finding: &Finding) -> String {
    let word = match finding.severity() {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Hint => "notice",
    };
    let (from, to) = (
        source.place(finding.span.from),
        source.place(finding.span.to),
    );
    // A path from `.` is one that the runner finds in the change.
    let file = source.name();
    let file = property(file.strip_prefix("./").unwrap_or(file));
    let mut text = format!("::{word} file={file},line={}", from.line);
    // Columns cannot be sent where a place goes over several lines (`core.d.ts` there), and the
    // last one counts in: it is the first where nothing else is said.
    match from.line == to.line {
        true => {
            let last = from.column.max(to.column.saturating_sub(1));
            text += &format!(
                ",col={},endLine={},endColumn={last}",
                from.column, from.line
            );
        }
        false => text += &format!(",endLine={}", to.line),
    }
    text += &format!(",title={}::", finding.code.id());
    let mut message = finding.message.clone();
    if let Some(help) = &finding.help {
        message += &format!("\nhelp: {help}");
    }
    if let Some(fix) = &finding.fix {
        message += &format!("\nfix: write {}", fix.text.trim_end());
    }
    text + data(&message).as_str()
}

fn data(text: &str) -> String {
    text.replace('%', "%25")
        .replace('\r', "%0D")
        .replace('\n', "%0A")
}

fn property(text: &str) -> String {
    data(text).replace(':', "%3A").replace(',', "%2C")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_form_needs_for_itself_is_escaped() {
        // npm `@actions/core` 3.0.1, `lib/command.js`: `escapeData` and `escapeProperty`.
        assert_eq!(data("50 %: a,\r\nb"), "50 %25: a,%0D%0Ab");
        assert_eq!(property("50 %: a,\r\nb"), "50 %25%3A a%2C%0D%0Ab");
    }
}
