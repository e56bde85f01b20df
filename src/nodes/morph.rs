//! The one function that makes nodes, takes over nodes and updates nodes.

use crate::markup::{Element, Markup};
use crate::text::split;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::{CharacterData, Node};

// New nodes are made in the browser, from one text: a call from the core for each of them, with
// names and values, takes four times as long. The text is a list of parts, each with a NUL after
// it: `<` and an element's name, an attribute's name with `=` and its value, `"` and text, and
// nothing where an element ends. No text is read as markup, so a page's policy has nothing to
// forbid. `createElementNS` is that of the class: an element of the page whose name is
// `createElementNS` hides the method of the one document.
#[wasm_bindgen(inline_js = r#"
const SVG = "http://www.w3.org/2000/svg";
export function grow(parent, written, before) {
  const made = new DocumentFragment();
  let at = made;
  for (const part of written.split("\0")) {
    const rest = part.slice(1);
    const cut = part.indexOf("=");
    if (part[0] === "<") {
      const space = rest === "svg" || (at === made ? parent : at).namespaceURI === SVG ? SVG : "http://www.w3.org/1999/xhtml";
      at = at.appendChild(Document.prototype.createElementNS.call(parent.ownerDocument, space, rest));
    } else if (part[0] === '"') at.append(rest);
    else if (part) at.setAttribute(part.slice(0, cut), part.slice(cut + 1));
    else at = at.parentNode;
  }
  parent.insertBefore(made, before);
}
"#)]
extern "C" {
    fn grow(parent: &Node, written: &str, before: Option<&Node>);
}

/// Makes the children of `parent` what is wanted, keeping every node that fits where it is.
/// Returns how many nodes were made: none if a baked page is taken over.
///
/// Calls itself as deep as the tree is: some elements for each of at most `limits::NESTING`
/// variations. DOM calls that can fail (a name that is no name) cannot here, because names come
/// from `markup/` alone; a failure leaves the node as it is.
pub fn morph(parent: &Node, wanted: &[Element]) -> u32 {
    let mut morph = Morph { made: 0 };
    let mut at = parent.first_child();
    for element in wanted {
        at = morph.element(parent, at, element);
    }
    remove_from(parent, at);
    morph.made
}

/// Makes one element what is wanted; it must have the wanted name.
pub fn morph_element(element: &web_sys::Element, wanted: &Element) {
    let mut morph = Morph { made: 0 };
    morph.attributes(element, wanted);
    morph.children(element, &wanted.children);
}

struct Morph {
    made: u32,
}

impl Morph {
    fn children(&mut self, parent: &web_sys::Element, wanted: &[Markup]) {
        let mut at = parent.first_child();
        for child in wanted {
            at = match child {
                Markup::Element(element) => self.element(parent, at, element),
                Markup::Text(text) => self.text(parent, at, text),
            };
        }
        remove_from(parent, at);
    }

    /// Makes the node at this place the wanted element; returns the place after it.
    fn element(&mut self, parent: &Node, at: Option<Node>, wanted: &Element) -> Option<Node> {
        if wanted.is_kept() {
            return at?.next_sibling();
        }
        let fits = |node: &Node| {
            let element = node.clone().dyn_into::<web_sys::Element>().ok()?;
            (element.local_name() == wanted.tag).then_some(element)
        };
        let element = match at.as_ref().and_then(fits) {
            Some(element) => element,
            None => {
                // Where one element has come or gone, the one after it stays the same node: it may
                // hold the focus, or something that the reader has opened.
                let next = at.as_ref().and_then(Node::next_sibling);
                match (&at, next.as_ref().and_then(fits)) {
                    (Some(gone), Some(element)) => {
                        let _ = parent.remove_child(gone);
                        element
                    }
                    _ => {
                        let mut written = String::new();
                        self.write(wanted, &mut written);
                        grow(parent, &written, at.as_ref());
                        return at;
                    }
                }
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
        let mut written = String::new();
        self.write_text(wanted, &mut written);
        grow(parent, &written, at.as_ref());
        at
    }

    /// An element as `grow` reads it.
    fn write(&mut self, element: &Element, into: &mut String) {
        self.made += 1;
        into.push('<');
        into.push_str(element.tag);
        for (name, value) in &element.attributes {
            into.push('\0');
            into.push_str(name);
            into.push('=');
            write_clean(value, into);
        }
        into.push('\0');
        for child in &element.children {
            match child {
                Markup::Element(child) => self.write(child, into),
                Markup::Text(text) => self.write_text(text, into),
            }
        }
        into.push('\0');
    }

    fn write_text(&mut self, text: &str, into: &mut String) {
        self.made += 1;
        into.push('"');
        write_clean(text, into);
        into.push('\0');
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

/// Without a NUL, which a script may have put into a lesson: what comes after it would be a part.
fn write_clean(text: &str, into: &mut String) {
    for part in split(text, 0) {
        into.push_str(part);
    }
}

fn remove_from(parent: &Node, mut at: Option<Node>) {
    while let Some(node) = at {
        at = node.next_sibling();
        let _ = parent.remove_child(&node);
    }
}
