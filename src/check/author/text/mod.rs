//! The text of a game beside the lesson that was made of it: comments and variations without an
//! end, variations at the wrong move, words among the moves. The findings there get better words.

pub(super) mod blank_lines;
mod brackets;
mod earlier;
mod half_moves;
mod line_starts;
mod misread;
mod numbered;
mod slip_before;
mod spelling;
mod swallowed;
mod unbraced;

use self::line_starts::LineStart;
use super::explained::Told;
use crate::lesson::Lesson;
use crate::notation::{Game, Letters};
use crate::text::{Code, Findings, Source};

/// The text of a game, the lesson that was made of it, and the findings of reading it.
struct Text<'a> {
    source: &'a Source,
    game: &'a Game,
    lesson: &'a Lesson,
    letters: &'a Letters,
    found: &'a Findings,
    /// Where each line of the game begins.
    starts: Vec<LineStart>,
}

impl<'a> Text<'a> {
    fn new(
        source: &'a Source,
        game: &'a Game,
        lesson: &'a Lesson,
        found: &'a Findings,
    ) -> Text<'a> {
        Text {
            source,
            game,
            lesson,
            letters: lesson.letters(),
            found,
            starts: line_starts::lines(game, lesson),
        }
    }
}

/// What only text and lesson together show. `holds` says whether a comment holds the beginning of
/// another.
pub(super) fn told(
    source: &Source,
    game: &Game,
    lesson: &Lesson,
    found: &Findings,
    holds: bool,
) -> Vec<Told> {
    let text = Text::new(source, game, lesson, found);
    let mut told = brackets::by_number(&text);
    if holds || found.iter().any(|it| it.code == Code::OpenComment) {
        told.extend(swallowed::swallowed(&text));
    }
    told.extend(earlier::earlier(&text));
    told.extend(half_moves::missing(&text));
    told.extend(unbraced::unbraced(&text));
    told.extend(unbraced::broken_tags(&text));
    told.extend(misread::misread(&text));
    told.extend(spelling::spelling(&text));
    told.extend(slip_before::slips(&text));
    told
}

/// For tests: the findings of a text with those of one pass over its first game.
#[cfg(test)]
fn looked(text: &str, pass: impl FnOnce(&Text) -> Vec<Told>) -> (Source, Findings) {
    let source = Source::new("a.pgn", text);
    let (syntax, mut found) = crate::notation::parse(&source);
    let (lessons, played) = crate::lesson::validate(&source, &syntax);
    found.extend(played);
    found.sort();
    let lesson = lessons[0].as_ref().expect("a lesson");
    let game = &syntax.games[0];
    let told = pass(&Text::new(&source, game, lesson, &found));
    let all = crate::check::page::game(&source, game, Some(lesson), found.clone());
    (source, super::explained::settle(all, told))
}
