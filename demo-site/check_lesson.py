#!/usr/bin/env python3
"""Checks the chess of the demo site: that its lessons are legal, large and deep enough, that the
trap wins what the page says, that the transpositions are true, and that no bad move stands there
without its sign.

The outside source is python-chess (PyPI `chess`): it reads the notation, knows what is legal and
names the positions. The search for blunders is ours: it counts material, nothing else, with the
usual values (pawn 1, knight and bishop 3, rook 5, queen 9: common practice, no source).

    python3 -m venv /tmp/venv-demo && /tmp/venv-demo/bin/pip install chess
    /tmp/venv-demo/bin/python demo-site/check_lesson.py [PAGES-FOLDER]

Prints what it found; exit 0 when all is well, 1 with the reasons when not. `--losses` also lists
every move after which the search counts less material.
"""

import html
import io
import pathlib
import re
import sys

import chess
import chess.pgn

PAGES = pathlib.Path(__file__).resolve().parent / "pages"
LESSON_PAGE = "the-pawn-that-is-not-free/index.html"
SHORT_PAGE = "ten-quiet-moves/index.html"

LEAST_POSITIONS = 60
LEAST_DEPTH = 3  # a variation in a variation in a variation

TO_D5 = "d4 d5 c4 e6 Nc3 Nf6 Bg5 Nbd7 cxd5 exd5"
# The capture that looks natural, and how Black answers it.
TRAP = "Nxd5 Nxd5 Bxd8 Bb4+ Qd2 Bxd2+ Kxd2 Kxd8"
TRAP_WON = {"white": 13, "black": 15}  # pawn, queen, bishop against knight, bishop, queen

# Two paths that the page says lead to one position: the shorter line, then the main line.
TRANSPOSITIONS = [
    ("d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5 Bg5 Nbd7", TO_D5),
    ("d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 cxd5 exd5 e3 O-O Bd3 Nbd7", TO_D5 + " e3 Be7 Bd3 O-O"),
    (TO_D5 + " Nf3 c6 e3 Be7 Qc2 O-O Bd3", TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6 Nf3"),
    (TO_D5 + " e3 c6 Bd3 Be7 Qc2 O-O", TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6"),
]

# Moves that give material up on purpose and carry no sign: path -> reason. None is needed now.
ALLOWED: dict[str, str] = {}

VALUES = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9}
MATE = 1000
PIECE_LOST = 2  # a piece for a pawn; a bare pawn is the teacher's business
MARKED_WEAK = {chess.pgn.NAG_MISTAKE, chess.pgn.NAG_BLUNDER, chess.pgn.NAG_DUBIOUS_MOVE}

failures: list[str] = []


class Hopeless(Exception):
    """The lesson is so different that the checks after this one would say nothing useful."""


def expect(truth: bool, message: str) -> None:
    """Notes a failure instead of stopping, so that one run shows everything that is wrong."""
    if not truth:
        failures.append(message)


# ---- reading -------------------------------------------------------------------------------


def notation(pages: pathlib.Path, page: str, pattern: str) -> str:
    """The text that a browser would hand to plyline: the one block on the page, entities undone."""
    found = re.findall(pattern, (pages / page).read_text(encoding="utf-8"), re.S)
    if len(found) != 1:
        raise Hopeless(f"{page}: expected one block of notation, found {len(found)}")
    if "<" in found[0]:
        raise Hopeless(f"{page}: an unescaped < stands in the notation")
    return html.unescape(found[0]).removeprefix("\n")


def read(page: str, text: str) -> chess.pgn.Game:
    """One game without errors, and nothing after it."""
    source = io.StringIO(text)
    game = chess.pgn.read_game(source)
    if game is None:
        raise Hopeless(f"{page}: python-chess finds no game")
    if game.errors:  # after an error its tree may be out of order
        raise Hopeless(f"{page}: python-chess says {[str(e) for e in game.errors]}")
    rest = source.read().strip()
    expect(not rest, f"{page}: text left over after the game: {rest[:60]!r}")
    return game


def path(node: chess.pgn.GameNode) -> str:
    """The node's moves from the start with numbers, as a reader would write them."""
    words = []
    walk = node.game()
    for move in [] if node.parent is None else list(node.board().move_stack):
        board = walk.board()
        number = f"{board.fullmove_number}." if board.turn else ""
        words.append(number + board.san(move))
        walk = walk.variation(move)
    return " ".join(words) or "start"


def nodes(game: chess.pgn.Game) -> list[chess.pgn.GameNode]:
    """Every node, the start first, a line before its variations."""
    found, waiting = [], [game]
    while waiting:
        node = waiting.pop()
        found.append(node)
        waiting.extend(reversed(node.variations))
    return found


def follow(game: chess.pgn.Game, moves: str) -> chess.pgn.GameNode:
    """The node that the moves lead to; the lesson must hold every one of them."""
    node: chess.pgn.GameNode = game
    for san in moves.split():
        move = node.board().parse_san(san)
        if not node.has_variation(move):
            raise Hopeless(f"the lesson does not hold {san} after {path(node)}")
        node = node.variation(move)
    return node


def depth(node: chess.pgn.GameNode) -> int:
    """How many variations the node lies inside; the first child goes on with its line."""
    inside = 0
    while node.parent is not None:
        inside += not node.is_main_variation()
        node = node.parent
    return inside


def position(node: chess.pgn.GameNode) -> str:
    """What makes two nodes the same position: the first four fields of the FEN."""
    return " ".join(node.board().fen().split()[:4])


# ---- counting ------------------------------------------------------------------------------


def material(board: chess.Board, side: chess.Color) -> int:
    return sum(worth * len(board.pieces(kind, side)) for kind, worth in VALUES.items())


def balance(board: chess.Board) -> int:
    """Material from the point of view of the side to move."""
    return material(board, board.turn) - material(board, not board.turn)


def settle(board: chess.Board, low: int, high: int, left: int) -> int:
    """What the side to move can be sure of when only captures, promotions, answers to check
    and (at first) checks are played. `left` bounds the length."""
    checked = board.is_check()
    if checked and not any(board.legal_moves):
        return -MATE
    if left == 0:
        return balance(board)
    if not checked:
        low = max(low, balance(board))  # nobody is forced to capture
        if low >= high:
            return low
    for move in ordered(board):
        if not checked and not board.is_capture(move) and not move.promotion:
            if left < 5 or not board.gives_check(move):
                continue
        board.push(move)
        value = -settle(board, -high, -low, left - 1)
        board.pop()
        low = max(low, value)
        if low >= high:
            break
    return low


def search(board: chess.Board, low: int, high: int, full: int) -> int:
    """Every move for `full` half-moves, then only what settles the position."""
    if board.is_checkmate():
        return -MATE
    if board.is_stalemate() or board.is_insufficient_material():
        return 0
    if full == 0:
        return settle(board, low, high, 6)
    for move in ordered(board):
        board.push(move)
        value = -search(board, -high, -low, full - 1)
        board.pop()
        low = max(low, value)
        if low >= high:
            break
    return low


def ordered(board: chess.Board) -> list[chess.Move]:
    """Big captures first: the search ends sooner, the result is the same."""

    def promise(move: chess.Move) -> int:
        taken = board.piece_type_at(move.to_square)
        return -(VALUES.get(taken, 0) * 10 - VALUES.get(board.piece_type_at(move.from_square), 0)
                 if taken else -100)

    return sorted(board.legal_moves, key=promise)


def outcome(board: chess.Board, move: chess.Move) -> int:
    """What the mover keeps after the move against the best answer and one more move each."""
    board.push(move)
    value = -search(board, -2 * MATE, 2 * MATE, 2)
    board.pop()
    return value


def loss(node: chess.pgn.GameNode) -> int:
    """How much material the node's move gives away: against what stood on the board, unless every
    other move loses as much, for then the mistake was an earlier one."""
    before = node.parent.board()
    kept = outcome(before, node.move)
    given = settle(before, -2 * MATE, 2 * MATE, 6) - kept
    if given < PIECE_LOST:
        return given
    others = (m for m in before.legal_moves if m != node.move)
    return min(given, max((outcome(before, m) for m in others), default=kept) - kept)


# ---- checks --------------------------------------------------------------------------------


def check_size(game: chess.pgn.Game) -> None:
    found = nodes(game)
    deepest = max(found, key=depth)
    branch_points = [n for n in found if len(n.variations) > 1]
    print(f"positions: {len(found)}, branch points: {len(branch_points)}, with a comment: "
          f"{sum(bool(n.comment) for n in found)}")
    print(f"deepest variation: {depth(deepest)} deep, {path(deepest)}")
    expect(len(found) >= LEAST_POSITIONS, f"only {len(found)} positions, {LEAST_POSITIONS} wanted")
    expect(depth(deepest) >= LEAST_DEPTH, f"variations only {depth(deepest)} deep")
    expect(bool(game.comment), "no introduction before the first move")
    for node in found:
        moves = [child.move for child in node.variations]
        expect(len(moves) == len(set(moves)), f"a move is given twice after {path(node)}")
        if not node.variations:
            expect(bool(node.comment or node.nags), f"a line ends without a word: {path(node)}")


def check_trap(game: chess.pgn.Game) -> None:
    start = follow(game, TO_D5)
    end = follow(game, f"{TO_D5} {TRAP}")
    bait = follow(game, f"{TO_D5} {TRAP.split()[0]}")
    expect(bool(bait.nags & {chess.pgn.NAG_MISTAKE, chess.pgn.NAG_BLUNDER}),
           "the natural move of the trap carries no ? or ??")
    forced = follow(game, f"{TO_D5} {' '.join(TRAP.split()[:4])}").board()
    expect(forced.is_check() and forced.legal_moves.count() == 1,
           "the check on b4 leaves White more than the one legal move that the page speaks of")
    won = {
        "black": material(start.board(), chess.WHITE) - material(end.board(), chess.WHITE),
        "white": material(start.board(), chess.BLACK) - material(end.board(), chess.BLACK),
    }
    print(f"trap {path(bait)}: Black takes {won['black']}, White takes {won['white']}, "
          f"Black gains {won['black'] - won['white']} (a knight for a pawn)")
    expect(won == TRAP_WON, f"the trap wins {won}, the page says {TRAP_WON}")


def check_transpositions(game: chess.pgn.Game) -> None:
    said = set()
    for side_path, main_path in TRANSPOSITIONS:
        one, other = follow(game, side_path), follow(game, main_path)
        expect(position(one) == position(other),
               f"not the same position: {path(one)} and {path(other)}")
        # The comment names the last move of the other path, as "5...exd5" or "9.Nf3".
        board = other.parent.board()
        name = f"{board.fullmove_number}{'.' if board.turn else '...'}{other.san()}"
        words = re.sub(r"\[([^]]*)\]\(#[^)]*\)", r"\1", " ".join(one.comment.split()))
        expect(f"position after {name} of the main line by another order" in words.replace("\u2026", "..."),
               f"the comment after {path(one)} does not say that it is the position after {name}")
        said |= {frozenset((one, other))}
        print(f"transposition: {path(one)}  =  {path(other)}")
    seen: dict[str, chess.pgn.GameNode] = {}
    for node in nodes(game):
        twin = seen.setdefault(position(node), node)
        expect(twin is node or frozenset((twin, node)) in said,
               f"a transposition that nobody mentions: {path(twin)} and {path(node)}")


def check_signs(game: chess.pgn.Game) -> None:
    """No move without a weak sign loses a piece or allows mate, and every ?? really does."""
    for node in nodes(game)[1:]:
        given = loss(node)
        if node.nags & MARKED_WEAK:
            expect(chess.pgn.NAG_BLUNDER not in node.nags or given >= PIECE_LOST,
                   f"marked ??, but no material is lost: {path(node)}")
        elif given >= PIECE_LOST and path(node) not in ALLOWED:
            what = "allows mate" if given > MATE // 2 else f"loses {given}"
            failures.append(f"unmarked and {what}: {path(node)}")
        if "--losses" in sys.argv and given > 0:
            print(f"  loses {given}: {path(node)} {sorted(node.nags)}")


def check_claims(game: chess.pgn.Game) -> None:
    """Sentences of the comments and the article that can be asked of the board."""
    key = follow(game, TO_D5).board()
    guards = [chess.square_name(s) for s in key.attackers(chess.BLACK, chess.D5)]
    expect(guards == ["f6"], f"d5 is said to be guarded by f6 alone, it is by {guards}")
    expect(chess.C3 in key.attackers(chess.WHITE, chess.D5), "the knight on c3 must attack d5")
    early = follow(game, TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6 Nf3 Nh5").board()
    guards = [early.piece_at(s).symbol() for s in early.attackers(chess.BLACK, chess.H7)]
    expect(guards == ["k"], f"after 9...Nh5 the king alone should guard h7, found {guards}")
    late = follow(game, TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6 Nf3 Re8 O-O Nf8").board()
    expect(chess.F8 in late.attackers(chess.BLACK, chess.H7), "the knight on f8 must guard h7")
    for moves, step in ((" e3 a6 Nxd5 Nxd5 Bxd8 Bb4+", "e1e2"), (" Nf3 Bd6 Nxd5 Nxd5 Bxd8 Bb4+",
                                                                  "f3d2")):
        board = follow(game, TO_D5 + moves).board()
        expect(board.is_check() and chess.Move.from_uci(step) in board.legal_moves,
               f"{step} should answer the check after {moves}")
    loose = follow(game, "d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5 Bg5 c6 e3 Bf5").board()
    expect(not loose.attackers(chess.BLACK, chess.F5), "the bishop on f5 is said to be unguarded")


def check_everything(pages: pathlib.Path) -> None:
    lesson = read(LESSON_PAGE, notation(pages, LESSON_PAGE, r"<ply-line[^>]*><pre>(.*?)</pre>"))
    short = read(SHORT_PAGE, notation(
        pages, SHORT_PAGE, r'<pre><code class="language-pgn">(.*?)</code></pre>'))
    check_size(lesson)
    check_trap(lesson)
    check_transpositions(lesson)
    check_claims(lesson)
    check_signs(lesson)
    plies = short.end().ply()
    print(f"short post: {plies} half-moves")
    expect(plies == 20, f"the short post has {plies} half-moves, not ten moves by each side")
    expect(all(len(n.variations) < 2 for n in nodes(short)), "the short post should be one line")
    check_signs(short)


def main() -> int:
    given = [word for word in sys.argv[1:] if not word.startswith("--")]
    try:
        check_everything(pathlib.Path(given[0]) if given else PAGES)
    except Hopeless as reason:
        failures.append(str(reason))
    for failure in failures:
        print(f"WRONG: {failure}", file=sys.stderr)
    print(f"things that are wrong: {len(failures)}" if failures else "the demo's chess is in order")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
