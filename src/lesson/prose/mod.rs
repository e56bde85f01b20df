//! Which position of a lesson a move named in prose means. What was named last gives the context:
//! the move follows it, replaces it, or says by its number where it belongs.
//!
//! The rule, in the order in which it is tried:
//! 1. In a run (`4.cxd5 exd5`) a move goes on from the one before it.
//! 2. With a number it is played at that number: by the lesson's moves on the path of what was
//!    named last and what goes on from it; else, in a comment, by a legal move right after its own;
//!    else, if the sentence says that it is there
//!    (`6.a3 or 6.b3`, `6.b3 instead`, `in this line 6.b3`), by a legal move there; else anywhere
//!    in the lesson, the main line first; else, where it is legal, it is an aside: beside the
//!    moves with this number that were listed on that path, if they were several, else at the
//!    last place of the path with this number, else at the last place named with this number. A
//!    number without a dot names a move of the lesson only, unless the author left out more dots
//!    than not.
//!    Of several places the one counts in which more of the run after it can be played.
//! 3. Without a number it is one of the lesson's, the first of these that fits: next; in the place
//!    of what was named last, which comes first in a list (`Bd7 or Be2`); in a list the next of the
//!    same side; further on along the line, if something was named in its sentence; a branch of
//!    the way, if nothing after it was told; a move on the way once more; a move after one of those
//!    named before; the only such move. Dots say the side, else White or Black since the move
//!    before. A run or a list counts as one. Several that fit equally are told and not linked, and
//!    after a move that was not placed the rest of its sentence is not linked without numbers.
//!    Else it is an aside, next or in the place of the last named, if that is in its sentence and
//!    the side is clear; a run of asides needs no more. `a` or `an` right before it makes it a
//!    name, and where it begins its sentence only next to the last named it is a move. A needless
//!    letter (`Ngf3` with one knight near), a capture of nothing or a sign of check that gives none
//!    says that another position is meant.
//! 4. A bare square is a pawn's move only with a number or dots, in a run or a list, or after words
//!    such as `by`, and with a number without a dot only where the author leaves the dots out
//!    elsewhere. After a word for something
//!    numbered (`figure 5.b3`, `seat 5.f4`) it is none, nor as an item of a list
//!    (`1. a4 paper, 2. b5 envelopes`).
//!
//! `The first`, `the latter` and the like go back to one of the moves that were listed last.

mod context;
pub mod misplaced;
mod numbered;
mod unnumbered;

pub use self::context::Context;
use super::ids::NodeId;
pub use super::place::Place;
use super::place::number::Number;
use super::tree::Lesson;
use crate::notation::Letters;
use crate::notation::mention::{Mention, mentions, returns};
use core::ops::Range;
use shakmaty::{Color, Position};

/// A move named in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Where it is; a byte range of the text.
    pub range: Range<usize>,
    /// What it names.
    pub place: Result<Place, Missed>,
}

/// Why a move is not linked though it is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missed {
    /// Its number puts it where it cannot be played.
    Misplaced(Misplaced),
    /// Without a number it fits these nodes of the lesson equally.
    Several(Vec<NodeId>),
    /// In a run it cannot be played after the move before it, and nowhere else in the lesson.
    Nowhere(Misplaced),
}

/// A move that cannot be played where it is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misplaced {
    /// Where it was tried: the position before it.
    pub before: Place,
    /// Its word, without number and dots; a byte range of the text.
    pub word: Range<usize>,
}

/// How many moves of a run or a list are looked at before its first is placed.
const AHEAD: usize = 12;

/// The moves that a paragraph names.
pub fn named(lesson: &Lesson, letters: &Letters, context: &mut Context, text: &str) -> Vec<Named> {
    named_of(lesson, context, text, &mentions(text, letters))
}

/// The same, of all mentions of the paragraph.
pub fn named_of(lesson: &Lesson, context: &mut Context, text: &str, all: &[Mention]) -> Vec<Named> {
    let mut reading = Reading {
        lesson,
        context,
        count: 0,
        joined: false,
    };
    let mut list = Vec::new();
    // Whether the mention before was linked, because a run continues only from a move.
    let mut run = false;
    // Whether it was not: then what is listed with it means as little.
    let mut lost = false;
    for (at, mention) in all.iter().enumerate() {
        let mut follows = run && mention.around.follows;
        reading.joined &= !mention.around.opens;
        let mut more = Vec::new();
        while let Some(next) = all.get(at + 1 + more.len())
            && next.around.follows
            && more.len() < AHEAD
        {
            more.push(next);
        }
        lost &= !mention.around.opens;
        let listed = mention.around.is_listed || mention.around.follows;
        let mut mates = Vec::new();
        while more.is_empty()
            && let Some(next) = all.get(at + 1 + mates.len())
            && next.around.is_listed
            && mates.len() < AHEAD
        {
            mates.push(next);
        }
        // `7.b4 (after 6...Nh6)` says itself where it is.
        let before = reading.context.last.clone();
        if let Some(next) = all.get(at + 1)
            && text.get(mention.range.end..next.range.start) == Some(" (after ")
            && let Some(Ok(place)) = reading.place(next, false, &Ahead::default())
        {
            reading.context.last = Some(place);
            follows = true;
        }
        let ahead = Ahead {
            run: &more,
            list: &mates,
        };
        let place = match (lost || listed && !run) && mention.number.is_none() {
            true => None,
            false => reading.place(mention, follows, &ahead),
        };
        run = matches!(place, Some(Ok(_)));
        reading.context.last = before;
        let is_square = mention.written.is_bare && mention.number.is_none();
        lost = !run && (lost || !is_square);
        let Some(place) = place else {
            continue;
        };
        if let Ok(place) = &place {
            reading.context.note(place);
            reading.context.list(lesson, place);
            reading.context.undotted += match mention.side {
                _ if mention.number.is_none() => 0,
                None => 1,
                side => -i32::from(side == Some(Color::White)),
            };
            reading.count += 1;
            reading.joined = true;
        }
        list.push(Named {
            range: mention.range.clone(),
            place,
        });
    }
    let tail = all.last().map_or(0, |last| last.range.end);
    reading.context.returned |= returns(text.get(tail..).unwrap_or_default());
    list
}

/// The mentions after one that belong to it.
#[derive(Default)]
pub(crate) struct Ahead<'a> {
    /// Those that go on from it, in a run.
    pub(crate) run: &'a [&'a Mention],
    /// Those that are listed with it, where it begins no run.
    pub(crate) list: &'a [&'a Mention],
}

/// An article as it is read.
pub(crate) struct Reading<'a> {
    pub(crate) lesson: &'a Lesson,
    pub(crate) context: &'a mut Context,
    /// How many moves were named in this paragraph already.
    count: usize,
    /// Whether something was named in this sentence already.
    joined: bool,
}

impl Reading<'_> {
    fn place(
        &self,
        mention: &Mention,
        follows: bool,
        ahead: &Ahead,
    ) -> Option<Result<Place, Missed>> {
        let mut last = self.context.last.clone().unwrap_or_default();
        if mention.number.is_some()
            && let Some(listed) = mention.around.listed
        {
            last = self.context.listed(listed).unwrap_or(last);
        }
        let shape = &mention.shape;
        if let Some(value) = mention.number {
            // Where the author leaves the dots out a number alone is White's.
            let undotted = self.context.undotted > 0;
            if mention.around.is_alone && !undotted {
                return None;
            }
            let side = mention.side.or(undotted.then_some(Color::White));
            let number = Number { value, side };
            return self.numbered(mention, number, &last, follows, ahead.run);
        }
        if follows {
            let side = last.position(self.lesson).turn();
            if mention.side.is_none_or(|written| written == side)
                && let Some(place) = last.after(self.lesson, shape)
            {
                return Some(Ok(place));
            }
            // A square may be a square, and castling with zeros a score.
            let (before, word) = (last, mention.word.clone());
            return (!mention.written.is_bare && !mention.written.has_zeros)
                .then_some(Err(Missed::Nowhere(Misplaced { before, word })));
        }
        match self.unnumbered(mention, &last, ahead) {
            Ok(place) => Some(Ok(place)),
            Err(missed) => missed.map(Err),
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::lesson::place::address::address;

    pub(in crate::lesson) const QUEENS: &str =
        "1. d4 d5 2. c4 e6 (2... c6 3. Nf3 Nf6) 3. Nc3 Nf6 (3... Be7) 4. Bg5 Be7 *";

    /// What the paragraphs of an article name, as addresses; `-` for what cannot be played.
    pub(in crate::lesson) fn places(text: &str, paragraphs: &[&str]) -> Vec<String> {
        let lesson = lesson(text);
        let mut context = Context::default();
        let mut list = Vec::new();
        for paragraph in paragraphs {
            for it in named(&lesson, Letters::ENGLISH, &mut context, paragraph) {
                list.push(match it.place {
                    Ok(place) => address(&lesson, &place),
                    Err(_) => "-".to_owned(),
                });
            }
        }
        list
    }

    #[test]
    fn a_run_goes_on_from_move_to_move() {
        assert_eq!(
            places(QUEENS, &["After 1.d4 d5 2.c4 all is open."]),
            ["1.d4", "1...d5", "2.c4"]
        );
    }

    #[test]
    fn a_square_alone_is_no_move() {
        assert_eq!(
            places(QUEENS, &["After 2.c4 the point e6 is weak."]),
            ["2.c4"]
        );
    }

    #[test]
    fn without_a_number_a_paragraph_begins_with_moves_of_the_lesson_only() {
        assert_eq!(
            places(QUEENS, &["See 2...e6.", "Nc3 develops."]),
            ["2...e6", "3.Nc3"]
        );
        assert_eq!(
            places(QUEENS, &["See 2...e6.", "Bf4 is a name."]),
            ["2...e6"]
        );
        assert!(
            places(QUEENS, &["Nf3 is a name."]).is_empty(),
            "nothing was named"
        );
    }

    #[test]
    fn an_aside_without_a_number_needs_a_move_named_in_its_sentence() {
        assert_eq!(
            places(QUEENS, &["After 2...e6 comes Nf3."]),
            ["2...e6", "2...e6_3.Nf3"]
        );
        assert_eq!(
            places(QUEENS, &["See 2...e6. The wind was Bf4."]),
            ["2...e6"]
        );
        assert_eq!(
            places(QUEENS, &["See 2...e6. But Nc3 is here."]),
            ["2...e6", "3.Nc3"]
        );
    }

    #[test]
    fn a_needless_letter_for_the_piece_makes_no_aside() {
        let after = |text| places(QUEENS, &[text]).len();
        assert_eq!(after("After 2...e6 comes Ngh3."), 1);
        assert_eq!(after("After 2...e6 comes Nh3."), 2);
        assert_eq!(
            after("After 2...e6 comes Nbd2."),
            1,
            "one knight looks at d2"
        );
        assert_eq!(
            after("After 3.Nf3 Nf6 comes Nbd2."),
            2 + 1,
            "no letter is needless for two"
        );
    }

    #[test]
    fn a_check_that_is_none_makes_a_name_without_a_number() {
        assert_eq!(places(QUEENS, &["After 2...e6 comes Nf3+."]), ["2...e6"]);
        assert_eq!(
            places(QUEENS, &["After 2...e6 comes Qa4+."]),
            ["2...e6", "2...e6_3.Qa4"]
        );
    }

    #[test]
    fn castling_with_zeros_is_a_score_where_nothing_else_says_a_move() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 *";
        assert_eq!(places(text, &["After 3...Bc5 White plays O-O."]).len(), 2);
        assert_eq!(places(text, &["After 3...Bc5 it stood 0-0."]).len(), 1);
        assert_eq!(places(text, &["After 3...Bc5 comes 4.0-0."]).len(), 2);
    }

    #[test]
    fn a_text_of_any_length_is_remembered_in_bounds() {
        let lesson = lesson(QUEENS);
        let mut context = Context::default();
        let text = [
            "1.Nf3 Nf6 ",
            &"Ng1, Ng8, Nf3, Nf6, Nc3, Nc6, Nb1, Nb8, ".repeat(200),
        ]
        .concat();
        named(&lesson, Letters::ENGLISH, &mut context, &text);
        named(
            &lesson,
            Letters::ENGLISH,
            &mut context,
            &["1.d4 ", &"Nf6 Nf3 Ng8 Ng1 ".repeat(200)].concat(),
        );
        assert!(context.played.len() <= context::REMEMBERED);
        assert!(
            context.played.iter().any(Place::is_full),
            "the run was followed to its end"
        );
        let longest = context.played.iter().map(|place| place.aside.len()).max();
        assert!(longest < Some(50), "{longest:?}");
    }
}
