//! A legal move that was not meant: several of the lines after it cannot be played, and with another
//! move of the same piece in its place all of them can.

use super::quotes::Splice;
use super::trial::{Score, Trial, tokens};
use crate::lesson::reason::phrases::list;
use crate::lesson::reason::suggest::{distance, moves_of};
use crate::notation::word::san::{self, Kind};
use crate::notation::{Letters, Token, TokenKind};
use crate::text::{Code, Finding, Span, quote};
use shakmaty::{Chess, Role};

/// How many moves before the first that cannot be played are looked at.
const BACK: usize = 12;

/// Most bytes that are read to find one.
const READ: usize = 2 * 1024 * 1024;

/// Most moves that are offered.
const OFFERED: usize = 3;

/// Such a move, and the text with the likeliest of those in its place; none where fewer than two
/// lines need it, because one may have a slip of its own.
pub(super) fn another_move(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<(Finding, Splice)> {
    let base = Trial::new(start, letters).read(text, 0, Score::WORST, left)?;
    let (first, _) = base.first.filter(|_| base.broken > 1)?;
    let tokens = tokens(text);
    let at = tokens.partition_point(|it| (it.span.from as usize) < first);
    let wanted = before(&tokens[..at]);
    let mut trial = Trial::new(start, letters);
    let mut found: Option<(Token, Vec<(usize, String)>)> = None;
    let all = READ.min(*left);
    let mut own = all;
    for (ix, token) in tokens[..at].iter().enumerate() {
        if wanted.contains(&ix) {
            let near = others(text, token, &trial, letters, &mut own);
            if !near.is_empty() && found.is_some() {
                return None; // nobody knows which of the two
            }
            if !near.is_empty() {
                found = Some((*token, near));
            }
        }
        trial.token(text, token, 0);
    }
    *left = left.saturating_sub(all - own);
    let (token, mut near) = found?;
    near.sort_unstable();
    let written = &text[token.span.range()];
    let ways: Vec<String> = near.into_iter().map(|(_, san)| san).take(OFFERED).collect();
    let splice = Splice {
        from: token.span.from as usize,
        to: token.span.to as usize,
        text: ways.first()?.clone(),
    };
    let message = format!(
        "{} of the lines after {} cannot be played",
        base.broken,
        quote(written),
    );
    let ways = list(ways, "or");
    let help = format!("with {ways} in its place all of them can: write it if it was meant");
    let finding = Finding::new(Code::NotMeant, token.span, message)
        .with_help(help)
        .with_related(Span::new(first, first + 1), "the first of them".to_owned());
    Some((finding, splice))
}

/// The moves on the way to the end of some tokens, the last one first: those of closed variations, and
/// those that an open one replaces, are not.
fn before(tokens: &[Token]) -> Vec<usize> {
    let (mut list, mut depth, mut is_replaced) = (Vec::new(), 0, false);
    for (at, token) in tokens.iter().enumerate().rev() {
        match token.kind {
            TokenKind::Close => depth += 1,
            TokenKind::Open if depth > 0 => depth -= 1,
            TokenKind::Open => is_replaced = true,
            // What an open variation replaces is passed over.
            TokenKind::Word if depth == 0 && !core::mem::take(&mut is_replaced) => list.push(at),
            _ => {}
        }
        if list.len() == BACK {
            break;
        }
    }
    list
}

/// The other moves of its piece with which the whole text plays, and how far they are written from it.
fn others(
    text: &str,
    token: &Token,
    trial: &Trial,
    letters: &Letters,
    left: &mut usize,
) -> Vec<(usize, String)> {
    let word = san::read(&text[token.span.range()], letters);
    let role = match word.shape.map(|shape| shape.kind) {
        Some(Kind::Piece { role, .. }) => role.unwrap_or(Role::Pawn),
        _ => return Vec::new(),
    };
    let (from, to) = (token.span.from as usize, token.span.to as usize);
    let mut list = Vec::new();
    for san in moves_of(trial.position(), role) {
        let san = letters.write(&san);
        if san.trim_end_matches(['+', '#']) == word.core {
            continue;
        }
        let tail = [&san, &text[to..]].concat();
        if trial
            .clone()
            .read(&tail, from, Score::SOUND, left)
            .is_some()
        {
            list.push((distance(san.as_bytes(), word.core.as_bytes()), san));
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    #[test]
    fn a_move_that_several_lines_need_otherwise_is_the_one_finding() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bb5 Bc5 (3... Nf6 4. d3 d5 5. Nc3 d4 6. Bxf7+ {x}) 4. c3 Nf6 \
                    5. Bxf7+ {x} *";
        assert_eq!(codes(text), ["P088"]);
    }

    #[test]
    fn one_line_that_cannot_be_played_may_have_a_slip_of_its_own() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bb5 Bc5 4. c3 Nf6 5. Bxf7+ {x} *";
        assert_eq!(codes(text), ["P012"]);
        // Two moves on the way to both explain them equally.
        let text = "1. Na3 Na6 2. Nb1 Nb8 3. e3 (3. Nf5 e6 {x}) (3. Ng5 e6 {x}) *";
        assert_eq!(codes(text), ["P012", "P012"]);
    }
}
