//! Feeds: where the HTML of each entry is, and the same feed with other HTML there and every other
//! byte as it was. `read` finds the parts, `html` hands each out as HTML, `write` puts it back.
//!
//! RSS 2.0 (`description` and `content:encoded` of an `item`), Atom (RFC 4287: `content` and `summary`
//! of an `entry`, where their type is `html`, `xhtml` or `text/html`), JSON Feed 1.1 (`content_html` of
//! an item).

mod html;
mod json;
mod read;
mod write;

pub use read::parts;
pub use write::rewritten;

use crate::text::Span;
use core::fmt;

/// Some HTML in a feed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Where it is: what is between the tags of its element, without white space around it; in XHTML
    /// what is between the tags of the `div` that RFC 4287 (3.1.1.3) has around it.
    pub span: Span,
    /// How it is written there.
    pub written: Written,
    /// The address of the entry's own page, as written: addresses in the HTML are relative to it
    /// where there is no `base`.
    pub link: Option<String>,
    /// The nearest `xml:base`, as written.
    pub base: Option<String>,
    /// What is before the colon in the names of XHTML's elements, as a rule nothing.
    prefix: String,
}

/// How HTML is written in a feed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// As text: `&lt;p>`.
    Escaped,
    /// In one or several CDATA sections.
    Cdata,
    /// As elements of XML.
    Xhtml,
    /// As a text of JSON.
    Json,
}

/// Why a feed is not read. It is to be left as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FeedError {
    /// Where: bytes of the feed.
    pub at: Span,
    /// Why.
    pub fault: Fault,
}

/// What is wrong with a feed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It is no well-formed XML, for this reason.
    Broken(String),
    /// It is no JSON, for this reason.
    Json(String),
    /// It says that it is in this encoding, which is not UTF-8.
    Encoding(String),
    /// It names this entity, which XML does not have.
    Entity(String),
    /// Its elements are deeper in each other than 512.
    Deep,
    /// It has more than 4 GB.
    Large,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Broken(why) => write!(f, "this is not well-formed XML: {why}"),
            Fault::Json(why) => write!(f, "this is no JSON: {why}"),
            Fault::Encoding(name) => write!(
                f,
                "the feed says that it is in {name}; have the generator write UTF-8, and say so"
            ),
            Fault::Entity(name) => write!(
                f,
                "XML has no entity \"{name}\"; write the sign itself, or its number"
            ),
            Fault::Deep => write!(f, "elements are deeper in each other than {DEEPEST}"),
            Fault::Large => write!(f, "a feed has at most 4 GB"),
        }
    }
}

impl fmt::Display for FeedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.fault.fmt(f)
    }
}

impl std::error::Error for FeedError {}

/// The namespace of HTML's elements in XML.
const XHTML: &str = "http://www.w3.org/1999/xhtml";

/// How deep elements may be in each other.
const DEEPEST: usize = 512;

/// Elements of HTML that have no end tag (WHATWG HTML, 13.1.2).
const VOID: &[&str] = &[
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track",
    "wbr",
];

/// Elements of HTML whose text is not decoded (13.1.2: raw text elements).
const RAW: &[&str] = &["script", "style"];

/// Elements of HTML that lose a line end at their beginning (13.1.2.5).
const LOSES_LINE: &[&str] = &["pre", "textarea", "listing"];
