//! Marks and links in comments that lead nowhere.

use crate::lesson::{Lesson, LocateError};
use crate::notation::Comment;
use crate::notation::comment::passage::{Does, Link, Paragraph};
use crate::text::{Code, Finding, Findings, Source, Span, quote};

/// The marks and links that lead nowhere.
pub(super) fn links(source: &Source, lesson: &Lesson) -> Findings {
    let mut pass = Pass {
        source,
        lesson,
        findings: Findings::default(),
        is_full: false,
    };
    for &id in lesson.commented() {
        let node = lesson.node(id);
        for list in [&node.before[..], &node.comments[..]] {
            let passages = list.iter().flat_map(Comment::passages);
            for passage in passages.filter(|passage| !passage.is_plain()) {
                for piece in passage.paragraphs().flat_map(Paragraph::pieces) {
                    pass.piece(piece.does, piece.span);
                }
            }
        }
    }
    pass.findings
}

struct Pass<'a> {
    source: &'a Source,
    lesson: &'a Lesson,
    findings: Findings,
    /// Whether a link was met that is no longer checked.
    is_full: bool,
}

impl Pass<'_> {
    fn piece(&mut self, does: Does, span: Span) {
        let (span, code, help) = match does {
            Does::Says | Does::Links(Link::Web(_)) => return,
            Does::Links(Link::Locator { run, span }) => return self.place(run, span),
            Does::MarksNothing => (span, Code::NoSuchSquare, None),
            Does::Marks(mark) => {
                if mark.squares.windows(2).all(|pair| pair[0] != pair[1]) {
                    return;
                }
                (span, Code::ArrowToItself, None)
            }
            Does::LinksNowhere { target } => {
                let help =
                    "begin it with https:// or ../, or name a position: [words](#4.cxd5_exd5)";
                (target, Code::RefusedLink, Some(help))
            }
        };
        let written = quote(self.source.slice(span));
        let message = match code {
            Code::NoSuchSquare => {
                format!("{written} marks no square: files are a to h, ranks 1 to 8")
            }
            Code::ArrowToItself => format!("{written} is an arrow from a square to itself"),
            _ => format!("\u{201c}{written}\u{201d} is no address that a lesson links to"),
        };
        let mut finding = Finding::new(code, span, message);
        if let Some(help) = help {
            finding = finding.with_help(help.to_owned());
        }
        self.findings.push(finding);
    }

    /// A link to a position.
    fn place(&mut self, place: &str, span: Span) {
        let run = quote(place);
        if run.trim_start().starts_with("line") {
            let message = format!("{run} is a label, and labels change when a variation is added");
            let help = "link to a run of moves, such as #4.cxd5_exd5";
            self.findings
                .push(Finding::new(Code::LocatorByLabel, span, message).with_help(help.to_owned()));
        }
        match self.lesson.link(span) {
            None if self.is_full => {} // reported when they ran out
            None => {
                self.is_full = true;
                let message = "the lesson has more links than are checked".to_owned();
                let help = "this one and those after it are not checked and lead nowhere; divide \
                            the lesson";
                let finding = Finding::new(Code::TooManyLinks, span, message);
                self.findings.push(finding.with_help(help.to_owned()));
            }
            Some(Ok(_)) => {}
            Some(Err(error)) => {
                let mut finding = error.finding(&run, span);
                if let LocateError::Several(nodes) = error {
                    for &node in nodes.iter().take(4) {
                        let span = self.lesson.node(node).span;
                        finding = finding.with_related(span, "one of them".to_owned());
                    }
                }
                self.findings.push(finding);
            }
        }
    }
}
