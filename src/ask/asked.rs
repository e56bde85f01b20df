//! One question from open to settled: tries, hints, the page's replies, the answer shown.

use super::order::{fitting, next, replies};
use super::question::Question;
use super::verdict::{Answer, Verdict, answers, verdict};
use crate::lesson::rules::{key, landing, origin};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, find_position, replay};
use shakmaty::{Chess, Square};

/// How a question was settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// By the reader's moves.
    Answered,
    /// The reader asked to be shown.
    Shown,
}

/// Help for the next move, in the order in which it is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hint {
    /// The author's words, where there are any; with the first move only.
    Words(String),
    /// Where the piece stands that moves.
    Piece(Square),
    /// Where it goes.
    Square(Square),
    /// The move, in English SAN.
    Move(String),
}

/// A question and how far a reader is with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// How it was settled; none while it is open.
    pub settled: Option<How>,
    /// Legal moves tried, right ones too. What is not legal is no try: a hand slips.
    pub tries: u32,
    /// Hints given, all moves together.
    pub hints: u32,
    /// The last hint for the move to be found now.
    pub hint: Option<Hint>,
    /// What was said of the last try, while the board is as it was then.
    pub last: Option<Verdict>,
    /// The moves behind the question's position, the reader's and the page's in turn.
    pub way: Vec<Tried>,
    /// The node on the board; none where the moves were found in another order than the lesson's
    /// or are accepted without being in it.
    pub node: Option<NodeId>,
    /// How often it was begun anew.
    pub rounds: u32,
    seed: u32,
    /// What is left of the number that says which reply is played.
    turn: u32,
}

/// What a reader can do with a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// A move at [`Asked::position`]; see `lesson::attempt` and `lesson::attempt_typed`.
    Try(Attempt),
    /// Help, a little more each time.
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
    /// The page has replied.
    Replied(Tried),
    /// A hint is given.
    Hinted(Hint),
    /// The question is settled.
    Settled(How),
    /// The question is open again, and its position on the board.
    Opened,
}

impl Asked {
    /// The question as it is first seen. By the seed the page's replies begin elsewhere; each
    /// round of the same question takes the next ones, until all have been played.
    pub fn new(question: &Question, seed: u32) -> Asked {
        Asked {
            settled: None,
            tries: 0,
            hints: 0,
            hint: None,
            last: None,
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
    pub fn answers(&self, lesson: &Lesson, question: &Question) -> Vec<Answer> {
        match (self.settled, self.node) {
            (None, Some(node)) if self.way.is_empty() => answers(lesson, node, &question.accepted),
            (None, Some(node)) => answers(lesson, node, &[]),
            _ => Vec::new(),
        }
    }

    /// The move that is shown and hinted at, and the node that it leads to.
    fn wanted(&self, lesson: &Lesson, question: &Question) -> Option<(Tried, Option<NodeId>)> {
        match self.node {
            Some(_) => {
                let mut answers = self.answers(lesson, question);
                // One that the lesson holds has more to show.
                let held = answers.iter().position(|it| it.node.is_some());
                let answer =
                    (!answers.is_empty()).then(|| answers.swap_remove(held.unwrap_or(0)))?;
                let tried = replay(self.position(lesson, question), answer.played)?;
                Some((tried, answer.node))
            }
            None => Some((next(lesson, question, &self.way)?, None)),
        }
    }

    /// Puts a right move on the board, and settles or lets the page reply.
    fn put(
        &mut self,
        lesson: &Lesson,
        question: &Question,
        (tried, node): (Tried, Option<NodeId>),
        how: How,
    ) -> Option<Tried> {
        (self.hint, self.last, self.node) = (None, None, node);
        self.way.push(tried);
        let lines = match node {
            Some(_) => Vec::new(),
            None => fitting(lesson, question, &self.way),
        };
        self.join(lesson, &lines);
        let next = match self.node {
            _ if self.found() >= question.moves as usize => Vec::new(),
            Some(node) => replies(lesson, node),
            None => {
                let next = lines.iter().filter_map(|line| line.get(self.way.len()));
                let mut nodes: Vec<NodeId> = Vec::new();
                for &node in next {
                    let played = |id| lesson.node(id).played;
                    if nodes.iter().all(|&known| played(known) != played(node)) {
                        nodes.push(node);
                    }
                }
                nodes
            }
        };
        let reply = self.choose(&next).and_then(|reply| {
            let played = lesson.node(reply).played?;
            Some((reply, replay(self.position(lesson, question), played)?))
        });
        let Some((reply, tried)) = reply else {
            self.settled = Some(how);
            return None;
        };
        self.way.push(tried.clone());
        match self.node {
            Some(_) => self.node = Some(reply),
            None => self.join(lesson, &lines),
        }
        Some(tried)
    }

    /// Where moves in another order have come to the lesson's own position, that is the node.
    fn join(&mut self, lesson: &Lesson, lines: &[Vec<NodeId>]) {
        let Some(tried) = self.way.last().filter(|_| self.node.is_none()) else {
            return;
        };
        let at = key(&tried.position);
        let mut nodes = lines.iter().filter_map(|line| line.get(self.way.len() - 1));
        let node = nodes.find(|&&id| key(&lesson.node(id).position) == at);
        self.node = node.copied();
    }

    /// One of these, by the turn: rounds after each other take all ways through all replies.
    fn choose(&mut self, from: &[NodeId]) -> Option<NodeId> {
        let count = u32::try_from(from.len()).ok().filter(|&count| count > 0)?;
        let at = self.turn % count;
        self.turn /= count;
        from.get(at as usize).copied()
    }
}

/// The state after an intent, and what follows from it; nothing where it changes nothing: a
/// settled question takes no move, and what is no move is no try.
pub fn update(
    lesson: &Lesson,
    question: &Question,
    state: &Asked,
    intent: Intent,
) -> (Asked, Vec<Effect>) {
    let mut after = state.clone();
    let effects = match intent {
        Intent::Again => {
            let rounds = state.rounds.wrapping_add(1);
            let turn = state.seed.wrapping_add(rounds);
            after = Asked {
                rounds,
                turn,
                ..Asked::new(question, state.seed)
            };
            vec![Effect::Opened]
        }
        _ if state.settled.is_some() => Vec::new(),
        Intent::Try(attempt) => attempted(lesson, question, &mut after, &attempt),
        Intent::Hint => hint(lesson, question, &mut after),
        Intent::Show => {
            // Each turn plays a move of the answer, which has at most as many as are asked for.
            while after.settled.is_none() {
                let Some(wanted) = after.wanted(lesson, question) else {
                    after.settled = Some(How::Shown);
                    break;
                };
                after.put(lesson, question, wanted, How::Shown);
            }
            vec![Effect::Settled(How::Shown)]
        }
    };
    (after, effects)
}

fn attempted(
    lesson: &Lesson,
    question: &Question,
    after: &mut Asked,
    attempt: &Attempt,
) -> Vec<Effect> {
    let accepted: &[Tried] = match after.way.is_empty() {
        true => &question.accepted,
        false => &[],
    };
    let said = match after.node {
        Some(node) => verdict(lesson, node, accepted, attempt),
        None => unheld(lesson, attempt),
    };
    let Some(mut said) = said else {
        return Vec::new();
    };
    let mut effects = Vec::new();
    if let Attempt::Played(tried) = attempt {
        after.tries = after.tries.saturating_add(1);
        if question.moves > 1 && matches!(said, Verdict::Fair { .. } | Verdict::Other { .. }) {
            let mut way = after.way.clone();
            way.push(tried.clone());
            if !fitting(lesson, question, &way).is_empty() {
                said = Verdict::Right { node: None };
            }
        }
        if let Verdict::Right { node } = said {
            effects.push(Effect::Judged(said));
            let reply = after.put(lesson, question, (tried.clone(), node), How::Answered);
            effects.extend(reply.map(Effect::Replied));
            effects.extend(after.settled.map(Effect::Settled));
            return effects;
        }
    }
    after.last = Some(said.clone());
    effects.push(Effect::Judged(said));
    effects
}

/// What is said of a try at a position that the lesson does not hold.
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

fn hint(lesson: &Lesson, question: &Question, after: &mut Asked) -> Vec<Effect> {
    let Some((tried, _)) = after.wanted(lesson, question) else {
        return Vec::new();
    };
    let Some(played) = tried.played else {
        return Vec::new();
    };
    let hint = match &after.hint {
        None if after.way.is_empty() && !question.hint.is_empty() => {
            Hint::Words(question.hint.clone())
        }
        None | Some(Hint::Words(_)) => Hint::Piece(origin(played)),
        Some(Hint::Piece(_)) => Hint::Square(landing(played)),
        Some(Hint::Square(_)) => Hint::Move(tried.san),
        Some(Hint::Move(_)) => return Vec::new(), // there is no more to say
    };
    after.hint = Some(hint.clone());
    after.hints = after.hints.saturating_add(1);
    vec![Effect::Hinted(hint)]
}
