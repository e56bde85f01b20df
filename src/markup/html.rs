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

/// One of our elements as a baked page holds it: what the script would draw first in a shadow root
/// that is written out, and after it the plain form, which needs neither script nor style.
pub struct Baked<'a> {
    /// Its name.
    pub tag: &'a str,
    /// The author's attributes as they are written in the page; empty where there are none.
    pub attributes: &'a str,
    /// That of [`edge::stamp`](crate::edge::stamp).
    pub stamp: &'a str,
    /// What is in the shadow root.
    pub root: &'a [Element],
    /// The addresses of the style sheets: `plyline.css`, and for a question, a recall and a recap
    /// `plyline-more.css` after it.
    pub sheets: &'a [&'a str],
    /// The plain form.
    pub plain: &'a [Element],
    /// The element's own content as it is written in the page.
    pub own: &'a str,
}

/// A baked element as HTML.
pub fn baked(it: &Baked) -> String {
    let mut text = format!("<{}", it.tag);
    for attributes in [it.attributes.trim(), "data-plyline-baked=\""] {
        if !attributes.is_empty() {
            text.push(' ');
            text.push_str(attributes);
        }
    }
    escape(it.stamp, &mut text);
    text.push_str("\"><template shadowrootmode=\"open\" data-plyline=\"\">");
    for sheet in it.sheets {
        let link = super::el("link").with("rel", "stylesheet");
        write(&link.with("href", (*sheet).to_owned()), &mut text);
    }
    text.push_str(&html(it.root));
    text.push_str("</template><div data-plyline=\"\"");
    // What a question holds is its prompt, so this has a slot of its own there.
    if matches!(it.tag, "ply-quiz" | "ply-recall") {
        text.push_str(" slot=\"paper\"");
    }
    text.push('>');
    text.push_str(&html(it.plain));
    text.push_str("</div>");
    text.push_str(it.own);
    text.push_str(&format!("</{}>", it.tag));
    text
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
    fn a_baked_element_keeps_what_its_author_wrote_and_has_root_and_plain_form_before_it() {
        let element = Baked {
            tag: "ply-quiz",
            attributes: " for=one  AT='4.Bg5'",
            stamp: "3 \"",
            root: &[el("p").text("drawn")],
            sheets: &["a.css?b&c"],
            plain: &[el("p").text("plain")],
            own: "<P>Why?",
        };
        assert_eq!(
            baked(&element),
            "<ply-quiz for=one  AT='4.Bg5' data-plyline-baked=\"3 &quot;\"><template shadowrootmode=\"open\" data-plyline=\"\">\
             <link rel=\"stylesheet\" href=\"a.css?b&amp;c\"><p>drawn</p></template>\
             <div data-plyline=\"\" slot=\"paper\"><p>plain</p></div><P>Why?</ply-quiz>"
        );
        let bare = Baked {
            tag: "ply-line",
            attributes: "",
            ..element
        };
        assert!(baked(&bare).starts_with("<ply-line data-plyline-baked="));
        assert!(baked(&bare).contains("</template><div data-plyline=\"\"><p>plain"));
    }

    #[test]
    fn texts_in_a_row_are_one_and_empty_text_is_none() {
        assert_eq!(el("p").text("").text("a").text("b").children.len(), 1);
    }
}
