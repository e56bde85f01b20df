//! Intents by chance.

use plyline::lesson::Lesson;
use plyline::lesson::place::address::follow;
use plyline::view::Intent;
use plyline::view::command::Command;
use shakmaty::{Color, Role, Square};

/// A small generator of numbers (xorshift, Marsaglia 2003), so that a failure can be repeated.
pub struct Chance(pub u64);

impl Chance {
    pub fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }
}

fn any_square(chance: &mut Chance) -> Square {
    Square::ALL[chance.below(64) as usize]
}

/// Anything that a reader can do, and some of what a reader cannot.
pub fn any_intent(chance: &mut Chance, lesson: &Lesson) -> Intent {
    match chance.below(29) {
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
        12 => Intent::Promote([Role::Queen, Role::Knight][chance.below(2) as usize]),
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
        17 => Intent::Cursor(any_square(chance)),
        18 => Intent::Copied(chance.below(2) == 0),
        19 => Intent::Play("e4".to_owned()),
        20 => Intent::Shut,
        21 => {
            let runs = ["1.e4_e5", "1.d4", "2.Nf3", "1.a3_a6_2.h4", ""];
            let run = runs[chance.below(runs.len() as u64) as usize];
            Intent::Enter(follow(lesson, run).unwrap_or_default())
        }
        22 => Intent::Open(chance.below(lesson.nodes.len() as u64 + 2) as u32),
        23 => Intent::Hint,
        24 => Intent::Show(None),
        25 => Intent::Show(Some(chance.below(lesson.nodes.len() as u64 + 2) as u32)),
        26 => Intent::Again,
        27 => Intent::OpenAll,
        _ => Intent::Fold(chance.below(lesson.lines.len() as u64 + 2) as u32),
    }
}
