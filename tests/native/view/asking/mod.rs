//! Questions as a reader meets them, in a lesson and in an element of their own: what each input
//! leads to, what stays closed, and what thousands of intents by chance do not change.

mod chance;
mod row;
mod tries;
mod weaker;

use crate::support::chance::Chance;
use crate::support::intents::any_intent;
use crate::support::{lesson, node};
use plyline::ask::open_question::{Hint, How};
use plyline::ask::{Question, Wish};
use plyline::edge::{self, AnswerEvent};
use plyline::lesson::place::address::{address, follow};
use plyline::lesson::{Lesson, NodeId, Place};
use plyline::markup;
use plyline::notation::Letters;
use plyline::notation::comment::passage::Passage;
use plyline::text::{Findings, Source};
use plyline::view::actions::QUESTIONS;
use plyline::view::{
    Asking, Command, Effect, Intent, Judged, Notice, State, Words, actions, spoken,
};
use shakmaty::{Color, Square};

/// Each verdict is at hand at the question, and the lesson goes on after two more. Each of the
/// author's words is used once, and names its node.
const TEXT: &str = "1. e4 e5 2. Nf3 {Why? @e5} {Ask: What guards @e5? Hint: a *hint3* on @!b8. Because: the knight @!c6 because3.} \
    Nc6 {word4.} (2... d6 {word-fair.} 3. d4) (2... f6? {word-weak.} 3. Nxe5 fxe5 4. Qh5+) \
    3. Bb5 {Ask: And now? Because: because-bb5.} a6 {word-a6.\n\nChoose: if you *dare*} (3... Nf6 {Choose: if not} 4. O-O) \
    4. Ba4 (4. Bxc6 {Ask: Which pawn? Because: because-bxc6.} dxc6 (4... bxc6? {word-bxc6.})) Nf6 {word-end.} *";

/// What a page is told of a question: a try, or how it was settled.
#[derive(Debug)]
struct Told {
    verdict: Option<&'static str>,
    played: Option<String>,
    fen: Option<String>,
    tries: u32,
    how: Option<&'static str>,
}

impl From<AnswerEvent> for Told {
    fn from(event: AnswerEvent) -> Told {
        match event {
            AnswerEvent::Answered(it) => Told {
                verdict: Some(it.verdict),
                played: it.played,
                fen: Some(it.fen),
                tries: it.tries,
                how: None,
            },
            AnswerEvent::Settled(it) => Told {
                verdict: None,
                played: None,
                fen: None,
                tries: it.tries,
                how: Some(it.how),
            },
        }
    }
}

fn step(lesson: &Lesson, state: &State, intent: Intent) -> (State, Vec<Told>) {
    let (after, effects) = effects(lesson, state, intent);
    let events = edge::answer_events(&effects).into_iter();
    (after, events.map(Told::from).collect())
}

fn effects(lesson: &Lesson, state: &State, intent: Intent) -> (State, Vec<Effect>) {
    plyline::view::update(lesson, state, intent, Letters::ENGLISH)
}

fn after(lesson: &Lesson, state: State, intents: &[Intent]) -> State {
    let step = |state, intent: &Intent| step(lesson, &state, intent.clone()).0;
    intents.iter().fold(state, step)
}

fn at(lesson: &Lesson, locator: &str) -> State {
    State::new(lesson, node(lesson, locator), Color::White)
}

/// The element of a question, as the page begins it.
fn quiz(lesson: &Lesson, wish: &Wish, seed: u32) -> State {
    let question = Question::new(lesson, wish, Letters::ENGLISH).expect("a question");
    let asking = Asking::new(question, seed);
    State::quiz(lesson, asking, String::new(), Color::White)
}

fn judged(state: &State) -> &Judged {
    match &state.notice {
        Some(Notice::Judged(judged)) => judged,
        other => panic!("no verdict: {other:?}"),
    }
}

fn said(lesson: &Lesson, state: &State) -> String {
    spoken::said(&Words::default(), lesson, state)
}

fn sans(state: &State) -> Vec<&str> {
    state.aside.iter().map(|tried| tried.san.as_str()).collect()
}

/// The same move by each input: clicks, a drag, the field, a script.
fn hands(from: Square, to: Square, san: &str) -> [Vec<Intent>; 4] {
    [
        vec![Intent::Square(from), Intent::Square(to)],
        vec![Intent::Move(from, to)],
        vec![Intent::Typed(san.to_owned())],
        vec![Intent::Play(san.to_owned())],
    ]
}

/// What is told of a try: verdict, move, tries, and how it settled.
fn row(told: &Told) -> (Option<&str>, Option<&str>, u32, Option<&str>) {
    (told.verdict, told.played.as_deref(), told.tries, told.how)
}

const ROW: &str = "1. d4 d5 {Ask: Develop? Because: all is ready.} 2. Nf3 Nf6 (2... e6 3. e3 c6 4. Bd3) 3. e3 e6 (3... c5 4. c3) 4. Bd3 *";

fn three(lesson: &Lesson, seed: u32) -> State {
    let wish = Wish {
        at: "1...d5",
        moves: "3",
        ..Wish::default()
    };
    quiz(lesson, &wish, seed)
}
