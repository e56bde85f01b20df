//! One question from open to settled: tries, hints, the page's replies, and showing the answer.

use super::order::{Line, fitting, replies};
use super::question::Question;
use super::verdict::{Answer, Verdict, answers, verdict};
use crate::lesson::rules::{key, landing, origin};
use crate::lesson::{Attempt, Idea, Lesson, NodeId, Tried, find_position, idea, replay};
use crate::notation::comment::passage::Passage;
use shakmaty::{Chess, Square};

/// How a question was settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// By the reader's moves.
    Answered,
    /// The reader asked to see the answer.
    Shown,
}

/// Help for the next move, in the order in which it is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hint {
    /// The author's words, where there are any; with the first move only.
    Words(Passage),
    /// What the move does, where that can be said.
    Idea(Idea),
    /// Where the piece that moves is.
    Piece(Square),
    /// Where it goes.
    Square(Square),
    /// The move, in English SAN.
    Move(String),
}

impl How {
    /// Its word in events.
    pub fn word(self) -> &'static str {
        match self {
            How::Answered => "answered",
            How::Shown => "shown",
        }
    }
}

/// A question and how far a reader is with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenQuestion {
    /// How it was settled; none while it is open.
    pub settled: Option<How>,
    /// Legal moves tried, right ones too. An illegal move does not count: it is a slip of the hand.
    pub tries: u32,
    /// Hints given, all moves together.
    pub hints: u32,
    /// The last hint for the move to be found now.
    pub hint: Option<Hint>,
    /// The moves after the question's position, the reader's and the page's in turn.
    pub way: Vec<Tried>,
    /// The node on the board; none if the moves were found in another order than the lesson's
    /// or are accepted without being in it.
    pub node: Option<NodeId>,
    /// How often it was begun again.
    pub rounds: u32,
    seed: u32,
    /// The rest of the number that chooses the replies.
    turn: u32,
}

/// What a reader can do with a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// A move at [`OpenQuestion::position`]; see `lesson::attempt` and `lesson::attempt_typed`.
    Try(Attempt),
    /// A hint, a stronger one each time.
    Hint,
    /// The rest of the answer.
    Show,
    /// Back to the start, from any state.
    Again,
}

/// What follows, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A try has its verdict. A right move is on the board, any other is taken back.
    Judged(Verdict),
    /// The page has replied: the last move of [`OpenQuestion::way`].
    Replied,
    /// [`OpenQuestion::hint`] says more.
    Hinted,
    /// [`OpenQuestion::settled`] says how.
    Settled,
    /// The question is open again, and its position on the board.
    Opened,
}

impl OpenQuestion {
    /// The question as it is first seen. The seed chooses the page's first replies; each round of
    /// the same question takes the next ones, until all have been played.
    pub fn new(question: &Question, seed: u32) -> OpenQuestion {
        OpenQuestion {
            settled: None,
            tries: 0,
            hints: 0,
            hint: None,
            way: Vec::new(),
            node: Some(question.node),
            rounds: 0,
            seed,
            turn: seed,
        }
    }

    /// The position on the board.
    pub fn position<'a>(&'a self, lesson: &'a Lesson, question: &Question) -> &'a Chess {
        match self.way.last() {
            Some(tried) => &tried.position,
            None => &lesson.node(question.node).position,
        }
    }

    /// How many moves the reader has found, or was shown.
    pub fn found(&self) -> usize {
        self.way.len().div_ceil(2)
    }

    /// The moves that are right now, as far as the lesson holds the position; none once settled.
    pub fn answers<'a>(&self, lesson: &'a Lesson, question: &'a Question) -> Vec<Answer<'a>> {
        match self.node.filter(|_| self.settled.is_none()) {
            Some(node) => answers(lesson, node, self.accepted(question)),
            None => Vec::new(),
        }
    }

    /// The moves that are right in place of the choices: those of the question are its first move.
    fn accepted<'a>(&self, question: &'a Question) -> &'a [Tried] {
        match self.way.is_empty() {
            true => &question.accepted,
            false => &[],
        }
    }

    /// The move that is shown and hinted at, and the node that it leads to.
    fn wanted(&self, lesson: &Lesson, question: &Question) -> Option<(Tried, Option<NodeId>)> {
        let (played, node) = match self.node {
            Some(_) => {
                let answers = self.answers(lesson, question);
                // A move that the lesson holds has comments and replies to show.
                let held = answers.iter().find(|answer| answer.node.is_some());
                let answer = held.or(answers.first())?;
                (answer.played, answer.node)
            }
            None => {
                let lines = fitting(lesson, question, &self.way);
                (*lines.first()?.left.first()?, None)
            }
        };
        Some((replay(self.position(lesson, question), played)?, node))
    }

    /// Puts a right move on the board, and settles or lets the page reply.
    fn put(
        &mut self,
        lesson: &Lesson,
        question: &Question,
        (tried, node): (Tried, Option<NodeId>),
        how: How,
    ) {
        (self.hint, self.node) = (None, node);
        self.way.push(tried);
        let mut lines = Vec::new();
        if node.is_none() {
            lines = fitting(lesson, question, &self.way);
            self.join(lesson, &lines);
        }
        let mut next = Vec::new();
        if self.found() < question.moves as usize {
            match self.node {
                Some(node) => next = replies(lesson, node),
                None => {
                    for line in &lines {
                        // Lines that continue in the same way count as one reply.
                        let reply = line.nodes.get(self.way.len()).copied();
                        next.extend(reply.filter(|reply| !next.contains(reply)));
                    }
                }
            }
        }
        let reply = self.choose(&next).and_then(|reply| {
            let played = lesson.node(reply).played?;
            Some((reply, replay(self.position(lesson, question), played)?))
        });
        let Some((reply, tried)) = reply else {
            self.settled = Some(how);
            return;
        };
        self.way.push(tried);
        match self.node {
            Some(_) => self.node = Some(reply),
            None => self.join(lesson, &lines),
        }
    }

    /// Sets the node if moves in another order have reached the lesson's own position.
    fn join(&mut self, lesson: &Lesson, lines: &[Line]) {
        let Some(tried) = self.way.last() else {
            return;
        };
        let at = key(&tried.position);
        for line in lines {
            // A line that fits is as long as the way.
            if let Some(&id) = line.nodes.get(self.way.len() - 1)
                && key(&lesson.node(id).position) == at
            {
                self.node = Some(id);
            }
        }
    }

    /// One of these, chosen by the round: successive rounds play all combinations of replies.
    fn choose(&mut self, from: &[NodeId]) -> Option<NodeId> {
        let count = u32::try_from(from.len()).ok().filter(|&count| count > 0)?;
        let at = self.turn % count;
        self.turn /= count;
        from.get(at as usize).copied()
    }
}

/// What follows from an intent; nothing if it changes nothing: a settled question takes no move,
/// and a word that is no move is no try.
pub fn update(
    lesson: &Lesson,
    question: &Question,
    state: &mut OpenQuestion,
    intent: Intent,
) -> Vec<Effect> {
    let mut effects = Vec::new();
    match intent {
        Intent::Again => {
            let (seed, rounds) = (state.seed, state.rounds.wrapping_add(1));
            *state = OpenQuestion::new(question, seed);
            (state.rounds, state.turn) = (rounds, seed.wrapping_add(rounds));
            effects.push(Effect::Opened);
        }
        _ if state.settled.is_some() => {}
        Intent::Try(attempt) => attempted(lesson, question, state, attempt, &mut effects),
        Intent::Hint => hint(lesson, question, state, &mut effects),
        Intent::Show => {
            // Each turn plays a move of the answer, which has at most as many as are asked for.
            while state.settled.is_none() {
                match state.wanted(lesson, question) {
                    Some(wanted) => state.put(lesson, question, wanted, How::Shown),
                    None => state.settled = Some(How::Shown),
                }
            }
            effects.push(Effect::Settled);
        }
    }
    effects
}

fn attempted(
    lesson: &Lesson,
    question: &Question,
    state: &mut OpenQuestion,
    attempt: Attempt,
    effects: &mut Vec<Effect>,
) {
    let said = match state.node {
        Some(node) => verdict(lesson, node, state.accepted(question), &attempt),
        None => unheld(lesson, &attempt),
    };
    let Some(mut said) = said else {
        return;
    };
    let Attempt::Played(tried) = attempt else {
        return effects.push(Effect::Judged(said));
    };
    state.tries = state.tries.saturating_add(1);
    if question.moves > 1 && matches!(said, Verdict::Fair { .. } | Verdict::Other { .. }) {
        state.way.push(tried.clone());
        if !fitting(lesson, question, &state.way).is_empty() {
            said = Verdict::Right { node: None };
        }
        state.way.pop();
    }
    let right = match said {
        Verdict::Right { node } => Some(node),
        _ => None,
    };
    effects.push(Effect::Judged(said));
    if let Some(node) = right {
        state.put(lesson, question, (tried, node), How::Answered);
        effects.push(match state.settled {
            Some(_) => Effect::Settled,
            None => Effect::Replied,
        });
    }
}

/// The verdict on a try at a position that the lesson does not hold.
fn unheld(lesson: &Lesson, attempt: &Attempt) -> Option<Verdict> {
    match attempt {
        Attempt::Refused(reason) => Some(Verdict::Illegal {
            reason: reason.clone(),
        }),
        Attempt::Played(tried) if tried.played.is_some() => Some(Verdict::Other {
            stands: find_position(lesson, &tried.position),
        }),
        _ => None,
    }
}

fn hint(lesson: &Lesson, question: &Question, state: &mut OpenQuestion, effects: &mut Vec<Effect>) {
    let Some((tried, _)) = state.wanted(lesson, question) else {
        return;
    };
    let Some(played) = tried.played else {
        return;
    };
    let hint = match &state.hint {
        None if state.way.is_empty() && !question.hint.is_empty() => {
            Hint::Words(question.hint.clone())
        }
        None | Some(Hint::Words(_)) => match idea(state.position(lesson, question), played) {
            Some(idea) => Hint::Idea(idea),
            None => Hint::Piece(origin(played)),
        },
        Some(Hint::Idea(_)) => Hint::Piece(origin(played)),
        Some(Hint::Piece(_)) => Hint::Square(landing(played)),
        Some(Hint::Square(_)) => Hint::Move(tried.san),
        Some(Hint::Move(_)) => return, // there is no more to say
    };
    state.hint = Some(hint);
    state.hints = state.hints.saturating_add(1);
    effects.push(Effect::Hinted);
}
