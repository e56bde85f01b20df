//! The stretches of a text of the author: where each begins, and what it is.

use super::keyword::Lead;

/// How a piece of text is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// As the paragraph is.
    Plain,
    /// `*emphasis*`
    Emphasis,
    /// `**strong**`
    Strong,
}

/// Where a stretch begins; it goes on to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    /// A byte of the text.
    pub at: u32,
    pub what: What,
    pub style: Style,
}

/// What a stretch is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A paragraph begins; the word that says what it is, with the space after it.
    Paragraph(Option<Lead>),
    /// Words as written.
    Words,
    /// `@c5`, `@b4-b5`
    Mark,
    /// `@i9`, shown as words.
    NoSquare,
    /// `[words](https://…)`
    Web,
    /// `[words](#…)`
    Locator,
    /// `[words](…)` to anything else, of which the words are shown.
    Refused,
    /// `[%name …]`, which is kept and never shown.
    Command,
    /// Signs and white space that are not shown.
    Sign,
}
