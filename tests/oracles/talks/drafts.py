"""Runs `plyline listen` on a talk and takes apart what it prints: the draft's moves with their times, and the doubts.

The program is named by the environment's PLYLINE. The draft is read by python-chess (PyPI `chess` 1.11.2).
"""
import io
import json
import os
import re
import subprocess

import chess.pgn

SECONDS = 600
# A `Hear:` paragraph (design section 17): times and passages, `4:27-4:58, 12:03`, `1:04:27`, `4:27.5`.
TIME = r"\d+(?::\d+){1,2}(?:\.\d+)?"
HEAR = re.compile(rf"\bHear:\s*({TIME}(?:\s*[-–]\s*{TIME})?(?:\s*,\s*{TIME}(?:\s*[-–]\s*{TIME})?)*)")


class Refused(Exception):
    """The program gave no draft: no such program, no end, a crash, an exit code that means no draft."""


def seconds(text):
    total = 0.0
    for part in text.split(":"):
        total = total * 60 + float(part)
    return total


def hears(comment):
    """The passages of a comment, (begin, end); one without an end is a moment."""
    found = []
    for times in HEAR.findall(comment):
        for passage in times.split(","):
            parts = [seconds(part) for part in re.split(r"\s*[-–]\s*", passage.strip())]
            found.append((parts[0], max(parts[-1], parts[0])))
    return found


class Move:
    """A move of the draft; `path` are the moves from the talk's root in UCI, `hears` its passages."""

    def __init__(self, path, san, parent):
        self.path, self.san, self.parent = path, san, parent
        self.hears, self.children = [], []


class Draft:
    """A draft: its moves by path, the same move written twice at one place taken as one. No game printed: no moves,
    and an error that says why."""

    def __init__(self, text, talk, why="no game in what was printed"):
        self.game = chess.pgn.read_game(io.StringIO(text))
        self.errors = [why]
        if self.game is None:
            self.game = chess.pgn.Game()
            self.game.setup(talk.root.board)
        else:
            self.errors = [f"the draft is not legal: {error}" for error in self.game.errors]
        self.root = Move(prefix(self.game, talk), None, None)
        self.moves = {}
        waiting = [(self.game, self.root)]
        while waiting:
            written, move = waiting.pop()
            board = written.board()
            for child in reversed(written.variations):
                path = move.path + (child.move.uci(),)
                if path not in self.moves:
                    self.moves[path] = Move(path, board.san(child.move), move)
                    move.children.append(self.moves[path])
                self.moves[path].hears += hears(child.comment)
                waiting.append((child, self.moves[path]))


def prefix(game, talk):
    """The path of the intended tree at which a draft begins: its root, or the place of the draft's FEN."""
    start = game.board()
    same = lambda board: board.board_fen() == start.board_fen() and board.turn == start.turn
    if same(talk.root.board):
        return ()
    for node in talk.begin.line() + list(talk.root.all()):
        if same(node.board):
            return node.path()
    return ("a place that the talk does not have",)


class Heard:
    """What the program made of a talk: `draft`, `doubts` in the order printed, `told` on standard error."""

    def __init__(self, talk, captions, lesson=None):
        arguments = ["listen", captions, "--format", "json"]
        if talk.header.get("from"):
            arguments += ["--from", talk.header["from"]]
        if lesson:
            arguments += ["--lesson", lesson]
        try:
            self.text, error = run(arguments)
            self.draft = Draft(self.text, talk)
        except Refused as refused:
            # What gives no draft has understood nothing; it stays in the sums.
            self.text, error, self.draft = "", "", Draft("", talk, str(refused))
        self.doubts = []
        for row in error.splitlines():
            if row.startswith("{"):
                finding = json.loads(row)
                if re.fullmatch(r"P3\d\d", finding["code"]) and finding.get("time") is not None:
                    self.doubts.append(finding)


def run(arguments):
    program = os.environ["PLYLINE"]
    try:
        done = subprocess.run([program, *arguments], stdin=subprocess.DEVNULL, capture_output=True, timeout=SECONDS)
    except OSError as error:
        raise Refused(f"cannot run {program}: {error}") from error
    except subprocess.TimeoutExpired as error:
        raise Refused(f"`{' '.join(arguments)}` did not end within {SECONDS} s") from error
    said = done.stderr.decode("utf-8", "replace")
    if done.returncode not in (0, 1):
        raise Refused(f"`{' '.join(arguments)}` ended with {done.returncode}: {said.strip()[-400:]}")
    return done.stdout.decode("utf-8"), said
