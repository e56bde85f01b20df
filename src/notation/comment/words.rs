//! The words of a passage. Short ones are kept in place: a server writes a clock after each move,
//! and the time to find memory for each of thousands is more than that of all else about them.

use arrayvec::ArrayString;
use core::ops::Deref;

/// How many bytes are kept in place: a clock, and an evaluation before it.
const SHORT: usize = 30;

/// A text that does not change; reads like a `str`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Words {
    Short(ArrayString<SHORT>),
    Long(Box<str>),
}

impl Words {
    pub(super) fn new(text: &str) -> Words {
        match ArrayString::from(text) {
            Ok(short) => Words::Short(short),
            Err(_) => Words::Long(text.into()),
        }
    }
}

impl Default for Words {
    fn default() -> Words {
        Words::Short(ArrayString::default())
    }
}

impl Deref for Words {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Words::Short(text) => text,
            Words::Long(text) => text,
        }
    }
}
