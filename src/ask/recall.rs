//! Recall: the reader takes one side and walks a part of a lesson from memory; the page plays the
//! other side, so that every line is met.

use super::schedule::{Outcome, Progress};
use super::scope::Scope;
use super::verdict::{Verdict, verdict};
use crate::lesson::{Attempt, Lesson, NodeId};
use shakmaty::{Chess, Color};

/// What is awaited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// A walk is over, or none has begun: [`Intent::On`] begins one.
    Between,
    /// The reader's move at [`Recall::node`].
    Asked,
    /// The choice is on the board and is read: [`Intent::On`] goes on.
    Told,
    /// Nothing: every line has been met, or the reader has stopped.
    Over,
}

/// A recall and how far the reader is with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recall {
    /// The node behind which everything is recalled.
    pub root: NodeId,
    /// The reader's side.
    pub side: Color,
    /// The node on the board.
    pub node: NodeId,
    /// What is awaited.
    pub stage: Stage,
    /// How many walks have begun.
    pub walks: u32,
    /// Whether the walk has come to the end of its line, and what was missed comes back.
    pub is_back: bool,
    pub(super) part: Scope,
    seed: u32,
    /// The line end to which the walk leads.
    target: NodeId,
    /// What was missed on this walk's line and comes back once: the position and the choice that
    /// was told.
    missed: Vec<(NodeId, NodeId)>,
    /// How each position was answered first, in the order asked.
    pub(super) answered: Vec<(NodeId, Outcome)>,
}

/// What a reader can do in a recall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// A move at [`Recall::position`].
    Try(Attempt),
    /// The choice, please.
    Show,
    /// On to what comes next: the next move, the next walk.
    On,
    /// No more.
    Stop,
}

/// What follows, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A walk begins with this node on the board: the root, and in later walks the node where they
    /// leave what has been walked.
    Begun(NodeId),
    /// A try has its verdict.
    Judged(Verdict),
    /// The reader's right move has led to this node.
    Played(NodeId),
    /// The page's move has led to this node.
    Replied(NodeId),
    /// The position was answered for the first time: for [`Progress::record`].
    Answered(NodeId, Outcome),
    /// The choice at a node is on the board, in place of what the reader tried or of nothing.
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
    /// The recall of what stands behind a node, before its first walk; by the seed it meets lines
    /// that are alike in another order. None where the side has no choice there.
    pub fn new(
        lesson: &Lesson,
        root: NodeId,
        side: Color,
        seed: u32,
        progress: &Progress,
        today: i32,
    ) -> Option<Recall> {
        let root = lesson.get(root).map(|_| root)?;
        let part = Scope::new(lesson, root, side, progress, today);
        part.asked(lesson).first()?;
        Some(Recall {
            root,
            side,
            node: root,
            stage: Stage::Between,
            walks: 0,
            is_back: false,
            part,
            seed,
            target: root,
            missed: Vec::new(),
            answered: Vec::new(),
        })
    }

    /// How far the reader is, in numbers; [`Recall::resume`] reads them.
    pub fn carry(&self, numbers: &mut Vec<u32>) {
        let stage = self.stage as u32;
        let is_back = u32::from(self.is_back);
        numbers.extend([
            stage,
            is_back,
            self.walks,
            self.node,
            self.target,
            self.seed,
        ]);
        for &(node, choice) in &self.missed {
            numbers.extend([node, choice]);
        }
        numbers.push(u32::MAX); // no node
        for &(node, outcome) in &self.answered {
            numbers.extend([node, outcome as u32]);
        }
        numbers.push(u32::MAX);
        numbers.extend(self.part.signs().iter().map(|&sign| u32::from(sign)));
    }

    /// A recall that has not begun goes on where the same one was.
    pub fn resume(&mut self, lesson: &Lesson, next: &mut dyn FnMut() -> u32) {
        let stage = next();
        for known in [Stage::Asked, Stage::Told, Stage::Over] {
            if known as u32 == stage {
                self.stage = known;
            }
        }
        self.is_back = next() != 0;
        self.walks = next();
        for place in [&mut self.node, &mut self.target] {
            let node = next();
            *place = lesson.get(node).map_or(*place, |_| node);
        }
        self.seed = next();
        for is_missed in [true, false] {
            loop {
                let node = next();
                if lesson.get(node).is_none() {
                    break;
                }
                let what = next();
                match (is_missed, Outcome::of(what)) {
                    (true, _) if lesson.get(what).is_some() => self.missed.push((node, what)),
                    (false, Some(outcome)) => self.answered.push((node, outcome)),
                    _ => {}
                }
            }
        }
        for sign in self.part.signs_mut() {
            *sign = next() as u8;
        }
    }

    /// The position on the board.
    pub fn position<'a>(&self, lesson: &'a Lesson) -> &'a Chess {
        &lesson.node(self.node).position
    }

    /// How many lines end in the part, and how many of them are still to be walked.
    pub fn ends(&self) -> (usize, usize) {
        self.part.ends()
    }

    /// The choice that is asked for, of several that one whose lines are still to be walked: its
    /// condition can be the prompt. None while nothing is asked.
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

    fn begin(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        self.walks = self.walks.saturating_add(1);
        self.is_back = false;
        self.target = self.part.target(lesson, self.root, self.seed);
        self.node = self.part.start(lesson, self.target);
        self.part.see(self.node);
        effects.push(Effect::Begun(self.node));
        self.go_on(lesson, effects);
    }

    /// Lets the page play until the reader is to move or the line ends.
    fn go_on(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        while !self.part.is_asked(lesson, self.node) {
            let Some(next) = self.next(lesson) else {
                return self.come_back(effects);
            };
            self.node = next;
            self.part.see(next);
            effects.push(Effect::Replied(next));
        }
        self.stage = Stage::Asked;
    }

    /// The line has ended, or something that came back is done with: the next that was missed is
    /// asked, or the walk is over.
    fn come_back(&mut self, effects: &mut Vec<Effect>) {
        self.is_back = true;
        if let Some(&(node, _)) = self.missed.first() {
            self.node = node;
            self.stage = Stage::Asked;
            effects.push(Effect::Back(node));
            return;
        }
        effects.push(Effect::Ended);
        self.stage = Stage::Between;
        if self.part.ends().1 == 0 {
            self.stage = Stage::Over;
            effects.push(Effect::Over);
        }
    }

    /// Notes how the position on the board was answered, where that is the first time.
    fn note(&mut self, outcome: Outcome, effects: &mut Vec<Effect>) {
        let at = self.node;
        if !self.is_back && self.answered.iter().all(|&(known, _)| known != at) {
            self.answered.push((at, outcome));
            effects.push(Effect::Answered(at, outcome));
        }
    }

    /// A try has its verdict; this choice was wanted.
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
            // A move that is written twice leads where it is wanted.
            Some(node) if lesson.node(node).played == lesson.node(choice).played => {
                self.right(lesson, choice, effects);
            }
            Some(node) => self.right(lesson, node, effects),
            None if is_illegal => {}
            None => self.tell(choice, outcome, effects),
        }
    }

    /// A choice was played. Where all behind it has been walked, the one that is wanted is told, so
    /// that whoever keeps to one choice meets the others too.
    fn right(&mut self, lesson: &Lesson, node: NodeId, effects: &mut Vec<Effect>) {
        if let Some(wanted) = self.next(lesson).filter(|&wanted| wanted != node)
            && !self.is_back
        {
            let target = self.part.target(lesson, node, self.seed);
            if !self.part.is_open(target) {
                return self.tell(wanted, Outcome::Recalled, effects);
            }
            self.target = target;
        }
        self.note(Outcome::Recalled, effects);
        effects.push(Effect::Played(node));
        if self.is_back {
            self.node = node;
            self.missed.remove(0); // `wanted` was its first
            return self.come_back(effects);
        }
        self.node = node;
        self.part.see(node);
        self.go_on(lesson, effects);
    }

    /// Something else than is wanted was played, or nothing: the choice is told.
    fn tell(&mut self, choice: NodeId, outcome: Outcome, effects: &mut Vec<Effect>) {
        let at = self.node;
        self.note(outcome, effects);
        if self.is_back {
            // Once only, or the walk of a reader who does not know it would never end.
            self.missed.remove(0); // `wanted` was its first
        } else if outcome == Outcome::Missed {
            self.missed.push((at, choice));
        }
        self.node = choice;
        self.stage = Stage::Told;
        effects.push(Effect::Told { at, choice });
    }
}

/// What follows from an intent; nothing where it changes nothing. What is no move, or not legal,
/// is no slip of memory: the position stays.
pub fn update(lesson: &Lesson, state: &mut Recall, intent: Intent) -> Vec<Effect> {
    let mut effects = Vec::new();
    match (intent, state.stage) {
        (_, Stage::Over) => {}
        (Intent::Stop, _) => {
            state.stage = Stage::Over;
            effects.push(Effect::Over);
        }
        (Intent::On, Stage::Between) => state.begin(lesson, &mut effects),
        (Intent::On, Stage::Told) if state.is_back => state.come_back(&mut effects),
        (Intent::On, Stage::Told) => {
            state.part.see(state.node);
            state.go_on(lesson, &mut effects);
        }
        (Intent::Show, Stage::Asked) => {
            if let Some(choice) = state.wanted(lesson) {
                state.tell(choice, Outcome::Missed, &mut effects);
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
