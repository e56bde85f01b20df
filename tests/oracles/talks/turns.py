"""The turns of phrase of generated talks: what a teacher says around the moves. Used by generate.py alone.

S is the side that plays, T the other; `{m}` is a move that is played, `{ms}` several, `{t}` a move that is only named,
`{s}` a square, `{n}` a number, `{l}` a list of moves. Written by hand, from memory of how lessons sound.
"""

ORDINALS = ["first", "second", "third", "fourth"]
NUMBERS = ["nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
           "thirteen", "fourteen", "fifteen"]

HELLO = ["Hello everyone, and welcome.", "Good evening.", "Right, let's start.", "Welcome back, all of you.",
         "Hi. I hope you can hear me.", "Okay. Today's lesson is a short one.", "Good morning from a rainy village.",
         "So, here we are again.", "Thanks for coming on such a cold night."]
BYE = ["Thank you, and good night.", "That's all for today.", "See you next week.", "Thanks for listening, bye.",
       "And with that I leave you. Have a good evening.", "Enough. Have a look at it at home.", ""]
CHAT = ["I learned this from my grandfather.", "It's a matter of taste.", "You see this a lot at club level.",
        "I had it on the board last month, and it was a mess.", "White scores fifty-four per cent here.",
        "In about three hundred games the result was even.", "Let me have a sip of water.", "The engine shrugs.",
        "Nobody knows who is better.", "Black has equalised, more or less.", "The pawn structure tells you what to do.",
        "Remember the two bishops.", "This is where most people begin to think.", "It looks strange, but it works.",
        "I wouldn't say that it wins, but it's unpleasant.", "A draw was agreed in half of the games."]
FIRST = ["It begins with", "The first moves are", "We start with", "Our opening goes", "So,", "The line starts"]
ELSEWHERE = ["We go on where we stopped last time.", "You know the first moves, I won't repeat them.",
             "You all have the position in front of you.", "The starting position is on your sheet."]
# One move: S is the side that plays it, T the other.
ONE = ["{m}.", "S plays {m}.", "Now {m}.", "And now {m}.", "Then {m}.", "S continues with {m}.", "Next comes {m}.",
       "The usual move is {m}.", "S goes {m}.", "Here S plays {m}.", "And S, of course, {m}.", "What now? Well, {m}."]
TWO = ["{m}, {m}.", "S plays {m}, and T answers {m}.", "{m} is met by {m}.", "{m}, and then {m}.", "S goes {m}, T {m}.",
       "Now {m}, and T replies {m}.", "After {m} T plays {m}.", "{m}. The answer is {m}."]
MORE = ["{ms}.", "There follows {ms}.", "The line continues {ms}.", "Then comes {ms}.", "And it goes on {ms}.",
        "Now it's forced: {ms}.", "You'll usually see {ms}."]
TALK = ["The idea is {t}.", "The plan is {t} and later {t}.", "S would love to play {t} one day.",
        "Keep an eye on {s}.", "The square {s} is weak.", "S has the square {s} for a knight.",
        "The threat is {t}, of course.", "S is dreaming of {t}.", "T must watch out for {t}.",
        "Don't even think of {t}, it loses a pawn.", "The pieces belong on {s}, {s} and {s}.",
        "Later S often puts a rook on {s}.", "In the long run S aims for {t} and {t}.",
        "The pressure is on {s} and on {s}.", "A beginner would play {t} here, and that's a mistake because of {t}.",
        "That gives up control of {s}.", "The knight's route is {s}, {s}, {s}.", "A knight travels by {s} to {s}.",
        "From there the bishop looks at {s}.", "Everything turns on the point {s}.",
        "In a similar line, with the pawn on {s}, you would have {t}, but not here.",
        "If you ever get {t} in, you're happy.", "It prevents {t}.", "It prepares {t}.", "That stops {t} for good.",
        "Many people are afraid of {t}, without reason.", "I once saw {t} in this position, but never mind."]
LIST = ["Here S has {n} moves, {l}.", "Now S can choose between {l}.", "There are {n} ways for S, {l}.",
        "At this point there're {n} options for S, {l}."]
TAKE_FIRST = ["Let's begin with {m}.", "First, {m}.", "We take {m} first.", "Number one, {m}."]
SUM = ["So let me repeat the beginning: {ms}.", "To sum up, {ms}, that's the position to know.",
       "Once more, the first moves: {ms}."]
