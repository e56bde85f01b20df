"""How a move is said: the spoken English of one chess move, plain or with a slip. Used by generate.py alone.

Common practice, no source: what teachers of chess say aloud, from memory.
"""
import chess

NAMES = {chess.KNIGHT: "knight", chess.BISHOP: "bishop", chess.ROOK: "rook", chess.QUEEN: "queen", chess.KING: "king"}
RANKS = dict(zip("12345678", ["one", "two", "three", "four", "five", "six", "seven", "eight"]))
# What a recogniser writes for a letter, a rank or a piece.
LETTERS_HEARD = {"b": ["be", "b"], "c": ["see", "c"], "g": ["g", "gee"], "a": ["a"], "d": ["d"], "e": ["e"],
                 "f": ["f"], "h": ["h"]}
HOMOPHONES = [("knight", "night"), ("bishop", "bishops"), ("rook", "brook"), ("queen", "clean"), (" takes", " take"),
              ("a4", "a for"), ("b4", "before"), ("c5", "see five"), ("b5", "be five"), ("e2", "e to"),
              ("c4", "see four"),
              ("d4", "d for"), ("e4", "e for"), ("b6", "be six"), ("c6", "see six"), ("g4", "gee four"),
              ("f4", "f for"),
              ("d2", "d to"), ("e8", "e ate"), ("f8", "f ate"), ("c3", "see three"), ("g3", "g free"), ("f3", "f free")]
SLIPS = ["wrong file", "homophone", "dropped word", "doubled square", "missing x"]


class Style:
    """How one talk writes what was said: `digits` f3, `spaced` f three, `bare` f three without capitals and points,
    `notation` Nf3 now and then."""

    def __init__(self, name, rng):
        self.name, self.rng = name, rng

    def square(self, square):
        file, rank = square
        if self.name == "bare":
            return f"{self.rng.choice(LETTERS_HEARD[file])} {RANKS[rank]}"
        return f"{file} {RANKS[rank]}" if self.name == "spaced" else square

    def file(self, letter):
        return self.rng.choice(LETTERS_HEARD[letter]) if self.name == "bare" else letter

    def piece(self, kind):
        return "night" if self.name == "bare" and kind == chess.KNIGHT and self.rng.random() < 0.7 else NAMES[kind]

    def finish(self, text):
        """The whole text as this style writes it; braces and what is after `|` stay as they are."""
        if self.name != "bare":
            return text
        out, inside = [], False
        for char in text:
            inside = inside and char != "}" or char == "|"
            if inside or char in "{}|":
                out.append(char)
            elif char in ".?!;:" and not inside:
                out.append("\n" if char in ".?!" else "")
            elif char != ",":
                out.append(char.lower())
        return "\n".join(" ".join(row.split()) for row in "".join(out).split("\n") if row.strip()) + "\n"


def captures(board):
    return [move for move in board.legal_moves if board.is_capture(move)]


def say(board, move, style, slip=None):
    """The words for a legal move. With a slip: the words with it, or None where that slip cannot be made."""
    rng = style.rng
    kind = board.piece_type_at(move.from_square)
    to = chess.square_name(move.to_square)
    if slip in ("wrong file", "doubled square", "dropped word", "missing x") and board.is_castling(move):
        return None
    if slip == "wrong file":
        to = chr(ord(to[0]) + rng.choice([1, -1])) + to[1]
        if to[0] not in "abcdefgh":
            return None
    takes = board.is_capture(move)
    square = style.square(to)
    if slip == "doubled square":
        square = f"{square} {square}"
    if board.is_castling(move):
        short = chess.square_file(move.to_square) == 6
        forms = ["castles short", "castles kingside"] if short else ["castles long", "castles queenside"]
        words = rng.choice(["castles"] * (short and not other_castling(board, move)) + forms)
    elif kind == chess.PAWN:
        words = pawn(board, move, style, square, takes, slip)
    else:
        words = piece(board, move, style, kind, square, takes, slip)
    if words is None:
        return None
    if board.gives_check(move) and rng.random() < 0.6 and slip is None:
        words += " check"
    if slip == "homophone":
        fitting = [pair for pair in HOMOPHONES if pair[0] in words]
        if not fitting:
            return None
        words = words.replace(*rng.choice(fitting))
    return words


def other_castling(board, move):
    return sum(board.is_castling(other) for other in board.legal_moves) > 1


def alone(board, move, test):
    """Whether no other legal capture to that square passes a test."""
    return sum(one.to_square == move.to_square and test(one) for one in captures(board)) == 1


def pawn(board, move, style, square, takes, slip):
    rng = style.rng
    if not takes:
        if slip == "missing x":
            return None
        if slip == "dropped word":
            return rng.choice(["pawn", "the pawn"])
        return rng.choice([square] * 6 + [f"pawn to {square}", f"pawn {square}"])
    file = style.file(chess.FILE_NAMES[chess.square_file(move.from_square)])
    if slip == "missing x":
        return f"{file} {square}"
    if slip == "dropped word":
        return f"takes {square}"
    if style.name == "notation" and slip is None and rng.random() < 0.5:
        return board.san(move).rstrip("+#").replace("x", rng.choice(["x", ""]))
    forms = [f"{file} takes {square}"] * 4 + [f"{file} takes on {square}"]
    if slip is None and alone(board, move, lambda one: board.piece_type_at(one.from_square) == chess.PAWN):
        forms += [f"pawn takes {square}", f"pawn takes on {square}"]
    if slip is None and alone(board, move, lambda one: True):
        forms += [f"takes {square}", f"takes on {square}"]
        if board.move_stack and board.peek().to_square == move.to_square:
            forms += ["takes back", "takes", "recaptures"] if not board.is_en_passant(move) else []
    if slip is None and board.is_en_passant(move):
        forms += [f"{file} takes {square} en passant", f"{file} takes in passing"]
    return rng.choice(forms)


def piece(board, move, style, kind, square, takes, slip):
    rng = style.rng
    san = board.san(move).rstrip("+#")
    name = style.piece(kind)
    extra = san[1:-2].replace("x", "")
    if slip == "dropped word":
        return f"takes {square}" if takes else square
    if takes and slip != "missing x":
        which = {0: name, 1: f"{name} {extra}" if extra.isalpha() else f"{name} {RANKS.get(extra)}"}.get(len(extra))
        which = which or f"{name} from {style.square(extra)}"
        forms = [f"{which} takes {square}"] * 4 + [f"{which} takes on {square}"]
        recaptured = board.move_stack and board.peek().to_square == move.to_square
        if slip is None and recaptured and not extra:
            forms += [f"{which} takes", f"{which} takes back"]
            if alone(board, move, lambda one: True):
                forms += ["takes back", "takes", "recaptures"]
        return rng.choice(forms)
    if slip == "missing x" and not takes:
        return None
    if not extra:
        if style.name == "notation" and rng.random() < 0.5:
            return san.replace("x", "")
        return rng.choice([f"{name} {square}"] * 4 + [f"{name} to {square}", f"the {name} to {square}"])
    if len(extra) == 1 and extra.isalpha():
        return rng.choice([f"{name} {style.file(extra)} {square}", f"{name} {style.file(extra)} to {square}"])
    if len(extra) == 1:
        return f"{name} {RANKS[extra]} {square}"
    return f"{name} from {style.square(extra)} to {square}"
