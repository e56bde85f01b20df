//! `plyline check --explain`: what a code means, why it matters and how to fix it.

use crate::cli::Outcome;
use crate::cli::out::{Out, say};
use crate::text::{Code, Severity};
use std::io::{self, Write};

/// A section for every code: its number and title, a paragraph, an example. A test proves that
/// none is missing; `www/findings.md` is made from the same text.
const SECTIONS: &str = include_str!("explanations.md");

/// The columns of a page of text.
const WIDTH: usize = 80;

/// Prints the explanation of one code, or of all.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &str) -> io::Result<Outcome> {
    let is_all = wanted.eq_ignore_ascii_case("all");
    let mut codes = Code::all()
        .into_iter()
        .filter(|code| is_all || code.id().eq_ignore_ascii_case(wanted))
        .peekable();
    if codes.peek().is_none() {
        say(&format!(
            "no finding has the code {wanted}; `plyline check --explain all` lists them"
        ));
        return Ok(Outcome::Failed);
    }
    let mut out = Out::new();
    while let Some(code) = codes.next() {
        section(&mut out, code)?;
        if codes.peek().is_some() {
            writeln!(out)?;
        }
    }
    out.flush()?;
    Ok(Outcome::Clean)
}

fn section(out: &mut impl Write, code: Code) -> io::Result<()> {
    let (title, body) = find(code).unwrap_or_default();
    let severity = match code.severity() {
        Severity::Error => "an error",
        Severity::Warning => "a warning",
        Severity::Hint => "a hint",
    };
    writeln!(out, "{}, {severity}: {title}", code.id())?;
    for paragraph in body.split("\n\n").map(str::trim_end) {
        match paragraph.starts_with("    ") {
            true => writeln!(out, "\n{paragraph}")?,
            false => writeln!(out, "\n{}", filled(paragraph))?,
        }
    }
    Ok(())
}

/// Title and body of a code's section.
fn find(code: Code) -> Option<(&'static str, &'static str)> {
    let mut sections = SECTIONS.split("\n## ").skip(1); // what is before the first
    let section = sections.find_map(|section| section.strip_prefix(code.id()))?;
    let (title, body) = section.split_once('\n')?;
    Some((title.trim(), body.trim_matches('\n')))
}

/// The words of a paragraph on lines of fewer than 80 columns.
fn filled(paragraph: &str) -> String {
    let mut text = String::new();
    let mut column = 0;
    for word in paragraph.split_whitespace() {
        let length = word.chars().count();
        if column > 0 && column + 1 + length >= WIDTH {
            text.push('\n');
            column = 0;
        } else if column > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column += length;
    }
    text
}
