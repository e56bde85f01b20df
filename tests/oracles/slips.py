"""Texts with one slip each, made from real games: is the first error exactly where the text departs from legal chess?

    python slips.py GAMES [--seed N] [--table FILE]

GAMES holds the unpacked archive of the crate `pgn-reader`, see games.py; the program is the environment's PLYLINE.
The judge is python-chess (PyPI `chess` 1.11.2): a text departs at the first word that its `parse_san` refuses. It is
as generous as plyline about what can be in these texts (a needless file or rank, a capture or check sign missing or
false). In one thing plyline reads more: a capture sign may be anywhere after the piece letter, `abx5`; then the
word without it is judged. Zeros for castling, dots and figurines are in no text. Numbers are not used by either.
Printed is, for each kind, how often the true move is among the near misses offered, and how often a fix, which is
called certain, puts in another move than the true one.
"""
import argparse
import itertools
import os
import random
import re
import tempfile

import chess

import games
import program

SEED = 1857
FEWEST = 5000
# Kinds whose near misses must hold the true move this often, where the slip itself is the first illegal word.
WANTED = {"wrong square": 0.9, "wrong piece": 0.9}
# Certain fixes there must be, of which none may put in another move: `check --fix` applies them without a look.
FEWEST_FIXES = 500
# Slips of a kind in one game. The kinds with a bound are measured on more.
TIMES = {"wrong square": 2, "wrong piece": 2}
PIECE = re.compile(r"([NBRQK])([a-h]?[1-8]?x?[a-h][1-8].*)")
TARGET = re.compile(r"([a-h])([1-8])(=[NBRQ])?[+#]?$")


def replaced(text, at, word, by):
    return text[:at] + by + text[at + len(word):]


def wrong_square(rng, game, index):
    """One character of the target square typed wrong."""
    at, word, _, _ = game.words[index]
    square = TARGET.search(word)
    if square is None:
        return None
    group = rng.choice([1, 2])
    by = rng.choice([sign for sign in ("abcdefgh", "12345678")[group - 1] if sign != square.group(group)])
    return replaced(game.text, at, word, word[:square.start(group)] + by + word[square.end(group):])


def wrong_piece(rng, game, index):
    at, word, _, _ = game.words[index]
    piece = PIECE.match(word)
    if piece is None:
        return None
    by = rng.choice([letter for letter in "NBRQK" if letter != piece.group(1)])
    return replaced(game.text, at, word, by + piece.group(2))


def of_the_other_side(rng, board):
    """A move that the other side could make if it were to move."""
    if board.is_check():
        return None
    other = board.copy(stack=False)
    other.push(chess.Move.null())
    moves = list(other.legal_moves)
    return other.san(rng.choice(moves)) if moves else None


def wrong_side_instead(rng, game, index):
    at, word, board, _ = game.words[index]
    by = of_the_other_side(rng, board)
    return by and replaced(game.text, at, word, by)


def wrong_side_put_in(rng, game, index):
    at, word, board, _ = game.words[index]
    by = of_the_other_side(rng, board)
    return by and replaced(game.text, at, word, f"{by} {word}")


def dropped(rng, game, index):
    """The move is gone; White's leaves its number behind, as an author would."""
    at, word, _, _ = game.words[index]
    return game.text[:at] + game.text[at + len(word):].lstrip()


def doubled(rng, game, index):
    at, word, _, _ = game.words[index]
    return replaced(game.text, at, word, f"{word} {word}")


def needless_file(rng, game, index):
    at, word, board, move = game.words[index]
    if not re.match(r"[NBRQK]x?[a-h][1-8][+#]?$", word):
        return None
    return replaced(game.text, at, word, word[0] + chess.square_name(move.from_square)[0] + word[1:])


def missing_file(rng, game, index):
    at, word, _, _ = game.words[index]
    if not re.match(r"[NBRQ][a-h1-8]x?[a-h][1-8][+#]?$", word):
        return None
    return replaced(game.text, at, word, word[0] + word[2:])


def swapped_moves(rng, game, index):
    if index + 1 == len(game.words):
        return None
    (at, word, _, _), (next_at, next_word, _, _) = game.words[index:index + 2]
    if word == next_word:
        return None
    return replaced(replaced(game.text, next_at, next_word, word), at, word, next_word)


def swapped_signs(rng, game, index):
    """Two neighbouring characters of the word; a word that would begin with a digit is a number to all readers."""
    at, word, _, _ = game.words[index]
    first = rng.randrange(len(word) - 1)
    by = word[:first] + word[first + 1] + word[first] + word[first + 2:]
    return None if by == word or by[0].isdigit() else replaced(game.text, at, word, by)


KINDS = {
    "wrong square": wrong_square, "wrong piece": wrong_piece, "wrong side, instead": wrong_side_instead,
    "wrong side, put in": wrong_side_put_in, "dropped move": dropped, "doubled move": doubled,
    "needless file": needless_file, "missing file": missing_file, "swapped moves": swapped_moves,
    "swapped signs": swapped_signs,
}


def read(board, word):
    """The move that a word means by python-chess; a capture sign in the wrong place does not count."""
    try:
        return board.parse_san(word)
    except ValueError:
        return board.parse_san(word if re.match("x[NBRQK]", word) else word.replace("x", "", 1))


class Slip:
    """A text with one slip, and where python-chess says that it departs from legal chess, None if nowhere."""

    def __init__(self, kind, game, index, text):
        self.kind, self.text = kind, text
        self.body, self.moves = game.body, [word for _, word, _, _ in game.words]
        self.at, self.word, board, move = game.words[index]
        self.true = board.san(move)
        self.departs = None
        board = board.copy(stack=False)
        for begin, word in games.words(text, self.at):
            try:
                board.push(read(board, word))
            except ValueError:
                self.departs = begin
                break


def make(rng, game, kind):
    """A slip of the kind at a random place of the game where there can be one."""
    for index in rng.sample(range(len(game.words)), len(game.words)):
        text = KINDS[kind](rng, game, index)
        if text:
            return Slip(kind, game, index, text)
    return None


def is_named(slip, errors, have):
    """Whether a half-move that was dropped is said to be missing before the very word that came after it. The text may
    depart only later, where both sides can play that word; the finding is there, or at the next word, where numbers
    leave the side open."""
    if slip.kind != "dropped move":
        return False
    near = list(itertools.islice(games.words(slip.text, slip.at), 2))
    # Of a capture and its answer in the same word, such as `12. Bxf4 Bxf4`, either may be the one that was dropped.
    after = [word for _, word in near[:2 if near and near[0][1] == slip.word else 1]]
    named = re.search(r"is missing before ([^;\n]*)", errors[0]["help"] or "") if errors else None
    words = [word.lstrip("0123456789.") for word in re.split(r", or \w+'s before ", named.group(1))] if named else []
    places = [program.place(slip.text, begin) for begin, _ in near]
    named = {word.rstrip("+#") for word in words}
    return have in places and any(word.rstrip("+#") in named for word in after)


def differences(slip, found):
    """What is wrong with what plyline says about a text."""
    errors = program.errors(found)
    have = (errors[0]["line"], errors[0]["column"]) if errors else None
    want = None if slip.departs is None else program.place(slip.text, slip.departs)
    line = slip.text[:slip.at].rsplit("\n", 1)[-1] + slip.text[slip.at:].split("\n")[0]
    if have != want and not is_named(slip, errors, have):
        said = errors[0]["message"] if errors else "nothing"
        yield f"{slip.kind}: {slip.true} in `{line}`: departs at {want}, first error at {have}: {said}"
    if slip.kind == "needless file" or (slip.kind == "swapped signs" and want is None):
        spelling = [finding for finding in found if finding["code"] == "P030"]
        if [finding["fix"] and finding["fix"]["text"] for finding in spelling] != [slip.true]:
            yield f"{slip.kind}: {slip.true} in `{line}`: P030 that writes it expected, got {spelling}"
    if slip.kind == "missing file" and have == want and errors[0]["code"] != "P013":
        yield f"{slip.kind}: {slip.true} in `{line}`: P013 expected, got {errors[0]['code']}"


class Count:
    """One row of the table."""

    def __init__(self):
        self.texts = self.legal = self.later = self.here = self.first = self.offered = self.fixed = self.false = 0

    def add(self, slip, found):
        self.texts += 1
        errors = program.errors(found)
        self.legal += slip.departs is None
        self.later += slip.departs is not None and slip.departs != slip.at
        if not errors:
            return
        if errors[0]["fix"]:
            # What is put in need not be where the slip is: of a move that is there twice either may go.
            mended = program.mended(slip.text, [errors[0]["fix"]])
            self.fixed += 1
            self.false += [word for _, word in games.words(mended, slip.body)] != slip.moves
        if slip.departs != slip.at:
            return
        self.here += 1
        near = program.near_misses(errors[0])
        # The way to write a move that two pieces can make is in the help in other words.
        written = re.search(r"write ([^;\n]*)", errors[0]["help"] or "")
        near = near or (re.split(", | or ", written.group(1)) if written else [])
        self.first += near[:1] == [slip.true]
        self.offered += slip.true in near

    def row(self, kind):
        share = lambda part: f"{100 * part / self.here:5.1f} %" if self.here else "      -"
        return (f"{kind:20} {self.texts:6} {self.legal:7} {self.later:6} {self.here:6}   {share(self.offered)}   "
                f"{share(self.first)} {self.fixed:6} {self.false:6}")


HEAD = ("kind of slip          texts  legal*  later   here   offered    first   fixed  false\n"
        "(*: no illegal word follows; later: the first illegal word comes after the slip; the shares are of the rest,\n"
        "where the slip itself is; fixed, false: fixes offered, and those that put in another move than the true one)")


def check():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("games")
    arguments.add_argument("--seed", type=int, default=SEED)
    arguments.add_argument("--missed", type=int, default=0, help="show so many slips whose true move is not offered")
    given = arguments.parse_args()
    rng = random.Random(given.seed)
    slips = []
    for game in games.played(given.games):
        for kind in KINDS:
            slips += filter(None, (make(rng, game, kind) for _ in range(TIMES.get(kind, 1))))
    counts = {kind: Count() for kind in KINDS}
    wrong = [] if len(slips) >= FEWEST else [f"{len(slips)} slips, at least {FEWEST} expected"]
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, f"{at:05}.pgn") for at in range(len(slips))]
        for path, slip in zip(paths, slips):
            with open(path, "w", encoding="utf-8") as handle:
                handle.write(slip.text)
        found = program.findings(folder)
    for path, slip in zip(paths, slips):
        its_own = found.get(path, [])
        counts[slip.kind].add(slip, its_own)
        wrong += differences(slip, its_own)
        errors = program.errors(its_own)
        if given.missed and slip.departs == slip.at and errors and slip.kind in WANTED:
            if slip.true not in program.near_misses(errors[0]):
                given.missed -= 1
                print(slip.kind, slip.true, errors[0]["message"], "|", errors[0]["help"])
    for kind, bound in WANTED.items():
        count = counts[kind]
        if count.offered < bound * count.here:
            wrong.append(f"{kind}: the true move is offered {count.offered} times of {count.here}, "
                         f"less than {bound:.0%}")
    fixed, false = sum(count.fixed for count in counts.values()), sum(count.false for count in counts.values())
    if false or fixed < FEWEST_FIXES:
        wrong.append(f"{false} of {fixed} fixes put in another move than the true one; none of {FEWEST_FIXES} may")
    table = "\n".join([HEAD, *(counts[kind].row(kind) for kind in KINDS)])
    return wrong, f"{table}\n{len(slips)} texts, seed {given.seed}"


if __name__ == "__main__":
    program.main(check)
