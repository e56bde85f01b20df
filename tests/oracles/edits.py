"""Edits of random trees against the same edits made by python-chess (PyPI `chess` 1.11.2) of its own tree.

    python edits.py EDITS [--trees N] [--pages N] [--edits N] [--seed S] [--spoil]

EDITS: the example `edits`, which makes the edits that it is asked for. Each tree is written by python-chess, edited
again and again, and what the example makes of the text is read by python-chess: it must hold the tree that
python-chess has after the same edit. Each edit changes one stretch of the text, `lift` at most two, and the splices
taken back give the text before. The same in pages of Markdown and HTML: fences in lists and quotations, blocks of HTML;
there every byte outside must stay, and each line of the lesson have the marks of its container. With --spoil each answer
is the text as it was, so that all edits that change something must be found. Prints what differs, and figures last; exit 1 where something differs.
"""
import argparse
import html
import io
import json
import random
import subprocess
import sys

import chess
import chess.pgn

import reading
import trees

SHOWN = 12
WEIGHTS = {"keep": 8, "comment": 6, "sign": 4, "lift": 4, "drop": 1, "change": 2, "paste": 2}
# Glyphs of moves and of positions; python-chess reads those of moves also where they are typed.
GLYPHS = [1, 2, 3, 4, 5, 6, 10, 13, 14, 16, 36, 140]


class Program:
    """The example, a line a question."""

    def __init__(self, path):
        self.process = subprocess.Popen([path], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8")

    def ask(self, question):
        self.process.stdin.write(json.dumps(question) + "\n")
        self.process.stdin.flush()
        line = self.process.stdout.readline()
        if not line:
            raise SystemExit(f"the example ended at {json.dumps(question)[:2000]}")
        return json.loads(line)


def tidy(game):
    """Leaves one node for each move of a position, and no comment before a move of the main line or of a line's
    continuation: python-chess reads those as comments of the move before."""
    for node in list(trees.walk(game)):
        seen = set()
        for child in list(node.variations):
            if child.move in seen:
                node.variations.remove(child)
            seen.add(child.move)
        if node.variations:
            node.variations[0].starting_comment = ""
        # Glyphs without a line of their own in the standard are kept, and the smaller half is enough.
        node.nags = {nag for nag in node.nags if nag < 140}


def prepare(game):
    """Each node's comments as a list, and the word by which its move is written."""
    for node in trees.walk(game):
        node.told = [reading.fold(node.comment)] if reading.fold(node.comment) else []
        node.first = reading.fold(node.starting_comment)
        if node.parent is not None:
            node.word = node.san()


def shape(game, is_read):
    """What a tree holds: for each node its move, glyphs, and words before and after."""
    found, waiting = [], [game]
    while waiting:
        node = waiting.pop()
        if is_read:
            words, before = reading.fold(node.comment), reading.fold(node.starting_comment)
        else:
            words, before = " ".join(node.told), node.first
        move = node.move.uci() if node.parent is not None else ""
        found.append((move, tuple(sorted(node.nags)), before, words, len(node.variations)))
        waiting += reversed(node.variations)
    return found


def add(parent, move):
    node = parent.add_variation(move)
    node.told, node.first, node.word = [], "", node.san()
    return node


def moves_to(node):
    run = []
    while node.parent is not None:
        run.append(node.san())
        node = node.parent
    return run[::-1]


def opened(node):
    """A line's words before its first move stand after that move where it goes on with another line."""
    node.told = ([node.first] if node.first else []) + node.told
    node.first = ""


def in_text(node):
    """All nodes after one in the order of the text, and for the start itself."""
    if node.parent is None:
        yield node
    while node.variations:
        first, *others = node.variations
        yield first
        for other in others:
            yield other
            yield from in_text(other)
        node = first


def link(game, node):
    """The sentence that leads to where a position stands with its moves."""
    board, run = game.board(), ""
    for number, san in enumerate(moves_to(node)):
        dots = "." if board.turn == chess.WHITE else "..." if number == 0 else None
        last = f"{board.fullmove_number}{'.' if board.turn == chess.WHITE else '...'}{san.rstrip('+#')}"
        run += ("_" if run else "") + (f"{board.fullmove_number}{dots}" if dots else "") + san.rstrip("+#")
        board.push_san(san)
    return f"This is the position after [{last}](#{run})."


class Editor:
    def __init__(self, rng, game):
        self.rng, self.game = rng, game

    def edit(self):
        """An edit that can be made here, and it is made in the tree; none where this kind cannot."""
        kind = self.rng.choices(list(WEIGHTS), WEIGHTS.values())[0]
        node = self.rng.choice(list(trees.walk(self.game)))
        return getattr(self, kind)(node)

    def keep(self, node):
        at, moves = moves_to(node), []
        board = node.board()
        for _ in range(self.rng.randint(1, 4)):
            move = trees.some_move(self.rng, board)
            if move is None:
                break
            moves.append(board.san(move))
            node = node.variation(move) if node.has_variation(move) else add(node, move)
            board.push(move)
        return {"kind": "keep", "at": at, "moves": moves} if moves else None

    def comment(self, node):
        before = [node.first] if node.first else []
        said = before + node.told
        nth = self.rng.randint(0, len(said))
        was = said[nth] if nth < len(said) else ""
        words = was.split(" ")
        kind = self.rng.random()
        if was and kind < 0.15:
            text = ""
        elif was and kind < 0.7:
            # A few words changed, as somebody does who reads it again.
            at = self.rng.randrange(len(words))
            words[at:at + self.rng.randint(0, 2)] = trees.phrase(self.rng, 1, 3).split()
            text = " ".join(words)
        else:
            text = trees.comment(self.rng)
        folded = reading.fold(text)
        if nth < len(before):
            node.first = folded
        else:
            nth_after = nth - len(before)
            node.told[nth_after:nth_after + 1] = [folded] if folded else []
        return {"kind": "comment", "at": moves_to(node), "nth": nth, "was": was, "text": text}

    def sign(self, node):
        if node.parent is None:
            return None
        nags = set(self.rng.sample(GLYPHS, self.rng.randint(0, 2))) | set(self.rng.sample(sorted(node.nags), len(node.nags) // 2))
        node.nags = nags
        return {"kind": "sign", "at": moves_to(node), "nags": sorted(nags)}

    def lift(self, node):
        at, first = moves_to(node), node
        while first.parent is not None and first.parent.variations[0] is first:
            first = first.parent
        if first.parent is None:
            return None
        parent = first.parent
        becomes_main = parent.variations[1] is first
        parent.promote(first)
        if becomes_main:
            opened(first)
        return {"kind": "lift", "at": at}

    def drop(self, node):
        if node.parent is None:
            return None
        at, parent = moves_to(node), node.parent
        was_main = parent.variations[0] is node
        parent.remove_variation(node)
        if was_main and parent.variations:
            opened(parent.variations[0])
        return {"kind": "drop", "at": at}

    def change(self, node):
        if node.parent is None:
            return None
        board = node.parent.board()
        others = [move for move in board.legal_moves if not node.parent.has_variation(move)]
        if not others:
            return None
        move = self.rng.choice(others)
        board.push(move)
        replayed = []
        waiting = [(child, board) for child in node.variations]
        while waiting:
            child, before = waiting.pop()
            if child.word == "--" and before.is_check():
                return None  # a pass in check cannot be read (design, section 4); python-chess plays it
            try:
                after = before.copy(stack=False)
                played = after.push_san(child.word)
            except ValueError:
                return None
            replayed.append((child, played))
            waiting += [(inner, after) for inner in child.variations]
        if any(len({played for child, played in replayed if child.parent is parent}) < len(parent.variations)
               for parent in {id(child.parent): child.parent for child, _ in replayed}.values()):
            return None
        at = moves_to(node)
        san = node.parent.board().san(move)
        node.move, node.word = move, san
        for child, played in replayed:
            child.move = played
        return {"kind": "change", "at": at, "moves": [san]}

    def paste(self, node):
        board = node.board()
        game = chess.pgn.Game()
        game.setup(board)
        writer = trees.Writer.__new__(trees.Writer)
        writer.rng, writer.wide, writer.left = self.rng, None, 12
        writer.grow(game, game.board(), self.rng.randint(1, 6), 2)
        tidy(game)
        for one in trees.walk(game):
            # Two comments that stand beside each other cannot be told apart by a reader that joins them.
            one.starting_comment = ""
        if not game.variations:
            return None
        text = game.accept(chess.pgn.StringExporter(columns=60, headers=False)).removesuffix("*").strip()
        prepare(game)
        at, known = moves_to(node), {}
        for one in in_text(self.game):
            if "--" not in moves_to(one):
                known.setdefault(one.board().epd(), one)

        def other(board, there):
            """Where a position stands by another road than its own line."""
            found, up = known.get(board.epd()), there
            while up is not None:
                if up is found:
                    return None
                up = up.parent
            return found

        waiting = [(game, node)]
        while waiting:
            pasted, there = waiting.pop()
            for said in pasted.told:
                if said not in there.told and said != there.first:
                    there.told.append(said)
            if there.parent is not None:
                there.nags |= pasted.nags
            if not there.variations:
                there = other(there.board(), there) or there
            for child in pasted.variations:
                if there.has_variation(child.move):
                    waiting.append((child, there.variation(child.move)))
                    continue
                new = add(there, child.move)
                new.told = list(child.told)
                if found := other(new.board(), there):
                    new.told.append(link(self.game, found))
                waiting.append((child, new))
        return {"kind": "paste", "at": at, "text": text}


def written(rng, number):
    """A random tree and its text, in one of the forms in which people keep theirs."""
    game = trees.random_game(rng, number)
    tidy(game)
    columns = rng.choice([80, 80, 72, None])
    text = game.accept(chess.pgn.StringExporter(columns=columns))
    prepare(game)
    if rng.random() < 0.2:
        text = text.replace("\n", "\r\n")
    return game, text + "\n"


HEAD = "# Evening\n\nSome *words* & more of 1.e4 e5.\n\n- a list\n\n"
TAIL = "\n\nThe end, {{ page }} `code` <b>bold</b>.\n\n```pgn\n1. d4 d5 *\n```\n"


class Page:
    """The text of a lesson in a page, and what a page makes of it."""

    FORMS = {"plain": ("markdown", "", ""), "list": ("markdown", "- a\n\n", "  "), "quote": ("markdown", "> a\n>\n", "> "),
             "both": ("markdown", "> 1. a\n>\n", ">    "), "html": ("html", "", ""), "block": ("markdown", "", "")}

    def __init__(self, rng, text):
        self.form = rng.choice(list(self.FORMS))
        self.kind, before, self.prefix = self.FORMS[self.form]
        is_crlf = "\r\n" in text
        lines = text.replace("\r\n", "\n").rstrip("\n").split("\n")
        if self.form in ("html", "block"):
            head, tail = "<ply-line>\n<pre>", "</pre>\n</ply-line>"
            lines = [html.escape(line, quote=False) for line in lines]
            if self.form == "block":
                # An empty line would end the block.
                lines = [line if line.strip() else "&#32;" for line in lines]
        else:
            head = f"{before}{self.prefix}```pgn\n"
            tail = f"\n{self.prefix}```"
        lines = [(self.prefix + line).rstrip(" ") if not line.strip() else self.prefix + line for line in lines]
        self.head, self.tail = HEAD + head, tail + TAIL
        self.text = self.head + "\n".join(lines) + self.tail
        if is_crlf:
            self.text, self.head, self.tail = (it.replace("\n", "\r\n") for it in (self.text, self.head, self.tail))

    def lesson(self, page):
        """The notation that the page has after an edit; none where something else of it has changed."""
        if not page.startswith(self.head) or not page.endswith(self.tail):
            return None
        if page.count("\r\n") not in (0, page.count("\n")):
            return None
        lines = page[len(self.head):len(page) - len(self.tail)].replace("\r\n", "\n").split("\n")
        for line in lines:
            if not line.startswith(self.prefix) and line.strip(" >"):
                return None
        text = "\n".join(line[len(self.prefix):] for line in lines)
        return html.unescape(text) if self.form in ("html", "block") else text


def read(text):
    return reading.read(io.StringIO(text.replace("\r\n", "\n")))


def back(text, splices):
    """The splices that take these back."""
    moved, undo = 0, []
    for begin, end, new in splices:
        size = len(new.encode())
        undo.append((begin + moved, begin + moved + size, text.encode()[begin:end]))
        moved += size - (end - begin)
    return undo


def spliced(data, splices):
    for begin, end, new in reversed(splices):
        data = data[:begin] + (new if isinstance(new, bytes) else new.encode()) + data[end:]
    return data


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("program")
    arguments.add_argument("--trees", type=int, default=100)
    arguments.add_argument("--pages", type=int, default=0)
    arguments.add_argument("--spoil", action="store_true")
    arguments.add_argument("--edits", type=int, default=20)
    arguments.add_argument("--seed", type=int, default=17)
    given = arguments.parse_args()
    program, rng = Program(given.program), random.Random(given.seed)
    wrong, counts, refused = [], {}, {}
    for number in range(1, given.trees + given.pages + 1):
        game, text = written(rng, number)
        page = Page(rng, text) if number > given.trees else None
        if shape(game, False) != shape(read(text)[0].game, True):
            wrong.append(f"tree {number}: python-chess reads another tree than it wrote")
            continue
        editor = Editor(rng, game)
        if page:
            text = page.text
        for _ in range(given.edits):
            edit = editor.edit()
            if edit is None:
                continue
            kind = edit["kind"]
            counts[kind] = counts.get(kind, 0) + 1
            answer = program.ask({"text": text, "edit": edit} | ({"page": page.kind} if page else {}))
            said = json.dumps(edit, ensure_ascii=False)[:300]
            if "refused" in answer:
                refused[kind] = refused.get(kind, 0) + 1
                wrong.append(f"tree {number}: {said} is refused: {answer['refused']['reason']}\n{text}")
                break
            after, splices = answer["text"], answer["splices"]
            if given.spoil:
                after, splices = text, []
            if spliced(text.encode(), splices) != after.encode():
                wrong.append(f"tree {number}: {said}: the splices do not make the text")
            if spliced(after.encode(), back(text, splices)) != text.encode():
                wrong.append(f"tree {number}: {said}: taken back it is another text")
            if len(splices) > (2 if kind == "lift" else 1):
                wrong.append(f"tree {number}: {said}: {len(splices)} stretches")
            notation = page.lesson(after) if page else after
            if notation is None:
                wrong.append(f"tree {number}: {said}: the page around the lesson is another\n{text}\n=>\n{after}")
                break
            found_games = read(notation)
            meant = shape(game, False)
            found = shape(found_games[0].game, True) if len(found_games) == 1 else []
            if found_games[0].errors or found != meant:
                first = next((pair for pair in zip(meant, found) if pair[0] != pair[1]), (len(meant), len(found)))
                wrong.append(f"tree {number}: {said}: python-chess reads another tree {found_games[0].errors[:1]}\n"
                             f"  meant {first[0]}\n  found {first[1]}\n{text}\n=>\n{after}")
                break
            text = after
    for line in wrong[:SHOWN]:
        print(line)
    told = ", ".join(f"{kind} {count}" for kind, count in sorted(counts.items()))
    print(f"{given.trees} trees and {given.pages} pages, {sum(counts.values())} edits ({told}); refused {sum(refused.values())}; {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
