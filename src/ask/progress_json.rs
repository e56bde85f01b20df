//! Kept recall as text, for a page's storage and for a file that the reader takes along: JSON with
//! a version. Written and read here by hand, because that is a tenth of what a library costs the
//! page.

use super::schedule::{FARTHEST_DAY, Kept, Progress, TOP};
use crate::text::{join, limits, run};

/// The version that is written: `{"plyline":"progress","version":1,"positions":[…]}`, a position
/// being `["FEN","choices",day,asked,step,missed]` with the meanings of [`Kept`]. Any other list,
/// and any other meaning, is another version; what is before its number never changes.
pub const VERSION: u32 = 1;

/// Longest position and longest list of choices, in bytes: the first four fields of a FEN have at
/// most 82, eight moves 47.
const WORDS: usize = 100;

/// What every version begins with.
const HEAD: [&str; 7] = [
    "{",
    "\"plyline\"",
    ":",
    "\"progress\"",
    ",",
    "\"version\"",
    ":",
];

/// What is between the version and the positions.
const POSITIONS: [&str; 4] = [",", "\"positions\"", ":", "["];

/// Why a text gives no progress.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// A later plyline wrote it, in this version. Leave it unchanged.
    Newer(u32),
    /// It is not what plyline writes. Set it aside, do not overwrite it.
    Corrupt {
        /// The byte of the first error.
        at: usize,
        /// What was expected there.
        wanted: &'static str,
    },
    /// It is longer than [`limits::PROGRESS_BYTES`] or has more positions than
    /// [`limits::POSITIONS`].
    TooLong,
}

/// The text of progress, one position a line. It is shorter than the longest that is read.
pub fn write(progress: &Progress) -> String {
    let mut text = join(&HEAD, "");
    text += &VERSION.to_string();
    for word in POSITIONS {
        text += word;
    }
    for (at, kept) in progress.all().iter().enumerate() {
        text += if at == 0 { "\n[" } else { ",\n[" };
        // Neither has a sign that JSON escapes: squares, pieces and digits.
        for words in [&kept.position, &kept.choice] {
            text.push('"');
            text += words;
            text += "\",";
        }
        if kept.day < 0 {
            text.push('-');
        }
        for number in [kept.day.unsigned_abs(), kept.asked, kept.step.into()] {
            text += &number.to_string();
            text.push(',');
        }
        text += if kept.missed { "1]" } else { "0]" };
    }
    text += "\n]}\n";
    text
}

/// The progress of a text that [`write()`] has made; white space may have changed.
///
/// # Errors
/// If it is not progress, of a newer version, or too long: see [`Unreadable`].
pub fn read(text: &str) -> Result<Progress, Unreadable> {
    if text.len() > limits::PROGRESS_BYTES {
        return Err(Unreadable::TooLong);
    }
    let mut reader = Reader {
        text,
        at: 0,
        missed: None,
    };
    reader.all(&HEAD);
    reader.white();
    let version = reader.number(u32::MAX);
    if version > VERSION {
        return Err(Unreadable::Newer(version));
    }
    if version == 0 {
        reader.misses("a version");
    }
    reader.all(&POSITIONS);
    let mut progress = Progress::default();
    if !reader.takes("]") {
        while reader.missed.is_none() {
            let kept = reader.kept();
            if reader.missed.is_none() && progress.join(kept).is_err() {
                return Err(Unreadable::TooLong);
            }
            if reader.takes("]") {
                break;
            }
            reader.wants(",");
        }
    }
    reader.wants("}");
    reader.white();
    if reader.at < text.len() {
        reader.misses("the end");
    }
    match reader.missed {
        Some(wanted) => Err(Unreadable::Corrupt {
            at: reader.at,
            wanted,
        }),
        None => Ok(progress),
    }
}

/// A place in a text, at the edge of a letter. If something expected is missing, it stays there and
/// nothing more is read: checking this only once, at the end, takes a third of the code.
struct Reader<'a> {
    text: &'a str,
    at: usize,
    /// What was expected at the place and is missing.
    missed: Option<&'static str>,
}

impl<'a> Reader<'a> {
    fn misses(&mut self, wanted: &'static str) {
        self.missed.get_or_insert(wanted);
    }

    fn rest(&self) -> &'a str {
        match self.missed {
            Some(_) => "",
            None => self.text.get(self.at..).unwrap_or_default(),
        }
    }

    fn white(&mut self) {
        self.at += run(self.rest(), |byte| {
            matches!(byte, b' ' | b'\t' | b'\n' | b'\r')
        });
    }

    /// Takes this, after white space, if it comes next.
    fn takes(&mut self, word: &str) -> bool {
        self.white();
        let is_next = self.rest().as_bytes().starts_with(word.as_bytes());
        self.at += if is_next { word.len() } else { 0 };
        is_next
    }

    fn wants(&mut self, word: &'static str) {
        if !self.takes(word) {
            self.misses(word);
        }
    }

    fn all(&mut self, words: &[&'static str]) {
        for word in words {
            self.wants(word);
        }
    }

    /// A text of the few signs that a position and moves are written with.
    fn words(&mut self) -> String {
        self.wants("\"");
        let length = run(self.rest(), |byte| {
            byte.is_ascii_alphanumeric() || matches!(byte, b' ' | b'/' | b'-')
        });
        if length > WORDS {
            self.misses("a position or moves");
        }
        let words = self.rest().get(..length).unwrap_or_default().to_owned();
        self.at += words.len();
        // White space before it would be part of the text.
        match self.rest().as_bytes().starts_with(b"\"") {
            true => self.at += 1,
            false => self.misses("\""),
        }
        words
    }

    /// A number from 0 to this, as JSON writes one: without zeros before it.
    fn number(&mut self, most: u32) -> u32 {
        let length = run(self.rest(), |byte| byte.is_ascii_digit());
        let mut number: u64 = 0;
        for digit in self.rest().bytes().take(length) {
            number = number
                .saturating_mul(10)
                .saturating_add(u64::from(digit - b'0'));
        }
        let is_padded = length > 1 && self.rest().as_bytes().starts_with(b"0");
        if length == 0 || is_padded || number > most.into() {
            self.misses("a whole number within bounds");
            return 0;
        }
        self.at += length;
        number as u32 // at most `most`
    }

    /// What is kept of one position.
    fn kept(&mut self) -> Kept {
        self.wants("[");
        let position = self.words();
        self.wants(",");
        let choice = self.words();
        self.wants(",");
        let is_before_1970 = self.takes("-");
        let mut numbers = [FARTHEST_DAY as u32, u32::MAX, TOP.into(), 1];
        for (at, number) in numbers.iter_mut().enumerate() {
            if at > 0 {
                self.wants(",");
            }
            // None is between a sign and its number.
            if at > 0 || !is_before_1970 {
                self.white();
            }
            *number = self.number(*number);
        }
        self.wants("]");
        let [day, asked, step, missed] = numbers;
        // Each is within its bound.
        Kept {
            position,
            choice,
            step: step as u8,
            day: if is_before_1970 {
                -(day as i32)
            } else {
                day as i32
            },
            asked,
            missed: missed == 1,
        }
    }
}
