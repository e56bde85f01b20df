//! A draft as PGN.

use super::draft::{Draft, Node};
use super::reading::Places;
use crate::check::author::drafted;
use crate::lesson::{at_move, dots, numbered};
use crate::notation::comment::clock::written;
use crate::notation::comment::hear::WORD;
use shakmaty::{Chess, Color, Position};

/// The draft as PGN, with these tags.
pub fn pgn(draft: &Draft, places: &Places, tags: &[(String, String)]) -> String {
    let mut moves = String::new();
    let writer = Writer { draft, places };
    if let Some(first) = draft.nodes.first() {
        writer.after(first, &mut moves);
    }
    writer.line(0, &mut moves);
    let tags = tags.iter().map(|(name, value)| (&**name, &**value));
    drafted(tags, places.position(0), &moves)
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

/// The last of some moves with its number: `5...c5`.
pub fn run_of_last(start: &Chess, moves: &[String]) -> Option<String> {
    let (last, before) = moves.split_last()?;
    let half_moves = usize::from(start.turn().is_black()) + before.len();
    let number = start.fullmoves().get() + (half_moves / 2) as u32; // a path of half-moves
    let turn = Color::from_white(half_moves.is_multiple_of(2));
    Some(numbered((turn, number), "...", [last]))
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
    Some(format!("{WORD} {}", times.join(", ")))
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
            let start = at_move(self.places.position(0));
            let run = numbered(start, "...", path(self.draft, same));
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
