//! Where the first sentence of a text ends. It is found by shape, not by language: in doubt the
//! longer sentence is taken, because half a sentence says the wrong thing.

use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{is_small, split};

/// The first sentence of a paragraph with the sign that ends it; all of it if there is none.
pub(crate) fn first_sentence(text: &str) -> &str {
    let mut end = 0;
    for word in split(text, b' ') {
        end += word.len();
        // After the last word there is no space.
        let after = text.get(end + 1..).unwrap_or_default();
        if ends_sentence(word.trim_end()) && !after.starts_with(is_small) {
            return text[..end].trim_end();
        }
        end += 1;
    }
    text
}

fn ends(sign: char) -> bool {
    matches!(sign, '.' | '!' | '?' | '\u{2026}')
}

/// Quotation marks and brackets, which are around a sentence or a word.
fn stands_around(sign: char) -> bool {
    matches!(
        sign,
        '"' | '\'' | '(' | ')' | '[' | ']' | '\u{2018}'..='\u{201e}' | '\u{ab}' | '\u{bb}'
    )
}

/// Whether a sentence ends with this word.
fn ends_sentence(word: &str) -> bool {
    let word = word.trim_matches(stands_around);
    if !word.ends_with(ends) {
        return false;
    }
    match word.strip_suffix('.') {
        // `4. cxd5` and `the 3. move`; `e.g.`, `z.B.` and initials.
        Some(word) => !is_number(word) && split(word, b'.').any(|part| part.len() > 1),
        None => !is_signed_move(word),
    }
}

fn is_number(word: &str) -> bool {
    (1..=3).contains(&word.len()) && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// `7.Qf3!`, whose sign is the move's.
fn is_signed_move(word: &str) -> bool {
    let word = word.trim_start_matches(|sign: char| sign.is_ascii_digit() || ends(sign));
    let read = san::read(word, Letters::ENGLISH);
    read.shape.is_some() && !read.signs.is_empty()
}

#[cfg(test)]
mod tests {
    use super::first_sentence;

    #[track_caller]
    fn assert_first(text: &str, first: &str) {
        assert_eq!(first_sentence(text), first);
    }

    #[test]
    fn a_sentence_ends_with_its_sign_before_a_space() {
        assert_first("Declined. The centre stays.", "Declined.");
        assert_first("Why? Because it is there.", "Why?");
        assert_first("He waits\u{2026} And waits.", "He waits\u{2026}");
        assert_first("\u{201c}No!\u{201d} She took it.", "\u{201c}No!\u{201d}");
        assert_first("(A quiet move.) The plan is slow.", "(A quiet move.)");
    }

    #[test]
    fn a_text_without_an_end_is_one_sentence() {
        assert_first("takes the pawn", "takes the pawn");
        assert_first("Only one.", "Only one.");
        assert_first("", "");
    }

    #[test]
    fn numbers_of_moves_end_no_sentence() {
        assert_first(
            "After 4. Nf3 all is well. Go on.",
            "After 4. Nf3 all is well.",
        );
        assert_first(
            "Next come ...Nxc3 and ...e5. Good.",
            "Next come ...Nxc3 and ...e5.",
        );
        assert_first("Better is 6.Nf3. White stands well.", "Better is 6.Nf3.");
        assert_first(
            "Erst im 3. Zug kommt er. Dann nicht.",
            "Erst im 3. Zug kommt er.",
        );
    }

    #[test]
    fn the_sign_of_a_move_ends_no_sentence() {
        assert_first(
            "After 7.Qf3! Black resigns. So be it.",
            "After 7.Qf3! Black resigns.",
        );
        assert_first("What a move! Black resigns.", "What a move!");
    }

    #[test]
    fn abbreviations_end_no_sentence() {
        assert_first(
            "A pin, e.g. Bg5, hurts. So take care.",
            "A pin, e.g. Bg5, hurts.",
        );
        assert_first("Ein Zug, z.B. Lg5. Er fesselt.", "Ein Zug, z.B. Lg5.");
        assert_first(
            "It was too slow (cf. line A). Now go.",
            "It was too slow (cf. line A).",
        );
    }
}
