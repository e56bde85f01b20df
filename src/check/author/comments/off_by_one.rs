//! Moves in comments whose number is one too high or too low: they are the lesson's own at the
//! number beside it.

use crate::lesson::place::Place;
use crate::lesson::place::number::Number;
use crate::lesson::{Lesson, NodeId, dots, rules};
use crate::notation::mention::Mention;

/// A move with the number that it is meant to have.
pub(super) struct Meant {
    /// With its number and dots: `5...Ba6`.
    pub(super) written: String,
    /// Where it leads, if the lesson holds it.
    pub(super) node: Option<NodeId>,
    /// `high` or `low`.
    pub(super) too: &'static str,
}

/// What a move with a number means that can be played on the way to a node, or on from it, at the
/// number beside its own, and not at its own; one that the lesson holds first.
pub(super) fn meant(lesson: &Lesson, at: NodeId, mention: &Mention) -> Option<Meant> {
    let (number, side) = (mention.number?, mention.side?);
    let last = Place::of(at);
    let mut found: Option<Meant> = None;
    for there in [number.checked_sub(1)?, number, number + 1] {
        let wanted = Number {
            value: there,
            side: Some(side),
        };
        for place in lesson.orders().numbered(lesson, &last, wanted) {
            let id = place.node;
            let position = &lesson.node(id).position;
            let Ok((played, _)) = rules::resolve(position, &mention.shape) else {
                continue;
            };
            if there == number {
                return None;
            }
            let held = |&&child: &&NodeId| lesson.node(child).played == Some(played);
            let node = lesson.node(id).children.iter().find(held).copied();
            if found.as_ref().is_none_or(|it| it.node.is_none()) {
                let san = rules::san_of(position, played);
                found = Some(Meant {
                    written: format!("{there}{}{san}", dots(side)),
                    node,
                    too: if there < number { "high" } else { "low" },
                });
            }
        }
    }
    found
}

/// A move with its number and the dots of the other side, if that side can play it there.
pub(super) fn of_other_side(lesson: &Lesson, at: NodeId, mention: &Mention) -> Option<String> {
    let (number, side) = (mention.number?, !mention.side?);
    let wanted = Number {
        value: number,
        side: Some(side),
    };
    let places = lesson.orders().numbered(lesson, &Place::of(at), wanted);
    places.iter().rev().find_map(|place| {
        let position = &lesson.node(place.node).position;
        let (played, _) = rules::resolve(position, &mention.shape).ok()?;
        let san = rules::san_of(position, played);
        Some(format!("{number}{}{san}", dots(side)))
    })
}

/// Where a pawn's move whose number and dots are close to it, `5.a5`, would be played on the way to a
/// node, if it cannot be: elsewhere such a word may be a square.
pub(super) fn impossible(
    lesson: &Lesson,
    at: NodeId,
    text: &str,
    mention: &Mention,
) -> Option<Place> {
    let written = text.get(mention.range.clone())?;
    if !mention.written.is_bare || written.contains(char::is_whitespace) {
        return None;
    }
    let wanted = Number {
        value: mention.number?,
        side: Some(mention.side?),
    };
    let places = lesson.orders().numbered(lesson, &Place::of(at), wanted);
    let can = |place: &Place| rules::resolve(place.position(lesson), &mention.shape).is_ok();
    places.last().filter(|_| !places.iter().any(can)).cloned()
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::checked;
    use crate::text::Code;

    /// The message of the first such finding.
    fn told(comment: &str) -> Option<String> {
        let text = format!(
            "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 {{{comment}}} 4. Ba4 Nf6 (4... d6 {{x}}) 5. O-O {{x}} *"
        );
        let (_, findings) = checked(&text);
        let first = findings.iter().find(|it| it.code == Code::NamedAmiss)?;
        Some(first.message.clone())
    }

    #[test]
    fn a_number_beside_the_right_one_is_said_as_such() {
        assert_eq!(
            told("After 4.Bb5 White waits.").as_deref(),
            Some("the number of 4.Bb5 is one too high: the lesson has 3.Bb5")
        );
        assert_eq!(
            told("Played was 3.Ba4 and so on.").as_deref(),
            Some("the number of 3.Ba4 is one too low: the lesson has 4.Ba4")
        );
    }

    #[test]
    fn a_pawn_s_move_with_its_number_close_to_it_is_one() {
        let text = told("After 4.a5 White waits.").unwrap_or_default();
        assert!(
            text.starts_with("4.a5 is named here and cannot be played"),
            "{text}"
        );
        for square in [
            "The point a5 and 4 a5 are squares.",
            "In seat 4. a5 sits.",
            "Then 4.a4 comes.",
        ] {
            assert_eq!(told(square), None, "{square}");
        }
    }

    #[test]
    fn a_move_of_the_other_side_at_its_number_has_the_wrong_dots() {
        let help = |comment: &str| {
            let text = format!("1. e4 e5 2. Nf3 Nc6 {{{comment}}} 3. Bb5 a6 {{x}} *");
            let (_, findings) = checked(&text);
            let first = findings.iter().find(|it| it.code == Code::NamedAmiss);
            first.and_then(|it| it.help.clone()).unwrap_or_default()
        };
        assert!(help("After 3...Bb5 comes a6.").starts_with("write 3.Bb5 "));
        assert!(help("After 3...d4 comes a6.").starts_with("write 3.d4 "));
        assert!(help("After 3...Bb4 comes a6.").is_empty());
    }

    #[test]
    fn a_move_that_can_be_played_at_its_number_has_the_right_one() {
        assert_eq!(told("Here 4.Bc4 is the other way."), None);
        assert_eq!(told("Then 5.d3 may come."), None);
    }
}
