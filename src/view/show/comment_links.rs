//! The moves that the author names in a comment, made links: found by the scanner of prose, which
//! begins at the comment's own position.

use crate::lesson::place::address::address;
use crate::lesson::prose::{Context, Place, named};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::comment::{Paragraph, Piece};
use crate::text::join;

/// Links the moves that paragraphs name. What is a link or a mark already stays what it is, and so
/// does a move that can be played nowhere. A link to a node is `#` and the node's number.
pub(crate) fn link_moves(
    lesson: &Lesson,
    letters: &Letters,
    at: NodeId,
    paragraphs: &mut [Paragraph],
) {
    let mut context = Context::at(Place::of(at));
    for paragraph in paragraphs {
        let mut text = String::new();
        let mut starts = Vec::new();
        for piece in &paragraph.pieces {
            starts.push(text.len());
            match is_text(piece) {
                true => text.push_str(&piece.text),
                false => text.push('\u{fffc}'), // something stands there
            }
        }
        // From the end, so that places stay what they are.
        for found in named(lesson, letters, &mut context, &text)
            .into_iter()
            .rev()
        {
            let Ok(place) = found.place else { continue };
            let ix = starts.partition_point(|&start| start <= found.range.start);
            let Some(ix) = ix.checked_sub(1) else {
                continue;
            };
            let Some(start) = starts.get(ix) else {
                continue;
            };
            let (from, to) = (found.range.start - start, found.range.end - start);
            let Some(piece) = paragraph.pieces.get_mut(ix).filter(|piece| is_text(piece)) else {
                continue;
            };
            // None where it goes on in the next piece.
            let (Some(word), Some(after)) = (piece.text.get(from..to), piece.text.get(to..)) else {
                continue;
            };
            let run = match place.aside.is_empty() {
                true => place.node.to_string(),
                false => address(lesson, &place),
            };
            let linked = Piece {
                text: word.to_owned(),
                link: Some(join(&["#", &run], "")),
                ..piece.clone()
            };
            let after = Piece {
                text: after.to_owned(),
                ..piece.clone()
            };
            piece.text.truncate(from);
            let more = [linked, after].into_iter();
            let more = more.filter(|piece| !piece.text.is_empty());
            paragraph.pieces.splice(ix + 1..ix + 1, more);
        }
        paragraph.pieces.retain(|piece| !piece.text.is_empty());
    }
}

fn is_text(piece: &Piece) -> bool {
    piece.link.is_none() && piece.mark.is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::notation::comment;

    /// The pieces of a comment behind 2...Nc6, each with its link.
    fn linked(said: &str) -> Vec<(String, String)> {
        let text = format!("1. e4 e5 2. Nf3 Nc6 {{{said}}} 3. Bb5 (3. Bc4 Bc5) 3... a6 *");
        let lesson = lesson(&text);
        let mut list = comment::paragraphs(said);
        link_moves(&lesson, Letters::ENGLISH, 4, &mut list);
        let pieces = list.into_iter().flat_map(|paragraph| paragraph.pieces);
        let shown = pieces.map(|piece| (piece.text, piece.link.unwrap_or_default()));
        shown.collect()
    }

    fn links(said: &str) -> Vec<(String, String)> {
        let pieces = linked(said).into_iter();
        pieces.filter(|(_, link)| !link.is_empty()).collect()
    }

    fn pairs(list: &[(&str, &str)]) -> Vec<(String, String)> {
        let owned = |&(text, link): &(&str, &str)| (text.to_owned(), link.to_owned());
        list.iter().map(owned).collect()
    }

    #[test]
    fn a_move_that_a_comment_names_is_linked_where_it_stands() {
        let said = "Now 3.Bb5 a6 is *usual*, and 3.d4 is tried.";
        let wanted = [
            ("Now ", ""),
            ("3.Bb5", "#5"),
            (" ", ""),
            ("a6", "#8"),
            (" is ", ""),
            ("usual", ""),
            (", and ", ""),
            ("3.d4", "#2...Nc6_3.d4"),
            (" is tried.", ""),
        ];
        assert_eq!(linked(said), pairs(&wanted));
    }

    #[test]
    fn what_cannot_be_played_and_what_is_linked_or_marked_already_stays_what_it_is() {
        assert_eq!(links("Not 3.Bb6, and @b5 is a square."), []);
        let own = "[3.Bc4](#3.Bc4) or 3.Bc4 again.";
        assert_eq!(links(own), pairs(&[("3.Bc4", "#3.Bc4"), ("3.Bc4", "#6")]));
    }
}
