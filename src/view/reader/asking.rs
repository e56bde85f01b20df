//! The question that a reader is at, and the answer to a try.

use crate::ask::open_question::{How, OpenQuestion};
use crate::ask::{Answer, Question, Verdict};
use crate::lesson::NodeId;
use crate::notation::comment::passage::{Paragraph, Passage};
use crate::text::Listed;
use std::rc::Rc;

/// The question that a reader is at, and how far they are with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// What is asked.
    pub question: Rc<Question>,
    /// How far the reader is.
    pub asked: OpenQuestion,
}

impl Asking {
    /// A question as it is first seen.
    pub fn new(question: Question, seed: u32) -> Asking {
        let asked = OpenQuestion::new(&question, seed);
        let question = Rc::new(question);
        Asking { question, asked }
    }

    /// Whether it waits for a move.
    pub fn is_open(&self) -> bool {
        self.asked.settled.is_none()
    }
}

/// A right move with its condition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The move, in English SAN.
    pub san: String,
    /// The node that it leads to, where the lesson holds it.
    pub node: Option<NodeId>,
    /// When to choose it; empty without a condition.
    pub condition: String,
}

impl From<Answer<'_>> for Named {
    fn from(answer: Answer) -> Named {
        Named {
            san: answer.san.to_owned(),
            node: answer.node,
            condition: answer.condition.map(Paragraph::words).unwrap_or_default(),
        }
    }
}

/// Right moves with their conditions.
pub(crate) fn named(answers: Vec<Answer>) -> Vec<Named> {
    answers.into_iter().map(Named::from).listed()
}

/// What the reader is told after a try, or when the answer is shown.
#[derive(Debug)]
pub struct Judged {
    /// The verdict; none if the answer is shown.
    pub verdict: Option<Verdict>,
    /// The move tried, in English SAN; empty if the answer is shown.
    pub san: String,
    /// The number before the move tried, and before those that are right.
    pub number: String,
    /// The moves that are right there, or all in a row that are shown of several to find.
    pub answers: Vec<Named>,
    /// What the author says of the wrong answer tried, from after its move on; empty if nothing.
    pub why_not: String,
    /// Why, in the author's words, once the answer is named; empty if nothing is said.
    pub because: Passage,
    /// The page's reply: where the question goes on, and to a weaker move.
    pub reply: Option<String>,
    /// Legal moves tried so far, this one too.
    pub tries: u32,
    /// How it settles the question; none while the question stays open.
    pub settled: Option<How>,
    /// How many of the moves in a row are found, and how many are asked for; only after a right
    /// move with others left.
    pub found: Option<[u32; 2]>,
    /// The node on the board, where the lesson reaches its position by another move.
    pub joined: Option<NodeId>,
    /// The choice that is on the board in place of what was tried, in a recall.
    pub told: Option<NodeId>,
}

/// What the reader is told is the same where the same was tried in the same place and led to the same:
/// the rest follows from that, and to compare it would cost the page more.
impl PartialEq for Judged {
    fn eq(&self, other: &Judged) -> bool {
        self.san == other.san
            && self.number == other.number
            && self.reply == other.reply
            && self.settled == other.settled
            && self.found == other.found
            && self.told == other.told
    }
}

impl Eq for Judged {}
