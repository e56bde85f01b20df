//! Looks for the one bracket or brace whose loss, doubling or moving explains most of what reads
//! amiss in a text.

use super::candidates::Candidates;
use super::edit::{Edit, Sign};
use super::trial::{Score, Trial, spend};
use crate::notation::{Letters, Lexer, Token};
use shakmaty::Chess;

/// Most ways out that are listed.
pub(super) const LISTED: usize = 3;

/// Most ways out that read equally well and are compared with each other.
const COMPARED: usize = 32;

/// What was found.
pub(super) struct Answer {
    /// The ways out that explain most, the likeliest first; never empty.
    pub(super) edits: Vec<Edit>,
    /// Whether the first is certain: with it all plays, and no other does as well.
    pub(super) is_certain: bool,
    /// How much reads amiss with the first; nothing where that is certain.
    pub(super) left: u32,
}

/// The ways out of what reads amiss in a text; none where nothing does, where no single sign
/// explains anything, or where `left`, the bytes that may still be read, is used up.
pub(super) fn search(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<Answer> {
    let new = || Trial::new(start, letters);
    let base = new().read(text, 0, Score::WORST, left)?;
    let first = base.first?;
    let tokens: Vec<Token> = Lexer::new(text).collect();
    let edits = Candidates::new(text, letters, &tokens, first).all();
    let stops = stops(text, &tokens, &edits, new(), left)?;
    // What leaves most as it is explains nothing.
    let mut best = base.score.faults / 2;
    let mut kept: Vec<(Score, u32, Edit)> = Vec::new();
    for edit in edits {
        // What only moves a sign is believed if it explains everything.
        let is_moved = edit.put.is_some() && edit.taken.is_some();
        let faults = match is_moved {
            true => 0,
            false => best,
        };
        let limit = Score {
            faults,
            bare: u32::MAX,
        };
        let at = stops.partition_point(|(from, _)| *from <= edit.first());
        let Some((from, trial)) = at.checked_sub(1).map(|at| &stops[at]) else {
            continue;
        };
        if trial.score.faults > faults {
            continue;
        }
        let tail = edit.tail(text, *from);
        let read = trial.clone().read(&tail, *from, limit, left);
        if *left == 0 {
            return None;
        }
        // A brace that is moved frees moves, and never hides them.
        let is_brace = matches!(edit.sign, Sign::Begin | Sign::End);
        let read = read.filter(|it| !is_moved || !is_brace || it.moves >= base.moves);
        if let Some(read) = read {
            if read.score.faults < best {
                best = read.score.faults;
                kept.clear();
            }
            if kept.len() < COMPARED {
                kept.push((read.score, read.moves, edit));
            }
        }
    }
    spend(left, kept.len() * text.len())?;
    kept.retain(|(score, ..)| score.faults == best);
    // Where a text gives Black's moves their numbers, one without is a sign.
    let is_numbered = base.full > base.score.bare;
    let key = |(score, moves, _): &(Score, u32, Edit)| {
        let bare = if is_numbered { score.bare } else { 0 };
        (bare, u32::MAX - moves)
    };
    kept.sort_by_key(key);
    let mut seen: Vec<String> = Vec::new();
    kept.retain(|(.., edit)| {
        let same = same(&edit.tail(text, 0));
        let is_new = !seen.contains(&same);
        seen.push(same);
        is_new
    });
    let (best, rest) = kept.split_first()?;
    // Moves at the end of a comment without its end are moves; else a comment may begin with some.
    let is_worse = |it: &(Score, u32, Edit)| match it.2.sign == Sign::End && it.2.taken.is_none() {
        true => key(it) > key(best),
        false => key(it).0 > key(best).0,
    };
    // A second `{` may be a sign among the words, unless nothing is between the two.
    let is_plain = best.2.sign != Sign::Begin || best.2.put.is_some() || {
        let at = best.2.first();
        text[..at].trim_end().ends_with('{') || text[at + 1..].trim_start().starts_with('{')
    };
    // Of a sign that is in the wrong place nobody knows how far it went.
    let is_moved = best.2.put.is_some() && best.2.taken.is_some();
    let is_certain = best.0.faults == 0 && !is_moved && is_plain && rest.iter().all(is_worse);
    // Of the ends of a comment those that leave moves in it are none.
    let best = *best;
    let is_end = best.2.sign == Sign::End && best.2.taken.is_none();
    kept.retain(|it| !is_end || key(it) == key(&best));
    Some(Answer {
        left: best.0.faults,
        is_certain,
        edits: kept.iter().take(LISTED).map(|it| it.2).collect(),
    })
}

/// Readings up to where each of some changes begins, so that none of them reads all of the text.
fn stops<'a>(
    text: &str,
    tokens: &[Token],
    edits: &[Edit],
    mut trial: Trial<'a>,
    left: &mut usize,
) -> Option<Vec<(usize, Trial<'a>)>> {
    spend(left, text.len())?;
    let mut wanted: Vec<usize> = edits.iter().map(Edit::first).collect();
    wanted.sort_unstable();
    let mut wanted = wanted.into_iter().peekable();
    let mut stops = Vec::new();
    for token in tokens {
        let (from, to) = (token.span.from as usize, token.span.to as usize);
        let mut is_wanted = false;
        while wanted.next_if(|&at| at < to).is_some() {
            is_wanted = true;
        }
        if is_wanted {
            stops.push((from, trial.clone()));
        }
        trial.token(text, token, 0);
    }
    if wanted.next().is_some() {
        stops.push((text.len(), trial));
    }
    Some(stops)
}

/// What two texts share that say the same: spaces do not count, and comments beside each other are
/// one.
fn same(text: &str) -> String {
    let bare: String = text.chars().filter(|it| !it.is_whitespace()).collect();
    bare.replace("}{", "")
}
