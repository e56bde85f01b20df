//! Recall: the reader takes one side and walks a part of a lesson from memory; the page plays the
//! other side, so that every line is met.

use super::schedule::{Outcome, Progress};
use super::scope::Scope;
use super::verdict::{Verdict, verdict};
use crate::lesson::{Attempt, Lesson, NodeId};
use shakmaty::{Chess, Color};

/// What the recall waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// A walk is over, or none has begun: [`Intent::On`] begins one.
    Between,
    /// The reader's move at [`Recall::node`].
    Asked,
    /// The choice is on the board for the reader to read: [`Intent::On`] goes on.
    Told,
    /// The line has ended and is on the board, and something on it was missed: [`Intent::On`] goes
    /// back to that.
    Ends,
    /// Nothing: every line has been met, or the reader has stopped.
    Over,
}

/// A recall and how far the reader is with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recall {
    /// The node after which everything is recalled.
    pub root: NodeId,
    /// The reader's side.
    pub side: Color,
    /// The node on the board.
    pub node: NodeId,
    /// What the recall waits for.
    pub stage: Stage,
    /// How many walks have begun.
    pub walks: u32,
    /// Whether the walk has come to the end of its line, and what was missed comes back.
    pub is_back: bool,
    pub(super) scope: Scope,
    pub(super) seed: u32,
    /// The line end to which the walk leads.
    pub(super) target: NodeId,
    /// What was missed on this walk's line and comes back once: the position and the choice that
    /// was shown.
    pub(super) missed: Vec<(NodeId, NodeId)>,
    /// The first answer to each position, in the order asked.
    pub(super) answered: Vec<(NodeId, Outcome)>,
    /// Positions that were missed and recalled later: at the second try, or when they came back.
    pub(super) later: Vec<NodeId>,
    /// Whether the position on the board was tried in vain, so that the next try is the last.
    pub(super) has_slipped: bool,
}

/// What a reader can do in a recall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// A move at [`Recall::position`].
    Try(Attempt),
    /// Show the choice.
    Show,
    /// Go on: to the next move, or to the next walk.
    On,
    /// Stop.
    Stop,
}

/// What follows, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A walk begins with this node on the board: the root, and in later walks the node after the
    /// last move that need not be asked again.
    Begun(NodeId),
    /// A try has its verdict.
    Judged(Verdict),
    /// The reader's right move has led to this node.
    Played(NodeId),
    /// The page's move has led to this node.
    Replied(NodeId),
    /// The position was answered for the first time: for [`Progress::record`].
    Answered(NodeId, Outcome),
    /// The choice at a node is on the board, in place of the reader's try if there was one.
    Told {
        /// The node of the position.
        at: NodeId,
        /// The node of the choice.
        choice: NodeId,
    },
    /// A position that was missed is on the board again.
    Back(NodeId),
    /// The walk is over.
    Ended,
    /// The recall is over.
    Over,
}

impl Recall {
    /// The recall of what is after a node, before its first walk; the seed decides the order of
    /// lines that are otherwise equal. None if the side has no choice there.
    pub fn new(
        lesson: &Lesson,
        root: NodeId,
        side: Color,
        seed: u32,
        progress: &Progress,
        today: i32,
    ) -> Option<Recall> {
        let root = lesson.get(root).map(|_| root)?;
        let scope = Scope::new(lesson, root, side, progress, today);
        scope.asked(lesson).first()?;
        Some(Recall {
            root,
            side,
            node: root,
            stage: Stage::Between,
            walks: 0,
            is_back: false,
            scope,
            seed,
            target: root,
            missed: Vec::new(),
            answered: Vec::new(),
            later: Vec::new(),
            has_slipped: false,
        })
    }

    /// The position on the board.
    pub fn position<'a>(&self, lesson: &'a Lesson) -> &'a Chess {
        &lesson.node(self.node).position
    }

    /// How many lines end in the part, and how many of them are still to be walked.
    pub fn ends(&self) -> (usize, usize) {
        self.scope.ends()
    }

    /// The choice that is asked for; of several one whose lines are still to be walked. The others
    /// are right too. None while nothing is asked.
    pub fn wanted(&self, lesson: &Lesson) -> Option<NodeId> {
        match (self.stage, self.is_back) {
            (Stage::Asked, true) => self.missed.first().map(|&(_, choice)| choice),
            (Stage::Asked, false) => self.next(lesson),
            _ => None,
        }
    }

    /// The node after this one on the way to the target.
    fn next(&self, lesson: &Lesson) -> Option<NodeId> {
        let mut at = self.target;
        loop {
            match lesson.node(at).parent? {
                parent if parent == self.node => return Some(at),
                parent => at = parent,
            }
        }
    }

    /// Begins the next walk, after the last move of its line that was asked before. Lines of which
    /// all was asked are not walked; with no line left the recall is over.
    fn begin(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        self.is_back = false;
        loop {
            self.target = self.scope.target(lesson, self.root, self.seed);
            let way = self.scope.way(lesson, self.target);
            let Some(first) = way.iter().position(|&id| self.scope.is_new(lesson, id)) else {
                self.see(&way);
                if self.scope.is_done(lesson) {
                    self.stage = Stage::Over;
                    return effects.push(Effect::Over);
                }
                continue;
            };
            let asked = |&id: &NodeId| self.scope.is_asked(lesson, id);
            let before = way.iter().take(first).rposition(asked);
            let start = before.map_or(0, |before| before + 1); // `first` comes after it
            self.node = way.get(start).copied().unwrap_or(self.root);
            self.see(&way[..=start]); // within the way, which has a node after `before`
            break;
        }
        self.walks = self.walks.saturating_add(1);
        effects.push(Effect::Begun(self.node));
        self.go_on(lesson, effects);
    }

    fn see(&mut self, nodes: &[NodeId]) {
        for &id in nodes {
            self.scope.see(id);
        }
    }

    /// Lets the page play until the reader is to move or the line ends. It plays the reader's moves
    /// too where they were asked before; where that is all that is left, the line ends.
    fn go_on(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        self.has_slipped = false;
        let way = self.scope.way(lesson, self.target);
        let here = way.iter().position(|&id| id == self.node);
        let mut on = here.map_or(way.len(), |here| here + 1);
        while !self.scope.is_new(lesson, self.node) {
            let rest = way.get(on..).unwrap_or_default();
            let Some(&next) = rest.first() else {
                return self.end_line(lesson, effects);
            };
            let is_asked = self.scope.is_asked(lesson, self.node);
            if is_asked && !rest.iter().any(|&id| self.scope.is_new(lesson, id)) {
                self.see(rest);
                return self.end_line(lesson, effects);
            }
            on += 1;
            self.node = next;
            self.scope.see(next);
            effects.push(Effect::Replied(next));
        }
        self.stage = Stage::Asked;
    }

    /// The line has ended: it stays on the board where something on it was missed.
    fn end_line(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        match self.missed.is_empty() {
            true => self.come_back(lesson, effects),
            false => self.stage = Stage::Ends,
        }
    }

    /// The line has ended, or a missed position has been answered: the next missed one is asked, or
    /// the walk is over.
    fn come_back(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        self.is_back = true;
        if let Some(&(node, _)) = self.missed.first() {
            self.node = node;
            self.stage = Stage::Asked;
            effects.push(Effect::Back(node));
            return;
        }
        effects.push(Effect::Ended);
        self.stage = Stage::Between;
        if self.scope.is_done(lesson) {
            self.stage = Stage::Over;
            effects.push(Effect::Over);
        }
    }

    /// Notes how the position on the board was answered, where that is the first time, and whether
    /// it was recalled later.
    fn note(&mut self, lesson: &Lesson, outcome: Outcome, effects: &mut Vec<Effect>) {
        let at = self.node;
        if self.scope.is_new(lesson, at) {
            self.scope.answer(at);
            self.answered.push((at, outcome));
            effects.push(Effect::Answered(at, outcome));
        } else if outcome == Outcome::Recalled && (self.is_back || self.has_slipped) {
            self.later.push(at);
        }
    }

    /// A try has its verdict; this choice was asked for.
    fn judged(
        &mut self,
        lesson: &Lesson,
        said: Verdict,
        choice: NodeId,
        effects: &mut Vec<Effect>,
    ) {
        let (right, outcome) = match said {
            Verdict::Right { node } => (node, Outcome::Recalled),
            Verdict::Fair { .. } => (None, Outcome::Fair),
            _ => (None, Outcome::Missed),
        };
        let is_illegal = matches!(said, Verdict::Illegal { .. });
        effects.push(Effect::Judged(said));
        match right {
            // A move that is written twice leads to the node that is asked for.
            Some(node) if lesson.node(node).played == lesson.node(choice).played => {
                self.right(lesson, choice, effects);
            }
            Some(node) => self.right(lesson, node, effects),
            None if is_illegal => {}
            None if outcome == Outcome::Missed && !self.is_back && !self.has_slipped => {
                self.note(lesson, outcome, effects);
                self.has_slipped = true;
            }
            None => self.tell(lesson, choice, outcome, effects),
        }
    }

    /// A choice was played: the walk leads to a line after it. The lines after the others come in
    /// later walks.
    fn right(&mut self, lesson: &Lesson, node: NodeId, effects: &mut Vec<Effect>) {
        if !self.is_back && self.next(lesson) != Some(node) {
            self.target = self.scope.target(lesson, node, self.seed);
        }
        self.note(lesson, Outcome::Recalled, effects);
        effects.push(Effect::Played(node));
        if self.is_back {
            self.node = node;
            self.missed.remove(0); // `wanted` was its first
            return self.come_back(lesson, effects);
        }
        self.node = node;
        self.scope.see(node);
        self.go_on(lesson, effects);
    }

    /// A wrong move was played, or none: the choice is shown.
    fn tell(
        &mut self,
        lesson: &Lesson,
        choice: NodeId,
        outcome: Outcome,
        effects: &mut Vec<Effect>,
    ) {
        let at = self.node;
        self.note(lesson, outcome, effects);
        if self.is_back {
            // Only once: otherwise the walk of a reader who does not know it would never end.
            self.missed.remove(0); // `wanted` was its first
        } else if outcome == Outcome::Missed {
            self.missed.push((at, choice));
        }
        self.node = choice;
        self.stage = Stage::Told;
        effects.push(Effect::Told { at, choice });
    }
}

/// What follows from an intent; nothing where it changes nothing. An illegal move, or a word that
/// is no move, does not count as forgotten: the position stays.
pub fn update(lesson: &Lesson, state: &mut Recall, intent: Intent) -> Vec<Effect> {
    let mut effects = Vec::new();
    match (intent, state.stage) {
        (_, Stage::Over) => {}
        (Intent::Stop, _) => {
            state.stage = Stage::Over;
            effects.push(Effect::Over);
        }
        (Intent::On, Stage::Between) => state.begin(lesson, &mut effects),
        (Intent::On, Stage::Ends) => state.come_back(lesson, &mut effects),
        (Intent::On, Stage::Told) if state.is_back => state.come_back(lesson, &mut effects),
        (Intent::On, Stage::Told) => {
            state.scope.see(state.node);
            state.go_on(lesson, &mut effects);
        }
        (Intent::Show, Stage::Asked) => {
            if let Some(choice) = state.wanted(lesson) {
                state.tell(lesson, choice, Outcome::Missed, &mut effects);
            }
        }
        (Intent::Try(attempt), Stage::Asked) => {
            let said = verdict(lesson, state.node, &[], &attempt);
            if let (Some(said), Some(choice)) = (said, state.wanted(lesson)) {
                state.judged(lesson, said, choice, &mut effects);
            }
        }
        (Intent::On | Intent::Show | Intent::Try(_), _) => {}
    }
    effects
}
