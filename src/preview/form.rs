//! What a file holds for writing: its lessons, each with its text and its bytes in the file.

use crate::edit::{self, Form};
use crate::lesson::{Lesson, validate};
use crate::notation::parse;
use crate::post;
use crate::text::{Findings, Mapping, Source, Span};
use std::hash::{DefaultHasher, Hash, Hasher};

/// A lesson in its file.
#[derive(Clone, Debug)]
pub struct Block {
    /// Its notation as the element of the page reads it, but for the line ends; empty where it is in no form to be read.
    pub text: String,
    /// Where each byte of that is in the file.
    pub mapping: Mapping,
    /// From its first to its last byte in the file; for one without text where that would begin.
    pub span: Span,
    /// Why it cannot be changed.
    pub fixed: Option<edit::Refused>,
}

impl Block {
    /// As a page gets it.
    pub fn shown(&self) -> String {
        self.text.replace("\r\n", "\n")
    }

    /// What is read of it, with what the reading finds.
    pub fn read(&self) -> (Option<Lesson>, Findings) {
        lesson_of(&self.text)
    }
}

/// The first lesson of a text, and what was found in it.
pub fn lesson_of(text: &str) -> (Option<Lesson>, Findings) {
    let source = Source::new("lesson", text);
    let (syntax, mut findings) = parse(&source);
    let (lessons, more) = validate(&source, &syntax);
    findings.extend(more);
    (lessons.into_iter().next().flatten(), findings)
}

/// The lessons of a file, in their order. A file of notation without a game has one, which is empty.
pub fn blocks(source: &Source, form: Form) -> Vec<Block> {
    match form.kind() {
        Some(kind) => {
            let all = post::blocks(source, kind).into_iter();
            all.map(|(tag, text)| posted(tag, text)).collect()
        }
        None => games(source),
    }
}

fn posted(tag: Span, text: Result<post::Text, post::Unfit>) -> Block {
    let place = Span {
        from: tag.to,
        to: tag.to,
    };
    match text {
        Ok(text) => {
            let whole = Span::new(0, text.text.len());
            Block {
                span: if whole.is_empty() {
                    place
                } else {
                    text.mapping.outer(whole)
                },
                text: text.text,
                mapping: text.mapping,
                fixed: None,
            }
        }
        Err(unfit) => Block {
            text: String::new(),
            mapping: Mapping::default(),
            span: place,
            fixed: Some(edit::unfit(unfit)),
        },
    }
}

fn games(source: &Source) -> Vec<Block> {
    let text = source.text();
    let (syntax, _) = parse(source);
    let count = syntax.games.len().max(1);
    let block = |at: usize| {
        let bytes = match syntax.games.is_empty() {
            true => 0..text.len(),
            false => {
                let bytes = syntax.bytes_of(at);
                bytes.start as usize..(bytes.end as usize).min(text.len())
            }
        };
        let written = text.get(bytes.clone()).unwrap_or_default();
        let from = bytes.start + (written.len() - written.trim_start().len());
        let inner = written.trim();
        let span = Span::new(from, from + inner.len());
        Block {
            text: inner.to_owned(),
            mapping: Mapping::cut(span),
            span,
            fixed: None,
        }
    };
    (0..count).map(block).collect()
}

/// A name for what is in the file around its lessons: another one where anything of it has changed.
pub fn around(source: &Source, blocks: &[Block]) -> String {
    let text = source.text();
    let mut hasher = DefaultHasher::new();
    let mut from = 0;
    for block in blocks {
        let span = block.span.range();
        text.get(from..span.start)
            .unwrap_or_default()
            .hash(&mut hasher);
        from = span.end.max(from);
    }
    text.get(from..).unwrap_or_default().hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}
