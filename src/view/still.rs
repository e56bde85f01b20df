//! What a diagram shows, of a lesson or of a placement of its own.

use super::open::{DiagramOf, Element};
use super::{Caption, Diagram, State, Words, diagram, placed_diagram};
use crate::lesson::{self, Lesson};
use crate::text::{Findings, Source};
use shakmaty::Color;

/// What an element that is a diagram shows; none, with what is wrong, where its placement cannot be read,
/// and where it is about a lesson that is not there. `of` is that lesson and the state in which the
/// element was opened, `source` the element's text; `is_worded` says that it holds words of its author,
/// which are its caption then.
pub fn still(
    words: &Words,
    element: &Element,
    of: Option<(&Lesson, &State)>,
    is_worded: bool,
    source: &Source,
    findings: &mut Findings,
) -> Option<Diagram> {
    let Element::Diagram {
        of: shows, side, ..
    } = element
    else {
        return None;
    };
    let mut shown = match shows {
        DiagramOf::Placement(_) => {
            let (placement, marks) = lesson::diagram::read(source, findings);
            let side = Color::from_white(side.as_deref() != Some("black"));
            placed_diagram(words, &placement?, side, marks)
        }
        DiagramOf::Position { marks, .. } => {
            let (lesson, state) = of?;
            let marks = marks
                .as_ref()
                .map(|_| lesson::diagram::read_marks(source, 0, findings));
            diagram(words, lesson, state.node, state.side, marks)
        }
    };
    if is_worded {
        shown.caption = Caption::Own;
    }
    Some(shown)
}
