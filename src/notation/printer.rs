//! Writes PGN in the export format of the standard (section 3.2): tag pairs, then tokens in
//! lines of fewer than 80 columns. Knows how things are written, not what they mean.

use crate::text::{has, run, split};

/// One past the most columns of a line (section 8.2.1: fewer than 80 printing characters).
const COLUMNS: usize = 80;

/// A text that grows by tags and tokens.
#[derive(Default)]
pub struct Printer {
    text: String,
    /// Characters on the line at hand.
    column: usize,
    /// What opens before the next token, without a space: `(`.
    opening: String,
    /// Whether the last line is a `;` comment.
    after_line_comment: bool,
}

impl Printer {
    /// A tag pair on a line of its own. Quotes and backslashes are protected (section 7);
    /// control characters, which strings cannot hold, become spaces.
    pub fn tag(&mut self, name: &str, value: &str) {
        self.text.push('[');
        self.text.push_str(name);
        self.text.push_str(" \"");
        for letter in value.chars() {
            match letter {
                '"' | '\\' => self.text.extend(['\\', letter]),
                letter if letter.is_control() => self.text.push(' '),
                letter => self.text.push(letter),
            }
        }
        self.text.push_str("\"]\n");
    }

    /// An empty line: after the tags, and after a game.
    pub fn blank_line(&mut self) {
        self.end_line();
        self.text.push('\n');
    }

    /// A token, after a space or on a new line.
    pub fn token(&mut self, token: &str) {
        let opening = core::mem::take(&mut self.opening);
        self.place(&opening, token, false);
    }

    /// `(`, which is close to the next token.
    pub fn open(&mut self) {
        self.opening.push('(');
    }

    /// `)`, which is close to the token before it.
    pub fn close(&mut self) {
        match self.column + 1 < COLUMNS && self.column > 0 {
            true => {
                self.text.push(')');
                self.column += 1;
            }
            false => self.place("", ")", false),
        }
    }

    /// A comment: in braces; one that holds `}` as `;` to the end of the line. Its paragraphs
    /// are parted by blank lines.
    pub fn comment(&mut self, text: &str) {
        if has(text, b'}') {
            return self.line_comment(text);
        }
        let mut first = true;
        let mut paragraphs = paragraphs(text).peekable();
        while let Some(paragraph) = paragraphs.next() {
            let mut words = split(paragraph, b' ').peekable();
            while let Some(word) = words.next() {
                let closes = words.peek().is_none() && paragraphs.peek().is_none();
                let word = match closes {
                    true => format!("{word}}}"),
                    false => word.to_owned(),
                };
                match core::mem::take(&mut first) {
                    true => self.token(&format!("{{{word}")),
                    false => self.place("", &word, true),
                }
            }
            if paragraphs.peek().is_some() {
                self.end_line();
                self.text.push('\n');
            }
        }
    }

    /// Runs of words after `;`, each on a line of its own and nothing after them. What is
    /// read back joins them again.
    fn line_comment(&mut self, text: &str) {
        if !self.opening.is_empty() {
            let opening = core::mem::take(&mut self.opening);
            self.place("", &opening, false);
        }
        self.end_line();
        if self.after_line_comment {
            // Right below it this one would be read as its second line.
            self.text.push_str("{}\n");
        }
        for word in text.split_whitespace() {
            if self.column > 0 && self.column + 1 + word.chars().count() >= COLUMNS {
                self.end_line();
            }
            self.text.push(if self.column == 0 { ';' } else { ' ' });
            self.text.push_str(word);
            self.column += 1 + word.chars().count();
        }
        self.end_line();
        self.after_line_comment = true;
    }

    /// The text so far.
    pub fn finish(mut self) -> String {
        self.end_line();
        self.text
    }

    fn end_line(&mut self) {
        if self.column > 0 {
            self.text.push('\n');
            self.column = 0;
        }
    }

    /// Puts a token after the one before it where the line has room, else on a new line. In a
    /// comment no line may begin with `%`, which would be an escape to other readers (section
    /// 6): a space goes before it, and comments are read without spaces at line ends.
    fn place(&mut self, opening: &str, token: &str, in_comment: bool) {
        let length = opening.chars().count() + token.chars().count();
        if self.column > 0 && self.column + 1 + length >= COLUMNS {
            self.end_line();
        }
        if self.column > 0 || (in_comment && token.starts_with('%')) {
            self.text.push(' ');
            self.column += 1;
        }
        self.after_line_comment = false;
        self.text.push_str(opening);
        self.text.push_str(token);
        self.column += length;
    }
}

/// The paragraphs of a comment. By bytes, because a needle of two costs more than the whole
/// comment.
fn paragraphs(comment: &str) -> impl Iterator<Item = &str> {
    let mut rest = Some(comment);
    core::iter::from_fn(move || {
        let text = rest?;
        // Folded white space has line ends in pairs only.
        let (paragraph, more) = text.split_at(run(text, |byte| byte != b'\n'));
        rest = (!more.is_empty()).then(|| more.trim_start_matches('\n'));
        Some(paragraph)
    })
}
