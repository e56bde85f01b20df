//! The element tree as HTML text, and the one escape function.

use super::{Element, Markup};

/// Elements of HTML that have no end tag.
const VOID: &[&str] = &["br", "img", "link", "hr", "input"];

/// Text made safe for content and quoted attributes of HTML and SVG: five characters.
pub fn escape(text: &str, into: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            other => into.push(other),
        }
    }
}

/// A text as the words of a cue. (W3C WebVTT, section 4.2.3, from memory: neither `&` nor `<` stands for itself there,
/// and `-->` ends no line of it.)
#[cfg(not(target_family = "wasm"))]
pub fn of_cue(text: &str) -> String {
    let text = text.replace('&', "&amp;");
    text.replace('<', "&lt;").replace('>', "&gt;")
}

/// A text without the signs that XML does not have (XML 1.0, section 2.2).
#[cfg(not(target_family = "wasm"))]
pub fn of_xml(text: &str) -> String {
    let is_ours = |sign: &char| match sign {
        '\t' | '\n' | '\r' => true,
        '\u{fffe}' | '\u{ffff}' => false,
        other => *other >= ' ',
    };
    text.chars().filter(is_ours).collect()
}

/// The tree as HTML, without white space that the tree does not hold. Calls itself as deep as
/// the tree is: some elements for each of at most `limits::NESTING` variations.
pub fn html(tree: &[Element]) -> String {
    let mut text = String::new();
    for element in tree {
        write(element, &mut text);
    }
    text
}

fn write(element: &Element, into: &mut String) {
    into.push('<');
    into.push_str(element.tag);
    for (name, value) in &element.attributes {
        into.push(' ');
        into.push_str(name);
        into.push_str("=\"");
        escape(value, into);
        into.push('"');
    }
    into.push('>');
    if VOID.contains(&element.tag) {
        return;
    }
    for child in &element.children {
        match child {
            Markup::Element(child) => write(child, into),
            Markup::Text(text) => escape(text, into),
        }
    }
    into.push_str("</");
    into.push_str(element.tag);
    into.push('>');
}

#[cfg(test)]
mod tests {
    use super::super::el;
    use super::*;

    #[test]
    fn text_and_attributes_are_escaped_and_void_elements_have_no_end() {
        let tree = el("p")
            .with("title", "a\"<b>")
            .text("x<y & 'z'")
            .child(el("br"));
        assert_eq!(
            html(&[tree]),
            "<p title=\"a&quot;&lt;b&gt;\">x&lt;y &amp; &#39;z&#39;<br></p>"
        );
    }

    #[test]
    fn texts_in_a_row_are_one_and_empty_text_is_none() {
        assert_eq!(el("p").text("").text("a").text("b").children.len(), 1);
    }
}
