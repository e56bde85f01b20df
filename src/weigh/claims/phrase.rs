//! The closed list of phrases that claim something which can be computed, found in a sentence.

use super::sentence::{self, Speaks};
use core::ops::Range;
use shakmaty::{Color, Role, Square};

/// What a phrase claims.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Claim {
    /// So much is won, in hundredths of a pawn.
    Wins(i32),
    /// So much is lost.
    Loses(i32),
    /// In so many moves.
    Mate(u32),
    OnlyMove,
    OnlyLegalMove,
    /// What stands on this square; without one the piece that has moved.
    NotTaken(Option<Square>),
    /// The piece that has moved, if it is of this kind.
    NotTakenOf(Role),
    /// A piece of this kind, on this square where one is named.
    Pinned(Role, Option<Square>, PinnedTo),
}

/// To what a piece is said to be pinned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PinnedTo {
    King,
    /// Nothing is said of it.
    Any,
}

/// A phrase in a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phrase {
    pub claim: Claim,
    /// Where it is; a byte range of the text.
    pub range: Range<usize>,
    /// The side that its sentence names right before it.
    pub side: Option<Color>,
    /// Where its sentence begins.
    pub sentence: usize,
    /// Where it ends.
    pub end: usize,
}

/// What is won or lost, in hundredths of a pawn; the exchange is a rook for a bishop or knight (common practice, no
/// source).
const AMOUNTS: &[(&str, i32)] = &[
    ("a pawn", 100),
    ("the exchange", 200),
    ("a piece", 300),
    ("a knight", 300),
    ("a bishop", 300),
    ("a rook", 500),
    ("the queen", 900),
];

/// The phrases of a paragraph, in its order.
pub fn phrases(text: &str) -> Vec<Phrase> {
    // Bytes keep their places: only ASCII letters change.
    let lower = text.to_ascii_lowercase();
    let mut found: Vec<Phrase> = Vec::new();
    let mut add = |at: usize, length: usize, claim: Claim| {
        let range = at..at + length;
        let clash = found
            .iter()
            .any(|it| it.range.start < range.end && range.start < it.range.end);
        if is_word(&lower, &range) && !clash {
            found.extend(phrase(text, &lower, range, claim));
        }
    };
    for (verbs, is_won) in [
        (["wins ", "winning "], true),
        (["loses ", "losing "], false),
    ] {
        for verb in verbs {
            for &(amount, worth) in AMOUNTS {
                let words = format!("{verb}{amount}");
                let claim = if is_won {
                    Claim::Wins(worth)
                } else {
                    Claim::Loses(worth)
                };
                for (at, _) in lower.match_indices(&words) {
                    add(at, words.len(), claim);
                }
            }
        }
    }
    for (words, number) in [
        ("one", 1),
        ("two", 2),
        ("three", 3),
        ("four", 4),
        ("1", 1),
        ("2", 2),
        ("3", 3),
        ("4", 4),
    ] {
        for verb in ["mate in ", "mates in ", "mated in ", "checkmate in "] {
            let words = format!("{verb}{words}");
            for (at, _) in lower.match_indices(&words) {
                add(at, words.len(), Claim::Mate(number));
            }
        }
    }
    for (words, claim) in [
        ("the only move", Claim::OnlyMove),
        ("the only legal move", Claim::OnlyLegalMove),
    ] {
        for (at, _) in lower.match_indices(words) {
            add(at, words.len(), claim);
        }
    }
    for words in ["cannot be taken", "can't be taken", "can not be taken"] {
        for (at, _) in lower.match_indices(words) {
            // Of another piece than the one that has moved only where its square is named.
            match named(lower.get(..at).unwrap_or_default()) {
                Some((_, from, Some(square))) => {
                    add(from, at - from + words.len(), Claim::NotTaken(Some(square)))
                }
                Some((role, from, None)) => {
                    add(from, at - from + words.len(), Claim::NotTakenOf(role))
                }
                None if is_it(lower.get(..at).unwrap_or_default()) => {
                    add(at, words.len(), Claim::NotTaken(None))
                }
                None => {}
            }
        }
    }
    for words in ["is pinned", "is now pinned", "is already pinned"] {
        for (at, _) in lower.match_indices(words) {
            let end = at + words.len();
            let to = match lower.get(end..).is_some_and(is_to_king) {
                true => PinnedTo::King,
                false => PinnedTo::Any,
            };
            let before = lower.get(..at).unwrap_or_default();
            if let Some((role, from, square)) = named(before) {
                add(from, end - from, Claim::Pinned(role, square, to));
            } else if let Some((role, square)) = named_before(before) {
                add(at, words.len(), Claim::Pinned(role, Some(square), to));
            }
        }
    }
    found.sort_by_key(|it| it.range.start);
    found
}

/// The piece that a text ends with, where it begins, and its square where that is named: `knight `, `rook on e8 `.
fn named(text: &str) -> Option<(Role, usize, Option<Square>)> {
    const ROLES: [(&str, Role); 5] = [
        ("pawn", Role::Pawn),
        ("knight", Role::Knight),
        ("bishop", Role::Bishop),
        ("rook", Role::Rook),
        ("queen", Role::Queen),
    ];
    let text = text.trim_end();
    let (before, square) = match text.rsplit_once(" on ") {
        Some((before, square)) => match square.parse() {
            Ok(square) => (before, Some(square)),
            Err(_) => (text, None),
        },
        None => (text, None),
    };
    ROLES.into_iter().find_map(|(word, role)| {
        let from = before.strip_suffix(word)?.len();
        Some((role, from, square))
    })
}

/// The piece with its square that a clause ends with, of which `: it` at the end of a text speaks: `the rook on c2 cannot
/// leave its line: it `.
fn named_before(text: &str) -> Option<(Role, Square)> {
    let clause = text.trim_end().strip_suffix(": it")?;
    let (_, clause) = clause
        .rsplit_once(['.', '!', '?', ':'])
        .unwrap_or(("", clause));
    let words: Vec<&str> = clause.split_whitespace().collect();
    let mut found = None;
    for at in 0..words.len() {
        if let Some((role, _, Some(square))) = named(&words[..=at].join(" ")) {
            // Of two nobody knows which is meant.
            if found.replace((role, square)).is_some() {
                return None;
            }
        }
    }
    found
}

/// Whether a text goes on with the king: ` to the king`.
fn is_to_king(text: &str) -> bool {
    [" to the king", " to its king", " to his king"]
        .iter()
        .any(|it| text.starts_with(it))
}

/// Whether a text ends with a word for the piece that was just spoken of.
fn is_it(text: &str) -> bool {
    let last = text.split_whitespace().next_back();
    matches!(last, Some("it" | "which" | "and"))
}

/// Whether a range begins and ends with words.
fn is_word(text: &str, range: &Range<usize>) -> bool {
    let before = text
        .get(..range.start)
        .and_then(|it| it.chars().next_back());
    let after = text.get(range.end..).and_then(|it| it.chars().next());
    let inside = |sign: Option<char>| sign.is_some_and(|it| it.is_alphanumeric() || it == '-');
    !inside(before) && !inside(after)
}

/// The phrase at a range; none where its sentence leaves it open.
fn phrase(text: &str, lower: &str, range: Range<usize>, claim: Claim) -> Option<Phrase> {
    let (sentence, end) = sentence::around(lower, &range);
    let before = lower.get(sentence..range.start)?;
    let after = lower.get(range.end..end)?;
    let is_by_one = matches!(claim, Claim::NotTaken(_) | Claim::NotTakenOf(_))
        && [" by ", " with "].iter().any(|it| after.contains(it));
    let is_for_one = matches!(claim, Claim::OnlyMove)
        && [" to ", " that ", " which ", " for "]
            .iter()
            .any(|it| after.starts_with(it));
    let is_traded = matches!(claim, Claim::Wins(_) | Claim::Loses(_))
        && [" but ", " for ", " yet ", " though ", " back"]
            .iter()
            .any(|it| after.contains(it));
    if sentence::is_open(before, after) || is_by_one || is_for_one || is_traded {
        return None;
    }
    let side = match sentence::side(text.get(sentence..range.start)?) {
        Speaks::OfNone => None,
        Speaks::Of(side) => Some(side),
        Speaks::OfBoth => return None,
    };
    Some(Phrase {
        claim,
        range,
        side,
        sentence,
        end,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn claims(text: &str) -> Vec<(Claim, Option<Color>)> {
        phrases(text)
            .into_iter()
            .map(|it| (it.claim, it.side))
            .collect()
    }

    #[test]
    fn phrases_claim_what_can_be_computed() {
        let white = Some(Color::White);
        assert_eq!(claims("White wins a pawn."), [(Claim::Wins(100), white)]);
        assert_eq!(
            claims("7.Nd5 wins the exchange"),
            [(Claim::Wins(200), None)]
        );
        assert_eq!(claims("This loses a piece."), [(Claim::Loses(300), None)]);
        assert_eq!(claims("It is mate in two."), [(Claim::Mate(2), None)]);
        assert_eq!(
            claims("The knight is pinned."),
            [(Claim::Pinned(Role::Knight, None, PinnedTo::Any), None)]
        );
        let rook = Claim::Pinned(Role::Rook, Some(Square::C2), PinnedTo::King);
        for text in [
            "The rook on c2 is pinned to its king.",
            "The rook on c2 cannot leave its line: it is pinned to its king.",
        ] {
            assert_eq!(claims(text), [(rook, None)], "{text}");
        }
        assert_eq!(
            claims("The rook on c2 meets the knight on c3: it is pinned."),
            []
        );
        assert_eq!(
            claims("The only move; it cannot be taken"),
            [(Claim::OnlyMove, None), (Claim::NotTaken(None), None)]
        );
    }

    #[test]
    fn a_claim_that_is_denied_or_depends_on_something_is_none() {
        for text in [
            "This does not win a pawn.",
            "It never wins a pawn.",
            "If he sleeps, White wins a pawn.",
            "White wins a pawn if Black sleeps.",
            "That threatens mate in two.",
            "It almost wins a piece.",
            "He takes, but loses a piece.",
            "Otherwise he would be mated in two.",
            "Who wins a pawn?",
            "With 1...Kg7 Black avoids the mate in one.",
            "He loses a pawn back.",
            "Otherwise it is mate in two.",
            "Black defends against mate in one.",
            "White loses a pawn but mates.",
            "He is mated in one line of this gambit.",
            "The knight cannot be taken by the pawn.",
            "The pieces cannot be taken.",
            "It is the only move to keep the attack.",
            "White attacks, Black sleeps, and it wins a piece.",
        ] {
            assert_eq!(claims(text), [], "{text}");
        }
    }

    #[test]
    fn only_words_of_the_same_sentence_count() {
        assert_eq!(
            claims("If so. White wins a pawn."),
            [(Claim::Wins(100), Some(Color::White))]
        );
        // The side that is spoken of, not the one whose piece is.
        let attacks = "7.Nd5 attacks Black's queen and wins a pawn";
        assert_eq!(claims(attacks), [(Claim::Wins(100), None)]);
        let denied = "The pinned knight cannot take back, so 7.Nd5 wins a pawn";
        assert_eq!(claims(denied), [(Claim::Wins(100), None)]);
        let looks = "The knight looks loose on f5, yet it cannot be taken";
        assert_eq!(claims(looks), [(Claim::NotTaken(None), None)]);
        assert_eq!(claims("It is old, so it never wins a pawn"), []);
        let both = "Black sleeps, so White wins a pawn";
        assert_eq!(claims(both), [(Claim::Wins(100), Some(Color::White))]);
        assert_eq!(
            claims("Black sleeps. It wins a pawn after 4. d4."),
            [(Claim::Wins(100), None)]
        );
    }
}
