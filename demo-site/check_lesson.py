#!/usr/bin/env python3
"""Checks the chess of the demo site: that its lessons are legal, large and deep enough, that the
trap wins what the page says, that the transpositions are true, that a link from one post into
another's lesson names one position of it, and that no bad move is there without its sign.

The outside source is python-chess (PyPI `chess`): it reads the notation, knows what is legal and
names the positions. The search for blunders is ours (counting.py): it counts material, nothing else.

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

from counting import MATE, PIECE_LOST, loss, material

PAGES = pathlib.Path(__file__).resolve().parent / "pages"
LESSON_PAGE = "the-pawn-that-is-not-free/index.html"
JUMP_PAGE = "the-jump-that-must-wait/index.html"
SHORT_PAGE = "ten-quiet-moves/index.html"
TALK_PAGE = "told-by-the-tide-machine/index.html"

LEAST_POSITIONS = {LESSON_PAGE: 60, JUMP_PAGE: 80}
LEAST_DEPTH = 3  # a variation in a variation in a variation

TO_D5 = "d4 d5 c4 e6 Nc3 Nf6 Bg5 Nbd7 cxd5 exd5"
# The capture that looks natural, and how Black answers it.
TRAP = "Nxd5 Nxd5 Bxd8 Bb4+ Qd2 Bxd2+ Kxd2 Kxd8"
TRAP_WON = {"white": 13, "black": 15}  # pawn, queen, bishop against knight, bishop, queen

# Two paths that the page says lead to one position: the line that says so, then the other.
TRANSPOSITIONS = [
    ("d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5 Bg5 Nbd7", TO_D5),
    ("d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 cxd5 exd5 e3 O-O Bd3 Nbd7", TO_D5 + " e3 Be7 Bd3 O-O"),
    (TO_D5 + " Nf3 c6 e3 Be7 Qc2 O-O Bd3", TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6 Nf3"),
    (TO_D5 + " e3 c6 Bd3 Be7 Qc2 O-O", TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6"),
]

TAKEN = "d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5"
TO_BD3 = TAKEN + " Bg5 Be7 e3 O-O Bd3"
TO_QC2 = TO_BD3 + " Nbd7 Qc2 c6"
TO_RAB1 = TO_QC2 + " Nf3 Re8 O-O Nf8 Rab1"
PAWN_BAIT = TO_RAB1 + " Ne4 Bxe7 Qxe7 Bxe4 dxe4"
EARLY_KNIGHT = TAKEN + " Bg5 c6 e3 Be7 Bd3 Nbd7 Nf3"

JUMP_TRANSPOSITIONS = [
    (TAKEN + " Nf3 c6 Bg5 Be7 e3 O-O Bd3 Nbd7 Qc2", TO_QC2 + " Nf3"),
    (TAKEN + " Bg5 Nbd7 e3 Be7 Bd3 O-O", TO_BD3 + " Nbd7"),
    (TAKEN + " Bg5 c6 e3 Be7 Bd3 Nbd7 Qc2 O-O", TO_QC2),
]
# Positions of the second long lesson that its page says belong to the first, as both reach them.
SHARED = [
    (TAKEN + " Bg5 Nbd7", TO_D5),
    (TAKEN + " Bg5 Nbd7 e3 Be7 Bd3 O-O", TO_D5 + " e3 Be7 Bd3 O-O"),
    (TO_RAB1, TO_D5 + " e3 Be7 Bd3 O-O Qc2 c6 Nf3 Re8 O-O Nf8 Rab1"),
]

# Moves that give material up on purpose and carry no sign: path -> reason. None is needed now.
ALLOWED: dict[str, str] = {}

# What the page of the talk says of the draft: so many moves, and so many of them where they belong.
DRAFT_MOVES, DRAFT_RIGHT = 47, 41

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


# ---- checks --------------------------------------------------------------------------------


def check_size(game: chess.pgn.Game, least: int) -> None:
    found = nodes(game)
    deepest = max(found, key=depth)
    branch_points = [n for n in found if len(n.variations) > 1]
    print(f"positions: {len(found)}, branch points: {len(branch_points)}, with a comment: "
          f"{sum(bool(n.comment) for n in found)}")
    print(f"deepest variation: {depth(deepest)} deep, {path(deepest)}")
    expect(len(found) >= least, f"only {len(found)} positions, {least} wanted")
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


def check_transpositions(game: chess.pgn.Game, claims: list[tuple[str, str]]) -> None:
    said = set()
    for side_path, main_path in claims:
        one, other = follow(game, side_path), follow(game, main_path)
        expect(position(one) == position(other),
               f"not the same position: {path(one)} and {path(other)}")
        # The comment names the last move of the other path, as "5...exd5" or "9.Nf3".
        board = other.parent.board()
        name = f"{board.fullmove_number}{'.' if board.turn else '...'}{other.san()}"
        words = re.sub(r"\[([^]]*)\]\(#[^)]*\)", r"\1", " ".join(one.comment.split()))
        words = words.replace("\u2026", "...").replace(" of the main line", "")
        expect(f"position after {name} by another order" in words,
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


def black_won(game: chess.pgn.Game, base: str, moves: str) -> int:
    """What the moves win for Black after the base, both by the usual values. The moves need not
    be the lesson's, for comments name some that are not."""
    board = follow(game, base).board()
    before = material(board, chess.BLACK) - material(board, chess.WHITE)
    for san in moves.split():
        board.push_san(san)
    return material(board, chess.BLACK) - material(board, chess.WHITE) - before


def attackers(board: chess.Board, side: chess.Color, square: str) -> set[str]:
    return {chess.square_name(s) for s in board.attackers(side, chess.parse_square(square))}


def check_jump_claims(game: chess.pgn.Game) -> None:
    """The same for the second long lesson: its three jumps and the two mistakes beside them."""
    early = follow(game, EARLY_KNIGHT + " Ne4").board()
    expect(attackers(early, chess.WHITE, "e4") == {"c3", "d3"},
           "only knight and bishop are said to look at e4 after 8...Ne4")
    early.push_san("Nxe4")
    early.push_san("dxe4")
    expect({"d3", "f3"} <= set(map(chess.square_name, early.attacks(chess.E4))),
           "after 9.Nxe4 dxe4 the pawn should fork d3 and f3")
    bait = follow(game, PAWN_BAIT).board()
    expect(attackers(bait, chess.WHITE, "e4") == {"c2", "c3"}, "queen and knight should attack e4")
    expect(attackers(bait, chess.BLACK, "e4") == {"e7"}, "only the queen should guard e4 in sight")
    third = follow(game, PAWN_BAIT + " Nd2 Bf5").board()
    expect(attackers(third, chess.BLACK, "e4") == {"e7", "f5"}, "the bishop should guard e4 too")
    double = follow(game, TO_BD3 + " b6 Bxf6 Bxf6 Qh5").board()
    double.push(chess.Move.null())
    expect({"d5", "h7"} <= set(map(chess.square_name, double.attacks(chess.H5))),
           "the queen on h5 should attack d5 and h7")
    double.push_san("Qxh7")
    expect(double.is_checkmate(), "Qxh7 should be mate")
    corner = follow(game, TO_BD3 + " b6 Bxf6 Bxf6 Qh5 g6 Qxd5").board()
    expect("d5" in attackers(corner, chess.WHITE, "a8"), "the queen on d5 should look at a8")
    for base, moves, won in (
        (PAWN_BAIT, "Nxe4 Qxe4 Qxe4 Rxe4", 2),
        (PAWN_BAIT, "Nd2 Bf5 Ncxe4 Bxe4 Nxe4 Qxe4 Qxe4 Rxe4", 2),
        (EARLY_KNIGHT, "Ne4 Bxe7 Nxc3 Bxd8 Nxd1 Bg5 Nxb2", 1),
        (EARLY_KNIGHT, "Ne4 Bxe7 Nxc3 Bxd8 Nxd1 Rxd1 Kxd8", 0),
        (TO_QC2, "Nge2 Ne4 Bxe7 Qxe7 Nxe4 dxe4 Bxe4", -1),
        (TO_BD3, "b6 Bxf6 Bxf6 Qh5 g6 Qxd5 Qxd5 Nxd5 Bd8", -1),
        (TO_BD3, "b6 Bxf6 gxf6 Qh5 f5 Bxf5 Bxf5 Qxf5", -1),
        (TAKEN, "Bg5 Nbd7 Nxd5 Nxd5 Bxd8 Bb4 Qd2 Bxd2 Kxd2 Kxd8", 2),
    ):
        found = black_won(game, base, moves)
        expect(found == won, f"{moves} should win {won} for Black, it wins {found}")


def check_shared(jump: chess.pgn.Game, lesson: chess.pgn.Game) -> None:
    for one, other in SHARED:
        expect(position(follow(jump, one)) == position(follow(lesson, other)),
               f"not the same position in the two lessons: {one} and {other}")


def run_of(node: chess.pgn.GameNode, length: int) -> str:
    """The last moves that lead to the node, written as an address holds them."""
    words: list[str] = []
    while len(words) < length and node.parent is not None:
        board = node.parent.board()
        first = len(words) + 1 == length or node.parent.parent is None
        number = f"{board.fullmove_number}{'.' if board.turn else '...'}" if board.turn or first else ""
        words.append(number + re.sub(r"[+#]", "", board.san(node.move)))
        node = node.parent
    return "_".join(reversed(words))


def check_links(pages: pathlib.Path, lessons: dict[str, chess.pgn.Game]) -> None:
    """A link into a lesson is the shortest run that names one position of it."""
    links = 0
    for page in sorted(pages.rglob("*.html")):
        for slug, ident, run in re.findall(r'href="/([^"#]*)/#([^"/]*)/([^"]*)"',
                                           page.read_text(encoding="utf-8")):
            target = f"{slug}/index.html"
            if target not in lessons:
                failures.append(f"{page.name}: no lesson {target}")
                continue
            expect(f'<ply-line id="{ident}"' in (pages / target).read_text(encoding="utf-8"),
                   f"{target} has no lesson {ident}")
            everything, length = nodes(lessons[target]), run.count("_") + 1
            named = [sum(run_of(n, k) == run_of(node, k) for n in everything)
                     for node in everything if run_of(node, length) == run
                     for k in range(1, length + 1)]
            expect(len(named) == length, f"{run} names {len(named) // length} positions of {target}")
            expect(1 not in named[:-1], f"{run} is longer than it need be")
            links += 1
    print(f"links into a lesson: {links}")
    expect(links > 0, "no post links into a lesson")


def check_talk(pages: pathlib.Path, lesson: chess.pgn.Game) -> None:
    """The lesson of the talk tells nothing that the first lesson does not hold, and the draft beside
    it is as far from it as the page says."""
    told = read(TALK_PAGE, notation(pages, TALK_PAGE, r"<ply-line[^>]*><pre>(.*?)</pre>"))
    draft = read(TALK_PAGE, notation(pages, TALK_PAGE, r"<pre class=\"draft\">(.*?)</pre>"))
    known, right = {path(n) for n in nodes(lesson)}, {path(n) for n in nodes(told)}
    for node in nodes(told):
        expect(path(node) in known, f"the talk tells what the lesson does not: {path(node)}")
    heard = [path(n) for n in nodes(draft)[1:]]
    found = len(heard), sum(it in right for it in heard)
    expect(found == (DRAFT_MOVES, DRAFT_RIGHT), f"moves of the draft, and right ones: {found}")
    page = (pages / TALK_PAGE).read_text(encoding="utf-8")
    expect(f"wrote {DRAFT_MOVES} moves and put {DRAFT_RIGHT} of them" in page,
           "the page of the talk does not say how many moves of the draft are right")
    check_transpositions(told, TRANSPOSITIONS[2:3])
    check_signs(told)


def check_everything(pages: pathlib.Path) -> None:
    lesson = read(LESSON_PAGE, notation(pages, LESSON_PAGE, r"<ply-line[^>]*><pre>(.*?)</pre>"))
    short = read(SHORT_PAGE, notation(
        pages, SHORT_PAGE, r'<pre><code class="language-pgn">(.*?)</code></pre>'))
    jump = read(JUMP_PAGE, notation(pages, JUMP_PAGE, r"<ply-line[^>]*><pre>(.*?)</pre>"))
    check_size(lesson, LEAST_POSITIONS[LESSON_PAGE])
    check_trap(lesson)
    check_transpositions(lesson, TRANSPOSITIONS)
    check_claims(lesson)
    check_signs(lesson)
    check_size(jump, LEAST_POSITIONS[JUMP_PAGE])
    check_transpositions(jump, JUMP_TRANSPOSITIONS)
    check_jump_claims(jump)
    check_signs(jump)
    check_shared(jump, lesson)
    check_talk(pages, lesson)
    check_links(pages, {LESSON_PAGE: lesson, JUMP_PAGE: jump})
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
