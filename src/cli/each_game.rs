//! From a text to its games, one at a time: a file may hold thousands, and a lesson takes much
//! more memory than the words it was read from.

use super::files::Text;
use crate::check::author;
use crate::lesson::{self, Lesson};
use crate::notation::{self, Game, Syntax};
use crate::text::{Code, Finding, Findings, Source, Span};
use std::ops::Range;

/// One game of a text.
pub struct Part<'a> {
    /// The whole text.
    pub source: &'a Source,
    /// Its number in the text, from 1.
    pub number: usize,
    /// What is in the text.
    pub game: &'a Game,
    /// What it means; none if its start cannot be used.
    pub lesson: Option<&'a Lesson>,
    /// What was found in it, in the order of the places.
    pub findings: &'a Findings,
    /// The bytes from where the game before it ended to where the next one begins.
    pub bytes: Range<u32>,
}

/// The rest of a reading when it is over.
pub struct Read {
    /// The whole text.
    pub source: Source,
    /// Everything that was found, in the order of the places.
    pub findings: Findings,
    /// Whether there was an error, also among the findings that are more than are kept.
    pub has_error: bool,
}

/// Reads a text and shows each of its games, or only that of the given number, to `each`. With a
/// number, findings in other games are shown only if there is no game of that number.
///
/// # Errors
/// Those of `each`.
pub fn read<E>(
    text: Text,
    only: Option<u32>,
    mut each: impl FnMut(&Part<'_>) -> Result<(), E>,
) -> Result<Read, E> {
    let mut read = Read {
        source: text.source,
        has_error: false,
        findings: Findings::default(),
    };
    read.add(text.findings);
    if text.is_too_long {
        return Ok(read);
    }
    let (syntax, mut written) = notation::parse(&read.source);
    written.sort();
    let count = syntax.games.len();
    if count == 0 {
        // No game, and so no number that could be out of range: the findings say why.
        read.add(written);
        return Ok(read);
    }
    if let Some(number) = only.filter(|&number| number as usize > count) {
        read.add(no_such_game(number, count));
        // A comment that is not closed, say, may be why it is not there.
        read.add(written);
        read.findings.sort();
        return Ok(read);
    }
    let all_bytes: Vec<Range<u32>> = (0..count).map(|ix| syntax.bytes_of(ix)).collect();
    let mut file = author::File::default();
    for (ix, (game, bytes)) in syntax.games.into_iter().zip(all_bytes).enumerate() {
        if only.is_some_and(|number| number as usize != ix + 1) {
            continue;
        }
        let one = Syntax { games: vec![game] };
        let (lessons, played) = lesson::validate(&read.source, &one);
        let mut findings = written.within(&bytes);
        findings.extend(played);
        let game = &one.games[0]; // the one that was put in
        let lesson = lessons.first().and_then(Option::as_ref);
        let findings = file.game(&read.source, game, lesson, findings);
        each(&Part {
            source: &read.source,
            number: ix + 1,
            game,
            lesson,
            findings: &findings,
            bytes,
        })?;
        read.add(findings);
    }
    read.findings.sort();
    Ok(read)
}

impl Read {
    /// What was found in a post.
    pub fn of_post(source: Source, findings: Findings) -> Read {
        Read {
            source,
            has_error: findings.has_error(),
            findings,
        }
    }

    fn add(&mut self, findings: Findings) {
        // Asked before they are added: `findings` keeps only so many.
        self.has_error |= findings.has_error();
        self.findings.extend(findings);
    }
}

fn no_such_game(number: u32, count: usize) -> Findings {
    let held = match count {
        1 => "one game".to_owned(),
        _ => format!("{count} games"),
    };
    let message = format!("this text holds {held}, so there is no game {number}");
    let mut findings = Findings::default();
    findings.push(Finding::new(Code::NoSuchGame, Span::default(), message));
    findings
}
