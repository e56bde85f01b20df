"""`plyline unanswered`, `draft` and `games`: python-chess finds the same in the same games: python lacking.py FOLDER

FOLDER: the unpacked source archive of the crate `pgn-reader` 0.29.0. Lessons and games are those of tally.py; what a lesson
answers is computed anew here, from the rule: the side taught plays the first move of each position (several nodes: the mean),
the other what was played; where the lesson has no move, or fewer than 30 games go on, it stops.
"""
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
import tally

FEW = 30


def visits(games, fewest):
    """By position: how many games came, and how often each move followed at the first visit."""
    came, went = Counter(), {}
    for game in games:
        seen = set()
        for epd, men, move in zip(game.epds, game.men, [*game.moves, None]):
            if men < fewest:
                break
            if epd in seen:
                continue
            seen.add(epd)
            came[epd] += 1
            if move:
                went.setdefault(epd, Counter())[tally.san(epd, move)] += 1
    return came, went


def after(epd, san):
    board = chess.Board(epd + " 0 1")
    board.push_san(san)
    return board.epd()


class Taught:
    """A lesson as its reader meets it."""

    def __init__(self, lesson, games, side, to, least):
        root = chess.pgn.read_game(io.StringIO(lesson.text))
        self.side, self.to, self.start, self.first = side, to, root.board().epd(), root.board().fullmove_number
        self.moves, self.choices = {}, {}
        self.last = max(node.board().fullmove_number for node in [root, *tally.in_text(root)])
        for node in [root, *tally.in_text(root)]:
            epd = node.board().epd()
            self.moves.setdefault(epd, {}).update((other.san(), other.board().epd()) for other in node.variations)
            if node.variations:
                self.choices.setdefault(epd, set()).add(node.variations[0].board().epd())
        self.came, self.went = visits(games, lesson.fewest)
        self.on = {epd: sum(self.went.get(epd, {}).values()) for epd in self.moves}
        self.met, self.least = Counter(), least

    def is_over(self, ply):
        return self.first + ply // 2 > self.to

    def walk(self, epd, ply, share):
        """Answered, without a reply, that in rare moves, stopped, and where few games are known."""
        if share == 0:
            return 0, 0, 0, 0, 0
        self.met[epd] += share
        if self.is_over(ply):
            return share, 0, 0, 0, 0
        white = " w " in epd
        if white == (self.side == "white"):
            replies = self.choices.get(epd, set())
            if not replies:
                return 0, 0, 0, share, 0
            parts = [self.walk(there, ply + 1, share / len(replies)) for there in replies]
        elif not self.moves[epd]:
            return 0, 0, 0, share, 0
        elif self.on[epd] < FEW:
            return 0, 0, 0, 0, share
        else:
            parts = []
            for san, count in self.went[epd].items():
                there, part = after(epd, san), share * count / self.on[epd]
                if there not in self.moves:
                    parts.append((0, part, part if count < self.least * self.on[epd] else 0, 0, 0))
                elif self.choices.get(there):
                    parts.append(self.walk(there, ply + 1, part))
                else:
                    self.met[there] += part
                    parts.append((0, 0, 0, part, 0))
        return tuple(map(sum, zip(*parts)))

    def expected(self, least):
        shares = self.walk(self.start, 0 if " w " in self.start else 1, 1.0)
        # How often a place is met counts however late it comes.
        self.met, self.to = Counter(), max(self.to, self.last)
        self.walk(self.start, 0 if " w " in self.start else 1, 1.0)
        moves, unplayed, stops = Counter(), Counter(), Counter()
        for epd in self.moves:
            if not self.moves[epd]:
                if self.came[epd] >= FEW and self.on[epd] * 2 > self.came[epd]:
                    stops[self.came[epd], self.on[epd], round(self.met[epd], 9)] += 1
                continue
            if (" w " in epd) == (self.side == "white") or self.on[epd] < FEW:
                continue
            for san, count in self.went[epd].items():
                share = count / self.on[epd]
                if share >= least and after(epd, san) not in self.moves:
                    moves[san, count, self.on[epd], round(self.met[epd] * share, 9)] += 1
            unplayed[self.on[epd]] += sum(san not in self.went[epd] for san in self.moves[epd])
        return shares, moves, +unplayed, stops


def unanswered(lesson, path, games, file, side, to, least):
    text = program.run("unanswered", path, "--side", side, "--games", file, "--to", str(to), "--at-least", f"{least * 100}%",
                       "--format", "json")[0]
    told = json.loads(text)
    shares, moves, unplayed, stops = Taught(lesson, games, side, to, least).expected(least)
    found = Counter((one["move"], one["games"], one["of"], round(one["met"], 9)) for one in told["moves"])
    wrong = [f"moves: {key} {found[key]}, not {moves[key]}" for key in {**found, **moves} if found[key] != moves[key]]
    order = [one["met"] for one in told["moves"]]
    wrong += ["not those first that are met most"] if order != sorted(order, reverse=True) else []
    wrong += [f"{name}: {told[name]}, not {share}" for name, share in zip(("answered", "missing", "rare", "stopped", "few"), shares)
              if abs(told[name] - share) > 1e-9]
    wrong += [] if Counter(one["of"] for one in told["unplayed"]) == unplayed else [f"unplayed: {told['unplayed']}"]
    ours = Counter((one["games"], one["on"], round(one["met"], 9)) for one in told["stops"])
    wrong += [] if ours == stops else [f"stops: {ours - stops} and not {stops - ours}"]
    return wrong, 5 + len(moves) * 4 + len(unplayed) + len(stops) * 3


def draft(games, file, start, share, least, plies):
    text = program.run("draft", "--games", file, "--from", start, "--side", "white", "--share", f"{share * 100}%",
                       "--games-at-least", str(least), "--plies", str(plies))[0]
    root = chess.pgn.read_game(io.StringIO(text))
    _, went = visits(games, 2)
    begin = root
    for _ in start.split():
        begin = begin.variations[0]
    known, wrong, count = set(), list(map(str, root.errors)), 0
    node = begin
    while node:
        known.add(node.board().epd())
        node = node.parent
    level = [begin]
    for _ in range(plies):
        following = []
        for node in level:
            epd = node.board().epd()
            of = sum(went.get(epd, {}).values())
            kept = [(-n, san) for san, n in went.get(epd, {}).items() if n >= least and n >= share * of]
            expected = [san for _, san in sorted(kept)]
            found = [other.san() for other in node.variations]
            wrong += [f"after {epd}: {found}, not {expected}"] if found != expected else []
            for other in node.variations:
                count += 3
                said = re.match(r"(\d+) of (\d+) games", other.comment.replace("\n", " "))
                if not said or (int(said[1]), int(said[2])) != (went[epd][other.san()], of):
                    wrong.append(f"{other.san()}: {other.comment[:40]}")
                is_again = other.board().epd() in known
                if is_again != ("By another order" in other.comment.replace("\n", " ")):
                    wrong.append(f"{other.san()}: another order is told wrongly")
                known.add(other.board().epd())
                following += [] if is_again else [other]
        level = following
    return wrong, count


def listed(lesson, path, games, file, chance):
    root = chess.pgn.read_game(io.StringIO(lesson.text))
    wrong, count = [], 0
    for node in chance.sample([*tally.in_text(root)], 6):
        words, at = [], node
        while at.parent:
            words.insert(0, at.san())
            at = at.parent
        board = root.board()
        first = f"{board.fullmove_number}{'.' if board.turn else '...'}"
        epd, expected = node.board().epd(), Counter()
        for game in games:
            if epd in game.epds:
                ply = game.epds.index(epd)
                move = tally.san(epd, game.moves[ply]) if ply < len(game.moves) else None
                expected[game.tags.get("Result"), move] += 1
        text = program.run("games", path, "--at", first + " ".join(words), "--games", file, "--first", "0")[0]
        found = Counter()
        for line in program.lines(text):
            result, move = re.search(r": (1-0|0-1|1/2-1/2|\*), (?:\d+\.+(\S+)|the game ended here)$", line).groups()
            found[result, move] += 1
        count += sum(expected.values())
        wrong += [f"{' '.join(words)}: {found - expected} and not {expected - found}"] if found != expected else []
    return wrong, count


def main():
    told = tally.Told()
    with tempfile.TemporaryDirectory() as folder:
        for number in (1110, 438):
            chance = random.Random(number)
            games = tally.collection(sys.argv[1], number)
            file = tally.write(os.path.join(folder, f"{number}.pgn"), *(game.text() for game in games))
            for lesson in tally.lessons(games, chance):
                path = tally.write(os.path.join(folder, str(number), f"{lesson.name}.pgn"), lesson.text)
                name = f"{number} games, {lesson.name}"
                for side, to, least in (("white", 10, 0.05), ("black", 5, 0.01)):
                    told.say(f"{name}, what {side} lacks to move {to}", *unanswered(lesson, path, games, file, side, to, least))
                told.say(f"{name}, games of positions", *listed(lesson, path, games, file, chance))
            for start, share, least, plies in (("", 0.05, 20, 10), ("1.e4", 0.1, 8, 8), ("1.d4 Nf6", 0.2, 5, 12)):
                told.say(f"{number} games, a draft after {start or 'the start'}", *draft(games, file, start, share, least, plies))
    print(f"{told.checks} checks, {told.failed} failed")
    return bool(told.failed)


if __name__ == "__main__":
    sys.exit(main())
