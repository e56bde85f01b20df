"""How python-chess (PyPI `chess` 1.11.2) reads a PGN text, put into the shape of `plyline tree FILE --json`.

This is the oracle. Moves, positions, SAN, UCI and FEN are python-chess's. Only what its tree does not keep is noted
while it reads: the order of the moves in the text, the order of NAGs, the move that a variation is written beside,
and the tags as written. The outline labels follow the words of design section 2 and are worked out here on their own.
"""
import logging
import re

import chess
import chess.pgn

# Errors are looked at in `errors`; python-chess would also print them.
logging.getLogger("chess.pgn").setLevel(logging.CRITICAL)

GAME_FIELDS = ["tags", "start", "result", "nodes"]
NODE_FIELDS = ["id", "parent", "children", "ply", "san", "uci", "fen", "nags", "before", "comment",
               "marks", "choice", "ask", "line"]


def fold(text):
    """White space as section 8 says: a run of it is one space, a blank line separates paragraphs by two line feeds."""
    paragraphs = re.split(r"\n[ \t\f\v]*\n", text.replace("\r\n", "\n"))
    words = (" ".join(re.findall(r"[^ \t\n\r\f\v]+", paragraph)) for paragraph in paragraphs)
    return "\n\n".join(filter(None, words))


def letters(number, first):
    """1 is A, 26 is Z, 27 is AA, and so on, beginning from the letter `first`."""
    text = ""
    while number:
        number, digit = divmod(number - 1, 26)
        text = chr(ord(first) + digit) + text
    return text


def label(line):
    """The written label of a line given as its number at each depth: (2, 1, 3) is B1c, () is the main line."""
    if not line:
        return None
    text = letters(line[0], "A")
    for depth, number in enumerate(line[1:], start=1):
        text += str(number) if depth % 2 else letters(number, "a")
    return text


class Reading(chess.pgn.GameBuilder):
    """One game as python-chess reads it, with what its own tree forgets."""

    def begin_game(self):
        super().begin_game()
        self.tags = {}
        self.marker = None
        self.order = [self.game]
        self.nag_order = {}
        # The move that the variation just opened is beside, until its first move comes.
        self.opened_beside = None
        self.lines = {id(self.game): ()}
        self.variations_beside = {}

    def visit_header(self, tagname, tagvalue):
        super().visit_header(tagname, tagvalue)
        # python-chess leaves the two escapes of PGN section 7 in the value.
        self.tags.setdefault(tagname, re.sub(r'\\(["\\])', r"\1", tagvalue))

    def visit_result(self, result):
        super().visit_result(result)
        self.marker = self.marker or result

    def visit_comment(self, comment):
        # Folded piece by piece, so that python-chess joins what section 8 joins: by one space, never by a line.
        super().visit_comment(fold(comment))

    def visit_nag(self, nag):
        super().visit_nag(nag)
        seen = self.nag_order.setdefault(id(self.variation_stack[-1]), [])
        if nag not in seen:
            seen.append(nag)

    def begin_variation(self):
        self.opened_beside = self.variation_stack[-1]
        return super().begin_variation()

    def visit_move(self, board, move):
        parent = self.variation_stack[-1]
        super().visit_move(board, move)
        node = self.variation_stack[-1]
        self.order.append(node)
        if self.opened_beside is None:
            self.lines[id(node)] = self.lines[id(parent)]
        else:
            beside = self.lines[id(self.opened_beside)]
            self.variations_beside[beside] = self.variations_beside.get(beside, 0) + 1
            self.lines[id(node)] = beside + (self.variations_beside[beside],)
            self.opened_beside = None

    def result(self):
        return self

    @property
    def errors(self):
        return self.game.errors

    def tree(self):
        """The object that plyline should print for this game."""
        number = {id(node): at for at, node in enumerate(self.order)}
        boards, plies, nodes = [], [], []
        for at, node in enumerate(self.order):
            if node.parent is None:
                parent, san, uci, before = None, None, None, None
                board = node.board()
                plies.append(0)
            else:
                parent = number[id(node.parent)]
                board = boards[parent].copy(stack=False)
                san, uci = board.san(node.move), board.uci(node.move)
                board.push(node.move)
                plies.append(plies[parent] + 1)
                before = node.starting_comment or None
            boards.append(board)
            nodes.append({
                "id": at, "parent": parent, "children": [number[id(child)] for child in node.variations],
                "ply": plies[at], "san": san, "uci": uci, "fen": board.fen(),
                "nags": self.nag_order.get(id(node), []), "before": before, "comment": node.comment or None,
                "marks": [], "choice": None, "ask": None, "line": label(self.lines[id(node)]),
            })
        return {"tags": self.tags, "start": boards[0].fen(), "result": self.marker or "*", "nodes": nodes}


def read(handle):
    """All games of an open text, as python-chess reads them."""
    readings = []
    while (reading := chess.pgn.read_game(handle, Visitor=Reading)) is not None:
        readings.append(reading)
    return readings


def read_file(path):
    with open(path, encoding="utf-8-sig") as handle:
        return read(handle)
