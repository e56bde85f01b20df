//! The weights by which a talk is read. Each is a natural logarithm: of the odds that a saying is a move and not
//! talk ("lean"), or of the probability of a step from one place of the tree to another. They were set by hand on
//! two small talks of ours (tests/native/talk) and on six hand-written ones (tests/talks), those of turns of phrase
//! also on generated ones (tests/oracles/talks/generate.py); no source.

use super::words::Cue;

/// What a sound takes: the word itself, one that sounds like it, one that is often said otherwise.
pub const SOUND: [f32; 3] = [0.0, -0.5, -1.3];
/// The same in captions that write squares as words.
pub const SOUND_SPELLED: [f32; 3] = [0.0, -0.1, -0.4];
/// Captions write squares as words where so many of the squares that are surely squares are.
pub const SPELLED: f32 = 0.6;
/// The same after a piece was named.
pub const SOUND_AFTER_PIECE: [f32; 3] = [0.0, -0.1, -0.4];

/// How far words before a saying are looked at for what they tell of it, in words.
pub const FAR: usize = 14;
/// How far for a return to another position.
pub const FAR_BACK: usize = 30;

/// What a saying names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Castling.
    Castles,
    /// A capture with its square.
    TakesThere,
    /// A capture with its piece or file.
    TakesBy,
    /// "takes"
    Takes,
    /// A piece that gives check.
    Checks,
    /// A square alone, or with "pawn".
    Pawn,
    /// A piece and a square.
    Piece,
}

/// The lean of a saying by what it names.
pub fn own(kind: Kind) -> f32 {
    match kind {
        Kind::Castles | Kind::Piece => 0.9,
        Kind::TakesThere => 1.2,
        Kind::TakesBy => 0.6,
        Kind::Takes | Kind::Checks => 0.3,
        Kind::Pawn => 0.2,
    }
}
/// "the knight on f3"
pub const STANDS: f32 = -2.6;
/// "taking", "castled"
pub const NO_ACT: f32 = -1.3;

/// What a cue before a saying adds to its lean, so many words before it.
pub fn before(cue: Cue, words: usize) -> f32 {
    let near = |weight: f32, reach: usize| if words <= reach { weight } else { 0.0 };
    match cue {
        Cue::Plays => near(0.3, 6) + near(0.9, 2),
        Cue::Next => near(0.5, 5),
        Cue::Plan => near(-0.9, FAR) + near(-1.0, 6),
        Cue::Might => near(-0.9, 4),
        Cue::Not => near(-1.6, 4) + near(-1.0, 0),
        Cue::InsteadOf => near(-1.6, 4),
        Cue::Elsewhere => near(-2.2, FAR_BACK),
        Cue::Instead | Cue::Also | Cue::Which | Cue::Back => near(0.4, 6),
        Cue::After => near(0.8, 2),
        Cue::Options => near(0.5, 6),
        Cue::White | Cue::Black => near(0.2, 3),
        Cue::Sorry => near(0.8, 4),
        Cue::Number => near(0.5, 1),
        Cue::If
        | Cue::But
        | Cue::Or
        | Cue::And
        | Cue::Transposes
        | Cue::Reason
        | Cue::IfYou
        | Cue::Greeting => 0.0,
    }
}

/// "if he goes d5", of which most are what may be and not what is told.
pub const IF_GOES: f32 = -1.0;
/// What part of a plan's lean is left where a verb of playing, or the start of another clause, comes after it.
pub const PLAYED_AFTER_PLAN: f32 = 0.3;
/// What a cue right after a saying adds: "knight g5 would be strong".
pub fn behind(cue: Cue, words: usize) -> f32 {
    match (cue, words) {
        (Cue::Plays, 0..=1) => 0.4,
        (Cue::Might, 0) => -0.9,
        (Cue::Not, 0..=1) => -2.2,
        (Cue::Plan, 0..=1) => -0.5,
        (Cue::Which, 0) => -1.2,
        _ => 0.0,
    }
}
/// It is taken back: "d5, no, c5".
pub const TAKEN_BACK: f32 = -3.5;
/// "d5 is the old move": told about, and most often not yet played.
pub const DESCRIBED: f32 = -0.9;
/// A sentence begins with it.
pub const HEADS: f32 = 0.6;
/// "knight to d5", where the talk mostly leaves "to" out: where a piece wants to go.
pub const PIECE_TO: f32 = -1.2;
/// It does not where so many of the pieces that are named go "to" a square.
pub const SAYS_TO: f32 = 0.3;
/// What part of a plan is left after a condition that it belonged to: "if you want a draw, d5".
pub const AFTER_CONDITION: f32 = 0.0;
/// The same after a comma.
pub const AFTER_COMMA: f32 = 0.45;
/// How far after "if", "or" and a side that is named a saying still belongs to it, in words.
pub const NEAR: usize = 8;
/// One of a list that is announced: it is told later, or never.
pub const ANNOUNCED: f32 = -2.4;
/// The most moves that a list has.
pub const MOST_LISTED: usize = 6;
/// The first of a list, named again right after the list.
pub const TOLD_FIRST: f32 = 0.8;
/// How many words after it "the second" still belongs to it.
pub const ANNOUNCED_FOR: usize = 50;
/// "takes", and then a capture is named: as a move of its own where that one cannot take back on the same square, and
/// where it can.
pub const TAKES_AGAIN: [f32; 2] = [-2.4, -0.4];
/// Within how many words after "not" a move is said not to be played.
pub const NOT_PLAYED: usize = 3;
/// A square alone on which only a capture is possible.
pub const SQUARE_TAKES: f32 = -1.6;
/// What part of that is left for the next of a list, so many words later at the most.
pub const CARRIED: f32 = 0.6;
/// So many.
pub const LISTED: usize = 4;
/// A saying from which plans and the like took so much is not part of a run of moves.
pub const PLANNED: f32 = -0.5;
/// "the knight move", which only says in place of what another is.
pub const ONLY_NAMED: f32 = -6.0;
/// How many words there may be before a saying with which a sentence begins.
pub const HEAD: usize = 7;
/// "with" before a saying: "supports it with c3".
pub const WITH_BEFORE: f32 = 0.8;
/// Another game or opening was named before in the sentence.
pub const STILL_ELSEWHERE: f32 = -1.6;
/// A noun after a square: "the d5 square".
pub const NOUN_AFTER: f32 = -2.6;
/// An article before a square: "the d5".
pub const ARTICLE_BEFORE: f32 = -1.0;
/// "to" before a square alone.
pub const TO_BEFORE: f32 = -0.9;
/// "on", "from" or such a word before a square alone.
pub const ON_BEFORE: f32 = -2.2;
/// A saying that goes on right after a move, so many words later.
pub fn after_move(words: usize) -> f32 {
    match words {
        0 => 1.8,
        1..=2 => 1.0,
        3..=6 => 0.5,
        _ => 0.0,
    }
}
/// A saying right after one that was talk, so many words later.
pub fn after_talk(words: usize) -> f32 {
    match words {
        0 => -0.8,
        1..=3 => -1.3,
        4..=8 => -0.5,
        _ => 0.0,
    }
}

/// Where less than so many moves have been told, a saying is strictly judged: a move there displaces all that
/// follows.
pub const FEW_TOLD: usize = 3;
/// By so much.
pub const STRICT: f32 = -0.8;

/// Where a talk begins elsewhere and no more was told, a saying that names a move before its beginning: that is told
/// again how it comes about.
pub const RECALLED: f32 = -1.5;

/// What it tells for a move that it can be played where the talk is: of squares named in passing about one in four
/// can be.
pub const LEGAL: f32 = 0.9;

/// The same of a capture with its square or a check, of which fewer can be played by chance.
pub const LEGAL_CAPTURE: f32 = 0.7;

/// The next saying, so many words later at the most, is a move of the same side: a plan names moves of one side.
pub const ONE_SIDED: f32 = -1.5;
/// So many.
pub const AT_ONCE: usize = 2;

/// The side that was named is to move, or is not.
pub const SIDE: [f32; 2] = [0.6, -2.5];
/// The number that was named is that of the move, or is not.
pub const NUMBER: [f32; 2] = [1.5, -3.5];
/// Check was named, and is not given.
pub const NO_CHECK: f32 = -3.0;

/// How a saying turns from the place of the talk to another, by the words before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// Nothing is said.
    None,
    /// Nothing is said, and a sentence begins with it.
    Heads,
    /// A condition: "if he takes".
    If,
    /// One of a list: "d5 or e6".
    List,
    /// Another move in its place.
    Instead,
    /// One that was announced.
    Which,
    /// After a move.
    After,
    /// Back to a position.
    Back,
    /// One more move at a position that was just named: "after d5 there is also e4".
    There,
    /// The last move is taken back.
    Sorry,
}

/// Where a saying is taken to be played.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Where the talk is, a new move.
    On,
    /// Where the talk is, a move told before.
    OnTold,
    /// The last move again.
    Repeat,
    /// In place of the last move.
    Beside,
    /// In place of one before it.
    Above,
    /// A move that was told, anywhere.
    Told,
    /// A move that was named in passing, where the talk was then.
    Announced,
    /// A move that was announced, where the talk was then.
    Promised,
    /// A move in place of one that is named and was told.
    Aside,
    /// A new move at a position that was told and is not on the way to the place of the talk.
    Elsewhere,
}

/// The log-probability of a step after a turn.
pub fn step(turn: Turn, step: Step) -> f32 {
    let row: [f32; 10] = match turn {
        //              On    OnTold Repeat Beside Above Told Announced Promised Aside Elsewhere
        Turn::None => [-0.2, -0.7, -1.6, -3.2, -4.2, -3.4, -2.4, -2.6, -0.4, -5.2],
        Turn::Heads => [-0.4, -0.8, -1.6, -2.2, -3.0, -2.4, -1.2, -1.3, -0.4, -4.6],
        Turn::If => [-0.5, -0.9, -1.8, -1.6, -2.8, -2.6, -1.8, -2.2, -0.4, -4.2],
        Turn::List => [-0.8, -1.2, -2.0, -0.9, -2.6, -2.6, -2.0, -1.6, -0.4, -4.5],
        Turn::Instead => [-1.6, -1.6, -3.0, -0.7, -1.6, -2.4, -1.2, -1.4, -0.2, -3.4],
        Turn::Which => [-1.5, -1.0, -1.8, -1.4, -2.0, -1.0, -0.4, -0.7, -0.2, -3.6],
        Turn::After => [-0.7, -0.7, -0.9, -2.4, -2.4, -1.2, -1.6, -2.2, -0.4, -3.8],
        Turn::Back => [-2.2, -1.6, -1.6, -1.8, -1.8, -0.7, -1.0, -1.4, -0.4, -3.0],
        Turn::There => [-0.4, -1.2, -3.0, -2.2, -2.4, -2.4, -1.2, -0.8, -0.4, -3.4],
        Turn::Sorry => [-2.5, -2.5, -2.5, -0.2, -3.0, -3.0, -3.0, -3.0, -1.0, -5.0],
    };
    row[step as usize] // ten steps, ten columns
}

/// The talk leaves a line of which it told one move only: such a one was mostly named in a list.
pub const ONLY_ONE: f32 = -0.7;
/// For each move that was named in passing since one that is told was, and the most of that.
pub const AGE: f32 = -0.03;
/// The latter.
pub const AGE_MOST: f32 = -1.2;
/// A move that was named in passing here is now told.
pub const ON_ANNOUNCED: f32 = 0.5;
/// "takes", and "takes" again: two captures, and not the same one twice.
pub const TAKES_TWICE: f32 = -1.5;
/// A move in place of one that is named, where that is not on the way to the place of the talk.
pub const ASIDE_ELSEWHERE: f32 = -1.0;
/// A step to another place where so many words were said since the last saying.
pub const AFTER_LONG: f32 = 0.9;
/// So many.
pub const LONG: usize = 8;
/// The last move again, right after it: captions double words.
pub const DOUBLED: f32 = 1.2;
/// For each half-move that a step goes up the tree.
pub const UP: f32 = -0.1;
/// The most of that.
pub const UP_MOST: f32 = -1.8;
/// A new move before the end of the moves that were given: those were chosen to be skipped.
pub const BEFORE_GIVEN: f32 = -2.0;
/// A saying that is talk names a move in place of the last one where its lean is more than this.
pub const NAMED: f32 = -0.5;
/// A new move in place of one within so many half-moves from the beginning, where no word turns back to it: it would
/// displace all that follows.
pub const SHALLOW: (u32, f32) = (5, -1.0);
/// A move that the lesson given holds.
pub const GIVEN: f32 = 1.5;
/// A move that the draft heard at this time, and one that was taken out of the draft.
pub const HEARD: f32 = 5.0;
/// The latter.
pub const DROPPED: f32 = -9.0;
/// One missing move that only one legal way supplies, and two.
pub const SUPPLIED: [f32; 2] = [-3.0, -6.0];
/// What a saying must lean at least for moves to be supplied before it.
pub const MAY_SUPPLY: f32 = 0.0;
/// A move after one that was named in passing here, and that nobody names again.
pub const AFTER_NAMED: f32 = -3.2;
/// Another file than was heard, of those that rhyme.
pub const MISHEARD: f32 = -3.0;
/// Another file or piece, which does not rhyme.
pub const GARBLED: f32 = -3.4;
/// A pawn takes, against pieces, where it is not said what does.
pub const PAWN_TAKES: f32 = 0.9;
/// A capture without a square on the square of the last move, against others.
pub const TAKES_BACK: f32 = 1.4;

/// ln p and ln (1 - p) of log-odds.
pub fn split(lean: f32) -> (f32, f32) {
    let positive = -(1.0 + (-lean).exp()).ln();
    let negative = -(1.0 + lean.exp()).ln();
    (positive, negative)
}
