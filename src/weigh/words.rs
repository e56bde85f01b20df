//! What the author says of a move: that something is given with it, or that it has been weighed.

use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;

/// Words by which an author says that a move gives something, each the beginning of a word.
const GIVEN: &[&str] = &[
    "gambit",
    "sacrific",
    "offer",
    "give up",
    "gives up",
    "giving up",
    "gave up",
    "for the initiative",
    "compensation",
    "lose",
    "losing",
    "lost",
    "loss",
    "cost",
];

/// Glyphs for compensation for material (PGN standard, section 10: 44 to 47).
const COMPENSATION: core::ops::RangeInclusive<u8> = 44..=47;

/// Whether a text has a word that begins so.
fn says(text: &str, beginnings: &[&str]) -> bool {
    let text = text.to_lowercase();
    beginnings.iter().any(|word| {
        text.match_indices(word).any(|(at, _)| {
            let before = text.get(..at).and_then(|it| it.chars().next_back());
            !before.is_some_and(char::is_alphanumeric)
        })
    })
}

/// Tags that name what a lesson is about, and words by which they call it a gambit.
const NAMING: &[&str] = &["Event", "Title", "Opening", "Variation"];
const GAMBIT: &[&str] = &["gambit", "sacrific", "offer"];

/// Whether the tags of a lesson say that something is given in it.
pub fn is_gambit(lesson: &Lesson) -> bool {
    let mut tags = lesson.tags.iter();
    tags.any(|(name, value)| NAMING.contains(&name.as_str()) && says(value, GAMBIT))
}

/// The comments of a move: those before it and those after it.
fn comments(lesson: &Lesson, node: NodeId) -> impl Iterator<Item = &Comment> {
    let node = lesson.node(node);
    node.before.iter().chain(node.comments.iter())
}

/// Whether the author says at a move that something is given with it.
pub fn gives(lesson: &Lesson, node: NodeId) -> bool {
    let mut nags = lesson.node(node).nags.iter();
    nags.any(|nag| COMPENSATION.contains(nag))
        || comments(lesson, node).any(|it| says(it.text(), GIVEN))
}

/// Whether the author has weighed a move: a paragraph of a comment begins with `Weighed:`.
pub fn is_weighed(lesson: &Lesson, node: NodeId) -> bool {
    comments(lesson, node).any(|it| {
        let mut paragraphs = it.text().split("\n\n");
        paragraphs.any(|it| it.trim_start().starts_with("Weighed:"))
    })
}

/// Words by which an author claims that material is won or lost, or mate.
const CLAIMS: &str = "win wins winning won lose loses losing lost mate mates mated mating checkmate trap traps trapped drop \
    drops dropping hangs cost costs";

/// Whether the comments of a move, or of the moves after it on its line up to the next that is marked, claim material or
/// mate.
pub fn claims_force(lesson: &Lesson, node: NodeId) -> bool {
    let claims = |it: &Comment| {
        let text = it.text().to_lowercase();
        let mut words = text.split(|it: char| !it.is_alphanumeric());
        words.any(|word| CLAIMS.split_whitespace().any(|it| it == word))
    };
    let mut at = Some(node);
    while let Some(id) = at.filter(|&it| it == node || !lesson.is_weak(it)) {
        if comments(lesson, id).any(claims) {
            return true;
        }
        at = lesson.next_on_line(id);
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    #[test]
    fn an_author_who_gives_something_says_so_in_one_of_several_words() {
        for comment in [
            "White offers a pawn",
            "a *sacrifice* for later",
            "it costs a piece",
            "for the initiative",
            "Giving up the knight",
        ] {
            let text = format!("1. e4 {{{comment}}} *");
            assert!(gives(&lesson(&text), 1), "{comment}");
        }
        assert!(gives(&lesson("1. e4 $44 *"), 1));
        assert!(!gives(&lesson("1. e4 {the closest line} *"), 1));
        assert!(is_gambit(&lesson("[Event \"A gambit\"] 1. e4 *")));
        assert!(!is_gambit(&lesson(
            "[Site \"Costa\"][White \"Gambit, A.\"] 1. e4 *"
        )));
    }

    #[test]
    fn a_claim_of_force_is_a_whole_word_before_the_next_mistake() {
        let claims = |text: &str| claims_force(&lesson(text), 1);
        assert!(claims("1. e4? e5 {This wins.} *"));
        assert!(!claims(
            "1. e4? e5 {The wing is weak, the material even.} *"
        ));
        assert!(!claims("1. e4? e5? {This loses.} *"));
    }

    #[test]
    fn a_paragraph_says_that_a_move_was_weighed() {
        assert!(is_weighed(
            &lesson("1. e4 {Bold.\n\nWeighed: it is old.} *"),
            1
        ));
        assert!(!is_weighed(&lesson("1. e4 {It is Weighed: not so.} *"), 1));
    }
}
