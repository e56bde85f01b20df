//! English: its words, and what captions make of them. Common practice, no source; sounds from captions of ours.

use super::language::Cue::{
    After, Also, And, Back, Black, But, Elsewhere, Greeting, If, IfYou, Instead, InsteadOf, Might,
    Next, Not, Number, Options, Or, Plan, Plays, Reason, Sorry, Transposes, Which, White,
};
use super::language::Sound::{Clear, Far, Near};
use super::language::{Cue, Language};
use shakmaty::{File, Role};

/// English.
pub const ENGLISH: Language = Language {
    code: "en",
    pieces: &[
        ("knight", Role::Knight),
        ("night", Role::Knight),
        ("nite", Role::Knight),
        ("knights", Role::Knight),
        ("bishop", Role::Bishop),
        ("bishops", Role::Bishop),
        ("rook", Role::Rook),
        ("rooks", Role::Rook),
        ("ruck", Role::Rook),
        ("brook", Role::Rook),
        ("queen", Role::Queen),
        ("quean", Role::Queen),
        ("king", Role::King),
        ("pawn", Role::Pawn),
        ("pawns", Role::Pawn),
        ("pond", Role::Pawn),
        ("porn", Role::Pawn),
        ("prawn", Role::Pawn),
    ],
    files: &[
        ("a", File::A, Near), // also an article
        ("ay", File::A, Near),
        ("eh", File::A, Near),
        ("hey", File::A, Far),
        ("b", File::B, Clear),
        ("be", File::B, Far),
        ("bee", File::B, Near),
        ("c", File::C, Clear),
        ("see", File::C, Far),
        ("sea", File::C, Near),
        ("cee", File::C, Near),
        ("d", File::D, Clear),
        ("dee", File::D, Near),
        ("the", File::D, Far),
        ("e", File::E, Clear),
        ("ee", File::E, Near),
        ("he", File::E, Far),
        ("f", File::F, Clear),
        ("ef", File::F, Near),
        ("eff", File::F, Near),
        ("if", File::F, Far),
        ("g", File::G, Clear),
        ("gee", File::G, Near),
        ("jee", File::G, Near),
        ("h", File::H, Clear),
        ("aitch", File::H, Near),
        ("age", File::H, Far),
        ("each", File::H, Far),
    ],
    rarely: &["the", "he", "if", "hey", "each", "age"],
    ranks: &[
        ("one", 1, Clear),
        ("won", 1, Near),
        ("two", 2, Clear),
        ("to", 2, Far),
        ("too", 2, Near),
        ("three", 3, Clear),
        ("tree", 3, Near),
        ("free", 3, Near),
        ("four", 4, Clear),
        ("for", 4, Far),
        ("fore", 4, Near),
        ("five", 5, Clear),
        ("six", 6, Clear),
        ("sicks", 6, Near),
        ("sex", 6, Near),
        ("seven", 7, Clear),
        ("eight", 8, Clear),
        ("ate", 8, Near),
        ("nine", 9, Clear),
        ("ten", 10, Clear),
        ("eleven", 11, Clear),
        ("twelve", 12, Clear),
        ("thirteen", 13, Clear),
        ("fourteen", 14, Clear),
        ("fifteen", 15, Clear),
        ("sixteen", 16, Clear),
        ("seventeen", 17, Clear),
        ("eighteen", 18, Clear),
        ("nineteen", 19, Clear),
        ("twenty", 20, Clear),
    ],
    takes: &[
        ("takes", true),
        ("captures", true),
        ("recaptures", true),
        ("retakes", true),
        ("take", false),
        ("capture", false),
        ("recapture", false),
        ("taking", false),
        ("capturing", false),
        ("recapturing", false),
        ("x", true),
    ],
    takes_nothing: &[
        "place",
        "over",
        "a",
        "an",
        "time",
        "control",
        "care",
        "advantage",
        "away",
        "space",
        "up",
        "into",
        "some",
        "too",
        "only",
        "us",
        "me",
        "it",
        "long",
        "aim",
        "note",
        "part",
        "hold",
        "root",
        "all",
        "more",
        "away",
        "root",
        "one",
        "two",
        "three",
        "many",
        "much",
    ],
    castles: &[
        ("castles", true),
        ("castle", false),
        ("castling", false),
        ("castled", false),
    ],
    short: &["short", "kingside", "king"],
    long: &["long", "queenside", "queen"],
    side: "side",
    check: &["check", "mate", "checkmate"],
    to: &[
        "to", "goes", "moves", "comes", "jumps", "drops", "retreats", "steps", "lands", "hops",
        "swings", "slides", "into", "over", "back", "out", "up", "down", "again", "comes", "in",
        "heads", "returns",
    ],
    on: "on",
    moved: "move",
    now: "now",
    goes: &["goes", "go", "going"],
    does: &[
        "usually", "often", "always", "you", "youll", "we", "well", "will", "can", "may",
    ],
    from: "from",
    back: "back",
    with: "with",
    is: "is",
    articles: &[
        "the", "a", "an", "his", "her", "your", "my", "our", "their", "this", "that",
    ],
    infinitive: &["to", "of", "by", "for", "not", "from"],
    places: &[
        "on", "from", "at", "via", "through", "in", "of", "over", "around", "onto",
    ],
    done_to: &[
        "asks",
        "ask",
        "kicks",
        "hits",
        "hit",
        "attacks",
        "attack",
        "chases",
        "chase",
        "pins",
        "pin",
        "questions",
        "bites",
        "traps",
        "against",
        "gains",
        "wins",
        "loses",
        "gives",
    ],
    whose: &["by", "for", "from", "against", "than"],
    nouns: &[
        "square",
        "squares",
        "pawn",
        "pawns",
        "knight",
        "knights",
        "bishop",
        "bishops",
        "rook",
        "rooks",
        "queen",
        "king",
        "file",
        "point",
        "break",
        "push",
        "breaks",
        "advance",
        "outpost",
        "complex",
        "night",
        "pond",
        "tension",
        "players",
        "player",
        "systems",
        "positions",
        "structures",
        "structure",
        "opening",
        "openings",
        "defence",
        "defense",
        "thrust",
        "weakness",
    ],
    becomes: &["equals", "promotes", "promoting", "becomes", "making"],
    glued: &[
        "knight", "night", "bishop", "rook", "queen", "king", "pawn", "plays", "play", "played",
        "takes", "to", "then", "and", "on", "now", "after", "is", "with", "or", "here", "so",
        "but", "n", "k", "q", "r", "white", "black", "move", "the",
    ],
    cues: CUES,
    signs: &[
        ("is a blunder", 4),
        ("a terrible blunder", 4),
        ("a big blunder", 4),
        ("is a mistake", 2),
        ("a big mistake", 2),
        ("a serious mistake", 2),
        ("is a bad move", 2),
        ("is an error", 2),
        ("is dubious", 6),
        ("a dubious move", 6),
        ("is a strong move", 1),
        ("a very strong move", 1),
        ("is a good move", 1),
        ("is an excellent move", 1),
        ("a brilliant move", 3),
        ("is brilliant", 3),
    ],
    advice: &[
        "then",
        "play",
        "you",
        "can",
        "choose",
        "go",
        "for",
        "should",
        "try",
        "pick",
        "take",
        "just",
        "i",
        "recommend",
        "is",
        "your",
        "move",
        "with",
        "the",
        "line",
        "suggest",
        "would",
        "advise",
        "could",
        "may",
    ],
};

/// Phrases by what they tell, parted by commas.
const CUES: &[(Cue, &str)] = &[
    (
        Plays,
        "put, puts, pushes, strikes, asks, kicks, props, plays, play, played, playing, answers, answer is, answers with, replies, reply is, \
         responds, continues, continue, develops, begins, begin with, starts, start with, \
         meets, goes, go, chooses, moves, move is, the move, the moves, main move, main line, \
         followed by, retreats, follows, next comes, then comes, comes next, met by, usually see, often see",
    ),
    (Next, "now, then, next, and then, here, so"),
    (
        Plan,
        "would love, would like, love to, the point, afraid of, fear, fears, think of, because of, travels, travel, ever get, watch out for, \
         belong, belongs, lever, levers, want, wants, wanted, wanting, idea, ideas, plan, plans, planning, threat, threats, \
         threaten, threatens, threatening, prepare, prepares, preparing, prepare for, ready \
         to, ready for, prevent, prevents, preventing, stop, stops, stopping, control, \
         controls, controlling, eyes, eyeing, eye, aim, aims, aiming, aim for, dream, dreams, \
         dreaming, hope, hopes, hoping, attack, attacks, attacking, attacked, hit, hits, \
         hitting, defend, defends, defending, defended, protect, protects, protecting, guard, \
         guards, cover, covers, support, supports, supporting, pressure, pressure on, weak, \
         weakens, weakness, weakened, hole, outpost, square, squares, pin, pins, blocks, \
         break with, break, breaks, eventually, later, some day, one day, someday, at some \
         point, sooner or later, in order to, intending, intends, intention, route, \
         manoeuvre, maneuver, reroute, belongs, target, targets, fight for, fights for, \
         fighting for, room for, makes room, allow, allows, allowing, standing, stands, sits, \
         sitting, stuck, looks at, looking at, look at the, pointing, opens the way, away \
         from, diagonal, file, pair, against",
    ),
    (
        Might,
        "would, could, might, we have, has, have, had, id, hed",
    ),
    (
        Not,
        "isnt, arent, wasnt, wouldnt, not, never, dont, doesnt, cant, cannot, didnt, without, avoid, avoids, no \
         longer, before",
    ),
    (
        Elsewhere,
        "per cent, similar line, similar position, beginner, beginners, unlike, people, scores, scored, in a match, last winter, last summer, last year, friend of mine, won a game, lost a game, as a kid, in my games, in our database, i was taught, old days, caught, other opening, other openings, another opening, last time, last week, last \
         video, last talk, previous talk, earlier talk, another talk, next talk, next time, \
         next week, next video, another video, other video, percent, statistics, database, my \
         student, my students, in the club, as in the, like in the, known from, reminds me, \
         sicilian, similar to, years ago, i once",
    ),
    (
        Instead,
        "instead, therefore, but wait, alternatively, what about, what if, how about, otherwise, \
         on the other hand, different, the other, by the way",
    ),
    (
        Also,
        "something more, something else, another way, other way, alternative, alternatives, an alternative, \
         other move, another move, another option, another idea, another try, also possible, \
         can also, could also, may also, also",
    ),
    (
        Which,
        "option, option one, option two, option three, number one, number two, number three, number four, number five, option four, fourth option, line one, line two, line three, line four, way number, \
         first option, second option, third option, the first, the second, the third, the fourth, fourth, fifth, the last, then theres, then there is, now the, third one, last one, other one, other school, other way, old way, safe way, easy way, second, \
         third, first, last option, finally, lastly, lets look at, lets see, let us look at, \
         let us see, lets start with, let us start with, lets take, turn to, move on to, as \
         for",
    ),
    (
        Options,
        "options, choices, set ups, setups, answers are, replies are, tries, a choice, fork, \
         four moves, lazy ones, must decide, has to choose, between, candidate, possibilities, ways, candidates, candidate moves, two moves, three \
         moves, several moves, either",
    ),
    (Or, "or"),
    (And, "and"),
    (But, "but, but rather"),
    (If, "if, suppose, when, in case"),
    (
        Back,
        "back to, come back, comes back, go back, going back, return to, returning to, once more, \
         recap, rewind, the position after, where we were, so we had, we saw, as we saw",
    ),
    (After, "after, following"),
    (
        Sorry,
        "no sorry, sorry, i mean, i meant, excuse me, no wait, wait no, correction, my \
         mistake, scratch that, let me correct, pardon",
    ),
    (White, "white, whites"),
    (Black, "black, blacks"),
    (
        Transposes,
        "transposes, transpose, transposing, transposed, transposition, same position, \
         another move order, other move order",
    ),
    (Number, "move, move number"),
    (
        Reason,
        "because, since, so that, in order to, the point, the idea, the reason, why, which, \
         threatening, preventing, and wins, and loses, wins, loses, attacks, attacking, hits, \
         hitting, defends, protects, controls, prepares, preparing, wants to, with the idea, \
         gives, keeps, opens, fights for",
    ),
    (
        IfYou,
        "if you want, if you like, if you prefer, if you need, if you are, if youre, if you \
         feel, if you enjoy, if you have, if you know, if you do not, if you dont, for those \
         who",
    ),
    (
        Greeting,
        "hello, welcome, good evening, good morning, thank you, thanks, goodbye, see you, \
         subscribe",
    ),
    (
        InsteadOf,
        "instead of, rather than, in place of, alternative to, alternatives to",
    ),
];
