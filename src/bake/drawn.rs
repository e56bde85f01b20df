//! What the script would draw first in an element's shadow root.

use crate::check::attributes::Kind;
use crate::markup::{self, Element};
use crate::post::{Found, Shown};
use crate::text::{Findings, Source};
use crate::view::{self, Diagram, Mode, State, Words};

/// Whether an element has something to show; references and articles have no drawing of their own.
pub fn is_shown(words: &Words, kind: Kind, shown: &Shown) -> bool {
    match kind {
        Kind::Reference | Kind::Prose => false,
        Kind::Diagram => still(words, shown, false).is_some(),
        _ => !matches!(shown.state.mode, Mode::Missing),
    }
}

/// The shadow root of an element; none where there is nothing to show. `start` is the address of its
/// lesson.
pub fn root(words: &Words, found: &Found, shown: &Shown, start: &str) -> Option<Vec<Element>> {
    let is_worded = !found.prompt.is_empty();
    match found.kind {
        Kind::Reference | Kind::Prose => None,
        Kind::Diagram => {
            let shown = still(words, shown, is_worded)?;
            Some(markup::diagram(words, &shown))
        }
        Kind::Recap => recap(words, shown, start),
        Kind::Lesson | Kind::Quiz | Kind::Recall => {
            let notation = shown.notation.as_ref()?;
            let page = view::page(
                words,
                &notation.lesson,
                &shown.state,
                shown.letters,
                &Findings::default(),
                &notation.source,
                &notation.games,
            );
            markup::root(&page, &shown.state.mode, is_worded)
        }
    }
}

/// The table of a recap, before a reader has opened anything.
pub fn recap(words: &Words, shown: &Shown, start: &str) -> Option<Vec<Element>> {
    let lesson = &shown.notation.as_ref()?.lesson;
    let fresh = State::empty();
    let is_closed = |id| fresh.is_closed(lesson, id);
    let recap = view::recap(lesson, shown.state.side, is_closed);
    Some(markup::recap(words, &recap, start))
}

/// What a diagram shows; `is_worded` says that its author's words are its caption.
pub fn still(words: &Words, shown: &Shown, is_worded: bool) -> Option<Diagram> {
    let source = Source::new("", shown.element.text());
    let of = shown.notation.as_ref().map(|it| (&it.lesson, &shown.state));
    let mut none = Findings::default();
    view::still(words, &shown.element, of, is_worded, &source, &mut none)
}
