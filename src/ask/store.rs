//! Kept recall as text, for a page's storage and for a file that the reader takes along: JSON with
//! a version. Written and read here by hand, for that is a tenth of what a library costs the page.

use super::again::{FARTHEST_DAY, Kept, Progress, TOP};
use crate::text::limits;

/// The version that is written. Another meaning of a name, or another name, is another version.
pub const VERSION: i64 = 1;

/// Longest position and longest list of choices, in bytes: the first four fields of a FEN have at
/// most 82, eight moves 47.
const WORDS: usize = 100;

/// Deepest nesting of what is passed over in the text of a newer version.
const NESTING: u32 = 32;

/// Why a text gives no progress.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// A later plyline wrote it, in this version. It is to be left as it is.
    Newer(i64),
    /// It is not what plyline writes. It is to be set aside, not written over.
    Corrupt {
        /// The byte at which that shows.
        at: usize,
        /// What was wanted there.
        wanted: &'static str,
    },
    /// It is longer than [`limits::PROGRESS_BYTES`] or has more positions than
    /// [`limits::POSITIONS`].
    TooLong,
}

/// The text of progress, one position a line. It is shorter than what is read at most.
pub fn write(progress: &Progress) -> String {
    let mut text = "{\"plyline\":\"progress\",\"version\":".to_owned();
    text += &VERSION.to_string();
    text += ",\"positions\":[";
    for (at, kept) in progress.all().iter().enumerate() {
        text += if at == 0 { "\n" } else { ",\n" };
        // Neither has a sign that JSON escapes: squares, pieces and digits.
        for (name, words) in [
            ("{\"position\":\"", &kept.position),
            ("\",\"choice\":\"", &kept.choice),
        ] {
            text += name;
            text += words;
        }
        for (name, number) in [
            ("\",\"step\":", i64::from(kept.step)),
            (",\"day\":", i64::from(kept.day)),
            (",\"asked\":", i64::from(kept.asked)),
        ] {
            text += name;
            text += &number.to_string();
        }
        text += match kept.missed {
            true => ",\"missed\":true}",
            false => ",\"missed\":false}",
        };
    }
    text += "\n]}\n";
    text
}

/// The progress of a text that [`write`] has made, white space and the order of names free.
///
/// # Errors
/// Where it is none, of a newer version, or too long: see [`Unreadable`].
pub fn read(text: &str) -> Result<Progress, Unreadable> {
    if text.len() > limits::PROGRESS_BYTES {
        return Err(Unreadable::TooLong);
    }
    let bytes = text.as_bytes();
    // First what it is, for in a newer version all else may differ.
    let (mut kind, mut version) = (String::new(), 0);
    let mut reader = Reader { bytes, at: 0 };
    reader.list(b'{', b'}', &mut |reader| match reader.name()?.as_str() {
        "plyline" => reader.string().map(|words| kind = words),
        "version" => reader.number(i64::MAX).map(|number| version = number),
        _ => reader.skip(0),
    })?;
    reader.white();
    if reader.at < bytes.len() {
        return Err(reader.corrupt("the end"));
    }
    if kind != "progress" || version < 1 {
        return Err(Reader { bytes, at: 0 }.corrupt("progress of plyline, and its version"));
    }
    if version > VERSION {
        return Err(Unreadable::Newer(version));
    }
    let mut progress = None;
    let mut reader = Reader { bytes, at: 0 };
    reader.list(b'{', b'}', &mut |reader| match reader.name()?.as_str() {
        "plyline" | "version" => reader.skip(0),
        "positions" => {
            let list = progress.get_or_insert_with(Progress::default);
            reader.list(b'[', b']', &mut |reader| {
                let kept = reader.kept()?;
                list.join(kept).map_err(|_| Unreadable::TooLong)
            })
        }
        _ => Err(reader.corrupt("a name of this version")),
    })?;
    progress.ok_or(reader.corrupt("positions"))
}

/// A place in a text.
struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Reader<'_> {
    fn corrupt(&self, wanted: &'static str) -> Unreadable {
        let at = self.at;
        Unreadable::Corrupt { at, wanted }
    }

    fn peek(&self) -> u8 {
        // A NUL byte is nowhere right in JSON, and so stands for the end.
        self.bytes.get(self.at).copied().unwrap_or(0)
    }

    fn white(&mut self) {
        while matches!(self.peek(), b' ' | b'\t' | b'\n' | b'\r') {
            self.at += 1;
        }
    }

    /// Takes this byte, after white space, if it comes next.
    fn takes(&mut self, byte: u8) -> bool {
        self.white();
        let is_next = self.peek() == byte;
        self.at += usize::from(is_next);
        is_next
    }

    /// What stands between brackets, with commas between.
    fn list(
        &mut self,
        open: u8,
        close: u8,
        each: &mut dyn FnMut(&mut Self) -> Result<(), Unreadable>,
    ) -> Result<(), Unreadable> {
        if !self.takes(open) {
            return Err(self.corrupt("an opening bracket"));
        }
        if self.takes(close) {
            return Ok(());
        }
        loop {
            each(self)?;
            if self.takes(close) {
                return Ok(());
            }
            if !self.takes(b',') {
                return Err(self.corrupt("a comma or a closing bracket"));
            }
        }
    }

    /// A name and its colon.
    fn name(&mut self) -> Result<String, Unreadable> {
        let name = self.string()?;
        match self.takes(b':') {
            true => Ok(name),
            false => Err(self.corrupt("a colon")),
        }
    }

    /// A text in quotes. Escapes are kept as they are but for `\/`, which some programs make of a
    /// FEN's strokes.
    fn string(&mut self) -> Result<String, Unreadable> {
        if !self.takes(b'"') {
            return Err(self.corrupt("a text in quotes"));
        }
        let mut text = Vec::new();
        loop {
            let byte = self.peek();
            if byte < b' ' {
                return Err(self.corrupt("closing quotes"));
            }
            self.at += 1;
            match byte {
                b'"' => break,
                b'\\' => {
                    let escaped = self.peek();
                    if escaped != b'/' {
                        text.push(byte);
                    }
                    text.push(escaped);
                    self.at += 1;
                }
                _ => text.push(byte),
            }
        }
        // Cut at ASCII out of UTF-8.
        String::from_utf8(text).map_err(|_| self.corrupt("UTF-8"))
    }

    /// A text of the few signs that a position and moves are written with.
    fn words(&mut self) -> Result<String, Unreadable> {
        let text = self.string()?;
        let is_plain =
            |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b' ' | b'/' | b'-');
        match text.len() <= WORDS && text.bytes().all(is_plain) {
            true => Ok(text),
            false => Err(self.corrupt("a position or moves")),
        }
    }

    /// A whole number not farther from 0 than this.
    fn number(&mut self, farthest: i64) -> Result<i64, Unreadable> {
        self.white();
        let from = self.at;
        self.at += usize::from(self.peek() == b'-');
        while self.peek().is_ascii_digit() {
            self.at += 1;
        }
        let written = self.bytes.get(from..self.at).unwrap_or_default();
        let number: Option<i64> = core::str::from_utf8(written)
            .ok()
            .and_then(|written| written.parse().ok());
        match number.filter(|number| (-farthest..=farthest).contains(number)) {
            Some(number) => Ok(number),
            None => Err(self.corrupt("a whole number within bounds")),
        }
    }

    /// A number that is not negative.
    fn count(&mut self, most: u32) -> Result<u32, Unreadable> {
        let number = self.number(i64::from(most))?;
        u32::try_from(number).map_err(|_| self.corrupt("a number from 0 on"))
    }

    fn literal(&mut self, word: &str) -> bool {
        self.white();
        let rest = self.bytes.get(self.at..).unwrap_or_default();
        let is_next = rest.starts_with(word.as_bytes());
        self.at += if is_next { word.len() } else { 0 };
        is_next
    }

    /// Anything, passed over.
    fn skip(&mut self, depth: u32) -> Result<(), Unreadable> {
        self.white();
        match self.peek() {
            _ if depth > NESTING => Err(self.corrupt("less nesting")),
            b'"' => self.string().map(|_| ()),
            b'[' => self.list(b'[', b']', &mut |reader| reader.skip(depth + 1)),
            b'{' => self.list(b'{', b'}', &mut |reader| {
                reader.name()?;
                reader.skip(depth + 1)
            }),
            _ if ["true", "false", "null"]
                .iter()
                .any(|word| self.literal(word)) =>
            {
                Ok(())
            }
            _ => {
                let from = self.at;
                while matches!(self.peek(), b'0'..=b'9' | b'-' | b'+' | b'.' | b'e' | b'E') {
                    self.at += 1;
                }
                match self.at > from {
                    true => Ok(()),
                    false => Err(self.corrupt("a value")),
                }
            }
        }
    }

    /// What is kept of one position: all its names.
    fn kept(&mut self) -> Result<Kept, Unreadable> {
        let mut kept = Kept {
            position: String::new(),
            choice: String::new(),
            step: 0,
            day: 0,
            asked: 0,
            missed: false,
        };
        let mut named = 0;
        self.list(b'{', b'}', &mut |reader| {
            let name = match reader.name()?.as_str() {
                "position" => {
                    kept.position = reader.words()?;
                    0
                }
                "choice" => {
                    kept.choice = reader.words()?;
                    1
                }
                "step" => {
                    kept.step = reader.count(u32::from(TOP))? as u8; // at most TOP
                    2
                }
                "day" => {
                    kept.day = reader.number(i64::from(FARTHEST_DAY))? as i32; // within its bound
                    3
                }
                "asked" => {
                    kept.asked = reader.count(u32::MAX)?;
                    4
                }
                "missed" => {
                    kept.missed = reader.literal("true");
                    if !kept.missed && !reader.literal("false") {
                        return Err(reader.corrupt("true or false"));
                    }
                    5
                }
                _ => return Err(reader.corrupt("a name of this version")),
            };
            named |= 1 << name;
            Ok(())
        })?;
        match named {
            0b11_1111 => Ok(kept),
            _ => Err(self.corrupt("all names of a position")),
        }
    }
}
