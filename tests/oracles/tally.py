"""`plyline tally`: python-chess (PyPI `chess` 1.11.2) counts the same games at the same positions, by the rules of counting.

    python tally.py FOLDER [--itself]

FOLDER: the unpacked source archive of the crate `pgn-reader` 0.29.0, with collections of 1,110 and of 438 real games.
Lessons are made of each; the games are counted as they are, then with other tags, starts, comments and copies, then
damaged. Positions are the same where `Board.epd()` agrees. With --itself the program is not run: the texts made here are
read again by python-chess, and the counts must fit together. Prints a line a check, what differs first, and figures.
"""
import calendar
import glob
import io
import json
import os
import random
import re
import sys
import tempfile
from collections import Counter

import chess
import chess.pgn

import program

COLLECTIONS = (1110, 438)
RESULTS = ("1-0", "1/2-1/2", "0-1", "*")
SHOWN = 5
# Around these numbers of seconds and increments a class ends: blitz to 10 minutes, rapid below 60, each with 60
# increments (FIDE Laws of Chess, guidelines A and B).
CONTROLS = ("60+0", "180+2", "480+2", "600+0", "600+1", "601", "900+10", "3540+0", "3599", "3600", "1800+30", "5400+30",
            "40/5400+30:1800+30", "40/7200:3600", "?", "-", None)
EDGES = (1599, 1600, 1601, 1799, 1800, 1801, 1999, 2000, 2199, 2200, 2399, 2400, 2401)
SANS = {}


class Reading(chess.pgn.BaseVisitor):
    """A game: tags, positions of its main line as EPD, men on the board in each, moves; with `all`, of variations too."""

    def __init__(self, all=False):
        self.all, self.tags, self.moves, self.epds, self.men = all, {}, [], [], []
        self.marker, self.is_broken = None, False

    def visit_header(self, name, value):
        self.tags.setdefault(name, value)

    def begin_variation(self):
        return None if self.all else chess.pgn.SKIP

    def visit_move(self, board, move):
        self.moves.append(move)
        if self.all:
            board = board.copy(stack=False)
            board.push(move)
            self.place(board)

    def visit_board(self, board):
        if not self.all or not self.epds:
            self.place(board)

    def place(self, board):
        self.epds.append(board.epd())
        self.men.append(chess.popcount(board.occupied))

    def visit_result(self, result):
        self.marker = result

    def handle_error(self, error):
        self.is_broken = True

    def result(self):
        return self


def read(text, all=False):
    return chess.pgn.read_game(io.StringIO(text), Visitor=lambda: Reading(all))


class Game:
    """A game as text and as what its text means. Broken: the moves end before what cannot be read, or with the input."""

    def __init__(self, tags, body, moves, epds, men, marker, is_broken=False):
        self.tags, self.body, self.moves, self.epds, self.men = tags, body, moves, epds, men
        self.marker, self.is_broken = marker, is_broken

    def copy(self, **changes):
        made = Game(dict(self.tags), self.body, self.moves, self.epds, self.men, self.marker, self.is_broken)
        vars(made).update(changes)
        return made

    def text(self):
        return "".join(f'[{name} "{value}"]\n' for name, value in self.tags.items()) + "\n" + self.body

    def sans(self, begin=0, end=None):
        return [san(self.epds[at], self.moves[at]) for at in range(begin, len(self.moves) if end is None else end)]


def san(epd, move):
    """The SAN that python-chess writes; worked out once for a position and move."""
    if (epd, move) not in SANS:
        SANS[epd, move] = chess.Board(epd + " 0 1").san(move)
    return SANS[epd, move]


def movetext(sans, marker, ply=0):
    words = [f"{at // 2 + 1}. {word}" if at % 2 == 0 else f"{at // 2 + 1}... {word}" if at == ply else word
             for at, word in enumerate(sans, ply)]
    rows = [" ".join(words[at:at + 12]) for at in range(0, len(words), 12)]
    return "\n".join(rows + ([marker] if marker else [])) + "\n"


def collection(folder, number):
    for name in sorted(glob.glob(os.path.join(folder, "**", "benches", "*.pgn"), recursive=True)):
        with open(name, encoding="utf-8") as handle:
            text = handle.read()
        if len(re.findall(r"^\[Event ", text, re.MULTILINE)) == number:
            break
    else:
        raise OSError(f"no file with {number} games in {folder}")
    found = []
    for text in re.findall(r"\[Event .*?(?=\n\n\[Event |\s*\Z)", text, re.DOTALL):
        one = read(text)
        assert not one.is_broken and one.marker, text
        found.append(Game(one.tags, text.partition("\n\n")[2] + "\n", one.moves, one.epds, one.men, one.marker))
    return found


# Lessons

class Lesson:
    """The distinct positions of a lesson, in the order in which its text first reaches them."""

    def __init__(self, name, text):
        one = read(text, all=True)
        self.name, self.text, self.nodes = name, text, len(one.epds)
        self.positions, self.fewest = list(dict.fromkeys(one.epds)), min(one.men)
        assert not one.is_broken and self.nodes >= 50, (name, self.nodes)


def tree(name, games, plies, chance=None, start=None):
    """A lesson of what the games play, for some plies from a position on (from the first one where none is given)."""
    made = chess.pgn.Game()
    if start:
        first = games[0]
        board = chess.Board()
        for move in first.moves[:first.epds.index(start)]:
            board.push(move)
        made.setup(board)
        # With the square behind a pawn's double step also where no capture is legal: another writer's form.
        made.headers["FEN"] = board.fen(en_passant="fen")
    for game in games:
        node, begin = made, game.epds.index(start) if start else 0
        for move in game.moves[begin:begin + plies]:
            node = node.variation(move) if node.has_variation(move) else node.add_variation(move)
    nodes = [made]
    for node in nodes:
        if chance:
            chance.shuffle(node.variations)
        nodes.extend(node.variations)
    return Lesson(name, str(made) + "\n")


def lessons(games, chance):
    second = [epd for epd, _ in Counter(game.epds[2] for game in games if len(game.moves) > 16).most_common()]
    orders = {}
    for game in games:
        for ply in range(5, 9):
            if len(game.moves) > 16:
                orders.setdefault(game.epds[ply], Counter())[tuple(game.moves[:ply])] += 1
    mixed = max(orders, key=lambda epd: (len(orders[epd]), sum(orders[epd].values()), epd))
    # A position after a double step of a pawn, reached by most games.
    doubles = Counter(game.epds[ply + 1] for game in games for ply in range(3, min(6, len(game.moves)))
                      if game.moves[ply].to_square - game.moves[ply].from_square in (16, -16)
                      and chess.Board(game.epds[ply] + " 0 1").piece_type_at(game.moves[ply].from_square) == chess.PAWN)
    start = max(doubles, key=lambda epd: (doubles[epd], epd))
    through = lambda epd, limit: [game for game in games if epd in game.epds[:17] and len(game.moves) > 16][:limit]
    repeating = sorted(games, key=lambda game: (len(set(game.epds)) - len(game.epds), game.epds[-1]))[:8]
    made = [tree("most-played", through(second[0], 40), 14), tree("next-most-played", through(second[1], 40), 12, chance),
            tree("transposing", through(mixed, 40), 14), tree("from-fen", through(start, 40), 12, start=start),
            tree("repeating", repeating, 90), tree("scattered", chance.sample(games, 40), 16, chance)]
    assert len(made[2].positions) < made[2].nodes and len(made[4].positions) < made[4].nodes
    return made


# Counting

def span(text):
    """The first and last day that a date allows, as numbers in order; years alone and months alone are whole spans."""
    found = re.fullmatch(r"(\d{4})(?:[.-](\d\d|\?\?))?(?:[.-](\d\d|\?\?))?", text or "")
    if not found:
        return 0, 99999999
    year, month, day = int(found[1]), found[2] or "??", found[3] or "??"
    first, last = (1, 12) if month == "??" else (int(month), int(month))
    if month != "??" and day != "??":
        return (year * 10000 + first * 100 + int(day),) * 2
    return year * 10000 + first * 100 + 1, year * 10000 + last * 100 + calendar.monthrange(year, last)[1]


def ratings(tags):
    """Both, or None where one is not known."""
    both = [tags.get("WhiteElo", ""), tags.get("BlackElo", "")]
    return [int(one) for one in both] if all(one.isdigit() for one in both) else None


def key(tags, by):
    if by == "year":
        year = tags.get("Date", "")[:4]
        return year if year.isdigit() else "unknown"
    if by == "rating":
        both = ratings(tags)
        band = both and int(sum(both) / 2) // 200 * 200
        return "unrated" if both is None else f"{band}-{band + 199}"
    parts = re.findall(r"(?:\d+/)?(\d+)(?:\+(\d+))?(?::|$)", tags.get("TimeControl", ""))
    seconds = sum(int(time) for time, _ in parts) + 60 * max((int(more or 0) for _, more in parts), default=0)
    return "unknown" if not parts else "blitz" if seconds <= 600 else "rapid" if seconds < 3600 else "standard"


def passes(tags, since=None, until=None, rating=None):
    begin, end = span(tags.get("Date"))
    if since and begin < span(since)[0] or until and end > span(until)[1]:
        return False
    both = ratings(tags)
    low, high = map(int, rating.split("-")) if rating else (0, 0)
    return not rating or both is not None and low <= min(both) and max(both) <= high


def zero():
    return {"games": 0, "results": dict.fromkeys(RESULTS, 0)}


def add(entry, result):
    entry["games"] += 1
    entry["results"][result] += 1


def count(games, lesson, by=None, once=False, **filters):
    """What a counts file must hold, apart from `source` and `filters`; `date` is the set of tags that may be the latest."""
    entries = {epd: {"fen": epd, **zero(), "next": {}, "by": {}, "ends": 0} for epd in lesson.positions}
    totals, seen, dates = Counter(), set(), []
    for game in games:
        is_variant = game.tags.get("Variant", "standard").lower() != "standard"
        if is_variant or not passes(game.tags, **filters):
            totals["left"] += 1
            continue
        if game.is_broken and game.men[-1] >= lesson.fewest:
            totals["damaged"] += 1
            continue
        mark = (game.tags.get("White"), game.tags.get("Black"), game.tags.get("Date"), game.epds[0], tuple(game.moves))
        if once and mark in seen:
            totals["left"] += 1
            continue
        seen.add(mark)
        totals["games"] += 1
        dates.append((*span(game.tags.get("Date")), game.tags.get("Date", "")))
        result = game.tags.get("Result") or game.marker or "*"
        visited = set()
        for at, epd in enumerate(game.epds):
            if game.men[at] < lesson.fewest:
                break
            if epd not in entries or epd in visited:
                continue
            visited.add(epd)
            entry = entries[epd]
            add(entry, result)
            if by:
                add(entry["by"].setdefault(by, {}).setdefault(key(game.tags, by), zero()), result)
            if at < len(game.moves):
                add(entry["next"].setdefault(san(epd, game.moves[at]), zero()), result)
            else:
                entry["ends"] += 1
    for entry in entries.values():
        moves = [{"move": move, **told} for move, told in entry["next"].items()]
        entry["next"] = sorted(moves, key=lambda move: (-move["games"], move["move"]))
    known = [date for date in dates if date[0]]
    newest = max((begin for begin, _, _ in known), default=0)
    return {"games": totals["games"], "damaged": totals["damaged"], "left": totals["left"],
            "date": {plain(text) for _, end, text in known if end >= newest}, "positions": list(entries.values())}


def plain(date):
    return re.sub(r"(-\?\?)+$", "", (date or "").replace(".", "-"))


# Comparing

def numbers(told):
    """Every number of a counts file by where it stands."""
    found = {(name,): told.get(name) for name in ("games", "damaged", "left")}

    def take(where, entry):
        found[*where, "games"] = entry.get("games")
        for result, games in (entry.get("results") or {}).items():
            found[*where, result] = games

    for entry in told["positions"]:
        take((entry["fen"],), entry)
        for move in entry["next"]:
            take((entry["fen"], "next", move["move"]), move)
        for by, groups in (entry.get("by") or {}).items():
            for group, one in groups.items():
                take((entry["fen"], by, group), one)
    return found


class Tally:
    def __init__(self):
        self.checks = self.failed = self.compared = self.differing = 0

    def say(self, name, wrong, compared=0):
        self.checks += 1
        self.failed += bool(wrong)
        self.compared += compared
        print(f"{'FAILED' if wrong else 'ok'} {name}" + (f" ({compared} numbers, {len(wrong)} differences)" if compared else ""))
        for line in wrong[:SHOWN]:
            print(f"    {line}")
        sys.stdout.flush()

    def compare(self, name, expected, told):
        if isinstance(told, str):
            return self.say(name, [told])
        ours, theirs = numbers(expected), numbers(told)
        wrong = [f"{' '.join(where)}: {theirs.get(where)}, python-chess counts {ours.get(where)}"
                 for where in dict.fromkeys([*ours, *theirs]) if ours.get(where) != theirs.get(where)]
        self.differing += len(wrong)
        fens = [[entry["fen"] for entry in one["positions"]] for one in (expected, told)]
        if fens[0] != fens[1]:
            at = next((at for at, (a, b) in enumerate(zip(*fens)) if a != b), min(map(len, fens)))
            wrong.append(f"order of positions, from {at}: {fens[1][at:at + 2]}, not {fens[0][at:at + 2]}")
        order = {entry["fen"]: [move["move"] for move in entry["next"]] for entry in told["positions"]}
        for entry in expected["positions"]:
            moves = [move["move"] for move in entry["next"]]
            if sorted(moves) == sorted(order.get(entry["fen"], [])) and moves != order[entry["fen"]]:
                wrong.append(f"order of next moves at {entry['fen']}: {order[entry['fen']]}, not {moves}")
        if told.get("plyline") != "counts 1":
            wrong.append(f"plyline: {told.get('plyline')}")
        if expected["date"] and plain(told.get("date")) not in expected["date"]:
            wrong.append(f"date: {told.get('date')}, not {sorted(expected['date'])}")
        self.say(name, wrong, len(ours))


def options(given):
    return [word for name, value in given.items() for word in ([f"--{name}"] if value is True else [f"--{name}", value])]


def load(path):
    with open(path, encoding="utf-8") as handle:
        return json.load(handle)


def tally(lesson, files, out, **given):
    """The counts file that the program writes, or why there is none."""
    try:
        program.run("tally", lesson, "--games", *files, *options(given), *(["--out", out] if out else []))
        return load(out or re.sub(r"\.pgn$", ".counts.json", lesson))
    except (program.Refused, OSError, ValueError) as error:
        return f"no counts: {error}"


def write(path, games, end=""):
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8", newline="") as handle:
        handle.write(("\n".join(game.text() for game in games)) + end)
    return path


# Collections made of the real ones

def dressed(games, chance):
    """The same games with other dates, ratings, results, clocks, starts, variants and comments, and with copies."""
    made = []
    for game in games:
        game = game.copy()
        tags, roll = game.tags, chance.random
        date = f"{chance.randint(2019, 2024)}.{chance.randint(1, 12):02}.{chance.randint(1, 28):02}"
        tags["Date"] = chance.choice([date] * 7 + [date[:7] + ".??", date[:4] + ".??.??", "????.??.??"])
        if roll() < .3:
            tags["WhiteElo"], tags["BlackElo"] = str(chance.choice(EDGES)), str(chance.choice(EDGES))
        for name in chance.choice([[]] * 9 + [["WhiteElo", "BlackElo"]]):
            tags.pop(name, None)
        tags.pop("TimeControl", None)
        if control := chance.choice(CONTROLS):
            tags["TimeControl"] = control
        dress = chance.randrange(30)
        if dress < 3:
            del tags["Result"]
        elif dress == 3:
            tags["Result"] = chance.choice([one for one in RESULTS[:3] if one != game.marker])
        elif dress == 4:
            tags["Result"] = "*"
            game = game.copy(marker="*", body=movetext(game.sans(), "*"))
        elif dress == 5:
            game = game.copy(body=re.sub(r"^1\. (\S+)", "1. \\1 {[Event \"x\"] 1-0 (no)} (1. a3 a5 (1... h5 $1) 2. b3) "
                                         "$2 ; 0-1 [Result \"*\"]\n", game.body))
        elif dress == 6 and len(game.moves) > 12:
            at, board = chance.randint(1, 10), chess.Board()
            for move in game.moves[:at]:
                board.push(move)
            tags.update(SetUp="1", FEN=board.fen(en_passant=chance.choice(["fen", "legal"])))
            game = game.copy(body=movetext(game.sans(at), game.marker, at), moves=game.moves[at:], epds=game.epds[at:],
                             men=game.men[at:])
        elif dress == 7:
            tags["Variant"] = chance.choice(["Chess960", "Crazyhouse", "Standard", "standard"])
        elif dress == 8 and roll() < .5:
            game = game.copy(marker=None, body=movetext(game.sans(), None))
            for name in chance.choice([["Result"], []]):
                del game.tags[name]
        made.append(game)
    again = [game for game in made if len(game.moves) > 16 and game.marker and "FEN" not in game.tags]
    made += [game.copy() for game in again[:20]]
    # The same without comments, another day, another player, and a game that ends sooner.
    made += [game.copy(body=movetext(game.sans(), game.marker)) for game in again[20:30]]
    made += [game.copy(tags={**game.tags, "Date": "2018.01.02"}) for game in again[:5]]
    made += [game.copy(tags={**game.tags, "White": "Someone, Else"}) for game in again[5:10]]
    made += [game.copy(body=movetext(game.sans(0, 4), game.marker), moves=game.moves[:4], epds=game.epds[:5], men=game.men[:5])
             for game in again[10:15]]
    return mixed(made, chance)


def mixed(games, chance):
    """In another order; a game without a marker never comes last, where the input would end inside it."""
    games = chance.sample(games, len(games))
    at = next(at for at, game in enumerate(games) if game.marker)
    return games[:at] + games[at + 1:] + [games[at]]


def damaged(games, chance):
    """Five collections with moves that cannot be read or played, the last game cut in its middle: after a move (early and
    late), inside a word, inside a comment, inside a variation. With each what follows its last game's text."""
    games = [game for game in games if len(game.moves) > 20]
    for kind in range(5):
        made = []
        for game in chance.sample(games, min(len(games), 80)):
            at = chance.randrange(len(game.moves)) if kind < 4 else chance.randrange(12)
            cut = game.copy(moves=game.moves[:at], epds=game.epds[:at + 1], men=game.men[:at + 1], is_broken=True)
            sans = game.sans()
            if len(made) % 3 == 0:
                made.append(game)
            elif len(made) % 3 == 1:
                board = chess.Board(game.epds[at] + " 0 1")
                word = next(word for word in chance.sample(["Ke4", "Kd5", "Qa5", "Qh4", "Rd8", "Bb1", "O-O-O"], 7)
                            if not can_play(board, word))
                made.append(cut.copy(body=movetext(sans[:at] + [word] + sans[at + 1:], game.marker)))
            else:
                word = chance.choice(["Qz9", "Nd", "e9", "what"])
                made.append(cut.copy(body=movetext(sans[:at] + [word] + sans[at + 1:], game.marker)))
        game = chance.choice(games)
        at = (9, 14, 11, 10, len(game.moves) - 1)[kind]
        body = movetext(game.sans(0, at), None)
        body += ("", game.sans(at, at + 1)[0][:1], "{a comment that", f"({(at + 1) // 2}{'...' if at % 2 == 0 else '.'} ", "")[kind]
        yield made + [game.copy(moves=game.moves[:at], epds=game.epds[:at + 1], men=game.men[:at + 1], is_broken=True, body=body)]


def can_play(board, word):
    try:
        return bool(board.parse_san(word))
    except ValueError:
        return False
