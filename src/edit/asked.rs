//! What is asked for, what comes of it, and why it is refused.

use crate::text::{Edits, Span, shared_ends};

/// An edit of a lesson. Each `at` is a run of moves from the start, in English SAN.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    /// Moves that follow each other enter the lesson. Those that it holds already are followed; the first that is
    /// new goes on with the line where it ends, and else begins a variation, the last at its branch point.
    Keep { at: Vec<String>, moves: Vec<String> },
    /// Another move takes the place of the last of `at`. What comes after it stays as far as it can be played.
    Change { at: Vec<String>, moves: Vec<String> },
    /// The comment of that number at a position, from 0 in the order of the text, those before a line's first move
    /// too, gets other words; it is taken out where there are none. The number after the last is a new comment, after
    /// the move. `was`: what the author saw there.
    Comment {
        at: Vec<String>,
        nth: usize,
        was: String,
        text: String,
    },
    /// A move has these glyphs and no others.
    Sign { at: Vec<String>, nags: Vec<u8> },
    /// A move is taken out, with all that comes after it.
    Drop { at: Vec<String> },
    /// The line of a move gets one place earlier at its branch point.
    Lift { at: Vec<String> },
    /// A piece of PGN enters: moves from this position, or a game from the lesson's start, with comments, signs and
    /// variations. What the lesson holds already is not written twice.
    Paste { at: Vec<String>, text: String },
}

/// New text in place of some bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Splice {
    pub span: Span,
    pub text: String,
}

/// What an edit comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// In the order of their places, and apart from each other; none where all of it is there already.
    pub splices: Vec<Splice>,
    /// The whole text with them.
    pub text: String,
    /// Where the author is then: the moves from the start.
    pub at: Vec<String>,
    /// Words that could be read before and cannot be now, as they are written.
    pub unread: Vec<String>,
}

/// Which kind of reason there is to refuse an edit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// The text has no such game, or its start cannot be read.
    NoLesson,
    /// The lesson does not hold these moves, or not any more.
    PlaceGone,
    /// The comment is not what the author saw.
    CommentGone,
    /// A move cannot be played there, or is no move.
    NoMove,
    /// The lesson has this move there already.
    ThereAlready,
    /// It is the main line, or the start, of which this cannot be asked.
    NotHere,
    /// The notation around the place is broken.
    Broken,
    /// PGN cannot hold this comment.
    NoComment,
    /// The text with the change would not be read as it is meant.
    OtherMeaning,
    /// The lesson is not in this file in a form in which it can be changed.
    NotInFile,
    /// With the change the rest of the page would not mean what it does.
    SpoilsPage,
}

impl Why {
    /// The word for it in JSON.
    pub fn code(self) -> &'static str {
        match self {
            Why::NoLesson => "no-lesson",
            Why::PlaceGone => "place-gone",
            Why::CommentGone => "comment-gone",
            Why::NoMove => "no-move",
            Why::ThereAlready => "there-already",
            Why::NotHere => "not-here",
            Why::Broken => "broken",
            Why::NoComment => "no-comment",
            Why::OtherMeaning => "other-meaning",
            Why::NotInFile => "not-in-file",
            Why::SpoilsPage => "spoils-page",
        }
    }
}

/// An edit that is not made: nothing is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    pub why: Why,
    /// The reason, a sentence.
    pub reason: String,
    /// A way out.
    pub help: String,
}

impl Refused {
    pub fn new(why: Why, reason: impl Into<String>, help: impl Into<String>) -> Refused {
        Refused {
            why,
            reason: reason.into(),
            help: help.into(),
        }
    }

    /// The notation around the place is broken.
    pub fn broken(what: &str) -> Refused {
        Refused::new(
            Why::Broken,
            what,
            "mend what plyline check says of it first",
        )
    }
}

/// The text with some splices, which are in the order of their places.
pub fn spliced(text: &str, splices: &[Splice]) -> String {
    let mut edits = Edits::default();
    for splice in splices {
        edits.replace(splice.span.range(), splice.text.as_str());
    }
    edits.apply(text)
}

/// A splice without the bytes at its ends that stay the same.
pub fn smallest(text: &str, splice: Splice) -> Splice {
    let old = text.get(splice.span.range()).unwrap_or_default();
    let new = splice.text.as_str();
    let (first, last) = shared_ends(old, new);
    let (from, to) = (
        splice.span.from as usize + first,
        splice.span.to as usize - last,
    );
    Splice {
        span: Span::new(from, to),
        text: new[first..new.len() - last].to_owned(),
    }
}
