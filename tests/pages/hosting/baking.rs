//! Baked elements for the page tests, made by the same calls as `plyline bake` makes.

use plyline::check::attributes::Kind;
use plyline::text::{Findings, Source};
use plyline::{edge, lesson, markup, notation, view};

/// What a page of baked elements has in its head.
pub const SHEETS: &str = "<link rel=\"stylesheet\" href=\"/plyline.css\">\n<link rel=\"stylesheet\" href=\"/plyline-more.css\">";

/// What the plain form of each element says here.
pub const PLAIN: &str = "The plain form of";

/// An element of a kind about this text. `given` is what it says by the names that
/// `view::Element::read` knows, its attributes among them; `own` is what is in it.
pub fn baked(kind: Kind, text: &str, given: &[(&str, &str)], own: &str) -> String {
    let source = Source::new("page.html", text);
    let (syntax, _) = notation::parse(&source);
    let (mut lessons, _) = lesson::validate(&source, &syntax);
    let lesson = lessons.remove(0).expect("a game that can be read");
    let words = view::Words::default();
    let value = |name: &str| {
        let found = given.iter().find(|(known, _)| *known == name);
        found.map(|(_, value)| (*value).to_owned())
    };
    let element = view::Element::read(kind, &value);
    let letters = notation::Letters::ENGLISH;
    let (state, _) = view::open(&lesson, &element, letters);
    let root = match kind {
        Kind::Diagram => {
            let shown = view::diagram(&words, &lesson, state.node, state.side, None);
            markup::diagram(&words, &shown)
        }
        Kind::Recap => {
            let is_closed = |id| state.is_closed(&lesson, id);
            let shown = view::recap(&words, &lesson, state.side, is_closed);
            markup::recap(&words, &shown, "#lesson")
        }
        _ => {
            let none = Findings::default();
            let page = view::page(&words, &lesson, &state, &none, &source, &[]);
            match &state.mode {
                view::Mode::Lesson { .. } => markup::lesson(&page),
                view::Mode::Quiz { asking, .. } if value("prompt").is_none() => {
                    markup::quiz(&page, &view::prompt(&asking.question.prompt))
                }
                _ => markup::quiz(&page, &[]),
            }
        }
    };
    let is_attribute = |(name, _): &&(&str, &str)| !matches!(*name, "prompt" | "start");
    let mut attributes = String::new();
    for (name, value) in given.iter().filter(is_attribute) {
        attributes.push_str(&format!(" {name}=\"{value}\""));
    }
    let (at, side) = (value("at"), value("side"));
    let counted = [("at", at.as_deref()), ("side", side.as_deref())];
    let (tag, sheets): (_, &[&str]) = match kind {
        Kind::Lesson => ("ply-line", &["/plyline.css"]),
        Kind::Diagram => ("ply-diagram", &["/plyline.css"]),
        Kind::Quiz => ("ply-quiz", &["/plyline.css", "/plyline-more.css"]),
        Kind::Recall => ("ply-recall", &["/plyline.css", "/plyline-more.css"]),
        Kind::Recap => ("ply-recap", &["/plyline.css", "/plyline-more.css"]),
        Kind::Reference | Kind::Prose => panic!("what has no root is written out"),
    };
    written(&Written {
        tag,
        attributes: &attributes,
        stamp: &edge::stamp(text, &counted, "en"),
        root: &root,
        sheets,
        plain: &[markup::el("p").text(&format!("{PLAIN} {tag}."))],
        own,
    })
}

/// One of our elements as a baked page holds it: what the script would draw first in a shadow root
/// that is written out, and after it the plain form, which needs neither script nor style.
struct Written<'a> {
    /// Its name.
    tag: &'a str,
    /// The author's attributes as they are written in the page; empty where there are none.
    attributes: &'a str,
    /// That of [`edge::stamp`](crate::edge::stamp).
    stamp: &'a str,
    /// What is in the shadow root.
    root: &'a [markup::Element],
    /// The addresses of the style sheets: `plyline.css`, and for a question, a recall and a recap
    /// `plyline-more.css` after it.
    sheets: &'a [&'a str],
    /// The plain form.
    plain: &'a [markup::Element],
    /// The element's own content as it is written in the page.
    own: &'a str,
}

/// A baked element as HTML.
fn written(it: &Written) -> String {
    let mut text = format!("<{}", it.tag);
    for attributes in [it.attributes.trim(), "data-plyline-baked=\""] {
        if !attributes.is_empty() {
            text.push(' ');
            text.push_str(attributes);
        }
    }
    markup::escape(it.stamp, &mut text);
    text.push_str("\"><template shadowrootmode=\"open\" data-plyline=\"\">");
    for sheet in it.sheets {
        let link = markup::el("link").with("rel", "stylesheet");
        text.push_str(&markup::html(&[link.with("href", (*sheet).to_owned())]));
    }
    text.push_str(&markup::html(it.root));
    text.push_str("</template><div data-plyline=\"\"");
    // What a question holds is its prompt, so this has a slot of its own there.
    if matches!(it.tag, "ply-quiz" | "ply-recall") {
        text.push_str(" slot=\"paper\"");
    }
    text.push('>');
    text.push_str(&markup::html(it.plain));
    text.push_str("</div>");
    text.push_str(it.own);
    text.push_str(&format!("</{}>", it.tag));
    text
}

/// The notation as an element holds it.
pub fn pre(notation: &str) -> String {
    let mut text = String::from("<pre>\n"); // HTML takes one line end off the start
    markup::escape(notation.trim(), &mut text);
    text + "</pre>"
}
