"""From a marked talk to its intended tree and its captions: what a listener should make of the talk, and what it gets.

    python talks.py check FILE...                 is every move legal, is every named square marked; counts a talk
    python talks.py make FILE FOLDER              writes the tree (PGN, JSON) and the captions in all forms
    python talks.py captions FILE FORM            prints one form: plain, words, twice, srt, stamped

A marked talk (`NAME.marked.txt`) is the text as spoken, after header lines and an empty line:

    title: ...            what the talk is about
    kind: ...             orderly, rambling, bare (no punctuation), elsewhere, stamped, correcting
    from: d4 d5 c4 e6     the moves before the talk's first, or a FEN; left out where the talk tells all its moves

Every place that names a move or a square is in braces, `{words|meaning}`; the meaning is one of

    Nf3          played from where the talk stands
    6...c5       played from the talk's path: the place with that move number and side on the line that the talk stands
                 on, else the place last visited that fits
    @6.Be3 e5    a position told before; the talk stands there afterwards. `@start` is the talk's start
    -            no move: a plan, a threat, a square, another opening, a slip that is taken back
    ?            a move or none, either is right; `?Nf3` says which it would be, the talk then stands where it stood
    ~Nf3         garbled: the move or a doubt is right; the talk stands after the move
    A ; B        two or more of these, told in one breath
    {|Nf3}       meant but never said

The tree holds every move told, with all times at which it was said. The times are made, not measured: a word takes as
long as it has letters, with pauses at points and ends of lines, about 150 words a minute over the whole talk. The
judge of what is legal is python-chess (PyPI `chess` 1.11.2).

What is what: `*.marked.txt` in tests/talks are tuned on, those in tests/talks/held are not to be opened by whoever
tunes the listener, and tests/talks/held/again holds their second marking (second.py). captions.py writes the forms,
score.py measures the listener (drafts.py runs it), fake_listen.py and score_selftest.py test the score, generate.py
with speech.py and turns.py makes 500 talks more.
"""
import json
import os
import re
import sys
import zlib

import chess
import chess.pgn

import captions

WORDS_A_MINUTE = 150
# What a node is, the stronger word winning when it is said again. `given`: before the talk's start.
RANKS = ["unsaid", "either", "garbled", "told", "given"]

PLACE = re.compile(r"\{([^{}|]*)\|([^{}|]*)\}")
MOVE = re.compile(r"(?:(\d+)(\.\.\.|\.)\s*)?(\S+)$")
# A named square or move outside braces: lint for whoever writes a talk.
BARE = re.compile(
    r"\b(?:[a-h][ -]?[1-8]|(?:a|b|be|bee|c|see|sea|d|dee|e|ee|f|eff|g|gee|h|aitch|age)[ -]"
    r"(?:one|two|three|four|five|six|seven|eight)|castles?|castled|castling"
    r"|(?:knight|bishop|rook|queen|king|pawn) (?:takes|to) \w+)\b", re.IGNORECASE)


class Wrong(Exception):
    """The marked text says what cannot be."""


class Node:
    """A position of the intended tree; `sayings` are (begin, end) in seconds, in the order said."""

    def __init__(self, board, parent=None, move=None, san=None):
        self.board, self.parent, self.move, self.san = board, parent, move, san
        self.children = {}
        self.rank = "unsaid"
        self.sayings = []

    def line(self):
        """From the root to this node."""
        node, nodes = self, []
        while node:
            nodes.append(node)
            node = node.parent
        return nodes[::-1]

    def path(self):
        return tuple(node.move.uci() for node in self.line()[1:])

    def play(self, san):
        try:
            move = self.board.parse_san(san)
        except ValueError as error:
            raise Wrong(f"{san}: {error}") from error
        if move.uci() not in self.children:
            after = self.board.copy(stack=False)
            after.push(move)
            self.children[move.uci()] = Node(after, self, move, self.board.san(move))
        return self.children[move.uci()]

    def is_named(self, san):
        try:
            return self.parent.board.parse_san(san) == self.move
        except ValueError:
            return False

    def say(self, rank, times=None):
        if RANKS.index(rank) > RANKS.index(self.rank):
            self.rank = rank
        if times:
            self.sayings.append(times)

    def all(self):
        """This node and all below, each before its children, in the order told."""
        yield self
        for child in self.children.values():
            yield from child.all()


def root_of(start):
    """The root of a tree and the place where the talk begins, of a header's `from`."""
    if "/" in start:
        root = at = Node(chess.Board(start))
    else:
        root = at = Node(chess.Board())
        for word in start.split():
            word = re.sub(r"^\d+\.+", "", word)
            if word:
                at = at.play(word)
                at.say("given")
    root.say("given")
    return root, at


class Talk:
    """A marked text, read: `header`, `words` with times, `places`, and the tree from `root`."""

    def __init__(self, text):
        head, _, body = text.partition("\n\n")
        self.header = dict(re.split(r":\s*", row, maxsplit=1) for row in head.splitlines())
        self.root, self.begin = root_of(self.header.get("from", ""))
        self.read_places(body)
        self.time_words()
        self.at, self.history = self.begin, list(self.begin.line())
        for place in self.places:
            try:
                self.follow(place)
            except Wrong as error:
                said = " ".join(node.san for node in self.at.line()[1:])
                raise Wrong(f"{place['said']!r} at {captions.stamp(place['begin'])}, after {said}: {error}") from error

    def read_places(self, body):
        """Takes the braces off; words know where they stand, places know their words."""
        text, spans, done = "", [], 0
        for found in PLACE.finditer(body):
            text += body[done:found.start()]
            spans.append((len(text), len(text) + len(found[1]), found[1], found[2].strip()))
            text += found[1]
            done = found.end()
        text += body[done:]
        if "{" in text or "}" in text:
            raise Wrong(f"a brace that is no place: {re.search('.{0,30}[{}].{0,30}', text)[0]}")
        self.text = text
        self.words = [{"text": word[0], "from": word.start(), "to": word.end(),
                       "gap": re.match(r"\s*", text[word.end():])[0]} for word in re.finditer(r"\S+", text)]
        self.places = [{"from": begin, "to": end, "said": " ".join(said.split()), "meaning": meaning}
                       for begin, end, said, meaning in spans]

    def time_words(self):
        """Begin and end of every word; scaled so that the whole has the usual speed."""
        now = 0.5
        for at, word in enumerate(self.words):
            jitter = 0.85 + (zlib.crc32(f"{at} {word['text']}".encode()) % 1000) / 1000 * 0.3
            sound = re.sub(r"[^A-Za-z0-9]", "", word["text"])
            # A digit or a letter said alone takes as long as a short word.
            length = 4 * len(sound) if re.fullmatch(r"[a-h]?[0-9]+", sound) else len(sound)
            word["begin"] = now
            now += (0.14 + 0.045 * length) * jitter
            word["end"] = now
            rows = word["gap"].count("\n")
            now += 1.1 if rows > 1 else 0.5 if word["text"][-1] in ".?!" else 0.2 if word["text"][-1] in ",;:" else 0.03
        scale = len(self.words) / WORDS_A_MINUTE * 60 / max(now, 1)
        for word in self.words:
            word["begin"], word["end"] = round(word["begin"] * scale, 3), round(word["end"] * scale, 3)
        ends = [word["end"] for word in self.words]
        for place in self.places:
            own = [word for word in self.words if word["from"] < place["to"] and word["to"] > place["from"]]
            if own:
                place["begin"], place["end"] = own[0]["begin"], own[-1]["end"]
            else:
                before = [end for end, word in zip(ends, self.words) if word["to"] <= place["from"]]
                place["begin"] = place["end"] = before[-1] if before else 0.0

    def follow(self, place):
        """Moves the talk on by what a place means."""
        meanings = [part.strip() for part in place["meaning"].split(";")]
        share = (place["end"] - place["begin"]) / len(meanings)
        for number, meaning in enumerate(meanings):
            times = (place["begin"] + number * share, place["begin"] + (number + 1) * share)
            times = tuple(round(time, 2) for time in times)
            if meaning in ("-", "?"):
                continue
            if meaning.startswith("@"):
                self.go(self.told_before(meaning[1:].strip()))
                if self.at is not self.root:
                    self.at.say(self.at.rank, times)
                place.setdefault("nodes", []).append(self.at)
                continue
            sign = meaning[0] if meaning[0] in "~?" else ""
            node = self.played(meaning[len(sign):])
            rank = {"~": "garbled", "?": "either"}.get(sign, "told" if place["said"] else "unsaid")
            node.say(rank, times if place["said"] else None)
            place.setdefault("nodes", []).append(node)
            if sign != "?":
                self.go(node)

    def go(self, node):
        """The whole line to a place is visited with it, so that numbers are looked for there first."""
        self.at = node
        self.history += [node]

    def played(self, text):
        number, dots, san = MOVE.match(text).groups()
        if not number:
            return self.at.play(san)
        side = chess.WHITE if dots == "." else chess.BLACK
        fits = lambda node: (node.board.fullmove_number, node.board.turn) == (int(number), side)
        for node in self.at.line()[::-1] + self.history[::-1]:
            if fits(node):
                return node.play(san)
        raise Wrong(f"{text}: nothing told has that number and side to move")

    def told_before(self, run):
        if run == "start":
            return self.begin
        words = [MOVE.match(word).groups() for word in re.sub(r"(\d\.+)\s+", r"\1", run).split()]
        fitting = []
        for node in self.root.all():
            line = node.line()[1:][-len(words):]
            if len(line) == len(words) and all(
                    one.is_named(san) and (not number or (
                        one.parent.board.fullmove_number == int(number) and
                        one.parent.board.turn == (dots == ".")))
                    for one, (number, dots, san) in zip(line, words)):
                fitting.append(node)
        if not fitting:
            raise Wrong(f"@{run}: not told before")
        order = {id(node): at for at, node in enumerate(self.history)}
        return max(fitting, key=lambda node: order.get(id(node), -1))

    def told(self):
        """The moves that were said, each once: what a draft should hold."""
        return [node for node in self.root.all() if node.rank in ("told", "garbled")]

    def counts(self):
        """Moves told, sayings of moves, mentions that are talk, and either."""
        kinds = [part.strip() for place in self.places if place["said"] for part in place["meaning"].split(";")]
        talk = sum(kind == "-" for kind in kinds)
        either = sum(kind.startswith("?") for kind in kinds)
        return {"words": len(self.words), "minutes": round(self.words[-1]["end"] / 60, 1), "told": len(self.told()),
                "sayings": len(kinds) - talk - either, "talk": talk, "either": either,
                "garbled": sum(node.rank == "garbled" for node in self.told()),
                "unsaid": sum(node.rank == "unsaid" for node in self.root.all()),
                "branches": sum(len(node.children) - 1 for node in self.root.all() if node.children)}

    def unmarked(self):
        """Named squares outside braces."""
        inside = [(place["from"], place["to"]) for place in self.places]
        return [found[0] for found in BARE.finditer(self.text)
                if not any(begin < found.end() and found.start() < end for begin, end in inside)]


def read(path):
    with open(path, encoding="utf-8") as handle:
        return Talk(handle.read())


def pgn(root, title):
    """The tree with its times."""
    game = chess.pgn.Game()
    game.headers.clear()
    game.headers["Event"] = title
    if root.board.fen() != chess.STARTING_FEN:
        game.setup(root.board)
    def add(to, node):
        for child in node.children.values():
            times = sorted(child.sayings)
            comment = "Hear: " + ", ".join(f"{captions.stamp(begin, 1)}-{captions.stamp(max(end, begin + 0.1), 1)}"
                                           for begin, end in times)
            add(to.add_variation(child.move, comment=comment if times else ""), child)
    add(game, root)
    return str(game) + "\n"


def tree(talk):
    """The tree as JSON: a node is its path and what is known of it."""
    return {"title": talk.header.get("title", ""), "from": talk.header.get("from", ""), "counts": talk.counts(),
            "nodes": [{"path": node.path(), "san": node.san, "rank": node.rank, "sayings": node.sayings}
                      for node in talk.root.all() if node.parent]}


def write(talk, name, folder):
    os.makedirs(folder, exist_ok=True)
    texts = {f"{name}.{end}": captions.text(talk.words, form) for form, end in captions.FORMS.items()}
    texts[f"{name}.pgn"] = pgn(talk.root, talk.header.get("title", name))
    texts[f"{name}.json"] = json.dumps(tree(talk)) + "\n"
    for file, text in texts.items():
        with open(os.path.join(folder, file), "w", encoding="utf-8") as handle:
            handle.write(text)


def main():
    command, *rest = sys.argv[1:]
    if command == "captions":
        print(captions.text(read(rest[0]).words, rest[1]))
        return 0
    if command == "make":
        write(read(rest[0]), os.path.basename(rest[0]).removesuffix(".marked.txt"), rest[1])
        return 0
    wrong = 0
    for path in rest:
        try:
            talk = read(path)
        except (Wrong, ValueError) as error:
            print(f"{path}: {error}")
            wrong += 1
            continue
        bare = talk.unmarked()
        wrong += bool(bare)
        print(f"{os.path.basename(path)}: " + ", ".join(f"{count} {what}" for what, count in talk.counts().items()))
        if bare:
            print(f"  not marked: {bare}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
