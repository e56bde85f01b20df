//! What a game says of itself: its tags, its result, its choices and questions.

use super::validate::Validation;
use crate::lesson::tree::{Lesson, NodeId};
use crate::notation::Tag;
use crate::text::{Code, Finding, KeptText, quote};

impl Validation<'_> {
    pub(crate) fn tags(&mut self) {
        let tags = &self.game.tags;
        self.lesson.tags.reserve_exact(tags.len());
        for tag in tags {
            let name = self.source.slice(tag.name);
            if self.lesson.tag(name).is_none() {
                let name = KeptText::new(name);
                self.lesson.tags.push((name, tag.value.clone()));
                continue;
            }
            let message = format!(
                "the tag {} was given before; the first one counts",
                quote(name)
            );
            let mut finding = Finding::new(Code::TagTwice, tag.span, message);
            let same = |it: &&Tag| self.source.slice(it.name) == name;
            if let Some(first) = tags.iter().find(same) {
                finding = finding.with_related(first.span, "the first one".to_owned());
            }
            self.findings.push(finding);
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
            && tag.value.as_str() != marker
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
