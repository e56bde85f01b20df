//! Where our script goes in a page of HTML: before the first script of the page, and nothing else of it changes.

const SCRIPT: &[u8] = b"<script src=\"/.plyline/first.js\"></script>";

/// The page with our script right after `<head>`, or after its doctype where it has none.
pub fn with_script(page: &[u8]) -> Vec<u8> {
    let at = place(page);
    let mut made = Vec::with_capacity(page.len() + SCRIPT.len());
    made.extend_from_slice(&page[..at]);
    made.extend_from_slice(SCRIPT);
    made.extend_from_slice(&page[at..]);
    made
}

/// Whether some bytes begin with a name of markup, capitals or not, that ends there.
fn is_tag(rest: &[u8], name: &[u8]) -> bool {
    let is_named = rest
        .get(..name.len())
        .is_some_and(|it| it.eq_ignore_ascii_case(name));
    let next = rest.get(name.len());
    is_named && next.is_none_or(|it| matches!(it, b'>' | b'/') || it.is_ascii_whitespace())
}

/// The byte after the end of a tag that begins here; quotation marks may hold `>`.
fn after_tag(page: &[u8], from: usize) -> usize {
    let mut quote = None;
    for (at, &byte) in page.iter().enumerate().skip(from) {
        match quote {
            Some(open) if open == byte => quote = None,
            Some(_) => {}
            None if matches!(byte, b'"' | b'\'') => quote = Some(byte),
            None if byte == b'>' => return at + 1,
            None => {}
        }
    }
    page.len()
}

/// The byte after the next one of these, from a place on.
fn after(page: &[u8], from: usize, end: &[u8]) -> usize {
    let rest = page.get(from..).unwrap_or_default();
    let found = rest.windows(end.len()).position(|it| it == end);
    found.map_or(page.len(), |at| from + at + end.len())
}

/// The byte before which it goes; always one of the page or its end.
fn place(page: &[u8]) -> usize {
    let mut at = if page.starts_with(b"\xef\xbb\xbf") {
        3
    } else {
        0
    };
    // Where it goes if the page has no head.
    let mut front = at;
    while let Some(rest) = page.get(at..).filter(|it| !it.is_empty()) {
        if rest[0].is_ascii_whitespace() {
            at += 1;
        } else if rest.starts_with(b"<!--") {
            at = after(page, at + 4, b"-->");
        } else if is_tag(rest, b"<!doctype") {
            at = after(page, at, b">");
            front = at;
        } else if rest.starts_with(b"<?") {
            at = after(page, at, b">");
        } else if is_tag(rest, b"<html") {
            at = after_tag(page, at);
        } else if is_tag(rest, b"<head") {
            return after_tag(page, at);
        } else {
            break;
        }
    }
    front
}
