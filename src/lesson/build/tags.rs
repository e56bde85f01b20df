//! What a game says of itself: its tags, its result, its choices and questions.

use super::validate::Validation;
use crate::lesson::tree::{Lesson, NodeId};
use crate::text::{Code, Finding, Listed, quote};

impl Validation<'_> {
    pub(crate) fn tags(&mut self) {
        let tags = &self.game.tags;
        let names: Vec<&str> = tags.iter().map(|tag| self.source.slice(tag.name)).listed();
        self.lesson.tags.reserve_exact(tags.len());
        for (at, tag) in tags.iter().enumerate() {
            let name = names[at]; // a name for each tag
            match names[..at].iter().position(|&other| other == name) {
                Some(first) => self.findings.push(
                    Finding::new(
                        Code::TagTwice,
                        tag.span,
                        format!(
                            "the tag {} was given before; the first one counts",
                            quote(name)
                        ),
                    )
                    .with_related(tags[first].span, "the first one".to_owned()),
                ),
                None => self.lesson.tags.push((name.to_owned(), tag.value.clone())),
            }
        }
    }

    pub(crate) fn result(&mut self) {
        let (marker, span) = match self.game.result {
            Some((marker, span)) => (marker, Some(span)),
            None => ("*", None),
        };
        self.lesson.result = marker;
        let tag = self
            .game
            .tags
            .iter()
            .find(|tag| self.source.slice(tag.name) == "Result");
        if let (Some(tag), Some(span)) = (tag, span)
            && tag.value != marker
        {
            let message = format!(
                "the tag Result says {}, the moves end with {marker}",
                quote(&tag.value)
            );
            self.findings.push(
                Finding::new(Code::ResultDisagrees, tag.value_span, message)
                    .with_related(span, "the end of the moves".to_owned()),
            );
        }
    }

    /// What the comments say of choices and questions.
    pub(crate) fn sayings(&mut self) {
        let Lesson {
            nodes, commented, ..
        } = &mut self.lesson;
        for (id, node) in nodes.iter_mut().enumerate() {
            if node.sayings() {
                commented.push(id as NodeId);
            }
        }
    }
}
