//! Where a talk speaks of a position: `Hear: 4:27-4:58, 12:03`, a paragraph of a comment (design, section 17).

use super::clock::clock;

/// The word with which such a paragraph begins.
pub const WORD: &str = "Hear:";

/// A passage of a talk, in thousandths of a second from its beginning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passage {
    pub from: u64,
    /// None where it lasts to the next time that the lesson names.
    pub to: Option<u64>,
}

/// The passages of a paragraph in its order, the one that explains the position first; none where it is written otherwise,
/// or a passage ends before it begins.
pub fn passages(paragraph: &str) -> Option<Vec<Passage>> {
    let rest = paragraph.trim().strip_prefix(WORD)?.trim_end();
    let rest = rest.strip_suffix('.').unwrap_or(rest);
    rest.split(',').map(passage).collect()
}

fn passage(text: &str) -> Option<Passage> {
    let (from, to) = match text.split_once(['-', '\u{2013}']) {
        Some((from, to)) => (from, Some(time(to.trim())?)),
        None => (text, None),
    };
    let from = time(from.trim())?;
    (to.is_none_or(|to| to > from)).then_some(Passage { from, to })
}

/// A time and nothing else.
fn time(text: &str) -> Option<u64> {
    clock(text)
        .filter(|(_, length)| *length == text.len())
        .map(|it| it.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passages_have_a_beginning_and_may_have_an_end() {
        let all = passages(" Hear: 4:27-4:58, 12:03, 1:04:27 – 1:05:00.5 ").expect("passages");
        let times: Vec<(u64, Option<u64>)> = all.iter().map(|it| (it.from, it.to)).collect();
        assert_eq!(
            times,
            [
                (267_000, Some(298_000)),
                (723_000, None),
                (3_867_000, Some(3_900_500))
            ]
        );
    }

    #[test]
    fn what_is_no_time_makes_no_passage() {
        for text in [
            "Hear: me",
            "Hear:",
            "Here: 4:27",
            "Hear: 4:27 and on",
            "Hear: 4:70",
            "Hear: 4:7",
            "Hear: 427",
            "Hear: 4:58-4:27",
            "Hear: 1:2:3:4",
            "Hear: 99999999999999999999:00",
        ] {
            assert_eq!(passages(text), None, "{text}");
        }
    }
}
