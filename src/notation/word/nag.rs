//! Numeric annotation glyphs: the signs that stand for them and what they mean.
//! Meanings: PGN standard, section 10 (1994-03-12). Signs: common practice, no source.

/// Signs that authors type after a move and the glyph of each, longest first where one
/// begins another. `+` and `++` alone are check and mean nothing here.
pub const TYPED: &[(&str, u8)] = &[
    ("!!", 3),
    ("??", 4),
    ("!?", 5),
    ("?!", 6),
    ("!", 1),
    ("?", 2),
    ("\u{203c}", 3),
    ("\u{2047}", 4),
    ("\u{2049}", 5),
    ("\u{2048}", 6),
    ("+/-", 16),
    ("-/+", 17),
    ("+/\u{2212}", 16),
    ("\u{2212}/+", 17),
    ("+-", 18),
    ("-+", 19),
    ("+\u{2212}", 18),
    ("\u{2212}+", 19),
    ("+\u{2013}", 18),
    ("\u{2013}+", 19),
    ("+=", 14),
    ("=+", 15),
    ("\u{2a72}", 14),
    ("\u{2a71}", 15),
    ("\u{b1}", 16),
    ("\u{2213}", 17),
    ("\u{221e}", 13),
    ("\u{25a1}", 7),
    ("=", 10),
];

/// The glyph whose sign ends this word, and the sign's length in bytes. The longest sign wins.
pub fn sign_at_end(word: &str) -> Option<(u8, usize)> {
    // Nearly every word ends with a letter or a digit, or with one of these and `+` or `#`: no sign
    // does.
    let last = match word.as_bytes() {
        [.., before, b'+' | b'#'] => Some(before),
        bytes => bytes.last(),
    };
    if last.is_none_or(u8::is_ascii_alphanumeric) {
        return None;
    }
    let mut best: Option<(u8, usize)> = None;
    for &(sign, nag) in TYPED {
        if word.ends_with(sign) && best.is_none_or(|(_, length)| sign.len() > length) {
            best = Some((nag, sign.len()));
        }
    }
    best
}

/// How a glyph is drawn after its move; empty for one that is kept but not drawn.
pub fn sign(nag: u8) -> &'static str {
    match nag {
        1 => "!",
        2 => "?",
        3 => "!!",
        4 => "??",
        5 => "!?",
        6 => "?!",
        7 | 8 => "\u{25a1}",
        10..=12 => "=",
        13 => "\u{221e}",
        // Not U+2A72 and U+2A71, which few fonts have; the style sheet sets one sign over the other.
        14 => "+=",
        15 => "=+",
        16 => "\u{b1}",
        17 => "\u{2213}",
        18 | 20 => "+\u{2212}",
        19 | 21 => "\u{2212}+",
        22 | 23 => "\u{2299}",
        24..=29 => "\u{25cb}",
        30..=35 => "\u{21bb}",
        36..=39 => "\u{2191}",
        40 | 41 => "\u{2192}",
        130..=135 => "\u{21c6}",
        136..=139 => "\u{2295}",
        _ => "",
    }
}

/// Whether a glyph annotates the move itself (1 to 9) and so is close to it, or the
/// position after it (section 10).
pub fn is_of_the_move(nag: u8) -> bool {
    (1..=9).contains(&nag)
}

/// Whether a glyph calls a move weak: `?`, `??` or `?!`.
pub fn is_weak(nag: u8) -> bool {
    matches!(nag, 2 | 4 | 6)
}
