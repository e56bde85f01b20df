//! Makes the edits that tests/oracles/edits.py asks for: a line of JSON in, a line out.
//!
//! In: `text`, `game` (from 0), `edit` with its `kind`, `at` and what else it has; with `page`, `markdown` or `html`,
//! the text is a page, and its first lesson is edited. Out: `text`, `splices` (from and to
//! in bytes, and the text), `at`, `unread`; or `refused`, with `why`, `reason` and `help`.

use plyline::edit::{Changed, Edit, Refused, edit, edit_post};
use plyline::post::Kind;
use serde_json::{Value, json};
use std::io::{self, BufRead};

fn main() {
    for line in io::stdin().lock().lines() {
        let line = line.expect("a line of standard input");
        let asked: Value = serde_json::from_str(&line).expect("JSON");
        println!("{}", answer(&asked));
    }
}

fn answer(asked: &Value) -> Value {
    let text = asked["text"].as_str().expect("a text");
    let game = asked["game"].as_u64().unwrap_or_default() as usize;
    let wanted = wanted(&asked["edit"]);
    let done = match asked["page"].as_str() {
        None => edit(text, game, &wanted),
        Some("html") => edit_post(text, Kind::Html, 0, &wanted),
        Some(_) => edit_post(text, Kind::Markdown, 0, &wanted),
    };
    match done {
        Ok(changed) => made(&changed),
        Err(Refused { why, reason, help }) => {
            json!({ "refused": { "why": why.code(), "reason": reason, "help": help } })
        }
    }
}

fn made(changed: &Changed) -> Value {
    let splices = changed.splices.iter();
    let splices: Vec<Value> = splices
        .map(|it| json!([it.span.from, it.span.to, it.text]))
        .collect();
    json!({ "text": changed.text, "splices": splices, "at": changed.at, "unread": changed.unread })
}

fn wanted(edit: &Value) -> Edit {
    let list = |name: &str| -> Vec<String> {
        let words = edit[name].as_array().into_iter().flatten();
        words
            .filter_map(|it| Some(it.as_str()?.to_owned()))
            .collect()
    };
    let word = |name: &str| edit[name].as_str().unwrap_or_default().to_owned();
    let at = list("at");
    match edit["kind"].as_str().expect("a kind") {
        "keep" => Edit::Keep {
            at,
            moves: list("moves"),
        },
        "change" => Edit::Change {
            at,
            moves: list("moves"),
        },
        "comment" => Edit::Comment {
            at,
            nth: edit["nth"].as_u64().unwrap_or_default() as usize,
            was: word("was"),
            text: word("text"),
        },
        "sign" => Edit::Sign {
            at,
            nags: edit["nags"]
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(|it| it.as_u64())
                .map(|it| it as u8)
                .collect(),
        },
        "drop" => Edit::Drop { at },
        "lift" => Edit::Lift { at },
        "paste" => Edit::Paste {
            at,
            text: word("text"),
        },
        other => panic!("no such edit: {other}"),
    }
}
