//! Figures quoted from elsewhere that readers would not be shown as such.

use super::opened::opened;
use crate::lesson::Lesson;
use crate::notation::comment::quoted::{WORD, quoted};
use crate::text::{Code, Finding, Findings};

/// Paragraphs that begin as a quoted figure does and are written otherwise, or whose shares do not add to 100
/// (common practice, no source: shares of wins, draws and losses do; each may be rounded, so 99 and 101 pass).
pub(super) fn amiss(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for it in opened(lesson, WORD) {
        let message = match quoted(&it.text).map(|it| it.shares.iter().sum::<u64>()) {
            Some(99..=101) => continue,
            Some(sum) => format!("the shares of this figure add to {sum}, not to 100"),
            None => "this figure is shown as it is written".to_owned(),
        };
        let help = "write it as `Counts: 1906 games, 41 35 24, from SOURCE`: the three numbers say how \
                    many of a hundred White won, were drawn, and Black won";
        let finding = Finding::new(Code::FigureAmiss, it.word, message);
        findings.push(finding.with_help(help.to_owned()));
    }
    findings
}
