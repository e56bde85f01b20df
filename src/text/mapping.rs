//! A text that is a part of a file: where its bytes are in the file. A game is cut out of a file of
//! many unchanged; a lesson within a page may have lost the marks before its lines, and have
//! characters where the file has entities.

use super::{Finding, Span};

/// Where each byte of a text is in the file that holds it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mapping {
    /// In the order of the text.
    pieces: Vec<Piece>,
    /// Bytes of the text so far.
    length: u32,
}

/// A stretch of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Piece {
    /// Its first byte in the text; it ends where the next begins.
    from: u32,
    /// Where it is in the file.
    stands: Span,
    /// Whether the file has the same bytes, so that each part is the same too.
    is_same: bool,
}

impl Mapping {
    /// A text whose bytes are the same in the file.
    pub fn cut(stands: Span) -> Mapping {
        let mut mapping = Mapping::default();
        mapping.same(stands);
        mapping
    }

    /// Adds bytes that are the same in the file.
    pub fn same(&mut self, stands: Span) {
        let length = stands.to.saturating_sub(stands.from);
        self.push(length, stands, true);
    }

    /// Adds so many bytes that are written otherwise in the file, such as an entity.
    pub fn instead(&mut self, length: u32, stands: Span) {
        self.push(length, stands, false);
    }

    fn push(&mut self, length: u32, stands: Span, is_same: bool) {
        if length > 0 {
            let from = self.length;
            self.pieces.push(Piece {
                from,
                stands,
                is_same,
            });
            self.length += length;
        }
    }

    /// Adds another text after this one.
    pub fn append(&mut self, other: &Mapping) {
        for piece in &other.pieces {
            let length = other.end_of(piece) - piece.from;
            self.push(length, piece.stands, piece.is_same);
        }
    }

    /// A part of the text as a text of its own.
    pub fn part(&self, span: Span) -> Mapping {
        let mut part = Mapping::default();
        let first = self
            .pieces
            .partition_point(|it| self.end_of(it) <= span.from);
        for piece in self.pieces.iter().skip(first) {
            let from = piece.from.max(span.from);
            let to = self.end_of(piece).min(span.to);
            if from >= to {
                break;
            }
            let stands = match piece.is_same {
                true => Span {
                    from: piece.stands.from + (from - piece.from),
                    to: piece.stands.from + (to - piece.from),
                },
                false => piece.stands,
            };
            part.push(to - from, stands, piece.is_same);
        }
        part
    }

    /// Whether the file has these bytes one after the other and as they are here.
    pub fn is_same(&self, span: Span) -> bool {
        let part = self.part(span);
        let outer = part.outer(Span {
            from: 0,
            to: part.length,
        });
        part.pieces.iter().all(|piece| piece.is_same) && outer.to - outer.from == part.length
    }

    /// Bytes of the text.
    pub fn length(&self) -> u32 {
        self.length
    }

    /// Where a piece ends in the text.
    fn end_of(&self, piece: &Piece) -> u32 {
        let after = self.pieces.partition_point(|it| it.from <= piece.from);
        self.pieces.get(after).map_or(self.length, |next| next.from)
    }

    /// Where a place of the text is in the file. It ends right after its last byte, not where the
    /// next begins: the file may have more between the two.
    pub fn outer(&self, span: Span) -> Span {
        let from = self.byte(span.from);
        match span.is_empty() {
            true => Span { from, to: from },
            false => Span {
                from,
                to: self.end(span.to),
            },
        }
    }

    /// A finding in the text as one in the file.
    pub fn finding(&self, mut finding: Finding) -> Finding {
        finding.span = self.outer(finding.span);
        if let Some(fix) = &mut finding.fix {
            fix.span = self.outer(fix.span);
        }
        for related in &mut finding.related {
            related.span = self.outer(related.span);
        }
        finding
    }

    /// Where a byte is; for a byte past the text, the end of the last.
    fn byte(&self, byte: u32) -> u32 {
        if byte >= self.length {
            return self.end(self.length);
        }
        match self.piece(byte) {
            Some(piece) if piece.is_same => piece.stands.from + (byte - piece.from),
            Some(piece) => piece.stands.from,
            None => 0,
        }
    }

    /// After the byte before this one.
    fn end(&self, byte: u32) -> u32 {
        let last = byte.min(self.length).saturating_sub(1);
        match self.piece(last) {
            Some(piece) if piece.is_same => piece.stands.from + (last + 1 - piece.from),
            Some(piece) => piece.stands.to,
            None => 0,
        }
    }

    /// The piece of a byte; none in an empty text.
    fn piece(&self, byte: u32) -> Option<&Piece> {
        let after = self.pieces.partition_point(|piece| piece.from <= byte);
        self.pieces.get(after.checked_sub(1)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Code;

    /// A file, the lesson in it, and where that is.
    fn quoted() -> (&'static str, &'static str, Mapping) {
        let file = "> 1. e4 {R &amp; B}\n> e5 *";
        let text = "1. e4 {R & B}\ne5 *";
        let mut mapping = Mapping::default();
        mapping.same(Span::new(2, 11)); // `1. e4 {R `
        mapping.instead(1, Span::new(11, 16));
        mapping.same(Span::new(16, 20)); // ` B}` and the line end
        mapping.same(Span::new(22, 26));
        (file, text, mapping)
    }

    #[test]
    fn what_is_cut_out_as_it_stands_is_moved_alone() {
        let mapping = Mapping::cut(Span::new(10, 20));
        assert_eq!(mapping.outer(Span::new(0, 3)), Span::new(10, 13));
        assert_eq!(mapping.outer(Span::new(4, 4)), Span::new(14, 14));
        assert_eq!(mapping.outer(Span::new(10, 10)), Span::new(20, 20));
        assert_eq!(Mapping::default().outer(Span::new(0, 0)), Span::new(0, 0));
    }

    #[test]
    fn words_after_marks_and_entities_stand_where_the_file_has_them() {
        let (file, text, mapping) = quoted();
        for word in ["e4", "{R", "B}", "e5", "*"] {
            let at = text.find(word).expect("a word of the text");
            let outer = mapping.outer(Span::new(at, at + word.len()));
            assert_eq!(&file[outer.range()], word);
        }
    }

    #[test]
    fn a_place_that_holds_an_entity_or_ends_with_it_holds_all_of_it() {
        let (file, text, mapping) = quoted();
        let at = text.find('&').expect("the sign");
        let outer = |from: usize, to: usize| &file[mapping.outer(Span::new(from, to)).range()];
        assert_eq!(outer(at, at + 1), "&amp;");
        assert_eq!(outer(at - 2, at + 1), "R &amp;");
        assert_eq!(outer(at, at + 3), "&amp; B");
    }

    #[test]
    fn a_place_at_the_end_of_a_line_has_none_of_the_mark_before_the_next() {
        let (file, text, mapping) = quoted();
        let end = text.find('\n').expect("the line end");
        let outer = mapping.outer(Span::new(end - 1, end + 1));
        assert_eq!(&file[outer.range()], "}\n");
    }

    #[test]
    fn a_finding_is_moved_with_its_mend_and_its_other_places() {
        let mapping = Mapping::cut(Span::new(100, 200));
        let finding = Finding::new(Code::Spelling, Span::new(1, 2), String::new())
            .with_fix(Span::new(3, 4), String::new())
            .with_related(Span::new(5, 6), String::new());
        let moved = mapping.finding(finding);
        let fix = moved.fix.as_ref().map(|fix| fix.span);
        assert_eq!(moved.span, Span::new(101, 102));
        assert_eq!(fix, Some(Span::new(103, 104)));
        assert_eq!(moved.related[0].span, Span::new(105, 106));
    }
}
