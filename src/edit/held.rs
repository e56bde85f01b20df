//! What a text holds, apart from how it is written: by this the text after an edit is compared with what was meant.

use crate::lesson::{Lesson, NodeId};
use crate::notation::{Comment, Game, Lexer, TokenKind};
use crate::text::{Source, Span};

/// A lesson as plain values.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// The tags as they are written.
    pub tags: Vec<String>,
    pub result: &'static str,
    /// Its positions, the start first. What is not below the start any more does not count.
    pub nodes: Vec<Said>,
    /// The words that cannot be read, in an order of their own.
    pub unread: Vec<String>,
    /// What is in the text and in no lesson: escape lines, signs without meaning.
    pub odd: Vec<String>,
    /// Whether variations or tags are passed over.
    pub passed_over: bool,
}

/// One position, and the move that leads there.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    pub san: String,
    /// In their numbers' order.
    pub nags: Vec<u8>,
    pub before: Vec<String>,
    pub comments: Vec<String>,
    pub children: Vec<usize>,
}

impl Said {
    /// Puts the words before a line's first move after it, where they stand once it goes on with another line.
    pub fn open(&mut self) {
        let mut comments = std::mem::take(&mut self.before);
        comments.append(&mut self.comments);
        self.comments = comments;
    }
}

impl Held {
    /// What the game of a lesson holds. The positions have the numbers that they have in the lesson.
    pub fn of(source: &Source, game: &Game, bytes: Span, lesson: &Lesson) -> Held {
        let slice = |span| source.slice(span).to_owned();
        let mut unread = unread(source, lesson);
        unread.sort();
        Held {
            tags: game.tags.iter().map(|tag| slice(tag.span)).collect(),
            result: lesson.result,
            nodes: lesson.ids().map(|id| said(lesson, id)).collect(),
            unread,
            odd: odd(source, bytes),
            passed_over: lesson.passed_over,
        }
    }

    /// Adds a position after another; its number.
    pub fn add(&mut self, parent: usize, said: Said) -> usize {
        let id = self.nodes.len();
        self.nodes.push(said);
        if let Some(parent) = self.nodes.get_mut(parent) {
            parent.children.push(id);
        }
        id
    }

    /// Whether another holds the same, and if not, in which respect. Numbers do not matter, orders do.
    pub fn differs(&self, other: &Held) -> Option<&'static str> {
        let mut pairs = vec![(0, 0)];
        while let Some((one, two)) = pairs.pop() {
            let (Some(one), Some(two)) = (self.nodes.get(one), other.nodes.get(two)) else {
                return Some("moves");
            };
            if one.san != two.san || one.children.len() != two.children.len() {
                return Some("moves");
            }
            if one.comments != two.comments || one.before != two.before {
                return Some("comments");
            }
            if one.nags != two.nags {
                return Some("signs");
            }
            pairs.extend(
                one.children
                    .iter()
                    .copied()
                    .zip(two.children.iter().copied()),
            );
        }
        if self.unread != other.unread || self.passed_over != other.passed_over {
            return Some("unread words");
        }
        if self.tags != other.tags || self.result != other.result {
            return Some("tags or result");
        }
        (self.odd != other.odd).then_some("signs without meaning")
    }
}

/// What a node of a lesson says.
pub fn said(lesson: &Lesson, id: NodeId) -> Said {
    let node = lesson.node(id);
    let texts = |list: &[Comment]| list.iter().map(|it| it.text().to_owned()).collect();
    let mut nags = node.nags.clone();
    nags.sort_unstable();
    Said {
        san: node.san.as_str().to_owned(),
        nags,
        before: texts(&node.before),
        comments: texts(&node.comments),
        children: node.children.iter().map(|&it| it as usize).collect(),
    }
}

/// The words that a lesson could not read, as they are written.
pub fn unread(source: &Source, lesson: &Lesson) -> Vec<String> {
    let stretches = lesson.unread.iter();
    stretches
        .flat_map(|it| words(source.slice(it.span)))
        .collect()
}

/// The words of a stretch of notation, brackets and braces apart.
pub fn words(text: &str) -> Vec<String> {
    let is_apart = |it: char| it.is_whitespace() || matches!(it, '(' | ')' | '{' | '}');
    let words = text.split(is_apart).filter(|word| !word.is_empty());
    words.map(str::to_owned).collect()
}

/// What of these bytes no lesson holds.
fn odd(source: &Source, bytes: Span) -> Vec<String> {
    let text = source.text();
    let mut odd = Vec::new();
    for token in Lexer::new(text) {
        if token.span.from < bytes.from || token.span.from >= bytes.to {
            continue;
        }
        let word = source.slice(token.span);
        let is_odd = match token.kind {
            TokenKind::Escape | TokenKind::Stray => true,
            TokenKind::Nag => word.get(1..).is_none_or(|it| it.parse::<u8>().is_err()),
            TokenKind::Word => matches!(word, "e.p." | "ep" | "+" | "++" | "#"),
            _ => false,
        };
        if is_odd {
            odd.push(word.to_owned());
        }
    }
    odd.sort();
    odd
}
