//! The words that make a comment more than text, in one table.

/// What a word opens that a comment holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Opens {
    /// A question: where the comment begins with the word.
    Question,
    /// A part of a question: after white space. It ends the part before it.
    Part(Part, Times),
    /// A paragraph that says something of its move or position: where the paragraph begins with
    /// the word.
    Paragraph(Lead),
}

/// A part of a question that follows its prompt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Help on request.
    Hint,
    /// Why the answer is right.
    Because,
    /// A wrong answer that readers will try, and why it is wrong.
    Not,
}

/// How often a word counts in one question; a further one is text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Times {
    /// The first time only.
    Once,
    /// Each time.
    Many,
}

/// What a keyword at its start makes of a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// The condition with which the author recommends the move before the comment; without words
    /// it has none.
    Choose,
    /// What the recap says of the move before the comment; it is shown nowhere else.
    InShort,
    /// A still diagram of the position stands here; the words are its caption.
    Diagram,
}

/// All of them, English in every language. A new one is a row here and its name above.
pub const KEYWORDS: &[(&str, Opens)] = &[
    ("Ask:", Opens::Question),
    ("Choose:", Opens::Paragraph(Lead::Choose)),
    ("In short:", Opens::Paragraph(Lead::InShort)),
    ("Diagram:", Opens::Paragraph(Lead::Diagram)),
    ("Hint:", Opens::Part(Part::Hint, Times::Once)),
    ("Because:", Opens::Part(Part::Because, Times::Once)),
    ("Not:", Opens::Part(Part::Not, Times::Many)),
];

/// The word with which a text begins, if it is one that `fits`: what it opens, and its length in
/// bytes.
pub(super) fn at_start(text: &str, fits: impl Fn(Opens) -> bool) -> Option<(Opens, usize)> {
    for &(word, opens) in KEYWORDS {
        if text.starts_with(word) && fits(opens) {
            return Some((opens, word.len()));
        }
    }
    None
}
