//! Nodes in an order, by numbers that say what they are found by.

use crate::lesson::tree::NodeId;
use crate::text::{Listed, limits};

/// Bits of a node's, a line's or a ply's number in a key.
const BITS: u32 = 17;
const _: () = assert!(limits::NODES < 1 << BITS);

/// What nodes are sorted by, with the node last, in one number: then one sorting of numbers serves
/// all three orders, where each of its own would cost the page a kilobyte. The parts fill 64 bits
/// while the first has 13, as a piece with its square has; where it is 0, the second has 30.
pub(super) fn one(parts: [u32; 4]) -> u64 {
    let mut key = 0;
    for part in parts {
        key = key << BITS | u64::from(part);
    }
    key
}

/// The nodes of such keys in the order of these.
pub(super) fn sorted(mut keys: Vec<u64>) -> Vec<NodeId> {
    keys.sort_unstable();
    let ids = keys.iter().map(|&key| key as NodeId & ((1 << BITS) - 1));
    ids.listed()
}
