//! `plyline export`: prints the games of a file in the export format of the PGN standard.

use super::args;
use super::out::Out;
use super::read::{Part, read};
use super::report::beside;
use super::{Outcome, files, out};
use crate::lesson;
use crate::notation::ItemKind;
use crate::text::Code;
use std::io::{self, Write};

/// Prints every game that was read whole; with `--partial` what was read of the others too.
/// Findings go to standard error.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Export) -> io::Result<Outcome> {
    let text = match files::load(&wanted.file) {
        Ok(text) => text,
        Err(unreadable) => {
            out::say(&unreadable.line());
            return Ok(Outcome::Failed);
        }
    };
    let mut out = Out::new();
    let mut held_back = Vec::new();
    let done = read(text, wanted.game, |part| {
        let Some(lesson) = part.lesson else {
            return Ok(()); // its start cannot be used, which a finding says
        };
        let is_whole = wanted.partial || !loses(part);
        match lesson::export(lesson, wanted.partial) {
            Ok(pgn) if is_whole => out.write_all(pgn.as_bytes()),
            _ => {
                held_back.push(part.number);
                Ok(())
            }
        }
    })?;
    out.flush()?;
    beside(&done);
    for number in &held_back {
        out::say(&format!(
            "game {number} is not printed, for it was not read whole (--partial prints what was read)"
        ));
    }
    match held_back.is_empty() {
        true => Ok(Outcome::of(done.has_error)),
        false => Ok(Outcome::Errors),
    }
}

/// Whether something that stands in the game was passed over, so that the lesson is less than
/// the text. Words of a line that could not be read are the lesson's own to know.
fn loses(part: &Part<'_>) -> bool {
    let lines = part.game.lines.iter().skip(1);
    let is_said_in_an_empty_line = lines.into_iter().any(|line| {
        let has = |kind| line.items.iter().any(|item| item.kind == kind);
        has(ItemKind::Comment) && !has(ItemKind::Move)
    });
    let is_passed_over = part.findings.iter().any(|finding| {
        matches!(
            finding.code,
            Code::StrayCharacter
                | Code::BadTag
                | Code::TooDeep
                | Code::NoMoveBeside
                | Code::TooManyTags
                | Code::MoreFindings
        )
    });
    is_said_in_an_empty_line || is_passed_over
}
