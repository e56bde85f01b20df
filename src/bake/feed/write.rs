//! A feed with other HTML in its parts, written as the HTML was that had been there.

use super::html::html;
use super::json;
use super::{LOSES_LINE, Part, VOID, Written, XHTML};
use crate::markup::{escape, of_xml};
use crate::post::{Attribute, Inside, Tree};
use std::collections::HashSet;
use std::slice::Iter;

/// The feed with what `bake` makes of the HTML of each part; `None` leaves the part as it is, and so
/// does the same HTML. Every byte outside of the parts stays, and HTML is written as it was: as text,
/// in CDATA, as XHTML. Comments of XML within a part that changes are lost.
///
/// `parts` are those of [`parts`](super::parts) for the same text; others are passed over.
pub fn rewritten(
    xml: &str,
    parts: &[Part],
    bake: &mut dyn FnMut(&str, &Part) -> Option<String>,
) -> String {
    let mut text = String::with_capacity(xml.len());
    let mut done = 0;
    for part in parts {
        let at = part.span.range();
        let (Some(before), Some(written)) = (xml.get(done..at.start), xml.get(at.clone())) else {
            continue;
        };
        let html = html(written, part);
        let Some(baked) = bake(&html, part).filter(|baked| *baked != html) else {
            continue;
        };
        text.push_str(before);
        let baked = match part.written {
            Written::Json => baked,
            _ => of_xml(&baked),
        };
        match part.written {
            Written::Json => json::push(&baked, &mut text),
            Written::Escaped => escape(&baked, &mut text),
            Written::Cdata => {
                text.push_str("<![CDATA[");
                text.push_str(&baked.replace("]]>", "]]]]><![CDATA[>"));
                text.push_str("]]>");
            }
            Written::Xhtml => xhtml(&baked, &part.prefix, &mut text),
        }
        done = at.end;
    }
    text.push_str(xml.get(done..).unwrap_or_default());
    text
}

/// The namespaces of the elements within HTML that are not of HTML.
const FOREIGN: &[(&str, &str)] = &[
    ("svg", "http://www.w3.org/2000/svg"),
    ("math", "http://www.w3.org/1998/Math/MathML"),
];

/// Where an element is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Space {
    Html,
    /// In `svg` or `math`: names keep their capital letters, and have no prefix.
    Foreign,
    /// In `foreignObject`: HTML again, where names without a prefix are those of SVG.
    Within,
}

/// An element that is open.
struct Open<'t> {
    /// What is still to come in it.
    inside: Iter<'t, Inside>,
    end: String,
    space: Space,
    /// Whether its text loses a line end at the beginning, if it begins with text.
    loses_line: bool,
}

/// HTML as well-formed XML: every element closed, attributes quoted and each once, names that XML does
/// not have left out.
fn xhtml(html: &str, prefix: &str, into: &mut String) {
    let tree = Tree::of_html(html);
    let mut writer = Writer {
        html,
        tree: &tree,
        prefix,
        into,
    };
    let root = Open {
        inside: tree.nodes[0].inside.iter(), // every tree has a root
        end: String::new(),
        space: Space::Html,
        loses_line: false,
    };
    let mut open = vec![root];
    while let Some(last) = open.last_mut() {
        let loses_line = std::mem::take(&mut last.loses_line);
        match last.inside.next() {
            None => {
                writer.into.push_str(&last.end);
                open.pop();
            }
            Some(Inside::Text(text)) => {
                let text = match loses_line {
                    true => without_line(&text.text),
                    false => &text.text,
                };
                escape(text, writer.into);
            }
            Some(Inside::Element(child)) => {
                let begun = writer.start(*child, last.space);
                open.push(begun);
            }
        }
    }
}

fn without_line(text: &str) -> &str {
    let text = text.strip_prefix('\r').unwrap_or(text);
    text.strip_prefix('\n').unwrap_or(text)
}

struct Writer<'t, 'w> {
    html: &'w str,
    tree: &'t Tree,
    prefix: &'w str,
    into: &'w mut String,
}

impl<'t> Writer<'t, '_> {
    /// Writes the start tag of an element.
    fn start(&mut self, node: usize, space: Space) -> Open<'t> {
        let node = &self.tree.nodes[node]; // of this tree
        let foreign = FOREIGN.iter().find(|(name, _)| *name == node.name);
        let here = match (foreign, space) {
            (Some(_), _) | (None, Space::Foreign) => Space::Foreign,
            (None, Space::Html | Space::Within) => Space::Html,
        };
        let mut open = Open {
            inside: node.inside.iter(),
            end: String::new(),
            space,
            loses_line: LOSES_LINE.contains(&node.name.as_str()),
        };
        let name = match here {
            Space::Foreign => self.html.get(node.named.range()).unwrap_or(&node.name),
            _ => &node.name,
        };
        if !is_name(name) {
            return open;
        }
        open.space = match node.name.as_str() {
            "foreignobject" => Space::Within,
            _ => here,
        };
        let name = match (here, self.prefix) {
            (Space::Foreign, _) | (_, "") => name.to_owned(),
            (_, prefix) => format!("{prefix}:{name}"),
        };
        self.into.push('<');
        self.into.push_str(&name);
        match (foreign, space) {
            (Some((_, address)), Space::Html | Space::Within) => self.attribute("xmlns", address),
            (None, Space::Within) if self.prefix.is_empty() => self.attribute("xmlns", XHTML),
            _ => {}
        }
        self.attributes(&node.attributes, here);
        if here == Space::Html && VOID.contains(&node.name.as_str()) {
            self.into.push_str(" />");
        } else {
            self.into.push('>');
            open.end = format!("</{name}>");
        }
        open
    }

    /// Writes attributes, each once, without those whose names mean nothing in XML.
    fn attributes(&mut self, list: &[Attribute], here: Space) {
        let mut said = HashSet::new();
        let mut has_links = false;
        for attribute in list {
            let name = match here {
                Space::Foreign => self.html.get(attribute.named.range()),
                _ => None,
            };
            let name = name.unwrap_or(&attribute.name);
            let is_link = name.starts_with("xlink:");
            let is_known = match name.split_once(':') {
                Some(("xml", rest)) => is_name(rest),
                Some(("xlink", rest)) => is_name(rest) && here == Space::Foreign,
                Some(_) => false,
                None => is_name(name) && name != "xmlns",
            };
            if !is_known || !said.insert(name) {
                continue;
            }
            if is_link && !std::mem::replace(&mut has_links, true) {
                self.attribute("xmlns:xlink", "http://www.w3.org/1999/xlink");
            }
            self.attribute(name, &attribute.value.text);
        }
    }

    fn attribute(&mut self, name: &str, value: &str) {
        self.into.push(' ');
        self.into.push_str(name);
        self.into.push_str("=\"");
        escape(value, self.into);
        self.into.push('"');
    }
}

/// Whether XML has this name, without a colon (Namespaces in XML, section 3). Of the signs beyond
/// ASCII only letters and numbers are taken.
fn is_name(name: &str) -> bool {
    let is_begun = name.starts_with(|sign: char| sign.is_alphabetic() || sign == '_');
    let is_in = |sign: char| sign.is_alphanumeric() || "-_.".contains(sign);
    is_begun && name.chars().all(is_in)
}
