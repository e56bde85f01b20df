//! The source text with its name, and the one place that turns byte offsets into lines,
//! columns and UTF-16 numbers.

use super::{Code, Finding, Findings, Span, limits, run};
use core::cell::OnceCell;

/// A text as it was given, and where its lines begin.
#[derive(Clone, Debug)]
pub struct Source {
    name: String,
    text: String,
    /// Where counting can begin; found when a place is asked for, and most texts have none to tell.
    stops: OnceCell<Vec<Stop>>,
}

/// A byte whose place is known.
#[derive(Clone, Copy, Debug)]
struct Stop {
    byte: u32,
    place: LineColumn,
}

/// Bytes of a line between two stops, at the least.
const STRIDE: usize = 4096;

/// A place as people and editors count it. All numbers are from 1 except `utf16`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineColumn {
    /// Line, from 1.
    pub line: u32,
    /// Column in Unicode scalar values, from 1; a tab is one column.
    pub column: u32,
    /// Offset from the start of the text in UTF-16 units, from 0, as JavaScript counts.
    pub utf16: u32,
}

/// The finding about a text that was read as Latin-1; the place is its first byte that is not
/// UTF-8, where that is known.
pub fn not_utf8(span: Span) -> Finding {
    let message = "this text is not UTF-8; it is read as Latin-1".to_owned();
    Finding::new(Code::NotUtf8, span, message)
}

impl Source {
    /// A source of this text; `name` is what findings call it.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Source {
        Source {
            name: name.into(),
            text: text.into(),
            stops: OnceCell::new(),
        }
    }

    /// Decodes a file: UTF-8 with or without a byte order mark; anything else is read as
    /// Latin-1, which has a meaning for every byte, and gives finding P004 at the first byte
    /// that is not UTF-8 (PGN standard, section 4.1, names ISO 8859-1 as its character set).
    pub fn from_bytes(name: impl Into<String>, bytes: &[u8]) -> (Source, Findings) {
        let mut findings = Findings::default();
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let text = match core::str::from_utf8(bytes) {
            Ok(text) => text.to_owned(),
            Err(error) => {
                // In the Latin-1 reading each byte above 127 takes two bytes of our text.
                let width = |byte: &u8| char::from(*byte).len_utf8();
                let from: usize = bytes.iter().take(error.valid_up_to()).map(width).sum();
                let end = from + bytes.get(error.valid_up_to()).map_or(0, width);
                findings.push(not_utf8(Span::new(from, end)));
                bytes.iter().map(|&byte| char::from(byte)).collect()
            }
        };
        (Source::new(name, text), findings)
    }

    /// What findings call this text: a file name, or the id of an element.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether the text is longer than [`limits::TEXT_BYTES`] and so is not read.
    pub fn is_too_long(&self) -> bool {
        self.text.len() > limits::TEXT_BYTES
    }

    /// The text at a span; empty if the span does not lie on this text's characters.
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// Line, column and UTF-16 offset of a byte offset; one past the end is a place too.
    pub fn place(&self, byte: u32) -> LineColumn {
        let stops = self.stops.get_or_init(|| stops(&self.text));
        let after = stops.partition_point(|stop| stop.byte <= byte);
        // The first stop is byte 0, so at least one lies at or before any byte.
        let Stop {
            byte: from,
            mut place,
        } = stops[after.max(1) - 1];
        for (at, letter) in self.text[from as usize..].char_indices() {
            if from as usize + at >= byte as usize {
                break;
            }
            place = place.after(letter);
        }
        place
    }
}

/// Where counting can begin in a text: at each line, and within long lines every few kilobytes.
fn stops(text: &str) -> Vec<Stop> {
    let mut place = LineColumn {
        line: 1,
        column: 1,
        utf16: 0,
    };
    let mut stops = vec![Stop { byte: 0, place }];
    let mut from = 0;
    while from < text.len() {
        let rest = &text[from..];
        let mut is_ascii = true;
        let length = run(rest, |byte| {
            is_ascii &= byte < 128;
            byte != b'\n'
        });
        let ends = length < rest.len();
        let line = &rest[..length + usize::from(ends)];
        if is_ascii {
            // Nearly every line: as wide as it is long.
            for at in (STRIDE..line.len()).step_by(STRIDE) {
                stops.push(Stop {
                    byte: (from + at) as u32,
                    place: LineColumn {
                        column: 1 + at as u32,
                        utf16: place.utf16 + at as u32,
                        ..place
                    },
                });
            }
            place.utf16 += line.len() as u32;
            place.line += 1; // where there is no line end, nothing comes after it
        } else {
            let mut last = 0;
            for (at, letter) in line.char_indices() {
                if at >= last + STRIDE {
                    last = at;
                    stops.push(Stop {
                        byte: (from + at) as u32,
                        place,
                    });
                }
                place = place.after(letter);
            }
        }
        from += line.len();
        if ends {
            stops.push(Stop {
                byte: from as u32,
                place,
            });
        }
    }
    stops
}

impl LineColumn {
    /// The place after a character that is here.
    fn after(self, letter: char) -> LineColumn {
        let utf16 = self.utf16 + letter.len_utf16() as u32;
        match letter {
            '\n' => LineColumn {
                line: self.line + 1,
                column: 1,
                utf16,
            },
            _ => LineColumn {
                column: self.column + 1,
                utf16,
                ..self
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_counts_scalars_for_columns_and_utf16_for_pages() {
        let source = Source::new("t", "a\n\u{1d11e}\u{fc}e4");
        let place = source.place(2 + 4 + 2);
        assert_eq!((place.line, place.column, place.utf16), (2, 3, 5));
        assert_eq!(source.place(0).column, 1);
        assert_eq!(source.place(99).line, 2, "past the end is the last line");
    }

    #[test]
    fn a_byte_order_mark_is_not_part_of_the_text() {
        let (source, findings) = Source::from_bytes("t", b"\xef\xbb\xbf1. e4");
        assert_eq!(source.text(), "1. e4");
        assert!(findings.is_empty());
    }

    #[test]
    fn latin_1_is_read_with_a_finding_at_its_first_letter() {
        let (source, findings) = Source::from_bytes("t", b"{Gr\xfcn}");
        assert_eq!(source.text(), "{Gr\u{fc}n}");
        assert_eq!(source.slice(findings.iter().next().unwrap().span), "\u{fc}");
    }
}
