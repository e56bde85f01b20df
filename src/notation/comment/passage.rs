//! A text of the author that has been read: its paragraphs, and their pieces as they are shown.

pub use super::cut::Style;
use super::cut::{Cut, What};
use super::fold::Places;
use super::keyword::Lead;
use super::mark::{self, Mark};
use super::read::{bracket, cuts, is_one_command};
use crate::text::{KeptText, Span, split};
use core::ops::Range;
use std::borrow::Cow;

/// Words of the author, as they are written and as they are read: a comment, or a part of a
/// question.
///
/// Only where its stretches begin is kept, and nothing at all where it is one paragraph of plain
/// words: a lesson holds thousands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Passage {
    text: KeptText,
    places: Places,
    cuts: Cuts,
}

/// Where the stretches of a text begin.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
enum Cuts {
    /// One paragraph of plain words, or nothing at all.
    #[default]
    Plain,
    /// One command of another program and nothing else.
    Command,
    Several(Box<[Cut]>),
}

/// The stretch of one command.
const COMMAND: &[Cut] = &[Cut {
    at: 0,
    what: What::Command,
    style: Style::Plain,
}];

/// The stretches of one paragraph of plain words.
const PLAIN: &[Cut] = &[
    Cut {
        at: 0,
        what: What::Paragraph(None),
        style: Style::Plain,
    },
    Cut {
        at: 0,
        what: What::Words,
        style: Style::Plain,
    },
];

/// A paragraph of a passage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paragraph<'a> {
    /// What it is, where it begins with a word that says so; then that word is not in it.
    pub lead: Option<Lead>,
    passage: &'a Passage,
    /// Its stretches, the first after the one that begins it.
    from: usize,
    to: usize,
}

/// A stretch of a paragraph that is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece<'a> {
    /// Its words, as shown; never empty.
    pub text: Cow<'a, str>,
    /// How they are set.
    pub style: Style,
    /// What they do.
    pub does: Does<'a>,
    /// Where it is in the text of its passage, signs and target included.
    pub at: Range<usize>,
    /// Where it is in the source, signs and target included.
    pub span: Span,
}

/// What a piece does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does<'a> {
    /// Nothing: words.
    Says,
    /// It points at squares.
    Marks(Mark),
    /// A mark whose square is not on the board, shown as words.
    MarksNothing,
    /// It leads elsewhere.
    Links(Link<'a>),
    /// A link to an address that no lesson links to, shown as words.
    LinksNowhere {
        /// Where its target is in the source.
        target: Span,
    },
}

/// Where a comment leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Link<'a> {
    /// An address of `http` or `https`, or one of the same site: it begins with `./` or `../`.
    Web(&'a str),
    /// A position of the lesson, by its locator.
    Locator {
        /// The locator, without the `#` before it. Whether the lesson has the place is not known
        /// here.
        run: &'a str,
        /// Where the target is in the source, `#` included.
        span: Span,
    },
}

impl Passage {
    /// Reads a text that is not part of a source.
    pub fn read(text: &str) -> Passage {
        Passage::at(text.trim(), Places::default(), true)
    }

    /// One command of another program and nothing else.
    #[cfg(not(target_family = "wasm"))]
    pub(super) fn command(text: &str, places: Places) -> Passage {
        Passage {
            cuts: Cuts::Command,
            text: KeptText::new(text),
            places,
        }
    }

    pub(super) fn at(text: &str, places: Places, leads: bool) -> Passage {
        let cuts = match is_one_command(text) {
            true => Cuts::Command,
            false => match cuts(text, leads) {
                cuts if cuts.is_empty() => Cuts::Plain,
                cuts => Cuts::Several(cuts.into()),
            },
        };
        Passage {
            cuts,
            text: KeptText::new(text),
            places,
        }
    }

    /// As it is written: white space folded, blank lines as `\n\n`.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether it is one paragraph of plain words, or nothing.
    pub fn is_plain(&self) -> bool {
        matches!(self.cuts, Cuts::Plain)
    }

    /// Whether nothing is written.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Whether nothing of it is shown: commands of other programs alone, or nothing.
    pub fn is_silent(&self) -> bool {
        match self.cuts {
            Cuts::Plain => self.is_empty(),
            Cuts::Command => true,
            Cuts::Several(_) => self.paragraphs().next().is_none(),
        }
    }

    fn cuts(&self) -> &[Cut] {
        match &self.cuts {
            Cuts::Plain if self.text.is_empty() => &[],
            Cuts::Plain => PLAIN,
            Cuts::Command => COMMAND,
            Cuts::Several(cuts) => cuts,
        }
    }

    /// Its paragraphs with something to show, or with a word that says what they are.
    pub fn paragraphs(&self) -> impl Iterator<Item = Paragraph<'_>> {
        let cuts = self.cuts();
        let mut next = 0;
        core::iter::from_fn(move || {
            let lead = loop {
                let cut = cuts.get(next)?;
                next += 1;
                if let What::Paragraph(lead) = cut.what {
                    break lead;
                }
            };
            let from = next;
            while let Some(cut) = cuts.get(next)
                && !matches!(cut.what, What::Paragraph(_))
            {
                next += 1;
            }
            Some(Paragraph {
                lead,
                passage: self,
                from,
                to: next,
            })
        })
    }

    /// The marks, in the order of the text.
    pub fn marks(&self) -> Vec<Mark> {
        let mut list = Vec::new();
        for at in 0..self.cuts().len() {
            if let Some(Does::Marks(mark)) = self.piece(at).map(|piece| piece.does) {
                list.push(mark);
            }
        }
        list
    }

    /// The commands of other programs, `[%name …]`, in the order of the text, and where they are in
    /// the source.
    pub fn commands(&self) -> impl Iterator<Item = (&str, Span)> {
        let cuts = self.cuts().iter().enumerate();
        let commands = cuts.filter(|(_, cut)| cut.what == What::Command);
        commands.map(|(at, _)| {
            let range = self.range(at);
            let text = self.slice(range.clone());
            let from = range.start + text.len() - text.trim_start().len();
            let text = text.trim();
            (text, self.places.span(from, from + text.len()))
        })
    }

    /// The place in the source of a byte range of its text.
    pub fn span(&self, range: Range<usize>) -> Span {
        self.places.span(range.start, range.end)
    }

    fn slice(&self, range: Range<usize>) -> &str {
        self.text.get(range).unwrap_or_default()
    }

    /// The bytes of a stretch.
    fn range(&self, at: usize) -> Range<usize> {
        let cuts = self.cuts();
        let start = |at: usize| cuts.get(at).map_or(self.text.len(), |cut| cut.at as usize);
        start(at)..start(at + 1)
    }

    /// What a stretch shows, if it is shown.
    fn piece(&self, at: usize) -> Option<Piece<'_>> {
        let cut = *self.cuts().get(at)?;
        let range = self.range(at);
        let text = self.slice(range.clone());
        let bracket = || bracket(text).map(|(words, target, _)| (words, target));
        let target = |target: &str| {
            let end = range.end - 1; // the parenthesis
            self.places.span(end - target.len(), end)
        };
        let mut shown = Cow::Borrowed(text);
        let does = match cut.what {
            What::Paragraph(_) | What::Command | What::Sign => return None,
            What::Words => Does::Says,
            What::NoSquare => Does::MarksNothing,
            What::Mark => {
                let (mark, _) = mark::read(None, text)?;
                shown = Cow::Owned(mark.text());
                Does::Marks(mark)
            }
            What::Web => {
                let (words, to) = bracket()?;
                shown = Cow::Borrowed(words);
                Does::Links(Link::Web(to))
            }
            What::Locator => {
                let (words, to) = bracket()?;
                shown = Cow::Borrowed(words);
                let run = to.strip_prefix('#').unwrap_or(to);
                let span = target(to);
                Does::Links(Link::Locator { run, span })
            }
            What::Refused => {
                let (words, to) = bracket()?;
                shown = Cow::Borrowed(words);
                let target = target(to);
                Does::LinksNowhere { target }
            }
        };
        Some(Piece {
            text: shown,
            style: cut.style,
            does,
            span: self.places.span(range.start, range.end),
            at: range.clone(),
        })
    }
}

impl<'a> Piece<'a> {
    /// Where it leads to, if it is a link.
    pub fn link(&self) -> Option<Link<'a>> {
        match self.does {
            Does::Links(link) => Some(link),
            _ => None,
        }
    }
}

impl<'a> Paragraph<'a> {
    /// Its pieces; none if nothing follows the word that says what it is. Two of plain words
    /// may follow each other.
    pub fn pieces(self) -> impl Iterator<Item = Piece<'a>> {
        (self.from..self.to).filter_map(move |at| self.passage.piece(at))
    }

    /// Its words without the signs that set them.
    pub fn words(self) -> String {
        let mut text = String::new();
        for piece in self.pieces() {
            text.push_str(&piece.text);
        }
        text
    }

    /// Whether it is one link and nothing else.
    pub fn is_link(self) -> bool {
        let text = self.text();
        bracket(text).is_some_and(|(_, _, length)| length == text.len())
    }

    /// Whether it says when a talk speaks of this: `Hear: 4:27-4:58, 12:03`. Whether all of those are times is for `hear`.
    pub fn is_heard(self) -> bool {
        let times = self.text().strip_prefix("Hear: ");
        times.is_some_and(|it| it.bytes().all(|it| it < b'A' && it != b'*' || it > b'z'))
    }

    /// As it is written, without the word that says what it is.
    pub fn text(self) -> &'a str {
        let from = self.passage.range(self.from).start;
        let to = self.passage.range(self.to).start;
        let text = self.passage.text.get(from..to).unwrap_or_default();
        let line = split(text, b'\n').next().unwrap_or_default();
        line.trim()
    }
}
