//! Where the moves of a lesson are played: found by number, and by piece and square, without
//! looking at every node. Made when it is first asked for, once for a lesson.

use super::Place;
use super::number::Number;
use super::orders::Orders;
use super::sorted::{one, sorted};
use crate::lesson::rules::landing;
use crate::lesson::tree::{Lesson, LineId, NodeId};
use crate::notation::word::san::{Kind, Shape};
use crate::text::Listed;
use shakmaty::{CastlingSide, Color, File, Move, Position, Rank, Role, Square};

/// How many nodes are looked at that have the ply, or the piece, and the square which are wanted: a
/// text with hundreds of moves to one square at one ply is no lesson, but reading it must end too.
const LOOKS: usize = 64;

/// How many moves of one piece to one square are all looked at.
const ALL: usize = 24;

/// The mover, its piece and the square that it comes to, in one number.
fn piece(color: Color, role: Role, to: Square) -> u32 {
    (color as u32 * 8 + role as u32) * 64 + to as u32
}

impl Lesson {
    /// Its nodes in their orders, which are made when they are first asked for.
    pub(crate) fn orders(&self) -> &Orders {
        self.orders.get_or_init(|| Box::new(Orders::new(self)))
    }
}

impl Orders {
    pub(crate) fn new(lesson: &Lesson) -> Orders {
        let mut orders = Orders {
            walk: walk(lesson),
            ..Orders::default()
        };
        let mut keys = [const { Vec::new() }; 3];
        let [by_ply, by_square, by_piece] = &mut keys;
        for id in lesson.ids() {
            let (ply, line) = ply_key(lesson, id);
            by_ply.push(one([0, ply, line, id]));
            if lesson.node(id).played.is_some() {
                let (ply, to) = square_key(lesson, id);
                by_square.push(one([0, ply << 6 | to, entered(&orders.walk, id), id]));
                let (piece, line, ply) = piece_key(lesson, id);
                by_piece.push(one([piece, line, ply, id]));
            }
        }
        let [by_ply, by_square, by_piece] = keys;
        orders.by_ply = sorted(by_ply);
        orders.by_square = sorted(by_square);
        orders.by_piece = sorted(by_piece);
        orders
    }

    /// The node of a line at a ply.
    fn on_line(&self, lesson: &Lesson, line: LineId, ply: u32) -> Option<NodeId> {
        let key = |id: &NodeId| ply_key(lesson, *id);
        let at = self.by_ply.binary_search_by_key(&(ply, line), key).ok()?;
        self.by_ply.get(at).copied()
    }

    /// The place at a ply on the way to another, or on from it by the lesson's first moves; from a
    /// place beside the lesson nothing goes on.
    fn on_way(&self, lesson: &Lesson, last: &Place, ply: u32) -> Option<Place> {
        let node = lesson.node(last.node);
        if ply > node.ply && !last.aside.is_empty() {
            let aside = last.aside.get(..(ply - node.ply) as usize)?.to_vec();
            let node = last.node;
            return Some(Place { node, aside });
        }
        // Up by lines and not by nodes: these are nested at most `limits::NESTING` deep.
        let mut line = node.line;
        while let first = lesson.node(lesson.line(line).first)
            && first.ply > ply
        {
            line = lesson.node(first.parent?).line;
        }
        self.on_line(lesson, line, ply).map(Place::of)
    }

    /// The places on that way from which a move has this number, the first first: at most two,
    /// where the number names no side.
    pub(crate) fn numbered(&self, lesson: &Lesson, last: &Place, number: Number) -> Vec<Place> {
        let mut list = Vec::new();
        for ply in plies(lesson, number) {
            let place = self.on_way(lesson, last, ply);
            list.extend(place.filter(|place| number.agrees(place.position(lesson))));
        }
        list
    }

    /// The nodes that such a move with this number leads to: those below `last` first, then the
    /// least nested, then in the order of the text.
    pub(crate) fn anywhere(
        &self,
        lesson: &Lesson,
        number: Number,
        shape: &Shape,
        last: NodeId,
    ) -> Vec<NodeId> {
        let mut found = Vec::new();
        let (enters, leaves) = self.walk.get(last as usize).copied().unwrap_or_default();
        let is_below = |id: NodeId| (enters..leaves).contains(&entered(&self.walk, id));
        for ply in plies(lesson, number) {
            let Some(to) = target(shape, mover(lesson, ply)) else {
                continue;
            };
            let all = self.at_square(lesson, ply + 1, to);
            let from = all.partition_point(|&id| entered(&self.walk, id) < enters);
            let below = all.get(from..).unwrap_or_default();
            let below = below.iter().take_while(|&&id| is_below(id));
            let others = all.iter().filter(|&&id| !is_below(id));
            for (elsewhere, &id) in (below.take(LOOKS).map(|id| (false, id)))
                .chain(others.take(LOOKS).map(|id| (true, id)))
            {
                let before = lesson.node(id).parent.unwrap_or(0);
                let agrees = number.agrees(&lesson.node(before).position);
                if agrees && Place::of(id).is_by(lesson, shape) {
                    let depth = super::depth(lesson, id) as u64;
                    found.push(u64::from(elsewhere) << 63 | depth << 32 | u64::from(id));
                }
            }
        }
        found.sort_unstable();
        found.iter().map(|key| *key as NodeId).listed()
    }

    /// The nodes at a ply whose move comes to a square, in the order of the walk.
    pub(crate) fn at_square(&self, lesson: &Lesson, ply: u32, to: Square) -> &[NodeId] {
        let key = |id: NodeId| square_key(lesson, id);
        let wanted = (ply, to as u32);
        let from = self.by_square.partition_point(|&id| key(id) < wanted);
        let to = self.by_square.partition_point(|&id| key(id) <= wanted);
        self.by_square.get(from..to).unwrap_or_default()
    }

    /// The nodes to which such a move of one of these sides leads, by piece, then by line, then by
    /// ply; none where there are more than [`ALL`] of that piece and square.
    pub(crate) fn all_by(
        &self,
        lesson: &Lesson,
        shape: &Shape,
        side: Option<Color>,
    ) -> Option<Vec<NodeId>> {
        let mut list = Vec::new();
        for piece in pieces(shape, side) {
            let key = |id: NodeId| piece_key(lesson, id).0;
            let from = self.by_piece.partition_point(|&id| key(id) < piece);
            for (looks, &id) in self.by_piece.iter().skip(from).enumerate() {
                if key(id) != piece {
                    break;
                }
                if looks == ALL {
                    return None;
                }
                if Place::of(id).is_by(lesson, shape) {
                    list.push(id);
                }
            }
        }
        Some(list)
    }

    /// Whether a node is on the way to another, or is that one.
    pub(crate) fn leads_to(&self, node: NodeId, other: NodeId) -> bool {
        let (enters, leaves) = self.walk.get(node as usize).copied().unwrap_or_default();
        (enters..leaves).contains(&entered(&self.walk, other))
    }
}

fn entered(walk: &[(u32, u32)], id: NodeId) -> u32 {
    walk.get(id as usize).map_or(0, |&(enters, _)| enters)
}

fn ply_key(lesson: &Lesson, id: NodeId) -> (u32, LineId) {
    let node = lesson.node(id);
    (node.ply, node.line)
}

fn square_key(lesson: &Lesson, id: NodeId) -> (u32, u32) {
    let node = lesson.node(id);
    let to = node.played.map_or(64, |played| landing(played) as u32);
    (node.ply, to)
}

fn piece_key(lesson: &Lesson, id: NodeId) -> (u32, LineId, u32) {
    let node = lesson.node(id);
    let color = !node.position.turn();
    let piece = |played: Move| piece(color, played.role(), landing(played));
    (node.played.map_or(u32::MAX, piece), node.line, node.ply)
}

/// The walk goes through the first child of a node before the others.
fn walk(lesson: &Lesson) -> Vec<(u32, u32)> {
    let mut walk = vec![(0, 0); lesson.nodes.len()];
    let mut count = 0;
    // Each open node with its next child.
    let mut open = vec![(0, 0)];
    while let Some((id, next)) = open.last_mut() {
        let children = &lesson.node(*id).children;
        match children.get(*next) {
            Some(&child) => {
                *next += 1;
                count += 1;
                if let Some(place) = walk.get_mut(child as usize) {
                    place.0 = count;
                }
                open.push((child, 0));
            }
            None => {
                if let Some(place) = walk.get_mut(*id as usize) {
                    place.1 = count + 1;
                }
                open.pop();
            }
        }
    }
    walk
}

/// The plies at which a move with this number is played. Sides alternate, passes included.
fn plies(lesson: &Lesson, number: Number) -> impl Iterator<Item = u32> {
    let start = &lesson.node(0).position;
    let half = |value: u32, side: Color| 2 * u64::from(value) + u64::from(side.is_black());
    let begins = half(start.fullmoves().get(), start.turn());
    let sides = [Color::White, Color::Black].into_iter();
    let sides = sides.filter(move |&it| number.side.is_none_or(|side| side == it));
    sides.filter_map(move |side| {
        let ply = half(number.value, side).checked_sub(begins)?;
        u32::try_from(ply).ok()
    })
}

/// The side that moves at a ply.
fn mover(lesson: &Lesson, ply: u32) -> Color {
    let first = lesson.node(0).position.turn();
    if ply.is_multiple_of(2) { first } else { !first }
}

/// The square that a move comes to.
fn target(shape: &Shape, color: Color) -> Option<Square> {
    match shape.kind {
        Kind::Piece { to, .. } => Some(to),
        Kind::Castle(side) => {
            let file = match side {
                CastlingSide::KingSide => File::G,
                CastlingSide::QueenSide => File::C,
            };
            let rank = color.fold_wb(Rank::First, Rank::Eighth);
            Some(Square::from_coords(file, rank))
        }
        Kind::Pass => None,
    }
}

/// The pieces that such a move of one of these sides may be of.
fn pieces(shape: &Shape, side: Option<Color>) -> Vec<u32> {
    let role = match shape.kind {
        Kind::Piece { role, .. } => role,
        Kind::Castle(_) => Some(Role::King),
        Kind::Pass => return Vec::new(),
    };
    let mut list = Vec::new();
    for color in [Color::White, Color::Black] {
        let Some(to) = target(shape, color).filter(|_| side.is_none_or(|side| side == color))
        else {
            continue;
        };
        for it in Role::ALL {
            if role.is_none_or(|role| role == it) {
                list.push(piece(color, it, to));
            }
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given;
    use crate::notation::Letters;
    use crate::notation::word::san;

    const TEXT: &str = "1. e4 e5 (1... c5 2. Nf3 d6 (2... Nc6 3. Bb5 (3. d4 cxd4 4. Nxd4)) 3. d4) \
        (1... -- 2. d4) 2. Nf3 (2. f4 exf4 3. Nf3) 2... Nc6 3. Bb5 a6 4. O-O Nf6 5. Re1 Be7 *";

    fn number(value: u32, side: Option<Color>) -> Number {
        Number { value, side }
    }

    #[test]
    fn the_place_with_a_number_is_found_on_the_way_and_on_from_it() {
        let lesson = given::lesson(TEXT);
        let played = Orders::new(&lesson);
        let sides = [None, Some(Color::White), Some(Color::Black)];
        for last in lesson.ids() {
            let mut way = lesson.path(last);
            let on = core::iter::successors(Some(last), |&id| lesson.next_on_line(id));
            way.extend(on.skip(1));
            for (value, side) in (0..8).flat_map(|value| sides.map(|side| (value, side))) {
                let number = number(value, side);
                let agrees = |id: &NodeId| number.agrees(&lesson.node(*id).position);
                let wanted: Vec<Place> =
                    way.iter().copied().filter(agrees).map(Place::of).collect();
                let found = played.numbered(&lesson, &Place::of(last), number);
                assert_eq!(found, wanted, "{value} {side:?} from {last}");
            }
        }
    }

    #[test]
    fn beside_the_lesson_it_is_found_among_the_moves_tried() {
        let lesson = given::lesson(TEXT);
        let shape = |word: &str| san::read(word, Letters::ENGLISH).shape.expect("a move");
        let mut beside = Place::of(1);
        for word in ["e6", "d4", "d5"] {
            beside = beside.after(&lesson, &shape(word)).expect("legal");
        }
        let played = Orders::new(&lesson);
        let at = |value, side| played.numbered(&lesson, &beside, number(value, Some(side)));
        assert_eq!(at(1, Color::Black), [Place::of(1)]);
        assert_eq!(at(2, Color::Black)[0].aside.len(), 2);
        assert_eq!(at(3, Color::White), [beside.clone()]);
        assert_eq!(at(3, Color::Black), []);
    }

    #[test]
    fn moves_are_found_wherever_they_are_played() {
        let lesson = given::lesson(TEXT);
        let played = Orders::new(&lesson);
        for word in [
            "Nf3", "d4", "Bb5", "O-O", "e1g1", "Nxd4", "e5", "g1f3", "cxd4", "Qd1",
        ] {
            let shape = san::read(word, Letters::ENGLISH).shape.expect("a move");
            let by = |id: &NodeId| Place::of(*id).is_by(&lesson, &shape);
            let all: Vec<NodeId> = lesson.ids().filter(by).collect();
            let mut found = played.all_by(&lesson, &shape, None).expect("few");
            found.sort_unstable();
            assert_eq!(found, all, "{word}");
            for last in lesson.ids() {
                let way = lesson.path(last);
                for &id in &all {
                    assert_eq!(played.leads_to(id, last), way.contains(&id), "{id} {last}");
                }
                for value in 1..6 {
                    let number = number(value, None);
                    let agrees = |id: &NodeId| {
                        let before = lesson.node(*id).parent.expect("a move");
                        number.agrees(&lesson.node(before).position)
                    };
                    let mut wanted: Vec<NodeId> = all.iter().copied().filter(agrees).collect();
                    let below = |id: NodeId| lesson.path(id).contains(&last);
                    wanted.sort_by_key(|&id| (!below(id), super::super::depth(&lesson, id), id));
                    let found = played.anywhere(&lesson, number, &shape, last);
                    assert_eq!(found, wanted, "{value}.{word} from {last}");
                }
            }
        }
    }
}
