//! Where the moves named in prose lead, a line each, so that an author can read down the list.

use crate::cli::args::Format;
use crate::cli::out::visible;
use crate::post::Link;
use crate::text::Source;
use serde::Serialize;
use std::io::{self, Write};

/// A link as a program reads it. Lines and columns are counted from 1, columns in Unicode scalar values.
#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    line: u32,
    column: u32,
    words: &'a str,
    address: Option<&'a str>,
}

/// Writes the links of a post: `FILE:LINE:COLUMN  words  address`, with `-` where the words stay text.
///
/// # Errors
/// Those of the output.
pub fn write(
    out: &mut impl Write,
    source: &Source,
    links: &[Link],
    format: Format,
) -> io::Result<()> {
    for link in links {
        let leads = link.address();
        let place = source.place(link.span.from);
        let line = Line {
            file: source.name(),
            line: place.line,
            column: place.column,
            words: &link.words,
            address: leads.as_deref(),
        };
        if format == Format::Json {
            serde_json::to_writer(&mut *out, &line)?;
            writeln!(out)?;
        } else {
            let Line {
                file,
                line,
                column,
                words,
                address,
            } = line;
            let address = address.unwrap_or("-");
            writeln!(
                out,
                "{}:{line}:{column}  {}  {address}",
                visible(file),
                visible(words)
            )?;
        }
    }
    Ok(())
}
