//! The list of the pages in a folder, each with what the checker finds in it.

use super::template::{escaped, page};
use crate::text::number_of;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

/// A page and how much was found in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// The names of its folders below the one that is served, and its own.
    pub names: Vec<String>,
    pub errors: usize,
    pub warnings: usize,
    pub hints: usize,
    /// Why it cannot be read.
    pub unreadable: Option<String>,
}

/// What stays as it is in an address (RFC 3986, section 2.3).
const KEPT: AsciiSet = NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// The page with the list; `folder` is the name of what is served.
pub fn list(folder: &str, pages: &[Counted]) -> String {
    let mut body = format!("<main><h1>{}</h1>\n", escaped(folder));
    if pages.is_empty() {
        body +=
            "<p>There is no .md, .html or .pgn file here yet. plyline new NAME makes one.</p>\n";
    } else {
        body += "<table><tbody>\n";
        for it in pages {
            let (address, name) = (address(&it.names), escaped(&it.names.join("/")));
            body += &format!(
                "<tr><td><a href=\"{address}\">{name}</a></td><td>{}</td></tr>\n",
                escaped(&it.said())
            );
        }
        body += "</tbody></table>\n";
    }
    page(folder, "en", &(body + "</main>"))
}

/// The address of a page with these names.
pub fn address(names: &[String]) -> String {
    let names = names
        .iter()
        .map(|it| format!("/{}", utf8_percent_encode(it, &KEPT)));
    names.collect()
}

impl Counted {
    /// `2 errors, 1 warning`
    fn said(&self) -> String {
        if let Some(reason) = &self.unreadable {
            return reason.clone();
        }
        let kinds = [
            (self.errors, "error"),
            (self.warnings, "warning"),
            (self.hints, "hint"),
        ];
        let said = kinds
            .iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| number_of(*count, word));
        match said.collect::<Vec<_>>() {
            none if none.is_empty() => "no findings".to_owned(),
            said => said.join(", "),
        }
    }
}
