//! What a reader can do, by the thousand: `update` keeps its promises whatever comes.

mod support;

use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::view::command::Command;
use plyline::view::{Effect, Intent, State};
use shakmaty::{Color, Role, Square};
use support::lesson;

const TEXT: &str = "{start} 1. d4 d5 (1... Nf6 2. c4 (2. Nf3 g6 (2... e6)) 2... e6) 2. c4 e6 \
                    (2... dxc4 3. e3) 3. Nc3 *";

/// A small generator of numbers (xorshift, Marsaglia 2003), so that a failure can be repeated.
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }
}

fn update(lesson: &Lesson, state: &State, intent: Intent) -> (State, Option<Effect>) {
    plyline::view::update(lesson, state, intent, Letters::ENGLISH)
}

fn at(lesson: &Lesson, node: u32) -> State {
    State::new(lesson, node, Color::White)
}

/// The state after several intents.
fn after(lesson: &Lesson, state: State, intents: &[Intent]) -> State {
    intents
        .iter()
        .cloned()
        .fold(state, |state, intent| update(lesson, &state, intent).0)
}

fn any_square(chance: &mut Chance) -> Square {
    Square::ALL[chance.below(64) as usize]
}

fn any_intent(chance: &mut Chance, lesson: &Lesson) -> Intent {
    match chance.below(18) {
        // Two more than there are, for a page may ask for nodes that are not there.
        0 => Intent::Go(chance.below(lesson.nodes.len() as u64 + 2) as u32),
        1 => Intent::Next(Some(chance.below(4) as usize)),
        2 => Intent::Next(None),
        3 => Intent::Back,
        4 => Intent::Top,
        5 => Intent::Home,
        6 => Intent::Turn,
        7 => Intent::Side(if chance.below(2) == 0 {
            Color::White
        } else {
            Color::Black
        }),
        8..=10 => Intent::Square(any_square(chance)),
        11 => Intent::Move(any_square(chance), any_square(chance)),
        12 => Intent::Promote(Role::Queen),
        13 => Intent::Release,
        14 => {
            let words = [
                "Nf3",
                "e5",
                "c4",
                "d5",
                "hello",
                "describe",
                "what attacks e4",
                "Kd9",
                "",
            ];
            Intent::Typed(words[chance.below(words.len() as u64) as usize].to_owned())
        }
        15 => Intent::Ask(Command::On(any_square(chance))),
        16 => Intent::Map,
        _ => Intent::Fold(chance.below(lesson.lines.len() as u64 + 2) as u32),
    }
}

#[test]
fn a_reader_is_always_at_a_node_or_an_aside_from_it_and_effects_say_what_changed() {
    let lesson = lesson(TEXT);
    let mut chance = Chance(88_172_645_463_325_252);
    let mut state = at(&lesson, 0);
    let mut asides = 0;
    for _ in 0..40_000 {
        let intent = any_intent(&mut chance, &lesson);
        let (next, effect) = update(&lesson, &state, intent.clone());
        assert!(
            lesson.get(next.node).is_some(),
            "{intent:?} led out of the lesson"
        );
        assert!(
            next.read[next.node as usize],
            "where a reader is has been read"
        );
        let wanted = match (
            state.node != next.node,
            state.aside != next.aside,
            state.side != next.side,
        ) {
            (true, ..) => Some(Effect::Moved {
                from: state.node,
                to: next.node,
            }),
            (_, true, _) => Some(Effect::Aside),
            (_, _, true) => Some(Effect::Turned),
            _ if state.map != next.map => Some(Effect::Map),
            _ if state.folded != next.folded => Some(Effect::Folded),
            _ => (state != next).then_some(Effect::Board),
        };
        assert_eq!(effect, wanted, "{intent:?}");
        if matches!(effect, Some(Effect::Moved { .. } | Effect::Aside)) {
            assert_eq!(
                (next.held, next.promotion, &next.notice),
                (None, None, &None)
            );
        }
        // An aside begins with a move that the lesson does not hold.
        if let Some(first) = next.aside.first() {
            let children = &lesson.node(next.node).children;
            assert!(
                children
                    .iter()
                    .all(|&child| lesson.node(child).played != first.played)
            );
            asides += 1;
        }
        state = next;
    }
    assert!(
        asides > 100,
        "the walk has to leave the lesson now and then: {asides}"
    );
}

#[test]
fn back_undoes_next() {
    let lesson = lesson(TEXT);
    for node in lesson.ids() {
        for (index, _) in lesson.node(node).children.iter().enumerate() {
            let state = at(&lesson, node);
            let on = after(&lesson, state.clone(), &[Intent::Next(Some(index))]);
            assert_ne!(on.node, node);
            assert_eq!(after(&lesson, on, &[Intent::Back]).node, node);
        }
    }
}

#[test]
fn next_without_a_choice_takes_the_first_move() {
    let lesson = lesson(TEXT);
    let state = after(&lesson, at(&lesson, 1), &[Intent::Next(None)]);
    assert_eq!(lesson.node(state.node).san, "d5");
}

#[test]
fn a_move_that_the_lesson_holds_goes_there_and_another_is_an_aside_with_a_way_home() {
    let lesson = lesson(TEXT);
    let held = after(
        &lesson,
        at(&lesson, 0),
        &[Intent::Square(Square::D2), Intent::Square(Square::D4)],
    );
    assert_eq!((held.node, held.aside.len()), (1, 0));
    let aside = after(
        &lesson,
        at(&lesson, 0),
        &[
            Intent::Move(Square::E2, Square::E4),
            Intent::Typed("e5".into()),
        ],
    );
    assert_eq!(aside.node, 0);
    let sans: Vec<&str> = aside.aside.iter().map(|tried| tried.san.as_str()).collect();
    assert_eq!(sans, ["e4", "e5"]);
    assert_eq!(
        after(&lesson, aside.clone(), &[Intent::Back]).aside.len(),
        1
    );
    assert_eq!(
        after(&lesson, aside.clone(), &[Intent::Home]).aside.len(),
        0
    );
    assert_eq!(
        after(&lesson, aside.clone(), &[Intent::Next(None)]),
        aside,
        "an aside has no next"
    );
}

#[test]
fn an_illegal_try_is_answered_with_the_reason_and_changes_nothing_else() {
    use plyline::view::Notice;
    let lesson = lesson(TEXT);
    let state = after(
        &lesson,
        at(&lesson, 0),
        &[Intent::Square(Square::F1), Intent::Square(Square::B5)],
    );
    assert_eq!((state.node, state.aside.len(), state.held), (0, 0, None));
    let Some(Notice::Refused(reason)) = state.notice else {
        panic!("no reason: {:?}", state.notice);
    };
    assert_eq!(
        reason.message,
        "the bishop on f1 cannot reach b5: the pawn on e2 stands in the way"
    );
}

#[test]
fn a_pawn_waits_for_what_it_becomes() {
    let lesson = lesson("[SetUp \"1\"] [FEN \"4k3/P7/8/8/8/8/8/4K3 w - - 0 1\"] 1. Kd2 *");
    let waiting = after(
        &lesson,
        at(&lesson, 0),
        &[Intent::Square(Square::A7), Intent::Square(Square::A8)],
    );
    assert_eq!(waiting.promotion, Some((Square::A7, Square::A8)));
    let knight = after(&lesson, waiting.clone(), &[Intent::Promote(Role::Knight)]);
    assert_eq!(knight.aside[0].san, "a8=N");
    assert_eq!(after(&lesson, waiting, &[Intent::Release]).promotion, None);
}

#[test]
fn where_a_reader_goes_is_unfolded() {
    let lesson = lesson(TEXT);
    let line = lesson
        .lines
        .iter()
        .position(|line| line.label == "A1a")
        .expect("a line") as u32;
    let parent = lesson.line(line).parent.expect("its line");
    let folded = after(
        &lesson,
        at(&lesson, 0),
        &[Intent::Fold(parent), Intent::Fold(line)],
    );
    assert_eq!(folded.folded.len(), 2);
    let there = after(&lesson, folded, &[Intent::Go(lesson.line(line).first)]);
    assert!(there.folded.is_empty(), "the line and those that hold it");
}

#[test]
fn the_map_has_one_mark_for_each_node_and_no_two_in_one_place() {
    let lesson = lesson(TEXT);
    let map = plyline::view::map(&lesson);
    assert_eq!(map.marks.len(), lesson.nodes.len());
    let mut places = map.marks.clone();
    places.sort_unstable();
    places.dedup();
    assert_eq!(places.len(), lesson.nodes.len());
    assert_eq!(map.joins.len(), lesson.nodes.len() - 1);
}

#[test]
fn every_word_of_german_is_a_word_of_english_and_none_is_missing() {
    let keys = |file: &'static str| -> Vec<&str> {
        let lines = file.lines().filter_map(|line| line.strip_prefix("  "));
        let pairs = lines.filter_map(|line| line.split_once(": \""));
        pairs.map(|(key, _)| key).collect()
    };
    let core = plyline::view::words::TEXTS.iter().map(|(key, _)| *key);
    // What the element says where the core cannot be asked.
    let english: Vec<&str> = core.chain(keys(include_str!("../www/words.js"))).collect();
    assert_eq!(keys(include_str!("../www/words/de.js")), english);
}
