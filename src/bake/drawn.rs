//! What the script would draw first in an element's shadow root.

use crate::check::attributes::Kind;
use crate::lesson::diagram;
use crate::markup::{self, Element};
use crate::notation::comment::passage::Passage;
use crate::post::Shown;
use crate::text::{Findings, Source};
use crate::view::{self, Caption, Diagram, DiagramOf, Mode, State, Word, Words};
use shakmaty::Color;

/// The shadow root of an element; none where it has none, or where there is nothing to show. `start`
/// is the address of its lesson.
pub fn root(
    words: &Words,
    kind: Kind,
    shown: &Shown,
    prompt: &str,
    start: &str,
) -> Option<Vec<Element>> {
    match kind {
        Kind::Reference | Kind::Prose => None,
        Kind::Diagram => still(words, shown).map(|mut it| {
            if !prompt.is_empty() {
                it.caption = Caption::Own;
            }
            markup::diagram(words, &it)
        }),
        Kind::Recap => {
            let lesson = &shown.notation.as_ref()?.lesson;
            let fresh = State::empty();
            let is_closed = |id| fresh.is_closed(lesson, id);
            let recap = view::recap(lesson, shown.state.side, is_closed);
            Some(markup::recap(words, &recap, start))
        }
        Kind::Lesson | Kind::Quiz | Kind::Recall => board(words, shown, prompt),
    }
}

/// An element with a board of its own.
fn board(words: &Words, shown: &Shown, prompt: &str) -> Option<Vec<Element>> {
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
    let prompted = |own: &Passage| match prompt.is_empty() {
        true => markup::quiz(&page, &view::prompt(own)),
        false => markup::quiz(&page, &[]),
    };
    match &shown.state.mode {
        Mode::Lesson { .. } => Some(markup::lesson(&page)),
        Mode::Quiz { asking, .. } => Some(prompted(&asking.question.prompt)),
        Mode::Recall(recalling) => {
            let side = recalling.recall.side;
            let word = side.fold_wb(Word::RecallWhite, Word::RecallBlack);
            Some(prompted(&Passage::read(words.get(word))))
        }
        Mode::Missing => None,
    }
}

/// What a diagram shows.
pub fn still(words: &Words, shown: &Shown) -> Option<Diagram> {
    let view::Element::Diagram { of, side, .. } = &shown.element else {
        return None;
    };
    let source = Source::new("", shown.element.text());
    let mut none = Findings::default();
    match of {
        DiagramOf::Placement(_) => {
            let (placement, marks) = diagram::read(&source, &mut none);
            let side = Color::from_white(side.as_deref() != Some("black"));
            Some(view::placed_diagram(words, &placement?, side, marks))
        }
        DiagramOf::Position { marks, .. } => {
            let lesson = &shown.notation.as_ref()?.lesson;
            let marks = marks
                .as_ref()
                .map(|_| diagram::read_marks(&source, 0, &mut none));
            let state = &shown.state;
            Some(view::diagram(words, lesson, state.node, state.side, marks))
        }
    }
}
