//! What is read of a post, and what it may ask for: notation, lessons, elements as readers first meet
//! them, and the posts beside it.

use super::elements::Kind;
use crate::assessments;
use crate::counts::Collection;
use crate::lesson::Lesson;
use crate::notation::Letters;
use crate::text::Source;
use crate::view::{Element, State};
use std::ops::Range;
use std::rc::Rc;

/// What a post names and does not hold.
pub trait Around {
    /// The notation at an address; none where that is in no file, and the reason where it cannot be read.
    fn notation(&self, address: &str) -> Option<Result<String, String>>;

    /// The post at an address, without its fragment.
    fn post(&self, address: &str) -> Neighbour<'_>;

    /// The counts at an address; none where that is in no file, and the reason where they cannot be read.
    fn counts(&self, _address: &str) -> Option<Result<Collection, String>> {
        None
    }

    /// The assessments at an address; the same.
    fn assessments(&self, _address: &str) -> Option<Result<assessments::Collection, String>> {
        None
    }
}

/// What is at the address of another post.
pub enum Neighbour<'a> {
    /// Nobody knows: it is elsewhere in the net, or `/` has no meaning here.
    Unknown,
    /// There is no such file.
    Missing,
    Post(Other<'a>),
}

/// Another post, and what is around that.
pub struct Other<'a> {
    pub source: Source,
    pub kind: Kind,
    pub around: Box<dyn Around + 'a>,
}

/// Where there are no other posts.
impl<F: Fn(&str) -> Option<Result<String, String>>> Around for F {
    fn notation(&self, address: &str) -> Option<Result<String, String>> {
        self(address)
    }

    fn post(&self, _: &str) -> Neighbour<'_> {
        Neighbour::Unknown
    }
}

/// A lesson, and the text that it was read from.
#[derive(Debug)]
pub struct Notation {
    pub source: Source,
    pub lesson: Lesson,
    /// The names of the lessons to choose from, and which one this is; empty for a single one.
    pub games: Vec<(String, bool)>,
    /// The text of the lesson among others of its file; all of it where the reader chooses.
    pub own: Range<usize>,
    /// Its place among those of its text, from 0.
    pub number: usize,
}

impl Notation {
    /// What a reader is shown as the notation.
    pub fn text(&self) -> &str {
        let text = self.source.text();
        text.get(self.own.clone()).unwrap_or(text).trim()
    }
}

/// A lesson of the post, or of another.
#[derive(Clone, Debug)]
pub struct Read {
    pub id: String,
    /// The address of its start, seen from the post.
    pub address: String,
    /// The attribute `side` of its element.
    pub side: Option<String>,
    /// The place of its element in the tree.
    pub node: usize,
    /// None if it cannot be read, which has been said.
    pub notation: Option<Rc<Notation>>,
    pub letters: &'static Letters,
}

impl Read {
    pub fn lesson(&self) -> Option<&Lesson> {
        self.notation.as_deref().map(|it| &it.lesson)
    }

    /// Whether it is of the post itself, and not of another.
    pub fn is_here(&self) -> bool {
        self.address.starts_with('#')
    }

    /// By what addresses name it: its id, or all of the address where it is in another post.
    pub fn name(&self) -> &str {
        match self.is_here() {
            true => &self.id,
            false => &self.address,
        }
    }
}

/// An element as a reader first meets it.
#[derive(Debug)]
pub struct Shown {
    /// Where it is, among all that was found.
    pub at: usize,
    /// What it is about; none for a diagram of a placement.
    pub notation: Option<Rc<Notation>>,
    /// The lesson of another element that it is about.
    pub of: Option<Read>,
    pub element: Element,
    /// `State::missing` where there is nothing to show, which has been said.
    pub state: State,
    pub letters: &'static Letters,
    /// What was counted for a lesson, if it names that.
    pub counts: Option<Collection>,
    /// What an engine said of a lesson's positions, if it names that.
    pub assessments: Option<assessments::Collection>,
}
