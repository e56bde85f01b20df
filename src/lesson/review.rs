//! The lesson read as a whole: what only shows when all of it is there.

use super::place::locate::{LocateError, locate_within};
use super::transpose::is_transposition;
use super::tree::{Lesson, LineId, LinkTo, NodeId};
use crate::notation::Comment;
use crate::notation::comment::passage::{Does, Link, Paragraph};
use crate::text::{Code, Finding, Findings, Listed, Source, Span, limits, quote};
use shakmaty::Position;

/// Adds what there is to say about a finished lesson. Returns where its links to positions lead.
pub(super) fn review(source: &Source, lesson: &Lesson, findings: &mut Findings) -> Vec<LinkTo> {
    let mut review = Review {
        source,
        lesson,
        findings,
        links: Vec::new(),
        leads: Vec::new(),
        looks: limits::LINK_LOOKS,
    };
    for id in lesson.ids() {
        // Of the program alone: every page would carry it, and the page links what can be played.
        #[cfg(not(target_family = "wasm"))]
        super::amiss::said(source, lesson, id, review.findings);
        review.comments(id);
        review.question(id);
        review.choice(id);
    }
    review.links.sort_unstable();
    review.line_ends();
    review.transpositions();
    let mut leads = review.leads;
    leads.sort_unstable_by_key(|link| link.at);
    leads
}

/// The finding, and in the program its way out: a page would carry the words of each, and shows
/// them to authors alone.
fn in_program(finding: Finding, way_out: impl FnOnce() -> String) -> Finding {
    match cfg!(target_family = "wasm") {
        true => finding,
        false => finding.with_help(way_out()),
    }
}

/// Whether a prompt has this move, in English SAN, for one of its words; check signs do not count.
pub fn names_move(prompt: &str, san: &str) -> bool {
    let bare = |word: &str| word.trim_end_matches(['+', '#']).len();
    let san = &san[..bare(san)];
    let mut words = prompt.split(|letter: char| {
        letter.is_whitespace() || matches!(letter, ',' | '.' | ';' | ':' | '?' | '!' | '(' | ')')
    });
    words.any(|word| word[..bare(word)] == *san)
}

struct Review<'a> {
    source: &'a Source,
    lesson: &'a Lesson,
    findings: &'a mut Findings,
    /// Which node links to which, as the comments say; see [`link`].
    links: Vec<u64>,
    /// Where each link leads that names one position.
    leads: Vec<LinkTo>,
    /// How many moves the other links may still be compared with; see `limits::LINK_LOOKS`.
    looks: usize,
}

/// A link as one number: by it links are in the order of the text.
fn link(from: NodeId, to: NodeId) -> u64 {
    u64::from(from) << 32 | u64::from(to)
}

impl Review<'_> {
    fn find(&mut self, code: Code, span: Span, message: String) {
        self.findings.push(Finding::new(code, span, message));
    }

    /// Marks and links that do not hold.
    fn comments(&mut self, id: NodeId) {
        let node = self.lesson.node(id);
        // What stands before a move is not its comment, and says no transposition.
        for (linking, list) in [(None, &node.before[..]), (Some(id), &node.comments[..])] {
            for passage in list.iter().flat_map(Comment::passages) {
                for piece in passage.paragraphs().flat_map(Paragraph::pieces) {
                    self.piece(linking, piece.does, piece.span);
                }
            }
        }
    }

    fn piece(&mut self, linking: Option<NodeId>, does: Does, span: Span) {
        let written = |span| quote(self.source.slice(span));
        match does {
            Does::Says | Does::Links(Link::Web(_)) => {}
            Does::Marks(mark) => {
                if mark.squares.windows(2).any(|pair| pair[0] == pair[1]) {
                    let message = "is an arrow from a square to itself";
                    let message = format!("{} {message}", written(span));
                    self.find(Code::ArrowToItself, span, message);
                }
            }
            Does::MarksNothing => {
                let message = "marks no square: files are a to h, ranks 1 to 8";
                let message = format!("{} {message}", written(span));
                self.find(Code::NoSuchSquare, span, message);
            }
            Does::LinksNowhere { target } => {
                let message = format!(
                    "\u{201c}{}\u{201d} is no address that a lesson links to",
                    written(target)
                );
                self.findings.push(
                    Finding::new(Code::RefusedLink, target, message).with_help(
                        "link to http:// or https://, or to a position as [words](#4.cxd5_exd5)"
                            .to_owned(),
                    ),
                );
            }
            Does::Links(Link::Locator { run, span }) => self.locator(linking, run, span),
        }
    }

    fn locator(&mut self, linking: Option<NodeId>, written: &str, span: Span) {
        let run = quote(written);
        if run.trim_start().starts_with("line") {
            let message = format!("{run} is a label, and labels change when a variation is put in");
            let help = "link to a run of moves, such as #4.cxd5_exd5";
            self.findings
                .push(Finding::new(Code::LocatorByLabel, span, message).with_help(help.to_owned()));
        }
        if self.looks == 0 {
            return; // told when they ran out
        }
        let found = locate_within(self.lesson, written, &mut self.looks);
        if self.looks == 0 {
            let message = "the lesson has more links than are looked up".to_owned();
            let help =
                "this one and those after it are neither checked nor links; divide the lesson";
            self.findings
                .push(Finding::new(Code::TooManyLinks, span, message).with_help(help.to_owned()));
            return;
        }
        match found {
            Ok(to) => {
                self.leads.push(LinkTo {
                    at: span.from,
                    node: to,
                });
                self.links.extend(linking.map(|id| link(id, to)));
            }
            Err(error) => {
                let mut finding = error.finding(&run, span);
                match error {
                    LocateError::None => {
                        let way_out = || super::way_out(self.lesson, written);
                        finding = in_program(finding, way_out);
                    }
                    LocateError::Several(nodes) => {
                        for node in nodes.into_iter().take(4) {
                            let span = self.lesson.node(node).span;
                            finding = finding.with_related(span, "one of them".to_owned());
                        }
                    }
                }
                self.findings.push(finding);
            }
        }
    }

    fn question(&mut self, id: NodeId) {
        let node = self.lesson.node(id);
        let (Some(ask), Some(asking)) = (node.ask(), node.asking()) else {
            return;
        };
        let span = asking.span;
        let answers = self.lesson.choices(id);
        if answers.is_empty() {
            let message = "this question has no answer: no move follows here, or only weak ones";
            let finding = Finding::new(Code::NoAnswer, span, message.to_owned());
            let way_out = || "write the answer as the next move, without `?` or `?!`".to_owned();
            return self.findings.push(in_program(finding, way_out));
        }
        for answer in answers {
            let san = self.lesson.node(answer).san.trim_end_matches(['+', '#']);
            if names_move(ask.prompt.text(), san) {
                let answer = self.lesson.node(answer).span;
                let message = format!("the prompt names its answer, {san}");
                let finding = Finding::new(Code::PromptTells, span, message)
                    .with_related(answer, "the answer".to_owned());
                let way_out =
                    || "ask in other words; `Hint:` and `Because:` may name it".to_owned();
                return self.findings.push(in_program(finding, way_out));
            }
        }
    }

    fn choice(&mut self, id: NodeId) {
        let node = self.lesson.node(id);
        if node.choice().is_some() && self.lesson.is_weak(id) {
            let message = format!("{} is the choice and is marked weak", node.san);
            self.find(Code::WeakChoice, node.span, message);
        }
    }

    /// Lines that end without a word or an assessment.
    fn line_ends(&mut self) {
        for line in 0..self.lesson.lines.len() as LineId {
            let Some(last) = self.lesson.line_nodes(line).last() else {
                continue;
            };
            let node = self.lesson.node(last);
            let told = !node.comments.is_empty()
                || node.nags.iter().any(|&nag| nag >= 10)
                || node.position.is_game_over()
                || node.parent.is_none()
                || (line == 0 && self.lesson.result != "*")
                || self.lesson.unread.iter().any(|words| words.line == line);
            if !told {
                let which = match self.lesson.line(line).label.as_str() {
                    "" => "the main line".to_owned(),
                    label => format!("line {label}"),
                };
                let message = format!("{which} ends without a word or an assessment");
                self.find(Code::EndsInSilence, node.span, message);
            }
        }
    }

    /// Positions that are reached by more than one path: said, or not; with choices that agree,
    /// or not.
    fn transpositions(&mut self) {
        for &(one, other) in &self.lesson.same {
            self.unsaid(one, other);
            self.contradiction(one, other);
        }
    }

    fn unsaid(&mut self, one: NodeId, other: NodeId) {
        let (a, b) = (self.lesson.node(one), self.lesson.node(other));
        if !is_transposition(self.lesson, one, other) {
            return;
        }
        let links = |from, to| self.links.binary_search(&link(from, to)).is_ok();
        if links(one, other) || links(other, one) {
            return;
        }
        let message = format!(
            "{} comes to the same position as {}, and no comment says so",
            self.lesson.numbered(other),
            self.lesson.numbered(one)
        );
        self.findings.push(
            Finding::new(Code::Unsaid, b.span, message)
                .with_help(
                    "link the comment of one to the other: [words](#run of moves)".to_owned(),
                )
                .with_related(a.span, "the same position".to_owned()),
        );
    }

    fn contradiction(&mut self, one: NodeId, other: NodeId) {
        let written = |id: NodeId| -> Vec<NodeId> {
            // No position has more legal moves than 218; a move given twice is told elsewhere.
            let children = self.lesson.node(id).children.iter().copied().take(218);
            children
                .filter(|&child| self.lesson.node(child).choice().is_some())
                .listed()
        };
        let (a, b) = (written(one), written(other));
        let san = |id: &NodeId| self.lesson.node(*id).san.as_str();
        let (Some(first), Some(second)) = (a.first(), b.first()) else {
            return;
        };
        if a.iter()
            .any(|left| b.iter().any(|right| san(left) == san(right)))
        {
            return;
        }
        let message = format!(
            "one position, two choices: {} here, {} where it is reached by another path",
            san(second),
            san(first)
        );
        let (here, there) = (
            self.lesson.node(*second).span,
            self.lesson.node(*first).span,
        );
        self.findings.push(
            Finding::new(Code::ChoicesContradict, here, message)
                .with_related(there, "the other choice".to_owned()),
        );
    }
}
