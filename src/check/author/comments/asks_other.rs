//! Questions about what one side does at a position where the other is to move.

use crate::lesson::reason::phrases::side;
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Findings};
use shakmaty::{Color, Position};

/// The questions of a lesson that ask the side which is not to move.
pub(super) fn asks_other(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        findings_of(lesson, id, &mut findings);
    }
    findings
}

fn findings_of(lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    // A question without an answer is told as such.
    let Some(ask) = node.ask().filter(|_| !node.children.is_empty()) else {
        return;
    };
    let turn = node.position.turn();
    let (mover, other) = (side(turn), side(!turn));
    let prompt = ask.prompt.text();
    let (message, more) = match asked(prompt) {
        Some(asked) if asked != turn => {
            let message = format!("this asks about {other}, and {mover} is to move here");
            (message, format!("; or ask about {mover}, who is to answer"))
        }
        None if taught(lesson) == Some(!turn) && !question(prompt).contains(mover) => {
            let message = format!("this lesson is for {other}, and {mover} is to move here");
            (message, format!("; or name {mover} in the question"))
        }
        _ => return,
    };
    let help = match node.parent {
        Some(parent) if parent > 0 => {
            format!("put it after the move before this, or after {mover}'s next move")
        }
        _ => format!("put it after {mover}'s move"),
    };
    let help = format!("{help}{more}");
    findings.push(Finding::new(Code::AsksOther, ask.word, message).with_help(help));
}

/// The side that a lesson is for, as its tag says.
fn taught(lesson: &Lesson) -> Option<Color> {
    match lesson.tag("Side") {
        Some("white") => Some(Color::White),
        Some("black") => Some(Color::Black),
        _ => None,
    }
}

/// The sentence of a prompt that asks: its last one.
fn question(prompt: &str) -> &str {
    let bare = prompt.trim_end().trim_end_matches('?');
    let ends = |it: char| matches!(it, '.' | '!' | '?');
    &bare[bare.rfind(ends).unwrap_or(0)..]
}

/// The one side whose move a prompt asks for, in so many words.
fn asked(prompt: &str) -> Option<Color> {
    let lower = prompt.to_ascii_lowercase();
    let words: Vec<&str> = lower
        .split(|it: char| !it.is_ascii_alphabetic())
        .filter(|it| !it.is_empty())
        .collect();
    let color = |word: &str| match word {
        "white" => Some(Color::White),
        "black" => Some(Color::Black),
        _ => None,
    };
    let verb = |word: &str| {
        matches!(
            word,
            "does" | "can" | "should" | "must" | "will" | "would" | "could"
        )
    };
    let mut found = None;
    for (at, word) in words.iter().enumerate() {
        let Some(color) = color(word) else {
            continue;
        };
        let before = at.checked_sub(1).is_some_and(|at| verb(words[at]));
        let asks = words[..at]
            .iter()
            .any(|it| matches!(*it, "how" | "what" | "where" | "which"));
        let to_move = words.get(at + 1) == Some(&"to")
            && matches!(words.get(at + 2), Some(&"move" | &"play"));
        if before && asks || to_move {
            if found.is_some_and(|it| it != color) {
                return None;
            }
            found = Some(color);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    #[test]
    fn a_lesson_for_one_side_asks_of_the_other_only_by_name() {
        let of = |side: &str, ask: &str| {
            codes(&format!(
                "[Side \"{side}\"]\n\n1. e4 {{Ask: {ask}}} e5 {{x}} *"
            ))
        };
        assert_eq!(of("white", "White has the centre. What now?"), ["P084"]);
        assert_eq!(of("white", "Black must react. What now?"), ["P084"]);
        assert!(of("white", "What does Black want?").is_empty());
        assert!(of("black", "What now?").is_empty());
    }

    #[test]
    fn a_question_without_an_answer_is_told_once() {
        assert_eq!(codes("1. e4 {Ask: How does White press?} *"), ["P048"]);
    }

    #[test]
    fn a_question_is_about_the_side_to_move() {
        let of = |ask: &str| codes(&format!("1. e4 {{Ask: {ask}}} e5 {{x}} *"));
        assert_eq!(of("How does White press?"), ["P084"]);
        assert_eq!(of("White to move?"), ["P084"]);
        assert!(of("How does Black answer?").is_empty());
        assert!(of("What did White threaten, and what should Black do?").is_empty());
    }
}
