//! English: phrases that tell something of the moves about them. Common practice, no source.

use super::language::Cue;
use super::language::Cue::{
    After, Also, And, Back, Black, But, Elsewhere, Greeting, If, IfYou, Instead, InsteadOf, Might,
    Next, Not, Number, Options, Or, Plan, Plays, Reason, Sorry, Transposes, Which, White,
};

/// Phrases by what they tell, parted by commas.
pub const CUES: &[(Cue, &str)] = &[
    (
        Plays,
        "put, puts, pushes, strikes, asks, kicks, props, plays, play, played, playing, answers, answer is, answers with, replies, reply is, \
         responds, continues, continue, develops, begins, begin with, starts, start with, \
         meets, goes, go, chooses, moves, move is, the move, the moves, main move, main line, \
         recommend, recommends, prefer, prefers, followed by, retreats, follows, next comes, then comes, comes next, met by, usually see, often see",
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
         from, diagonal, file, pair, against, holds, holding, hangs, hanging",
    ),
    (
        Might,
        "because, hell, youll, theyll, youd, theyd, would, could, might, we have, has, have, had, id, hed",
    ),
    (
        Not,
        "isnt, arent, wasnt, wouldnt, not, never, dont, doesnt, cant, cannot, didnt, without, avoid, avoids, no \
         longer, before",
    ),
    (
        Elsewhere,
        "per cent, similar line, similar position, beginner, beginners, unlike, people, scores, scored, in a match, last winter, last summer, last year, friend of mine, won a game, lost a game, as a kid, in my games, in our database, i was taught, old days, caught, other opening, other openings, another opening, last time, last week, last \
         video, last talk, last lesson, first lesson, second lesson, third lesson, previous lesson, earlier lesson, another lesson, next lesson, lesson one, lesson two, lesson three, lesson four, you remember, talked about, previous talk, earlier talk, another talk, next talk, next time, \
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
         lazy ones, must decide, has to choose, between, candidate, possibilities, ways, candidates, candidate moves, several moves, either",
    ),
    (Or, "or"),
    (And, "and"),
    (But, "but, but rather"),
    (If, "if, suppose, when, in case"),
    (
        Back,
        "back to, come back to, comes back to, go back, going back, return to, returning to, once more, \
         recap, rewind, sum up, all together, from the start, from the beginning, repeat, one line, one last time, the position after, where we were, so we had, we saw, as we saw",
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
