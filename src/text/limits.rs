//! Every limit that a text can meet, in one place; each has its finding.

/// Longest text that is read, in bytes (finding P002). A lesson is some kilobytes; this keeps
/// a page alive when someone points `src` at a collection.
pub const TEXT_BYTES: usize = 16 * 1024 * 1024;

/// Most nodes of one lesson (finding P010).
pub const NODES: usize = 100_000;

/// Deepest nesting of variations (finding P009). HTML parsers cut at 512 nested elements,
/// and a variation in the line list takes up to four.
pub const NESTING: usize = 64;

/// Most tags of one game (finding P029). The standard knows some forty.
pub const TAGS: usize = 256;

/// Longest quotation of a text in a message, in characters.
pub const QUOTED: usize = 60;

/// Most errors, and most other findings, kept of one text (finding P003 says that there were more),
/// so that a text that is not PGN does not fill the report.
pub const FINDINGS: usize = 1_000;

/// Longest run of moves in a locator. A game of chess is rarely longer than this many plies.
pub const LOCATOR_MOVES: usize = 1_000;

/// Most moves that the links of one lesson are compared with to find where they lead (finding
/// P063). A lesson of 1,000 positions and 1,000 links needs one million.
pub const LINK_LOOKS: usize = 20_000_000;

/// Most rows of a recap (finding P065). A card has some twenty; each row's address is looked for
/// in the whole lesson.
pub const RECAP_ROWS: usize = 500;

/// Most moves that a question asks for in a row (finding P066). Their orders are tried one by one.
pub const QUESTION_MOVES: u32 = 8;

/// Most moves that are played to find whether a reader's moves are those asked for in another
/// order; if that is not enough, the moves count as not asked for. Each takes some microseconds.
pub const ORDER_LOOKS: usize = 20_000;

/// Most positions whose recall is kept. Nobody learns more, and a page's storage holds them.
pub const POSITIONS: usize = 10_000;

/// Longest text of kept recall that is read, in bytes. That of as many positions as are kept is
/// shorter.
pub const PROGRESS_BYTES: usize = 4 * 1024 * 1024;

/// Most bytes that are read again and again to find which bracket or brace of a file is missing, one
/// too many, or in the wrong place; without an answer by then, each finding speaks for itself. A
/// lesson of ten thousand bytes is read some hundred times, mostly in part.
pub const BRACKET_BYTES: usize = 8 * 1024 * 1024;
