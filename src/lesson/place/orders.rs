//! The nodes of a lesson in the orders by which moves are found.

use crate::lesson::ids::NodeId;

/// The nodes of a lesson in three orders. Node 0, to which no move leads, and passes, which have
/// no square, are in the first only.
#[derive(Clone, Debug, Default)]
pub(crate) struct Orders {
    /// By ply, then by line: no two agree in both.
    pub(super) by_ply: Vec<NodeId>,
    /// By ply, then by the square that the piece comes to, then in the order of a walk.
    pub(super) by_square: Vec<NodeId>,
    /// By piece and square, then by line, then by ply.
    pub(super) by_piece: Vec<NodeId>,
    /// For each node its place in a walk through the tree, and where the walk leaves it: what is
    /// played after it lies between the two.
    pub(super) walk: Vec<(u32, u32)>,
}
