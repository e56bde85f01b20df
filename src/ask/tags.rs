//! The question that a game asks by its tags, as a text of its own inside a question's element
//! does: `[At "…"]`, `[Accept "…"]`, `[Moves "…"]`.

use super::question::{DefaultPosition, Question, Wish};
use super::question_error::Fault;
use crate::lesson::Lesson;
use crate::notation::Game;
use crate::text::{Finding, Source};

impl<'a> Wish<'a> {
    /// What a lesson's own tags wish; without `At` it asks at the end of its main line.
    pub fn of_tags(lesson: &'a Lesson) -> Wish<'a> {
        let tag = |name| lesson.tag(name).unwrap_or_default();
        Wish {
            at: tag("At"),
            place: DefaultPosition::End,
            prompt: "",
            accept: tag("Accept"),
            moves: tag("Moves"),
        }
    }
}

impl Fault {
    /// The tag that is to be mended; an attribute has the same name.
    pub fn tag(&self) -> &'static str {
        match self {
            Fault::Place(..) => "At",
            Fault::NoAnswer(..) | Fault::Accepted(..) => "Accept",
            Fault::Moves(_) => "Moves",
        }
    }

    /// The finding about it in a game's text, at its tag.
    pub fn finding_in(&self, source: &Source, game: &Game) -> Finding {
        let tag = |name| {
            let mut tags = game.tags.iter();
            tags.find(|tag| source.slice(tag.name) == name)
        };
        // Where no accepted moves are named, their tag is missing and another one asks.
        let tag = tag(self.tag()).or_else(|| tag("Moves"));
        self.finding(tag.map_or(game.span, |tag| tag.value_span))
    }
}

/// What is wrong with the question of a game that has the tag `Accept` or `Moves`, which only
/// questions have.
pub fn check_tags(source: &Source, game: &Game, lesson: &Lesson) -> Option<Finding> {
    let is_asked = |name| lesson.tag(name).is_some();
    if !is_asked("Accept") && !is_asked("Moves") {
        return None;
    }
    let question = Question::new(lesson, &Wish::of_tags(lesson), lesson.letters());
    question.err().map(|fault| fault.finding_in(source, game))
}
