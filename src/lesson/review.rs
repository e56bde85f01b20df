//! The lesson read as a whole: what only shows when all of it is there.

use super::place::locate::{LocateError, locate_within};
use super::transpose::is_transposition;
use super::tree::{Lesson, LineId, NodeId};
use crate::notation::comment::{self, Slip};
use crate::text::{Code, Finding, Findings, Listed, Source, Span, limits, quote};
use shakmaty::Position;

/// Adds what there is to say about a finished lesson.
pub(super) fn review(source: &Source, lesson: &Lesson, findings: &mut Findings) {
    let mut review = Review {
        source,
        lesson,
        findings,
        links: Vec::new(),
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
            Slip::Place(place) => {
                let run = quote(&place);
                if run.trim_start().starts_with("line") {
                    let message =
                        format!("{run} is a label, and labels change when a variation is put in");
                    let help = "link to a run of moves, such as #4.cxd5_exd5";
                    self.findings.push(
                        Finding::new(Code::LocatorByLabel, span, message)
                            .with_help(help.to_owned()),
                    );
                }
                if self.looks == 0 {
                    return; // told when they ran out
                }
                let found = locate_within(self.lesson, &place, &mut self.looks);
                if self.looks == 0 {
                    let message = "the lesson has more links than are looked up".to_owned();
                    let help = "this one and those after it are not checked; divide the lesson";
                    self.findings.push(
                        Finding::new(Code::TooManyLinks, span, message).with_help(help.to_owned()),
                    );
                    return;
                }
                match found {
                    Ok(to) => self.links.extend(linking.map(|id| link(id, to))),
                    Err(error) => {
                        let mut finding = error.finding(&run, span);
                        match error {
                            LocateError::None => {
                                let way_out = || super::way_out(self.lesson, &place);
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
        }
    }

    fn question(&mut self, id: NodeId) {
        let node = self.lesson.node(id);
        let Some(ask) = &node.ask else {
            return;
        };
        let asked = node
            .comments
            .iter()
            .find(|said| said.text.starts_with("Ask:"));
        let span = asked.map_or(node.span, |said| said.span);
        let answers = self.lesson.choices(id);
        if answers.is_empty() {
            let message = "this question has no answer: no move follows here, or only weak ones";
            let finding = Finding::new(Code::NoAnswer, span, message.to_owned());
            let way_out = || "write the answer as the next move, without `?` or `?!`".to_owned();
            return self.findings.push(in_program(finding, way_out));
        }
        for answer in answers {
            let san = self.lesson.node(answer).san.trim_end_matches(['+', '#']);
            if names_move(&ask.prompt, san) {
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
        if node.choice.is_some() && self.lesson.is_weak(id) {
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
                .filter(|&child| self.lesson.node(child).choice.is_some())
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
