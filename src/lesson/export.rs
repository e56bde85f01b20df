//! A lesson as PGN in the standard's export format.

use super::tree::{Lesson, LineId, NodeId};
use crate::notation::Comment;
use crate::notation::printer::Printer;
use crate::text::Listed;
use shakmaty::Position;

/// The seven tags that every game has, in their order, and what is written for an unknown value
/// (PGN standard, 8.1.1).
const ROSTER: [(&str, &str); 7] = [
    ("Event", "?"),
    ("Site", "?"),
    ("Date", "????.??.??"),
    ("Round", "?"),
    ("White", "?"),
    ("Black", "?"),
    ("Result", "*"),
];

/// The text held more than the lesson does, and to write the lesson would lose it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Incomplete;

/// The lesson as PGN, with a blank line at its end.
///
/// # Errors
/// Where words of the text could not be read or were ignored: nobody should overwrite a lesson
/// with less. With `partial` what was read is written anyway.
pub fn export(lesson: &Lesson, partial: bool) -> Result<String, Incomplete> {
    let is_whole = lesson.unread.is_empty() && !lesson.passed_over;
    if !is_whole && !partial {
        return Err(Incomplete);
    }
    let mut printer = Printer::default();
    tags(lesson, &mut printer);
    printer.blank_line();
    Writer {
        lesson,
        beside: lesson.beside(),
        printer: &mut printer,
        numbered: true,
    }
    .main_line();
    printer.token(lesson.result);
    printer.blank_line();
    Ok(printer.finish())
}

/// The roster first, then all others in ASCII order (8.1.1). The letters of the text are not
/// written, because what is written has English ones.
fn tags(lesson: &Lesson, printer: &mut Printer) {
    for (name, unknown) in ROSTER {
        let value = lesson.tag(name).unwrap_or(unknown);
        printer.tag(
            name,
            if name == "Result" {
                lesson.result
            } else {
                value
            },
        );
    }
    let in_roster = |name: &str| ROSTER.iter().any(|(known, _)| *known == name);
    let mut others: Vec<(&str, &str)> = lesson
        .tags
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .filter(|(name, _)| !in_roster(name) && *name != "Letters")
        .listed();
    if lesson.tag("FEN").is_some() && lesson.tag("SetUp").is_none() {
        others.push(("SetUp", "1")); // 9.7.1
    }
    // There are few, and a sort would cost the page more.
    let mut sorted: Vec<(&str, &str)> = Vec::new();
    for tag in others {
        let at = sorted.iter().position(|other| *other > tag);
        sorted.insert(at.unwrap_or(sorted.len()), tag);
    }
    for (name, value) in sorted {
        printer.tag(name, value);
    }
}

struct Writer<'a> {
    lesson: &'a Lesson,
    /// For each node the variations written beside it.
    beside: Vec<Vec<LineId>>,
    printer: &'a mut Printer,
    /// Whether the next move needs its number, Black's too: at a beginning, and after a
    /// comment, a variation or a glyph (8.2.2.2).
    numbered: bool,
}

impl Writer<'_> {
    fn main_line(&mut self) {
        let start = self.lesson.node(0);
        self.comments(&start.comments);
        for &nag in &start.nags {
            self.nag(nag);
        }
        self.variations(0);
        self.line(self.lesson.next_on_line(0));
    }

    /// A line from one of its nodes. Calls itself for variations: at most
    /// `limits::NESTING` deep.
    fn line(&mut self, from: Option<NodeId>) {
        let mut next = from;
        while let Some(id) = next {
            let node = self.lesson.node(id);
            self.comments(&node.before);
            self.number(id);
            self.printer.token(&node.san);
            self.numbered = false;
            for &nag in &node.nags {
                self.nag(nag);
            }
            self.comments(&node.comments);
            self.variations(id);
            next = self.lesson.next_on_line(id);
        }
    }

    /// The variations beside a node, which is met once.
    fn variations(&mut self, beside: NodeId) {
        for line in core::mem::take(&mut self.beside[beside as usize]) {
            let first = self.lesson.line(line).first;
            self.printer.open();
            self.numbered = true;
            self.line(Some(first));
            self.printer.close();
            self.numbered = true;
        }
    }

    fn number(&mut self, id: NodeId) {
        let before = self.lesson.node(id).parent.unwrap_or(0);
        let position = &self.lesson.node(before).position;
        let number = position.fullmoves();
        match (position.turn().is_white(), self.numbered) {
            (true, _) => self.printer.token(&format!("{number}.")),
            (false, true) => self.printer.token(&format!("{number}...")),
            (false, false) => {}
        }
    }

    fn nag(&mut self, nag: u8) {
        self.printer.token(&format!("${nag}"));
        self.numbered = true;
    }

    fn comments(&mut self, comments: &[Comment]) {
        for comment in comments {
            self.printer.comment(comment.text());
            self.numbered = true;
        }
    }
}
