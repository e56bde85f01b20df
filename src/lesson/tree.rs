//! The lesson: an arena of nodes, each a position reached by one path.

use super::compact::{Few, SanText};
pub use super::ids::{LineId, NodeId};
use super::place::found::LinkTo;
use super::place::orders::Orders;
use super::reason::phrases::dots;
use crate::notation::Comment;
use crate::notation::Letters;
use crate::notation::comment::Ask;
use crate::notation::comment::passage::Paragraph;
use crate::notation::word::nag;
use crate::text::{KeptText, Listed, Span};
use core::cell::OnceCell;
use shakmaty::{Chess, Color, Move, Position};

/// One validated tree of moves with its comments and tags.
#[derive(Clone, Debug)]
pub struct Lesson {
    /// The tags in the order written; the first of a repeated name.
    pub tags: Vec<(KeptText, KeptText)>,
    /// Every node; index 0 is the start and always there.
    pub nodes: Vec<Node>,
    /// Every line that has a node; index 0 is the main line and always there.
    pub lines: Vec<Line>,
    /// The termination marker, `*` where there is none.
    pub result: &'static str,
    /// Words that could not be read, in the order of the text.
    pub unread: Vec<Unread>,
    /// Pairs of nodes with one position: the first in the text, and each other. Two nodes are the
    /// same position when the first four fields of their FEN agree.
    pub same: Vec<(NodeId, NodeId)>,
    /// The nodes of whose comments something is shown, in their order.
    pub(super) commented: Vec<NodeId>,
    /// Where the links of its comments lead, in the order of the text.
    pub(super) links: Vec<LinkTo>,
    /// Where its moves are played, once that is asked for.
    pub(super) orders: OnceCell<Box<Orders>>,
    /// Whether other words of the text were ignored: a tag, a variation.
    pub passed_over: bool,
}

/// A position in the lesson reached by one path.
#[derive(Clone, Debug)]
pub struct Node {
    /// The node before; none for node 0.
    pub parent: Option<NodeId>,
    /// The nodes after, in the order of the text.
    pub children: Few<NodeId>,
    /// The line that it belongs to.
    pub line: LineId,
    /// How deep: half-moves from node 0.
    pub ply: u32,
    /// The move that leads here; none for node 0 and for a pass.
    pub played: Option<Move>,
    /// The move in English SAN with `+` or `#`; `--` for a pass; empty for node 0.
    pub san: SanText,
    /// The position.
    pub position: Chess,
    /// Glyphs in the order of the text, each once.
    pub nags: Vec<u8>,
    /// The comments between `(` and the first move of a variation.
    pub before: Vec<Comment>,
    /// The comments after the move.
    pub comments: Few<Comment>,
    /// Which of the comments recommends the move, and which asks: the first that does.
    pub(super) choice: Option<u32>,
    pub(super) ask: Option<u32>,
    /// The move's word in the text, signs included; for node 0 the start of the movetext.
    pub span: Span,
}

impl Node {
    /// The paragraph with which the author recommends the move: its words are the condition.
    pub fn choice(&self) -> Option<Paragraph<'_>> {
        self.comments.get(self.choice? as usize)?.choice()
    }

    /// The comment that asks a question here.
    pub fn asking(&self) -> Option<&Comment> {
        self.comments.get(self.ask? as usize)
    }

    /// The question asked here.
    pub fn ask(&self) -> Option<&Ask> {
        self.asking()?.ask()
    }

    /// Finds out which of the comments recommends the move, and which asks; returns whether
    /// anything of its comments is shown.
    pub(super) fn sayings(&mut self) -> bool {
        let mut all = self.before.iter().chain(self.comments.iter());
        if all.all(Comment::is_silent) {
            return false;
        }
        let place = |at: Option<usize>| at.map(|at| at as u32);
        let mut comments = self.comments.iter();
        let choice = comments.position(|comment| comment.choice().is_some());
        let mut comments = self.comments.iter();
        let ask = comments.position(|comment| comment.ask().is_some());
        (self.choice, self.ask) = (place(choice), place(ask));
        true
    }
}

/// A line: the main line or a variation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// `A`, `B2`, `A1a`; empty for the main line.
    pub label: String,
    /// The line of the move that it is written beside; none for the main line.
    pub parent: Option<LineId>,
    /// The node of the move that it is written beside; for the main line node 0.
    pub beside: NodeId,
    /// Its first node; for the main line node 0.
    pub first: NodeId,
}

/// Words of a line that could not be read: the bad move and what follows it there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// The node that they follow.
    pub after: NodeId,
    /// The line that they end; where it has no node of its own, the line it is beside.
    pub line: LineId,
    /// Where they are.
    pub span: Span,
}

#[cfg(test)]
thread_local! {
    /// How often a node was looked at, by which tests measure work.
    pub static LOOKS: core::cell::Cell<u64> = const { core::cell::Cell::new(0) };
}

impl Lesson {
    /// The node of that number; node 0 for a number that the lesson does not have.
    pub fn node(&self, id: NodeId) -> &Node {
        #[cfg(test)]
        LOOKS.set(LOOKS.get() + 1);
        // Node 0 is always there.
        self.nodes.get(id as usize).unwrap_or(&self.nodes[0])
    }

    /// The nodes of whose comments something is shown, those before a variation's first move
    /// included, in their order: in a collection of games hardly any. Clocks are not shown.
    pub fn commented(&self) -> &[NodeId] {
        &self.commented
    }

    /// The node of that number, if there is one.
    pub fn get(&self, id: NodeId) -> Option<&Node> {
        self.nodes.get(id as usize)
    }

    /// The value of a tag.
    pub fn tag(&self, name: &str) -> Option<&str> {
        for (tag, value) in &self.tags {
            if tag.as_str() == name {
                return Some(value);
            }
        }
        None
    }

    /// The side that is below where nothing else is wished: that of the tag `Side`, else White.
    pub fn side(&self) -> Color {
        Color::from_white(self.tag("Side") != Some("black"))
    }

    /// The letters of the pieces that the tag `Letters` names.
    pub fn own_letters(&self) -> Option<&'static Letters> {
        Letters::of(self.tag("Letters")?)
    }

    /// The letters in which it is written: its own, else English.
    pub fn letters(&self) -> &'static Letters {
        self.own_letters().unwrap_or(Letters::ENGLISH)
    }

    /// The label of the node's line; empty on the main line.
    pub fn label(&self, id: NodeId) -> &str {
        self.line(self.node(id).line).label.as_str()
    }

    /// The line of that number; the main line for a number that the lesson does not have.
    pub fn line(&self, id: LineId) -> &Line {
        // Line 0 is always there.
        self.lines.get(id as usize).unwrap_or(&self.lines[0])
    }

    /// For each node the variations that are written beside it, in the order of the text.
    pub fn beside(&self) -> Vec<Vec<LineId>> {
        let mut beside: Vec<Vec<LineId>> = Vec::new();
        beside.resize_with(self.nodes.len(), Vec::new);
        for (id, line) in self.lines.iter().enumerate().skip(1) {
            // `beside` is the number of a node of this lesson.
            beside[line.beside as usize].push(id as LineId);
        }
        beside
    }

    /// The node after this one on the same line.
    pub fn next_on_line(&self, id: NodeId) -> Option<NodeId> {
        // The first child of a node continues its line.
        self.node(id).children.first().copied()
    }

    /// The nodes of a line, from its first to its last; for the main line from node 0.
    pub fn line_nodes(&self, id: LineId) -> impl Iterator<Item = NodeId> {
        core::iter::successors(Some(self.line(id).first), |&id| self.next_on_line(id))
    }

    /// Whether more than one move goes on from here.
    pub fn is_branch_point(&self, id: NodeId) -> bool {
        self.node(id).children.len() > 1
    }

    /// The moves that the author recommends here, in the order of the text: the first that is not
    /// marked weak, and those with a written choice. A choice that is written without a condition
    /// takes the place of the first. A pass shows a threat and is no choice.
    pub fn choices(&self, id: NodeId) -> Vec<NodeId> {
        let mut chosen = Vec::new();
        let mut first = None;
        let mut takes_place = false;
        for child in self.moves(id) {
            let choice = self.node(child).choice();
            takes_place |= choice.is_some_and(|choice| choice.pieces().next().is_none());
            let is_first = first.is_none() && !self.is_weak(child);
            if is_first {
                first = Some(child);
            }
            if is_first || choice.is_some() {
                chosen.push(child);
            }
        }
        if takes_place {
            chosen.retain(|&child| self.node(child).choice().is_some());
        }
        chosen
    }

    /// Whether the author recommends any move here, found at the first.
    pub fn has_choice(&self, id: NodeId) -> bool {
        let recommends = |child| !self.is_weak(child) || self.node(child).choice().is_some();
        self.moves(id).any(recommends)
    }

    /// Whether a comment asks a question here that has an answer; one without hides nothing.
    pub fn asks(&self, id: NodeId) -> bool {
        self.node(id).ask().is_some() && self.has_choice(id)
    }

    /// For each node the last one before it, on the way from the start, that is wanted.
    pub fn last_before(&self, wanted: impl Fn(NodeId) -> bool) -> Vec<Option<NodeId>> {
        let mut last = vec![None; self.nodes.len()];
        // The same for the nodes that follow each. A node comes after its parent in the list.
        let mut after = last.clone();
        for id in self.ids() {
            let before = self.node(id).parent;
            let found = before.and_then(|before| after[before as usize]);
            last[id as usize] = found;
            after[id as usize] = if wanted(id) { Some(id) } else { found };
        }
        last
    }

    /// The next nodes that a move leads to, and not a pass, in the order of the text.
    pub fn moves(&self, id: NodeId) -> impl Iterator<Item = NodeId> {
        let children = self.node(id).children.iter().copied();
        children.filter(|&child| self.node(child).played.is_some())
    }

    /// Whether the move that leads here is marked `?`, `??` or `?!`.
    pub fn is_weak(&self, id: NodeId) -> bool {
        self.node(id).nags.iter().any(|&glyph| nag::is_weak(glyph))
    }

    /// The move that leads to a node with its number, as people name it: `5...exd5`.
    pub fn numbered(&self, id: NodeId) -> String {
        let node = self.node(id);
        let Some(before) = node.parent.map(|parent| &self.node(parent).position) else {
            return "start".to_owned();
        };
        format!("{}{}{}", before.fullmoves(), dots(before.turn()), node.san)
    }

    /// The moves from the start to a node, in English SAN.
    pub fn run(&self, id: NodeId) -> Vec<String> {
        let path = self.path(id);
        let moves = path.iter().skip(1);
        moves.map(|&id| self.node(id).san.to_string()).listed()
    }

    /// The nodes from the start to this one, node 0 first.
    pub fn path(&self, id: NodeId) -> Vec<NodeId> {
        let mut path = vec![id];
        let mut at = self.node(id);
        while let Some(parent) = at.parent {
            path.push(parent);
            at = self.node(parent);
        }
        path.reverse();
        path
    }

    /// The nodes of the lesson in the order of the text.
    pub fn ids(&self) -> impl DoubleEndedIterator<Item = NodeId> + use<> {
        0..self.nodes.len() as NodeId
    }
}
