//! From tags and texts to a tree of elements. Elements that end without an end tag, such as `<p>`
//! and `<li>`, end where HTML has them end (WHATWG HTML, 13.1.2.4).

use super::Markup;
use super::entities::{Text, Within, decode};
use super::html::{self, Event, events};
use crate::text::{Mapping, Span};
use std::ops::Range;

/// An attribute as it is read. Places are bytes of the file.
#[derive(Clone, Debug)]
pub struct Attribute {
    pub name: String,
    pub named: Span,
    pub value: Text,
}

impl Attribute {
    /// Where its value is, or itself if it has none.
    pub fn stands(&self) -> Span {
        match self.value.text.is_empty() {
            true => self.named,
            false => self.value.stands(),
        }
    }
}

/// An element.
#[derive(Debug)]
pub struct Node {
    pub name: String,
    /// Its tag in the file.
    pub tag: Span,
    /// Its name within that.
    pub named: Span,
    pub attributes: Vec<Attribute>,
    pub inside: Vec<Inside>,
    /// The element that it is in; the root is in none.
    pub parent: Option<usize>,
    /// Whether it has an end tag of its own, or needs none.
    pub is_closed: bool,
    /// That end tag.
    pub close: Option<Span>,
    /// The element whose beginning ended it.
    pub ended_by: Option<usize>,
}

/// What is in an element.
#[derive(Debug)]
pub enum Inside {
    Element(usize),
    Text(Text),
}

/// The elements of a post. The first is the root, which is in no file.
#[derive(Debug)]
pub struct Tree {
    pub nodes: Vec<Node>,
}

/// Elements within which a paragraph cannot be: they end it (13.1.2.4 lists them).
const ENDS_P: &[&str] = &[
    "address",
    "article",
    "aside",
    "blockquote",
    "details",
    "dialog",
    "dir",
    "div",
    "dl",
    "fieldset",
    "figcaption",
    "figure",
    "footer",
    "form",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "header",
    "hgroup",
    "hr",
    "main",
    "menu",
    "nav",
    "ol",
    "p",
    "pre",
    "search",
    "section",
    "table",
    "ul",
];

/// Elements that end one of the second kind, if that is open within the third.
const ENDS: &[(&[&str], &[&str], &[&str])] = &[
    (&["li"], &["li"], &["ol", "ul", "menu"]),
    (&["dt", "dd"], &["dt", "dd"], &["dl"]),
    (&["td", "th"], &["td", "th"], &["tr", "table"]),
    (&["tr"], &["tr"], &["table"]),
    (
        &["tbody", "thead", "tfoot"],
        &["tbody", "thead", "tfoot"],
        &["table"],
    ),
    (&["option"], &["option"], &["select", "datalist"]),
];

/// How many of the open elements are looked at: more are no writing of people, and looking at all would
/// take quadratic time.
const NEAR: usize = 64;

/// How deep elements are in each other; what is deeper is beside the last, as in browsers.
const DEEPEST: usize = 512;

impl Tree {
    /// The elements of some HTML. Places are bytes of it.
    pub fn of_html(html: &str) -> Tree {
        Tree::of(&Markup {
            mapping: Mapping::cut(Span::new(0, html.len())),
            html: html.to_owned(),
            lang: None,
        })
    }

    pub fn of(markup: &Markup) -> Tree {
        let list = events(&markup.html);
        let root = Node {
            name: String::new(),
            tag: Span::default(),
            named: Span::default(),
            attributes: Vec::new(),
            inside: Vec::new(),
            parent: None,
            is_closed: true,
            close: None,
            ended_by: None,
        };
        let mut tree = Tree { nodes: vec![root] };
        // The open elements, each with the event that opened it; the root is always open.
        let mut open = vec![(0, usize::MAX)];
        // The element that each event opened.
        let mut nodes = vec![0; list.len()];
        for (at, event) in list.iter().enumerate() {
            match event {
                Event::Open {
                    name,
                    tag,
                    attributes,
                    is_empty,
                } => {
                    tree.end_by(name, &mut open);
                    let node = tree.add(markup, tag, name, attributes, last(&open));
                    tree.nodes[node].is_closed = *is_empty;
                    nodes[at] = node; // as many as there are events
                    if !is_empty && open.len() < DEEPEST {
                        open.push((node, at));
                    }
                }
                Event::Close { opened, tag } => {
                    let node = &mut tree.nodes[nodes[*opened]]; // an event before this one
                    // The end tag of an element also ends what is still open in it.
                    let name = markup.html[tag.clone()].get(2..2 + node.name.len());
                    if name.is_some_and(|it| it.eq_ignore_ascii_case(&node.name)) {
                        node.is_closed = true;
                        node.close = Some(outer(markup, tag));
                    }
                    if let Some(depth) = open.iter().rposition(|(_, by)| by == opened) {
                        open.truncate(depth.max(1));
                    }
                }
                Event::Text { at, is_raw } => {
                    let within = if *is_raw { Within::Raw } else { Within::Text };
                    let text = decode(&markup.html[at.clone()], &part(markup, at), within);
                    tree.nodes[last(&open)].inside.push(Inside::Text(text));
                }
            }
        }
        tree
    }

    /// Ends the elements that end where this one begins.
    fn end_by(&mut self, name: &str, open: &mut Vec<(usize, usize)>) {
        let by = self.nodes.len(); // it is the next
        let nodes = &mut self.nodes;
        let mut end = |ended: &[&str], within: &[&str]| {
            let first = open.len().saturating_sub(NEAR);
            let mut near = (first..open.len()).rev();
            let is = |depth: usize, names: &[&str]| {
                names.contains(&nodes[open[depth].0].name.as_str()) // both as they were made
            };
            let found = near.find(|&depth| is(depth, ended) || is(depth, within));
            if let Some(depth) = found.filter(|&depth| is(depth, ended)) {
                let depth = depth.max(1);
                for &(node, _) in &open[depth..] {
                    nodes[node].ended_by = Some(by);
                }
                open.truncate(depth);
            }
        };
        if ENDS_P.contains(&name) {
            end(&["p"], &["button", "td", "th", "caption", "object"]);
        }
        for (by, ended, within) in ENDS {
            if by.contains(&name) {
                end(ended, within);
            }
        }
    }

    fn add(
        &mut self,
        markup: &Markup,
        tag: &Range<usize>,
        name: &str,
        attributes: &[html::Attribute],
        parent: usize,
    ) -> usize {
        let outer = |at: &Range<usize>| outer(markup, at);
        let attribute = |it: &html::Attribute| Attribute {
            name: it.name.clone(),
            named: outer(&it.named),
            value: decode(
                &markup.html[it.value.clone()],
                &part(markup, &it.value),
                Within::Attribute,
            ),
        };
        let node = self.nodes.len();
        self.nodes.push(Node {
            name: name.to_owned(),
            tag: outer(tag),
            named: outer(&(tag.start + 1..tag.start + 1 + name.len())),
            attributes: attributes.iter().map(attribute).collect(),
            inside: Vec::new(),
            parent: Some(parent),
            is_closed: false,
            close: None,
            ended_by: None,
        });
        self.nodes[parent].inside.push(Inside::Element(node));
        node
    }

    /// An attribute of an element; none if it has it not.
    pub fn attribute(&self, node: usize, name: &str) -> Option<&Attribute> {
        self.nodes[node]
            .attributes
            .iter()
            .find(|it| it.name == name)
    }

    /// The value of an attribute.
    pub fn value(&self, node: usize, name: &str) -> Option<&str> {
        self.attribute(node, name).map(|it| it.value.text.as_str())
    }

    /// The element and those that it is in, from within to without.
    pub fn around(&self, node: usize) -> impl Iterator<Item = usize> {
        std::iter::successors(Some(node), |&it| self.nodes[it].parent)
    }

    /// The language of an element as it is written around it; empty where none is.
    pub fn language(&self, node: usize) -> &str {
        let mut around = self.around(node);
        let lang = around.find_map(|it| self.value(it, "lang"));
        lang.unwrap_or_default()
    }

    /// The elements that are directly in one.
    pub fn children(&self, node: usize) -> impl Iterator<Item = usize> {
        self.nodes[node].inside.iter().filter_map(|it| match it {
            Inside::Element(child) => Some(*child),
            Inside::Text(_) => None,
        })
    }

    /// All text in an element, as one.
    pub fn text(&self, node: usize) -> Text {
        let mut whole = Text::default();
        let mut lists = vec![self.nodes[node].inside.iter()];
        while let Some(list) = lists.last_mut() {
            match list.next() {
                None => {
                    lists.pop();
                }
                Some(Inside::Text(text)) => whole.append(text),
                Some(Inside::Element(child)) => lists.push(self.nodes[*child].inside.iter()),
            }
        }
        whole
    }
}

/// The innermost open element; the root is never closed.
fn last(open: &[(usize, usize)]) -> usize {
    open.last().map_or(0, |&(node, _)| node)
}

fn outer(markup: &Markup, at: &Range<usize>) -> Span {
    markup.mapping.outer(Span::new(at.start, at.end))
}

fn part(markup: &Markup, at: &Range<usize>) -> Mapping {
    markup.mapping.part(Span::new(at.start, at.end))
}
