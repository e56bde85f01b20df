//! `plyline check --fix`: makes the certain fixes of a file's findings, in rounds until none is
//! left, and writes the file in one step, every other byte as it was.

pub mod edits;

use self::edits::{Change, Edits};
use super::each_game::{Read, read};
use super::files::{self, Text, Unreadable};
use super::posts;
use super::written::replace;
use crate::check::author::{self, Chosen};
use crate::post::Link;
use crate::text::{Finding, Source, line_end};
use std::convert::Infallible;
use std::path::{Path, PathBuf};

/// Most rounds for one file. A fixed move lets the moves after it be read, which may have
/// fixes of their own, so some take several; this many only where fixes undo each other.
const ROUNDS: usize = 1_000;

/// A file that was read, and fixed where that was asked for.
pub struct Mended {
    /// What is left to say about it.
    pub read: Read,
    /// The text as it was and what was changed; none if nothing was.
    pub edits: Option<(Source, Edits)>,
    /// Why the file could not be written; then it is unchanged, and `read` is about that.
    pub failed: Option<Unreadable>,
    /// Of a post, the moves that its prose names.
    pub links: Vec<Link>,
    /// Of a post, the files of notation that it names.
    pub sources: Vec<PathBuf>,
    /// What its lessons recommend.
    pub chosen: Vec<Chosen>,
}

/// What a file is read as.
#[derive(Clone, Copy)]
pub struct As<'a> {
    /// Its path, or the name that it is given.
    pub path: &'a Path,
    /// The folder that `/` means in addresses.
    pub root: Option<&'a Path>,
}

impl Mended {
    /// A text that is to stay as it is.
    pub fn untouched(text: Text, like: As<'_>) -> Mended {
        Mended::of(all_of(text, like))
    }

    fn of(all: All) -> Mended {
        Mended {
            read: all.read,
            edits: None,
            failed: None,
            links: all.links,
            sources: all.sources,
            chosen: all.chosen,
        }
    }
}

/// Fixes a file.
///
/// # Errors
/// Where the file cannot be read.
pub fn mend(like: As<'_>) -> Result<Mended, Unreadable> {
    let path = like.path;
    let bytes = files::bytes(path)?;
    let text = Text::decode(path, &bytes);
    let before = text.source.clone();
    let done = rounds(like, &bytes, text).and_then(|(all, mut edits)| {
        edits.settle(before.text());
        if edits.is_empty() {
            return Ok((all, None));
        }
        replace(path, &bytes, &encoded(all.read.source.text(), &bytes)?)?;
        Ok((all, Some((before, edits))))
    });
    Ok(match done {
        Ok((all, edits)) => Mended {
            edits,
            ..Mended::of(all)
        },
        Err(reason) => Mended {
            failed: Some(Unreadable::new(path, format!("not fixed: {reason}"))),
            ..Mended::untouched(Text::decode(path, &bytes), like)
        },
    })
}

/// Reads and changes a text until nothing certain is left to fix.
fn rounds(like: As<'_>, bytes: &[u8], text: Text) -> Result<(All, Edits), String> {
    let mut edits = Edits::default();
    let mut all = all_of(text, like);
    for _ in 0..ROUNDS {
        let changes = std::mem::take(&mut all.changes);
        let Some(next) = edits.round(all.read.source.text(), changes) else {
            break;
        };
        let next = Text::decode(like.path, &encoded(&next, bytes)?);
        if next.is_too_long {
            return Err("with its fixes the text would be too long to be read".to_owned());
        }
        all = all_of(next, like);
    }
    Ok((all, edits))
}

/// A text in the encoding of a file that it was read from.
///
/// # Errors
/// Where that encoding lacks a letter of it.
pub fn encoded(text: &str, like: &[u8]) -> Result<Vec<u8>, String> {
    let body = files::without_mark(like);
    let mut bytes = like[..like.len() - body.len()].to_vec();
    match std::str::from_utf8(body) {
        Ok(_) => bytes.extend_from_slice(text.as_bytes()),
        Err(_) => bytes.extend(latin_1(text)?),
    }
    Ok(bytes)
}

fn latin_1(text: &str) -> Result<Vec<u8>, String> {
    let byte = |letter| {
        u8::try_from(letter).map_err(|_| {
            format!("Latin-1 has no \u{201c}{letter}\u{201d}; save the file as UTF-8 first")
        })
    };
    text.chars().map(byte).collect()
}

/// Everything about a text, and its certain fixes.
struct All {
    read: Read,
    changes: Vec<Change>,
    links: Vec<Link>,
    sources: Vec<PathBuf>,
    chosen: Vec<Chosen>,
}

fn all_of(text: Text, like: As<'_>) -> All {
    let (mut changes, mut chosen) = (Vec::new(), Vec::new());
    if let Some(kind) = files::kind(like.path) {
        let post = posts::read(text, kind, like.path, like.root);
        let text = post.read.source.text();
        for finding in &post.findings {
            changes.extend(change(text, finding));
        }
        return All {
            read: post.read,
            changes,
            links: post.links,
            sources: post.sources,
            chosen: post.chosen,
        };
    }
    // Game by game, because only so many findings of a whole text are kept.
    let Ok(read) = read(text, None, |part| {
        let text = part.source.text();
        chosen.extend(part.lesson.map(author::chosen).unwrap_or_default());
        changes.extend(part.findings.iter().filter_map(|it| change(text, it)));
        Ok::<(), Infallible>(())
    });
    All {
        read,
        changes,
        links: Vec::new(),
        sources: Vec::new(),
        chosen,
    }
}

/// The change that a finding's fix is. Whatever it replaces: words of the author are never taken away.
pub fn change(text: &str, finding: &Finding) -> Option<Change> {
    let fix = finding.fix.as_ref()?;
    let old = text.get(fix.span.range())?;
    keeps_words(old, &fix.text).then(|| Change {
        span: fix.span,
        text: fix
            .text
            .replace('\n', line_end(text, fix.span.from as usize)),
        code: finding.code,
    })
}

/// Whether a fix leaves the words of comments as they are: it changes none, or moves brackets only.
fn keeps_words(old: &str, new: &str) -> bool {
    let bare = |text: &str| -> String {
        let is_word = |it: &char| !matches!(it, '(' | ')' | '{' | '}' | ' ' | '\n');
        text.chars().filter(is_word).collect()
    };
    !old.contains(['{', ';']) || bare(old) == bare(new)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_latin_1_lacks_is_not_written() {
        assert_eq!(latin_1("\u{e9}4").as_deref(), Ok(&b"\xe94"[..]));
        assert!(latin_1("\u{265e}f6").is_err());
    }
}
