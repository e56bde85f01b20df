//! What attributes name, a side or a place, and what their author is told where it is none.

use crate::check::values;
use crate::lesson::{Lesson, LocateError, NodeId, apart, locate, way_out};
use crate::text::{Finding, Findings, Span, join};

/// The side that an attribute names. One that is none counts as if it were not there, with a
/// finding.
pub(super) fn side_of(side: Option<String>, findings: &mut Findings) -> Option<String> {
    let finding = values::unknown(
        "the attribute side",
        values::SIDES,
        side.as_deref()?,
        Span::default(),
    );
    match finding {
        None => side,
        Some(finding) => {
            findings.push(finding.of_attribute("side"));
            None
        }
    }
}

/// The node that the attribute `at` names.
pub(super) fn named(lesson: &Lesson, at: &str) -> Result<NodeId, Finding> {
    locate(lesson, at).map_err(|error| unplaced(lesson, at, &error))
}

/// That a locator names no place, with what the lesson has that is near, or several.
pub(super) fn unplaced(lesson: &Lesson, at: &str, error: &LocateError) -> Finding {
    let mut finding = error.finding(at, Span::default()).of_attribute("at");
    finding.help = Some(match error {
        LocateError::None => way_out(lesson, at),
        LocateError::Several(nodes) => join(&["write ", &apart(lesson, nodes)], ""),
    });
    finding
}
