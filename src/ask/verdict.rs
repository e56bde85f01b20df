//! The verdict on a move, from the moves that the lesson holds there and the author's signs.

use crate::lesson::{Attempt, Lesson, NodeId, Reason, Tried, find_position};
use crate::notation::comment::passage::Paragraph;
use shakmaty::Move;

/// The verdict on a try at a position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// A choice, or accepted, or in another order one of the moves asked for.
    Right {
        /// The node that it leads to, where the lesson holds it.
        node: Option<NodeId>,
    },
    /// In the lesson, not marked weak, and not the choice.
    Fair {
        /// The node that it leads to.
        node: NodeId,
    },
    /// In the lesson and marked `?`, `??` or `?!`.
    Weaker {
        /// The node that it leads to; what follows on its line refutes it.
        node: NodeId,
    },
    /// Legal, and not in the lesson at this node.
    Other {
        /// The first node of the position that it leads to, if the lesson has it elsewhere. Two
        /// positions are the same when the first four fields of their FEN agree.
        stands: Option<NodeId>,
    },
    /// Not legal.
    Illegal {
        /// Why.
        reason: Reason,
    },
}

impl Verdict {
    /// The verdict's word, as scripts read it.
    pub fn word(&self) -> &'static str {
        match self {
            Verdict::Right { .. } => "right",
            Verdict::Fair { .. } => "fair",
            Verdict::Weaker { .. } => "weaker",
            Verdict::Other { .. } => "other",
            Verdict::Illegal { .. } => "illegal",
        }
    }
}

/// A move that is right at a position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Answer<'a> {
    /// The move.
    pub played: Move,
    /// The move in English SAN.
    pub san: &'a str,
    /// The node that it leads to, where the lesson holds it.
    pub node: Option<NodeId>,
    /// When to choose it, in the author's words; none if its move is no written choice.
    pub condition: Option<Paragraph<'a>>,
}

/// The moves that are right at a node: these where there are any, else the node's choices. Each
/// once, in the order written. A pass is never one.
pub fn answers<'a>(lesson: &'a Lesson, node: NodeId, accepted: &'a [Tried]) -> Vec<Answer<'a>> {
    let mut list: Vec<Answer> = Vec::new();
    let mut add = |played: Option<Move>, san: &'a str, node: Option<NodeId>| {
        let Some(played) = played.filter(|&it| list.iter().all(|known| known.played != it)) else {
            return;
        };
        list.push(Answer {
            played,
            san,
            node,
            condition: node.and_then(|node| lesson.node(node).choice()),
        });
    };
    if accepted.is_empty() {
        for id in lesson.choices(node) {
            let choice = lesson.node(id);
            add(choice.played, &choice.san, Some(id));
        }
    }
    for tried in accepted {
        add(tried.played, &tried.san, held(lesson, node, tried.played));
    }
    list
}

/// The next node that this move leads to.
pub fn held(lesson: &Lesson, node: NodeId, played: Option<Move>) -> Option<NodeId> {
    let moves = &lesson.node(node).children;
    let is_it = |&&id: &&NodeId| lesson.node(id).played == played;
    moves.iter().find(is_it).copied()
}

/// The verdict on a try at a node where these moves are right, or the node's choices if there are
/// none. None for a try that is no move: an unknown word, a pawn that has not yet become a piece, a
/// pass, which shows a threat and answers nothing.
pub fn verdict(
    lesson: &Lesson,
    node: NodeId,
    accepted: &[Tried],
    attempt: &Attempt,
) -> Option<Verdict> {
    let tried = match attempt {
        Attempt::Refused(reason) => {
            let reason = reason.clone();
            return Some(Verdict::Illegal { reason });
        }
        Attempt::Promotes | Attempt::NoMove => return None,
        Attempt::Played(tried) => tried,
    };
    let played = tried.played?;
    for answer in answers(lesson, node, accepted) {
        if answer.played == played {
            return Some(Verdict::Right { node: answer.node });
        }
    }
    Some(match held(lesson, node, tried.played) {
        Some(node) if lesson.is_weak(node) => Verdict::Weaker { node },
        Some(node) => Verdict::Fair { node },
        None => Verdict::Other {
            stands: find_position(lesson, &tried.position),
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::attempt_word;
    use crate::lesson::given::lesson;
    use crate::notation::Letters;

    fn tried(lesson: &Lesson, node: NodeId, word: &str) -> Attempt {
        attempt_word(&lesson.node(node).position, word, Letters::ENGLISH)
    }

    fn said(lesson: &Lesson, node: NodeId, word: &str) -> Option<Verdict> {
        verdict(lesson, node, &[], &tried(lesson, node, word))
    }

    /// 1 e4, 2 e5, 3 Nf3, 4 Nc6; 5 f4?! with 6 exf4 and 7 Nf3; 8 Nc3 with 9 Nf6.
    const TEXT: &str =
        "1. e4 e5 2. Nf3 (2. f4?! exf4 3. Nf3) (2. Nc3 Nf6 3. Nf3) 2... Nc6 3. Nc3 *";

    #[test]
    fn each_move_has_its_verdict() {
        let lesson = lesson(TEXT);
        let at = 2;
        let node = |san: &str| {
            let mut moves = lesson.moves(at);
            moves.find(|&id| lesson.node(id).san == san).expect("held")
        };
        assert_eq!(
            said(&lesson, at, "Nf3"),
            Some(Verdict::Right {
                node: Some(node("Nf3"))
            })
        );
        assert_eq!(
            said(&lesson, at, "Nc3"),
            Some(Verdict::Fair { node: node("Nc3") })
        );
        assert_eq!(
            said(&lesson, at, "f4"),
            Some(Verdict::Weaker { node: node("f4") })
        );
        assert_eq!(
            said(&lesson, at, "d4"),
            Some(Verdict::Other { stands: None })
        );
        let illegal = said(&lesson, at, "Nd4").expect("a verdict");
        assert_eq!(illegal.word(), "illegal");
    }

    #[test]
    fn what_is_no_move_has_no_verdict() {
        let lesson = lesson(TEXT);
        for word in ["hello", "--", ""] {
            assert_eq!(said(&lesson, 2, word), None, "{word}");
        }
        assert_eq!(verdict(&lesson, 2, &[], &Attempt::Promotes), None);
    }

    #[test]
    fn a_move_that_comes_to_a_position_of_another_line_says_where() {
        let lesson = lesson("1. d4 d5 (1... Nf6 2. c4 e6) 2. c4 e6 *");
        // After 1...Nf6 2.c4 the move d5 is not held; nor is 2...Nf6 after 1...d5 2.c4.
        let at = crate::lesson::locate(&lesson, "1.d4 d5 2.c4").expect("one");
        assert_eq!(
            said(&lesson, at, "Nf6"),
            Some(Verdict::Other { stands: None })
        );
        let lesson = self::lesson("1. d4 d5 (1... Nf6 2. c4 d5 3. Nc3) 2. c4 e6 *");
        let at = crate::lesson::locate(&lesson, "1.d4 d5 2.c4").expect("one");
        let there = crate::lesson::locate(&lesson, "Nf6 2.c4 d5").expect("one");
        assert_eq!(
            said(&lesson, at, "Nf6"),
            Some(Verdict::Other {
                stands: Some(there)
            })
        );
    }

    #[test]
    fn accepted_moves_are_right_in_place_of_the_choices_even_if_marked_weak() {
        let lesson = lesson(TEXT);
        let accepted: Vec<Tried> = ["f4", "d4"]
            .into_iter()
            .filter_map(|word| match tried(&lesson, 2, word) {
                Attempt::Played(tried) => Some(tried),
                _ => None,
            })
            .collect();
        let word = |move_word| {
            let said = verdict(&lesson, 2, &accepted, &tried(&lesson, 2, move_word));
            said.expect("a verdict").word()
        };
        assert_eq!(
            ["f4", "d4", "Nf3", "Nc3"].map(word),
            ["right", "right", "fair", "fair"]
        );
        let list = answers(&lesson, 2, &accepted);
        assert_eq!(
            list.iter().map(|it| it.node.is_some()).collect::<Vec<_>>(),
            [true, false]
        );
    }

    #[test]
    fn the_right_moves_come_with_their_conditions_each_once_and_without_passes() {
        let lesson = lesson(
            "1. e4 {Choose: for open games} (1. d4 {Choose:}) (1. d4 {Choose: again}) (1. -- {Choose:}) *",
        );
        let list = answers(&lesson, 0, &[]);
        let list: Vec<_> = list
            .iter()
            .map(|it| {
                (
                    it.san,
                    it.condition.map(Paragraph::text).unwrap_or_default(),
                )
            })
            .collect();
        assert_eq!(list, [("e4", "for open games"), ("d4", "")]);
        let threat = self::lesson("1. e4 e5 2. -- (2. Nf3) *");
        assert_eq!(answers(&threat, 2, &[])[0].san, "Nf3");
    }
}
