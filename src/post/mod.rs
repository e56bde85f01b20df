//! Posts: the lessons, questions, references and prose that stand in files of Markdown and HTML,
//! each with its place in the file. What stands there means the same as on the page that a
//! generator makes of it.
//!
//! Text to markup (`markdown`), markup to elements (`html`, `tree`), elements to what is ours
//! (`found`, `prose`), and what there is to say of it (`check`, `names`, `fences`, `closed`). No files are read here:
//! whoever asks hands them in.

mod anchors;
mod check;
mod closed;
mod entities;
mod fences;
mod found;
mod html;
mod markdown;
mod named;
mod names;
mod numbers;
mod placed;
mod prose;
mod tree;

pub use self::check::check;
pub use self::named::{Checked, Link};
pub(crate) use self::tree::{Attribute, Inside, Tree};
use crate::text::{Mapping, Source, Span};

/// What a file is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Markdown,
    Html,
}

impl Kind {
    /// The kind of file of a name, by its ending; none for another.
    pub fn named(name: &str) -> Option<Kind> {
        let ending = name.rsplit_once('.')?.1.to_ascii_lowercase();
        match ending.as_str() {
            "md" | "markdown" => Some(Kind::Markdown),
            "html" | "htm" | "xhtml" => Some(Kind::Html),
            _ => None,
        }
    }
}

/// A post as markup, whatever it was written in.
struct Markup {
    html: String,
    /// Where each byte of it is in the file.
    mapping: Mapping,
    /// The language that the front matter names.
    lang: Option<String>,
}

/// The elements of some HTML. Places are bytes of it.
pub(crate) fn elements(html: &str) -> Tree {
    Tree::of(&Markup {
        mapping: Mapping::cut(Span::new(0, html.len())),
        html: html.to_owned(),
        lang: None,
    })
}

fn markup(source: &Source, kind: Kind) -> Markup {
    match kind {
        Kind::Markdown => markdown::to_html(source.text()),
        Kind::Html => Markup {
            html: source.text().to_owned(),
            mapping: Mapping::cut(Span::new(0, source.text().len())),
            lang: None,
        },
    }
}
