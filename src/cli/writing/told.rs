//! Changes of lessons in words and as JSON.

use crate::compare::{Change, What};
use crate::lesson::numbered;
use crate::notation::word::nag;
use crate::text::number_of;
use serde_json::{Value, json};
use shakmaty::Color;

/// Which lesson.
#[derive(Clone, Debug)]
pub struct Place {
    pub file: String,
    /// Its number in the file, from 1.
    pub game: usize,
}

/// One change of one lesson, or a whole lesson.
pub struct Line {
    place: Place,
    start: (Color, u32),
    what: Told,
}

enum Told {
    Change(Change),
    /// A lesson that one of the two has: its text there, and its moves.
    Game(Option<String>, Option<String>, usize),
}

impl Line {
    pub fn new(place: Place, start: (Color, u32), change: Change) -> Line {
        Line {
            place,
            start,
            what: Told::Change(change),
        }
    }

    pub fn game(place: Place, was: Option<String>, now: Option<String>, moves: usize) -> Line {
        Line {
            place,
            start: (Color::White, 1),
            what: Told::Game(was, now, moves),
        }
    }

    /// The change as a program reads it (design, section 16).
    pub fn json(&self) -> Value {
        let none: Vec<String> = Vec::new();
        let (kind, at, was, now, moves) = match &self.what {
            Told::Game(was, now, moves) => {
                let kind = if now.is_some() { "added" } else { "dropped" };
                (kind, &none, json!(was), json!(now), Some(*moves))
            }
            Told::Change(Change { at, what }) => {
                let (kind, was, now, moves) = values(what);
                (kind, at, was, now, moves)
            }
        };
        let mut line = json!({ "file": self.place.file, "game": self.place.game, "kind": kind, "at": at, "was": was, "now": now });
        if let (Some(moves), Some(line)) = (moves, line.as_object_mut()) {
            line.insert("moves".to_owned(), json!(moves));
        }
        line
    }

    /// The place by its last move, `after 4.cxd5`.
    fn after(&self, at: &[String]) -> String {
        match at.is_empty() {
            true => "at the start".to_owned(),
            false => format!("after {}", self.last(at)),
        }
    }

    fn last(&self, at: &[String]) -> String {
        let (mut turn, mut number) = self.start;
        for _ in 1..at.len() {
            number += u32::from(turn.is_black());
            turn = !turn;
        }
        numbered((turn, number), "...", at.last())
    }

    fn sentence(&self) -> String {
        let (at, what) = match &self.what {
            Told::Game(_, Some(_), moves) => {
                return format!("a new lesson, {}", number_of(*moves, "move"));
            }
            Told::Game(_, None, moves) => {
                return format!("the lesson is gone, {}", number_of(*moves, "move"));
            }
            Told::Change(Change { at, what }) => (at, what),
        };
        let before = at.split_last().map_or(&[][..], |(_, before)| before);
        match what {
            What::Added(now, moves) => {
                format!(
                    "{}, new: {now} ({})",
                    self.after(before),
                    number_of(*moves, "move")
                )
            }
            What::Dropped(was, moves) => {
                format!(
                    "{}, gone: {was} ({})",
                    self.after(before),
                    number_of(*moves, "move")
                )
            }
            What::Comment(None, Some(now)) => {
                format!("{}, a new comment: {}", self.after(at), one_line(now))
            }
            What::Comment(Some(was), None) => {
                format!("{}, the comment is gone: {}", self.after(at), one_line(was))
            }
            What::Comment(_, now) => {
                format!("{}, the comment is now: {}", self.after(at), shown(now))
            }
            What::Before(_, now) => format!(
                "before {}, the comment is now: {}",
                self.last(at),
                shown(now)
            ),
            What::Signs(was, now) => format!(
                "{} has {} and had {}",
                self.last(at),
                signs(now),
                signs(was)
            ),
            What::Order(_, now) => format!(
                "{}, the order of the moves is now {}",
                self.after(at),
                now.join(", ")
            ),
            What::Choices(was, now) => {
                format!(
                    "{}, the lesson now recommends {}, and before {}",
                    self.after(at),
                    list(now),
                    list(was)
                )
            }
            What::Tag(name, _, Some(now)) => format!("the tag {name} is now \u{201c}{now}\u{201d}"),
            What::Tag(name, _, None) => format!("the tag {name} is gone"),
            What::Result(was, now) => format!("the result is now {now}, and was {was}"),
        }
    }
}

/// Kind, old and new value, and how many moves.
fn values(what: &What) -> (&'static str, Value, Value, Option<usize>) {
    match what {
        What::Added(now, moves) => ("added", Value::Null, json!(now), Some(*moves)),
        What::Dropped(was, moves) => ("dropped", json!(was), Value::Null, Some(*moves)),
        What::Comment(was, now) => ("comment", json!(was), json!(now), None),
        What::Before(was, now) => ("before", json!(was), json!(now), None),
        What::Signs(was, now) => ("signs", json!(was), json!(now), None),
        What::Order(was, now) => ("order", json!(was), json!(now), None),
        What::Choices(was, now) => ("choices", json!(was), json!(now), None),
        What::Tag(name, was, now) => {
            let pair = |value: &Option<String>| value.as_ref().map(|value| json!([name, value]));
            ("tag", json!(pair(was)), json!(pair(now)), None)
        }
        // The standard has the result in a tag too.
        What::Result(was, now) => ("tag", json!(["Result", was]), json!(["Result", now]), None),
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn shown(text: &Option<String>) -> String {
    text.as_deref().map_or("none".to_owned(), one_line)
}

fn list(moves: &[String]) -> String {
    match moves.is_empty() {
        true => "no move".to_owned(),
        false => moves.join(", "),
    }
}

fn signs(nags: &[u8]) -> String {
    let one = |glyph: &u8| match nag::sign(*glyph) {
        "" => format!("${glyph}"),
        sign => sign.to_owned(),
    };
    match nags.is_empty() {
        true => "no sign".to_owned(),
        false => nags.iter().map(one).collect::<Vec<_>>().join(" "),
    }
}

/// A change on a line of its own.
pub fn text(line: &Line, is_one_file: bool) -> String {
    format!("{}{}", lesson(line, is_one_file), line.sentence())
}

/// The same in a list of Markdown.
pub fn markdown(line: &Line, is_one_file: bool) -> String {
    let mut escaped = String::new();
    for letter in text(line, is_one_file).chars() {
        if matches!(
            letter,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '&' | '|'
        ) {
            escaped.push('\\');
        }
        escaped.push(letter);
    }
    format!("- {escaped}")
}

fn lesson(line: &Line, is_one_file: bool) -> String {
    match (is_one_file, line.place.game) {
        (true, 1) => String::new(),
        (true, game) => format!("lesson {game}: "),
        (false, 1) => format!("{}: ", line.place.file),
        (false, game) => format!("{}, lesson {game}: ", line.place.file),
    }
}
