"""Why a move word means no legal move, worked out with python-chess (PyPI `chess` 1.11.2) alone: `is_pinned`,
`attackers`, `checkers`, `between`, castling rights. The codes are plyline's; the rules are those of chess.

Several reasons may hold at once. The one that is nearest to the player counts: is there such a piece, is the square
free of one's own, can the piece reach it, is its way free, and only then whether the king is safe. Where several
pieces could have been meant, a reason that is true of one of those which come closest is as good as another.
"""
import dataclasses

import chess

# Reasons that give way to "it is a move of the other side's".
GIVES_WAY = {"P012", "P031", "P039"}


@dataclasses.dataclass
class Asked:
    """A move word and what it says. `role` None: two squares and no letter, `e2e4`."""

    word: str
    role: int | None = None
    file: int | None = None
    rank: int | None = None
    to: int | None = None
    capture: bool = False
    promotion: int | None = None
    castling: str | None = None

    def fits(self, square):
        return self.file in (None, chess.square_file(square)) and self.rank in (None, chess.square_rank(square))

    def takes(self):
        """Whether it is a capture, if a pawn makes it."""
        return self.capture or self.file not in (None, chess.square_file(self.to))

    def origin(self):
        return None if self.file is None or self.rank is None else chess.square(self.file, self.rank)


def legal(board, asked):
    """The legal moves that the word means, promotions aside."""
    if asked.castling:
        named = board.is_kingside_castling if asked.castling == "O-O" else board.is_queenside_castling
        return [move for move in board.legal_moves if named(move)]
    return [move for move in board.legal_moves if move.to_square == asked.to and is_meant(board, asked, move)]


def is_meant(board, asked, move):
    role = board.piece_type_at(move.from_square)
    if asked.role is None:
        return move.from_square == asked.origin()
    if role != asked.role or not asked.fits(move.from_square) or board.is_castling(move):
        return False
    return role != chess.PAWN or asked.takes() == board.is_capture(move)


def two_moves(board, word):
    """Whether the word is two legal moves without a space, as `e4e5`; a text with no other move supports that."""
    for cut in range(2, len(word) - 1):
        after = board.copy(stack=False)
        try:
            after.push_san(word[:cut])
            after.push_san(word[cut:])
        except ValueError:
            continue
        return True
    return False


def reasons(board, asked):
    """Pairs of code and squares that a true message names; empty if the word means one legal move."""
    if not any(board.legal_moves):
        return [("P056", frozenset())]
    if two_moves(board, asked.word):
        return [("P011", frozenset())]
    moves = legal(board, asked)
    exact = [move for move in moves if move.promotion == asked.promotion]
    if len(exact) == 1:
        return []
    if len(exact) > 1:
        return [("P013", frozenset(move.from_square for move in exact))]
    if moves and asked.promotion is None:
        return [("P038", frozenset())]
    found = castling(board, asked) if asked.castling else pieces(board, asked)
    if {code for code, _ in found} <= GIVES_WAY and of_the_other_side(board, asked.word):
        return [("P044", frozenset())]
    return found


def of_the_other_side(board, word):
    if board.is_check():
        return False
    other = board.copy(stack=False)
    other.push(chess.Move.null())
    try:
        return bool(other.parse_san(word))
    except ValueError:
        return False


def castling(board, asked):
    turn, king = board.turn, board.king(board.turn)
    short = asked.castling == "O-O"
    has_rights = board.has_kingside_castling_rights if short else board.has_queenside_castling_rights
    if not has_rights(turn):
        return [("P037", frozenset())]
    if board.is_check():
        return [("P037", frozenset(board.checkers()))]
    home = chess.square_rank(king)
    between = chess.SquareSet(chess.between(king, chess.square(7 if short else 0, home))) & board.occupied
    if between:
        return [("P037", frozenset(between))]
    way = [chess.square(file, home) for file in ((5, 6) if short else (3, 2))]
    attacks = [(square, board.attackers(not turn, square)) for square in way]
    return [("P037", frozenset({square, *attackers})) for square, attackers in attacks if attackers]


def pieces(board, asked):
    role, origin = asked.role, asked.origin()
    if role is None:
        role = board.piece_type_at(origin)
        if role is None:
            return [("P031", frozenset({origin}))]
        if board.color_at(origin) != board.turn:
            return [("P044", frozenset({origin}))]
        home = chess.square(4, 0 if board.turn else 7)
        if role == chess.KING and origin == home and chess.square_distance(origin, asked.to) == 2 \
                and chess.square_rank(asked.to) == chess.square_rank(home):
            short = chess.square_file(asked.to) == 6
            return castling(board, Asked(asked.word, castling="O-O" if short else "O-O-O"))
    ours = board.pieces(role, board.turn)
    if not ours:
        return [("P031", frozenset())]
    meant = [square for square in ours if asked.fits(square)]
    if not meant:
        return [("P031", frozenset() if origin is None else frozenset({origin}))]
    if board.color_at(asked.to) == board.turn:
        return [("P036", frozenset({asked.to}))]
    if role == chess.PAWN:
        return pawns(board, asked, meant)
    reaching = [square for square in meant if asked.to in board.attacks(square)]
    if reaching:
        return [king(board, chess.Move(square, asked.to)) for square in reaching]
    blocked = [square for square in meant if asked.to in alone(role, square)]
    if blocked:
        return [("P032", frozenset({square, asked.to, *chess.SquareSet.between(square, asked.to) & board.occupied}))
                for square in blocked]
    return out_of_reach(asked, meant)


def out_of_reach(asked, meant):
    """A word that says where its piece is, by file, rank or both, means the one piece there, which is named."""
    one = meant if len(meant) == 1 and (asked.file, asked.rank) != (None, None) else []
    return [("P012", frozenset({asked.to, *one}))]


def alone(role, square):
    """Where a piece could go from here on an empty board."""
    board = chess.Board(None)
    board.set_piece_at(square, chess.Piece(role, chess.WHITE))
    return board.attacks(square)


def alone_pawn(square, color):
    """Where a pawn could take."""
    return chess.SquareSet(chess.BB_PAWN_ATTACKS[color][square])


def pawns(board, asked, meant):
    if asked.takes():
        near = [square for square in meant if asked.to in board.attacks(square)]
        if near and (board.piece_at(asked.to) or asked.to == board.ep_square):
            return [king(board, chess.Move(square, asked.to)) for square in near]
        return [("P039", frozenset({square, asked.to})) for square in near] or out_of_reach(asked, meant)
    step, home = (8, 1) if board.turn else (-8, 6)
    behind = [square for square in meant if asked.to - square == step
              or asked.to - square == 2 * step and chess.square_rank(square) == home]
    found = []
    for square in behind:
        way = (chess.SquareSet.between(square, asked.to) | chess.SquareSet([asked.to])) & board.occupied
        if way:
            found.append(("P032", frozenset({square, asked.to, *way})))
        elif asked.promotion and chess.square_rank(asked.to) not in (0, 7):
            found.append(("P012", frozenset({asked.to})))
        else:
            found.append(king(board, chess.Move(square, asked.to)))
    return found or out_of_reach(asked, meant)


def king(board, move):
    """Why a move that the piece can make by its own way of moving is not legal."""
    turn, origin = board.turn, move.from_square
    if board.piece_type_at(origin) == chess.KING:
        without = board.occupied & ~chess.BB_SQUARES[origin]
        return "P035", frozenset({move.to_square, *board.attackers(not turn, move.to_square, without)})
    after = board.copy(stack=False)
    # A piece that will be what it becomes does not matter here: it stands on the same square.
    after.push(chess.Move(origin, move.to_square, chess.QUEEN if is_last(board, move) else None))
    opened = after.attackers(not turn, board.king(turn)) - board.checkers()
    if not opened:
        return "P034", frozenset(board.checkers())
    if board.is_pinned(turn, origin):
        return "P033", frozenset({origin, *opened})
    # Only taking en passant opens a line by the piece that is taken.
    assert board.is_en_passant(move), (board.fen(), move)
    return "P034", frozenset(opened)


def is_last(board, move):
    return board.piece_type_at(move.from_square) == chess.PAWN and chess.square_rank(move.to_square) in (0, 7)
