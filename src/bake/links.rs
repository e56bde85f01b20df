//! What leads to places of lessons: references, and the moves that prose names.

use super::MARK;
use super::page::Baking;
use crate::check::attributes::Kind;
use crate::edge;
use crate::lesson::Place;
use crate::lesson::place::address;
use crate::markup::escape;
use crate::post::{Found, Shown};
use crate::view::Mode;

impl Baking<'_> {
    /// A reference without a link of the author's.
    pub fn reference(&mut self, shown: &Shown, found: &Found) {
        let (tree, node) = (&self.post.tree, &self.post.tree.nodes[found.node]);
        let is_linked = tree
            .children(found.node)
            .any(|it| tree.nodes[it].name == "a");
        let (Some(of), Some(close)) = (&shown.notation, node.close) else {
            return;
        };
        if is_linked || matches!(shown.state.mode, Mode::Missing) {
            return;
        }
        let place = Place {
            node: shown.state.node,
            aside: shown.state.aside.clone(),
        };
        let run = address::address(&of.lesson, &place);
        let start = shown.of.as_ref().map_or("", |it| it.address.as_str());
        let link = link(&format!("{start}/{run}"));
        self.edits.insert(node.tag.to as usize, link);
        self.edits.insert(close.from as usize, "</a>");
        self.count += 1;
    }

    /// The elements around articles say that their moves are linked: the script waits for the reader.
    pub fn articles(&mut self) {
        for found in &self.post.found {
            if found.kind == Kind::Prose && self.is_live {
                let stamp = edge::stamp("", &[], self.post.tree.language(found.node));
                self.tag(found, &stamp, "", true);
            }
        }
    }

    /// The moves that prose names.
    pub fn links(&mut self) {
        for named in &self.post.checked.links {
            let (Some(address), bytes) = (named.href(), named.span.range()) else {
                continue;
            };
            // Words that hold a tag are not linked without the script.
            let is_plain = self
                .text
                .get(bytes.clone())
                .is_some_and(|it| !it.contains('<'));
            if is_plain {
                let link = link(&address);
                self.edits.insert(bytes.start, link);
                self.edits.insert(bytes.end, "</a>");
            }
        }
    }
}

/// The beginning of a link.
fn link(address: &str) -> String {
    let mut text = format!("<a {MARK}=\"\" href=\"");
    escape(address, &mut text);
    text + "\">"
}
