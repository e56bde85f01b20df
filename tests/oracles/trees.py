"""Writes random games with variations as PGN files, printed by python-chess (PyPI `chess` 1.11.2).

    python trees.py FOLDER [--games N] [--seed S]

The files are FOLDER/trees-1.pgn and so on; the same seed writes the same bytes. Afterwards the files are read again by
python-chess and what they hold is counted: exit 1 when something is absent that the trees are there to test, or when
python-chess does not find in the text what it printed. The moves are random and mean nothing.
"""
import argparse
import os
import random
import sys

import chess
import chess.pgn

import reading

GAMES_IN_A_FILE = 50
DEEPEST = 5
MOST_NODES = 130
# Files that say the same in other bytes: with CRLF line ends, and with a byte order mark.
CRLF_FILE, MARKED_FILE = 2, 3

# Words with letters of several scripts and lengths in UTF-8, and all that must stay mere text inside braces.
WORDS = """the knight goes home and white is slow here but sound then black hits back naïve café Übergang ход конь
Ελλάδα 手 将棋 فيل צריח é 𝔭𝔞𝔴𝔫 ♘f3 ½ — “so” … (=) ( ) [x] [Event "x"] [%note 3,4] ; $3 1-0 * 2.e4 3...Nf6 e4!? ++ --
O-O <b> &amp; \\ "x" @c5 @!d4 @b4-b5 A1 B2b4""".split() + ["e\u0301"]
SPACES = [" "] * 12 + ["  ", "\t", "\n", " \n  "]
BLANK_LINES = ["\n\n", "\n \n", "\n\n\n", "\n\t\n  "]


def phrase(rng, fewest, most):
    # No line may begin with "%": outside a comment that is an escape line (PGN section 6), inside it is unclear.
    text = rng.choice(WORDS)
    for _ in range(rng.randint(fewest, most) - 1):
        text += rng.choice(SPACES) + rng.choice(WORDS)
    return text


def comment(rng):
    kind = rng.random()
    if kind < 0.6:
        return phrase(rng, 1, 6)
    if kind < 0.8:
        return phrase(rng, 20, 60)
    return rng.choice(BLANK_LINES).join(phrase(rng, 1, 15) for _ in range(rng.randint(2, 3)))


def some_move(rng, board):
    """A random move, the rarer kinds favoured; None at the end of a game. Sometimes a pass, but not in check."""
    moves = list(board.legal_moves)
    if not moves:
        return None
    if rng.random() < 0.03 and not board.is_check():
        return chess.Move.null()
    moves = rng.sample(moves, min(len(moves), 6)) + [move for move in moves if board.is_en_passant(move)
                                                     or board.is_castling(move) or move.promotion]
    weights = [1 + 5 * board.is_castling(move) + 5 * board.is_en_passant(move) + 2 * bool(move.promotion)
               + board.is_capture(move) + 3 * board.gives_check(move) for move in moves]
    return rng.choices(moves, weights)[0]


class Writer:
    """Grows one game. `wide`: the depth at which this game has so many variations that the letters run out."""

    def __init__(self, rng, game, wide):
        self.rng, self.wide, self.left = rng, wide, MOST_NODES
        self.grow(game, game.board(), 14 if wide == 0 else min(rng.randint(0, 40), rng.randint(0, 40)), 0)

    def grow(self, node, board, length, depth):
        """Continues the line that `node` ends; the first move made here is its next move, the others are variations."""
        for at in range(length):
            move = some_move(self.rng, board)
            if move is None or self.left <= 0:
                return
            main = self.add(node, move, depth == 0)
            for _ in range(self.siblings(depth, at)):
                self.vary(node, board, move, depth + 1)
            board = board.copy(stack=False)
            board.push(move)
            node = main

    def siblings(self, depth, at):
        if depth == self.wide:
            return 2
        if self.wide is not None:
            return int(depth < self.wide and at == 1)
        if depth == DEEPEST:
            return 0
        # The chance falls so slowly that many games reach the deepest level before their nodes run out.
        return self.rng.choices([0, 1, 2, 3], [60, 22 + 6 * depth, 10, 3])[0]

    def vary(self, node, board, main, depth):
        move = some_move(self.rng, board)
        if move == main and self.rng.random() < 0.8:
            # The same move twice at one node is two nodes, but should stay rare.
            return
        first = self.add(node, move, False)
        board = board.copy(stack=False)
        board.push(move)
        longest = 14 if depth == self.wide else 2 if self.wide is not None else 8
        fewest = longest if self.wide is not None and depth <= self.wide else 0
        length = max(fewest, min(self.rng.randint(0, longest), self.rng.randint(0, longest)))
        # The continuation of a variation can have variations of its own, beside moves of the variation.
        self.grow(first, board, length, depth)

    def add(self, node, move, main_line):
        rng = self.rng
        self.left -= 1
        child = node.add_variation(move)
        if rng.random() < 0.25:
            child.comment = comment(rng)
        # On the main line python-chess prints it before the move, so after the variations of the move before.
        if rng.random() < (0.08 if main_line else 0.12):
            child.starting_comment = comment(rng)
        if rng.random() < 0.2:
            child.nags = set(rng.sample(range(1, 140), rng.randint(1, 3)))
        return child


def start_position(rng):
    """A position from play, often thinned out, with clocks of its own and either side to move."""
    while True:
        board = chess.Board()
        for _ in range(rng.randint(0, 70)):
            move = rng.choice(list(board.legal_moves) or [None])
            if move is None:
                break
            board.push(move)
        if rng.random() < 0.4:
            for square in rng.sample(list(board.piece_map()), rng.randint(1, 20) % len(board.piece_map())):
                if board.piece_type_at(square) != chess.KING:
                    board.remove_piece_at(square)
            board.ep_square = None
            board.castling_rights = board.clean_castling_rights()
        elif rng.random() < 0.3:
            # A double step last, so that the FEN may name an en passant square.
            steps = [move for move in board.legal_moves if board.piece_type_at(move.from_square) == chess.PAWN
                     and abs(move.from_square - move.to_square) == 16]
            if steps:
                board.push(rng.choice(steps))
        board.clear_stack()
        if board.ep_square is None:
            board.halfmove_clock = rng.choice([0, 1, rng.randint(2, 99)])
        board.fullmove_number = rng.randint(1, 150)
        if board.is_valid() and any(board.legal_moves):
            return board


def random_game(rng, number):
    game = chess.pgn.Game()
    game.headers["Event"] = f"Evening {number}"
    game.headers["Site"] = rng.choice(["Reading room", "Café “Zug”", "Дом", "?"])
    game.headers["Date"] = f"{rng.randint(1900, 2030)}.{rng.choice(['??', '03', '11'])}.??"
    game.headers["Round"] = rng.choice(["?", "-", "1", "7.2"])
    game.headers["White"] = f"Player {rng.randint(1, 99)}"
    game.headers["Black"] = f"Ñandú, É. {rng.randint(1, 99)}"
    game.headers["Result"] = rng.choice(["1-0", "0-1", "1/2-1/2", "*"])
    for name in rng.sample(["Annotator", "Chapter", "Time_Of_Day", "Part_2"], rng.randint(0, 3)):
        game.headers[name] = rng.choice(["", "two words", "ß; {not a comment} (nor this)", "1. e4 e5 *"])
    if rng.random() < 0.35:
        board = start_position(rng)
        game.setup(board)
        # The standard's own form names the square after every double step; it must be read as well.
        game.headers["FEN"] = board.fen(en_passant=rng.choice(["legal", "fen"]))
        if rng.random() < 0.1:
            del game.headers["SetUp"]
    if rng.random() < 0.4:
        game.comment = comment(rng)
    Writer(rng, game, {20: 0, 40: 2}.get(number % 50))
    return game


def write(folder, games, seed):
    """Prints the games; returns the paths and how many nodes were printed in each game."""
    rng = random.Random(seed)
    paths, sizes, texts = [], [], []
    for number in range(1, games + 1):
        game = random_game(rng, number)
        sizes.append(1 + sum(len(node.variations) for node in walk(game)))
        texts.append(game.accept(chess.pgn.StringExporter(columns=80)))
        if len(texts) == GAMES_IN_A_FILE or number == games:
            file = len(paths) + 1
            paths.append(os.path.join(folder, f"trees-{file}.pgn"))
            with open(paths[-1], "w", encoding="utf-8-sig" if file == MARKED_FILE else "utf-8",
                      newline="\r\n" if file == CRLF_FILE else "\n") as handle:
                handle.write("\n\n".join(texts) + "\n")
            texts = []
    return paths, sizes


def walk(game):
    waiting = [game]
    while waiting:
        node = waiting.pop()
        yield node
        waiting += node.variations


def count(readings):
    """What the texts hold, as python-chess reads them."""
    seen = {}

    def add(name, times=1):
        seen[name] = seen.get(name, 0) + int(times)

    for one in readings:
        fen = one.tags.get("FEN")
        add("starts from a FEN with White to move", fen is not None and one.game.board().turn == chess.WHITE)
        add("starts from a FEN with Black to move", fen is not None and one.game.board().turn == chess.BLACK)
        add("FENs that name a square where no en passant is legal", fen is not None and one.game.board().fen() != fen)
        add("starts where en passant is legal", one.game.board().has_legal_en_passant())
        add("comments on the game", bool(one.game.comment))
        add("games without a move", len(one.order) == 1)
        add(f"results {one.marker}")
        for depth in range(1, DEEPEST + 1):
            add(f"variations nested {depth} deep",
                sum(number for line, number in one.variations_beside.items() if len(line) == depth - 1))
        for depth in (0, 2):
            add(f"lines at depth {depth} with more than 26 variations",
                any(number > 26 for line, number in one.variations_beside.items() if len(line) == depth))
        boards = {id(one.game): one.game.board()}
        for node in one.order[1:]:
            # Parents come before their children; `node.board()` would play each line from its start again.
            after = boards[id(node.parent)].copy(stack=False)
            after.push(node.move)
            boards[id(node)] = after
            add_move(add, node, boards[id(node.parent)], after)
    return seen


def add_move(add, node, board, after):
    moves = [child.move for child in node.parent.variations]
    add("moves")
    add("passes by White", not node.move and board.turn == chess.WHITE)
    add("passes by Black", not node.move and board.turn == chess.BLACK)
    add("castling, king's side", bool(node.move) and board.is_kingside_castling(node.move))
    add("castling, queen's side", bool(node.move) and board.is_queenside_castling(node.move))
    add("captures en passant", bool(node.move) and board.is_en_passant(node.move))
    add("promotions to a queen", node.move.promotion == chess.QUEEN)
    add("promotions to another piece", node.move.promotion not in (None, chess.QUEEN))
    add("moves that name a file or a rank to tell two pieces apart",
        len(board.san(node.move).strip("+#").replace("x", "")) > 3 and board.san(node.move)[0] in "NBRQ")
    add("checks", after.is_check())
    add("mates", after.is_checkmate())
    add("positions where en passant is legal", after.has_legal_en_passant())
    add("moves given twice at one node", len(set(moves)) < len(moves))
    add("nodes with three or more next moves", len(moves) > 2)
    add("comments before a variation", bool(node.starting_comment))
    add("comments after a move", bool(node.comment))
    add("comments longer than a line", len(node.comment) > 80)
    add("comments with a blank line", "\n\n" in node.comment)
    add("comments with letters beyond ASCII", not node.comment.isascii())
    add("NAGs", len(node.nags))


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("folder")
    arguments.add_argument("--games", type=int, default=500)
    arguments.add_argument("--seed", type=int, default=1994)
    given = arguments.parse_args()
    os.makedirs(given.folder, exist_ok=True)
    paths, sizes = write(given.folder, given.games, given.seed)
    readings = [one for path in paths for one in reading.read_file(path)]
    seen = count(readings)
    lost = [f"python-chess reads game {number} with an error or other moves than it printed"
            for number, (one, size) in enumerate(zip(readings, sizes), start=1) if one.errors or len(one.order) != size]
    lost += [] if len(readings) == len(sizes) else [f"{len(sizes)} games printed, {len(readings)} read"]
    # A handful of games cannot hold everything; the self-test writes so few, and says so by asking for fewer.
    if given.games >= 500:
        lost += [f"none: {name}" for name, times in seen.items() if times == 0]
    for name, times in sorted(seen.items()):
        print(f"{times:7} {name}")
    print("\n".join(lost) or "all there")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
