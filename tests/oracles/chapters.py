"""Chapters as another reader of WebVTT sees them, against the rule of the guide applied anew to random lessons with times.

    python chapters.py [--count 300] [--seed N]

The reader is PyPI `webvtt-py` 0.6.0. Lessons are random games of python-chess with variations inside variations, whose
comments have times; lines, labels and moves are those of `plyline tree --json`, which compare.py holds against
python-chess. The program is the environment's PLYLINE. Seeded: the same lessons every time.
"""
import argparse
import html
import io
import os
import random
import re
import sys
import tempfile

import chess
import chess.pgn
import webvtt

import program

TIME = r"(?:\d+:)?\d+:\d\d(?:\.\d+)?"
BACK = 10  # seconds: what is shorter and not the first of its line is no chapter


def written(seconds):
    whole, rest = divmod(seconds, 1)
    hours, minutes = divmod(int(whole) // 60, 60)
    clock = f"{hours}:{minutes:02}" if hours else str(minutes)
    return f"{clock}:{int(whole) % 60:02}" + (f"{rest:.3f}"[1:] if rest else "")


def hear(rng, longest):
    passages = []
    for _ in range(rng.choice([1, 1, 1, 2, 3])):
        begin = rng.randrange(longest * 4) / 4
        end = f"-{written(begin + rng.randint(1, 20))}" if rng.random() < 0.4 else ""
        passages.append(written(begin) + end)
    return "Hear: " + ", ".join(passages)


def lesson(rng):
    """A game with variations, and times at some of its moves; titles with signs that mean something in captions."""
    game = chess.pgn.Game()
    game.headers["Event"] = rng.choice(["?", "Black & White", "A <b>bold</b> line", "From here --> there", "Two answers"])
    longest = rng.choice([30, 300, 9000])
    share = rng.uniform(0.1, 0.9)
    waiting = [(game, rng.randint(3, 16), 0)]
    while waiting:
        node, length, depth = waiting.pop()
        for _ in range(length):
            moves = [move for move in node.board().legal_moves if move not in [one.move for one in node.variations]]
            if not moves:
                break
            # The moves beside it are added after it, so that it goes on the line.
            before = node
            node = node.add_variation(rng.choice(moves))
            if rng.random() < share:
                node.comment = hear(rng, longest)
            if depth < 3 and rng.random() < 0.2:
                waiting.append((before, rng.randint(1, 6), depth + 1))
    return str(game) + "\n\n"


def seconds(time):
    total = 0
    for part in time.split(":"):
        total = total * 60 + float(part)
    return total


def expected(tree):
    """Chapters as (seconds, title), by the rule of the guide (www/guide/talk.md)."""
    nodes = {node["id"]: node for node in tree["nodes"]}
    timed = []
    for node in tree["nodes"]:
        found = re.search(rf"^Hear: ({TIME})", node["comment"] or "", re.MULTILINE)
        if found:
            timed.append((seconds(found.group(1)), node["id"]))
    if not timed:
        return []
    timed.sort()
    runs = []
    for begin, at in timed:
        if not runs or runs[-1][1] != nodes[at]["line"]:
            runs.append((begin, nodes[at]["line"], at))
    kept, known = [], {None}
    for number, (begin, line, at) in enumerate(runs):
        last = number + 1 == len(runs)
        if line not in known or last or runs[number + 1][0] - begin >= BACK:
            kept.append((begin, line, at))
        known.add(line)
    tags = dict(reversed(tree["tags"]) if isinstance(tree["tags"], list) else tree["tags"])
    event = tags.get("Event", "?")
    chapters = [[0, event if event != "?" else numbered(nodes, 1)]]
    told, line_now = {None}, None
    for begin, line, at in kept:
        if line == line_now:
            continue
        line_now = line
        if line not in told:
            told.add(line)
            at = min(node["id"] for node in tree["nodes"] if node["line"] == line)
        title = f"{line or ''} {numbered(nodes, at)}".strip()
        if int(chapters[-1][0]) == int(begin):
            chapters[-1][1] += f", {title}"
        else:
            chapters.append([begin, title])
    return [tuple(chapter) for chapter in chapters]


def numbered(nodes, at):
    board = chess.Board(nodes[nodes[at]["parent"]]["fen"])
    return f"{board.fullmove_number}{'.' if board.turn else '...'}{nodes[at]['san']}"


def faults(tree, path):
    wanted = expected(tree)
    texts = {form: program.run("export", path, "--chapters", form) for form in ("vtt", "text")}
    if not wanted:
        return [] if all(one == ("", 1) for one in texts.values()) else [f"no times, and yet {texts}"]
    cues = list(webvtt.from_buffer(io.StringIO(texts["vtt"][0])))
    have = [(cue.start_in_seconds + cue.start_time.milliseconds / 1000, html.unescape(cue.text)) for cue in cues]
    wrong = [] if have == wanted else [f"{wanted} expected, got {have}"]
    if any(one.end != other.start for one, other in zip(cues, cues[1:])):
        wrong.append("a chapter does not end where the next begins")
    if any(cue.start >= cue.end for cue in cues):
        wrong.append("a chapter ends before it begins")
    rows = [row.split(" ", 1) for row in program.lines(texts["text"][0])]
    rows = [(seconds(time), title) for time, title in rows]
    if rows != [(int(begin), title) for begin, title in wanted]:
        wrong.append(f"the list has {rows}")
    if len({time for time, _ in rows}) != len(rows):
        wrong.append("a time is there twice")
    return wrong


def main():
    reader = argparse.ArgumentParser()
    reader.add_argument("--count", type=int, default=300)
    reader.add_argument("--seed", type=int, default=18)
    options = reader.parse_args()
    wrong, many = [], 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(options.count):
            text = lesson(random.Random(f"{options.seed} {number}"))
            path = os.path.join(folder, "lesson.pgn")
            with open(path, "w", encoding="utf-8") as handle:
                handle.write(text)
            tree = program.trees(path)[0]
            many += len(expected(tree))
            wrong += [f"lesson {number}: {one}" for one in faults(tree, path)]
    print("\n".join(wrong[:program.SHOWN]), end="\n" if wrong else "")
    print(f"{options.count} lessons, {many} chapters, {len(wrong)} faults")
    return 1 if wrong or not many else 0


if __name__ == "__main__":
    sys.exit(main())
