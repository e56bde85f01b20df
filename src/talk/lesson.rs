//! What is there before the talk: the moves of `--from`, or a lesson.

use super::draft::Draft;
use super::reading::{Act, Before, Hint, PlaceId, Places, Read};
use super::words::Saying;
use crate::lesson::{Lesson, beginning};
use crate::notation::comment::clock::Millis;
use crate::notation::comment::hear::passages;

/// The places of moves or of a FEN, and the last of them.
///
/// # Errors
/// The word that cannot be played, or what is wrong with the FEN.
pub fn from(text: &str) -> Result<(Places, PlaceId), String> {
    let (start, moves) = beginning(text)?;
    let mut places = Places::new(start);
    let mut at = 0;
    for played in moves {
        at = places.give(at, played);
    }
    Ok((places, at))
}

/// What is there before a talk: places, a draft that holds them, where it begins, and where it may be.
pub struct Beginning {
    /// All places.
    pub places: Places,
    /// The draft.
    pub draft: Draft,
    /// Where the talk begins, and the places of the lesson.
    pub before: Before,
    /// When the draft heard a place, in the order of the times.
    times: Vec<(Millis, PlaceId)>,
}

/// That of moves or a FEN.
///
/// # Errors
/// As those of [`from`].
pub fn of_moves(text: &str) -> Result<Beginning, String> {
    let (places, begin) = from(text)?;
    let mut draft = Draft::new(0);
    draft.node(&places, begin, true);
    let before = Before {
        begin,
        ..Before::default()
    };
    Ok(Beginning {
        places,
        draft,
        before,
        times: Vec::new(),
    })
}

/// That of a lesson, in which the talk begins after these moves. A pass and what follows it are left out, for nobody
/// says one.
///
/// # Errors
/// As those of [`from`].
pub fn of_lesson(lesson: &Lesson, text: &str) -> Result<Beginning, String> {
    let start = lesson.nodes.first().map(|it| it.position.clone());
    let mut places = Places::new(start.unwrap_or_default());
    let mut draft = Draft::new(0);
    let mut numbers: Vec<Option<PlaceId>> = Vec::new();
    let mut times = Vec::new();
    for node in &lesson.nodes {
        let before = node
            .parent
            .and_then(|it| numbers.get(it as usize).copied().flatten());
        let place = match (node.parent, before, node.played) {
            (None, ..) => Some(0),
            (Some(_), Some(before), Some(played)) => Some(places.give(before, played)),
            _ => None,
        };
        numbers.push(place);
        let Some(place) = place else {
            continue;
        };
        let at = draft.node(&places, place, true);
        let own = &mut draft.nodes[at]; // just made
        for comment in node.comments.iter() {
            let listed = comment.text().split("\n\n").filter_map(passages);
            times.extend(listed.flatten().map(|it| (it.from, place)));
        }
        own.comments.extend(
            node.comments
                .iter()
                .filter_map(|it| without_times(it.text())),
        );
        own.before
            .extend(node.before.iter().map(|it| it.text().to_owned()));
        own.nags.extend(node.nags.iter().copied());
    }
    let (from, last) = from(text)?;
    let mut begin = 0;
    if from.position(0) == places.position(0) {
        for pair in from.path(last).windows(2) {
            if let Some(played) = from.played(pair[1]) {
                begin = places.give(begin, played); // windows of two
            }
        }
    }
    draft.node(&places, begin, true);
    times.sort_unstable();
    Ok(Beginning {
        places,
        draft,
        before: Before {
            begin,
            given: numbers.into_iter().flatten().collect(),
            hints: Vec::new(),
        },
        times,
    })
}

/// How far a time of a draft may be from that of a saying, which is rounded, in milliseconds.
const ABOUT: Millis = 1_500;

impl Beginning {
    /// Learns from a draft with times what its author has mended: `first` is what was read without it, at other
    /// `places`.
    pub fn learn(&mut self, sayings: &[Saying], first: &Read, others: &Places) {
        for (saying, act) in sayings.iter().zip(&first.acts) {
            let from = self.times.partition_point(|it| it.0 + ABOUT < saying.at);
            let near = self.times.iter().skip(from);
            let near = near.take_while(|it| it.0 <= saying.at + ABOUT);
            let mut hint = Hint {
                heard: near.map(|it| it.1).collect(),
                dropped: Vec::new(),
            };
            if let Act::Play { to, .. } = act {
                let mut at = 0;
                for id in others.path(*to).into_iter().skip(1) {
                    if let Some(played) = others.played(id) {
                        at = self.places.child(at, played);
                    }
                }
                if !self.places.is_given(at) {
                    hint.dropped.push(at);
                }
            }
            self.before.hints.push(hint);
        }
    }
}

/// Whether a lesson has times already, as a draft has.
pub fn has_times(lesson: &Lesson) -> bool {
    let mut nodes = lesson.nodes.iter();
    nodes.any(|node| {
        let mut comments = node.comments.iter();
        comments.any(|it| it.text().split("\n\n").any(is_times))
    })
}

/// Whether a paragraph lists passages of a talk: `Hear: 4:27-4:58, 12:03`.
fn is_times(paragraph: &str) -> bool {
    passages(paragraph).is_some()
}

fn without_times(comment: &str) -> Option<String> {
    let rest: Vec<&str> = comment.split("\n\n").filter(|it| !is_times(it)).collect();
    let text = rest.join("\n\n");
    (!text.trim().is_empty()).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passages_are_times_with_or_without_an_end() {
        for text in ["Hear: 4:27-4:58, 12:03", "Hear: 1:04:27", "Hear: 4:27.5"] {
            assert!(is_times(text), "{text}");
        }
        for text in ["Hear: me", "Hear:", "Here: 4:27", "Hear: 4:27 and on"] {
            assert!(!is_times(text), "{text}");
        }
    }

    #[test]
    fn moves_and_a_fen_say_where_a_talk_begins() {
        let (places, at) = from("1.e4 c5 2. Nf3 d6").expect("moves");
        assert_eq!(places.ply(at), 4);
        let fen = "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1";
        assert_eq!(from(fen).expect("a FEN").1, 0);
        assert_eq!(
            from("1.e4 Ke4").err().as_deref(),
            Some("Ke4 cannot be played there")
        );
        assert!(from("nonsense").is_err());
    }
}
