//! The words of a language in which talks are heard: a table, so that another language is another table.

use shakmaty::{File, Role};

/// How surely a sound is what it is taken for, as a part of the log-odds that a square was named.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sound {
    /// It is the word itself.
    Clear,
    /// It sounds like it, and is rarely said otherwise: "bee", "fore".
    Near,
    /// It sounds like it, and is often said otherwise: "be", "see", "for", "to".
    Far,
}

/// What words before or after a saying tell about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cue {
    /// A move is played: "plays", "answers", "continues with".
    Plays,
    /// The talk goes on: "now", "then".
    Next,
    /// A plan, a wish, a threat, or what a piece does from where it is.
    Plan,
    /// What could be: "would", "might".
    Might,
    /// It is not played: "not", "never".
    Not,
    /// Another opening, another talk, games and figures.
    Elsewhere,
    /// Another move in its place: "instead", "what if".
    Instead,
    /// One more: "also", "an alternative". In place of the last move, or at a position that was just named.
    Also,
    /// In place of the move that comes: "instead of".
    InsteadOf,
    /// One of those that were announced: "option two", "the second".
    Which,
    /// Several moves come: "three options".
    Options,
    /// "or"
    Or,
    /// "and"
    And,
    /// What comes is played, and what came before may not be: "but".
    But,
    /// A condition: "if".
    If,
    /// To a position that was told: "back to".
    Back,
    /// After a move that may have been told: "after".
    After,
    /// What was said last is taken back: "no, sorry".
    Sorry,
    /// White is named.
    White,
    /// Black is named.
    Black,
    /// A position that came by another order.
    Transposes,
    /// A number of a move comes: "move".
    Number,
    /// A reason: "because", "so that".
    Reason,
    /// What the listener may want: "if you want".
    IfYou,
    /// Thanks and greetings.
    Greeting,
}

/// A language.
pub struct Language {
    /// Its code: `en`.
    pub code: &'static str,
    /// Pieces.
    pub pieces: &'static [(&'static str, Role)],
    /// Files.
    pub files: &'static [(&'static str, File, Sound)],
    /// Those among them that are mostly other words.
    pub rarely: &'static [&'static str],
    /// Ranks, and small numbers of moves.
    pub ranks: &'static [(&'static str, u32, Sound)],
    /// "takes", and whether the word is that of a move played.
    pub takes: &'static [(&'static str, bool)],
    /// What may come after "takes" where nothing is taken: "takes place".
    pub takes_nothing: &'static [&'static str],
    /// "castles", and whether the word is that of a move played.
    pub castles: &'static [(&'static str, bool)],
    /// King's side and queen's side, in one word or two.
    pub short: &'static [&'static str],
    /// The queen's side.
    pub long: &'static [&'static str],
    /// "side"
    pub side: &'static str,
    /// "check" and "mate"
    pub check: &'static [&'static str],
    /// "to": between a piece and its square, or two squares.
    pub to: &'static [&'static str],
    /// "on": where a piece is, or after "takes".
    pub on: &'static str,
    /// "move": "instead of the knight move".
    pub moved: &'static str,
    /// "now", which ends a plan.
    pub now: &'static str,
    /// "goes": "it goes on" comes before moves, and its "on" says of no square what is there.
    pub goes: &'static [&'static str],
    /// What comes before a verb that sounds like a file: "usually see".
    pub does: &'static [&'static str],
    /// "from"
    pub from: &'static str,
    /// "back"
    pub back: &'static str,
    /// "with": "takes with the pawn".
    pub with: &'static str,
    /// Those of whom one says "take" and "castle", and not "takes".
    pub plural: &'static [&'static str],
    /// Words between a slip and the word that takes it back: "hm, no".
    pub fillers: &'static [&'static str],
    /// Those of them that hesitate: "queen g4, uh, queen h5".
    pub hesitates: &'static [&'static str],
    /// "what", before words that take nothing back: "what I mean".
    pub what: &'static str,
    /// What comes before a subject where nothing is played: "can I take".
    pub asks: &'static [&'static str],
    /// "no", which takes back what was said right before it.
    pub no: &'static str,
    /// Nouns of what was announced: "the quiet one", "the old way".
    pub kinds: &'static [&'static str],
    /// What is announced with a number: "three moves".
    pub several: &'static [&'static str],
    /// "the", and what may come before it where a clause begins: "now the quiet one".
    pub the: &'static str,
    /// The latter.
    pub leads: &'static [&'static str],
    /// Phrases that tell something else where a sentence begins with them: "Against d4 …".
    pub heads: &'static [(&'static str, Cue)],
    /// "that's": "d5, that's the old move".
    pub thats: &'static str,
    /// "is", after what comes in place of another: "the alternative to d5 is e6".
    pub is: &'static str,
    /// Articles and such words, which may come before a piece.
    pub articles: &'static [&'static str],
    /// Before a verb that only names a move: "to play".
    pub infinitive: &'static [&'static str],
    /// What comes before a square where something is: "on d5".
    pub places: &'static [&'static str],
    /// What is done to a piece: "asks the bishop".
    pub done_to: &'static [&'static str],
    /// What comes before the side whose move it is: "d5 by Black".
    pub whose: &'static [&'static str],
    /// What makes a square of a square that comes before it: "the d5 square".
    pub nouns: &'static [&'static str],
    /// What a pawn becomes: "promotes to", "equals".
    pub becomes: &'static [&'static str],
    /// Words that may be glued to a square.
    pub glued: &'static [&'static str],
    /// What phrases tell, which are parted by commas.
    pub cues: &'static [(Cue, &'static str)],
    /// What is said of the last move, in plain words, and the number of its sign.
    pub signs: &'static [(&'static str, u8)],
    /// Words that begin the clause of a recommended move: "then", "play".
    pub advice: &'static [&'static str],
}
