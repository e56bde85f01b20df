//! Where a reader is goes on in another instance of the core: what `carry` writes of any state,
//! `resume` makes of a reader who begins.

use crate::support::chance::Chance;
use crate::support::intents::any_intent;
use crate::support::lesson;
use plyline::ask::recall::Recall;
use plyline::ask::schedule::Progress;
use plyline::ask::{DefaultPosition, Question, Wish};
use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::view::{Asking, Intent, Recalling, State, carry, resume};
use shakmaty::Color;

const TEXT: &str = "1. e4 {Ask: What would you play?} e5! (1... c5 2. Nf3 (2. c3 d5)) 2. Nf3 {Ask: And now? Because: it is \
    sound.} Nc6! 3. Bb5 (3. Bc4 Nf6 (3... Bc5)) 3... a6 4. Ba4 *";
const CHOICES: &str =
    "1. d4 d5 2. c4 (2. Nf3) e6 (2... c6 3. Nf3) 3. Nc3 (3. cxd5? exd5) 3... Nf6 4. Bg5 *";

fn step(lesson: &Lesson, state: &State, intent: Intent) -> State {
    plyline::view::update(lesson, state, intent, Letters::ENGLISH).0
}

fn resumed(lesson: &Lesson, begins: &State, was: &State) -> State {
    let mut state = begins.clone();
    resume(lesson, &mut state, &carry(was), None);
    state
}

fn recalled(lesson: &Lesson, seed: u32) -> State {
    let recall = Recall::new(lesson, 0, Color::White, seed, &Progress::default(), 0);
    let recall = recall.expect("something to recall");
    let recalling = Recalling::new(recall, String::new());
    State::recall(lesson, recalling, Color::White)
}

#[test]
fn a_reader_of_a_lesson_goes_on_with_all_that_was_read_opened_folded_and_tried() {
    let lesson = lesson(TEXT);
    let begins = State::new(&lesson, 0, Color::White);
    let mut chance = Chance::new(88_172_645_463_325_252);
    let mut state = begins.clone();
    let (mut open, mut beside, mut folded) = (0, 0, 0);
    for round in 0..20_000 {
        if round % 400 == 0 {
            state = begins.clone();
        }
        state = step(&lesson, &state, any_intent(&mut chance, &lesson));
        let again = resumed(&lesson, &begins, &state);
        let shown = |state: &State| {
            let question = state.asking().map(|asking| asking.question.node);
            let looks = (state.side, state.map, state.desk, state.shut);
            let lists = (
                state.settled().to_vec(),
                state.folded.clone(),
                state.read.clone(),
            );
            (state.node, question, looks, lists)
        };
        assert_eq!(shown(&again), shown(&state), "{}", carry(&state));
        // A try at an open question is begun again.
        if !state.waits() {
            assert_eq!(again.aside, state.aside, "{}", carry(&state));
            beside += usize::from(!state.aside.is_empty());
        }
        open += usize::from(!state.settled().is_empty());
        folded += usize::from(!state.folded.is_empty());
    }
    assert!(
        open > 1000 && beside > 1000 && folded > 1000,
        "{open} {beside} {folded}"
    );
}

#[test]
fn a_recall_goes_on_in_the_midst_of_its_walk() {
    let lesson = lesson(CHOICES);
    let mut chance = Chance::new(2_463_534_242);
    let mut stages = [0; 5];
    for seed in 0..300 {
        let mut state = recalled(&lesson, seed);
        let begins = state.clone();
        let recall = state.recalling().expect("a recall").recall.clone();
        state = step(&lesson, &state, Intent::Recall(Box::new(recall)));
        for _ in 0..30 {
            let words = ["d4", "c4", "Nf3", "Nc3", "Bg5", "h3"];
            let intent = match chance.below(8) {
                0 | 1 => Intent::Next(None),
                2 => Intent::Show(None),
                3 if chance.below(8) == 0 => Intent::Stop,
                _ => Intent::Play(words[chance.below(6)].to_owned()),
            };
            state = step(&lesson, &state, intent);
            let again = resumed(&lesson, &begins, &state);
            let at = |state: &State| {
                let recalling = state.recalling().expect("a recall");
                let kept = (recalling.recall.clone(), recalling.answered.clone());
                (state.node, kept, state.read.clone())
            };
            assert_eq!(at(&again), at(&state));
            let stage = state.recalling().expect("a recall").recall.stage;
            stages[stage as usize] += 1;
            // And what comes next is the same.
            let next = |state| at(&step(&lesson, state, Intent::Next(None)));
            assert_eq!(next(&again), next(&state));
        }
    }
    assert!(stages.iter().all(|&count| count > 100), "{stages:?}");
}

#[test]
fn a_question_of_its_own_that_was_settled_stays_so_and_one_that_was_open_is_asked() {
    let lesson = lesson("1. e4 e5 2. Nf3 (2. Bc4) Nc6! *");
    let wish = Wish {
        at: "2.Nf3",
        place: DefaultPosition::Start,
        prompt: "",
        accept: "",
        moves: "",
    };
    let question = Question::new(&lesson, &wish, Letters::ENGLISH).expect("a question");
    let node = question.node;
    let asking = Asking::new(question, 0);
    let begins = State::quiz(&lesson, asking, String::new(), Color::Black);
    let tried = step(&lesson, &begins, Intent::Play("d6".to_owned()));
    let again = resumed(&lesson, &begins, &tried);
    assert_eq!((again.waits(), again.node), (true, node));
    let settled = step(&lesson, &tried, Intent::Play("Nc6".to_owned()));
    let away = step(&lesson, &settled, Intent::Back);
    for state in [&settled, &away] {
        let again = resumed(&lesson, &begins, state);
        assert_eq!((again.waits(), again.node), (false, state.node));
    }
    assert_ne!(settled.node, away.node);
}

#[test]
fn what_is_no_such_text_leads_nowhere_that_the_lesson_does_not_hold() {
    let lesson = lesson(TEXT);
    for text in [
        "",
        " ",
        "e4_e5 0 99 3 99 99 99 1 99 0",
        "x 1 1 4294967295 1 2",
        "_ 0 0 0",
    ] {
        for begins in [
            State::new(&lesson, 0, Color::White),
            recalled(&self::lesson(CHOICES), 0),
        ] {
            let mut state = begins;
            resume(&lesson, &mut state, text, None);
            assert!(lesson.get(state.node).is_some(), "{text:?}");
            let last = lesson.nodes.len() as u32;
            assert!(state.settled().iter().all(|&id| id < last), "{text:?}");
            let lines = lesson.lines.len() as u32;
            assert!(state.folded.iter().all(|&id| id < lines), "{text:?}");
        }
    }
}
