//! Brackets and braces that are lost, doubled or in the wrong place, and other single slips on which
//! much depends: the change with which the rest of the game plays says where. What was found only because of it is left out.

mod another_move;
mod both_lost;
mod candidates;
mod doubt;
mod edit;
mod fen_side;
mod other_sign;
mod parentheses;
mod quotes;
mod search;
mod tell;
mod trial;
mod words;

use self::edit::Edit;
use self::quotes::{Splice, are_plain, quotes};
use self::search::search;
use super::explained::{doubted, without};
use crate::lesson::{Lesson, validate};
use crate::notation::{Game, Letters, Syntax, parse};
use crate::text::{Code, Finding, Findings, Severity, Source, Span};
use shakmaty::Chess;

/// Most slips of one game that are looked for.
const SLIPS: usize = 3;

/// The findings of a game with slips of brackets.
pub(super) struct Mended {
    /// The slips, and all else that is found in the text without them.
    pub(super) findings: Findings,
    /// Up to where they speak of the text.
    pub(super) to: u32,
}

/// Looks for slips of brackets in a game; none if it has none, or if none explains what was found.
/// `held` of its comments hold the beginning of another; `left` is how many bytes may still be read
/// to find slips.
pub(super) fn mended(
    source: &Source,
    game: &Game,
    lesson: &Lesson,
    found: &Findings,
    held: usize,
    left: &mut usize,
) -> Option<Mended> {
    let from = game.span.from as usize;
    let begin = after_tags(source, game);
    let head = source.slice(Span::new(from, begin));
    let mut slips: Vec<Finding> = Vec::new();
    let mut splices: Vec<Splice> = Vec::new();
    if !are_plain(source, game, begin) {
        for (finding, splice) in quotes(head) {
            slips.push(moved(finding, from));
            splices.push(splice);
        }
    }
    let amiss = weight(found) + held;
    if slips.is_empty() && amiss == 0 {
        return None;
    }
    // Many games may be one after the other without tags: each looks for the end of them all.
    let region = Span::new(begin, end(source, begin));
    trial::spend(left, region.range().len())?;
    let mut text = source.slice(region).to_owned();
    if slips.is_empty() {
        let with = |splice: &Splice| {
            let head = spliced(
                source.slice(Span::new(0, begin)),
                core::slice::from_ref(splice),
            );
            lesson_of(&format!("{}{text}", &head[from..]))
        };
        if let Some((finding, mut splice)) =
            fen_side::fen_side(source, game, lesson, &text, with, left)
        {
            slips.push(finding);
            splice.from -= from;
            splice.to -= from;
            splices.push(splice);
        }
    }
    let new_head = spliced(head, &splices);
    let mut made: Vec<Made> = Vec::new();
    // With other tags the game may begin elsewhere.
    let again = (!slips.is_empty()).then(|| lesson_of(&format!("{new_head}{text}")));
    let read = match &again {
        Some(again) => again.as_ref(),
        None => Some(lesson),
    };
    let (tags, mut brackets) = (slips.len(), 0);
    while let Some(lesson) = read.filter(|_| brackets < SLIPS) {
        let (start, letters) = (&lesson.node(0).position, lesson.letters());
        let slip = match other_sign::other_sign(&text, start, letters, left) {
            None if is_paired(&text) => word_slip(&text, start, letters, left),
            found => found,
        };
        if let Some((finding, splices)) = slip {
            let is_whole = finding.fix.is_some();
            slips.push(moved(placed(finding, &made), region.from as usize));
            text = spliced(&text, &splices);
            made.push(Made::Words(splices));
            brackets += 1;
            if is_whole {
                break;
            }
            continue;
        }
        let Some(answer) = search(&text, start, letters, left) else {
            break;
        };
        let Some(&edit) = answer.edits.first() else {
            break;
        };
        // Words before the moves may be the first of the comment that begins there.
        let is_cut = || edit.first() == 0 && follows_words(source, game, begin);
        let is_alone = brackets == 0 && answer.is_certain && !is_cut();
        let finding = tell::tell(&text, &answer.edits, is_alone);
        slips.push(moved(placed(finding, &made), region.from as usize));
        text = edit.tail(&text, 0);
        made.push(Made::Sign(edit));
        brackets += 1;
        if answer.left == 0 {
            break;
        }
    }
    if brackets > 0 {
        let mended = Source::new("", format!("{new_head}{text}"));
        // Counted as the reader meets them: the search counts what looks odd too.
        if weight(&super::read(&mended)) + brackets > amiss {
            slips.truncate(tags);
            made.clear();
            text = source.slice(region).to_owned();
            brackets = 0;
        }
    }
    if tags + brackets == 0 {
        return None;
    }
    let is_whole = brackets == 0 || slips.last().is_some_and(|it| it.fix.is_some());
    let offset = new_head.len();
    let mended = Source::new(source.name(), format!("{new_head}{text}"));
    let mut rest = super::read(&mended);
    if !is_whole {
        doubted(&mut rest);
    }
    for finding in rest.iter_mut() {
        each_span(finding, |span| {
            let back = |at: u32| {
                let at = at as usize;
                match at.checked_sub(offset) {
                    Some(at) => back(&made, at) + head.len(),
                    None => spliced_back(&splices, at),
                }
            };
            *span = Span::new(back(span.from) + from, back(span.to) + from);
        });
    }
    Some(Mended {
        findings: without(found, game.span.from, slips, rest),
        to: region.to,
    })
}

/// A change that was made to find the next slip.
enum Made {
    Sign(Edit),
    Words(Vec<Splice>),
}

/// A slip of words, or of both brackets of a variation, where as many open as close; and the changes
/// without it.
fn word_slip(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<(Finding, Vec<Splice>)> {
    let one = |(finding, splice)| (finding, vec![splice]);
    both_lost::both_lost(text, start, letters, left)
        .or_else(|| words::words(text, start, letters, left).map(one))
        .or_else(|| another_move::another_move(text, start, letters, left).map(one))
}

/// Where a byte of a text with some changes is in the text as it was.
fn back(made: &[Made], at: usize) -> usize {
    made.iter().rev().fold(at, |at, made| match made {
        Made::Sign(edit) => edit.back(at),
        Made::Words(splices) => spliced_back(splices, at),
    })
}

/// A finding about a text with some changes, at its place in the text as it was.
fn placed(mut finding: Finding, made: &[Made]) -> Finding {
    each_span(&mut finding, |span| {
        *span = Span::new(back(made, span.from as usize), back(made, span.to as usize));
    });
    finding
}

/// Whether as many brackets and braces open as close; those in comments count too, because what
/// matters is whether one of them may be missing.
fn is_paired(text: &str) -> bool {
    let count = |sign| text.matches(sign).count();
    count('(') == count(')') && count('{') == count('}')
}

/// A text with some changes, which are in the order of their places.
fn spliced(text: &str, splices: &[Splice]) -> String {
    let (mut new, mut at) = (String::new(), 0);
    for splice in splices {
        new.push_str(&text[at..splice.from]);
        new.push_str(&splice.text);
        at = splice.to;
    }
    new.push_str(&text[at..]);
    new
}

/// Where a byte of the changed text is in the text as it was.
fn spliced_back(splices: &[Splice], at: usize) -> usize {
    let (mut old, mut new) = (0, 0);
    for splice in splices {
        let kept = splice.from - old;
        if at < new + kept {
            break;
        }
        let within = at - new - kept;
        if within < splice.text.len() {
            return (splice.from + within).min(splice.to);
        }
        new += kept + splice.text.len();
        old = splice.to;
    }
    old + (at - new)
}

/// The first game of a text.
fn lesson_of(text: &str) -> Option<Lesson> {
    let source = Source::new("", text);
    let (syntax, _) = parse(&source);
    let first = syntax.games.into_iter().next()?;
    let one = Syntax { games: vec![first] };
    validate(&source, &one).0.into_iter().next()?
}

/// How much was found that a bracket can be the reason of.
fn weight(found: &Findings) -> usize {
    let counts = |it: &&Finding| match it.code {
        Code::BadTag | Code::TooManyTags | Code::LocatorNone | Code::LocatorSeveral => false,
        Code::WrongNumber | Code::BraceInside => true,
        _ => it.severity() == Severity::Error,
    };
    found.iter().filter(counts).count()
}

/// Whether something is before a place that is no tag: a tag that could not be read, or what was read
/// as another game.
fn follows_words(source: &Source, game: &Game, at: usize) -> bool {
    let from = game.tags.last().map_or(0, |tag| tag.span.to as usize);
    !source.slice(Span::new(from, at)).trim().is_empty()
}

/// Where the first word after the tags of a game is.
fn after_tags(source: &Source, game: &Game) -> usize {
    let text = source.text();
    let mut from = game.span.from as usize;
    if let Some(tag) = game.tags.last() {
        from = from.max(tag.span.to as usize);
    }
    loop {
        let rest = &text[from..];
        let words = rest.trim_start();
        from += rest.len() - words.len();
        // A tag that could not be read.
        if !words.starts_with('[') {
            break;
        }
        from += words.find('\n').unwrap_or(words.len());
    }
    from
}

/// Where the tags of the next game begin, or the text ends: a lost brace may make games of words, or
/// swallow games.
fn end(source: &Source, from: usize) -> usize {
    let text = source.text();
    let (mut at, mut is_blank) = (from, false);
    for line in text[from..].split_inclusive('\n') {
        if is_blank && line.starts_with('[') && line.trim_end().ends_with("\"]") {
            break;
        }
        is_blank = line.trim().is_empty();
        at += line.len();
    }
    text[from..at].trim_end().len() + from
}

/// A finding about a part of a text that begins at a byte of it.
fn moved(mut finding: Finding, by: usize) -> Finding {
    each_span(&mut finding, |span| {
        *span = Span::new(span.from as usize + by, span.to as usize + by);
    });
    finding
}

fn each_span(finding: &mut Finding, mut change: impl FnMut(&mut Span)) {
    let message = &mut **finding;
    change(&mut message.span);
    for related in &mut message.related {
        change(&mut related.span);
    }
    if let Some(fix) = &mut message.fix {
        change(&mut fix.span);
    }
}
