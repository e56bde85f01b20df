//! What is answered to GET: pages, lists, files, and what the program brings itself.

use super::answer::{Answer, Sort};
use super::disk::too_long;
use super::folder::{Place, part};
use super::held::name;
use super::state::Preview;
use crate::cli::assets::{FILES, writing};
use crate::cli::files::{self, Text};
use crate::edit::Form;
use crate::preview::{LOOK, Path as Names, blocks, list, markdown, notation, with_script};
use crate::text::limits;
use std::fs;
use std::path::Path;

/// Most bytes of one answer that is a part of a file.
const PART: u64 = 8 << 20;

/// A file or folder below what is served. `range` is the header of that name.
pub fn file(preview: &Preview, names: &Names, range: Option<&str>) -> Answer {
    if names.names.is_empty() {
        let pages = preview.folder.counted(&preview.folder.root);
        return Answer::page(list(&preview.folder.name, &pages).into_bytes());
    }
    match preview.folder.find(names) {
        Place::Page(path, form) => page(&path, form),
        Place::Folder(folder) => match preview.folder.index(&folder) {
            Some((path, form)) => page(&path, form),
            None => {
                Answer::page(list(&name(&folder), &preview.folder.counted(&folder)).into_bytes())
            }
        },
        Place::Unended => Answer::see(&names.names),
        Place::File(path) => whole(&path, range),
        Place::Missing => carried(names),
    }
}

/// A file of the program: the script of writing, the look of the plain page, the files of `plyline assets`.
pub fn own(names: &Names) -> Answer {
    let path = names.names.join("/");
    if path == "page.css" {
        return Answer::of("page.css", LOOK.as_bytes().to_vec());
    }
    if let Some(name) = path.strip_prefix("dist/") {
        return named(FILES, name).unwrap_or_else(Answer::missing);
    }
    let name = path
        .strip_prefix("writing/")
        .or((path == "first.js").then_some("first.js"));
    name.and_then(script).unwrap_or_else(Answer::missing)
}

/// A file of the script of writing.
fn script(name: &str) -> Option<Answer> {
    // While it is made, it is read where it is made.
    if cfg!(debug_assertions) {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/writing");
        if let Ok(bytes) = fs::read(folder.join(name)) {
            return Some(Answer::of(name, bytes));
        }
    }
    named(writing::FILES, name)
}

fn named(all: &[(&str, &[u8])], name: &str) -> Option<Answer> {
    let (_, bytes) = all.iter().find(|(known, _)| *known == name)?;
    Some(Answer::of(name, bytes.to_vec()))
}

/// A page works also before `plyline assets` was run: what it loads of ours and has not is what the program carries.
fn carried(names: &Names) -> Answer {
    let ends = (0..names.names.len()).map(|at| names.names[at..].join("/"));
    let found = ends.into_iter().find_map(|end| named(FILES, &end));
    found.unwrap_or_else(Answer::missing)
}

fn page(path: &Path, form: Form) -> Answer {
    let bytes = match files::bytes(path) {
        Ok(bytes) => bytes,
        Err(unreadable) => return Answer::plain(Sort::Missing, &unreadable.reason),
    };
    if files::without_mark(&bytes).len() > limits::TEXT_BYTES {
        return Answer::plain(Sort::Missing, &too_long().reason);
    }
    if form == Form::Html {
        let charset = match std::str::from_utf8(&bytes) {
            Ok(_) => "utf-8",
            Err(_) => "iso-8859-1",
        };
        return Answer::html(with_script(&bytes), charset);
    }
    let text = Text::decode(path, &bytes);
    let html = match form {
        Form::Pgn => notation(&blocks(&text.source, form), &name(path)),
        _ => markdown(&text.source, &name(path)),
    };
    Answer::page(html.into_bytes())
}

fn whole(path: &Path, range: Option<&str>) -> Answer {
    let said = |error: std::io::Error| Answer::plain(Sort::Missing, &files::reason(&error));
    let length = match fs::metadata(path) {
        Ok(about) => about.len(),
        Err(error) => return said(error),
    };
    let wanted = range.and_then(|it| bounds(it, length));
    let (from, most) = wanted.map_or((0, length), |(from, to)| (from, (to - from).min(PART)));
    match part(path, from, most) {
        Ok(bytes) => {
            let answer = Answer::of(&name(path), bytes);
            match wanted {
                Some(_) => answer.part(from, length),
                None => answer,
            }
        }
        Err(error) => said(error),
    }
}

/// The bytes that `bytes=FROM-` or `bytes=FROM-TO` asks for (RFC 9110, section 14.1.2); none where that is anything else.
fn bounds(range: &str, length: u64) -> Option<(u64, u64)> {
    let (from, to) = range.strip_prefix("bytes=")?.split_once('-')?;
    let from: u64 = from.parse().ok()?;
    let to = match to {
        "" => length,
        to => to.parse::<u64>().ok()?.saturating_add(1).min(length),
    };
    (from < to).then_some((from, to))
}
