//! Lines of a lesson as movetext, in the PGN standard's export format without line breaks.

use super::acts::grow::{Begin, after, line};
use super::held::{Held, said};
use super::written::style::Style;
use super::written::writer::{Lead, Piece, Writer};
use crate::lesson::{Lesson, NodeId, at_move, numbered};
use shakmaty::Color;

/// A line from its first move on, with its comments, signs and variations. Empty for the start.
pub fn movetext(lesson: &Lesson, first: NodeId) -> String {
    let mut held = Held::default();
    let new = held.add(0, said(lesson, first));
    let mut open = vec![(first, new)];
    while let Some((id, new)) = open.pop() {
        if let Some(said) = held.nodes.get_mut(new) {
            said.children.clear();
        }
        for &child in lesson.node(id).children.iter() {
            open.push((child, held.add(new, said(lesson, child))));
        }
    }
    let Some(parent) = lesson.node(first).parent else {
        return String::new();
    };
    let at = at_move(&lesson.node(parent).position);
    let mut pieces = Vec::new();
    line(
        &Style::standard(),
        &held,
        new,
        at,
        Begin::Variation,
        &mut pieces,
    );
    written(&pieces)
}

/// All that a tree holds, from a position in which it is a side's turn to make a move of a number.
pub fn whole(held: &Held, at: (Color, u32)) -> String {
    let mut pieces = Vec::new();
    if let Some(start) = held.nodes.first() {
        pieces.extend(start.comments.iter().cloned().map(Piece::Comment));
        after(&Style::standard(), held, 0, at, &mut pieces);
    }
    written(&pieces)
}

/// The sentence with a link that the other road to a position has; `run` leads there from a start at which it is a
/// side's turn to make a move of a number.
pub fn link(start: (Color, u32), run: &[String]) -> String {
    // As addresses have them (design, section 6).
    let bare = run.iter().map(|san| san.trim_end_matches(['+', '#']));
    let bare: Vec<&str> = bare.collect();
    match bare.split_last() {
        None => "This is the position at the [start](#start).".to_owned(),
        Some((last, before)) => {
            let place = numbered(start, "...", &bare).replace(' ', "_");
            let last = numbered(later(start, before.len()), "...", [last]);
            format!("This is the position after [{last}](#{place}).")
        }
    }
}

/// Whose turn it is and at which number, so many half-moves after that.
fn later((turn, number): (Color, u32), half_moves: usize) -> (Color, u32) {
    let mut at = (turn, number);
    for _ in 0..half_moves {
        at = (!at.0, at.1 + u32::from(at.0.is_black()));
    }
    at
}

fn written(pieces: &[Piece]) -> String {
    let style = Style::standard();
    let mut writer = Writer::new(&style, "", 0, Lead::Close);
    writer.pieces(pieces);
    let ends_line = writer.ends_line();
    let (mut text, _) = writer.finish();
    if ends_line {
        text.push('\n');
    }
    text
}
