//! Arrows and routes in comments that begin on a square on which nothing stands.

use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::notation::comment::passage::{Does, Paragraph};
use crate::text::{Code, Finding, Findings};
use shakmaty::Position;

/// The arrows of a lesson's comments that begin on an empty square.
pub(super) fn arrows(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        for comment in &node.comments {
            of_comment(lesson, id, comment, &mut findings);
        }
    }
    findings
}

fn of_comment(lesson: &Lesson, id: NodeId, comment: &Comment, findings: &mut Findings) {
    let board = lesson.node(id).position.board();
    let mut named = None;
    for passage in comment.passages().filter(|it| !it.is_plain()) {
        for piece in passage.paragraphs().flat_map(Paragraph::pieces) {
            let Does::Marks(mark) = piece.does else {
                continue;
            };
            let Some(&from) = mark.squares.first().filter(|_| mark.squares.len() > 1) else {
                continue;
            };
            // Where the words name the square too, a piece may come to it first.
            if board.piece_at(from).is_some() {
                continue;
            }
            let named = named.get_or_insert_with(|| named_squares(comment.text()));
            if named[from as usize] > 1 {
                continue;
            }
            let name = from.to_string();
            let place = match id {
                0 => "at the start".to_owned(),
                _ => format!("after {}", lesson.numbered(id)),
            };
            let message = format!("this arrow begins on {name}, where nothing stands {place}");
            findings.push(Finding::new(Code::ArrowFromEmpty, piece.span, message));
        }
    }
}

/// How often a text names each square.
fn named_squares(text: &str) -> [u32; 64] {
    let mut named = [0; 64];
    for pair in text.as_bytes().windows(2) {
        if let (file @ b'a'..=b'h', rank @ b'1'..=b'8') = (pair[0], pair[1]) {
            named[usize::from(rank - b'1') * 8 + usize::from(file - b'a')] += 1;
        }
    }
    named
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    #[test]
    fn an_arrow_begins_where_a_piece_stands() {
        let found = |text| words_of(text, Code::ArrowFromEmpty);
        assert_eq!(found("1. e4 {with @e3-e5} e5 {x} *"), ["@e3-e5"]);
        assert!(found("1. e4 {with @e4-e5 and @d2-d4} e5 {x} *").is_empty());
        assert!(found("1. e4 {first Bd3, then @d3-h7} e5 {x} *").is_empty());
    }
}
