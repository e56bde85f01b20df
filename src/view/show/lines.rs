//! The line list: moves, comments and variations as on the page of a book.

use super::comment_links::link_moves;
use super::diagram::{self, Diagram};
use super::figure::{Figure, figure};
use super::moves::{MoveView, move_view};
use super::text::{Kind, Paragraph, Piece, paragraphs};
use crate::lesson::{Lesson, Line, LineId, NodeId, Place, unsaid_transpositions};
use crate::notation::comment::Ask;
use crate::notation::comment::keyword::Lead;
use crate::notation::comment::passage::Passage;
use crate::notation::{Comment, Letters};
use crate::text::{Listed, Source, join};
use crate::view::reader::question::arrive;
use crate::view::words::Words;
use crate::view::{Mode, State};
use shakmaty::Color;

/// A line with everything in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineView {
    /// Which line it is.
    pub line: LineId,
    /// Its label; empty for the main line.
    pub label: String,
    /// Whether the reader has folded it.
    pub is_folded: bool,
    /// What is in it, in order.
    pub blocks: Vec<Block>,
}

/// One stretch of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// Moves in a row.
    Moves(Vec<MoveView>),
    /// The author's words, and their move if it has to be named.
    Text(Vec<Paragraph>, Option<MoveView>),
    /// A question, and why its answer is right once it is open; else the node that waits.
    Ask(Vec<Paragraph>, QuestionBlock),
    /// The answers to all questions, on paper: the move before each question, none at the start,
    /// and what follows it.
    Answers(Vec<(Option<MoveView>, LineView)>),
    /// The move that leads to the same position elsewhere, and the label of its line.
    Same(MoveView, String),
    /// Variations beside the move before; and what is said in their place while the main line is read alone.
    Sides(Vec<LineView>, Option<Gist>),
    /// Words that could not be read.
    Unread(String),
    /// The board at this place, on paper.
    Diagram(Box<Figure>),
    /// A still diagram that the author asks for, and their caption.
    Still(Box<Diagram>, Vec<Piece>),
    /// How the game ended, where it ended.
    Result(&'static str),
}

/// What variations are beside a move of the main line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gist {
    /// The node of that move.
    pub beside: NodeId,
    /// Whether they are open all the same.
    pub is_open: bool,
    /// The first move of each.
    pub firsts: Vec<MoveView>,
}

/// How a question is in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum QuestionBlock {
    /// It waits for an answer at this node.
    Waits(NodeId),
    /// Its answer follows; why it is right.
    Open(Vec<Paragraph>),
}

/// The main line with all that belongs to it.
pub(crate) fn main_line(
    words: &Words,
    lesson: &Lesson,
    state: &State,
    source: &Source,
) -> LineView {
    let mut writer = writer(words, lesson, state, source, lesson.side());
    writer.letters = Some(words.letters());
    writer.line(0)
}

/// The same as it is printed: with diagrams at the start and at each branch point of the main
/// line, and nothing folded.
pub fn printed_line(words: &Words, lesson: &Lesson, side: Color, source: &Source) -> LineView {
    // Whatever the reader has opened: the answers are at the end.
    let state = State::empty();
    let mut writer = writer(words, lesson, &state, source, side);
    writer.is_paper = true;
    with_answers(lesson, &state, &writer)
}

/// The same without those diagrams.
#[cfg(not(target_family = "wasm"))]
pub fn listed_line(words: &Words, lesson: &Lesson, source: &Source) -> LineView {
    let state = State::empty();
    let writer = writer(words, lesson, &state, source, lesson.side());
    with_answers(lesson, &state, &writer)
}

/// The main line, and after it what follows the questions.
fn with_answers(lesson: &Lesson, state: &State, writer: &Writer<'_>) -> LineView {
    let mut printed = writer.line(0);
    let mut answers = Vec::new();
    for id in lesson.ids() {
        if state.is_closed(lesson, id) {
            answers.push(writer.answer(id));
        }
    }
    if !answers.is_empty() {
        printed.blocks.push(Block::Answers(answers));
    }
    printed
}

fn writer<'a>(
    words: &'a Words,
    lesson: &'a Lesson,
    state: &'a State,
    source: &'a Source,
    below: Color,
) -> Writer<'a> {
    let mut unread = Vec::new();
    unread.resize_with(lesson.nodes.len(), Vec::new);
    for (ix, words) in lesson.unread.iter().enumerate() {
        unread[words.after as usize].push(ix);
    }
    Writer {
        lesson,
        state,
        source,
        letters: None,
        hidden: state.hidden(lesson),
        sides: lesson.beside(),
        same: unsaid_transpositions(lesson),
        unread,
        words,
        below,
        is_paper: false,
    }
}

struct Writer<'a> {
    lesson: &'a Lesson,
    /// What is folded, and where a question waits, so that what follows is left out.
    state: &'a State,
    /// For each node whether it is left out.
    hidden: Vec<bool>,
    /// The piece letters that comments name moves with; none if nothing is linked.
    letters: Option<&'a Letters>,
    words: &'a Words,
    /// The side below in diagrams.
    below: Color,
    /// Whether there are diagrams at branch points too.
    is_paper: bool,
    source: &'a Source,
    /// For each node the lines that are written beside it.
    sides: Vec<Vec<LineId>>,
    /// Nodes that are one position, each with the other.
    same: Vec<(NodeId, NodeId)>,
    /// For each node the unread words that follow it.
    unread: Vec<Vec<usize>>,
}

impl Writer<'_> {
    /// Calls itself for the variations of a line: at most `limits::NESTING` deep.
    fn line(&self, id: LineId) -> LineView {
        let mut blocks = Vec::new();
        self.nodes(id, self.lesson.line_nodes(id), &mut blocks);
        self.view(id, blocks)
    }

    /// Nodes of a line up to the first question that waits.
    fn nodes(&self, id: LineId, mut nodes: impl Iterator<Item = NodeId>, blocks: &mut Vec<Block>) {
        let waits = nodes.any(|node| {
            self.node(id, node, blocks);
            self.state.is_closed(self.lesson, node)
        });
        if id == 0 && !waits && self.lesson.result != "*" {
            blocks.push(Block::Result(self.lesson.result));
        }
    }

    /// What follows a question, up to the next one, and the move before the question.
    fn answer(&self, asked: NodeId) -> (Option<MoveView>, LineView) {
        let node = self.lesson.node(asked);
        let mut blocks = Vec::new();
        if let Some(because) = node.ask().and_then(Ask::because) {
            blocks.push(Block::Text(paragraphs(self.lesson, because), None));
        }
        let next = |&id: &NodeId| self.lesson.next_on_line(id);
        let after = core::iter::successors(Some(asked), next).skip(1);
        self.nodes(node.line, after, &mut blocks);
        let left = node
            .parent
            .map(|_| move_view(self.words, self.lesson, asked, true));
        (left, self.view(node.line, blocks))
    }

    fn view(&self, id: LineId, blocks: Vec<Block>) -> LineView {
        let Line { label, .. } = self.lesson.line(id);
        LineView {
            line: id,
            is_folded: self.state.folded.contains(&id),
            label: label.clone(),
            blocks,
        }
    }

    fn node(&self, line: LineId, id: NodeId, blocks: &mut Vec<Block>) {
        let node = self.lesson.node(id);
        self.text(id, node.parent.unwrap_or(id), &node.before, blocks);
        let left = node.parent.filter(|&parent| parent != 0);
        if let Some(left) = left.filter(|&left| line == 0 && self.lesson.is_branch_point(left)) {
            self.diagram(left, blocks);
        }
        if node.parent.is_some() {
            match blocks.last_mut() {
                Some(Block::Moves(moves)) => {
                    moves.push(move_view(self.words, self.lesson, id, false))
                }
                _ => blocks.push(Block::Moves(vec![move_view(
                    self.words,
                    self.lesson,
                    id,
                    true,
                )])),
            }
        }
        self.text(id, id, &node.comments, blocks);
        let first = self.same.partition_point(|&(from, _)| from < id);
        for &(from, to) in self.same.iter().skip(first) {
            if from != id {
                break;
            }
            // The link would name the answer.
            if self.hidden[to as usize] && !self.hidden[id as usize] {
                continue;
            }
            let label = self.lesson.label(to).to_owned();
            blocks.push(Block::Same(
                move_view(self.words, self.lesson, to, true),
                label,
            ));
        }
        if node.parent.is_none() {
            self.diagram(id, blocks);
        }
        let mut sides = Vec::new();
        for &side in &self.sides[id as usize] {
            if self.lesson.line(side).parent == Some(line) {
                sides.push(self.line(side));
            }
        }
        if !sides.is_empty() {
            let mut gist = None;
            if let Some(open) = self.state.alone.as_ref().filter(|_| line == 0) {
                let first = |side: &LineView| self.lesson.line(side.line).first;
                let firsts = sides.iter();
                let firsts =
                    firsts.map(|side| move_view(self.words, self.lesson, first(side), true));
                gist = Some(Gist {
                    beside: id,
                    is_open: open.contains(&id),
                    firsts: firsts.listed(),
                });
            }
            blocks.push(Block::Sides(sides, gist));
        }
        for &ix in &self.unread[id as usize] {
            let words = &self.lesson.unread[ix];
            if words.line == line {
                let written = self.source.slice(words.span).split_whitespace();
                blocks.push(Block::Unread(join(&written.listed(), " ")));
            }
        }
    }

    /// The author's words about a node; `at` is the position of the words.
    fn text(&self, id: NodeId, at: NodeId, comments: &[Comment], blocks: &mut Vec<Block>) {
        let mut list: Vec<Paragraph> = Vec::new();
        for comment in comments {
            if let Some(ask) = comment.ask() {
                self.told(id, at, core::mem::take(&mut list), blocks);
                let asked = match self.state.is_closed(self.lesson, id) {
                    true => QuestionBlock::Waits(id),
                    false => {
                        let because = ask.because();
                        let because = because.map(|because| self.paragraphs(because));
                        let mut because = because.unwrap_or_default();
                        self.link(at, id, &mut because);
                        QuestionBlock::Open(because)
                    }
                };
                blocks.push(Block::Ask(self.paragraphs(&ask.prompt), asked));
            }
            if let Some(told) = comment.told() {
                list.append(&mut self.paragraphs(told));
            }
        }
        self.told(id, at, list, blocks);
    }

    /// What a passage says. A quiz and a recall follow no talk, so that its times would say nothing there.
    fn paragraphs(&self, said: &Passage) -> Vec<Paragraph> {
        let mut list = paragraphs(self.lesson, said);
        if !matches!(self.state.mode, Mode::Lesson { .. }) {
            list.retain(|one| one.kind != Kind::Times);
        }
        list
    }

    /// Paragraphs about a node, in which moves are linked.
    fn told(&self, id: NodeId, at: NodeId, mut list: Vec<Paragraph>, blocks: &mut Vec<Block>) {
        self.link(at, id, &mut list);
        let mut words = Vec::new();
        for paragraph in list {
            if paragraph.kind == Kind::Caption {
                self.say(id, core::mem::take(&mut words), blocks);
                let shown = diagram::told(self.words, self.lesson, at, self.below);
                blocks.push(Block::Still(Box::new(shown), paragraph.pieces));
            } else {
                words.push(paragraph);
            }
        }
        self.say(id, words, blocks);
    }

    fn say(&self, id: NodeId, list: Vec<Paragraph>, blocks: &mut Vec<Block>) {
        let chosen = list.iter().any(|one| one.kind == Kind::Choice);
        if !list.is_empty() {
            let of = chosen.then(|| move_view(self.words, self.lesson, id, true));
            blocks.push(Block::Text(list, of));
        }
    }

    /// Links the moves that the comment of a node names, and that no open question hides: beside
    /// it neither, for what is linked there would say what is not the answer.
    fn link(&self, at: NodeId, id: NodeId, list: &mut [Paragraph]) {
        let hides = |place: &Place| {
            let beside = !place.aside.is_empty();
            self.hidden[place.node as usize]
                || beside && self.state.is_closed(self.lesson, place.node)
        };
        if let Some(letters) = self.letters {
            link_moves(self.lesson, letters, at, id, &hides, list);
        }
    }

    /// The board at a node, on paper, where the author has none: before the moves that go on from there.
    fn diagram(&self, id: NodeId, blocks: &mut Vec<Block>) {
        let asks = |comment: &Comment| {
            let mut leads = comment.passages().flat_map(Passage::paragraphs);
            leads.any(|it| it.lead == Some(Lead::Diagram))
        };
        if self.is_paper && !self.lesson.node(id).comments.iter().any(asks) {
            // Also where it is among the answers.
            let mut state = State::at_node(self.lesson, id, self.below);
            arrive(self.lesson, &mut state);
            let shown = figure(self.words, self.lesson, &state);
            blocks.push(Block::Diagram(Box::new(shown)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::assert_linear;

    #[test]
    fn twice_as_many_comments_that_name_moves_take_about_twice_the_work_to_draw() {
        let comments = [
            "Good.",
            "4.Bb5",
            "7.Nc3 Nc6",
            "3.Nf3 Nf6",
            "30.d4 d5",
            "#.d4 d5",
            "#...d6",
            "White's Nf3",
            "After Nf3, Ng1 or Ng8 then Nf6 Ng1 Ng8",
        ];
        assert_linear(&comments, |lesson| {
            let source = Source::new("a", "");
            let state = State::new(lesson, 0, Color::White);
            let _ = main_line(&Words::default(), lesson, &state, &source);
        });
    }

    /// The places that the lines of a lesson link to, after the question at 1...e5 or before it.
    fn linked(settled: bool) -> usize {
        let text = "1. e4 {Soon 2.Nf3, not 2.Qh5.} e5 {Ask: What now? Because: 2.Nf3 attacks, and \
            2.Qh5 does not.} 2. Nf3 *";
        let lesson = crate::lesson::given::lesson(text);
        let mut state = State::new(&lesson, 0, Color::White);
        if settled && let crate::view::Mode::Lesson { settled, .. } = &mut state.mode {
            settled.push(2);
        }
        let line = main_line(&Words::default(), &lesson, &state, &Source::new("a", ""));
        format!("{line:?}").matches("Names(").count()
    }

    #[test]
    fn what_a_question_hides_is_linked_once_it_is_open_and_so_is_its_reason() {
        assert_eq!((linked(false), linked(true)), (0, 4));
    }
}
