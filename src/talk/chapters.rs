//! Chapters of a recording, from the times of the lesson that it tells: for players of the page, and for lists in the
//! descriptions of recordings.

use crate::lesson::{Lesson, LineId, NodeId};
use crate::markup::of_cue;
use crate::notation::comment::clock::{Millis, written};
use crate::notation::comment::hear::passages;
use std::collections::HashSet;

/// A part of a recording; it lasts to the next one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chapter {
    /// When it begins, in thousandths of a second.
    pub from: Millis,
    /// Its name, on one line and never empty.
    pub title: String,
}

/// How long the talk is back in a line that it has told before, at least, for that to be a chapter: what is shorter
/// only says where the talk goes on. (Common practice, no source: players show no chapter of less than ten seconds.)
const BACK: Millis = 10_000;

/// The end of the last chapter, where it does not begin later: a file of WebVTT must name one, and a lesson does not say
/// how long its recording is. A player ends it with the recording.
const END: Millis = 359_999_999;

/// The chapters of a lesson's talk, in their order, no two in the same second; none where the lesson has no times.
///
/// The first begins at 0:00 and has the lesson's name, because what is said before the first time leads to the lesson.
/// Each line has one, from its first passage on, by its label and its first move. Where the talk comes back to a line
/// and stays there, that is a chapter too, by the move with which it goes on. The passage that counts for a position is
/// the one that explains it, the first of its list.
pub fn chapters(lesson: &Lesson) -> Vec<Chapter> {
    let mut stays = stays(lesson);
    if stays.is_empty() {
        return Vec::new();
    }
    let mut known = HashSet::from([0]);
    let ends: Vec<Millis> = stays.iter().skip(1).map(|it| it.from).collect();
    let mut at = 0;
    stays.retain(|stay| {
        let until = ends.get(at).copied().unwrap_or(Millis::MAX);
        at += 1;
        known.insert(stay.line) || until - stay.from >= BACK
    });
    let mut told = HashSet::from([0]);
    let mut line = 0;
    let mut list = vec![Chapter {
        from: 0,
        title: name(lesson),
    }];
    for stay in stays {
        if stay.line == line {
            continue; // the beginning, and what goes on after a stay too short to count
        }
        line = stay.line;
        let node = match told.insert(line) {
            true => lesson.line(line).first,
            false => stay.node,
        };
        let label = &lesson.line(line).label;
        let title = format!("{label} {}", lesson.numbered(node));
        let title = title.trim().to_owned();
        match list.last_mut() {
            Some(last) if last.from / 1000 == stay.from / 1000 => {
                last.title = format!("{}, {title}", last.title);
            }
            _ => list.push(Chapter {
                from: stay.from,
                title,
            }),
        }
    }
    list
}

/// From when on the talk is in a line.
struct Stay {
    from: Millis,
    /// The position that it tells first there.
    node: NodeId,
    line: LineId,
}

/// Where the talk is, in the order of the recording; no two after each other are in one line.
fn stays(lesson: &Lesson) -> Vec<Stay> {
    let mut first: Vec<Option<Millis>> = vec![None; lesson.nodes.len()];
    for id in lesson.ids() {
        let node = lesson.node(id);
        // Words before a variation are about the position from which it leaves.
        let before = node.before.iter().map(|it| (node.parent.unwrap_or(0), it));
        for (about, comment) in before.chain(node.comments.iter().map(|it| (id, it))) {
            let mut told = comment.text().split("\n\n").filter_map(passages).flatten();
            if let (Some(slot @ None), Some(passage)) = (first.get_mut(about as usize), told.next())
            {
                *slot = Some(passage.from);
            }
        }
    }
    let timed = lesson.ids().zip(first);
    let mut stays: Vec<Stay> = timed
        .filter_map(|(node, from)| {
            let line = lesson.node(node).line;
            from.map(|from| Stay { from, node, line })
        })
        .collect();
    stays.sort_by_key(|it| it.from); // of the same time the earlier in the lesson comes first
    stays.dedup_by_key(|it| it.line);
    stays
}

/// What a lesson is called: its event, else its first move.
fn name(lesson: &Lesson) -> String {
    let event = lesson.tag("Event").unwrap_or_default();
    let event: Vec<&str> = event.split_whitespace().collect();
    match event.join(" ") {
        event if event.is_empty() || event == "?" => {
            lesson.numbered(lesson.next_on_line(0).unwrap_or(0))
        }
        event => event,
    }
}

/// Chapters as a file of WebVTT, for `<track kind="chapters">`: cues in their order, each of which ends where the next
/// begins. (W3C WebVTT, sections 4.1 and 4.2.3 "chapter title text", from memory.)
pub fn vtt(chapters: &[Chapter]) -> String {
    let mut text = "WEBVTT\n".to_owned();
    let ends = chapters.iter().skip(1).map(|it| it.from);
    let last = chapters.last().map(|it| END.max(it.from + 1000));
    for (chapter, end) in chapters.iter().zip(ends.chain(last)) {
        let title = of_cue(&chapter.title);
        let (from, end) = (stamp(chapter.from), stamp(end));
        text += &format!("\n{from} --> {end}\n{title}\n");
    }
    text
}

/// Chapters as a list, `m:ss Title` a line. (Common practice, no source.)
pub fn list(chapters: &[Chapter]) -> String {
    let rows = chapters.iter();
    rows.map(|it| format!("{} {}\n", written(it.from), it.title))
        .collect()
}

/// A time as WebVTT writes it: `hh:mm:ss.mmm`.
fn stamp(time: Millis) -> String {
    let (seconds, rest) = (time / 1000, time % 1000);
    let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
    format!("{hours:02}:{minutes:02}:{:02}.{rest:03}", seconds % 60)
}
