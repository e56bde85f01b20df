//! A post as markup, whatever it was written in: text to tags (`html`; Markdown is made HTML first), tags
//! to a tree of elements. Each piece has its place in the file.

mod entities;
mod html;
mod markdown;
mod tree;

pub use entities::Text;
pub use markdown::OPTIONS as MARKDOWN;
pub use tree::{Attribute, Inside, Node, Tree};

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

/// A post as markup.
pub struct Markup {
    pub html: String,
    /// Where each byte of it is in the file.
    pub mapping: Mapping,
    /// The language that the front matter names.
    pub lang: Option<String>,
}

impl Markup {
    pub fn of(source: &Source, kind: Kind) -> Markup {
        match kind {
            Kind::Markdown => markdown::to_html(source.text()),
            Kind::Html => Markup {
                html: source.text().to_owned(),
                mapping: Mapping::cut(Span::new(0, source.text().len())),
                lang: None,
            },
        }
    }
}
