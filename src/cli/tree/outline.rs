//! `plyline tree` as text: the main line, then every variation with its label, each further in
//! than the line that it is beside, then the questions with their answers.

use crate::cli::out::{clip, visible};
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{self, Lesson, NodeId};
use crate::notation::word::nag;
use shakmaty::{Color, Position};
use std::io::{self, Write};

/// The columns of a page of text.
const WIDTH: usize = 80;

/// The minimum width for moves, however far a line is indented.
const LEAST: usize = 40;

/// Writes the outline of one game, and an empty line after it.
///
/// # Errors
/// Those of the output.
pub fn write(out: &mut impl Write, number: usize, lesson: &Lesson) -> io::Result<()> {
    let title = match lesson
        .tag("Event")
        .filter(|event| !matches!(*event, "" | "?"))
    {
        Some(event) => format!("Game {number}: {}", visible(&clip(event, WIDTH))),
        None => format!("Game {number}"),
    };
    writeln!(out, "{title}")?;
    if lesson.tag("FEN").is_some() {
        let start = rules::fen(&lesson.node(0).position, EnPassantForm::Legal);
        writeln!(out, "  from {start}")?;
    }
    let main: Vec<NodeId> = lesson.line_nodes(0).skip(1).collect(); // node 0 is no move
    let mut words = words(lesson, &main);
    words.push(match main.is_empty() {
        true => "no moves".to_owned(),
        false => lesson.result.to_owned(),
    });
    paragraph(out, 2, "", &words)?;
    for entry in lesson::outline(lesson) {
        let nodes: Vec<NodeId> = lesson.line_nodes(entry.line).collect();
        let indent = 2 + 2 * entry.depth as usize;
        let label = format!("{}  ", lesson.line(entry.line).label);
        paragraph(out, indent, &label, &self::words(lesson, &nodes))?;
    }
    for id in lesson.ids() {
        if let Some(ask) = lesson.node(id).ask() {
            paragraph(out, 2, "", &question(lesson, id, ask.prompt.text()))?;
        }
    }
    writeln!(out)
}

/// Where a question is asked, of which side, its right moves, and its prompt.
fn question(lesson: &Lesson, id: NodeId, prompt: &str) -> Vec<String> {
    let node = lesson.node(id);
    let place = match node.parent {
        Some(_) => format!("after {}", lesson.numbered(id)),
        None => "at the start".to_owned(),
    };
    let right = lesson.choices(id);
    let right: Vec<String> = right.into_iter().map(|id| lesson.numbered(id)).collect();
    let right = match right.is_empty() {
        true => "no answer".to_owned(),
        false => right.join(" or "),
    };
    let text = format!(
        "asks {place}, {} to move: {right} ({})",
        match node.position.turn() {
            Color::White => "White",
            Color::Black => "Black",
        },
        visible(&clip(prompt, WIDTH))
    );
    text.split_whitespace().map(str::to_owned).collect()
}

/// The moves of a line, each with its signs, the first one and White's with their number.
fn words(lesson: &Lesson, nodes: &[NodeId]) -> Vec<String> {
    let mut words = Vec::with_capacity(nodes.len());
    for &id in nodes {
        let node = lesson.node(id);
        let before = &lesson.node(node.parent.unwrap_or(id)).position;
        let number = before.fullmoves();
        let mut word = match (before.turn(), words.is_empty()) {
            (Color::White, _) => format!("{number}."),
            (Color::Black, true) => format!("{number}..."),
            (Color::Black, false) => String::new(),
        };
        word += &node.san;
        for &sign in &node.nags {
            word += nag::sign(sign);
        }
        words.push(word);
    }
    words
}

/// Words on lines of at most 80 columns; those after the first line begin under its words.
fn paragraph(out: &mut impl Write, indent: usize, label: &str, words: &[String]) -> io::Result<()> {
    let hang = indent + label.len();
    let hang = hang.min(WIDTH - LEAST);
    let mut line = format!("{}{label}", " ".repeat(indent.min(WIDTH - LEAST)));
    let mut is_empty = true;
    for word in words {
        let length = line.chars().count() + 1 + word.chars().count();
        if !is_empty && length > WIDTH {
            writeln!(out, "{line}")?;
            line = " ".repeat(hang);
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line += word;
        is_empty = false;
    }
    writeln!(out, "{line}")
}
