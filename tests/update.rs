//! What a reader can do, by the thousand: `update` keeps its promises whatever comes.

mod support;

use plyline::lesson::Lesson;
use plyline::view::{Effect, Intent, State, update};
use shakmaty::Color;
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

fn any_intent(chance: &mut Chance, lesson: &Lesson) -> Intent {
    match chance.below(7) {
        // Two more than there are, for a page may ask for nodes that are not there.
        0 => Intent::Go(chance.below(lesson.nodes.len() as u64 + 2) as u32),
        1 => Intent::Next(Some(chance.below(4) as usize)),
        2 => Intent::Next(None),
        3 => Intent::Back,
        4 => Intent::Top,
        5 => Intent::Turn,
        _ => Intent::Side(if chance.below(2) == 0 {
            Color::White
        } else {
            Color::Black
        }),
    }
}

#[test]
fn a_reader_is_always_at_a_node_of_the_lesson_and_effects_say_what_changed() {
    let lesson = lesson(TEXT);
    let mut chance = Chance(88_172_645_463_325_252);
    let mut state = State::default();
    for _ in 0..20_000 {
        let intent = any_intent(&mut chance, &lesson);
        let (after, effect) = update(&lesson, state, intent);
        assert!(
            lesson.get(after.node).is_some(),
            "{intent:?} led out of the lesson"
        );
        let wanted = match (state.node != after.node, state.side != after.side) {
            (true, false) => Some(Effect::Moved {
                from: state.node,
                to: after.node,
            }),
            (false, true) => Some(Effect::Turned),
            (false, false) => None,
            (true, true) => panic!("{intent:?} did two things"),
        };
        assert_eq!(effect, wanted, "{intent:?}");
        state = after;
    }
}

#[test]
fn back_undoes_next() {
    let lesson = lesson(TEXT);
    for node in lesson.ids() {
        for (index, _) in lesson.node(node).children.iter().enumerate() {
            let state = State {
                node,
                side: Color::Black,
            };
            let (on, _) = update(&lesson, state, Intent::Next(Some(index)));
            assert_ne!(on, state);
            assert_eq!(update(&lesson, on, Intent::Back).0, state);
        }
    }
}

#[test]
fn next_without_a_choice_takes_the_first_move() {
    let lesson = lesson(TEXT);
    let start = State {
        node: 1,
        side: Color::White,
    };
    let (after, _) = update(&lesson, start, Intent::Next(None));
    assert_eq!(lesson.node(after.node).san, "d5");
}
