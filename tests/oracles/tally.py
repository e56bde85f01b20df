"""`plyline tally`: python-chess (PyPI `chess` 1.11.2) counts the same games at the same positions, by the rules of counting.

    python tally.py FOLDER

FOLDER: the unpacked source archive of the crate `pgn-reader` 0.29.0, which has collections of 1,110 and of 438 real games.
Lessons are made of each; its games are counted as they are, then with other tags, starts, comments and copies, then damaged.
Positions are the same where `Board.epd()` agrees. Prints a line a check, what differs first, and figures last.
"""
import bisect
import calendar
import copy
import filecmp
import functools
import glob
import io
import itertools
import json
import os
import random
import re
import subprocess
import sys
import tempfile
from collections import Counter

import chess
import chess.pgn

import program

RESULTS = ("1-0", "1/2-1/2", "0-1", "*")
SHOWN = 5
# Blitz to 10 minutes, rapid below 60, each with 60 increments (FIDE Laws of Chess, guidelines A and B).
CONTROLS = ("60+0", "180+2", "480+2", "600+0", "600+1", "601", "900+10", "3540+0", "3599", "3600", "1800+30", "5400+30",
            "40/5400+30:1800+30", "40/7200:3600", "?", "-")
# FIDE Rating Regulations, table 8.1.2, from memory: the greatest differences of ratings at which .50, .51 ... .99 are expected.
EXPECTED = [3, 10, 17, 25, 32, 39, 46, 53, 61, 68, 76, 83, 91, 98, 106, 113, 121, 129, 137, 145, 153, 162, 170, 179, 188,
            197, 206, 215, 225, 235, 245, 256, 267, 278, 290, 302, 315, 328, 344, 357, 374, 391, 411, 432, 456, 484, 517,
            559, 619, 735]
EDGES = "1599 1600 1601 1799 1800 1801 1999 2000 2199 2200 2399 2400 2401".split()


class Game:
    """A game as text, and what python-chess reads in it: moves, positions as EPD, men on the board in each. Broken: its
    moves end before what cannot be read, or with the input."""

    def __init__(self, text):
        game = chess.pgn.read_game(io.StringIO(text))
        assert not game.errors, text
        self.tags, self.body, self.is_broken = dict(game.headers), text.partition("\n\n")[2] + "\n", False
        self.is_cut = False
        self.marker, self.moves, board = text.split()[-1], list(game.mainline_moves()), game.board()
        self.epds, self.men = [board.epd()], [chess.popcount(board.occupied)]
        for move in self.moves:
            board.push(move)
            self.epds.append(board.epd())
            self.men.append(chess.popcount(board.occupied))

    def part(self, begin=0, end=None, **changes):
        """A copy from one position to another, its text written anew."""
        made = copy.copy(self)
        end = len(self.moves) if end is None else end
        made.moves, made.epds, made.men = self.moves[begin:end], self.epds[begin:end + 1], self.men[begin:end + 1]
        vars(made).update(tags=dict(self.tags), **changes)
        made.body = movetext(made.sans(), made.marker, begin)
        return made

    def board(self, ply):
        board = chess.Board()
        for move in self.moves[:ply]:
            board.push(move)
        return board

    def sans(self):
        return [san(epd, move) for epd, move in zip(self.epds, self.moves)]

    def text(self):
        return "".join(f'[{name} "{value}"]\n' for name, value in self.tags.items()) + "\n" + self.body


@functools.cache
def san(epd, move):
    """The SAN that python-chess writes."""
    return chess.Board(epd + " 0 1").san(move)


def movetext(sans, marker, ply=0):
    words = [f"{at // 2 + 1}{'...' if at % 2 else '.'} {word}" if at % 2 == 0 or at == ply else word
             for at, word in enumerate(sans, ply)] + [marker]
    return "\n".join(" ".join(words[at:at + 12]) for at in range(0, len(words), 12)) + "\n"


def collection(folder, number):
    for name in sorted(glob.glob(os.path.join(folder, "**", "benches", "*.pgn"), recursive=True)):
        with open(name, encoding="utf-8") as handle:
            found = re.findall(r"\[Event .*?(?=\n\n\[Event |\s*\Z)", handle.read(), re.DOTALL)
        if len(found) == number:
            return [Game(text) for text in found]
    raise OSError(f"no file with {number} games in {folder}")


def in_text(node):
    """The nodes after one in the order in which their moves stand in the text: a move, those beside it, what follows it."""
    for other in node.variations:
        yield other
        if not other.is_main_variation():
            yield from in_text(other)
    if node.variations:
        yield from in_text(node.variations[0])


class Lesson:
    """What the games play, for some plies from a position on that all share, and the distinct positions of that."""

    def __init__(self, name, games, plies, chance=None, ply=0):
        made, board = chess.pgn.Game(), games[0].board(ply)
        if ply:
            made.setup(board)
            # With the square behind a pawn's double step also where no capture is legal: another writer's form.
            made.headers["FEN"] = board.fen(en_passant="fen")
        for game in games:
            node = made
            for move in game.moves[ply:ply + plies]:
                node = node.variation(move) if node.has_variation(move) else node.add_variation(move)
            if chance:
                for one in [made, *in_text(made)][::7]:
                    chance.shuffle(one.variations)
        boards = [node.board() for node in [made, *in_text(made)]]
        self.name, self.text, self.nodes = name, str(made) + "\n", len(boards)
        self.positions = list(dict.fromkeys(board.epd() for board in boards))
        self.fewest = min(chess.popcount(board.occupied) for board in boards)
        assert self.nodes >= 50, name


def lessons(games, chance):
    long = [game for game in games if len(game.moves) > 16]
    common = lambda ply, rank: Counter(game.epds[ply] for game in long).most_common()[rank][0]
    orders = {}
    for game, ply in itertools.product(long, range(5, 9)):
        orders.setdefault(game.epds[ply], Counter())[tuple(game.moves[:ply])] += 1
    joined = max(orders, key=lambda epd: (len(orders[epd]), sum(orders[epd].values()), epd))
    through = lambda epd: [game for game in long if epd in game.epds[:17]][:40]
    repeating = sorted(games, key=lambda game: (len(set(game.epds)) - len(game.epds), game.epds[-1]))[:8]
    made = [Lesson("most-played", through(common(2, 0)), 14), Lesson("next-most-played", through(common(2, 1)), 12, chance),
            Lesson("transposing", through(joined), 14), Lesson("from-fen", through(common(1, 0)), 12, ply=1),
            Lesson("repeating", repeating, 90), Lesson("scattered", chance.sample(games, 40), 16, chance)]
    assert len(made[2].positions) < made[2].nodes
    return made


def span(text):
    """The first and last day that a date allows, as numbers in order; years alone and months alone are whole spans."""
    found = re.fullmatch(r"(\d{4})(?:[.-](\d\d|\?\?))?(?:[.-](\d\d|\?\?))?", text or "")
    if not found:
        return 0, 99999999
    year, month, day = (int(part) if part and part.isdigit() else None for part in found.groups())
    days = calendar.monthrange(year, month or 12)[1]
    return year * 10000 + (month or 1) * 100 + (day or 1), year * 10000 + (month or 12) * 100 + (day or days)


def ratings(tags):
    """Both, or none where one is not known."""
    both = [tags.get(name, "") for name in ("WhiteElo", "BlackElo")]
    return list(map(int, both)) if all(map(str.isdigit, both)) else []


def predicted(tags):
    """The percents that ratings give White; none where one is not known."""
    both = ratings(tags)
    if not both or 0 in both:
        return None
    higher = 50 + bisect.bisect_left(EXPECTED, abs(both[0] - both[1]))
    return higher if both[0] >= both[1] else 100 - higher


def key(tags, by):
    if by == "year":
        return "unknown" if "??" in tags.get("Date", "??")[:4] else tags["Date"][:4]
    if by == "rating":
        return f"{(band := sum(ratings(tags)) // 400 * 200)}-{band + 199}" if ratings(tags) else "unrated"
    parts = re.findall(r"(?:\d+/)?(\d+)(?:\+(\d+))?(?::|$)", tags.get("TimeControl", ""))
    seconds = sum(int(time) for time, _ in parts) + 60 * max((int(more or 0) for _, more in parts), default=0)
    return "unknown" if not parts else "blitz" if seconds <= 600 else "rapid" if seconds < 3600 else "standard"


def passes(tags, since=None, until=None, rating=None):
    (begin, end), both = span(tags.get("Date")), ratings(tags)
    if since and begin < span(since)[0] or until and end > span(until)[1]:
        return False
    low, high = map(int, (rating or "0-0").split("-"))
    return not rating or bool(both) and low <= min(both) and max(both) <= high


def count(games, lesson, by=None, once=False, **filters):
    """What a counts file must hold, apart from `source` and `filters`; `date` is the set of tags that may be the latest."""
    zero = lambda: {"games": 0, "results": dict.fromkeys(RESULTS, 0)}
    entries = {epd: {"fen": epd, **zero(), "next": {}, "by": {}} for epd in lesson.positions}
    totals, seen, dates = Counter(), set(), []
    for game in games:
        is_left = game.tags.get("Variant", "standard").lower() != "standard" or not passes(game.tags, **filters)
        # Where the input ends inside a game, it is damaged though nobody follows it any more.
        is_damaged = game.is_cut or game.is_broken and game.men[-1] >= lesson.fewest
        mark = (game.tags.get("White"), game.tags.get("Black"), game.tags.get("Date"), game.epds[0], tuple(game.moves))
        outcome = "left" if is_left else "damaged" if is_damaged else "left" if once and mark in seen else "games"
        result = game.tags.get("Result") or game.marker or "*"
        totals.update([outcome, result] if outcome == "games" else [outcome])
        if outcome != "games":
            continue
        seen.add(mark)
        dates.append(game.tags.get("Date", "").replace(".", "-").replace("-??", ""))
        # The first visit of a position comes last here, and stays.
        plies = reversed([*zip(game.epds, game.men, [*game.moves, None])])
        visits = {epd: move for epd, men, move in plies if men >= lesson.fewest}
        for epd in visits.keys() & entries.keys():
            entry, move = entries[epd], visits[epd]
            group = entry["by"].setdefault(by, {}).setdefault(key(game.tags, by), zero()) if by else zero()
            following, percents = entry["next"].setdefault(san(epd, move), zero()) if move else zero(), predicted(game.tags)
            for one in (entry, group, following):
                one["games"] += 1
                one["results"][result] += 1
            for one in (entry, following) if percents is not None else ():
                told = one.setdefault("predicted", {"games": 0, "sum": 0})
                told["games"] += 1
                told["sum"] += percents
    for entry in entries.values():
        moves = [{"move": move, **told} for move, told in entry["next"].items()]
        entry["next"] = sorted(moves, key=lambda move: (-move["games"], move["move"]))
    newest = max((span(date)[0] for date in dates), default=0)
    return {**{name: totals[name] for name in ("games", "damaged", "left")}, "positions": list(entries.values()),
            "results": {result: totals[result] for result in RESULTS},
            "date": {date for date in dates if span(date)[1] >= newest and span(date)[0]}}


def numbers(told, where=()):
    """Every number of a counts file by where it stands."""
    if isinstance(told, list):
        told = {one.get("fen") or one.get("move"): one for one in told}
    if isinstance(told, dict):
        inner = [numbers(one, (*where, name)) for name, one in told.items() if name not in ("source", "filters")]
        return {at: number for one in inner for at, number in one.items()}
    return {where[where[:1] == ("positions",):]: told} if isinstance(told, int) else {}


class Told:
    checks = failed = compared = differing = 0

    def say(self, name, wrong, compared=0):
        self.checks += 1
        self.failed += bool(wrong)
        print(f"{'FAILED' if wrong else 'ok'} {name}" + (f" ({compared} numbers)" if compared else ""), flush=True)
        for line in wrong[:SHOWN] + ([f"and {len(wrong) - SHOWN} more"] if len(wrong) > SHOWN else []):
            print(f"    {line}")

    def compare(self, name, expected, told):
        if isinstance(told, str):
            return self.say(name, [told])
        ours, theirs = numbers(expected), numbers(told)
        wrong = [f"{' '.join(at)}: {theirs.get(at)}, python-chess counts {ours.get(at)}"
                 for at in {**ours, **theirs} if ours.get(at) != theirs.get(at)]
        self.compared += len(ours)
        self.differing += len(wrong)
        order = [[entry["fen"] for entry in one["positions"]] for one in (told, expected)]
        wrong += [f"order of positions: {a}, not {b}" for a, b in itertools.zip_longest(*order) if a != b][:1]
        moves = {entry["fen"]: [move["move"] for move in entry["next"]] for entry in told["positions"]}
        for entry in expected["positions"]:
            order, others = [move["move"] for move in entry["next"]], moves.get(entry["fen"], [])
            if order != others and sorted(order) == sorted(others):
                wrong.append(f"order of next moves at {entry['fen']}: {others}, not {order}")
        wrong += [f"plyline: {told.get('plyline')}"] if told.get("plyline") != "counts 1" else []
        if expected["date"] and str(told.get("date")).replace(".", "-").replace("-??", "") not in expected["date"]:
            wrong.append(f"date: {told.get('date')}, not {sorted(expected['date'])}")
        self.say(name, wrong, len(ours))


def options(given):
    return [word for name, value in given.items() for word in ([f"--{name}"] if value is True else [f"--{name}", value])]


def tally(out, *words):
    """The counts file that the program writes, or why there is none."""
    try:
        program.run("tally", *words)
        with open(out, encoding="utf-8") as handle:
            return json.load(handle)
    except (program.Refused, OSError, ValueError) as error:
        return f"no counts: {error}"


def places(games, lesson):
    """The number, line and reason of each damaged game: the line of the word at which its moves end, or that it begins on."""
    line = 1
    for number, game in enumerate(games, 1):
        if game.is_cut:
            yield number, line, "the file ends"
        elif game.is_broken and game.men[-1] >= lesson.fewest:
            # Twelve moves a line, as `movetext` writes them.
            yield number, line + len(game.tags) + 1 + len(game.moves) // 12, game.wrong
        line += game.text().count("\n") + 1


def named(path, file, out):
    """The damaged games that the program names, by number, line and reason, and how many more it counts."""
    words = ["tally", path, "--games", file, "--out", out]
    said = subprocess.run([os.environ["PLYLINE"], *words], capture_output=True, text=True, timeout=program.SECONDS).stderr
    more = re.search(r"and (\d+) more damaged games", said)
    found = re.findall(r"\.pgn:(\d+): game (\d+), .* is damaged and not counted: (.*)", said)
    return [(int(game), int(line), why) for line, game, why in found], int(more[1]) if more else 0


def write(path, *texts):
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8", newline="") as handle:
        handle.write("\n".join(texts))
    return path


def dressed(games, chance):
    """The same games with other dates, ratings, results, clocks, starts, variants and comments, and with copies."""
    made = []
    for game in games:
        game, dress = copy.copy(game), chance.randrange(30)
        game.tags = tags = dict(game.tags)
        date = f"{chance.randint(2019, 2024)}.{chance.randint(1, 12):02}.{chance.randint(1, 28):02}"
        tags["Date"] = chance.choice([date] * 7 + [date[:7] + ".??", date[:4] + ".??.??", "????.??.??"])
        if chance.random() < .4:
            tags["WhiteElo"], tags["BlackElo"] = chance.choice([("?", "?"), *(chance.choices(EDGES, k=2) for _ in range(3))])
        tags["TimeControl"] = chance.choice(CONTROLS)
        if dress < 3:
            del tags["Result"]
        elif dress == 3:
            tags["Result"] = chance.choice([one for one in RESULTS[:3] if one != game.marker])
        elif dress == 4:
            game = game.part(marker="*")
            game.tags["Result"] = "*"
        elif dress == 5:
            aside = r'1. \1 {[Event "x"] 1-0 (no)} (1. a3 a5 (1... h5 $1) 2. b3) $2 ; 0-1 [Result "*"]'
            game.body = re.sub(r"^1\. (\S+)", aside + "\n", game.body)
        elif dress == 6 and len(game.moves) > 12:
            at = chance.randint(1, 10)
            tags.update(SetUp="1", FEN=game.board(at).fen(en_passant=chance.choice(["fen", "legal"])))
            game = game.part(at)
        elif dress == 7:
            tags["Variant"] = chance.choice(["Chess960", "Crazyhouse", "Standard", "standard"])
        elif dress == 8 and game.moves:
            game = game.part(marker="")
            if "5" in game.tags["Date"]:
                del game.tags["Result"]
        made.append(game)
    again = [game for game in made if len(game.moves) > 16 and game.marker and "FEN" not in game.tags]
    # Copies; the same without comments, on another day, by another player; and games that end sooner.
    made += again[:20] + [game.part() for game in again[20:30]] + [game.part(0, 4) for game in again[10:15]]
    for game, name, value in zip(again[:10], ["Date", "White"] * 5, ["2018.01.02", "Someone, Else"] * 5):
        made.append(game.part())
        made[-1].tags[name] = value
    return mixed(made, chance)


def mixed(games, chance):
    """In another order; a game without a marker never comes last, where the input would end inside it."""
    games = chance.sample(games, len(games))
    at = next(at for at, game in enumerate(games) if game.marker)
    return games[:at] + games[at + 1:] + [games[at]]


def damaged(games, chance):
    """Five collections with moves that cannot be read or played, the last game cut in its middle: after a move, inside a
    word, inside a comment, inside a variation, and late, where many lessons no longer follow it."""
    games = [game for game in games if len(game.moves) > 20]
    for kind in range(5):
        made = []
        for number, game in enumerate(chance.sample(games, 80)):
            at = chance.randrange(len(game.moves) if kind < 4 else 12)
            legal = [san(game.epds[at], move).rstrip("+#") for move in chess.Board(game.epds[at] + " 0 1").legal_moves]
            words = ["Qz9", "Nd", "e9"] if number % 3 == 1 else ["Ke4", "Kd5", "Qa5", "Qh4", "Rd8", "Bb1", "O-O-O"]
            word = chance.choice([word for word in words if word not in legal])
            sans, cut = game.sans(), game.part(0, at, is_broken=True, wrong=word)
            cut.body = movetext(sans[:at] + [word] + sans[at + 1:], game.marker)
            made.append(cut if number % 3 else game)
        game = chance.choice(games)
        cut = game.part(0, (9, 14, 11, 10, len(game.moves) - 1)[kind], is_broken=True, is_cut=True, marker="")
        cut.body += ("", game.sans()[14][0], "{a comment that", "(5... ", "")[kind]
        yield made + [cut]


GIVEN = ({"by": "rating"}, {"by": "time"}, {"once": True}, {"since": "2021", "until": "2023-06"}, {"since": "2020.03.15"},
         {"until": "2023-02-28"}, {"rating": "1800-2399"},
         {"by": "year", "since": "2020-02", "until": "2024.11.30", "rating": "1600-2600", "once": True})


def outside(number, folder, told):
    """The checks of one collection."""
    chance = random.Random(number)
    games = collection(sys.argv[1], number)
    made, finery, hurt = lessons(games, chance), dressed(games, chance), list(damaged(games, chance))
    at = lambda name: os.path.join(folder, str(number), name)
    put = lambda name, some: write(at(name), *(game.text() for game in some))
    plain_file, dressed_file, mixed_file = (put("games.pgn", games), put("dressed.pgn", finery),
                                            put("mixed/dressed.pgn", mixed(finery, chance)))
    cut = next(cut for cut in range(len(finery) // 2, 0, -1) if finery[cut - 1].marker)
    halves = [put("half-b.pgn", finery[:cut]), put("half-a.pgn", finery[cut:])]
    for turn, lesson in enumerate(made):
        path, title, asked = write(at(lesson.name + ".pgn"), lesson.text), f"{number} games, {lesson.name}", {}

        def ask(*words):
            out = at(f"{lesson.name}-{len(asked)}.json")
            asked[out] = tally(out, *words, "--out", out)
            return out

        told.compare(f"{title} ({lesson.nodes} nodes), beside the lesson, by year", count(games, lesson, by="year"),
                     tally(at(lesson.name + ".counts.json"), path, "--games", plain_file, "--by", "year"))
        for given in GIVEN if turn % 2 == 0 else GIVEN[turn // 2::3]:
            told.compare(f"{title}, dressed {' '.join(options(given))}", count(finery, lesson, **given),
                         asked[ask(path, "--games", dressed_file, *options(given))])
        for kind, some in enumerate(hurt):
            file = put(f"damaged-{kind}.pgn", some)
            told.compare(f"{title}, damaged {kind}", count(some, lesson), asked[ask(path, "--games", file)])
            (seen, more), expected = named(path, file, at("named.json")), list(places(some, lesson))
            wrong = [f"{ours}, not {theirs}" for ours, theirs in zip(seen, expected)
                     if ours[:2] != theirs[:2] or theirs[2] not in ours[2]]
            wrong += [f"{len(seen)} and {more} of {len(expected)}"] if len(seen) + more != len(expected) or len(seen) > 20 else []
            told.say(f"{title}, the first of damaged {kind} are named with line and reason", wrong, 2 * len(seen))
        by = ("year", "rating", "time")[turn % 3]
        parts = [ask(path, "--games", half, "--by", by) for half in halves]
        merged = [ask("--merge", *parts), ask("--merge", *parts[::-1])]
        expected = count(finery, lesson, by=by)
        for name, file in (("in one file", ask(path, "--games", dressed_file, "--by", by)),
                           ("in another order", ask(path, "--games", mixed_file, "--by", by)),
                           ("as two files", ask(path, "--games", *halves, "--by", by)),
                           ("merged", merged[0]), ("merged the other way", merged[1])):
            told.compare(f"{title}, {name} by {by}", expected, asked[file])
        same = all(map(os.path.exists, merged)) and filecmp.cmp(*merged, shallow=False)
        told.say(f"{title}, the same file whichever half comes first", [] if same else ["they differ, or there is none"])
        # What must not be merged: a file with itself, one grouped otherwise, filtered, without copies, of another lesson.
        alike, last = ["--games", halves[1], "--by", by], made[turn - 1].name + ".pgn"
        others = {"itself": parts[0], "no groups": ask(path, *alike[:2]), "a filter": ask(path, *alike, "--since", "2021"),
                  "no copies": ask(path, *alike, "--once"), "another lesson": ask(at(last), *alike) if turn else parts[0]}
        told.say(f"{title}, what does not belong together is not merged", [
            f"merged with {name}" for name, other in others.items() if os.path.exists(ask("--merge", parts[0], other))])


if __name__ == "__main__":
    TOLD = Told()
    with tempfile.TemporaryDirectory() as scratch:
        for size in (1110, 438):
            outside(size, scratch, TOLD)
    print(f"{TOLD.checks} checks, {TOLD.failed} failed; {TOLD.compared} numbers compared, {TOLD.differing} differ")
    sys.exit(1 if TOLD.failed else 0)
