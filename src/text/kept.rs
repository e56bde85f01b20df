//! Texts of which a lesson holds thousands, and most are short: those are kept in place, because to
//! find memory for each takes more time than all else about them.

use arrayvec::ArrayString;
use core::fmt;
use core::ops::Deref;

/// How many bytes are kept in place: a clock with an evaluation before it, the names of players.
const SHORT: usize = 30;

/// A text that does not change; reads like a `str`.
#[derive(PartialEq, Eq)]
pub struct KeptText(Kept);

#[derive(PartialEq, Eq)]
enum Kept {
    Short(ArrayString<SHORT>),
    Long(Box<str>),
}

impl KeptText {
    /// This text.
    pub fn new(text: &str) -> KeptText {
        KeptText(match ArrayString::from(text) {
            Ok(short) => Kept::Short(short),
            Err(_) => Kept::Long(text.into()),
        })
    }

    /// As text.
    pub fn as_str(&self) -> &str {
        match &self.0 {
            Kept::Short(text) => text,
            Kept::Long(text) => text,
        }
    }
}

// By hand, because the derived one is twice as large.
impl Clone for KeptText {
    fn clone(&self) -> KeptText {
        KeptText::new(self)
    }
}

impl Default for KeptText {
    fn default() -> KeptText {
        KeptText(Kept::Short(ArrayString::default()))
    }
}

impl Deref for KeptText {
    type Target = str;

    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl fmt::Debug for KeptText {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), to)
    }
}

impl fmt::Display for KeptText {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(self)
    }
}

impl PartialEq<str> for KeptText {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<&str> for KeptText {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_of_any_length_is_kept_as_it_is() {
        for text in [
            "",
            "[%clk 0:05:00]",
            &"\u{e9}".repeat(15),
            &"\u{e9}".repeat(16),
        ] {
            assert_eq!(KeptText::new(text), text);
            assert_eq!(KeptText::new(text).clone(), KeptText::new(text));
        }
        assert_ne!(KeptText::new("a"), KeptText::new("b"));
    }
}
