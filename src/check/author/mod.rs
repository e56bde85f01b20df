//! Checks that only the program makes, so that no page carries them: of a lesson's text, its tags
//! and its comments.

mod across_games;
mod brackets;
mod chosen;
mod comments;
mod drafted;
mod early_result;
mod explained;
mod glyphs;
mod held_braces;
mod held_links;
mod line_ends;
mod linked;
mod signs;
mod tags;
mod text;
mod unsaid;
mod ways_out;

pub use self::chosen::{Chosen, chosen};
pub use self::comments::named_moves::{amiss as named_amiss, pawns as named_pawns};
pub use drafted::drafted;

use self::across_games::Heads;
use self::early_result::End;
use self::explained::{doubt, settle};
use self::held_braces::held_braces;
use super::{lesson, values};
use crate::lesson::{Lesson, validate};
use crate::notation::{Game, Syntax, parse};
use crate::text::{Findings, Source, limits};

/// A text whose games are checked one after the other: some things only show across them.
pub struct File {
    heads: Heads,
    before: Option<End>,
    /// Up to where the findings are told: words that only a lost brace makes games are no games.
    told_to: u32,
    /// How many bytes may still be read to find a bracket.
    left: usize,
}

impl Default for File {
    fn default() -> File {
        File {
            heads: Heads::default(),
            before: None,
            told_to: 0,
            left: limits::BRACKET_BYTES,
        }
    }
}

impl File {
    /// The findings of reading the next game, and of all passes over it, in the order of their
    /// places.
    pub fn game(
        &mut self,
        source: &Source,
        game: &Game,
        lesson: Option<&Lesson>,
        found: Findings,
    ) -> Findings {
        if game.span.from < self.told_to {
            return Findings::default();
        }
        let held = held_braces(source, game);
        let mended =
            lesson.and_then(|it| brackets::mended(source, game, it, &found, held, &mut self.left));
        if let Some(mended) = mended {
            self.told_to = mended.to;
            self.before = None;
            let mut findings = mended.findings;
            if let Some(finding) = self.heads.next(source, game) {
                findings.push(finding);
                findings.sort();
            }
            return findings;
        }
        self.as_it_is(source, game, lesson, found, held > 0)
    }

    /// The same for a game whose brackets are right, or cannot be helped; `holds` says whether one
    /// of its comments holds the beginning of another.
    fn as_it_is(
        &mut self,
        source: &Source,
        game: &Game,
        lesson: Option<&Lesson>,
        found: Findings,
        holds: bool,
    ) -> Findings {
        let mut told = Vec::new();
        let mut findings = Findings::default();
        if let Some(lesson) = lesson {
            findings = one(source, game, lesson);
            // What others say of the same finding is better.
            told = held_links::held_links(source, lesson, &found, &findings);
            told.extend(text::told(source, game, lesson, &found, holds));
            told.extend(glyphs::torn(source, lesson, &found));
            findings.extend(glyphs::glyphs(source, game));
            if let Some(finding) = glyphs::no_result(source, game, &found) {
                findings.push(finding);
            }
        }
        if let Some(finding) = self.heads.next(source, game) {
            findings.push(finding);
        }
        if let Some(end) = self.before.take() {
            told.extend(end.told(source, game, &found));
        }
        self.before = End::of(game, lesson);
        let mut all = match lesson {
            Some(lesson) => ways_out::added(source, lesson, found),
            None => found,
        };
        all.extend(findings);
        let mut settled = settle(all, told);
        doubt(source, game, &mut settled);
        settled
    }
}

/// [`File::game`] for a game whose text holds no other.
pub fn game(source: &Source, game: &Game, lesson: Option<&Lesson>, found: Findings) -> Findings {
    File::default().game(source, game, lesson, found)
}

/// The lessons of a text, one a game, and all findings about them, in the order of the places.
pub fn lessons(source: &Source) -> (Vec<Option<Lesson>>, Findings) {
    let mut file = File::default();
    games(source, |game, lesson, found| {
        file.game(source, game, lesson, found)
    })
}

/// The findings of a text that is read without looking for brackets.
fn read(source: &Source) -> Findings {
    let mut file = File::default();
    let (_, findings) = games(source, |game, lesson, found| {
        let holds = held_braces(source, game) > 0;
        file.as_it_is(source, game, lesson, found, holds)
    });
    findings
}

/// Reads the games of a text one after the other; `check` makes all findings of those of reading.
fn games(
    source: &Source,
    mut check: impl FnMut(&Game, Option<&Lesson>, Findings) -> Findings,
) -> (Vec<Option<Lesson>>, Findings) {
    let (syntax, mut written) = parse(source);
    written.sort();
    if syntax.games.is_empty() {
        return (Vec::new(), written);
    }
    let bytes: Vec<_> = (0..syntax.games.len())
        .map(|at| syntax.bytes_of(at))
        .collect();
    let mut all = Findings::default();
    let mut lessons = Vec::new();
    for (game, bytes) in syntax.games.into_iter().zip(bytes) {
        let one = Syntax { games: vec![game] };
        let (mut read, played) = validate(source, &one);
        let mut found = written.within(&bytes);
        found.extend(played);
        let lesson = read.pop().flatten();
        all.extend(check(&one.games[0], lesson.as_ref(), found)); // the one that was put in
        lessons.push(lesson);
    }
    all.sort();
    (lessons, all)
}

/// What a lesson leaves unsaid: hints for its author, and nothing for a page.
fn hints(lesson: &Lesson) -> Findings {
    let mut findings = line_ends::line_ends(lesson);
    findings.extend(unsaid::transpositions(lesson));
    findings
}

/// The findings of the passes that need not know the earlier ones.
fn one(source: &Source, game: &Game, lesson: &Lesson) -> Findings {
    let mut findings = ways_out::added(source, lesson, lesson::whole(source, lesson));
    findings.extend(hints(lesson));
    findings.extend(values::of_tags(source, game));
    findings.extend(tags::tags(source, game, lesson));
    findings.extend(comments::comments(lesson));
    findings.extend(signs::signs(source, lesson));
    if let Some(finding) = text::blank_lines::blank_line(source, game) {
        findings.push(finding);
    }
    findings
}

/// What the unit tests of the passes share.
#[cfg(test)]
mod given {
    use super::File;
    use crate::lesson::validate;
    use crate::notation::parse;
    use crate::text::{Code, Findings, Source};

    /// All findings of a text.
    pub fn checked(text: &str) -> (Source, Findings) {
        let source = Source::new("a.pgn", text);
        let (syntax, mut written) = parse(&source);
        written.sort();
        let (lessons, played) = validate(&source, &syntax);
        let mut file = File::default();
        let mut all = Findings::default();
        for (at, (game, lesson)) in syntax.games.iter().zip(&lessons).enumerate() {
            let bytes = syntax.bytes_of(at);
            let mut found = written.within(&bytes);
            found.extend(played.within(&bytes));
            all.extend(file.game(&source, game, lesson.as_ref(), found));
        }
        all.sort();
        (source, all)
    }

    /// Codes and words, in the order of the places.
    pub fn told(text: &str) -> Vec<(&'static str, String)> {
        let (source, found) = checked(text);
        let told = |it: &crate::text::Finding| (it.code.id(), source.slice(it.span).to_owned());
        found.iter().map(told).collect()
    }

    /// The codes alone.
    pub fn codes(text: &str) -> Vec<&'static str> {
        told(text).into_iter().map(|(code, _)| code).collect()
    }

    /// The words at which this code is found.
    pub fn words_of(text: &str, code: Code) -> Vec<String> {
        let (source, found) = checked(text);
        let of = found.iter().filter(|it| it.code == code);
        of.map(|it| source.slice(it.span).to_owned()).collect()
    }
}
