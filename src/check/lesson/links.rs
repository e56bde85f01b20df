//! Marks and links in comments that do not hold.

use crate::lesson::place::locate::{LocateError, locate_within};
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::{self, Slip};
use crate::text::{Code, Finding, Findings, Source, Span, limits, quote};

/// Which node links to which, as the comments say. Each link is one number, by which they are in
/// the order of the text.
pub(super) struct Links(Vec<u64>);

fn link(from: NodeId, to: NodeId) -> u64 {
    u64::from(from) << 32 | u64::from(to)
}

impl Links {
    /// Whether a comment of one node links to another.
    pub(super) fn has(&self, from: NodeId, to: NodeId) -> bool {
        self.0.binary_search(&link(from, to)).is_ok()
    }
}

/// The marks and links that do not hold, and the links that do.
pub(super) fn links(source: &Source, lesson: &Lesson) -> (Findings, Links) {
    let mut pass = Pass {
        source,
        lesson,
        findings: Findings::default(),
        links: Vec::new(),
        looks: limits::LINK_LOOKS,
    };
    for id in lesson.ids() {
        pass.comments(id);
    }
    pass.links.sort_unstable();
    (pass.findings, Links(pass.links))
}

struct Pass<'a> {
    source: &'a Source,
    lesson: &'a Lesson,
    findings: Findings,
    links: Vec<u64>,
    /// How many moves the other links may still be compared with; see `limits::LINK_LOOKS`.
    looks: usize,
}

impl Pass<'_> {
    fn find(&mut self, code: Code, span: Span, message: String) {
        self.findings.push(Finding::new(code, span, message));
    }

    fn comments(&mut self, id: NodeId) {
        let node = self.lesson.node(id);
        // What stands before a move is not its comment, and says no transposition.
        for (linking, list) in [(None, &node.before[..]), (Some(id), &node.comments[..])] {
            for said in list {
                for (slip, range) in comment::slips(self.source.slice(said.span)) {
                    let from = said.span.from as usize;
                    let span = Span::new(from + range.start, from + range.end);
                    self.slip(linking, slip, span);
                }
            }
        }
    }

    fn slip(&mut self, linking: Option<NodeId>, slip: Slip, span: Span) {
        let written = quote(self.source.slice(span));
        match slip {
            Slip::NoSuchSquare => {
                self.find(
                    Code::NoSuchSquare,
                    span,
                    format!("{written} marks no square: files are a to h, ranks 1 to 8"),
                );
            }
            Slip::ArrowToItself => {
                self.find(
                    Code::ArrowToItself,
                    span,
                    format!("{written} is an arrow from a square to itself"),
                );
            }
            Slip::RefusedLink => {
                let message =
                    format!("\u{201c}{written}\u{201d} is no address that a lesson links to");
                self.findings.push(
                    Finding::new(Code::RefusedLink, span, message).with_help(
                        "link to http:// or https://, or to a position as [words](#4.cxd5_exd5)"
                            .to_owned(),
                    ),
                );
            }
            Slip::Place(place) => self.place(linking, &place, span),
        }
    }

    /// A link to a position.
    fn place(&mut self, linking: Option<NodeId>, place: &str, span: Span) {
        let run = quote(place);
        if run.trim_start().starts_with("line") {
            let message = format!("{run} is a label, and labels change when a variation is put in");
            let help = "link to a run of moves, such as #4.cxd5_exd5";
            self.findings
                .push(Finding::new(Code::LocatorByLabel, span, message).with_help(help.to_owned()));
        }
        if self.looks == 0 {
            return; // told when they ran out
        }
        let found = locate_within(self.lesson, place, &mut self.looks);
        if self.looks == 0 {
            let message = "the lesson has more links than are looked up".to_owned();
            let help = "this one and those after it are not checked; divide the lesson";
            self.findings
                .push(Finding::new(Code::TooManyLinks, span, message).with_help(help.to_owned()));
            return;
        }
        match found {
            Ok(to) => self.links.extend(linking.map(|id| link(id, to))),
            Err(error) => {
                let mut finding = error.finding(&run, span);
                if let LocateError::Several(nodes) = error {
                    for node in nodes.into_iter().take(4) {
                        let span = self.lesson.node(node).span;
                        finding = finding.with_related(span, "one of them".to_owned());
                    }
                }
                self.findings.push(finding);
            }
        }
    }
}
