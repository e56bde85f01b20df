//! Moves that comments name and that cannot be played where their numbers put them.

use super::off_by_one::{self, Meant};
use crate::lesson::prose::{self, Context, Misplaced, Missed, Named, Place, misplaced};
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::passage::Passage;
use crate::notation::mention::{Mention, mentions};
use crate::notation::{Comment, Letters};
use crate::text::{Code, Finding, Findings, Span, quote};

/// The moves of a lesson's comments that cannot be played where they are named. The letters are
/// English, as the notation's are unless its game says otherwise; moves in others are not read.
pub(super) fn named_moves(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        for (at, comments) in [
            (node.parent.unwrap_or(id), &node.before[..]),
            (id, &node.comments[..]),
        ] {
            let mut context = None;
            for passage in comments.iter().flat_map(Comment::passages) {
                if may_name_a_move(passage.text()) && !passage.is_silent() {
                    let context = context.get_or_insert_with(|| Context::at(Place::of(at)));
                    named(lesson, at, context, passage, &mut findings);
                }
            }
        }
    }
    findings
}

/// Whether a text may name a move: a square, as in `6.Bd3`, or castling. Most comments of games
/// with clocks name none and are not looked at further.
fn may_name_a_move(text: &str) -> bool {
    let mut before = b' ';
    for byte in text.bytes() {
        match (before, byte) {
            (b'a'..=b'h', b'1'..=b'8') | (b'O' | b'o' | b'0', b'-' | 0xe2) => return true,
            _ => before = byte,
        }
    }
    false
}

fn named(
    lesson: &Lesson,
    at: NodeId,
    context: &mut Context,
    passage: &Passage,
    findings: &mut Findings,
) {
    let text = passage.sentences();
    let mut next = 0;
    for text in text.split('\n') {
        let from = next;
        next += text.len() + 1;
        let all = mentions(text, Letters::ENGLISH);
        let mut list = prose::named_of(lesson, context, text, &all);
        list.extend(pawns(lesson, at, text, &all, &list));
        for found in list {
            if let Some(mut finding) = amiss(lesson, Letters::ENGLISH, at, text, &all, &found) {
                let range = finding.span.range();
                finding.span = passage.span(from + range.start..from + range.end);
                findings.push(finding);
            }
        }
    }
}

/// What is wrong with a move that a text names; none if it is linked. Its place is in the text, which
/// belongs to this node; `all` are the text's mentions.
pub fn amiss(
    lesson: &Lesson,
    letters: &Letters,
    at: NodeId,
    text: &str,
    all: &[Mention],
    found: &Named,
) -> Option<Finding> {
    let missed = found.place.as_ref().err()?;
    let range = found.range.clone();
    let mut finding = misplaced::finding(lesson, letters, text, range.clone(), missed);
    finding.span = Span::new(range.start, range.end);
    let written = quote(text.get(range).unwrap_or_default());
    if let Missed::Several(nodes) = missed {
        let places = misplaced::places(lesson, nodes);
        finding.message = format!("{written} fits several places of the lesson equally");
        finding.help = Some(format!("write its number, or a move before it: {places}"));
    }
    if let Missed::Misplaced(missed_at) | Missed::Nowhere(missed_at) = missed {
        let is_numbered = matches!(missed, Missed::Misplaced(_));
        let (code, named) = match is_numbered {
            true => (Code::NamedAmiss, "is named here and cannot be played"),
            false => (
                Code::NamedNowhere,
                "cannot be played after the move before it",
            ),
        };
        let mut message = format!("{written} {named}: {}", finding.message);
        let word = quote(text.get(missed_at.word.clone()).unwrap_or_default());
        let mention = all.iter().find(|it| it.word == missed_at.word);
        let meant = mention.and_then(|it| off_by_one::meant(lesson, at, it));
        let other = mention.and_then(|it| off_by_one::of_other_side(lesson, at, it));
        let mut help = match is_numbered {
            true => {
                format!("if the move is meant to be impossible, write {word} without its number")
            }
            false => "if it belongs elsewhere, write a word between the two".to_owned(),
        };
        match (meant, &finding.help) {
            (None, _) if other.is_some() => {
                let right = other.unwrap_or_default();
                help = format!("write {right} if the other side's move is meant; {help}");
            }
            (
                Some(Meant {
                    written: right,
                    node: Some(_),
                    too,
                }),
                _,
            ) => {
                message =
                    format!("the number of {written} is one too {too}: the lesson has {right}");
                help = format!("write {right}; {help}");
            }
            (Some(Meant { written, .. }), Some(near)) => {
                help = format!("{written} can be played; {near}; {help}");
            }
            (_, Some(near)) => help = format!("{near}; {help}"),
            _ => {}
        }
        finding = Finding::new(code, finding.span, message).with_help(help);
    }
    Some(finding)
}

/// The pawns' moves of a paragraph that have their numbers and cannot be played, where none that was
/// found in it is amiss: else they follow from that.
pub fn pawns(
    lesson: &Lesson,
    at: NodeId,
    text: &str,
    all: &[Mention],
    found: &[Named],
) -> Vec<Named> {
    if found.iter().any(|it| it.place.is_err()) {
        return Vec::new();
    }
    // Both are in the order of the text.
    let is_new = |it: &&Mention| {
        let known = found.binary_search_by_key(&it.range.start, |found| found.range.start);
        known.is_err()
    };
    let bare = all
        .iter()
        .filter(|it| it.written.is_bare && it.number.is_some());
    let missed = bare.filter(is_new).filter_map(|it| {
        let before = off_by_one::impossible(lesson, at, text, it)?;
        let word = it.word.clone();
        let place = Err(Missed::Misplaced(Misplaced { before, word }));
        let range = it.range.clone();
        Some(Named { range, place })
    });
    missed.take(1).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::lesson::given::assert_linear;
    use crate::text::Code;

    fn told(comment: &str) -> usize {
        let text = format!("1. e4 e5 2. Nf3 Nc6 {{{comment}}} 3. Bb5 {{the pressure}} *");
        words_of(&text, Code::NamedAmiss).len()
    }

    #[test]
    fn moves_named_in_twice_as_many_comments_take_about_twice_the_work() {
        let comments = [
            "4.Bb5",
            "#.d6",
            "7.Nc3 Nc6",
            "3.Nf3 Nf6",
            "1.d4 and White's Nf3",
            "#.d4 d5",
            "#...Qd6",
            "Then Nf3 and Nf6 are the moves.",
            "After Nf3, Nc3, Ng1 or Ng8 White has Nf3 Nf6 Ng1 Ng8",
            "The main line is Nf3, and if Nf6 then Ng8.",
        ];
        assert_linear(&comments, |lesson| _ = super::named_moves(lesson));
    }

    /// The words after 8.O-O that findings of a kind are about.
    fn named_after_castling(comment: &str, code: Code) -> Vec<String> {
        let text = format!(
            "1. e4 e6 (1... c5 2. Nf3 Nc6 3. Nc3) (1... c6 2. d4 d5 3. Nc3 Nf6) 2. d4 d5 3. e5 c5 \
            4. c3 Nc6 5. Nf3 Qb6 6. a3 c4 7. Be2 Bd7 8. O-O {{{comment}}} 8... Na5 *"
        );
        words_of(&text, code)
    }

    #[test]
    fn a_move_that_fits_several_places_equally_is_told_and_what_is_no_move_is_not() {
        let several = |comment| named_after_castling(comment, Code::NamedSeveral);
        assert_eq!(several("Elsewhere White plays Nc3."), ["Nc3"]);
        for quiet in [
            "Elsewhere, after 1...c6 2.d4 d5, White plays Nc3.",
            "The pawn on e4 and the squares d4 and c3 are White's.",
            "White plays for d4, Black for e5.",
            "White's Nbd2 and Black's Nge7 are plans.",
            "Nc3 is a word here.",
        ] {
            assert_eq!(several(quiet), [""; 0], "{quiet}");
        }
    }

    #[test]
    fn a_move_of_a_run_that_cannot_be_played_there_is_told() {
        let nowhere = |comment| named_after_castling(comment, Code::NamedNowhere).len();
        assert_eq!(nowhere("Now 8...Na5 Nxa5 is a slip."), 1);
        assert_eq!(nowhere("Now 8...Na5 Nbd2 is none."), 0);
        assert_eq!(nowhere("After 8...Na5 the dream is Nxa5."), 0);
        assert_eq!(nowhere("Then 8...Na5 e5 is the point."), 0);
    }

    #[test]
    fn a_move_that_is_named_without_its_number_is_never_said_to_be_impossible() {
        for (with, without) in [
            ("3.Nd6 is impossible here.", "Nd6 is impossible here."),
            (
                "White cannot play 3.O-O-O at once.",
                "White cannot play O-O-O at once.",
            ),
            (
                "The knight goes, 3.Bxd7 follows.",
                "The knight goes, Bxd7 follows.",
            ),
        ] {
            assert_eq!(told(with), 1, "{with}");
            assert_eq!(told(without), 0, "{without}");
        }
    }
}
