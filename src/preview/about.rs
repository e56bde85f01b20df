//! What stands at a position of a lesson, for its author who is there.

use super::form::lesson_of;
use super::told::find;
use crate::edit::link;
use crate::lesson::{Lesson, NodeId};
use shakmaty::Position;

/// What there is at a position.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// Its comments as they are written, in their order, those before a line's first move too.
    pub comments: Vec<String>,
    /// How many of them come before the move.
    pub before: usize,
    pub nags: Vec<u8>,
    /// Whether its line is a variation, which can be lifted.
    pub lifts: bool,
    /// The other places of the lesson with the same position.
    pub same: Vec<Same>,
}

/// Another place with the same position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Same {
    /// The moves that lead there from the start.
    pub at: Vec<String>,
    /// How it is called: `5.d4, line B`.
    pub name: String,
    /// The sentence that says so with a link; none where a comment of one of the two leads to the other.
    pub said: Option<String>,
}

/// What is at the position that a run of moves leads to in the lesson of a text; none where it leads nowhere.
pub fn about(text: &str, at: &[String]) -> Option<About> {
    let lesson = lesson_of(text).0?;
    let id = find(&lesson, at)?;
    let node = lesson.node(id);
    let mut nags = node.nags.clone();
    nags.sort_unstable();
    Some(About {
        comments: (node.before.iter())
            .chain(node.comments.iter())
            .map(|it| it.text().to_owned())
            .collect(),
        before: node.before.len(),
        nags,
        lifts: !lesson.label(id).is_empty(),
        same: twins(&lesson, id)
            .into_iter()
            .map(|it| same(&lesson, id, it))
            .collect(),
    })
}

/// The other nodes with the position of this one. Each pair of `Lesson::same` begins with the first of them.
fn twins(lesson: &Lesson, id: NodeId) -> Vec<NodeId> {
    let first = lesson.same.iter().find(|pair| pair.0 == id || pair.1 == id);
    let Some(&(first, _)) = first else {
        return Vec::new();
    };
    let others = lesson.same.iter().filter(|pair| pair.0 == first);
    let all = std::iter::once(first).chain(others.map(|pair| pair.1));
    all.filter(|&it| it != id).collect()
}

fn same(lesson: &Lesson, here: NodeId, there: NodeId) -> Same {
    let start = &lesson.node(0).position;
    let start = (start.turn(), start.fullmoves().get());
    let sentence = link(start, &lesson.run(there));
    let back = link(start, &lesson.run(here));
    let leads = |node: NodeId, sentence: &str| {
        let place = sentence
            .split(['(', ')'])
            .nth(1)
            .unwrap_or_default()
            .to_owned();
        let mut comments = lesson.node(node).comments.iter();
        comments.any(|it| it.text().contains(&format!("({place})")))
    };
    let is_said = leads(here, &sentence) || leads(there, &back);
    let name = match (there, lesson.label(there)) {
        (0, _) => "the start".to_owned(),
        (_, "") => format!("{}, main line", lesson.numbered(there)),
        (_, line) => format!("{}, line {line}", lesson.numbered(there)),
    };
    Same {
        at: lesson.run(there),
        name,
        said: (!is_said).then_some(sentence),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "1. d4 d5 2. c4 {First. } {Second.} e6 (2... c6 3. Nf3 Nf6 4. Nc3) 3. Nc3 c6 4. Nf3 Nf6! (4... f5) *";

    fn run(moves: &str) -> Vec<String> {
        moves.split(' ').map(str::to_owned).collect()
    }

    #[test]
    fn comments_are_as_they_are_written_and_signs_in_their_order() {
        let there = about(TEXT, &run("d4 d5 c4")).expect("a place");
        assert_eq!(there.comments.len(), 2);
        assert_eq!(
            about(TEXT, &run("d4 d5 c4 e6 Nc3 c6 Nf3 Nf6"))
                .expect("a place")
                .nags,
            [1]
        );
        assert_eq!(about(TEXT, &run("e4")), None);
    }

    #[test]
    fn the_same_position_elsewhere_is_named_until_a_comment_says_so() {
        let text = "1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) 3. Nc3 Nf6 *";
        let there = about(text, &run("d4 d5 c4 e6 Nc3 Nf6")).expect("a place");
        let [same] = &there.same[..] else {
            panic!("{there:?}");
        };
        assert_eq!(
            (same.name.as_str(), &same.at),
            ("3...e6, line A", &run("d4 d5 c4 Nf6 Nc3 e6"))
        );
        let said = same.said.clone().expect("nobody has said so");
        let text = text.replace("3. Nc3 Nf6 *", &format!("3. Nc3 Nf6 {{{said}}} *"));
        for at in ["d4 d5 c4 e6 Nc3 Nf6", "d4 d5 c4 Nf6 Nc3 e6"] {
            assert_eq!(
                about(&text, &run(at)).expect("a place").same[0].said,
                None,
                "{at}"
            );
        }
    }
}
