//! Puts new notation between old, and takes old out, so that what is around it stays as it is written.

use super::laid::Laid;
use super::style::{Style, column, indent};
use super::writer::{Lead, Piece, Writer, ends_with_line_comment, would_join};
use crate::edit::asked::Splice;
use crate::notation::Item;
use crate::text::Span;

/// Where something new is put.
pub struct Spot<'a> {
    /// The byte after which it comes.
    pub after: u32,
    /// Whether a comment that ends its line is before it.
    pub is_after_line: bool,
    /// Of what begins a line of its own the white space before it.
    pub row: Option<&'a str>,
    /// What is written before the move that comes next: its number, which it did without so far.
    pub number: Option<String>,
}

impl<'a> Spot<'a> {
    /// After an item of the text.
    pub fn after(laid: &Laid<'_>, item: Item) -> Spot<'a> {
        Spot {
            after: laid.whole(&item).to,
            is_after_line: laid.source.slice(item.span).starts_with(';'),
            row: None,
            number: None,
        }
    }

    /// The splice that puts the pieces there.
    pub fn insert(&self, text: &str, style: &Style, pieces: &[Piece]) -> Splice {
        let rest = text.get(self.after as usize..).unwrap_or_default();
        let next = rest.trim_start_matches([' ', '\t']);
        let gap = &rest[..rest.len() - next.len()];
        let is_alone = next.is_empty() || next.starts_with(['\n', '\r']);
        let own = indent(text, self.after);
        let lead = match self.row {
            Some(_) => Lead::Line,
            None => Lead::Space,
        };
        let start = column(text, self.after);
        let mut writer = Writer::new(style, self.row.unwrap_or(own), start, lead);
        if self.is_after_line {
            writer = writer.after_line_comment();
        }
        writer.pieces(pieces);
        let ends_line = writer.ends_line();
        let (mut new, column) = writer.finish();
        if is_alone {
            // What is at the end of its line goes on there.
            return Splice {
                span: Span::new(self.after as usize, self.after as usize),
                text: new,
            };
        }
        let line = next.lines().next().unwrap_or_default().trim_end();
        let number = self.number.as_deref().unwrap_or_default();
        let length = number.chars().count() + line.chars().count();
        let is_full = column.saturating_add(1 + length) > style.columns;
        let may_break = !next.starts_with([')', '%']);
        if ends_line || self.row.is_some() || (is_full && may_break) {
            new += style.end;
            new += own;
        } else if !gap.is_empty() && next.starts_with(')') {
            new += gap;
        } else if !next.starts_with(')') {
            new.push(' ');
        }
        new += number;
        Splice {
            span: Span::new(self.after as usize, self.after as usize + gap.len()),
            text: new,
        }
    }
}

/// The splice that takes these bytes out, with the white space or the lines that they leave empty.
pub fn cut(text: &str, span: Span) -> Splice {
    let blank = |it: char| matches!(it, ' ' | '\t');
    let before = text.get(..span.from as usize).unwrap_or_default();
    let after = text.get(span.to as usize..).unwrap_or_default();
    let start = before.trim_end_matches(blank);
    let end = after.trim_start_matches(blank);
    let (from, to) = (start.len(), text.len() - end.len());
    let begins = start.is_empty() || start.ends_with('\n');
    let ends = end.is_empty() || end.starts_with(['\n', '\r']);
    let line_end = match end.starts_with("\r\n") {
        true => 2,
        false => usize::from(end.starts_with('\n')),
    };
    let new = |from: usize, to: usize, text: &str| Splice {
        span: Span::new(from, to),
        text: text.to_owned(),
    };
    match (begins, ends) {
        (true, true) if line_end > 0 => new(from, to + line_end, ""),
        // The last line: the line end before it goes.
        (true, true) => {
            let kept = start
                .strip_suffix('\n')
                .map_or(start, |it| it.strip_suffix('\r').unwrap_or(it));
            new(kept.len(), to, "")
        }
        (true, false) => new(span.from as usize, to, ""),
        (false, _) if would_join(start, after) => new(from, span.to as usize, " "),
        (false, false) if start.ends_with('(') => new(span.from as usize, to, ""),
        (false, _) => new(from, span.to as usize, ""),
    }
}

/// What is written between a piece of notation and its closing bracket: a new line after a comment that ends its line.
pub fn closing(style: &Style, text: &str) -> &'static str {
    match ends_with_line_comment(text) {
        true => style.end,
        false => "",
    }
}

/// Pieces of notation as they are written, one after the other with a space, or on a new line after a comment that
/// ends its line.
pub fn joined(style: &Style, parts: &[String]) -> String {
    let mut text = String::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        if !text.is_empty() {
            text += if ends_with_line_comment(&text) {
                style.end
            } else {
                " "
            };
        }
        text += part;
    }
    text
}
