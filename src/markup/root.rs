//! What is in the shadow root of an element with a board of its own, on a page as in what is baked.

use super::{Element, lesson, quiz};
use crate::notation::comment::passage::Passage;
use crate::view::{self, Mode, Page, Word};

/// The drawing of a lesson, a question or a recall; none where there is nothing to show. `has_prompt`
/// says that the element itself holds what is asked.
pub fn root(page: &Page, mode: &Mode, has_prompt: bool) -> Option<Vec<Element>> {
    let prompted = |own: &Passage| match has_prompt {
        true => quiz(page, &[]),
        false => quiz(page, &view::prompt(own)),
    };
    match mode {
        Mode::Lesson { .. } => Some(lesson(page)),
        Mode::Quiz { asking, .. } => Some(prompted(&asking.question.prompt)),
        Mode::Recall(recalling) => {
            let side = recalling.recall.side;
            let prompt = side.fold_wb(Word::RecallWhite, Word::RecallBlack);
            Some(prompted(&Passage::read(page.words.get(prompt))))
        }
        Mode::Missing => None,
    }
}
