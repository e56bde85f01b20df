"""Lessons by chance for pages, written by python-chess (PyPI `chess` 1.11.2): variations, comments of every kind, questions,
starts from a FEN. Each comment has words of its own, so that none can be taken for another.
"""
import html
import itertools

import chess
import chess.pgn

import trees

DEEPEST = 3
MOST_NODES = 60
CLEAR_SIGNS = [1, 3, 5, 10, 13, 14, 16, 17]
MARKS = ["@e4", "@!d5", "@?f7", "@b4-b5", "@!g1-f3-d4", "@?h7-h5"]


class Lesson:
    """One game; `chance` decides all of it."""

    def __init__(self, chance, is_asking=True):
        self.chance, self.is_asking, self.number = chance, is_asking, itertools.count(1)
        self.left = chance.randrange(5, MOST_NODES)
        self.game = chess.pgn.Game()
        if chance.random() < 0.4:
            self.game.setup(trees.start_position(chance))
        if chance.random() < 0.4:
            self.game.comment = self.words(2, 9)
        self.game.headers["Result"] = chance.choice(["*", "*", "1-0", "0-1", "1/2-1/2"])
        self.grow(self.game, chance.randrange(3, 25), 0)
        for node in list(trees.walk(self.game)):
            self.say(node)

    def grow(self, node, length, depth):
        board = node.board()
        for _ in range(length):
            moves = list(board.legal_moves)
            if not moves or self.left <= 0:
                return
            many = self.chance.choice([1, 1, 1, 1, 2, 2, 3]) if depth < DEEPEST else 1
            chosen = self.chance.sample(moves, min(many, len(moves)))
            self.left -= len(chosen)
            nodes = [node.add_variation(move) for move in chosen]
            for side in nodes[1:]:
                self.grow(side, self.chance.randrange(0, 7), depth + 1)
            node = nodes[0]
            board.push(chosen[0])

    def words(self, fewest, most):
        """Some words, each with a number that no other word of this lesson has."""
        many = self.chance.randrange(fewest, most)
        return " ".join(f"{self.chance.choice(['plan', 'Feld', 'ход', 'idée', 'R&D', 'file'])}{next(self.number)}"
                        for _ in range(many)) + "."

    def comment(self, is_move):
        chance, words = self.chance, self.words
        kind = chance.randrange(10 if is_move else 7)
        if kind < 3:
            return words(1, 12)
        if kind == 3:
            return f"{words(1, 5)}\n\n{words(2, 6)} \"{words(1, 3)}\" isn't <b>{words(1, 2)}</b>"
        if kind == 4:
            return f"*{words(1, 4)}* {words(1, 3)} **{words(1, 3)}**"
        if kind == 5:
            return f"{words(1, 3)} {chance.choice(MARKS)} {words(1, 3)} {chance.choice(MARKS)} {words(1, 3)}"
        if kind == 6:
            return f"[{words(1, 4)}](https://example.org/{chance.randrange(9)}) {words(1, 3)}"
        if kind == 7:
            return f"{words(1, 3)}\n\nChoose: if you want {words(1, 4)}"
        if kind == 8:
            return f"{words(1, 3)}\n\nDiagram: {words(1, 4)}"
        return f"In short: {words(1, 4)}\n\n{words(1, 3)}"

    def question(self):
        chance, words = self.chance, self.words
        text = f"Ask: {words(2, 6)}"
        if chance.random() < 0.3:
            text += f"\n\n{words(1, 4)}"
        if chance.random() < 0.4:
            text += f" Hint: {words(1, 4)}"
        if chance.random() < 0.5:
            text += f" Because: {words(1, 6)}"
        return text

    def say(self, node):
        chance = self.chance
        if self.is_asking and node.variations and chance.random() < 0.12:
            node.comment = self.question()
        elif node.parent is not None and chance.random() < 0.35:
            node.comment = self.comment(True)
        if node.parent is not None:
            # Before a move of the main line python-chess writes nothing apart from the comment before.
            is_side = node.parent.variations[0] is not node
            is_after_sides = not is_side and len(node.parent.variations) > 1
            if (is_side or is_after_sides) and chance.random() < 0.1:
                node.starting_comment = self.words(1, 8)
            if chance.random() < 0.2:
                node.nags = {chance.choice(CLEAR_SIGNS)}

    def pgn(self):
        return self.game.accept(chess.pgn.StringExporter(columns=80))


def element(text, at, chance):
    """A lesson as authors put it into a page."""
    escaped = html.escape(text, quote=chance.random() < 0.5)
    if chance.random() < 0.3:
        return f'<pre><code class="language-pgn">{escaped}\n</code></pre>'
    return f'<ply-line id="l{at}"><pre>\n{escaped}\n</pre></ply-line>'


def page(body, script='<script type="module" src="/plyline.mjs"></script>', title="A page", lang="en"):
    return (f'<!doctype html>\n<html lang="{lang}">\n<head>\n<meta charset="utf-8">\n<title>{title}</title>\n{script}\n</head>\n'
            f"<body>\n<main>\n{body}\n</main>\n</body>\n</html>\n")


def feed(base, texts):
    """An RSS feed with a lesson in each entry."""
    items = (f"<item><title>{at}</title><link>{base}{at}/</link><description>"
             + html.escape(f'<ply-line id="l{at}"><pre>\n{html.escape(text)}\n</pre></ply-line>')
             + "</description></item>" for at, text in enumerate(texts))
    return ('<?xml version="1.0" encoding="utf-8"?>\n<rss version="2.0"><channel><title>x</title>'
            f"<link>{base}</link><description>x</description>{''.join(items)}</channel></rss>\n")
