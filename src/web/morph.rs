//! The one function that makes nodes, takes over nodes and updates nodes.

use crate::markup::{Element, Markup};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CharacterData, Document, Node, Text};

#[wasm_bindgen]
extern "C" {
    /// `createElementNS` as the class of all documents has it: an element of the page whose name is
    /// `createElementNS` hides the method of that one document.
    #[wasm_bindgen(catch, js_namespace = ["Document", "prototype", "createElementNS"], js_name = call)]
    fn create(document: &Document, space: &str, tag: &str) -> Result<web_sys::Element, JsValue>;
}

const SVG: &str = "http://www.w3.org/2000/svg";
const HTML: &str = "http://www.w3.org/1999/xhtml";

/// Makes the children of `parent` what is wanted, keeping every node that fits where it is.
/// Returns how many nodes were made: none if a baked page is taken over.
///
/// Calls itself as deep as the tree is: some elements for each of at most `limits::NESTING`
/// variations. DOM calls that can fail (a name that is no name) cannot here, because names come
/// from `markup/` alone; a failure leaves the node as it is.
pub fn morph(parent: &Node, wanted: &[Element]) -> u32 {
    match parent.owner_document() {
        Some(document) => Morph { document, made: 0 }.run(parent, wanted),
        None => 0, // a parent that belongs to no document is none of the page's
    }
}

/// Makes one element what is wanted; it must have the wanted name.
pub fn morph_element(element: &web_sys::Element, wanted: &Element) {
    let Some(document) = element.owner_document() else {
        return;
    };
    let mut morph = Morph { document, made: 0 };
    morph.attributes(element, wanted);
    morph.children(element, &wanted.children);
}

struct Morph {
    document: Document,
    made: u32,
}

impl Morph {
    fn run(mut self, parent: &Node, wanted: &[Element]) -> u32 {
        let mut at = parent.first_child();
        for element in wanted {
            at = self.element(parent, at, element, HTML);
        }
        remove_from(parent, at);
        self.made
    }

    fn children(&mut self, parent: &web_sys::Element, wanted: &[Markup]) {
        let space = parent.namespace_uri();
        let space = if space.as_deref() == Some(SVG) {
            SVG
        } else {
            HTML
        };
        let mut at = parent.first_child();
        for child in wanted {
            at = match child {
                Markup::Element(element) => self.element(parent, at, element, space),
                Markup::Text(text) => self.text(parent, at, text),
            };
        }
        remove_from(parent, at);
    }

    /// Makes the node at this place the wanted element; returns the place after it.
    fn element(
        &mut self,
        parent: &Node,
        at: Option<Node>,
        wanted: &Element,
        space: &'static str,
    ) -> Option<Node> {
        let space = if wanted.tag == "svg" { SVG } else { space };
        let fits = |node: &Node| {
            let element = node.clone().dyn_into::<web_sys::Element>().ok()?;
            (element.local_name() == wanted.tag).then_some(element)
        };
        // Where one element has come or gone, the one after it stays the same node: it may
        // hold the focus, or something that the reader has opened.
        let next = at.as_ref().and_then(Node::next_sibling);
        let element = match (at.as_ref().and_then(fits), next.as_ref().and_then(fits)) {
            (Some(element), _) => element,
            (None, Some(element)) => {
                if let Some(gone) = &at {
                    let _ = parent.remove_child(gone);
                }
                element
            }
            (None, None) => {
                let Ok(element) = create(&self.document, space, wanted.tag) else {
                    return at;
                };
                self.made += 1;
                put(parent, &element, at.as_ref());
                element
            }
        };
        self.attributes(&element, wanted);
        self.children(&element, &wanted.children);
        element.next_sibling()
    }

    fn text(&mut self, parent: &Node, at: Option<Node>, wanted: &str) -> Option<Node> {
        let found = at
            .as_ref()
            .filter(|node| node.node_type() == Node::TEXT_NODE);
        if let Some(text) = found.and_then(|node| node.dyn_ref::<CharacterData>()) {
            if text.data() != wanted {
                text.set_data(wanted);
            }
            return text.next_sibling();
        }
        let Ok(text) = Text::new_with_data(wanted) else {
            return at;
        };
        self.made += 1;
        put(parent, &text, at.as_ref());
        text.next_sibling()
    }

    fn attributes(&mut self, element: &web_sys::Element, wanted: &Element) {
        for (name, value) in &wanted.attributes {
            if element.get_attribute(name).as_deref() != Some(value) {
                let _ = element.set_attribute(name, value);
            }
        }
        let there = element.attributes();
        if there.length() as usize == wanted.attributes.len() {
            return;
        }
        for index in (0..there.length()).rev() {
            let Some(attribute) = there.item(index) else {
                continue;
            };
            let name = attribute.name();
            // Whether a reader has opened something is the reader's, and where the board is the page's.
            let is_ours = !matches!(name.as_str(), "open" | "popover" | "style");
            if is_ours && !wanted.attributes.iter().any(|(known, _)| *known == name) {
                let _ = element.remove_attribute(&name);
            }
        }
    }
}

/// Puts a new node before another, or at the end. What is not used is removed at the end.
fn put(parent: &Node, node: &Node, at: Option<&Node>) {
    let _ = parent.insert_before(node, at);
}

fn remove_from(parent: &Node, mut at: Option<Node>) {
    while let Some(node) = at {
        at = node.next_sibling();
        let _ = parent.remove_child(&node);
    }
}
