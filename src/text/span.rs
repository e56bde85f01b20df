//! A place in a source text, in bytes.

/// A half-open range of bytes, `from..to`, both on character boundaries of the source that
/// it belongs to. Bytes are the only unit that is stored; lines, columns and UTF-16 numbers
/// are computed late by [`Source`](super::Source).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Span {
    /// First byte.
    pub from: u32,
    /// One past the last byte.
    pub to: u32,
}

impl Span {
    /// The span `from..to`.
    ///
    /// Texts are limited to [`limits::TEXT_BYTES`](super::limits::TEXT_BYTES), so offsets
    /// fit; a larger number saturates instead of wrapping.
    pub fn new(from: usize, to: usize) -> Span {
        let narrow = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Span {
            from: narrow(from),
            to: narrow(to),
        }
    }

    /// The bytes as a range, for slicing.
    pub fn range(self) -> core::ops::Range<usize> {
        self.from as usize..self.to as usize
    }

    /// The smallest span that holds both.
    pub fn join(self, other: Span) -> Span {
        Span {
            from: self.from.min(other.from),
            to: self.to.max(other.to),
        }
    }

    /// Whether it holds no byte.
    pub fn is_empty(self) -> bool {
        self.from >= self.to
    }
}
