"""Facts of the trade, as check values for reading lines: "common practice, no source". python-chess counts the pieces.

    python trade.py

The program is the environment's PLYLINE.
"""
import collections
import os
import tempfile

import chess

import program

PAWN = ("1. d4 Nf6 2. c4 g6 3. Nc3 Bg7 4. e4 d6 5. h3 O-O 6. Bg5 e5 "
        "7. dxe5 dxe5 8. Qxd8 Rxd8 9. Nd5 Nbd7 10. Nxc7 {a pawn}")
# Two orders that reach one position after Black's sixth and White's eighth move.
ORDERS = ("1. d4 Nf6 2. c4 g6 3. Nc3 Bg7 4. e4 d6 5. h3 O-O 6. Nf3 (6. Bg5 Na6 7. Nf3 e5 8. d5 {from the other side}) "
          "6... e5 7. d5 Na6 8. Bg5 {here}")


def check():
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "trade.pgn")
        with open(path, "w", encoding="utf-8") as handle:
            handle.write(f"{PAWN} *\n\n{ORDERS} *\n")
        trees = program.trees(path)
        found = program.findings(path).get(path, [])
    last = chess.Board(trees[0]["nodes"][-1]["fen"])
    # "… loses a pawn": after 10.Nxc7 White has seven pawns and Black six, and the pieces are level.
    if len(trees[0]["nodes"]) != 20:
        wrong.append(f"the line that loses a pawn has {len(trees[0]['nodes']) - 1} plies, 19 expected")
    pawns = [len(last.pieces(chess.PAWN, color)) for color in chess.COLORS]
    if pawns != [7, 6]:
        wrong.append(f"seven white pawns and six black ones expected, got {pawns}")
    pieces = [collections.Counter(piece.piece_type for piece in last.piece_map().values()
                                  if piece.color == color and piece.piece_type != chess.PAWN)
              for color in chess.COLORS]
    if pieces[0] != pieces[1]:
        wrong.append(f"the pieces are level, got {pieces}")
    # The two orders reach one position: the first four fields agree.
    ends = [node for node in trees[1]["nodes"] if not node["children"]]
    fens = {" ".join(node["fen"].split(" ")[:4]) for node in ends}
    if len(ends) != 2 or len(fens) != 1:
        wrong.append(f"two ends of one position expected, got {fens}")
    said = [finding for finding in found if finding["code"] == "P061"]
    if len(said) != 1 or len(said[0]["related"]) != 1:
        wrong.append(f"one P061 with its other place expected, got {said}")
    else:
        text = f"{PAWN} *\n\n{ORDERS} *\n"
        want = {program.place(text, ORDERS_AT + ORDERS.index(word)) for word in ("Bg5 {here}", "d5 {from")}
        have = {(place["line"], place["column"]) for place in [said[0], *said[0]["related"]]}
        if want != have:
            wrong.append(f"P061 at {want} expected, got {have}")
    if program.errors(found):
        wrong.append(f"no error expected, got {program.errors(found)}")
    return wrong, f"{len(trees)} lines, {len(found)} findings"


ORDERS_AT = len(f"{PAWN} *\n\n")

if __name__ == "__main__":
    program.main(check)
