"""Texts with one bracket slip each, made of random trees: does plyline say where, once, and mend only what is certain?

    python brackets.py [--games N] [--seed S] [--show N]

The trees are those of trees.py, written by python-chess (PyPI `chess` 1.11.2). In each text one parenthesis, brace or
quote of a tag is lost, doubled or moved by up to four words (a quote: letters). A slip that leaves a text which plays
whole with the right numbers cannot be noticed by anybody and is drawn again; that is judged here by python-chess's
moves. A place that is offered counts as true if the sign put there, or taken away there, gives the tree that was
meant as python-chess reads it. Findings that the text has without the slip do not count. Printed are three rates, and
for each kind of slip how often each holds.
"""
import argparse
import collections
import io
import os
import random
import re
import tempfile

import chess
import chess.pgn

import program
import reading
import trees

SEED = 9001
# `check --fix` applies what is certain without a look, so that none may be false.
PLACED, MENDED, ALONE = 0.95, 1.0, 0.95
# Fixes there must be, or "all fixes are right" says nothing.
FEWEST_FIXED = 0.5
MOST_PLACES = 3
TOKEN = re.compile(r"\{[^}]*\}?|[(){}]|\$\d+|\d+\.+|[^\s(){}$]+")
MARKERS = {"1-0", "0-1", "1/2-1/2", "*"}
# The trees are smaller than those of trees.py: a slip shows within a few moves.
trees.MOST_NODES = 40
SIGNS = ['(', ')', '{', '}', '"']
SLIPS = ["lost", "doubled", "moved"]


def movetext(text):
    """Where the moves begin: after the tags that python-chess writes, each on a line of its own."""
    return text.index("\n\n") + 2


def plays_whole(game, text):
    """Whether every word is a legal move with its number, and every bracket and comment has its other half."""
    board, before, stack = game.board(), None, []
    number = None
    for token in TOKEN.findall(text[movetext(text):]):
        if token[0] == "{":
            if not token.endswith("}") or "{" in token[1:]:
                return False
        elif token == "(":
            if before is None:
                return False
            stack.append((board, before))
            board, before = before.copy(stack=False), None
        elif token == ")":
            if not stack or before is None:
                return False
            board, before = stack.pop()
        elif token[0] == "$":
            if before is None:
                return False
        elif token[0].isdigit() and token.endswith("."):
            number = token
        elif token in MARKERS:
            return not stack
        else:
            right = f"{board.fullmove_number}{'.' if board.turn else '...'}"
            if number not in (None, right):
                return False
            number = None
            try:
                move = board.parse_san(token)
            except ValueError:
                return False
            before, board = board, board.copy(stack=False)
            board.push(move)
    return False


def tree(text):
    """What python-chess makes of a text, or nothing where it meets an error: tags, and the moves with their words."""
    try:
        readings = reading.read(io.StringIO(text))
    except IndexError:
        # python-chess 1.11.2 closes variations that are not open.
        return None
    if len(readings) != 1 or readings[0].errors:
        return None
    one = readings[0]
    number = {id(node): at for at, node in enumerate(one.order)}
    nodes = [(node.parent and number[id(node.parent)], node.move, node.starting_comment, node.comment,
              sorted(node.nags)) for node in one.order]
    # `check --fix` adds a tag that the trees sometimes lack.
    tags = {name: value for name, value in one.tags.items() if name != "SetUp"}
    return tags, one.marker, nodes


def places_of(text, sign):
    """Where the text has this sign as a sign, not as a letter of a comment."""
    begin = movetext(text)
    if sign == '"':
        rows, at = [], 0
        for row in text[:begin].split("\n"):
            if row.count('"') == 2:
                rows += [at + row.index('"'), at + row.rindex('"')]
            at += len(row) + 1
        return rows
    found = []
    for token in TOKEN.finditer(text, begin):
        if token.group().startswith("{"):
            found += [token.start()] * (sign == "{") + [token.end() - 1] * (sign == "}")
        elif token.group() == sign:
            found.append(token.start())
    return found


class Slip:
    """A text with one slip. `bare`: the text without the sign that is wrong; `cut`: where it was taken away."""

    def __init__(self, rng, text):
        self.meant, self.text = text, None
        self.sign, self.kind = rng.choice(SIGNS), rng.choice(SLIPS)
        places = places_of(text, self.sign)
        if not places:
            return
        at = rng.choice(places)
        without = text[:at] + text[at + 1:]
        self.cut, self.bare = at, None
        if self.kind == "lost":
            self.text = without
        elif self.kind == "doubled":
            self.text = text[:at] + self.sign + text[at:]
        else:
            to = moved(rng, without, at, self.sign)
            if to is None:
                return
            self.text = without[:to] + self.sign + without[to:]
            self.cut, self.bare = to, without

    @property
    def name(self):
        return f"{self.sign} {self.kind}"

    def edited(self, at):
        """The text if the sign is put in, or taken away, at a place of it."""
        if self.kind == "lost":
            return self.text[:at] + self.sign + self.text[at:]
        if self.kind == "doubled":
            return self.text[:at] + self.text[at + 1:] if self.text[at:at + 1] == self.sign else None
        if at == self.cut:
            return None
        at -= at > self.cut
        return self.bare[:at] + self.sign + self.bare[at:]


def moved(rng, text, at, sign):
    """A place a little before or after one, between words."""
    if sign == '"':
        to = at + rng.choice([-3, -2, -1, 1, 2, 3])
        row = text.rfind("\n", 0, at) + 1, text.index("\n", at)
        return to if row[0] < to <= row[1] and text[to - 1:to + 1].strip() != "" else None
    begin = movetext(text)
    ends = [begin + word.end() if sign in ")}" else begin + word.start()
            for word in re.finditer(r"[^\s()]+|[()]", text[begin:])]
    before = [end for end in ends if end < at][-4:]
    after = [end for end in ends if end > at + 1][:4]
    return rng.choice(before + after) if before + after else None


def make(rng, number):
    """A text with a slip that shows, and its game."""
    while True:
        game = trees.random_game(rng, number)
        text = game.accept(chess.pgn.StringExporter(columns=80)) + "\n"
        meant = tree(text)
        if meant is None or len(meant[2]) < 4 or not plays_whole(game, text):
            continue
        for _ in range(20):
            slip = Slip(rng, text)
            if slip.text is None or tree(slip.text) == meant:
                continue
            if slip.sign != '"' and plays_whole(game, slip.text):
                continue
            slip.tree = meant
            return slip


def offset(text, line, column):
    rows = text.split("\n")
    return sum(len(row) + 1 for row in rows[:line - 1]) + column - 1


def offered(slip, finding):
    """The places that a finding offers, each once."""
    listed = {"or here", "it belongs here", "its end is missing here"}
    places = [finding] + [place for place in finding["related"] if place["message"] in listed]
    if finding["fix"]:
        places.insert(0, finding["fix"])
    found = []
    for place in places:
        at = offset(slip.text, place["line"], place["column"])
        if at not in found:
            found.append(at)
    return found


def is_placed(slip, finding, fixed):
    """Whether the true place is the one offered, or among the few that are listed."""
    if fixed == slip.tree:
        return True
    if slip.sign == '"':
        # In a tag its line is place enough.
        return finding["line"] == slip.text.count("\n", 0, slip.cut) + 1
    # Of a moved sign, and of one that closes, the sign itself and the place where it belongs are named.
    places = offered(slip, finding)[:MOST_PLACES + (slip.kind == "moved" or slip.sign in ")}")]
    return any(text is not None and tree(text) == slip.tree for text in map(slip.edited, places))


def written(folder, slips, text_of):
    os.makedirs(folder)
    paths = [os.path.join(folder, f"{at:05}.pgn") for at in range(len(slips))]
    for path, slip in zip(paths, slips):
        with open(path, "w", encoding="utf-8") as handle:
            handle.write(text_of(slip))
    return paths


def check():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--games", type=int, default=1000)
    arguments.add_argument("--seed", type=int, default=SEED)
    arguments.add_argument("--show", default="", help="show the slips of this name, such as `( lost`, that go wrong")
    arguments.add_argument("--keep", default="", help="a folder to keep the texts in")
    given = arguments.parse_args()
    rng = random.Random(given.seed)
    slips = [make(rng, number) for number in range(1, given.games + 1)]
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        folder = given.keep or folder
        meant = written(os.path.join(folder, "meant"), slips, lambda slip: slip.meant)
        with_slip = written(os.path.join(folder, "slip"), slips, lambda slip: slip.text)
        mended = written(os.path.join(folder, "mended"), slips, lambda slip: slip.text)
        usual = program.findings(os.path.join(folder, "meant"))
        found = program.findings(os.path.join(folder, "slip"))
        program.run("check", "--fix", os.path.join(folder, "mended"))
        table = collections.defaultdict(collections.Counter)
        for slip, was, path, fixed in zip(slips, meant, with_slip, mended):
            count = table[slip.name]
            count["texts"] += 1
            left = collections.Counter((it["code"], it["message"]) for it in usual.get(was, []))
            new = []
            for finding in found.get(path, []):
                key = finding["code"], finding["message"]
                if left[key] > 0:
                    left[key] -= 1
                else:
                    new.append(finding)
            # Errors first: a hint that the slip brings along may come before it.
            told = sorted(new, key=lambda finding: ["error", "warning", "hint"].index(finding["severity"]))
            with open(fixed, encoding="utf-8") as handle:
                after = tree(handle.read())
            has_fix = any(finding["fix"] for finding in told)
            is_right = after == slip.tree
            placed = bool(told) and is_placed(slip, told[0], after if told[0]["fix"] else None)
            alone = len(new) <= 1
            count["placed"] += placed
            count["alone"] += alone
            count["fixed"] += has_fix
            count["false fix"] += has_fix and not is_right
            if has_fix and not is_right:
                wrong.append(f"{slip.name}: {path}: the fix gives another tree")
            if given.show == slip.name and not (placed and alone and (is_right or not has_fix)):
                print(path, "placed" if placed else "PLACE", "alone" if alone else "FOLLOWERS",
                      "FALSE FIX" if has_fix and not is_right else "")
                for finding in new:
                    print("   ", finding["line"], finding["column"], finding["code"], finding["message"], "|",
                          finding["help"], "|", finding["fix"])
    rows = [f"{'slip':12} texts placed alone fixed false fix"]
    whole = collections.Counter()
    for name in sorted(table):
        whole.update(table[name])
        rows.append(f"{name:12} " + " ".join(f"{table[name][head]:{len(head)}}"
                                             for head in ["texts", "placed", "alone", "fixed", "false fix"]))
    share = lambda head: whole[head] / len(slips)
    right = 1 - whole["false fix"] / max(whole["fixed"], 1)
    for name, have, wanted in [("the place is offered", share("placed"), PLACED),
                               ("fixes that are right", right, MENDED),
                               ("nothing else is found", share("alone"), ALONE),
                               ("there is a fix", share("fixed"), FEWEST_FIXED)]:
        rows.append(f"{name}: {have:.1%}, wanted {wanted:.0%}")
        if have < wanted:
            wrong.append(rows[-1])
    return wrong, "\n".join(rows)


if __name__ == "__main__":
    program.main(check)
