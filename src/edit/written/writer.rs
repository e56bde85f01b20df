//! Lays new words out in the lines of a text: spaces between them, a new line where one is full.

use super::style::Style;
use crate::text::is_letter_or_digit;

/// What makes a mark of a template language of the brace before it: a space goes between the two.
pub const MARKS: [char; 3] = ['%', '{', '#'];

/// Something to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// A word that is not broken.
    Word(String),
    /// `(`, close to what comes next.
    Open,
    /// `)`, close to what came before.
    Close,
    /// A comment without its braces; paragraphs are parted by blank lines.
    Comment(String),
    /// A white move begins here: a new line where the lesson has one for each.
    Row,
}

/// How what is written begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// Without a space.
    Close,
    /// After a space, or on a new line where the line is full.
    Space,
    /// On a new line.
    Line,
}

/// A text that grows by words.
pub struct Writer<'a> {
    style: &'a Style,
    indent: &'a str,
    text: String,
    column: usize,
    lead: Lead,
    opening: String,
    /// Whether the last thing is a comment that ends its line.
    ends_line: bool,
    /// Whether it is one of ours, right below which another would be read as its second line.
    after_comment: bool,
}

impl<'a> Writer<'a> {
    /// One that goes on at a column; new lines get this white space at their beginning.
    pub fn new(style: &'a Style, indent: &'a str, column: usize, lead: Lead) -> Writer<'a> {
        Writer {
            style,
            indent,
            text: String::new(),
            column,
            lead,
            opening: String::new(),
            ends_line: false,
            after_comment: false,
        }
    }

    /// After a comment of the text that ends its line.
    pub fn after_line_comment(mut self) -> Writer<'a> {
        self.lead = Lead::Line;
        self.after_comment = true;
        self
    }

    pub fn pieces(&mut self, pieces: &[Piece]) {
        for piece in pieces {
            match piece {
                Piece::Word(word) => self.word(word),
                Piece::Open => self.opening.push('('),
                Piece::Close => self.close(),
                Piece::Comment(text) if text.contains('}') => self.line_comment(text),
                Piece::Comment(text) => self.comment(text),
                Piece::Row => {
                    if self.lead == Lead::Space {
                        self.lead = Lead::Line;
                    }
                }
            }
        }
    }

    /// The text, and the column after it.
    pub fn finish(self) -> (String, usize) {
        (self.text, self.column)
    }

    /// Whether what comes next must be on a new line.
    pub fn ends_line(&self) -> bool {
        self.ends_line
    }

    pub fn new_line(&mut self) {
        self.text += self.style.end;
        self.text += self.indent;
        self.column = self.indent.chars().count();
    }

    pub fn word(&mut self, word: &str) {
        self.place(word, word.chars().count());
    }

    /// Puts a word after what is there; `length` is that of what must be on one line.
    fn place(&mut self, word: &str, length: usize) {
        let opening = std::mem::take(&mut self.opening);
        let length = length + opening.len();
        let lead = std::mem::replace(&mut self.lead, Lead::Space);
        let is_full = self.column.saturating_add(1 + length) > self.style.columns;
        match lead {
            _ if std::mem::take(&mut self.ends_line) => self.new_line(),
            Lead::Line => self.new_line(),
            // A word that no line can hold is not better placed on the next.
            Lead::Space if is_full && self.column > self.indent.chars().count() => self.new_line(),
            Lead::Space => {
                self.text.push(' ');
                self.column += 1;
            }
            Lead::Close => {}
        }
        // `%` first in a line would make an escape line of it (PGN standard, section 6).
        if self.column == 0 && word.starts_with('%') && opening.is_empty() {
            self.text.push(' ');
            self.column += 1;
        }
        self.after_comment = false;
        self.text += &opening;
        self.text += word;
        self.column += opening.len() + word.chars().count();
    }

    fn close(&mut self) {
        match self.ends_line {
            true => self.place(")", 1),
            false => {
                self.text.push(')');
                self.column += 1;
            }
        }
        self.after_comment = false;
    }

    /// The words of a comment one by one, where a comment is written already or around these.
    pub fn comment(&mut self, text: &str) {
        let pad = if self.style.padded { " " } else { "" };
        let mut words = words(text).into_iter().peekable();
        let is_mark = text.trim_start().starts_with(MARKS);
        let mut open = format!("{{{}", if is_mark { " " } else { pad });
        while let Some((word, is_paragraph)) = words.next() {
            let close = match words.peek() {
                Some(_) => String::new(),
                None => format!("{pad}}}"),
            };
            let word = format!("{}{word}{close}", std::mem::take(&mut open));
            if is_paragraph {
                self.paragraph();
            }
            self.word(&word);
        }
    }

    /// Parts two paragraphs of a comment.
    pub fn paragraph(&mut self) {
        self.text += self.style.end;
        self.lead = Lead::Line;
    }

    /// A comment that holds `}`: lines of `;`, and nothing after them.
    fn line_comment(&mut self, text: &str) {
        if self.after_comment {
            self.place("{}", 2);
            self.new_line();
            self.lead = Lead::Close;
        }
        let words = words(text);
        let mut words = words.iter().map(|(word, _)| *word);
        let first = words.next().unwrap_or_default();
        self.word(&format!(";{first}"));
        for word in words {
            let is_full = self.column.saturating_add(1 + word.chars().count()) > self.style.columns;
            let sign = if is_full { ";" } else { " " };
            if is_full {
                self.new_line();
            }
            self.text += sign;
            self.text += word;
            self.column += 1 + word.chars().count();
        }
        self.ends_line = true;
        self.after_comment = true;
    }
}

/// The words of a comment, and whether a paragraph begins with each.
pub fn words(text: &str) -> Vec<(&str, bool)> {
    let mut words = Vec::new();
    let mut rest = text;
    loop {
        let word = rest.trim_start();
        if word.is_empty() {
            return words;
        }
        let gap = &rest[..rest.len() - word.len()];
        let is_paragraph = !words.is_empty() && gap.matches('\n').count() > 1;
        let length = word.find(char::is_whitespace).unwrap_or(word.len());
        words.push((&word[..length], is_paragraph));
        rest = &word[length..];
    }
}

/// Whether a piece of notation ends with a comment that goes to the end of its line.
pub fn ends_with_line_comment(text: &str) -> bool {
    use crate::notation::{Lexer, TokenKind};
    let last = Lexer::new(text)
        .filter(|it| it.kind != TokenKind::Space)
        .last();
    last.is_some_and(|it| matches!(it.kind, TokenKind::LineComment | TokenKind::Escape))
}

/// Whether two texts would be one word without a space.
pub fn would_join(before: &str, after: &str) -> bool {
    let ends = before
        .chars()
        .next_back()
        .is_some_and(|it| !it.is_whitespace() && !matches!(it, '(' | ')' | '{' | '}'));
    let goes_on = |it: char| {
        is_letter_or_digit(it) || !(it.is_whitespace() || matches!(it, '(' | ')' | '{' | ';'))
    };
    ends && after.chars().next().is_some_and(goes_on)
}
