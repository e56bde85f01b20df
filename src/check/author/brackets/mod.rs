//! Brackets and braces that are lost, doubled or in the wrong place: the change with which the rest
//! of the game plays says where. What was found only because of it is left out.

mod candidates;
mod edit;
mod search;
mod tell;
mod trial;

use self::edit::Edit;
use self::search::search;
use super::explained::without;
use crate::lesson::Lesson;
use crate::notation::{Game, ItemKind};
use crate::text::{Code, Finding, Findings, Severity, Source, Span};

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
/// `left` is how many bytes may still be read for it.
pub(super) fn mended(
    source: &Source,
    game: &Game,
    lesson: &Lesson,
    found: &Findings,
    left: &mut usize,
) -> Option<Mended> {
    if !is_amiss(source, game, found) {
        return None;
    }
    let start = &lesson.node(0).position;
    let letters = lesson.letters();
    let region = region(source, game);
    let mut text = source.slice(region).to_owned();
    let mut made: Vec<Edit> = Vec::new();
    let mut slips: Vec<Finding> = Vec::new();
    while slips.len() < SLIPS {
        let Some(answer) = search(&text, start, letters, left) else {
            break;
        };
        let (Some(&edit), left) = (answer.edits.first(), answer.left) else {
            break;
        };
        let is_alone = slips.is_empty() && answer.is_certain;
        let mut finding = tell::tell(&text, &answer.edits, is_alone);
        to_first(&mut finding, &made, region.from as usize);
        slips.push(finding);
        text = edit.tail(&text, 0);
        made.push(edit);
        if left == 0 {
            break;
        }
    }
    if slips.is_empty() {
        return None;
    }
    let from = game.span.from as usize;
    let head = source.slice(Span::new(from, region.from as usize));
    let offset = head.len();
    let mended = Source::new(source.name(), format!("{head}{text}"));
    let mut rest = super::read(&mended);
    for finding in rest.iter_mut() {
        each_span(finding, |span| {
            for edit in made.iter().rev() {
                *span = edit.span_back(*span, offset);
            }
            *span = Span::new(span.from as usize + from, span.to as usize + from);
        });
    }
    Some(Mended {
        findings: without(found, game.span.from, slips, rest),
        to: region.to,
    })
}

/// Whether something was found that a bracket can be the reason of.
fn is_amiss(source: &Source, game: &Game, found: &Findings) -> bool {
    let mut items = game.lines.iter().flat_map(|line| &line.items);
    let holds_brace = items.any(|item| {
        let words = source.slice(item.span);
        item.kind == ItemKind::Comment && words.starts_with('{') && words[1..].contains('{')
    });
    holds_brace
        || found.iter().any(|it| {
            let is_tag = matches!(it.code, Code::BadTag | Code::TooManyTags);
            it.code == Code::WrongNumber || it.severity() == Severity::Error && !is_tag
        })
}

/// From the first word after the tags to the tags of the next game: a lost brace may make games of
/// words, or swallow games.
fn region(source: &Source, game: &Game) -> Span {
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
    let (mut at, mut is_blank) = (from, false);
    for line in text[from..].split_inclusive('\n') {
        if is_blank && line.starts_with('[') && line.trim_end().ends_with("\"]") {
            break;
        }
        is_blank = line.trim().is_empty();
        at += line.len();
    }
    let end = text[from..at].trim_end().len() + from;
    Span::new(from, end)
}

/// Moves a finding about a text with some changes to its place in the source.
fn to_first(finding: &mut Finding, made: &[Edit], offset: usize) {
    each_span(finding, |span| {
        for edit in made.iter().rev() {
            *span = edit.span_back(*span, 0);
        }
        *span = Span::new(span.from as usize + offset, span.to as usize + offset);
    });
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

#[cfg(test)]
mod tmpdbg {
    #[test]
    fn tmp_meant() {
        let mut n = 0;
        let mut files: Vec<_> = std::fs::read_dir("/tmp/brk/meant").unwrap().map(|e| e.unwrap().path()).collect();
        files.sort();
        for path in files {
            let source = crate::text::Source::new("x", std::fs::read_to_string(&path).unwrap());
            let (syntax, _) = crate::notation::parse(&source);
            let (lessons, _) = crate::lesson::validate(&source, &syntax);
            let lesson = lessons[0].as_ref().unwrap();
            let region = super::region(&source, &syntax.games[0]);
            let text = source.slice(region);
            let mut left = 1 << 30;
            let worst = super::trial::Score { faults: u32::MAX, bare: u32::MAX };
            let read = super::trial::Trial::new(&lesson.node(0).position, lesson.letters()).read(text, 0, worst, &mut left).unwrap();
            if read.score.faults > 0 {
                n += 1;
                let at = read.first.unwrap().0;
                if n < 30 { println!("{:?} {:?} bare {} full {} …{}", path, read.score, read.score.bare, read.full, text[at..].chars().take(50).collect::<String>()); }
            }
        }
        println!("{n} with faults");
    }
}
