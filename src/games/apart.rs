//! Where games are apart in a text, and whether all words of one are moves: crate pgn-reader passes over
//! words that it cannot read.

use pgn_reader::SanPlus;

/// Where the first game of a text ends: before a line with a bracket that comes after its moves.
pub fn end(text: &[u8]) -> usize {
    let mut from = movetext(text);
    while let Some(at) = text
        .get(from..)
        .and_then(|it| it.iter().position(|&it| it == b'['))
    {
        let at = from + at;
        if begins(text, at) {
            return at;
        }
        from = at + 1;
    }
    text.len()
}

/// Where the last game of a text begins; 0 if it has one only.
pub fn last(text: &[u8]) -> usize {
    let mut end = text.len();
    while let Some(at) = text
        .get(..end)
        .and_then(|it| it.iter().rposition(|&it| it == b'['))
    {
        if begins(text, at) {
            return at;
        }
        end = at;
    }
    0
}

/// Whether the tags of a game begin at a bracket: a tag begins a line there, and the line before is none. An
/// empty line is not needed, as for crate pgn-reader; a comment may have other brackets at the start of a line.
fn begins(text: &[u8], at: usize) -> bool {
    let Some(before) = text.get(..at).and_then(|it| it.strip_suffix(b"\n")) else {
        return false;
    };
    let from = before
        .iter()
        .rposition(|&it| it == b'\n')
        .map_or(0, |at| at + 1);
    is_tag(text.get(at..).unwrap_or_default()) && !is_tag(before.get(from..).unwrap_or_default())
}

/// Whether a tag is at the start of a text: a bracket, a name, and a value in quotation marks.
fn is_tag(text: &[u8]) -> bool {
    let Some(name) = text.strip_prefix(b"[") else {
        return false;
    };
    let is_sign = |it: &u8| it.is_ascii_alphanumeric() || *it == b'_';
    let length = name.iter().take_while(|it| is_sign(it)).count();
    let after = name.get(length..).unwrap_or_default();
    length > 0 && after.trim_ascii_start().starts_with(b"\"")
}

/// Where the tags of a game end.
fn movetext(text: &[u8]) -> usize {
    let mut at = 0;
    for line in text.split_inclusive(|&it| it == b'\n') {
        let is_tag = line
            .first()
            .is_some_and(|it| matches!(it, b'[' | b'%' | b'\r' | b'\n' | 0xef));
        if !is_tag {
            break;
        }
        at += line.len();
    }
    at
}

/// How far the words of a game's main line are moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moves<'a> {
    /// All are.
    All,
    /// As many as were wanted are; the next begins at this byte.
    Until(usize),
    /// This word, which begins at that byte, is none.
    Other(usize, &'a [u8]),
}

/// Whether the words of a game's main line are moves, up to so many.
pub fn is_read(text: &[u8], up_to: usize) -> bool {
    !matches!(moves(text, Some(up_to)), Moves::Other(..))
}

/// Reads the words of a game's main line, up to so many moves where the rest does not matter.
pub fn moves(text: &[u8], up_to: Option<usize>) -> Moves<'_> {
    let (mut at, mut read, mut depth) = (movetext(text), 0, 0_usize);
    while let Some(&sign) = text.get(at) {
        let until = |end: &dyn Fn(u8) -> bool| {
            let rest = text.get(at + 1..).unwrap_or_default();
            at + 1 + rest.iter().position(|&it| end(it)).unwrap_or(rest.len())
        };
        match sign {
            b'{' => at = until(&|it| it == b'}') + 1,
            b';' => at = until(&|it| it == b'\n'),
            b'\n' => {
                match text.get(at + 1) {
                    Some(b'\n' | b'[') => return Moves::All, // the game ends
                    Some(b'\r') if text.get(at + 2) == Some(&b'\n') => return Moves::All,
                    Some(b'%') => at = until(&|it| it == b'\n'),
                    _ => at += 1,
                }
            }
            b'(' => (at, depth) = (at + 1, depth + 1),
            b')' => (at, depth) = (at + 1, depth.saturating_sub(1)),
            _ if is_between(sign) => at += 1,
            _ => {
                let end = until(&|it| {
                    is_between(it) || matches!(it, b'{' | b'}' | b'(' | b')' | b';' | b'\n')
                });
                let word = text.get(at..end).unwrap_or_default();
                let is_castling = word.starts_with(b"0-0");
                let is_word = is_castling || word.first().is_some_and(u8::is_ascii_alphabetic);
                if depth == 0 && is_word && !matches!(word, b"e" | b"p") {
                    if up_to == Some(read) {
                        return Moves::Until(at);
                    }
                    match is_castling || SanPlus::from_ascii(word).is_ok() {
                        true => read += 1,
                        false => return Moves::Other(at, word),
                    }
                }
                at = end;
            }
        }
    }
    Moves::All
}

/// Whether a sign is between words: white space, and what comes before or after moves.
fn is_between(sign: u8) -> bool {
    matches!(
        sign,
        b' ' | b'\t' | b'\r' | b'.' | b'!' | b'?' | b'$' | b'*'
    )
}
