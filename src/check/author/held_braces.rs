//! Comments that hold the beginning of another, because their own end is lost or braces are among
//! their words.

use crate::notation::{Game, ItemKind};
use crate::text::{Source, has};

/// How many comments hold the beginning of another.
pub(super) fn held_braces(source: &Source, game: &Game) -> usize {
    let mut braces = 0;
    // So many at a time that a byte counts them, because many are compared at once then.
    for part in source.slice(game.span).as_bytes().chunks(255) {
        let mut count = 0u8;
        for &byte in part {
            count += u8::from(byte == b'{');
        }
        braces += usize::from(count);
    }
    if braces == 0 {
        return 0;
    }
    let (mut begun, mut held) = (0, 0);
    each_comment(source, game, |_| begun += 1);
    // Nearly always each brace begins one.
    if begun != braces {
        each_comment(source, game, |words| held += usize::from(has(words, b'{')));
    }
    held
}

/// Gives the words of each comment in braces.
fn each_comment(source: &Source, game: &Game, mut to: impl FnMut(&str)) {
    for line in &game.lines {
        for item in &line.items {
            if item.kind == ItemKind::Comment
                && let Some(words) = source.slice(item.span).strip_prefix('{')
            {
                to(words);
            }
        }
    }
}
