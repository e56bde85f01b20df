//! Recall: the reader takes one side and walks a part of a lesson from memory; the page plays the
//! other side, so that every line is met.

use super::schedule::{Outcome, Progress};
use super::scope::{Scope, firsts};
use super::verdict::{Verdict, verdict};
use crate::lesson::{Attempt, Lesson, LineId, NodeId};
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

/// What was recalled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    /// How many walks have begun.
    pub walks: u32,
    /// Positions of the part at which the reader is asked, each once.
    pub positions: u32,
    /// Those that were met.
    pub met: u32,
    /// Those that were recalled each time they were first asked.
    pub recalled: u32,
    /// Those that were missed at least once and are to come again, in the order of the text.
    pub again: Vec<NodeId>,
    /// All lines in the order of the text.
    pub lines: Vec<Held>,
}

/// How well a line is remembered. A position belongs to the line that it is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// The line; its label is the lesson's.
    pub line: LineId,
    /// Its positions at which the reader is asked; none in a line that is not of the part.
    pub positions: u32,
    /// Those that were met.
    pub met: u32,
    /// Those that were recalled the first time.
    pub recalled: u32,
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

    /// The choice that is asked for; of several one whose lines are still to be walked. Its
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
        self.target = self.scope.target(lesson, self.root, self.seed);
        self.node = self.scope.start(lesson, self.target);
        self.scope.see(self.node);
        effects.push(Effect::Begun(self.node));
        self.go_on(lesson, effects);
    }

    /// Lets the page play until the reader is to move or the line ends.
    fn go_on(&mut self, lesson: &Lesson, effects: &mut Vec<Effect>) {
        while !self.scope.is_asked(lesson, self.node) {
            let Some(next) = self.next(lesson) else {
                return self.come_back(effects);
            };
            self.node = next;
            self.scope.see(next);
            effects.push(Effect::Replied(next));
        }
        self.stage = Stage::Asked;
    }

    /// The line has ended, or a missed position has been answered: the next missed one is asked, or
    /// the walk is over.
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
        if self.scope.ends().1 == 0 {
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
            None => self.tell(choice, outcome, effects),
        }
    }

    /// A choice was played. If all lines after it have been walked, the reader is told which choice
    /// is asked for, and so meets the others too.
    fn right(&mut self, lesson: &Lesson, node: NodeId, effects: &mut Vec<Effect>) {
        if let Some(wanted) = self.next(lesson).filter(|&wanted| wanted != node)
            && !self.is_back
        {
            let target = self.scope.target(lesson, node, self.seed);
            if !self.scope.is_open(target) {
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
        self.scope.see(node);
        self.go_on(lesson, effects);
    }

    /// A wrong move was played, or none: the choice is shown.
    fn tell(&mut self, choice: NodeId, outcome: Outcome, effects: &mut Vec<Effect>) {
        let at = self.node;
        self.note(outcome, effects);
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

    /// What was recalled so far.
    pub fn account(&self, lesson: &Lesson) -> Account {
        let mut account = Account {
            walks: self.walks,
            positions: 0,
            met: 0,
            recalled: 0,
            again: Vec::new(),
            lines: Vec::new(),
        };
        for line in 0..lesson.lines.len() as LineId {
            account.lines.push(Held {
                line,
                positions: 0,
                met: 0,
                recalled: 0,
            });
        }
        // The answer at each node, and the worst answer for each position. All four lists have an
        // element for every node, and the lines one for every line. In bytes: 0 for no answer, and
        // 4 if the position has been counted.
        const RECALLED: u8 = Outcome::Recalled as u8 + 1;
        const MISSED: u8 = Outcome::Missed as u8 + 1;
        let firsts = firsts(lesson);
        let mut outcomes = vec![0; firsts.len()];
        let mut worst = vec![0; firsts.len()];
        for &(id, outcome) in &self.answered {
            let outcome = outcome as u8 + 1;
            outcomes[id as usize] = outcome;
            let worst = &mut worst[firsts[id as usize] as usize];
            *worst = outcome.max(*worst);
        }
        for id in self.scope.asked(lesson) {
            let held = &mut account.lines[lesson.node(id).line as usize];
            let outcome = outcomes[id as usize];
            held.positions += 1;
            held.met += u32::from(outcome > 0);
            held.recalled += u32::from(outcome == RECALLED);
            let worst = core::mem::replace(&mut worst[firsts[id as usize] as usize], 4);
            if worst == 4 {
                continue;
            }
            account.positions += 1;
            account.met += u32::from(worst > 0);
            account.recalled += u32::from(worst == RECALLED);
            if worst == MISSED {
                account.again.push(id);
            }
        }
        account
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
        (Intent::On, Stage::Told) if state.is_back => state.come_back(&mut effects),
        (Intent::On, Stage::Told) => {
            state.scope.see(state.node);
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
