//! The findings of a page at the lessons and moves that they belong to.

use super::form::Block;
use crate::lesson::Lesson;
use crate::text::{Finding, Source};

/// A finding and where it belongs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    pub finding: Finding,
    /// Its place in the file, in UTF-16 units from 0.
    pub from: u32,
    pub to: u32,
    /// Line and column, both from 1.
    pub line: u32,
    pub column: u32,
    /// The number of the lesson in whose notation it is.
    pub lesson: Option<usize>,
    /// The moves to the node that it is at or after.
    pub at: Option<Vec<String>>,
}

/// Where the moves of a page are in its file.
pub struct Placed<'a> {
    source: &'a Source,
    blocks: &'a [Block],
    /// Those of each lesson that was asked for: the bytes at which its moves begin, in their order.
    lessons: Vec<Option<Moves>>,
}

struct Moves {
    lesson: Lesson,
    begin: Vec<(u32, u32)>,
}

impl<'a> Placed<'a> {
    /// The moves of these lessons of a file.
    pub fn new(source: &'a Source, blocks: &'a [Block]) -> Placed<'a> {
        let mut lessons = Vec::new();
        lessons.resize_with(blocks.len(), || None);
        Placed {
            source,
            blocks,
            lessons,
        }
    }

    /// The place of a finding about the file.
    pub fn found(&mut self, finding: &Finding) -> Found {
        let span = finding.span;
        let (from, to) = (self.source.place(span.from), self.source.place(span.to));
        let is_in = |block: &Block| block.span.from <= span.from && span.from <= block.span.to;
        let lesson = self.blocks.iter().position(is_in);
        Found {
            finding: finding.clone(),
            from: from.utf16,
            to: to.utf16,
            line: from.line,
            column: from.column,
            at: lesson.and_then(|it| self.at(it, span.from)),
            lesson,
        }
    }

    fn at(&mut self, lesson: usize, byte: u32) -> Option<Vec<String>> {
        let slot = self.lessons.get_mut(lesson)?;
        if slot.is_none() {
            let block = self.blocks.get(lesson)?;
            let read = block.read().0?;
            let mut begin: Vec<(u32, u32)> = read
                .ids()
                .map(|id| (block.mapping.outer(read.node(id).span).from, id))
                .collect();
            begin.sort_unstable();
            *slot = Some(Moves {
                lesson: read,
                begin,
            });
        }
        let moves = slot.as_ref()?;
        let after = moves.begin.partition_point(|(from, _)| *from <= byte);
        let (_, node) = moves.begin.get(after.checked_sub(1)?)?;
        Some(moves.lesson.run(*node))
    }
}
