//! An edit from text to text: read, change, read again, compare.

use super::acts::paste::Pasted;
use super::acts::{change, comment, drop, grow, lift, sign};
use super::asked::{Changed, Edit, Refused, Splice, Why, smallest, spliced};
use super::held::Held;
use super::meant::{Bound, Made, forget};
use super::written::laid::Laid;
use super::written::style::Style;
use crate::lesson::{Lesson, validate};
use crate::notation::{Letters, Syntax, parse};
use crate::text::{Code, Findings, Severity, Source, Span};

/// Most steps of which a paste is made; each is a place at which the lesson lacks something.
const STEPS: usize = 10_000;

/// Makes an edit of the game of that number, from 0, of a text.
///
/// # Errors
/// Where it cannot be made, or the text after it would not hold just what is meant; then nothing is to be written.
pub fn edit(text: &str, game: usize, edit: &Edit) -> Result<Changed, Refused> {
    let before = Text::read(text);
    if before.syntax.games.is_empty() && game == 0 {
        let made = within(&Text::read(&begun(text)), game, edit)?;
        let whole = Splice {
            span: Span::new(0, text.len()),
            text: made.text.clone(),
        };
        return Ok(Changed {
            splices: vec![smallest(text, whole)],
            ..made
        });
    }
    within(&before, game, edit)
}

/// A text without a game as one of a game without moves.
fn begun(text: &str) -> String {
    let rest = text.trim_end();
    let end = &text[rest.len()..];
    match rest
        .rsplit('\n')
        .next()
        .is_some_and(|line| line.contains([';', '%']))
    {
        true => format!("{rest}\n*{end}"),
        false if rest.is_empty() => format!("*{end}"),
        false => format!("{rest} *{end}"),
    }
}

fn within(before: &Text, game: usize, edit: &Edit) -> Result<Changed, Refused> {
    let mut last = None;
    // The letters of a lesson that does not name them are those in which the new move is read.
    for letters in before.letters(game) {
        match with(before, game, edit, letters) {
            Err(refused) if refused.why == Why::OtherMeaning => last = last.or(Some(refused)),
            done => return done,
        }
    }
    Err(last.unwrap_or_else(no_lesson))
}

fn no_lesson() -> Refused {
    Refused::new(
        Why::NoLesson,
        "there is no lesson here that can be read",
        "mend what plyline check says of it first",
    )
}

fn with(
    before: &Text,
    game: usize,
    edit: &Edit,
    letters: &'static Letters,
) -> Result<Changed, Refused> {
    let laid = before.laid(game).ok_or_else(no_lesson)?;
    let (style, held) = (
        Style::of(&laid, letters),
        before.held(game).ok_or_else(no_lesson)?,
    );
    let made = match edit {
        Edit::Keep { at, moves } => grow::keep(&laid, &style, held, at, moves),
        Edit::Change { at, moves } => change::change(&laid, &style, held, at, moves),
        Edit::Comment { at, nth, was, text } => {
            comment::comment(&laid, &style, held, at, (*nth, was, text))
        }
        Edit::Sign { at, nags } => sign::sign(&laid, &style, held, at, nags),
        Edit::Drop { at } => drop::drop(&laid, &style, held, at),
        Edit::Lift { at } => lift::lift(&laid, &style, held, at),
        Edit::Paste { at, text } => return pasted(before, game, letters, at, text),
    }?;
    let (changed, _) = verified(before, game, made)?;
    Ok(changed)
}

/// A paste: steps until the lesson lacks nothing of it, and all of them as one stretch.
fn pasted(
    first: &Text,
    game: usize,
    letters: &'static Letters,
    at: &[String],
    text: &str,
) -> Result<Changed, Refused> {
    let laid = first.laid(game).ok_or_else(no_lesson)?;
    let pasted = Pasted::read(&laid, at, text)?;
    let mut now: Option<Text> = None;
    for _ in 0..STEPS {
        let before = now.as_ref().unwrap_or(first);
        let laid = before.laid(game).ok_or_else(no_lesson)?;
        let held = before.held(game).ok_or_else(no_lesson)?;
        let Some(made) = pasted.next(&laid, &Style::of(&laid, letters), &held)? else {
            break;
        };
        let (_, after) = verified(before, game, made)?;
        now = Some(after);
    }
    let new = now.as_ref().unwrap_or(first).source.text().to_owned();
    let old = first.source.text();
    let whole = Splice {
        span: Span::new(0, old.len()),
        text: new.clone(),
    };
    Ok(Changed {
        splices: kept(old, vec![whole]),
        text: new,
        at: at.to_vec(),
        unread: pasted.unread,
    })
}

/// The splices, each as small as it can be.
fn kept(text: &str, splices: Vec<Splice>) -> Vec<Splice> {
    let small = splices.into_iter().map(|it| smallest(text, it));
    let mut list: Vec<Splice> = small
        .filter(|it| !it.span.is_empty() || !it.text.is_empty())
        .collect();
    list.sort_by_key(|it| (it.span.from, it.span.to));
    list
}

/// What was made, once the text with it was read again and holds just what was meant.
fn verified(before: &Text, game: usize, made: Made) -> Result<(Changed, Text), Refused> {
    let old = before.source.text();
    let splices = kept(old, made.splices);
    let after = Text::read(&spliced(old, &splices));
    let was = before.held(game).ok_or_else(no_lesson)?;
    let differs = |what: &str| {
        let reason =
            format!("with this the {what} of the lesson would not be read as they are meant");
        Refused::new(
            Why::OtherMeaning,
            reason,
            "write it in the text by hand, and look at what plyline check says",
        )
    };
    let mut read = after.held(game).ok_or_else(|| differs("moves"))?;
    let mut meant = made.meant;
    let mut unread = read.unread.clone();
    forget(&mut unread, &was.unread);
    match made.bound {
        Bound::All => {}
        Bound::NotAfter => {
            let node = after.laid(game).and_then(|laid| laid.find(&made.at).ok());
            if let Some(said) = node.and_then(|id| read.nodes.get_mut(id as usize)) {
                said.children.clear();
            }
            meant.unread = read.unread.clone();
            if !before.has_shape_of(&after, game) {
                return Err(differs("words"));
            }
        }
        Bound::NotOdd => {
            if read.odd.iter().all(|it| meant.odd.contains(it)) {
                meant.odd = read.odd.clone();
            }
            meant.passed_over &= read.passed_over || !was.passed_over;
        }
    }
    if let Some(what) = meant.differs(&read) {
        return Err(differs(what));
    }
    if !before.has_games_of(&after, game) {
        return Err(differs("games"));
    }
    if made.bound != Bound::NotAfter && after.errors() > before.errors() {
        return Err(differs("words"));
    }
    let changed = Changed {
        text: after.source.text().to_owned(),
        splices,
        at: made.at,
        unread,
    };
    Ok((changed, after))
}

/// A text that was read.
struct Text {
    source: Source,
    syntax: Syntax,
    lessons: Vec<Option<Lesson>>,
    findings: Findings,
}

impl Text {
    fn read(text: &str) -> Text {
        let source = Source::new("lesson", text);
        let (syntax, mut findings) = parse(&source);
        let (lessons, more) = validate(&source, &syntax);
        findings.extend(more);
        Text {
            source,
            syntax,
            lessons,
            findings,
        }
    }

    fn laid(&self, game: usize) -> Option<Laid<'_>> {
        let lesson = self.lessons.get(game)?.as_ref()?;
        Some(Laid::new(
            &self.source,
            self.syntax.games.get(game)?,
            lesson,
        ))
    }

    fn held(&self, game: usize) -> Option<Held> {
        let lesson = self.lessons.get(game)?.as_ref()?;
        let bytes = self.syntax.bytes_of(game);
        let bytes = Span {
            from: bytes.start,
            to: bytes.end,
        };
        Some(Held::of(
            &self.source,
            self.syntax.games.get(game)?,
            bytes,
            lesson,
        ))
    }

    fn errors(&self) -> usize {
        let errors = self
            .findings
            .iter()
            .filter(|it| it.severity() == Severity::Error);
        errors.count()
    }

    /// A game as it is written.
    fn written(&self, game: usize) -> &str {
        let bytes = self.syntax.bytes_of(game);
        let text = self.source.text();
        let end = (bytes.end as usize).min(text.len());
        text.get(bytes.start as usize..end).unwrap_or_default()
    }

    /// Whether all other games are written as they are in another text.
    fn has_games_of(&self, other: &Text, game: usize) -> bool {
        let count = self.syntax.games.len();
        let mut others = (0..count).filter(|&at| at != game);
        count == other.syntax.games.len() && others.all(|at| self.written(at) == other.written(at))
    }

    /// Whether the game has the same words, brackets, signs and comments in the same order, as far as the kinds go.
    fn has_shape_of(&self, other: &Text, game: usize) -> bool {
        let (Some(one), Some(two)) = (self.syntax.games.get(game), other.syntax.games.get(game))
        else {
            return false;
        };
        let lines = one.lines.iter().zip(&two.lines);
        let mut same = lines.map(|(one, two)| {
            let kinds = |line: &crate::notation::Line| {
                line.items.iter().map(|it| it.kind).collect::<Vec<_>>()
            };
            kinds(one) == kinds(two)
        });
        one.lines.len() == two.lines.len() && same.all(|it| it)
    }

    /// The letters in which new moves may be written, the likeliest first.
    fn letters(&self, game: usize) -> Vec<&'static Letters> {
        let lesson = self.lessons.get(game).and_then(Option::as_ref);
        if let Some(letters) = lesson.and_then(Lesson::own_letters) {
            return vec![letters];
        }
        let is_other = self.findings.iter().any(|it| it.code == Code::OtherLetters);
        match is_other {
            true => Letters::ALL.iter().collect(),
            false => vec![Letters::ENGLISH],
        }
    }
}
