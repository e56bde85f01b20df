//! The lessons that a post holds itself, for whoever has more to say of each.

use super::check::read;
use super::elements::Kind;
use super::placed::placed;
use super::read::Around;
use crate::check::attributes::Kind as Element;
use crate::lesson::Lesson;
use crate::text::{Finding, Findings, Mapping, Source};

/// What was said of the lessons of a post.
#[derive(Debug, Default)]
pub struct Asked {
    /// At their places in the file.
    pub findings: Vec<Finding>,
    /// How many of its lessons cannot be read.
    pub unread: usize,
    /// The addresses of the notation that it names.
    pub sources: Vec<String>,
}

/// Hands out each lesson whose notation is in the post, with the places of that notation in the file, and puts what
/// is said of it there.
pub fn each_own(
    source: &Source,
    kind: Kind,
    around: &dyn Around,
    say: &mut dyn FnMut(&Lesson, &Mapping) -> Findings,
) -> Asked {
    let post = read(source, kind, around);
    let mut asked = Asked {
        sources: post.checked.sources.to_vec(),
        ..Asked::default()
    };
    let own = |at: usize| {
        post.found
            .get(at)
            .and_then(|it| Some((it, it.notation.as_ref()?)))
    };
    let mut seen = 0;
    for shown in post.shown.iter().filter(|it| it.of.is_none()) {
        let Some(((found, text), notation)) = own(shown.at).zip(shown.notation.as_deref()) else {
            continue;
        };
        seen += 1;
        let findings = say(&notation.lesson, &text.mapping);
        asked
            .findings
            .extend(placed(findings, &text.text, &text.mapping, found.tag, kind));
    }
    let all = post.found.iter();
    let held = all.filter(|it| it.notation.is_some() && it.kind != Element::Diagram);
    asked.unread = held.count().saturating_sub(seen);
    asked
}
