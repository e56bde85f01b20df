//! The moves that the prose of a post names: where each leads, and what is wrong with the others.

use super::Kind;
use super::numbers;
use super::prose::paragraphs;
use super::tree::Tree;
use crate::check::author;
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, prose};
use crate::notation::Letters;
use crate::notation::mention::mentions;
use crate::text::{Finding, Span};

/// What was found in a post.
#[derive(Debug, Default)]
pub struct Checked {
    /// Places are bytes of the file.
    pub findings: Vec<Finding>,
    /// The moves that its prose names, in the order of the places.
    pub links: Vec<Link>,
    /// The addresses of notation in files of its own.
    pub sources: Vec<String>,
}

/// A move named in prose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// Its place in the file.
    pub span: Span,
    pub words: String,
    /// Where it leads, as part of an address: `exchange/4.cxd5`; none if it stays text.
    pub address: Option<String>,
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
    let mut context = prose::Context::default();
    let mut last = 0;
    for paragraph in paragraphs(tree, root, is_markdown) {
        let text = paragraph.text.as_str();
        let all = mentions(text, letters);
        for named in prose::named(lesson, letters, &mut context, text) {
            let range = named.range.clone();
            let span = paragraph.mapping.outer(Span::new(range.start, range.end));
            let words = text.get(range).unwrap_or_default().to_owned();
            let address = named.place.as_ref().ok().map(|place| {
                last = place.node;
                format!("{id}/{}", address(lesson, place))
            });
            checked.links.push(Link {
                span,
                words,
                address,
            });
            let amiss = author::named_amiss(lesson, letters, last, text, &all, &named);
            checked
                .findings
                .extend(amiss.map(|it| paragraph.mapping.finding(it)));
        }
    }
}
