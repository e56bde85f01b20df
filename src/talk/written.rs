//! A draft as PGN.

use super::captions::written;
use super::draft::{Draft, Node};
use super::reading::Places;
use crate::check::author;
use crate::lesson::rules::{EnPassantForm, fen, position_name};
use crate::lesson::{dots, export};
use crate::text::Source;
use shakmaty::{Chess, Position};

/// The word with which a paragraph of times begins.
pub const HEAR: &str = "Hear:";

/// The draft as PGN, with these tags.
pub fn pgn(draft: &Draft, places: &Places, tags: &[(String, String)]) -> String {
    let mut text = String::new();
    let escape = |text: &str| text.replace('\\', "\\\\").replace('"', "\\\"");
    for (name, value) in tags {
        text += &format!("[{name} \"{}\"]\n", escape(value));
    }
    let start = places.position(0);
    let is_usual = position_name(start) == position_name(&Chess::default());
    if !is_usual && !tags.iter().any(|it| it.0 == "FEN") {
        let fen = fen(start, EnPassantForm::Legal);
        text += &format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n");
    }
    text.push('\n');
    let writer = Writer { draft, places };
    if let Some(first) = draft.nodes.first() {
        writer.after(first, &mut text);
    }
    writer.line(0, &mut text);
    text += "*\n";
    // As all PGN is written here.
    let (lessons, _) = author::lessons(&Source::new("draft", text.as_str()));
    let lesson = lessons.into_iter().flatten().next();
    lesson.and_then(|it| export(&it, true).ok()).unwrap_or(text)
}

/// The moves to a node, in SAN.
pub fn path(draft: &Draft, mut at: usize) -> Vec<String> {
    let mut words = Vec::new();
    while let Some((before, node)) = draft.nodes.get(at).and_then(|it| Some((it.parent?, it))) {
        words.push(node.san.trim_end_matches(['+', '#']).to_owned());
        at = before;
    }
    words.reverse();
    words
}

/// Moves as a run with numbers, from a position: `1.e4 c5 2.Nf3`.
fn run(start: &Chess, moves: &[String]) -> String {
    let mut number = start.fullmoves().get();
    let mut turn = start.turn();
    let mut words = Vec::new();
    for (at, san) in moves.iter().enumerate() {
        words.push(match turn.is_white() || at == 0 {
            true => format!("{number}{}{san}", dots(turn)),
            false => san.clone(),
        });
        number += u32::from(turn.is_black());
        turn = !turn;
    }
    words.join(" ")
}

/// The last of some moves with its number: `5...c5`.
pub fn run_of_last(start: &Chess, moves: &[String]) -> Option<String> {
    let all = run(start, moves);
    let last = all.split(' ').next_back().filter(|it| !it.is_empty())?;
    if last.starts_with(|it: char| it.is_ascii_digit()) {
        return Some(last.to_owned());
    }
    // Black's move: the number is that of the word before.
    let mut before = all.split(' ').rev().skip(1);
    let number = before.next()?;
    let digits: String = number.chars().take_while(char::is_ascii_digit).collect();
    Some(format!("{digits}...{last}"))
}

/// The times of a node as a paragraph: the passage that explains it most first, the others in their order.
pub fn hear(node: &Node) -> Option<String> {
    let longest = node.heard.iter().enumerate();
    let longest = longest.max_by_key(|(at, (_, words))| (*words, std::cmp::Reverse(*at)))?;
    let first = written(longest.1.0);
    let mut times = vec![first];
    for (from, _) in &node.heard {
        let time = written(*from);
        if !times.contains(&time) {
            times.push(time);
        }
    }
    Some(format!("{HEAR} {}", times.join(", ")))
}

struct Writer<'a> {
    draft: &'a Draft,
    places: &'a Places,
}

impl Writer<'_> {
    fn node(&self, at: usize) -> &Node {
        &self.draft.nodes[at] // numbers of nodes come from the draft
    }

    /// The moves after a node: the first goes on, the others are variations beside it. Calls itself for those.
    fn line(&self, at: usize, text: &mut String) {
        let mut at = at;
        while let Some(&first) = self.node(at).children.first() {
            self.word(at, first, text);
            for &other in self.node(at).children.get(1..).unwrap_or_default() {
                text.push_str("\n(");
                self.word(at, other, text);
                self.line(other, text);
                text.push_str(")\n");
            }
            at = first;
        }
    }

    fn word(&self, before: usize, at: usize, text: &mut String) {
        let position = self.places.position(self.node(before).place);
        let node = self.node(at);
        for words in &node.before {
            *text += &format!("{{{words}}} ");
        }
        let (number, dots) = (position.fullmoves(), dots(position.turn()));
        *text += &format!("{number}{dots} {} ", node.san);
        for nag in &node.nags {
            *text += &format!("${nag} ");
        }
        self.after(node, text);
    }

    /// What is written after a move.
    fn after(&self, node: &Node, text: &mut String) {
        let mut paragraphs = Vec::new();
        if !node.comments.is_empty() {
            paragraphs.push(match node.given {
                true => node.comments.join("\n\n"),
                false => node.comments.join(" "),
            });
        }
        if let Some(same) = node.same {
            let run = run(self.places.position(0), &path(self.draft, same));
            let link = run.replace(' ', "_");
            paragraphs.push(match run.is_empty() {
                true => "This is the position at the start.".to_owned(),
                false => {
                    format!("By another order this is [the position after {run}](#{link}).")
                }
            });
        }
        if let Some(condition) = &node.choose {
            paragraphs.push(format!("Choose: {condition}"));
        }
        paragraphs.extend(hear(node));
        if !paragraphs.is_empty() {
            *text += &format!("{{{}}} ", paragraphs.join("\n\n"));
        }
    }
}
