//! What a reader can do, by the thousand: `update` keeps its promises whatever comes.

use crate::support::chance::Chance;
use crate::support::intents::any_intent;
use crate::support::lesson;
use plyline::lesson::Lesson;
use plyline::lesson::place::address::follow;
use plyline::markup;
use plyline::notation::Letters;
use plyline::text::{Findings, Source};
use plyline::view::{Effect, Hand, Intent, Notice, State, Words};
use shakmaty::{Color, Role, Square};

const TEXT: &str = "{start} 1. d4 d5 (1... Nf6 2. c4 (2. Nf3 g6 (2... e6)) 2... e6) 2. c4 e6 \
                    (2... dxc4 3. e3) 3. Nc3 *";
/// Pawns that become something, a check and a mate.
const PAWNS: &str = "[SetUp \"1\"] [FEN \"7k/P5pp/8/8/8/8/7p/4K3 w - - 0 1\"] 1. Kd2 ({first} 1. a8=Q#) \
                     1... h1=N 2. a8=R# *";

/// The state after an intent, and the first thing that it changes of what is drawn.
fn update(lesson: &Lesson, state: &State, intent: Intent) -> (State, Option<Effect>) {
    let (after, effects) = plyline::view::update(lesson, state, intent, Letters::ENGLISH);
    (after, effects.into_iter().next())
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

#[test]
fn an_aside_that_a_comment_names_is_said_to_be_the_comment_s_until_the_reader_plays_on() {
    let lesson = lesson(TEXT);
    let place = follow(&lesson, "1...d5_2.Nf3").expect("a place");
    let caption = |state: &State| {
        let words = Words::default();
        let figure = plyline::view::figure(&words, &lesson, state);
        (figure.is_aside, figure.told)
    };
    let told = |by| {
        let intents = [Intent::Told(place.clone(), by)];
        after(&lesson, at(&lesson, 0), &intents)
    };
    assert_eq!(caption(&told(1)), (true, Some("1.d4".to_owned())));
    assert_eq!(caption(&told(0)), (true, Some("the start".to_owned())));
    let own = after(&lesson, told(1), &[Intent::Typed("h6".into())]);
    assert_eq!(caption(&own), (true, None));
    let back = after(&lesson, told(1), &[Intent::Home]);
    assert_eq!(caption(&back), (false, None));
    let tried = after(&lesson, at(&lesson, 2), &[Intent::Typed("Nf3".into())]);
    assert_eq!(caption(&tried), (true, None), "by the reader");
}

#[test]
fn a_reader_is_always_at_a_node_or_an_aside_from_it_and_effects_say_what_changed() {
    let lesson = lesson(TEXT);
    let mut chance = Chance::new(88_172_645_463_325_252);
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
            _ if state.alone != next.alone => Some(Effect::Lines),
            _ if state.folded != next.folded => match intent {
                Intent::Fold(line) => Some(Effect::Folded(line)),
                _ => panic!("{intent:?} folds"),
            },
            _ => (state != next).then_some(Effect::Board),
        };
        assert_eq!(effect, wanted, "{intent:?}");
        if matches!(effect, Some(Effect::Moved { .. } | Effect::Aside)) {
            assert_eq!((next.hand, &next.notice), (Hand::Empty, &None));
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

/// Walks by chance through a lesson; `look` is given each step.
fn walk(
    text: &str,
    steps: u32,
    mut look: impl FnMut(&Lesson, &State, &Intent, &State, Option<Effect>),
) {
    let lesson = lesson(text);
    let mut chance = Chance::new(2_463_534_242);
    let mut state = at(&lesson, 0);
    for _ in 0..steps {
        let intent = any_intent(&mut chance, &lesson);
        let (next, effect) = update(&lesson, &state, intent.clone());
        look(&lesson, &state, &intent, &next, effect);
        state = next;
    }
}

#[test]
fn back_undoes_whatever_led_one_move_on_from_wherever_that_was() {
    let (mut on, mut aside) = (0, 0);
    for text in [TEXT, PAWNS] {
        walk(text, 32_000, |lesson, before, intent, after, effect| {
            let one_on = match effect {
                Some(Effect::Moved { from, to }) => {
                    before.aside.is_empty() && lesson.node(to).parent == Some(from)
                }
                Some(Effect::Aside) => after.aside.len() == before.aside.len() + 1,
                _ => false,
            };
            // A place may be entered from anywhere.
            if !one_on || matches!(intent, Intent::Enter(_)) {
                return;
            }
            let (back, _) = update(lesson, after, Intent::Back);
            assert_eq!(
                (back.node, &back.aside),
                (before.node, &before.aside),
                "{intent:?}"
            );
            *(if after.aside.is_empty() {
                &mut on
            } else {
                &mut aside
            }) += 1;
        });
    }
    assert!(on > 500 && aside > 500, "{on} steps on, {aside} in asides");
}

/// The page of a state as text, one tag with what follows it a line: the figure with what is
/// answered under it, the map, and the rest.
fn drawn(lesson: &Lesson, state: &State, source: &Source) -> [Vec<String>; 3] {
    let none = Findings::default();
    let page = plyline::view::page(&Words::default(), lesson, state, &none, source, &[]);
    let html = markup::html(&markup::lesson(&page));
    let (before, rest) = html.split_once("<figure").expect("a figure");
    let (figure, rest) = rest.split_once("<div class=\"mapplace\"").expect("the map");
    let (map, rest) = rest.split_once("<div class=\"lines\"").expect("the lines");
    [figure, map, &format!("{before}{rest}")]
        .map(|part| part.split('<').map(str::to_owned).collect())
}

/// The tags in which two texts of equal length differ.
fn changed(before: &[String], after: &[String]) -> Vec<String> {
    assert_eq!(before.len(), after.len(), "only marks change");
    let pairs = before.iter().zip(after);
    pairs
        .filter(|(one, other)| one != other)
        .map(|(_, other)| other.clone())
        .collect()
}

#[test]
fn no_step_draws_more_than_it_changes() {
    let source = Source::new("t", TEXT);
    walk(TEXT, 800, |lesson, before, intent, after, effect| {
        let was = drawn(lesson, before, &source);
        let is = drawn(lesson, after, &source);
        let what = format!("{intent:?} is {effect:?}");
        // The figure is drawn at every effect; it must not change without one.
        assert!(effect.is_some() || was == is, "{what}");
        if effect != Some(Effect::Map) && !matches!(effect, Some(Effect::Moved { .. })) {
            assert_eq!(was[1], is[1], "{what}: the map stays");
        }
        let allowed: Vec<String> = match effect {
            Some(Effect::Moved { from, to }) => {
                let mut ids = vec!["id=\"way\"".to_owned()];
                for node in [from, to] {
                    ids.push(format!("id=\"m{}\"", node.max(1)));
                    ids.push(format!("id=\"k{node}\""));
                    ids.push(format!("id=\"o{}\"", lesson.node(node).line));
                }
                ids
            }
            _ => Vec::new(),
        };
        let mut lines: Vec<u32> = before.folded.clone();
        lines.extend(&after.folded);
        let folds = |tag: &str| {
            let fold = |line: &u32| {
                tag.contains(&format!("id=\"f{line}\""))
                    || tag.contains(&format!("data-fold=\"{line}\""))
            };
            before.folded != after.folded && lines.iter().any(fold)
        };
        let map = match effect {
            Some(Effect::Moved { .. }) => changed(&was[1], &is[1]),
            _ => Vec::new(),
        };
        // With other lines the text is drawn anew.
        let text = match before.alone == after.alone {
            true => changed(&was[2], &is[2]),
            false => Vec::new(),
        };
        for tag in map.iter().chain(&text) {
            assert!(
                folds(tag) || allowed.iter().any(|id| tag.contains(id)),
                "{what} changes {tag}"
            );
        }
    });
}

#[test]
fn something_is_always_said_and_what_is_told_twice_is_another_text() {
    let words = Words::default();
    let mut told_again = 0;
    for text in [TEXT, PAWNS] {
        walk(text, 13_000, |lesson, before, intent, after, _| {
            let said = |state| plyline::view::words::spoken::said(&words, lesson, state);
            assert!(!said(after).trim().is_empty(), "{intent:?}");
            let asks = matches!(intent, Intent::Ask(_) | Intent::Report(_));
            if asks && before.notice == after.notice {
                assert_ne!(said(before), said(after), "{intent:?}");
                told_again += 1;
            }
        });
    }
    assert!(told_again > 20, "{told_again}");
}

#[test]
fn a_word_that_does_not_say_what_a_pawn_becomes_is_refused_and_a_script_changes_nothing_by_what_is_no_move()
 {
    let lesson = lesson(PAWNS);
    let asked = after(&lesson, at(&lesson, 0), &[Intent::Typed("a8".into())]);
    assert!(
        matches!(&asked.notice, Some(Notice::Refused(reason, _)) if reason.code.id() == "P038"),
        "{:?}",
        asked.notice
    );
    let start = at(&lesson, 0);
    for word in ["back", "describe", ""] {
        let played = after(&lesson, start.clone(), &[Intent::Play(word.into())]);
        assert_eq!(played, start, "{word:?}");
    }
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
    let lesson = lesson(TEXT);
    let state = after(
        &lesson,
        at(&lesson, 0),
        &[Intent::Square(Square::F1), Intent::Square(Square::B5)],
    );
    assert_eq!(
        (state.node, state.aside.len(), state.hand),
        (0, 0, Hand::Empty)
    );
    let Some(Notice::Refused(reason, _)) = state.notice else {
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
    let (from, to) = (Square::A7, Square::A8);
    assert_eq!(waiting.hand, Hand::Promotes { from, to });
    let knight = after(&lesson, waiting.clone(), &[Intent::Promote(Role::Knight)]);
    assert_eq!(knight.aside[0].san, "a8=N");
    let released = after(&lesson, waiting, &[Intent::Release]);
    assert_eq!(released.hand, Hand::Empty);
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
fn the_main_line_is_read_alone_and_a_step_into_a_line_opens_its_place() {
    let lesson = lesson(TEXT);
    let alone = after(
        &lesson,
        State::new(&lesson, 0, Color::White),
        &[Intent::Alone],
    );
    assert_eq!(alone.alone, Some(Vec::new()));
    let line = lesson.lines[1].clone();
    let (there, effects) =
        plyline::view::update(&lesson, &alone, Intent::Go(line.first), Letters::ENGLISH);
    assert_eq!(there.alone, Some(vec![line.beside]), "the others stay away");
    assert!(effects.contains(&Effect::Lines));
    let back = after(
        &lesson,
        there.clone(),
        &[Intent::Top, Intent::Beside(line.beside)],
    );
    assert_eq!(back.alone, Some(Vec::new()), "it can be folded away again");
    assert_eq!(after(&lesson, there, &[Intent::Alone]).alone, None);
}

#[test]
fn on_narrow_pages_only_long_lessons_begin_with_the_main_line_alone() {
    let mut moves = String::from("1. Nf3 (1. e4) ");
    for _ in 0..10 {
        moves += "Nf6 Ng1 Ng8 Nf3 ";
    }
    for (text, is_alone) in [("1. e4 (1. d4) e5 *", false), (&(moves + "*"), true)] {
        let lesson = lesson(text);
        let mut state = State::new(&lesson, 0, Color::White);
        state.narrow(&lesson);
        assert_eq!(state.alone.is_some(), is_alone, "{text}");
    }
}

#[test]
fn the_key_names_the_signs_that_are_used_and_each_once() {
    let lesson = lesson("1. e4! e5 $10 2. Nf3 $11 (2. d4 $14 Nc6?) 2... Nf6 $7 *");
    let key = |hidden| plyline::view::signs(&Words::default(), &lesson, &[hidden; 7]);
    let texts: Vec<String> = key(false)
        .iter()
        .map(|(sign, said)| format!("{sign} {said}"))
        .collect();
    assert_eq!(
        texts,
        [
            "! a good move",
            "? a mistake",
            "\u{25a1} the only move",
            "= about level",
            "+= White stands a little better"
        ]
    );
    assert!(key(true).is_empty());
}

#[test]
fn the_map_has_one_mark_for_each_node_and_no_two_in_one_place() {
    let lesson = lesson(TEXT);
    let map = plyline::view::map(&lesson, &State::empty());
    assert_eq!(map.marks.len(), lesson.nodes.len());
    let mut places = map.marks.clone();
    places.sort_unstable();
    places.dedup();
    assert_eq!(places.len(), lesson.nodes.len());
    assert_eq!(map.joins.len(), lesson.nodes.len() - 1);
}

#[test]
fn the_rows_of_the_map_are_in_the_order_of_the_letters() {
    let lesson = lesson(TEXT);
    let map = plyline::view::map(&lesson, &State::empty());
    let labels: Vec<&str> = map.labels.iter().map(|(label, _)| label.as_str()).collect();
    let lines: Vec<&str> = lesson.lines[1..]
        .iter()
        .map(|line| line.label.as_str())
        .collect();
    assert_eq!(labels, lines);
    let rows: Vec<u32> = map.labels.iter().map(|&(_, (_, row))| row).collect();
    assert_eq!(rows, (1..=lines.len() as u32).collect::<Vec<_>>());
}

#[test]
fn every_word_of_german_is_a_word_of_english_and_none_is_missing() {
    let keys = |file: &'static str| -> Vec<&str> {
        let lines = file.lines().filter_map(|line| line.strip_prefix("  "));
        let pairs = lines.filter_map(|line| line.split_once(": \""));
        let names = pairs.map(|(key, _)| key);
        names
            .filter(|key| key.bytes().all(|it| it.is_ascii_alphanumeric()))
            .collect()
    };
    let core = plyline::view::words::TEXTS.iter().map(|(key, _)| *key);
    // What the element says where the core cannot be asked.
    let english: Vec<&str> = core
        .chain(keys(include_str!("../../../www/page/words.js")))
        .chain(plyline::counts::TEXTS.iter().map(|(key, _)| *key))
        .chain(plyline::assessments::TEXTS.iter().map(|(key, _)| *key))
        .chain(plyline::aside::TEXTS.iter().map(|(key, _)| *key))
        .chain(keys(include_str!(
            "../../../www/page/companions/follows.js"
        )))
        .chain(keys(include_str!("../../../www/page/apart/talk/talk.js")))
        .collect();
    assert_eq!(keys(include_str!("../../../www/words/de.js")), english);
}

#[test]
fn an_address_leads_into_the_lesson_or_beside_it() {
    let lesson = lesson("1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *");
    let enter = |state: State, run| {
        let place = follow(&lesson, run).expect(run);
        update(&lesson, &state, Intent::Enter(place))
    };
    let (inside, effect) = enter(at(&lesson, 0), "1...c5");
    assert_eq!((inside.node, inside.aside.len()), (3, 0));
    assert_eq!(effect, Some(Effect::Moved { from: 0, to: 3 }));
    let (beside, effect) = enter(inside, "1...c5_2.c3_d5");
    assert_eq!((beside.node, beside.aside.len()), (3, 2));
    assert_eq!(effect, Some(Effect::Aside));
    assert_eq!(enter(beside, "1...c5_2.c3_d5").1, None, "it is there");
}

#[test]
fn a_step_along_the_line_or_back_is_no_jump_and_the_choice_of_another_line_is_one() {
    let lesson = lesson("1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *");
    let jump = |from, to| Effect::Moved { from, to }.is_jump(&lesson);
    let steps = [(0, 1), (1, 2), (3, 4), (1, 0), (3, 1)];
    assert!(steps.into_iter().all(|(from, to)| !jump(from, to)));
    let jumps = [(1, 3), (0, 2), (5, 0), (2, 3)];
    assert!(jumps.into_iter().all(|(from, to)| jump(from, to)));
    assert!(!Effect::Aside.is_jump(&lesson));
}
