//! Cuts the text of a comment into stretches: paragraphs, words and how they are set, marks,
//! links, commands of other programs. A sign that opens nothing is text.

use super::cut::{Cut, Style, What};
use super::keyword::{Lead, Opens, at_start};
use super::mark;
use crate::text::{find, has, run};
use std::borrow::Cow;

/// The stretches of a text in its order; none for one paragraph of plain words, as most are.
/// `leads` says whether a paragraph begins with the text, whose first word may then say what the
/// paragraph is.
pub(super) fn cuts(text: &str, leads: bool) -> Vec<Cut> {
    let plain = run(text, |byte| !matches!(byte, b'@' | b'*' | b'[' | b'\n'));
    if plain == text.len() && (!leads || lead(text).is_none()) {
        return Vec::new();
    }
    let brackets = text.bytes().rposition(|byte| byte == b']');
    let mut reader = Reader {
        text,
        at: 0,
        last_bracket: brackets.unwrap_or(0),
        list: Vec::with_capacity(4),
        style: Style::Plain,
        is_shown: false,
    };
    reader.paragraphs(leads);
    reader.list
}

/// What the paragraph is that a text begins with, and the length of the word that says so.
fn lead(text: &str) -> Option<(Lead, usize)> {
    match at_start(text, |opens| matches!(opens, Opens::Paragraph(_)))? {
        (Opens::Paragraph(lead), length) => Some((lead, length)),
        _ => None,
    }
}

/// Where the command of another program ends that begins at a byte of a text.
fn command(text: &str, at: usize) -> Option<usize> {
    let rest = text.get(at..).filter(|rest| rest.starts_with("[%"))?;
    let end = at + run(rest, |byte| byte != b']') + 1;
    (end <= text.len()).then_some(end)
}

/// Whether a text is one command of another program and nothing else.
pub(super) fn is_one_command(text: &str) -> bool {
    command(text, 0) == Some(text.len())
}

/// The length of the commands with which a text begins, and of the white space between and
/// after them.
pub(super) fn commands_at_start(text: &str) -> usize {
    let mut at = 0;
    while let Some(end) = command(text, at) {
        let rest = text.get(end..).unwrap_or_default();
        at = end + run(rest, |byte| matches!(byte, b' ' | b'\n'));
    }
    at
}

/// A text with spaces for the commands of other programs, byte for byte.
pub(super) fn without_commands(text: &str) -> Cow<'_, str> {
    let mut at = 0;
    let mut shown = Cow::Borrowed(text);
    while let Some(start) = text.get(at..).and_then(|rest| find(rest, "[%")) {
        let Some(end) = command(text, at + start) else {
            break;
        };
        if at == 0 {
            shown = Cow::Owned(String::with_capacity(text.len()));
        }
        let shown = shown.to_mut();
        shown.push_str(text.get(at..at + start).unwrap_or_default());
        shown.extend(core::iter::repeat_n(' ', end - at - start));
        at = end;
    }
    if at > 0 {
        shown.to_mut().push_str(text.get(at..).unwrap_or_default());
    }
    shown
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    /// Where the last `]` of the text is: no command begins after it.
    last_bracket: usize,
    list: Vec<Cut>,
    style: Style,
    /// Whether the paragraph has something that is shown.
    is_shown: bool,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn push(&mut self, at: usize, what: What) {
        let (at, style) = (at as u32, self.style);
        self.list.push(Cut { at, what, style });
    }

    fn paragraphs(&mut self, mut leads: bool) {
        let mut is_open = false;
        while let Some(&byte) = self.rest().as_bytes().first() {
            match byte {
                b'\n' if is_open => {
                    self.end_paragraph();
                    is_open = false;
                }
                b' ' | b'\n' | b'\r' | b'\t' if !is_open => self.at += 1,
                b'[' if self.command(self.at).is_some() => self.commands(is_open),
                _ if !is_open => {
                    self.begin_paragraph(leads);
                    is_open = true;
                }
                _ => self.shown(byte),
            }
            leads |= byte == b'\n';
        }
        if is_open {
            self.end_paragraph();
        }
    }

    fn begin_paragraph(&mut self, leads: bool) {
        let lead = lead(self.rest()).filter(|_| leads);
        self.style = Style::Plain;
        self.push(self.at, What::Paragraph(lead.map(|(lead, _)| lead)));
        self.at += lead.map_or(0, |(_, length)| length);
        self.is_shown = false;
        self.spaces();
    }

    fn spaces(&mut self) {
        self.at += run(self.rest(), |byte| byte == b' ');
    }

    /// White space at its end is not shown, nor are the line ends after it.
    fn end_paragraph(&mut self) {
        let text = self.text.get(..self.at).unwrap_or_default();
        let end = text.trim_end().len();
        match self.list.last_mut() {
            Some(last) if last.at as usize >= end => last.what = What::Sign,
            _ if self.at < self.text.len() || end < self.at => self.push(end, What::Sign),
            _ => {}
        }
    }

    /// Where the command ends that begins at a byte of the text.
    fn command(&self, at: usize) -> Option<usize> {
        // To search again and again for what is not there would take quadratic time.
        match at < self.last_bracket {
            true => command(self.text, at),
            false => None,
        }
    }

    /// Commands in a row. Of the white space around them no more is shown than is between
    /// two words.
    fn commands(&mut self, is_open: bool) {
        let mut start = self.at;
        let first = self.list.len();
        while let Some(end) = self.command(start) {
            self.push(start, What::Command);
            self.at = end;
            let gap = run(self.rest(), |byte| byte == b' ');
            start = end + gap;
        }
        if !is_open {
            return;
        }
        let begin = self.list.get(first).map_or(0, |cut| cut.at as usize);
        let before = self.text.get(..begin).unwrap_or_default();
        let ends = matches!(self.rest().as_bytes().first(), None | Some(b' ' | b'\n'));
        if !self.is_shown {
            self.spaces();
        } else if ends
            && before.ends_with(' ')
            && let Some(cut) = self.list.get_mut(first)
        {
            cut.at -= 1;
            // What was shown before it may have been no more than the space.
            if let Some(last) = first.checked_sub(1)
                && self.list.get(last).map(|cut| cut.at as usize) == Some(begin - 1)
            {
                self.list.remove(last);
            }
        }
    }

    /// Words that are shown as written; they join the stretch before them.
    fn words(&mut self, length: usize) {
        let joins = |last: &Cut| last.what == What::Words && last.style == self.style;
        if !self.list.last().is_some_and(joins) {
            self.push(self.at, What::Words);
        }
        self.at += length;
        self.is_shown = true;
    }

    /// One stretch of what is shown, or of its signs.
    fn shown(&mut self, first: u8) {
        let rest = self.rest();
        let before = self.text.get(..self.at).unwrap_or_default();
        let before = before.chars().next_back();
        let (what, length) = match first {
            b'@' if rest.starts_with("@@") => {
                self.push(self.at, What::Sign);
                self.at += 1;
                return self.words(1);
            }
            b'@' => match mark::length(before, rest) {
                Some(length) => (What::Mark, length),
                None => match mark::no_square(before, rest) {
                    Some(length) => (What::NoSquare, length),
                    None => return self.words(1),
                },
            },
            b'*' => {
                let Some((style, length)) = self.emphasis() else {
                    return self.words(1);
                };
                self.push(self.at, What::Sign);
                self.at += length;
                self.style = style;
                return;
            }
            b'[' => match bracket(rest) {
                Some((_, target, length)) => (kind(target), length),
                None => return self.words(1),
            },
            _ => {
                let plain = |byte| !matches!(byte, b'@' | b'*' | b'[' | b'\n');
                return self.words(run(rest, plain).max(1));
            }
        };
        self.push(self.at, what);
        self.at += length;
        self.is_shown = true;
    }

    /// The style after the stars here, and how many stars there are.
    fn emphasis(&self) -> Option<(Style, usize)> {
        let rest = self.rest();
        let (sign, wanted) = match rest.starts_with("**") {
            true => ("**", Style::Strong),
            false => ("*", Style::Emphasis),
        };
        if self.style == wanted {
            return Some((Style::Plain, sign.len()));
        }
        let after = rest.get(sign.len()..)?;
        let opens = self.style == Style::Plain && !after.starts_with(char::is_whitespace);
        (opens && self.closes(after, sign)).then_some((wanted, sign.len()))
    }

    /// Whether a sign follows in the paragraph, with something before it.
    fn closes(&self, after: &str, sign: &str) -> bool {
        let start = self.text.len() - after.len();
        let mut at = start;
        loop {
            let rest = self.text.get(at..).unwrap_or_default();
            if let Some(end) = self.command(at) {
                at = end;
            } else if rest.is_empty() || rest.starts_with('\n') {
                return false;
            } else if rest.starts_with(sign) {
                return at > start;
            } else {
                // On to the next sign, line end or bracket, past one that opened nothing.
                let next = |byte| !matches!(byte, b'*' | b'\n' | b'[');
                at += match run(rest, next) {
                    0 => 1,
                    plain => plain,
                };
            }
        }
    }
}

/// What a link with this target is.
fn kind(target: &str) -> What {
    if target.starts_with('#') {
        What::Locator
    } else if target.as_bytes().first() == Some(&b'.')
        || target.starts_with("https://")
        || target.starts_with("http://")
    {
        What::Web
    } else {
        What::Refused
    }
}

/// `[words](target)` at the start of a text: words, target, length.
pub(super) fn bracket(rest: &str) -> Option<(&str, &str, usize)> {
    let inner = rest.strip_prefix('[')?;
    let end = run(inner, |byte| !matches!(byte, b']' | b'[' | b'\n'));
    let (words, after) = inner.split_at_checked(end)?;
    let target = after.strip_prefix("](")?;
    // No address holds a bracket: to search further would read a text of `[a](` many times.
    let end = run(target, |byte| !matches!(byte, b')' | b'[' | b'\n'));
    let (target, after) = target.split_at_checked(end)?;
    let is_place = target.starts_with('#');
    let fits = !words.is_empty() && !target.is_empty() && (is_place || !has(target, b' '));
    (fits && after.starts_with(')')).then_some((words, target, words.len() + target.len() + 4))
}
