//! Where something begins, as an author says it on the command line: after some moves, or at a FEN.

use super::rules::{after, meant};
use shakmaty::fen::Fen;
use shakmaty::san::San;
use shakmaty::{CastlingMode, Chess, Move};

/// The position of a FEN, or the usual start and the moves from there: `1.e4 c5 2. Nf3`, with numbers and signs or
/// without. No words are the usual start.
///
/// # Errors
/// The word that is no move or cannot be played, or what is wrong with the position of the FEN.
pub fn beginning(text: &str) -> Result<(Chess, Vec<Move>), String> {
    if let Ok(fen) = text.trim().parse::<Fen>() {
        let start = fen.into_position(CastlingMode::Standard);
        let start: Chess = start.map_err(|error| format!("no legal position: {error}"))?;
        return Ok((start, Vec::new()));
    }
    let mut position = Chess::default();
    let mut moves = Vec::new();
    for word in text.split_whitespace() {
        let bare = match word.starts_with("0-0") {
            true => word,
            false => word.trim_start_matches(|it: char| it.is_ascii_digit() || it == '.'),
        };
        if bare.is_empty() {
            continue;
        }
        let san = bare
            .trim_end_matches(['+', '#', '!', '?'])
            .replace('0', "O");
        let san: San = san
            .parse()
            .map_err(|_| format!("{word} is no move, and this is no FEN"))?;
        let played =
            meant(&position, &san).ok_or_else(|| format!("{word} cannot be played there"))?;
        position = after(&position, played);
        moves.push(played);
    }
    Ok((Chess::default(), moves))
}
