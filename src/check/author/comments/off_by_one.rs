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
    fn a_move_that_can_be_played_at_its_number_has_the_right_one() {
        assert_eq!(told("Here 4.Bc4 is the other way."), None);
        assert_eq!(told("Then 5.d3 may come."), None);
    }
}
