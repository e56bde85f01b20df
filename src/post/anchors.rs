//! Ordinary links of a post that lead to a place of a lesson: `[the exchange](#lesson/4.cxd5)`, or of one
//! in another post: `[the same](other.html#lesson/4.cxd5)`.

use super::elements::{Attribute, Tree};
use super::names::nearest;
use super::read::Read;
use crate::notation::Letters;
use crate::text::{Code, Finding, Span};
use crate::view::{Element, open};
use percent_encoding::percent_decode_str;

/// A link that may lead to a place of a lesson.
pub struct Anchor<'a> {
    /// The address of its page; empty for the post itself.
    pub page: String,
    id: String,
    run: String,
    href: &'a Attribute,
}

impl Anchor<'_> {
    /// Whether it is written as a place of a lesson is.
    pub fn is_place(&self) -> bool {
        self.run.starts_with(|sign: char| sign.is_ascii_digit())
    }

    /// Where it is.
    pub fn stands(&self) -> Span {
        self.href.stands()
    }
}

/// The links of a post whose fragment has the form of a place. Those to other parts of a page are none.
pub fn links(tree: &Tree) -> Vec<Anchor<'_>> {
    let all = 0..tree.nodes.len();
    let links = all.filter(|&node| tree.nodes[node].name == "a");
    let read = |node| {
        let href = tree.attribute(node, "href")?;
        let (page, fragment) = href.value.text.split_once('#')?;
        let fragment = percent_decode_str(fragment).decode_utf8().ok()?;
        let (id, run) = fragment.split_once('/')?;
        Some(Anchor {
            page: page.to_owned(),
            id: id.to_owned(),
            run: run.to_owned(),
            href,
        })
    };
    links.filter_map(read).collect()
}

/// What is wrong with a link to the place of a lesson; `lessons` are those of its page.
pub fn amiss(tree: &Tree, link: &Anchor<'_>, lessons: &[Read]) -> Vec<Finding> {
    let Some(read) = lessons.iter().find(|it| it.id == link.id) else {
        return elsewhere(tree, link, lessons).into_iter().collect();
    };
    let Some(lesson) = read.lesson() else {
        return Vec::new();
    };
    let at = link.run.clone();
    let (_, found) = open(lesson, &Element::Reference { at }, Letters::ENGLISH);
    let place = |finding: &Finding| {
        let mut finding = finding.clone();
        finding.span = link.href.stands();
        finding.fix = None;
        finding
    };
    found.iter().map(place).collect()
}

/// The finding about a link to a place of a lesson that its page does not have, if its name is nearly that
/// of one and nothing else in the post has it.
fn elsewhere(tree: &Tree, link: &Anchor<'_>, lessons: &[Read]) -> Option<Finding> {
    let id = link.id.as_str();
    let is_id = |node| link.page.is_empty() && tree.value(node, "id") == Some(id);
    let is_known = (0..tree.nodes.len()).any(is_id);
    if is_known || !link.is_place() {
        return None;
    }
    let near = nearest(id, lessons.iter().map(|it| it.id.as_str()))?;
    let page = match link.page.as_str() {
        "" => "this page",
        page => page,
    };
    let message = format!("the lesson \u{201c}{id}\u{201d} is not in {page}");
    let finding = Finding::new(Code::NoSuchLesson, link.href.stands(), message);
    Some(finding.with_help(format!("did you mean {near}?")))
}
