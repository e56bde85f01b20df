//! Reads one mention: the number, the dots and the word of a move as sentences write them.

use super::{Mention, Surroundings, Written};
use crate::notation::Letters;
use crate::notation::word::san::{self, Kind};
use crate::text::{is_letter, is_letter_or_digit};
use shakmaty::{Color, Role};

pub(crate) fn is_dot(sign: char) -> bool {
    sign == '.' || sign == '\u{2026}'
}

/// The mention that begins at a place.
pub(crate) fn read(text: &str, start: usize, letters: &Letters) -> Option<Mention> {
    let rest = &text[start..];
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let castles = rest.starts_with("0-0") || rest.starts_with("0\u{2013}0");
    let mut number = None;
    let mut word = start;
    if digits > 0 && !castles {
        if digits > 3 {
            return None;
        }
        number = rest[..digits].parse().ok().filter(|&number| number > 0);
        number?;
        word += digits;
    }
    let dots = text[word..].find(|sign| !is_dot(sign)).unwrap_or(0);
    let written = &text[word..word + dots];
    word += dots;
    let side = match written.chars().count() {
        0 => None,
        1 if written.starts_with('.') => Some(Color::White),
        _ => Some(Color::Black),
    };
    if number.is_none() && side == Some(Color::White) {
        return None; // a full stop
    }
    let spaces = spaces(&text[word..]);
    if spaces > 0 {
        // `6. Bd3`, `6 Bd3`, `6. ...Nc6`; three dots without a number are close to their move.
        number?;
        word += spaces;
        let more = text[word..].find(|sign| !is_dot(sign)).unwrap_or(0);
        if more > 0 {
            if side == Some(Color::Black) || &text[word..word + more] == "." {
                return None;
            }
            word += more;
            // `4 ... dxc4`, `4. ... dxc4`
            word += usize::from(text[word..].starts_with(' '));
            return read_word(text, start, word, letters, number, Some(Color::Black));
        }
    }
    read_word(text, start, word, letters, number, side)
}

/// White space that does not end a line, as between a number and its move: at most one sign.
fn spaces(rest: &str) -> usize {
    let first = rest.chars().next();
    first
        .filter(|sign| sign.is_whitespace())
        .map_or(0, char::len_utf8)
}

fn read_word(
    text: &str,
    start: usize,
    from: usize,
    letters: &Letters,
    number: Option<u32>,
    side: Option<Color>,
) -> Option<Mention> {
    let rest = &text[from..];
    let end = word_end(rest);
    let mut word = &rest[..end];
    // A sentence may end with a question: its sign is read as the move's sign too, which does no
    // harm.
    let mut letters_after = rest[end..].chars();
    let (after, next) = (letters_after.next(), letters_after.next());
    let goes_on = match after {
        Some('-' | '\u{2010}' | '\u{2011}' | '\'' | '\u{2019}') if number.is_some() => {
            // `the 6.Be2-line`, `5...gxf6's fame`
            next.is_none_or(|sign| !is_letter(sign))
        }
        Some('/') if number.is_some() => next.is_none_or(|sign| !sign.is_ascii_digit()),
        Some('-' | '/' | '_' | '@' | '\u{2010}' | '\u{2011}') => true,
        Some('\u{2013}' | '\'' | '\u{2019}' | ':') => next.is_some_and(is_letter_or_digit),
        Some(sign) => is_letter_or_digit(sign),
        None => false,
    };
    if goes_on {
        return None;
    }
    // `6...Nc6=` at a sentence's end; evaluation signs stay with their move.
    if word.ends_with('=') && !word.ends_with("+=") {
        word = word.trim_end_matches('=');
    }
    let read = [letters, Letters::ENGLISH].into_iter().find_map(|letters| {
        let read = san::read(word, letters);
        Some((read.shape?, read.core))
    });
    let (shape, core) = read?;
    if shape.kind == Kind::Pass {
        return None;
    }
    // `e2-e4`; `the d1-h5 diagonal` has no number.
    let joined = core.get(2..).is_some_and(|rest| rest.starts_with(is_dash));
    let squares = core.bytes().filter(u8::is_ascii_digit).count();
    let bare = core.len() == 2 && squares == 1 || joined && number.is_none();
    // `E4` and `A6` are no moves; small piece letters are not read in prose.
    if let Kind::Piece { role, .. } = shape.kind
        && role.is_none_or(|role| role == Role::Pawn)
        && core.starts_with(|sign: char| sign.is_ascii_uppercase())
    {
        return None;
    }
    Some(Mention {
        range: start..from + word.len(),
        word: from..from + word.len(),
        number,
        side,
        shape,
        written: Written {
            is_bare: bare,
            has_zeros: core.contains(['0', 'o']),
            has_check: word.trim_end_matches(['!', '?']).ends_with(['+', '#']),
        },
        around: Surroundings::default(),
    })
}

fn is_dash(sign: char) -> bool {
    matches!(sign, '-' | '\u{2013}')
}

/// How far a word that may be a move goes: letters, digits, `x`, `=`, castling's dashes, and the
/// signs of check and judgement after it.
fn word_end(rest: &str) -> usize {
    // `O-O-O`, `o-o`, `0–0`; a dash at the end joins it to a word.
    let castles = rest.find(|sign| !matches!(sign, 'O' | 'o' | '0') && !is_dash(sign));
    let castles = rest[..castles.unwrap_or(rest.len())].trim_end_matches(is_dash);
    if !castles.is_empty() {
        return castles.len() + signs(&rest[castles.len()..]);
    }
    let mut end = 0;
    let mut letters = rest.char_indices().peekable();
    while let Some((at, sign)) = letters.next() {
        let inside = is_letter_or_digit(sign)
            || matches!(sign, '\u{2654}'..='\u{265f}' | '\u{fe0e}' | '\u{fe0f}' | '\u{d7}' | '=')
            // `e2-e4`, `Ng1-f3`, and `Bc4:f7` as in old books.
            || ((is_dash(sign) || sign == ':')
                && rest[..at].ends_with(|last: char| last.is_ascii_digit())
                && rest[..at].len() >= 2
                && letters.peek().is_some_and(|&(_, next)| ('a'..='h').contains(&next)));
        if !inside {
            break;
        }
        end = at + sign.len_utf8();
    }
    // `b8(Q)`
    let more = &rest[end..];
    if more.len() > 2
        && more.starts_with('(')
        && more[1..].starts_with(['Q', 'R', 'B', 'N'])
        && more[2..].starts_with(')')
    {
        end += 3;
    }
    end + signs(&rest[end..])
}

fn signs(rest: &str) -> usize {
    rest.find(|sign| {
        !matches!(
            sign,
            '+' | '#'
                | '!'
                | '?'
                | '='
                | '\u{b1}'
                | '\u{2213}'
                | '\u{221e}'
                | '\u{2a71}'
                | '\u{2a72}'
        )
    })
    .unwrap_or(rest.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::mention::mentions;

    fn found(text: &str) -> Vec<(&str, &str)> {
        let all = mentions(text, Letters::ENGLISH).into_iter();
        all.map(|it| (&text[it.range], &text[it.word])).collect()
    }

    #[test]
    fn dots_may_stand_apart_from_number_and_move() {
        for text in [
            "5... Nc6",
            "5. ... Nc6",
            "5. \u{2026} Nc6",
            "5 ... Nc6",
            "5\u{2026}Nc6",
        ] {
            assert_eq!(found(text), [(text, "Nc6")]);
            let side = mentions(text, Letters::ENGLISH).remove(0).side;
            assert_eq!(side, Some(Color::Black), "{text}");
        }
    }

    #[test]
    fn castling_is_read_with_each_dash_and_with_zeros() {
        for word in [
            "O-O",
            "0-0",
            "O\u{2013}O",
            "0\u{2013}0",
            "O-O-O",
            "0\u{2013}0\u{2013}0",
            "o-o",
        ] {
            assert_eq!(found(&["after ", word, " now"].concat()).len(), 1, "{word}");
        }
        assert_eq!(found("the 6.O-O-line"), [("6.O-O", "O-O")]);
        assert!(found("O-o-oh, o-o-oh").is_empty());
        assert!(
            mentions("0\u{2013}0", Letters::ENGLISH)[0]
                .written
                .has_zeros
        );
        assert!(found("it ended 1-0 or 0-1").is_empty());
    }

    #[test]
    fn a_promotion_may_stand_in_brackets() {
        assert_eq!(found("63.b8(Q) wins"), [("63.b8(Q)", "b8(Q)")]);
        assert_eq!(found("63.b8 (quietly)"), [("63.b8", "b8")]);
    }

    #[test]
    fn a_numbered_move_may_be_joined_to_a_word_or_to_another_move() {
        assert_eq!(found("the 6.Be2-line"), [("6.Be2", "Be2")]);
        assert_eq!(found("5...gxf6's fame"), [("5...gxf6", "gxf6")]);
        assert_eq!(found("6.Bd3/6.Be2"), [("6.Bd3", "Bd3"), ("6.Be2", "Be2")]);
        assert!(
            found("an Nf3-line").is_empty(),
            "without a number it is a name"
        );
    }

    #[test]
    fn a_pawn_s_move_by_its_squares_is_bare_as_a_diagonal_is_unless_it_has_a_number() {
        let bare = |text| mentions(text, Letters::ENGLISH)[0].written.is_bare;
        assert!(bare("the d1-h5 diagonal"));
        assert_eq!(found("1.e2-e4"), [("1.e2-e4", "e2-e4")]);
        assert!(!bare("1.e2-e4"));
    }

    #[test]
    fn a_written_check_is_kept() {
        let checks = |text| mentions(text, Letters::ENGLISH)[0].written.has_check;
        assert!(checks("Qg2+!") && checks("Qg2#") && !checks("Qg2!"));
    }
}
