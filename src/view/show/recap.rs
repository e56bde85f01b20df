//! The recap: the moves of one side and what they answer, a row for each decision, as a teacher
//! would write it on a card.

use super::moves::{MoveView, move_view};
use crate::lesson::place::address::address;
use crate::lesson::prose::Place;
use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::notation::comment::keyword::Lead;
use crate::notation::comment::passage::{Paragraph, Passage};
use crate::text::{limits, split, typeset};
use crate::view::words::Words;
use crate::view::words::sentence::first_sentence;
use shakmaty::{Color, Position};

/// The card of one side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recap {
    /// The side whose choices it holds.
    pub side: Color,
    /// In the order of the text; at most [`limits::RECAP_ROWS`].
    pub rows: Vec<Row>,
    /// Whether there were more.
    pub is_cut: bool,
}

/// A position in which something is decided, or asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The position.
    pub node: NodeId,
    /// The moves that lead to it from its parent row; none at the start.
    pub run: Vec<MoveView>,
    /// The run that names it in an address; empty for the start.
    pub address: String,
    /// What the row says.
    pub says: Says,
}

/// What a row says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Says {
    /// What the side plays; never empty.
    Choices(Vec<Choice>),
    /// What is asked there. The answer and what follows it are not on the card.
    Question(String),
}

/// A move that the author recommends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The move.
    pub shown: MoveView,
    /// When to choose it; empty without a condition.
    pub condition: String,
    /// What the author says of it in short, else the first whole thought of its comment; empty if
    /// there is none.
    pub words: String,
}

/// The recap of a lesson for one side: the lines in which that side plays only its choices and the
/// other side anything that the lesson holds, but no passes, because they only show a threat. If
/// the side has one next move without a comment, nothing is decided: the move joins the run that
/// leads to the next row. Nothing after a question that `is_open` is included.
pub fn recap(
    words: &Words,
    lesson: &Lesson,
    side: Color,
    is_open: impl Fn(NodeId) -> bool,
) -> Recap {
    let mut rows = Vec::new();
    let mut is_cut = false;
    // The nodes still to be visited, the first at the end, each with the position of its last row.
    let mut waiting = vec![(0, 0)];
    while let Some((id, last)) = waiting.pop() {
        let node = lesson.node(id);
        let mut next = node.children.to_vec();
        let says = if let Some(ask) = node.ask().filter(|_| is_open(id)) {
            next.clear();
            Some(Says::Question(plain(&ask.prompt)))
        } else if node.position.turn() == side {
            next = lesson.choices(id);
            decision(words, lesson, id, &next)
        } else {
            None
        };
        let from = if says.is_some() { id } else { last };
        if let Some(says) = says {
            is_cut = rows.len() >= limits::RECAP_ROWS;
            if is_cut {
                break;
            }
            rows.push(row(words, lesson, last, id, says));
        }
        for &id in next.iter().rev() {
            if lesson.node(id).played.is_some() {
                waiting.push((id, from));
            }
        }
    }
    Recap { side, rows, is_cut }
}

/// What the side plays at a node; none if it has one move without a comment.
fn decision(words: &Words, lesson: &Lesson, id: NodeId, chosen: &[NodeId]) -> Option<Says> {
    let mut choices = Vec::new();
    let mut is_decided = lesson.is_branch_point(id);
    for &id in chosen {
        let choice = choice(words, lesson, id);
        is_decided |= lesson.node(id).choice().is_some() || is_commented(lesson, id);
        choices.push(choice);
    }
    (is_decided && !choices.is_empty()).then_some(Says::Choices(choices))
}

fn row(words: &Words, lesson: &Lesson, last: NodeId, node: NodeId, says: Says) -> Row {
    let mut run = Vec::new();
    let mut at = node;
    while at != last {
        let before = lesson.node(at).parent.unwrap_or(last); // `last` is on the way
        run.push(move_view(words, lesson, at, before == last));
        at = before;
    }
    run.reverse();
    Row {
        node,
        run,
        address: address(lesson, &Place::of(node)),
        says,
    }
}

fn choice(words: &Words, lesson: &Lesson, id: NodeId) -> Choice {
    let node = lesson.node(id);
    Choice {
        shown: move_view(words, lesson, id, true),
        condition: node.choice().map(Paragraph::words).unwrap_or_default(),
        words: typeset(&reason(&node.comments)),
    }
}

/// How many words make a sentence say enough to stand alone on a card.
const THOUGHT: usize = 4;

/// What the recap says of a move. What is in a question's comment or after it belongs to the
/// question.
fn reason(comments: &[Comment]) -> String {
    let mut first = String::new();
    for passage in comments.iter().map_while(Comment::told) {
        for paragraph in passage.paragraphs() {
            match paragraph.lead {
                Some(Lead::InShort) => return paragraph.words(),
                None if first.is_empty() && !paragraph.is_link() => {
                    first = thought(&paragraph.words()).to_owned()
                }
                Some(Lead::Choose | Lead::Diagram) | None => {}
            }
        }
    }
    first
}

/// The first sentence of a paragraph that has at least [`THOUGHT`] words; nothing if none has.
fn thought(words: &str) -> &str {
    let mut rest = words;
    while !rest.is_empty() {
        let sentence = first_sentence(rest);
        let mut words = 0;
        for word in split(sentence, b' ') {
            words += usize::from(!word.is_empty());
        }
        if words >= THOUGHT {
            return sentence;
        }
        rest = rest.get(sentence.len()..).unwrap_or_default().trim_start();
    }
    ""
}

/// Whether the author says anything of a move that is shown.
fn is_commented(lesson: &Lesson, id: NodeId) -> bool {
    let told = lesson.node(id).comments.iter().map_while(Comment::told);
    let mut paragraphs = told.flat_map(Passage::paragraphs);
    paragraphs.any(|paragraph| paragraph.lead != Some(Lead::Choose))
}

/// The first paragraph without the signs that set it.
fn plain(passage: &Passage) -> String {
    let paragraph = passage.paragraphs().next();
    paragraph.map(Paragraph::words).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    fn moves(run: &[MoveView]) -> String {
        let words = run.iter().map(|shown| {
            let number = shown.number.as_deref().unwrap_or_default();
            format!("{number}{}{}", shown.san, shown.signs)
        });
        words.collect::<Vec<_>>().join(" ")
    }

    fn written(recap: &Recap) -> Vec<String> {
        let rows = recap.rows.iter().map(|row| {
            let says = match &row.says {
                Says::Question(prompt) => format!("asks {prompt:?}"),
                Says::Choices(choices) => {
                    let choices = choices.iter().map(|choice| {
                        let mut text = moves(std::slice::from_ref(&choice.shown));
                        for more in [&choice.condition, &choice.words] {
                            if !more.is_empty() {
                                text += &format!(" [{more}]");
                            }
                        }
                        text
                    });
                    choices.collect::<Vec<_>>().join(" | ")
                }
            };
            format!("{} -> {says}", moves(&row.run))
        });
        rows.collect()
    }

    #[track_caller]
    fn assert_rows(text: &str, side: Color, wanted: &[&str]) {
        assert_eq!(
            written(&recap(&Words::default(), &lesson(text), side, |_| true)),
            wanted
        );
    }

    #[test]
    fn each_decision_of_the_side_has_a_row_with_the_moves_from_the_last_one() {
        assert_rows(
            "1. d4 {This is our move. And more.} d5 (1... Nf6 2. c4 {It comes here again.}) \
             2. c4 {Here is the gambit!} e6 *",
            Color::White,
            &[
                " -> 1.d4 [This is our move.]",
                "1.d4 d5 -> 2.c4 [Here is the gambit!]",
                "1.d4 Nf6 -> 2.c4 [It comes here again.]",
            ],
        );
    }

    #[test]
    fn a_forced_step_of_which_nothing_is_said_joins_the_run() {
        assert_rows(
            "1. e4 e5 2. Nf3 Nc6 3. Bb5 {This is the point.} a6 4. Ba4 Nf6 *",
            Color::White,
            &["1.e4 e5 2.Nf3 Nc6 -> 3.Bb5 [This is the point.]"],
        );
    }

    #[test]
    fn what_the_side_does_not_choose_is_left_out_and_weak_moves_of_the_other_are_kept() {
        assert_rows(
            "1. e4 e5 (1... f6? 2. d4 {Take all of the centre.}) 2. Nf3 (2. f4 {wild} exf4 3. Nf3 {on}) *",
            Color::White,
            &[
                "1.e4 e5 -> 2.Nf3",
                "1.e4 f6? -> 2.d4 [Take all of the centre.]",
            ],
        );
    }

    #[test]
    fn written_choices_come_with_their_conditions() {
        assert_rows(
            "1. e4 c6 {Solid as a rock.\n\nChoose: if you are *patient*} (1... e5 {Classical.}) \
             (1... c5 {Sharp play against @d4.\n\nChoose:}) 2. d4 *",
            Color::Black,
            &[
                "1.e4 -> 1\u{2026}c6 [if you are patient] [Solid as a rock.] | 1\u{2026}c5 [Sharp play against d4.]",
            ],
        );
    }

    #[test]
    fn a_row_says_what_the_author_says_in_short_or_else_the_first_whole_thought() {
        assert_rows(
            "1. d4 {Declined. It is not. The pawn goes two squares.} d5 2. c4 {The old move of \
             the books.\n\nIn short: the gambit} e6 3. Nc3 {Usual.} *",
            Color::White,
            &[
                " -> 1.d4 [The pawn goes two squares.]",
                "1.d4 d5 -> 2.c4 [the gambit]",
                "2.c4 e6 -> 3.Nc3",
            ],
        );
    }

    #[test]
    fn a_choice_with_a_condition_is_one_more_and_one_without_takes_the_place_of_the_first() {
        assert_rows(
            "1. e4 (1. d4 {Choose: if it rains}) 1... e5 (1... d6) *",
            Color::White,
            &[" -> 1.e4 | 1.d4 [if it rains]"],
        );
        assert_rows(
            "1. e4 (1. d4 {Choose: if it rains}) (1. c4 {Choose:}) 1... e5 *",
            Color::White,
            &[" -> 1.d4 [if it rains] | 1.c4"],
        );
    }

    #[test]
    fn the_first_move_that_is_not_weak_is_chosen_where_nothing_is_written() {
        assert_rows(
            "1. g4? {Loose.} (1. f3?! {Worse.}) (1. d4 {Good as it is.}) (1. e4 {Good too.}) *",
            Color::White,
            &[" -> 1.d4 [Good as it is.]"],
        );
        assert_rows("1. g4? (1. f3??) 1... e5 *", Color::White, &[]);
    }

    #[test]
    fn the_answer_to_an_open_question_is_not_told() {
        let text = "1. e4 e5 2. Nf3 {It attacks a pawn. Good.} {Ask: What guards @e5? Because: the knight.} \
                    {Nc6 it is.} Nc6 {This is the answer.} (2... d6 {Passive.}) 3. Bb5 {Later.} a6 *";
        let lesson = lesson(text);
        assert_eq!(
            written(&recap(&Words::default(), &lesson, Color::Black, |_| true)),
            ["1.e4 e5 2.Nf3 -> asks \"What guards e5?\""]
        );
        assert_eq!(
            written(&recap(&Words::default(), &lesson, Color::White, |_| true)),
            [
                "1.e4 e5 -> 2.Nf3 [It attacks a pawn.]",
                "2.Nf3 -> asks \"What guards e5?\""
            ]
        );
        assert_eq!(
            written(&recap(&Words::default(), &lesson, Color::Black, |_| false)),
            ["1.e4 e5 2.Nf3 -> 2\u{2026}Nc6 [This is the answer.]"],
            "it is told once the question is settled"
        );
    }

    #[test]
    fn a_pass_that_shows_a_threat_is_no_line_to_prepare_for() {
        assert_rows(
            "1. e4 {This one is ours.} e5 (1... -- 2. d4 {The threat.}) 2. Nf3 {On.} *",
            Color::White,
            &[" -> 1.e4 [This one is ours.]", "1.e4 e5 -> 2.Nf3"],
        );
    }

    #[test]
    fn each_row_names_its_position_in_an_address() {
        let lesson = lesson("1. d4 {a} d5 2. c4 {b} e6 3. Nc3 {c} (2... c6 3. Nc3 {d}) *");
        let recap = recap(&Words::default(), &lesson, Color::White, |_| true);
        for row in &recap.rows {
            let found = crate::lesson::place::address::follow(&lesson, &row.address);
            assert_eq!(found.map(|place| place.node), Some(row.node));
        }
        assert_eq!(recap.rows[0].address, "");
    }
}
