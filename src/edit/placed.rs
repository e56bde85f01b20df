//! A piece that an author gives to a lesson, read where it belongs: notation without tags of its own, or sentences that
//! name moves.

use super::held::{Held, Said, unread};
use super::movetext::whole;
use crate::lesson::prose::{Context, Place, named};
use crate::lesson::rules::{EnPassantForm, fen};
use crate::lesson::{Lesson, NodeId, at_move, validate};
use crate::notation::{Syntax, parse};
use crate::text::{Findings, Source};
use std::collections::HashSet;

/// Words of a text that make it sentences: as many in small letters, of three letters or more, are no move and no remark.
const SENTENCE: usize = 3;

/// What was read.
pub struct Piece {
    /// The position of the lesson from which its moves are played.
    pub from: NodeId,
    /// Its moves, as a lesson that begins there. None of them where nothing could be read.
    pub lesson: Lesson,
    /// Its words that cannot be read; of sentences the moves alone.
    pub unread: Vec<String>,
    pub written: Written,
}

impl Piece {
    /// Whether it has moves, or words of its own.
    pub fn has_moves(&self) -> bool {
        self.lesson.nodes.len() > 1
    }
}

/// How a piece is written.
pub enum Written {
    Notation(Notation),
    /// Sentences, which name so many positions.
    Sentences {
        named: usize,
    },
}

/// Notation, read after tags that say where it begins.
pub struct Notation {
    pub source: Source,
    /// The byte of the source at which the piece begins.
    pub begin: usize,
    pub syntax: Syntax,
    pub findings: Findings,
}

/// Reads a piece: as notation from a node of a lesson, from its start where no move of it can be played there, and as
/// sentences where these name more moves than can be played so. None where it is no notation at all.
pub fn piece(lesson: &Lesson, node: NodeId, text: &str) -> Option<Piece> {
    let here = notation(lesson, node, text);
    let best = match &here {
        Some(read) if read.has_moves() || node == 0 => here,
        _ => {
            let start = notation(lesson, 0, text).filter(Piece::has_moves);
            start.or(here)
        }
    };
    let played = best.as_ref().map_or(0, |it| it.lesson.nodes.len() - 1);
    match sentences(lesson, node, text) {
        Some((read, named)) if named > played => Some(read),
        _ => best,
    }
}

/// Notation from a node: in the lesson's own letters, in English ones where more can be played so.
fn notation(lesson: &Lesson, from: NodeId, text: &str) -> Option<Piece> {
    let code = lesson
        .tag("Letters")
        .filter(|_| lesson.own_letters().is_some());
    let own = read(
        lesson,
        from,
        &code.map_or(String::new(), |it| format!("[Letters \"{it}\"]\n")),
        text,
    )?;
    if code.is_none() || own.unread.is_empty() {
        return Some(own);
    }
    let english = read(lesson, from, "", text);
    Some(match english {
        Some(english) if english.lesson.nodes.len() > own.lesson.nodes.len() => english,
        _ => own,
    })
}

fn read(lesson: &Lesson, from: NodeId, tags: &str, text: &str) -> Option<Piece> {
    let start = fen(&lesson.node(from).position, EnPassantForm::Legal);
    let tags = format!("[FEN \"{start}\"]\n{tags}\n");
    let source = Source::new("piece", format!("{tags}{text}"));
    let (syntax, mut findings) = parse(&source);
    let (lessons, more) = validate(&source, &syntax);
    findings.extend(more);
    let lesson = lessons.into_iter().next().flatten()?;
    Some(Piece {
        from,
        unread: unread(&source, &lesson),
        lesson,
        written: Written::Notation(Notation {
            begin: tags.len(),
            source,
            syntax,
            findings,
        }),
    })
}

/// The moves that sentences name, from the lesson's start on, and how many.
fn sentences(lesson: &Lesson, node: NodeId, text: &str) -> Option<(Piece, usize)> {
    if !is_sentences(text) {
        return None;
    }
    let mut context = Context::at(Place::of(node));
    let mut held = Held::default();
    held.nodes.push(Said::default());
    let mut known = HashSet::new();
    let mut unread = Vec::new();
    for paragraph in text.replace("\r\n", "\n").split("\n\n") {
        let paragraph = paragraph.replace('\n', " ");
        for it in named(lesson, lesson.letters(), &mut context, &paragraph) {
            let Ok(place) = it.place else {
                unread.extend(paragraph.get(it.range).map(str::to_owned));
                continue;
            };
            let mut run = lesson.run(place.node);
            run.extend(place.aside.iter().map(|it| it.san.to_string()));
            if !run.is_empty() && known.insert(run.clone()) {
                grow(&mut held, run);
            }
        }
    }
    let moves = whole(&held, at_move(&lesson.node(0).position));
    let piece = read(lesson, 0, "", &moves)?;
    let named = known.len();
    let piece = Piece {
        unread,
        written: Written::Sentences { named },
        ..piece
    };
    Some((piece, named))
}

/// Adds a run of moves from the start.
fn grow(held: &mut Held, run: Vec<String>) {
    let mut at = 0;
    for san in run {
        let said = |id: usize| held.nodes.get(id);
        let mut children = said(at)
            .into_iter()
            .flat_map(|it| it.children.iter().copied());
        let there = children.find(|&it| said(it).is_some_and(|it| it.san == san));
        at = there.unwrap_or_else(|| {
            held.add(
                at,
                Said {
                    san,
                    ..Said::default()
                },
            )
        });
    }
}

/// Whether a text is written in words. Notation has its words in braces.
fn is_sentences(text: &str) -> bool {
    let is_word = |word: &&str| {
        let word = word.trim_matches(|it: char| it.is_ascii_punctuation());
        word.chars().count() >= 3 && word.chars().all(char::is_lowercase)
    };
    !text.contains('{') && text.split_whitespace().filter(is_word).count() >= SENTENCE
}
