//! `plyline tree --emit STEP`: one step of the way from text to page as text, to see where
//! something goes wrong. For people; no program should read it.

use crate::check::attributes::Kind;
use crate::cli::args::Emit;
use crate::cli::each_game::Part;
use crate::cli::out::clip;
use crate::markup;
use crate::notation::Letters;
use crate::notation::{ItemKind, Lexer};
use crate::text::{Mapping, Span};
use crate::view::{self, Element, Page, Words};
use std::io::{self, Write};
use std::ops::Range;

/// The most that is shown of one piece of the source, in characters.
const PIECE: usize = 60;

/// Writes one step for one game.
///
/// # Errors
/// Those of the output.
pub fn emit(out: &mut impl Write, step: Emit, part: &Part<'_>) -> io::Result<()> {
    match step {
        Emit::Tokens => tokens(out, part),
        Emit::Syntax => syntax(out, part),
        Emit::View => view(out, part),
        Emit::Html => html(out, part),
        Emit::Picture => picture(out, part),
    }
}

/// What a reader sees at first; nothing of a game whose start cannot be used.
fn view(out: &mut impl Write, part: &Part<'_>) -> io::Result<()> {
    match first_page(part) {
        Some(page) => writeln!(out, "{page:#?}"),
        None => Ok(()),
    }
}

/// The same as HTML: what is in the element's shadow root.
fn html(out: &mut impl Write, part: &Part<'_>) -> io::Result<()> {
    match first_page(part) {
        Some(page) => writeln!(out, "{}", markup::html(&markup::lesson(&page))),
        None => Ok(()),
    }
}

/// The position that is shown first, as a picture file of its own with its description, in one line.
fn picture(out: &mut impl Write, part: &Part<'_>) -> io::Result<()> {
    let Some(lesson) = part.lesson else {
        return Ok(());
    };
    let element = Element::read(Kind::Lesson, &|_| None);
    let (state, _) = view::open(lesson, &element, Letters::ENGLISH);
    let told = view::diagram(&Words::default(), lesson, state.node, state.side, None);
    let file = markup::picture_file(&told.board, &told.description);
    writeln!(out, "{file}")
}

fn first_page(part: &Part<'_>) -> Option<Page> {
    let lesson = part.lesson?;
    let element = Element::read(Kind::Lesson, &|_| None);
    let (state, _) = view::open(lesson, &element, Letters::ENGLISH);
    Some(view::page(
        &Words::default(),
        lesson,
        &state,
        part.findings,
        part.source,
        &[],
    ))
}

/// A token a line: its bytes, its kind, its text.
fn tokens(out: &mut impl Write, part: &Part<'_>) -> io::Result<()> {
    // A game begins and ends where a token does, so its part of the text has the same tokens
    // as the whole has there.
    let Range { start, end } = part.bytes;
    let game = Span {
        from: start,
        to: end.min(part.source.text().len() as u32),
    };
    let stands = Mapping::cut(game);
    for token in Lexer::new(part.source.slice(game)) {
        let span = stands.outer(token.span);
        let bytes = span.range();
        let kind = format!("{:?}", token.kind);
        let shown = quoted(part.source.slice(span));
        writeln!(out, "{:>15}  {kind:<11}  {shown}", format!("{bytes:?}"))?;
    }
    Ok(())
}

/// The tags and lines of a game, a variation further in than the line that it is in.
fn syntax(out: &mut impl Write, part: &Part<'_>) -> io::Result<()> {
    let game = part.game;
    writeln!(
        out,
        "game {}, bytes {}..{}",
        part.number, game.span.from, game.span.to
    )?;
    for tag in &game.tags {
        let value = quoted(&tag.value);
        writeln!(
            out,
            "  tag {} {value}",
            clip(part.source.slice(tag.name), PIECE)
        )?;
    }
    writeln!(out, "  line 0")?;
    // The open lines, each with the number of its next item: no recursion, because texts
    // come from anyone.
    let mut open = vec![(0, 0)];
    while let Some((ix, item)) = open.last_mut() {
        let items = game.lines.get(*ix).map_or(&[][..], |line| &line.items[..]);
        let Some(&now) = items.get(*item) else {
            open.pop();
            continue;
        };
        *item += 1;
        let indent = "  ".repeat(open.len() + 1);
        match now.kind {
            ItemKind::Number { number, dots } => {
                writeln!(
                    out,
                    "{indent}number {number}{}",
                    ".".repeat(dots.min(9) as usize)
                )?;
            }
            ItemKind::Move => writeln!(out, "{indent}move {}", piece(part, now.span))?,
            ItemKind::Nag(nag) => writeln!(out, "{indent}nag {nag}")?,
            ItemKind::Comment => writeln!(out, "{indent}comment {}", piece(part, now.span))?,
            ItemKind::Variation(inner) => {
                writeln!(out, "{indent}line {inner}")?;
                open.push((inner, 0));
            }
        }
    }
    match game.result {
        Some((result, _)) => writeln!(out, "  result {result}"),
        None => Ok(()),
    }
}

fn piece(part: &Part<'_>, span: Span) -> String {
    quoted(part.source.slice(span))
}

/// In quotes, on one line, without anything that a terminal obeys.
fn quoted(text: &str) -> String {
    format!("{:?}", clip(text, PIECE))
}
