//! Recall as a reader meets it: what leads out of a walk, what is said, what the summary shows, and
//! what thousands of intents by chance do not change.

use crate::support::chance::Chance;
use crate::support::intents::any_intent;
use crate::support::{lesson, node};
use plyline::ask::recall::{Recall, Stage};
use plyline::ask::schedule::Progress;
use plyline::edge::{self, AnswerEvent};
use plyline::lesson::Lesson;
use plyline::markup;
use plyline::notation::Letters;
use plyline::text::{Findings, Source};
use plyline::view::words::actions;
use plyline::view::{
    Action, Intent, Keeping, Memory, Note, PlaceView, RecallView, Recalling, State, Words, spoken,
};
use shakmaty::{Color, Position, Square};

const TEXT: &str = "1. d4 d5 {word-d5 @e4} 2. c4 {Choose: if you like space.} (2. Nf3 {Sound. Choose: if not}) \
    e6 (2... c6 3. Nf3) 3. Nc3 {word-nc3 @d5} (3. cxd5? {word-weak.} exd5) (3. e3) 3... Nf6 4. Bg5 *";

fn recall(lesson: &Lesson, seed: u32) -> Recall {
    let nothing = Progress::default();
    Recall::new(lesson, 0, Color::White, seed, &nothing, 0).expect("something to recall")
}

/// The element of a recall, as the page begins it.
fn begun(lesson: &Lesson, seed: u32) -> State {
    begun_at(lesson, seed, "")
}

/// The same if the lesson is elsewhere on the page, at this address.
fn begun_at(lesson: &Lesson, seed: u32, start: &str) -> State {
    let recalling = Recalling::new(recall(lesson, seed), start.to_owned());
    let state = State::recall(lesson, recalling, Color::White);
    after(
        lesson,
        state,
        &[Intent::Recall(Box::new(recall(lesson, seed)))],
    )
}

fn after(lesson: &Lesson, state: State, intents: &[Intent]) -> State {
    let step = |state, intent: &Intent| {
        plyline::view::update(lesson, &state, intent.clone(), Letters::ENGLISH).0
    };
    intents.iter().fold(state, step)
}

fn play(word: &str) -> Intent {
    Intent::Play(word.to_owned())
}

fn said(lesson: &Lesson, state: &State) -> String {
    spoken::said(&Words::default(), lesson, state)
}

fn account(lesson: &Lesson, state: &State) -> RecallView {
    let figure = plyline::view::figure(&Words::default(), lesson, state);
    figure.recall.expect("a recall")
}

/// The list of lines in the summary, each as one text.
fn rows(view: &RecallView) -> Vec<String> {
    let named = |place: &PlaceView| {
        let moves = place.shown.iter();
        let moves =
            moves.map(|one| one.number.as_deref().unwrap_or_default().to_owned() + &one.san);
        moves.collect::<Vec<_>>().join(" ")
    };
    let rows = view.held.iter().map(|held| {
        let label = match held.label.as_str() {
            "" => "main",
            label => label,
        };
        let first = named(&held.first);
        let is_after = held.is_before && !first.is_empty();
        let after = if is_after { "after " } else { "" };
        let mut row = format!("{label} {after}{first}").trim().to_owned();
        row += &format!(" | {}", held.count);
        for place in &held.again {
            row += &format!(" | again after {}", named(place));
        }
        row
    });
    rows.collect()
}

fn stage(state: &State) -> Stage {
    state.recalling().expect("a recall").recall.stage
}

/// The seed with which the first walk leads to 2…e6.
fn main_line(lesson: &Lesson) -> State {
    let moves = [play("d4"), play("c4")];
    let mut walks = (0..50).map(|seed| after(lesson, begun(lesson, seed), &moves));
    let found = walks.find(|state| state.node == node(lesson, "2.c4 e6"));
    found.expect("one of many seeds")
}

#[test]
fn nothing_but_moves_and_words_leads_on() {
    let lesson = lesson(TEXT);
    let state = main_line(&lesson);
    for intent in [
        Intent::Go(1),
        Intent::Open(1),
        Intent::Back,
        Intent::Top,
        Intent::Home,
        Intent::Again,
        Intent::Next(None),
        Intent::Next(Some(0)),
        Intent::Show(Some(1)),
        play("Bxd5"),
    ] {
        let moved = after(&lesson, state.clone(), std::slice::from_ref(&intent));
        assert_eq!(
            (moved.node, stage(&moved)),
            (state.node, Stage::Asked),
            "{intent:?}"
        );
    }
}

#[test]
fn what_the_author_points_at_is_shown_with_the_choice_and_not_before() {
    let lesson = lesson(TEXT);
    let marks = |state: &State| plyline::view::board(&lesson, state).marks.len();
    let state = after(&lesson, begun(&lesson, 0), &[play("d4")]);
    assert_eq!((state.node, marks(&state)), (node(&lesson, "1.d4 d5"), 0));
    let state = after(&lesson, main_line(&lesson), &[Intent::Show(None)]);
    assert_eq!((state.node, marks(&state)), (node(&lesson, "3.Nc3"), 1));
}

#[test]
fn a_slip_is_told_with_the_reason_and_the_answer_comes_after_a_second_one() {
    let lesson = lesson(TEXT);
    let state = after(&lesson, main_line(&lesson), &[play("cxd5")]);
    assert_eq!(
        said(&lesson, &state),
        "Weaker: 3.cxd5. word-weak. Try once more."
    );
    assert_eq!(state.node, node(&lesson, "2.c4 e6"), "it is asked again");
    let state = after(&lesson, state, &[play("h4")]);
    assert_eq!(
        said(&lesson, &state),
        "3.h4 is not an answer of this lesson. The answer: 3.Nc3. word-nc3 d5 \
         This position comes back before the walk ends."
    );
    let state = after(&lesson, main_line(&lesson), &[play("e3")]);
    assert_eq!(
        said(&lesson, &state),
        "Sound: 3.e3 is in the lesson too. The lesson prefers 3.Nc3. word-nc3 d5"
    );
}

#[test]
fn another_choice_is_right_and_the_one_that_is_left_begins_a_walk_with_its_condition() {
    let lesson =
        lesson("1. e4 {Choose: one.} (1. d4 {Choose: two. It is told.} d5 2. c4) 1... e5 2. Nf3 *");
    for seed in 0..20 {
        let state = after(&lesson, begun(&lesson, seed), &[play("e4")]);
        let prompt = account(&lesson, &state).says;
        assert_eq!(prompt, "Your move.", "no condition is said before a move");
        let state = after(&lesson, state, &[play("Nf3"), Intent::Next(None)]);
        assert_eq!(state.node, node(&lesson, "1.d4 d5"));
        let wanted = "This time: 1.d4, two. It is told. Your move.";
        assert_eq!(account(&lesson, &state).says, wanted);
        assert!(said(&lesson, &state).starts_with("This time: 1.d4, two. It is told."));
        let ended = said(&lesson, &after(&lesson, state, &[play("c4")]));
        assert!(ended.contains("to come again: 0"), "{ended}");
    }
}

#[test]
fn a_position_that_is_missed_again_is_told_and_does_not_come_again() {
    let lesson = lesson(TEXT);
    let will_come = "This position comes back before the walk ends.";
    let mut state = after(&lesson, main_line(&lesson), &[Intent::Show(None)]);
    assert!(said(&lesson, &state).ends_with(will_come));
    let on = [Intent::Next(None), play("Bg5")];
    state = after(&lesson, state, &on);
    assert_eq!(
        (state.node, stage(&state)),
        (node(&lesson, "4.Bg5"), Stage::Ends)
    );
    assert_eq!(
        said(&lesson, &state),
        "Right: 4.Bg5. The line ends here. What was missed comes back now."
    );
    state = after(&lesson, state, &[Intent::Next(None)]);
    assert_eq!(
        (state.node, stage(&state)),
        (node(&lesson, "2.c4 e6"), Stage::Asked)
    );
    assert_eq!(
        said(&lesson, &state),
        "Now back to one that was missed: after 2...e6. \
         Black pawn from e7 to e6. Your move."
    );
    state = after(&lesson, state, &[play("h4")]);
    let told = said(&lesson, &state);
    assert!(
        told.ends_with("The answer: 3.Nc3. word-nc3 d5"),
        "nothing is promised: {told}"
    );
    state = after(&lesson, state, &[Intent::Next(None)]);
    assert_eq!(stage(&state), Stage::Between);
}

#[test]
fn what_is_read_beside_the_board_stays_where_no_move_is_awaited() {
    let lesson = lesson(TEXT);
    let state = after(&lesson, main_line(&lesson), &[Intent::Show(None)]);
    let told = said(&lesson, &state);
    for intent in [
        Intent::Square(Square::G8),
        Intent::Move(Square::G8, Square::F6),
        Intent::Move(Square::G8, Square::G5),
    ] {
        let next = after(&lesson, state.clone(), std::slice::from_ref(&intent));
        assert_eq!(
            (said(&lesson, &next), next.hand.held()),
            (told.clone(), None),
            "{intent:?}"
        );
    }
}

#[test]
fn a_try_where_no_move_is_awaited_is_told_what_leads_on_and_the_choice_stays_told() {
    let lesson = lesson(TEXT);
    let told = after(&lesson, main_line(&lesson), &[Intent::Show(None)]);
    let over = after(&lesson, main_line(&lesson), &[Intent::Stop]);
    let before = after(&lesson, begun(&lesson, 0), &[Intent::Stop]);
    for (state, word) in [(told, "go on"), (over, "again"), (before, "begin")] {
        let leads = format!("No move is expected now: \u{201c}{word}\u{201d} leads on.");
        for intent in [
            Intent::Square(Square::G1),
            Intent::Move(Square::G1, Square::F3),
            Intent::Typed("Nf3".to_owned()),
            Intent::Typed("Qh8".to_owned()),
            play("Nf3"),
        ] {
            let next = after(&lesson, state.clone(), std::slice::from_ref(&intent));
            let view = account(&lesson, &next);
            let seen = (view.says, view.note.clone(), next.node);
            assert_eq!(
                seen,
                (leads.clone(), leads.clone(), state.node),
                "{intent:?}"
            );
            assert_eq!(said(&lesson, &next), said(&lesson, &state), "{intent:?}");
            // Saying it again is heard again, and going on removes it.
            let again = account(&lesson, &after(&lesson, next.clone(), &[intent]));
            assert_ne!(again.note, view.note);
            let on = Intent::Recall(Box::new(recall(&lesson, 0)));
            assert_eq!(account(&lesson, &after(&lesson, next, &[on])).note, "");
        }
        let asked = [
            Intent::Typed("where".to_owned()),
            Intent::Square(Square::E5),
        ];
        for intent in asked {
            let next = after(&lesson, state.clone(), &[intent]);
            assert!(!account(&lesson, &next).note.contains("expected"));
        }
    }
}

#[test]
fn a_line_that_begins_with_an_answer_is_named_once_that_is_known() {
    let lesson =
        lesson("1. d4 {Choose:} (1. e4 {Choose: if you like it open.} e5 2. Nf3) 1... d5 2. c4 *");
    let rows_after = |intents: &[Intent]| {
        let state = after(&lesson, begun(&lesson, 0), intents);
        rows(&account(&lesson, &state))
    };
    assert_eq!(
        rows_after(&[Intent::Show(None), Intent::Stop]),
        [
            "main | 0 of 1 recalled, 1 not met | again after ",
            "A | not met"
        ]
    );
    assert_eq!(
        rows_after(&[play("e4"), play("Nf3"), Intent::Stop]),
        [
            "main | 1 of 1 recalled, 1 not met",
            "A 1.e4 | 1 of 1 recalled"
        ]
    );
}

#[test]
fn a_line_whose_first_move_would_tell_an_answer_is_named_by_the_move_before() {
    let lesson = lesson(
        "1. d4 d5 2. c4 {Choose:} (2. Nf3 {Choose: if you like it quiet.} Nf6 3. e3) 2... e6 *",
    );
    let state = after(
        &lesson,
        begun(&lesson, 0),
        &[play("d4"), Intent::Show(None), Intent::Stop],
    );
    assert_eq!(
        rows(&account(&lesson, &state)),
        [
            "main | 1 of 2 recalled | again after 1\u{2026}d5",
            "A after 1\u{2026}d5 | not met"
        ]
    );
}

#[test]
fn the_start_that_comes_back_is_named_once_however_the_walk_came_to_its_end() {
    let lesson = lesson("1. d4 d5 2. c4 *");
    let leap = "Now back to one that was missed: the start. Your move.";
    let missed = [Intent::Show(None), Intent::Next(None)];
    let state = after(&lesson, begun(&lesson, 0), &missed);
    let ended = [play("c4"), Intent::Next(None)];
    let right = after(&lesson, state.clone(), &ended);
    assert_eq!(said(&lesson, &right), leap);
    assert_eq!(account(&lesson, &right).says, leap);
    let shown = after(
        &lesson,
        after(&lesson, state, &missed),
        &[Intent::Next(None)],
    );
    assert_eq!(said(&lesson, &shown), leap);
}

#[test]
fn a_recall_that_is_stopped_without_an_answer_is_as_before_its_first_walk() {
    let lesson = lesson(TEXT);
    for intents in [vec![Intent::Stop], vec![play("Bxd5"), Intent::Stop]] {
        let state = after(&lesson, begun(&lesson, 0), &intents);
        let view = account(&lesson, &state);
        let can = (view.steps, view.keeps.len());
        assert_eq!((state.node, can), (0, (&[Action::Begin][..], 0)));
        assert!(rows(&view).is_empty());
        assert!(!said(&lesson, &state).contains("Positions met"));
    }
}

#[test]
fn the_board_says_that_the_last_walk_is_over_and_not_where_the_reader_has_stopped() {
    let lesson = lesson("1. d4 d5 2. c4 (2. Nf3) *");
    let end = |intents: &[Intent]| {
        let state = after(&lesson, begun(&lesson, 0), intents);
        (account(&lesson, &state).says, said(&lesson, &state))
    };
    assert_eq!(
        end(&[play("d4"), play("c4")]),
        (
            "That was the last walk.".to_owned(),
            "Right: 2.c4. That was the last walk. \
             Positions met: 2 of 2; recalled: 2; to come again: 0."
                .to_owned()
        )
    );
    assert_eq!(
        end(&[play("d4"), Intent::Stop]),
        (
            String::new(),
            "Positions met: 1 of 2; recalled: 1; to come again: 0.".to_owned()
        )
    );
}

#[test]
fn what_is_kept_is_said_beside_the_account_with_the_day_on_which_it_comes_back() {
    let lesson = lesson(TEXT);
    let note = |is_kept: bool, due: u32, next: u32, note: Option<Note>| {
        let memory = Intent::Memory(Memory {
            keeping: match is_kept {
                true => Keeping::Kept,
                false => Keeping::Offered,
            },
            due,
            positions: 5,
            known: 4,
            next,
            note,
            ..Memory::default()
        });
        let state = after(&lesson, begun(&lesson, 0), &[play("d4"), memory.clone()]);
        assert_eq!(account(&lesson, &state).note, "", "while a walk goes on");
        account(&lesson, &after(&lesson, state, &[Intent::Stop, memory])).note
    };
    assert_eq!(
        note(true, 0, 1, None),
        "Remembered: 4 of 5 positions. The next ones come back tomorrow."
    );
    assert_eq!(
        note(true, 0, 8, Some(Note::Forgotten)),
        "Forgotten. Remembered: 4 of 5 positions. The next ones come back in 8 days."
    );
    assert_eq!(note(true, 2, 1, None), "Remembered: 4 of 5 positions.");
    assert_eq!(
        note(false, 0, 1, Some(Note::NotKept)).find("Remembered"),
        None
    );
}

#[test]
fn the_account_leads_to_the_lesson_where_that_stands_on_the_page() {
    let lesson = lesson(TEXT);
    let missed = |start: &str| {
        let mut walks = (0..50).map(|seed| {
            let moves = [play("d4"), play("c4")];
            after(&lesson, begun_at(&lesson, seed, start), &moves)
        });
        let found = walks.find(|state| state.node == node(&lesson, "2.c4 e6"));
        let slip = [play("h4"), Intent::Stop];
        after(&lesson, found.expect("one of many seeds"), &slip)
    };
    for (start, linked) in [("", false), ("#x", true)] {
        let words = Words::default();
        let figure = plyline::view::figure(&words, &lesson, &missed(start));
        let panel = markup::html(&[markup::panel(&words, &figure)]);
        for (address, node_id) in [
            ("#x", 0),
            ("#x/2...e6", node(&lesson, "2.c4 e6")),
            ("#x/2...c6", node(&lesson, "2.c4 c6")),
        ] {
            let link = format!("<a href=\"{address}\" data-go=\"{node_id}\">");
            assert_eq!(panel.contains(&link), linked, "{link} in {panel}");
        }
        assert_eq!(panel.contains("<a"), linked);
    }
}

#[test]
fn the_account_counts_and_the_map_is_marked_line_by_line() {
    let lesson = lesson(TEXT);
    let slip = [play("h4"), Intent::Next(None), Intent::Stop];
    let state = after(&lesson, main_line(&lesson), &slip);
    assert_eq!(
        said(&lesson, &state),
        "Positions met: 3 of 5; recalled: 2; to come again: 1."
    );
    let view = account(&lesson, &state);
    assert_eq!(
        rows(&view),
        [
            "main | 2 of 3 recalled, 1 not met | again after 2\u{2026}e6",
            "B 2\u{2026}c6 | not met"
        ]
    );
    let (map, way) = view.map.expect("a map");
    let texts = |list: &[(String, (u32, u32))]| -> Vec<String> {
        list.iter().map(|(text, _)| text.clone()).collect()
    };
    assert!(texts(&map.labels).contains(&"B".to_owned()));
    assert_eq!(texts(&map.counts), ["2/4", "0/1"]);
    assert_eq!(way.missed, [node(&lesson, "2.c4 e6")]);
    assert!(
        way.read[node(&lesson, "2.c4") as usize],
        "a move on the way is met"
    );
}

#[test]
fn whatever_comes_the_board_shows_the_walk_and_what_is_answered_is_told_once() {
    let lesson = lesson(TEXT);
    let source = Source::new("a.pgn", TEXT);
    let right = ["d4", "c4", "Nf3", "Nc3", "Bg5"];
    let mut settled = 0;
    for seed in 1..=60 {
        let mut chance = Chance::new(seed);
        let mut state = begun(&lesson, seed as u32);
        for _ in 0..120 {
            let intent = match chance.below(4) {
                0 => play(chance.pick(&right)),
                1 => Intent::Next(None),
                _ => any_intent(&mut chance, &lesson),
            };
            let (next, effects) =
                plyline::view::update(&lesson, &state, intent.clone(), Letters::ENGLISH);
            let recall = &next.recalling().expect("a recall").recall;
            assert_eq!(
                (next.node, next.aside.len()),
                (recall.node, 0),
                "{intent:?}"
            );
            let told = edge::answer_events(&effects);
            let settles = |event: &&AnswerEvent| matches!(event, AnswerEvent::Settled(_));
            let now = told.iter().filter(settles).count();
            let was = stage(&state) == Stage::Asked;
            let changed = (state.node, stage(&state)) != (next.node, stage(&next));
            // A recall that ends here or is begun again leaves the question without an answer.
            let is_left = matches!(intent, Intent::Recall(_) | Intent::Stop);
            assert_eq!(now, usize::from(was && changed && !is_left), "{intent:?}");
            let is_stopped = matches!(stage(&next), Stage::Over | Stage::Between);
            assert!(intent != Intent::Stop || is_stopped);
            settled += now;
            let page = plyline::view::page(
                &Words::default(),
                &lesson,
                &next,
                &Findings::default(),
                &source,
                &[],
            );
            assert!(!markup::quiz(&page, &[]).is_empty());
            state = next;
        }
        let recalling = state.recalling().expect("a recall");
        for &(id, _) in &recalling.answered {
            assert_eq!(lesson.node(id).position.turn(), Color::White);
        }
    }
    assert!(settled > 100, "{settled}");
}

#[test]
fn what_stands_on_a_button_of_the_recall_does_the_same_when_it_is_typed() {
    let lesson = lesson(TEXT);
    let words = Words::default();
    let told = after(&lesson, main_line(&lesson), &[Intent::Show(None)]);
    let typed = |state: &State, text: &str| {
        let intent = actions::meant_at(&words, &lesson, state, text);
        after(&lesson, state.clone(), &[intent])
    };
    let on = typed(&told, "go on");
    assert_eq!(on, after(&lesson, told.clone(), &[Intent::Next(None)]));
    assert_eq!(stage(&typed(&told, "stop")), Stage::Over);
    let listed = actions::names(&words, &lesson, &told);
    assert!(
        listed.contains("go on") && listed.contains("stop"),
        "{listed}"
    );
    let walking = State::at_node(&lesson, 0, Color::White);
    assert!(!actions::names(&words, &lesson, &walking).contains("stop"));
}
