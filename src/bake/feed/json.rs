//! JSON Feed 1.1: where the HTML of its items is, and texts of JSON (RFC 8259). What is read is never
//! made into a tree, because only places are wanted.

use super::{DEEPEST, Fault, FeedError, Part, Written};
use crate::text::Span;
use std::ops::Range;
use std::str::Chars;

/// What every version of the format begins its `version` with.
const VERSION: &str = "https://jsonfeed.org/version/";

/// What may come next.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Next {
    Value,
    /// A value or the end of a list.
    ValueOrEnd,
    Key,
    /// A key or the end of an object.
    KeyOrEnd,
    /// A comma, or the end of what is open.
    CommaOrEnd,
}

/// An object or a list that is open.
struct Open {
    is_object: bool,
    /// The key whose value comes or has come; of a list nothing.
    key: String,
}

struct Read<'j> {
    json: &'j str,
    at: usize,
    open: Vec<Open>,
    is_feed: bool,
    /// The first part of the item that is open, and its address.
    first: usize,
    link: Option<String>,
    parts: Vec<Part>,
}

/// `content_html` of each item; none in JSON that is no feed. What is before `from` is not read.
pub(super) fn parts(json: &str, from: usize) -> Result<Vec<Part>, FeedError> {
    let mut read = Read {
        json,
        at: from,
        open: Vec::new(),
        is_feed: false,
        first: 0,
        link: None,
        parts: Vec::new(),
    };
    let mut next = Next::Value;
    loop {
        read.skip();
        next = read.step(next)?;
        if read.open.is_empty() {
            break;
        }
    }
    read.skip();
    if read.at < json.len() {
        return Err(read.error("something comes after its end"));
    }
    match read.is_feed {
        true => Ok(read.parts),
        false => Ok(Vec::new()),
    }
}

impl Read<'_> {
    fn skip(&mut self) {
        let rest = self.rest();
        let gap = |sign: char| matches!(sign, ' ' | '\t' | '\n' | '\r');
        self.at += rest.len() - rest.trim_start_matches(gap).len();
    }

    fn rest(&self) -> &str {
        self.json.get(self.at..).unwrap_or_default()
    }

    fn error(&self, why: &str) -> FeedError {
        FeedError {
            at: Span::new(self.at, self.at),
            fault: Fault::Json(why.to_owned()),
        }
    }

    /// Reads one sign, key or value.
    fn step(&mut self, next: Next) -> Result<Next, FeedError> {
        let Some(sign) = self.rest().chars().next() else {
            return Err(self.error("it ends too early"));
        };
        let is_value = matches!(next, Next::Value | Next::ValueOrEnd);
        match (next, sign) {
            (_, '{' | '[') if is_value => {
                let is_object = sign == '{';
                if self.open.len() >= DEEPEST {
                    let at = Span::new(self.at, self.at + 1);
                    let fault = Fault::Deep;
                    return Err(FeedError { at, fault });
                }
                self.at += 1;
                self.open.push(Open {
                    is_object,
                    key: String::new(),
                });
                if self.is_item() {
                    (self.first, self.link) = (self.parts.len(), None);
                }
                match is_object {
                    true => Ok(Next::KeyOrEnd),
                    false => Ok(Next::ValueOrEnd),
                }
            }
            (Next::ValueOrEnd | Next::CommaOrEnd, ']') => self.end(false),
            (Next::KeyOrEnd | Next::CommaOrEnd, '}') => self.end(true),
            (Next::Key | Next::KeyOrEnd, '"') => {
                let at = self.string()?;
                let key = text(&self.json[at]).unwrap_or_default(); // a part of this text
                if let Some(open) = self.open.last_mut() {
                    open.key = key;
                }
                self.skip();
                if !self.rest().starts_with(':') {
                    return Err(self.error("a colon should come here"));
                }
                self.at += 1;
                Ok(Next::Value)
            }
            (Next::CommaOrEnd, ',') => {
                self.at += 1;
                match self.open.last().is_some_and(|open| open.is_object) {
                    true => Ok(Next::Key),
                    false => Ok(Next::Value),
                }
            }
            (_, '"') if is_value => {
                let at = self.string()?;
                self.value(at)?;
                Ok(Next::CommaOrEnd)
            }
            _ if is_value => self.word(),
            _ => Err(self.error("this does not belong here")),
        }
    }

    fn end(&mut self, is_object: bool) -> Result<Next, FeedError> {
        let ended = self.open.last().map(|open| open.is_object);
        if ended != Some(is_object) {
            return Err(self.error("something else is open"));
        }
        if is_object && self.is_item() {
            for part in self.parts.iter_mut().skip(self.first) {
                part.link.clone_from(&self.link);
            }
        }
        self.open.pop();
        self.at += 1;
        Ok(Next::CommaOrEnd)
    }

    /// A number, `true`, `false` or `null`.
    fn word(&mut self) -> Result<Next, FeedError> {
        let rest = self.rest();
        let is_of = |sign: char| sign.is_ascii_alphanumeric() || "+-.".contains(sign);
        let word = &rest[..rest.len() - rest.trim_start_matches(is_of).len()]; // its beginning
        let is_number = word.starts_with(|sign: char| sign == '-' || sign.is_ascii_digit())
            && word.ends_with(|sign: char| sign.is_ascii_digit());
        let is_known = matches!(word, "true" | "false" | "null");
        if !(is_known || is_number && word.parse::<f64>().is_ok()) {
            return Err(self.error("a value should come here"));
        }
        self.at += word.len();
        Ok(Next::CommaOrEnd)
    }

    /// What is between the quotes of a text; reads on after it.
    fn string(&mut self) -> Result<Range<usize>, FeedError> {
        let from = self.at + 1;
        let mut is_escaped = false;
        for (at, sign) in self.json.get(from..).unwrap_or_default().char_indices() {
            match sign {
                _ if is_escaped => is_escaped = false,
                '\\' => is_escaped = true,
                '"' => {
                    self.at = from + at + 1;
                    return Ok(from..from + at);
                }
                '\0'..='\u{1f}' => {
                    self.at = from + at;
                    return Err(self.error("a text has a line end or a control sign in it"));
                }
                _ => {}
            }
        }
        Err(self.error("a text never ends"))
    }

    /// A value that is a text.
    fn value(&mut self, at: Range<usize>) -> Result<(), FeedError> {
        let Some(said) = text(&self.json[at.clone()]) else {
            self.at = at.start;
            return Err(self.error("a text has an escape that JSON does not know"));
        };
        let key = self.open.last().map_or("", |open| open.key.as_str());
        match key {
            "version" if self.open.len() == 1 => self.is_feed = said.starts_with(VERSION),
            "url" if self.is_item() => self.link = Some(said),
            "content_html" if self.is_item() && !at.is_empty() => self.parts.push(Part {
                span: Span::new(at.start, at.end),
                written: Written::Json,
                link: None,
                base: None,
                prefix: String::new(),
            }),
            _ => {}
        }
        Ok(())
    }

    /// Whether what is open last is an object of the list `items`.
    fn is_item(&self) -> bool {
        let [root, list, item] = &self.open[..] else {
            return false;
        };
        root.is_object && root.key == "items" && !list.is_object && item.is_object
    }
}

/// What a text of JSON says; none if an escape is none.
pub(super) fn text(written: &str) -> Option<String> {
    let mut text = String::with_capacity(written.len());
    let mut signs = written.chars();
    while let Some(sign) = signs.next() {
        if sign != '\\' {
            text.push(sign);
            continue;
        }
        text.push(match signs.next()? {
            'n' => '\n',
            't' => '\t',
            'r' => '\r',
            'b' => '\u{8}',
            'f' => '\u{c}',
            same @ ('"' | '\\' | '/') => same,
            'u' => {
                let first = unit(&mut signs)?;
                let mut units = vec![first];
                if (0xd800..0xdc00).contains(&first) {
                    // One of two halves (RFC 8259, 7): the other comes at once.
                    if signs.next()? != '\\' || signs.next()? != 'u' {
                        return None;
                    }
                    units.push(unit(&mut signs)?);
                }
                char::decode_utf16(units).next()?.ok()?
            }
            _ => return None,
        });
    }
    Some(text)
}

/// Four digits.
fn unit(signs: &mut Chars<'_>) -> Option<u16> {
    let mut unit = 0;
    for _ in 0..4 {
        unit = unit * 16 + signs.next()?.to_digit(16)?;
    }
    u16::try_from(unit).ok()
}

/// A text as JSON has it between quotes.
pub(super) fn push(said: &str, into: &mut String) {
    for sign in said.chars() {
        match sign {
            '"' | '\\' => {
                into.push('\\');
                into.push(sign);
            }
            '\n' => into.push_str("\\n"),
            '\t' => into.push_str("\\t"),
            '\r' => into.push_str("\\r"),
            '\0'..='\u{1f}' => into.push_str(&format!("\\u{:04x}", u32::from(sign))),
            _ => into.push(sign),
        }
    }
}
