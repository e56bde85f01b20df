//! What the script would draw first in an element's shadow root.

use super::alone::say;
use super::numbers::Numbers;
use crate::assessments;
use crate::check::attributes::Kind;
use crate::counts::{self, Drawn};
use crate::lesson::at_move;
use crate::markup::{self, Element, Markup, el};
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
pub fn root(
    words: &Words,
    numbers: &Numbers,
    found: &Found,
    shown: &Shown,
    start: &str,
) -> Option<Vec<Element>> {
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
                &Findings::default(),
                &notation.source,
                &notation.games,
            );
            let mut root = markup::root(&page, &shown.state.mode, is_worded)?;
            let places = [
                assessment_at(&numbers.assessments, shown),
                counts_at(&numbers.counts, shown),
            ];
            for mut place in places {
                root.iter_mut().for_each(|it| beside_board(it, &mut place));
            }
            root.iter_mut().for_each(|it| quote(&numbers.counts, it));
            // The script follows the talk in lessons only.
            if found.kind == Kind::Lesson {
                root.iter_mut().for_each(|it| numbers.heard.write_lines(it));
            }
            Some(root)
        }
    }
}

/// What was counted at the place where the reader begins, as the script shows it there.
fn counts_at(words: &counts::Words, shown: &Shown) -> Option<Element> {
    let collection = shown.counts.as_ref()?;
    let lesson = &shown.notation.as_ref()?.lesson;
    let counted = collection.at(lesson, shown.state.node)?;
    // Closed, as the script shows it at first.
    let place = el("details").with("class", "counts");
    Some(place.children(counts::counts(
        words,
        &collection.of,
        &counted.lettered(shown.letters),
        Drawn::Baked,
    )))
}

/// What an engine said of the place where the reader begins, the same.
fn assessment_at(words: &assessments::Words, shown: &Shown) -> Option<Element> {
    let collection = shown.assessments.as_ref()?;
    let lesson = &shown.notation.as_ref()?.lesson;
    let found = collection.at(lesson, shown.state.node)?;
    let first = at_move(&lesson.node(shown.state.node).position);
    let place = el("details").with("class", "assessed");
    Some(place.children(assessments::assessment(
        words,
        &collection.of,
        &found.clone().lettered(shown.letters),
        first,
    )))
}

/// Says figures that comments quote as sentences, as the script does.
pub fn quote(words: &counts::Words, it: &mut Element) {
    say(it, &|text| counts::quote(words, text));
}

/// Puts it where the script does: after what is opened under the board.
fn beside_board(it: &mut Element, place: &mut Option<Element>) {
    if it.attributes.iter().any(|(_, value)| value == "under") {
        it.children.extend(place.take().map(Markup::Element));
        return;
    }
    for child in &mut it.children {
        if let Markup::Element(child) = child {
            beside_board(child, place);
        }
    }
}

/// The table of a recap, before a reader has opened anything.
pub fn recap(words: &Words, shown: &Shown, start: &str) -> Option<Vec<Element>> {
    let lesson = &shown.notation.as_ref()?.lesson;
    let fresh = State::empty();
    let is_closed = |id| fresh.is_closed(lesson, id);
    let recap = view::recap(words, lesson, shown.state.side, is_closed);
    Some(markup::recap(words, &recap, start))
}

/// What a diagram shows; `is_worded` says that its author's words are its caption.
pub fn still(words: &Words, shown: &Shown, is_worded: bool) -> Option<Diagram> {
    let source = Source::new("", shown.element.text());
    let of = shown.notation.as_ref().map(|it| (&it.lesson, &shown.state));
    let mut none = Findings::default();
    view::still(words, &shown.element, of, is_worded, &source, &mut none)
}
