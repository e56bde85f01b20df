//! The moves that the author names in a comment, made links: found by the scanner of prose, which
//! begins at the comment's own position.

use crate::lesson::place::address::address;
use crate::lesson::prose::{Context, Place, named};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::view::show::text::{Does, Named, Paragraph, Piece};

/// Links the moves that paragraphs of the comment of node `by` name, which begins at a node. Links
/// and marks stay as they are, and so do moves that can be played nowhere, and those that `hides`
/// says an open question hides.
pub(crate) fn link_moves(
    lesson: &Lesson,
    letters: &Letters,
    at: NodeId,
    by: NodeId,
    hides: &dyn Fn(&Place) -> bool,
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
                false => text.push('\u{fffc}'), // something is there
            }
        }
        // From the end, so that the earlier places stay right.
        for found in named(lesson, letters, &mut context, &text)
            .into_iter()
            .rev()
        {
            let Ok(place) = found.place else { continue };
            if hides(&place) {
                continue;
            }
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
            // None if it continues in the next piece.
            let (Some(word), Some(after)) = (piece.text.get(from..to), piece.text.get(to..)) else {
                continue;
            };
            let names = match place.aside.is_empty() {
                true => Named::Node(place.node),
                false => Named::Beside(address(lesson, &place), by),
            };
            let linked = Piece {
                text: word.to_owned(),
                does: Does::Names(names),
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
    piece.does == Does::Says
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::view::show::text::paragraphs;

    /// The pieces of a comment after 2...Nc6, each with its link.
    fn linked(said: &str) -> Vec<(String, String)> {
        let text = format!("1. e4 e5 2. Nf3 Nc6 {{{said}}} 3. Bb5 (3. Bc4 Bc5) 3... a6 *");
        let lesson = lesson(&text);
        let told = lesson.node(4).comments[0].told().expect("no question");
        let mut list = paragraphs(&lesson, told);
        link_moves(&lesson, Letters::ENGLISH, 4, 4, &|_| false, &mut list);
        let pieces = list.into_iter().flat_map(|paragraph| paragraph.pieces);
        let shown = pieces.map(|piece| {
            let leads = match piece.does {
                Does::Names(Named::Node(node)) => node.to_string(),
                Does::Names(Named::Beside(run, 4)) => run,
                Does::LeadsTo(_) => "the author's".to_owned(),
                _ => String::new(),
            };
            (piece.text, leads)
        });
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
            ("3.Bb5", "5"),
            (" ", ""),
            ("a6", "8"),
            (" is ", ""),
            ("usual", ""),
            (", and ", ""),
            ("3.d4", "2...Nc6_3.d4"),
            (" is tried.", ""),
        ];
        assert_eq!(linked(said), pairs(&wanted));
    }

    #[test]
    fn what_cannot_be_played_and_what_is_linked_or_marked_already_stays_what_it_is() {
        assert_eq!(links("Not 3.Bb6, and @b5 is a square."), []);
        let own = "[3.Bc4](#3.Bc4) or 3.Bc4 again.";
        assert_eq!(
            links(own),
            pairs(&[("3.Bc4", "the author's"), ("3.Bc4", "6")])
        );
    }
}
