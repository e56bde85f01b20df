//! The numbers of nodes and lines.

/// Number of a node in its lesson: 0 is the start, then the order of the moves in the text.
pub type NodeId = u32;

/// Number of a line in its lesson: 0 is the main line, then the order of the text.
pub type LineId = u32;
