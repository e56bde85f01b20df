//! Arrows and routes in comments that begin on a square on which nothing stands.

use crate::lesson::reason::phrases::{a, list, piece_at};
use crate::lesson::{Lesson, NodeId, rules};
use crate::notation::comment::passage::{Does, Paragraph};
use crate::notation::word::san;
use crate::notation::{Comment, Letters};
use crate::text::{Code, Finding, Findings};
use shakmaty::{Chess, Position, Square};

/// Most squares that are offered instead.
const OFFERED: usize = 3;

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
            let mut finding = Finding::new(Code::ArrowFromEmpty, piece.span, message);
            let to = mark.squares.get(1).copied().unwrap_or(from);
            if let Some(help) = way_out(lesson, id, from, to) {
                finding = finding.with_help(help);
            }
            findings.push(finding);
        }
    }
}

/// Where the piece may be that an arrow is about: where it has just gone, or on a square that is
/// written much the same and from which it can go on.
fn way_out(lesson: &Lesson, id: NodeId, from: Square, to: Square) -> Option<String> {
    let position = &lesson.node(id).position;
    let played = lesson.node(id).played;
    if let Some(played) = played.filter(|it| it.from() == Some(from)) {
        let now = played.to();
        let piece = piece_at(position, now);
        return Some(format!("{piece} has just come from there: begin on {now}"));
    }
    let other = rules::pass(position);
    let can = |word: &str| {
        let shape = san::read(word, Letters::ENGLISH).shape;
        let plays = |position: &Chess| {
            let shape = shape.as_ref();
            shape.is_some_and(|shape| rules::resolve(position, shape).is_ok())
        };
        plays(position) || other.as_ref().is_some_and(plays)
    };
    let near = Square::ALL.into_iter().filter(|near| {
        let is_near = (near.file() == from.file()) != (near.rank() == from.rank());
        is_near && position.board().piece_at(*near).is_some() && can(&format!("{near}{to}"))
    });
    let ways = near.map(|near| format!("{near} (there {} stands)", stood(position, near)));
    let ways: Vec<String> = ways.take(OFFERED).collect();
    (!ways.is_empty()).then(|| format!("to {to} one can go from {}", list(ways, "or")))
}

fn stood(position: &Chess, square: Square) -> String {
    let piece = position.board().piece_at(square);
    piece.map_or(String::new(), |it| a(it.role, it.color))
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
    use crate::check::author::given::{checked, words_of};
    use crate::text::Code;

    #[test]
    fn an_arrow_from_an_empty_square_is_told_where_its_piece_is() {
        let help = |text: &str| {
            let (_, findings) = checked(text);
            let first = findings.iter().find(|it| it.code == Code::ArrowFromEmpty);
            first.and_then(|it| it.help.clone())
        };
        assert_eq!(
            help("1. e4 {with @e3-e5} e5 {x} *").as_deref(),
            Some(
                "to e5 one can go from e4 (there a white pawn stands) or e7 (there a black pawn stands)"
            )
        );
        assert_eq!(
            help("1. e4 {so: @e2-e4} e5 {x} *").as_deref(),
            Some("the pawn on e4 has just come from there: begin on e4")
        );
        assert_eq!(help("1. e4 {so: @e6-a3} e5 {x} *"), None);
    }

    #[test]
    fn an_arrow_begins_where_a_piece_stands() {
        let found = |text| words_of(text, Code::ArrowFromEmpty);
        assert_eq!(found("1. e4 {with @e3-e5} e5 {x} *"), ["@e3-e5"]);
        assert!(found("1. e4 {with @e4-e5 and @d2-d4} e5 {x} *").is_empty());
        assert!(found("1. e4 {first Bd3, then @d3-h7} e5 {x} *").is_empty());
    }
}
