//! From a talk to a lesson: captions in which moves are spoken become a draft, each move with its time, and a list of
//! what is doubtful.
//!
//! Captions become words with times (`captions`), words become sayings, each a move that is named with what the words
//! about it tell (`words`), sayings become a tree by weighing readings against each other (`reading`, by the numbers in
//! `weights`). What was told is the `draft`, with the sentences, conditions and signs that were `spoken`; it is
//! `written` as PGN; what else a saying may mean is a list of `doubts`. A lesson that is there already is read by
//! `lesson`, and the times of one become `chapters` of its recording.

mod captions;
pub mod chapters;
mod doubts;
mod draft;
mod guess;
mod lesson;
mod reading;
mod shape;
mod spoken;
mod weights;
mod words;
mod written;

pub use doubts::{Candidate, Doubt};
pub use spoken::Comments;
pub use words::Language;

use self::draft::Draft;
use crate::lesson::Lesson;
use crate::text::{Code, Finding, Findings, Source, Span};

/// Where a talk begins, and what is there before it.
#[derive(Clone, Copy)]
pub enum Given<'a> {
    /// Moves or a FEN; no moves for the usual start.
    From(&'a str),
    /// A lesson: what stands in it is right. With the same as `From`, where the talk begins.
    Lesson(&'a Lesson, &'a str),
}

/// What is asked of a talk.
#[derive(Clone, Copy)]
pub struct Wanted<'a> {
    /// Where it begins.
    pub given: Given<'a>,
    /// Which words become comments.
    pub comments: Comments,
    /// Its language.
    pub language: &'static Language,
    /// What the draft is called; none keeps the name of the lesson.
    pub title: &'a str,
}

/// What was made of a talk.
#[derive(Clone, Debug)]
pub struct Listened {
    /// The draft as PGN; none where nothing was understood.
    pub draft: Option<String>,
    /// What is amiss with the captions.
    pub findings: Findings,
    /// What is doubtful, the gravest first.
    pub doubts: Vec<Doubt>,
}

/// Listens to a talk, given its captions.
///
/// # Errors
/// What is wrong with the moves or the FEN of its beginning.
pub fn listen(source: &Source, wanted: &Wanted<'_>) -> Result<Listened, String> {
    let (cues, mut findings) = captions::read(source.text());
    let words = captions::words(&cues);
    let said = words::sayings(words, wanted.language);
    let beginning = match wanted.given {
        Given::From(text) => lesson::of_moves(text)?,
        Given::Lesson(given, text) => {
            let mut beginning = lesson::of_lesson(given, text)?;
            if lesson::has_times(given) {
                // What was in the draft and is not any more was taken out by its author.
                let mut first = lesson::of_moves(text)?;
                let read = reading::read(&mut first.places, &first.before, &said.sayings);
                beginning.learn(&said.sayings, &read, &first.places);
            }
            beginning
        }
    };
    // One that was written, and not drafted here, gets times and no words.
    let is_written = matches!(wanted.given, Given::Lesson(lesson, _) if !lesson::has_times(lesson));
    let lesson::Beginning {
        mut places,
        mut draft,
        before,
        ..
    } = beginning;
    let read = reading::read(&mut places, &before, &said.sayings);
    if let Some(finding) = doubts::in_part(&said, &read) {
        findings.push(finding);
    }
    draft.tell(&places, &said, &read);
    if !is_written {
        let (language, comments) = (wanted.language, wanted.comments);
        spoken::add(&mut draft, &places, &said, &read, language, comments);
    }
    let heard = doubts::Heard {
        said: &said,
        read: &read,
        places: &places,
        draft: &draft,
    };
    if !heard.understood() {
        let message = match (cues.is_empty(), said.sayings.len()) {
            (true, _) => "this text has no captions: no line of it has a time",
            (false, 0) => "in this talk no move is named",
            _ => "in this talk moves are named, and none can be played where it begins",
        };
        let mut finding = Finding::new(Code::NothingHeard, Span::default(), message.to_owned());
        finding.help = Some(match cues.is_empty() {
            true => "captions are WebVTT, SubRip, or text with stamps such as [4:27]".to_owned(),
            false => "say where the talk begins (--from), and in which language it is (--lang)"
                .to_owned(),
        });
        findings.push(finding);
        return Ok(Listened {
            draft: None,
            findings,
            doubts: heard.start().into_iter().collect(),
        });
    }
    let mut list: Vec<Doubt> = heard.start().into_iter().collect();
    match is_written {
        true => {
            list.extend(heard.not_written());
            list.extend(heard.not_said());
        }
        false => list.extend(heard.doubts()),
    }
    list.sort_by_key(|it| std::cmp::Reverse(it.behind));
    let tags = tags(wanted);
    let text = match is_written {
        true => written::pgn(&only_given(&draft), &places, &tags),
        false => written::pgn(&draft, &places, &tags),
    };
    Ok(Listened {
        draft: Some(text),
        findings,
        doubts: list,
    })
}

/// The tags of the draft.
fn tags(wanted: &Wanted<'_>) -> Vec<(String, String)> {
    match wanted.given {
        Given::From(_) => vec![(
            "Event".to_owned(),
            format!("Draft, heard in {}", wanted.title),
        )],
        Given::Lesson(lesson, _) => {
            let tags = lesson.tags.iter();
            tags.map(|(name, value)| (name.as_str().to_owned(), value.as_str().to_owned()))
                .collect()
        }
    }
}

/// The draft without what was not there before the talk.
fn only_given(draft: &Draft) -> Draft {
    let mut only = draft.clone();
    for node in &mut only.nodes {
        node.children.retain(|it| draft.nodes[*it].given); // numbers of its nodes
    }
    only
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_talk_of_too_many_positions_is_heard_in_part_and_says_from_when_on_it_is_not() {
        let talk =
            "[0:01] e4 e5, knight f3, knight c6.\n[1:00] bishop b5, a6, bishop a4, knight f6.\n";
        let (cues, _) = captions::read(talk);
        let language = Language::of("en").expect("English");
        let said = words::sayings(captions::words(&cues), language);
        let read = |most| {
            let mut first = lesson::of_moves("").expect("the start");
            reading::read_within(&mut first.places, &first.before, &said.sayings, most)
        };
        assert_eq!(doubts::in_part(&said, &read(1_000)), None);
        let short = read(12);
        assert!((1..8).contains(&short.acts.len()), "{:?}", short.acts);
        assert_eq!(short.acts.len(), short.others.len());
        let finding = doubts::in_part(&said, &short).expect("a finding");
        assert_eq!(finding.code, Code::HeardInPart);
        assert!(
            finding.message.contains("is heard up to"),
            "{}",
            finding.message
        );
    }
}
