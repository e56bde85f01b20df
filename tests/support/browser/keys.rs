//! Key codes of the WebDriver standard, section "Keyboard actions".

pub const TAB: char = '\u{E004}';
pub const ENTER: char = '\u{E007}';
pub const SHIFT: char = '\u{E008}';
pub const CONTROL: char = '\u{E009}';
pub const ALT: char = '\u{E00A}';
pub const ESCAPE: char = '\u{E00C}';
pub const END: char = '\u{E010}';
pub const HOME: char = '\u{E011}';
pub const LEFT: char = '\u{E012}';
pub const UP: char = '\u{E013}';
pub const RIGHT: char = '\u{E014}';
pub const DOWN: char = '\u{E015}';
pub const META: char = '\u{E03D}';
