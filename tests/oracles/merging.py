"""`merge` and `compare` against python-chess (PyPI `chess` 1.11.2).

    python merging.py EDITS [--pairs N] [--seed S]

EDITS: the example `edits`; the program is named by PLYLINE. Of a random tree two others are made by edits (`edits.py`).
What `compare --format json` says of two of them is applied by python-chess to the first, which must then be the second.
`merge` in both orders must hold just the positions, moves, glyphs and words of both. Exit 1 where something differs.
"""
import argparse
import copy
import json
import os
import random
import sys
import tempfile

import chess
import chess.pgn

import edits
import program
import reading
import trees

SHOWN = 8
LINK = "This is the position after ["


def find(game, run):
    node = game
    for san in run:
        node = next(child for child in node.variations if child.san() == san)
    return node


def graft(parent, text):
    """Puts a line that is given as movetext after the others of a node."""
    one = edits.read(f'[FEN "{parent.board().fen()}"]\n[SetUp "1"]\n\n{text}')[0]
    if one.errors or len(one.game.variations) != 1:
        raise ValueError(f"no movetext: {text}")
    first = one.game.variations[0]
    # Words before the first move are the game's where the line is read alone.
    first.starting_comment = one.game.comment
    waiting = [(first, parent)]
    while waiting:
        source, there = waiting.pop()
        made = there.add_variation(source.move, comment=source.comment, nags=source.nags)
        made.starting_comment = source.starting_comment
        waiting += [(child, made) for child in reversed(source.variations)]


def apply(game, tags, lines):
    for line in lines:
        kind, at, now = line["kind"], line["at"], line["now"]
        if kind == "dropped":
            node = find(game, at)
            node.parent.variations.remove(node)
        elif kind == "added":
            graft(find(game, at[:-1]), now)
        elif kind == "comment":
            find(game, at).comment = now or ""
        elif kind == "before":
            find(game, at).starting_comment = now or ""
        elif kind == "signs":
            find(game, at).nags = set(now)
        elif kind == "order":
            node = find(game, at)
            node.variations.sort(key=lambda child: now.index(child.san()))
        elif kind == "tag":
            for value in (line["was"], now):
                if value:
                    tags.pop(value[0], None)
            if now:
                tags[now[0]] = now[1]
        elif kind != "choices":
            raise ValueError(f"no kind of change: {kind}")


def said(games):
    """By position the moves, glyphs and words of some readings, the sentences of links apart."""
    found = {}
    for one in games:
        for node in trees.walk(one.game):
            board = node.board()
            here = found.setdefault(board.epd(), {"moves": set(), "words": set(), "nags": set()})
            here["moves"] |= {child.move.uci() for child in node.variations}
            here["nags"] |= node.nags if node.parent is not None else set()
            for text in (node.comment, node.starting_comment):
                here["words"] |= {word for part in text.split(LINK)[:1] for word in part.split()}
    return found


def state(rng, program_of_edits, game, text, count):
    """The game and its text after some edits."""
    game = copy.deepcopy(game)
    editor = edits.Editor(rng, game)
    for _ in range(count):
        edit = editor.edit()
        if edit is None:
            continue
        answer = program_of_edits.ask({"text": text, "edit": edit})
        if "refused" in answer:
            raise SystemExit(f"refused: {answer}")
        text = answer["text"]
    return game, text


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("edits")
    arguments.add_argument("--pairs", type=int, default=100)
    arguments.add_argument("--seed", type=int, default=16)
    given = arguments.parse_args()
    rng, maker = random.Random(given.seed), edits.Program(given.edits)
    wrong, changes, joined = [], 0, 0
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, name) for name in ("a.pgn", "b.pgn")]
        for number in range(1, given.pairs + 1):
            base, text = edits.written(rng, number)
            pair = [state(rng, maker, base, text, rng.randint(0, 12)) for _ in paths]
            for path, (_, one) in zip(paths, pair):
                with open(path, "w", encoding="utf-8", newline="") as handle:
                    handle.write(one)
            lines = [json.loads(line) for line in program.lines(program.run("compare", *paths, "--format", "json")[0])]
            changes += len(lines)
            first, second = (edits.read(one)[0] for _, one in pair)
            try:
                apply(first.game, first.tags, lines)
                is_same = edits.shape(first.game, True) == edits.shape(second.game, True) and first.tags == second.tags
            except (ValueError, StopIteration) as error:
                is_same = False
                wrong.append(f"pair {number}: {error}")
            if not is_same:
                told = "\n".join(json.dumps(line, ensure_ascii=False) for line in lines)
                wrong.append(f"pair {number}: the changes do not make the second of the first\n{told}\n{pair[0][1]}\n{pair[1][1]}")
            meant = said([edits.read(one)[0] for _, one in pair])
            for order in (paths, paths[::-1]):
                merged, code = program.run("merge", *order)
                games = edits.read(merged)
                joined += merged.replace("\n", " ").count(LINK)
                found = said(games)
                if code or len(games) != 1 or games[0].errors or found != meant:
                    place = next((epd for epd in meant if found.get(epd) != meant[epd]), None)
                    wrong.append(f"pair {number}: merged it does not hold what both hold: {place}\n  meant {meant.get(place)}\n"
                                 f"  found {found.get(place)}\n{pair[0][1]}\n{pair[1][1]}\n=>\n{merged}")
                    break
    for line in wrong[:SHOWN]:
        print(line)
    print(f"{given.pairs} pairs, {changes} changes, {joined} links; {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
