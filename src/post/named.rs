//! The moves that the prose of a post names: where each leads, and what is wrong with the others.

use super::elements::Kind;
use super::elements::Tree;
use super::numbers;
use super::placed::address_of;
use super::prose::paragraphs;
use crate::check::author::{self, Chosen};
use crate::lesson::place::address;
use crate::lesson::prose::{self, Named};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::mention::mentions;
use crate::text::{Code, Finding, Span};
use std::collections::HashSet;

/// What was found in a post.
#[derive(Debug, Default)]
pub struct Checked {
    /// Places are bytes of the file.
    pub findings: Vec<Finding>,
    /// The moves that its prose names, in the order of the places.
    pub links: Vec<Link>,
    /// The addresses of notation in files of its own.
    pub sources: Vec<String>,
    /// What the lessons that it holds recommend.
    pub chosen: Vec<Chosen>,
}

/// A move named in prose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// Its place in the file.
    pub span: Span,
    pub words: String,
    /// By what addresses name the lesson: its id, or the address where it is in another post.
    lesson: String,
    /// Its place in that; none if it stays text.
    run: Option<String>,
}

impl Link {
    /// Where it leads, as part of an address: `exchange/4.cxd5`; none if it stays text.
    pub fn address(&self) -> Option<String> {
        let run = self.run.as_ref()?;
        Some(format!("{}/{run}", self.lesson))
    }

    /// The same as a link is written.
    pub fn href(&self) -> Option<String> {
        let run = self.run.as_ref()?;
        Some(match self.lesson.contains('#') {
            true => format!("{}/{run}", self.lesson),
            false => format!("{}/{run}", address_of(&self.lesson)),
        })
    }
}

/// The lesson that prose is about.
pub struct About<'a> {
    pub lesson: &'a Lesson,
    /// Its name in addresses.
    pub id: &'a str,
    /// Those by which its moves are read.
    pub letters: &'static Letters,
}

/// Reads the prose below an element.
pub fn read(tree: &Tree, root: usize, kind: Kind, about: &About<'_>, checked: &mut Checked) {
    let &About {
        lesson,
        id,
        letters,
    } = about;
    let is_markdown = kind == Kind::Markdown;
    if is_markdown {
        checked.findings.extend(numbers::lost(tree, root, letters));
    }
    // For each node the question that hides it, and those that were told: once in an article.
    let asking = lesson.last_before(|id| lesson.asks(id));
    let mut told = HashSet::new();
    let mut context = prose::Context::default();
    let mut last = None;
    for paragraph in paragraphs(tree, root, is_markdown) {
        let text = paragraph.text.as_str();
        let all = mentions(text, letters);
        let mut list = prose::named_of(lesson, &mut context, text, &all);
        let place = |it: &Named| it.place.as_ref().ok().map(|place| place.node);
        let last_here = list.iter().rev().find_map(place).or(last);
        // Where nothing was named a number and a square say nothing.
        if let Some(at) = last_here {
            let pawns = author::named_pawns(lesson, at, text, &all, &list);
            list.extend(pawns);
            list.sort_by_key(|it| it.range.start);
        }
        for named in &list {
            last = place(named).or(last);
            let range = named.range.clone();
            let span = paragraph.mapping.outer(Span::new(range.start, range.end));
            let address = named.place.as_ref().ok();
            checked.links.push(Link {
                span,
                words: text.get(range).unwrap_or_default().to_owned(),
                lesson: id.to_owned(),
                run: address.map(|place| address::address(lesson, place)),
            });
            // One entry a node.
            let hidden = place(named).and_then(|node| asking[node as usize]);
            if let Some(asks) = hidden.filter(|asks| told.insert(*asks)) {
                checked.findings.push(hidden_by(lesson, asks, span));
            }
            let at = last.unwrap_or_default();
            let amiss = author::named_amiss(lesson, letters, at, text, &all, named);
            let amiss = amiss.map(|it| paragraph.mapping.finding(it));
            checked.findings.extend(amiss);
        }
    }
}

/// The finding that a move comes after a question, at which readers of its link arrive.
fn hidden_by(lesson: &Lesson, asks: NodeId, span: Span) -> Finding {
    let place = lesson.numbered(asks);
    let message = format!("this move comes after the question at {place}");
    let help = "until the question is answered its link leads readers to the question; say so, or \
                name it after the answer";
    Finding::new(Code::LinksAhead, span, message).with_help(help.to_owned())
}
