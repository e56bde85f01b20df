//! What the files of a run say of each other: one position with choices that contradict each other.

use crate::check::author::Chosen;
use crate::lesson::PositionKey;
use crate::text::{Code, Elsewhere, Finding, Source, Span};
use std::collections::HashMap;

/// What was recommended in the files so far.
#[derive(Default)]
pub struct Across(HashMap<PositionKey, Vec<Known>>);

struct Known {
    chosen: Chosen,
    place: Elsewhere,
}

impl Across {
    /// The findings about what a file recommends against those before it, one for each position. Within
    /// one lesson they are told with that.
    pub fn add(&mut self, source: &Source, chosen: Vec<Chosen>) -> Vec<Finding> {
        let mut findings = Vec::new();
        for here in chosen {
            let known = self.0.entry(here.key).or_default();
            let other = known
                .iter()
                .find(|it| it.place.file != source.name() && here.contradicts(&it.chosen));
            if let Some(other) = other {
                let message = format!(
                    "one position, two choices: {} here, {} in {}",
                    here.first, other.chosen.first, other.place.file
                );
                let finding = Finding::new(Code::ChoicesContradict, here.span, message);
                let said = "the other choice".to_owned();
                findings.push(finding.with_elsewhere(other.place.clone(), said));
            }
            // The first two of a position say all that is of use.
            if known.len() < 2 {
                let place = place(source, here.span);
                known.push(Known {
                    chosen: here,
                    place,
                });
            }
        }
        findings
    }
}

/// A place of a text, for another.
fn place(source: &Source, span: Span) -> Elsewhere {
    let at = |byte| {
        let place = source.place(byte);
        (place.line, place.column)
    };
    Elsewhere {
        file: source.name().to_owned(),
        from: at(span.from),
        to: at(span.to),
    }
}
