//! The paragraphs of an article, each as one text: what is in elements that are no prose is left out.
//! The rules are those of the page's script (`www/page/companions/prose.js`).

use super::elements::Text;
use super::elements::{Inside, Tree};
use super::found::is_off;
use crate::check::attributes::Kind;
use crate::text::{Mapping, Span};

/// Where nothing is read.
const CLOSED: &[&str] = &[
    "a", "button", "code", "pre", "kbd", "samp", "input", "textarea", "select", "script", "style",
    "svg", "math", "noscript", "template", "title",
];

/// What does not end a paragraph.
const INLINE: &[&str] = &[
    "a", "abbr", "b", "bdi", "bdo", "button", "cite", "code", "del", "dfn", "em", "font", "i",
    "img", "input", "ins", "kbd", "label", "mark", "math", "ply-ref", "q", "s", "samp", "select",
    "small", "span", "strong", "sub", "sup", "svg", "time", "tt", "u", "var", "wbr", "br",
];

/// What stands in a text for something that is not read.
const SOMETHING: char = '\u{fffc}';

/// What stands in a text for a line end that the page shows, until the others are taken out.
const BREAK: char = '\u{2028}';
/// The longest part of a template that is looked for, in bytes.
const TEMPLATE: usize = 1_000;

/// Whether nothing is read in an element.
pub fn is_closed(tree: &Tree, node: usize) -> bool {
    let name = tree.nodes[node].name.as_str();
    let is_editable = tree.attribute(node, "contenteditable").is_some();
    CLOSED.contains(&name) || Kind::named(name).is_some() || is_editable || is_off(tree, node)
}

/// The paragraphs below an element. `is_template` leaves out `{{…}}` and `{%…%}`, which a generator
/// replaces.
pub fn paragraphs(tree: &Tree, root: usize, is_template: bool) -> Vec<Text> {
    let mut all = Vec::new();
    let mut text = Text::default();
    // What is still to be read in each open element, and whether that is a block.
    let mut open = vec![(tree.nodes[root].inside.iter(), false)];
    while let Some((inside, is_block)) = open.last_mut() {
        match inside.next() {
            None => {
                if *is_block {
                    all.push(std::mem::take(&mut text));
                }
                open.pop();
            }
            Some(Inside::Text(words)) => text.append(words),
            Some(Inside::Element(node)) => {
                let node = *node;
                let name = tree.nodes[node].name.as_str();
                let is_block = !INLINE.contains(&name);
                if is_block {
                    all.push(std::mem::take(&mut text));
                }
                match name {
                    "br" => text.sign(BREAK, tree.nodes[node].tag),
                    _ if is_closed(tree, node) => text.sign(SOMETHING, tree.nodes[node].tag),
                    _ => open.push((tree.nodes[node].inside.iter(), is_block)),
                }
            }
        }
    }
    all.push(text);
    all.retain(|text| {
        text.text
            .contains(|sign: char| matches!(sign, '1'..='8' | 'O'))
    });
    all.iter().map(|text| one_line(text, is_template)).collect()
}

/// A paragraph without the line ends that the page does not show, and without what a generator
/// replaces.
fn one_line(text: &Text, is_template: bool) -> Text {
    let mut read = Text::default();
    let mut from = 0;
    let whole = text.text.as_str();
    while let Some(at) = whole[from..]
        .find(['\t', '\n', '\u{c}', '\r', '{', BREAK])
        .map(|at| from + at)
    {
        take(&mut read, text, from..at);
        let rest = &whole[at..];
        let template = is_template.then(|| template(rest)).flatten();
        let first = rest.chars().next().unwrap_or(' ');
        let length = template.unwrap_or(first.len_utf8());
        let stands = text.mapping.outer(Span::new(at, at + length));
        let sign = match (first, template) {
            (_, Some(_)) => SOMETHING,
            ('{', None) => '{',
            (BREAK, None) => '\n',
            _ => ' ',
        };
        read.sign(sign, stands);
        from = at + length;
    }
    take(&mut read, text, from..whole.len());
    read
}

fn take(read: &mut Text, text: &Text, bytes: std::ops::Range<usize>) {
    let span = Span::new(bytes.start, bytes.end);
    let mapping: Mapping = text.mapping.part(span);
    read.text += &text.text[bytes];
    read.mapping.append(&mapping);
}

/// The length of `{{…}}` or `{%…%}` at the beginning of a text.
fn template(text: &str) -> Option<usize> {
    let end = match text.as_bytes().get(1)? {
        b'{' => "}}",
        b'%' => "%}",
        _ => return None,
    };
    let near = &text[..text.floor_char_boundary(TEMPLATE)];
    Some(near.find(end)? + end.len())
}
