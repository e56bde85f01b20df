//! The HTML that a part of a feed says, whatever it is written as.

use super::json;
use super::{LOSES_LINE, Part, RAW, VOID, Written};
use crate::markup::escape;
use quick_xml::Reader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};

/// What is written in a part, as HTML.
pub(super) fn html(written: &str, part: &Part) -> String {
    match part.written {
        Written::Escaped | Written::Cdata => text(written),
        Written::Xhtml => of_xhtml(written),
        Written::Json => json::text(written).unwrap_or_default(), // it has been read once
    }
}

/// The text of some XML: references decoded, CDATA as it is, without comments. Line ends stay as they
/// are, for HTML takes them alike.
pub(super) fn text(written: &str) -> String {
    let mut text = String::with_capacity(written.len());
    each(written, |event| match event {
        Event::Text(piece) => text.push_str(piece),
        Event::CData(piece) => text.push_str(piece),
        Event::GeneralRef(name) => text.push_str(&referred(name)),
        _ => {}
    });
    text
}

/// Hands out one event after another. What is handed in has been read once without an error.
fn each(written: &str, mut take: impl FnMut(&Event<'_>)) {
    let mut reader = Reader::from_str(written);
    loop {
        match reader.read_event() {
            Ok(Event::Eof) | Err(_) => return,
            Ok(event) => take(&event),
        }
    }
}

/// What `&name;` says; itself if that is not known.
fn referred(name: &str) -> String {
    let written = format!("&{name};");
    match unescape(&written) {
        Ok(read) => read.into_owned(),
        Err(_) => written,
    }
}

/// XHTML as HTML: names without their prefix, no namespaces, empty elements with an end tag but for
/// those that have none in HTML.
fn of_xhtml(written: &str) -> String {
    let mut html = String::with_capacity(written.len());
    // The element whose text is not decoded, and whether the last event began one that loses a line.
    let mut raw = false;
    let mut loses_line = false;
    each(written, |event| {
        let mut say = |text: &str, html: &mut String| {
            if std::mem::take(&mut loses_line) && text.starts_with(['\n', '\r']) {
                html.push('\n');
            }
            match raw {
                true => html.push_str(text),
                false => escape(text, html),
            }
        };
        match event {
            Event::Start(tag) => {
                let name = tag.local_name();
                start(tag, &mut html);
                raw = RAW.contains(&name.as_ref());
                loses_line = LOSES_LINE.contains(&name.as_ref());
            }
            Event::Empty(tag) => {
                let name = tag.local_name();
                start(tag, &mut html);
                if !VOID.contains(&name.as_ref()) {
                    end(name.as_ref(), &mut html);
                }
                loses_line = false;
            }
            Event::End(tag) => {
                let name = tag.local_name();
                if !VOID.contains(&name.as_ref()) {
                    end(name.as_ref(), &mut html);
                }
                (raw, loses_line) = (false, false);
            }
            Event::Text(text) => say(text, &mut html),
            Event::CData(text) => say(text, &mut html),
            Event::GeneralRef(name) => say(&referred(name), &mut html),
            // In HTML these two end at once.
            Event::Comment(text) if !text.starts_with('>') && !text.starts_with("->") => {
                html.push_str("<!--");
                html.push_str(text);
                html.push_str("-->");
            }
            _ => {}
        }
    });
    html
}

fn start(tag: &BytesStart<'_>, html: &mut String) {
    html.push('<');
    html.push_str(tag.local_name().as_ref());
    let mut list = tag.attributes();
    for attribute in list.with_checks(false).filter_map(Result::ok) {
        let name = attribute.key.as_ref();
        if name == "xmlns" || name.starts_with("xmlns:") {
            continue;
        }
        html.push(' ');
        html.push_str(name);
        html.push_str("=\"");
        match unescape(&attribute.value) {
            Ok(value) => escape(&value, html),
            Err(_) => escape(&attribute.value, html),
        }
        html.push('"');
    }
    html.push('>');
}

fn end(name: &str, html: &mut String) {
    html.push_str("</");
    html.push_str(name);
    html.push('>');
}
