//! Intents by chance.

use super::chance::Chance;
use plyline::ask::recall::Recall;
use plyline::ask::schedule::Progress;
use plyline::lesson::Lesson;
use plyline::lesson::place::address::follow;
use plyline::view::{Command, Intent, Keeping, Memory, Report, Switch};
use shakmaty::{Color, Role, Square};

/// Makes an intent of one kind; none if the lesson has nothing that it could be about.
type Make = fn(&mut Chance, &Lesson) -> Option<Intent>;

/// One kind of intent.
struct Kind {
    /// How often it comes, against the others.
    weight: usize,
    make: Make,
    is_made: fn(&Intent) -> bool,
}

macro_rules! kinds {
    ($(($chance:pat, $lesson:pat) $weight:literal $pattern:pat => $make:expr;)*) => {
        const KINDS: &[Kind] = &[$(Kind {
            weight: $weight,
            make: |$chance: &mut Chance, $lesson: &Lesson| $make,
            is_made: |intent| matches!(intent, $pattern),
        }),*];

        /// Compiles only while the list above has every intent that there is.
        #[deny(unreachable_patterns)]
        fn has_kind(intent: &Intent) {
            match intent {
                $($pattern => {})*
            }
        }
    };
}

kinds! {
    (chance, lesson) 1 Intent::Go(_) => Some(Intent::Go(any_node(chance, lesson)));
    (chance, lesson) 1 Intent::Open(_) => Some(Intent::Open(any_node(chance, lesson)));
    (chance, lesson) 1 Intent::Told(..) => {
        let place = plyline::lesson::Place::of(any_node(chance, lesson));
        Some(Intent::Told(place, any_node(chance, lesson)))
    };
    (chance, lesson) 1 Intent::Enter(_) => {
        let run = chance.pick(&["1.e4_e5", "1.d4", "2.Nf3", "1.a3_a6_2.h4", ""]);
        Some(Intent::Enter(follow(lesson, run).unwrap_or_default()))
    };
    (chance, _) 1 Intent::Next(Some(_)) => Some(Intent::Next(Some(chance.below(4))));
    (_, _) 1 Intent::Next(None) => Some(Intent::Next(None));
    (_, _) 1 Intent::Back => Some(Intent::Back);
    (_, _) 1 Intent::Top => Some(Intent::Top);
    (_, _) 1 Intent::Home => Some(Intent::Home);
    (_, _) 1 Intent::Turn => Some(Intent::Turn);
    (chance, _) 1 Intent::Side(_) => {
        Some(Intent::Side(chance.pick(&[Color::White, Color::Black])))
    };
    // A move needs two squares.
    (chance, _) 3 Intent::Square(_) => Some(Intent::Square(any_square(chance)));
    (chance, _) 1 Intent::Move(..) => {
        Some(Intent::Move(any_square(chance), any_square(chance)))
    };
    (chance, _) 1 Intent::Promote(_) => {
        Some(Intent::Promote(chance.pick(&[Role::Queen, Role::Knight])))
    };
    (_, _) 1 Intent::Release => Some(Intent::Release);
    (chance, _) 1 Intent::Cursor(_) => Some(Intent::Cursor(any_square(chance)));
    (chance, _) 1 Intent::Typed(_) => {
        let moves = ["Nf3", "e5", "c4", "d5", "Kd9"];
        let words = ["hello", "describe", "what attacks e4", "what is pinned", "legal moves", "material", ""];
        Some(Intent::Typed(chance.pick(&[&moves[..], &words].concat()).to_owned()))
    };
    (_, _) 1 Intent::Play(_) => Some(Intent::Play("e4".to_owned()));
    (chance, _) 1 Intent::Ask(_) => Some(Intent::Ask(Command::On(any_square(chance))));
    (_, _) 1 Intent::Map => Some(Intent::Map);
    (_, _) 1 Intent::Desk => Some(Intent::Desk);
    (_, _) 1 Intent::Shut => Some(Intent::Shut);
    (_, _) 1 Intent::Alone => Some(Intent::Alone);
    (chance, _) 1 Intent::Switch(..) => {
        let which = chance.pick(&[Switch::Map, Switch::Alone, Switch::Shut]);
        Some(Intent::Switch(which, chance.pick(&[None, Some(true), Some(false)])))
    };
    (chance, _) 1 Intent::Aloud(_) => Some(Intent::Aloud(chance.one_in(2)));
    (chance, lesson) 1 Intent::Beside(_) => Some(Intent::Beside(any_node(chance, lesson)));
    // Two more than there are, because a page may ask for lines that are not there.
    (chance, lesson) 1 Intent::Fold(_) => {
        Some(Intent::Fold(chance.below(lesson.lines.len() + 2) as u32))
    };
    (chance, _) 1 Intent::Report(_) => Some(Intent::Report(match chance.one_in(2) {
        true => Report::Copied,
        false => Report::NoPlace("9.Qh5".to_owned()),
    }));
    (_, _) 1 Intent::Hint => Some(Intent::Hint);
    (_, _) 1 Intent::Show(None) => Some(Intent::Show(None));
    (chance, lesson) 1 Intent::Show(Some(_)) => {
        Some(Intent::Show(Some(any_node(chance, lesson))))
    };
    (_, _) 1 Intent::Again => Some(Intent::Again);
    (_, _) 1 Intent::OpenAll => Some(Intent::OpenAll);
    (chance, lesson) 1 Intent::Recall(_) => {
        // For White, as is every recall that a test begins: an element keeps its side.
        let (seed, nothing) = (chance.below(100) as u32, Progress::default());
        let recall = Recall::new(lesson, 0, Color::White, seed, &nothing, 0);
        Some(Intent::Recall(Box::new(recall?)))
    };
    (_, _) 1 Intent::Stop => Some(Intent::Stop);
    (chance, _) 1 Intent::Memory(_) => Some(Intent::Memory(Memory {
        keeping: chance.pick(&[
            Keeping::Never,
            Keeping::Offered,
            Keeping::Kept,
            Keeping::Forgetting,
        ]),
        due: chance.below(3) as u32,
        known: chance.below(3) as u32,
        ..Memory::default()
    }));
}

/// Two more than there are, because a page may ask for nodes that are not there.
fn any_node(chance: &mut Chance, lesson: &Lesson) -> u32 {
    chance.below(lesson.nodes.len() + 2) as u32
}

fn any_square(chance: &mut Chance) -> Square {
    chance.pick(&Square::ALL)
}

/// Anything that a reader or a page can do, and some of what neither can.
pub fn any_intent(chance: &mut Chance, lesson: &Lesson) -> Intent {
    loop {
        let mut at = chance.below(KINDS.iter().map(|kind| kind.weight).sum());
        let kind = KINDS.iter().find(|kind| match at.checked_sub(kind.weight) {
            Some(rest) => {
                at = rest;
                false
            }
            None => true,
        });
        let kind = kind.expect("the number is below the sum of all weights");
        if let Some(intent) = (kind.make)(chance, lesson) {
            has_kind(&intent);
            assert!((kind.is_made)(&intent), "{intent:?} is of another kind");
            return intent;
        }
    }
}
