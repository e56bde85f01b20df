//! A still diagram: a board to look at, its caption, and all of it in words.

use super::board::{Board, board, placed};
use super::moves::{MoveView, move_view};
use crate::lesson::diagram::Placement;
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::mark::Mark;
use crate::text::Listed;
use crate::view::words::{Word, Words};
use crate::view::{State, wording};
use shakmaty::{Color, Position};

/// A still diagram.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagram {
    /// The board.
    pub board: Board,
    /// What it shows, in words: the pieces and what is marked.
    pub description: String,
    /// What is below it.
    pub caption: Caption,
}

/// What is below a diagram.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Caption {
    /// Only the pieces of the position are known.
    None,
    /// Whose turn it is.
    Turn(String),
    /// The start of a lesson, and whose turn it is, after a comma.
    Start(String),
    /// The move before it, and whose turn it is or how it ended, after a comma.
    After(MoveView, String),
    /// The author's words, which the element holds.
    Own,
}

/// A position of a lesson, none beyond an open question. Without marks of its own the diagram shows
/// those of the comment there, of a question's comment those of the prompt, because the rest may give
/// the answer away.
pub fn diagram(
    words: &Words,
    lesson: &Lesson,
    node: NodeId,
    side: Color,
    marks: Option<Vec<Mark>>,
) -> Diagram {
    of_state(words, lesson, &State::new(lesson, node, side), marks)
}

/// The same of any position, for a text that is not shown before its question is answered.
pub(super) fn told(words: &Words, lesson: &Lesson, node: NodeId, side: Color) -> Diagram {
    of_state(words, lesson, &State::at_node(lesson, node, side), None)
}

fn of_state(words: &Words, lesson: &Lesson, state: &State, marks: Option<Vec<Mark>>) -> Diagram {
    let position = &lesson.node(state.node).position;
    let mut board = board(lesson, state);
    if let Some(marks) = marks {
        board.marks = marks;
    } else if let Some(ask) = lesson.node(state.node).ask() {
        board.marks = ask.prompt.marks();
    }
    let turn = wording::turn(words, position).to_owned();
    Diagram {
        description: described(words, position.board(), &board.marks),
        caption: match lesson.node(state.node).parent {
            Some(_) => Caption::After(move_view(words, lesson, state.node, true), turn),
            None => Caption::Start(turn),
        },
        board,
    }
}

/// A placement that belongs to no lesson.
pub fn placed_diagram(
    words: &Words,
    placement: &Placement,
    side: Color,
    marks: Vec<Mark>,
) -> Diagram {
    let description = described(words, &placement.board, &marks);
    let turn = placement.turn.map(|turn| {
        let turn = turn.fold_wb(Word::WhiteToMove, Word::BlackToMove);
        // It begins the caption here, and elsewhere it follows a comma.
        let turn = words.get(turn);
        turn.trim_start_matches([',', '\u{60c}', '\u{3001}', '\u{ff0c}', ' '])
            .to_owned()
    });
    Diagram {
        board: Board {
            check: placement.check,
            marks,
            ..placed(&placement.board, side)
        },
        description,
        caption: turn.map_or(Caption::None, Caption::Turn),
    }
}

/// Pieces and marks in words.
fn described(words: &Words, board: &shakmaty::Board, marks: &[Mark]) -> String {
    let text = wording::describe_board(words, board);
    let said = wording::marks_said(words, &text, &marks.iter().listed());
    text + &said
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::diagram::read;
    use crate::lesson::given::lesson;
    use crate::text::{Findings, Source};

    fn placed_text(text: &str) -> Diagram {
        let source = Source::new("a", text);
        let (placement, marks) = read(&source, &mut Findings::default());
        let placement = placement.expect("a placement");
        placed_diagram(&Words::default(), &placement, Color::White, marks)
    }

    #[test]
    fn a_placement_is_described_by_its_pieces_and_its_marks() {
        let shown = placed_text("8/5k2/8/8/3P4/8/4K3/8\nc5 !e4 ?b4-b5");
        assert_eq!(
            shown.description,
            "White: king e2, pawn d4; Black: king f7. \
             Marked: c5; e4, a strong square; the arrow from b4 to b5, a plan to stop"
        );
        assert_eq!(shown.board.marks.len(), 3);
    }

    #[test]
    fn a_side_without_pieces_is_not_spoken_of() {
        assert_eq!(
            placed_text("8/8/8/3n4/8/8/8/8").description,
            "Black: knight d5"
        );
        assert_eq!(
            placed_text("8/8/8/3N4/8/8/8/8").description,
            "White: knight d5"
        );
        assert_eq!(placed_text("8/8/8/8/8/8/8/8").description, "an empty board");
    }

    #[test]
    fn a_caption_says_no_more_than_is_known() {
        assert_eq!(placed_text("8/8/8/8/8/8/8/8").caption, Caption::None);
        assert_eq!(
            placed_text("8/8/8/8/8/8/8/8 b").caption,
            Caption::Turn("Black to move".to_owned())
        );
    }

    #[test]
    fn a_position_of_a_lesson_has_the_caption_of_the_lessons_own_board() {
        let lesson = lesson("1. f3 {Weakens @?e1.} e5 2. g4 Qh4# *");
        let shown = |node| diagram(&Words::default(), &lesson, node, Color::White, None);
        assert_eq!(
            shown(0).caption,
            Caption::Start(", White to move".to_owned())
        );
        let Caption::After(last, turn) = shown(4).caption else {
            panic!("{:?}", shown(4).caption);
        };
        assert_eq!((last.san.as_str(), turn.as_str()), ("Qh4#", ", checkmate"));
        assert!(shown(1).description.ends_with("Marked: e1, a weak square"));
        assert!(shown(4).board.check.is_some());
    }

    #[test]
    fn marks_of_its_own_stand_in_the_place_of_the_comments() {
        let lesson = lesson("1. f3 {Weakens @?e1.} e5 *");
        let marks = |marks| {
            diagram(&Words::default(), &lesson, 1, Color::White, marks)
                .board
                .marks
                .len()
        };
        assert_eq!((marks(None), marks(Some(Vec::new()))), (1, 0));
    }

    #[test]
    fn the_answer_to_a_question_is_not_marked() {
        let lesson = lesson("1. e4 {Ask: Where is @c5? Because: it is @!e5 that counts.} e5 *");
        let shown = diagram(&Words::default(), &lesson, 1, Color::White, None);
        let marks: Vec<String> = shown.board.marks.iter().map(Mark::text).collect();
        assert_eq!(marks, ["c5"]);
    }

    #[test]
    fn beyond_an_open_question_there_is_a_diagram_only_in_the_text_of_its_answer() {
        let lesson = lesson("1. e4 {Ask: What now?} e5 2. Nf3 *");
        let words = Words::default();
        let last = |shown: Diagram| match shown.caption {
            Caption::After(last, _) => last.san,
            _ => String::new(),
        };
        assert_eq!(last(diagram(&words, &lesson, 3, Color::White, None)), "e4");
        assert_eq!(last(told(&words, &lesson, 3, Color::White)), "Nf3");
    }
}
