"""The plain form of baked elements, read back from a page by Python's own html.parser: moves, words and pictures, and the
tree that they make when python-chess (PyPI `chess` 1.11.2) plays the moves.
"""
import html.parser
import re

import chess

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
SHOWN_MOVE = re.compile(r"(?:(\d+)(\.|…))?((?:[NBRQK]?[a-h]?[1-8]?x?[a-h][1-8](?:=[NBRQ])?|O-O(?:-O)?)[+#]?)")


class Node:
    def __init__(self, name, attributes, parent):
        self.name, self.parent, self.inside = name, parent, []
        self.attributes = {key: value or "" for key, value in attributes}

    def get(self, name):
        return self.attributes.get(name)

    def elements(self):
        return [it for it in self.inside if isinstance(it, Node)]

    def walk(self):
        for it in self.elements():
            yield it
            yield from it.walk()

    def text(self):
        return "".join(it if isinstance(it, str) else it.text() for it in self.inside)


class Tree(html.parser.HTMLParser):
    """What html.parser says, as a tree; a start tag that is never closed ends with its parent."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.root = self.open = Node("", [], None)
        self.feed(text)
        self.close()

    def handle_starttag(self, name, attributes):
        node = Node(name, attributes, self.open)
        self.open.inside.append(node)
        if name not in VOID:
            self.open = node

    def handle_startendtag(self, name, attributes):
        self.handle_starttag(name, attributes)

    def handle_endtag(self, name):
        node = self.open
        while node.parent is not None and node.name != name:
            node = node.parent
        if node.parent is not None:
            self.open = node.parent

    def handle_data(self, text):
        self.open.inside.append(text)


def ours(root, names=("ply-line",)):
    """Our elements of a page, without what is in templates."""
    found = []
    for it in root.elements():
        if it.name == "template":
            continue
        if it.name in names:
            found.append(it)
        found += ours(it, names)
    return found


def plain(element):
    """The plain form in an element, without counts of games, which are no moves of it; none if it has none."""
    form = next((it for it in element.elements() if it.name in ("div", "span") and it.get("data-plyline") == ""), None)
    if form is not None:
        form.inside = [it for it in form.inside if isinstance(it, str) or it.get("class") != "counts"]
    return form


def is_move(node):
    return node.name == "b" and any(it.name == "bdi" and it.get("dir") == "ltr" for it in node.elements())


def inline(paragraph):
    """The parts of a paragraph in their order."""
    kind = paragraph.get("class")
    if kind == "choice":
        when = next((it for it in paragraph.elements() if it.name == "em"), None)
        has_words = when is not None and any(it.name == "bdi" for it in when.elements())
        yield ("words", when.text() if has_words else "")
        return
    if kind == "question":
        yield ("question", " ".join(it.text() for it in paragraph.elements() if it.name == "bdi"))
        return
    beside = "".join(it for it in paragraph.inside if isinstance(it, str)).strip()
    moves = [it for it in paragraph.elements() if is_move(it)]
    if kind is None and beside.endswith(":") and len(moves) == len(paragraph.elements()):
        line = re.search(r", line (\w+):$", beside)
        yield ("answer", moves[0].text() if moves else None, line and line[1])
        return
    for it in paragraph.elements():
        if is_move(it):
            yield ("move", it.text())
        elif it.name == "bdi" and it.get("dir") != "ltr":
            yield ("words", it.text())
    if kind == "main" and beside:
        yield ("answers", beside)


def events(blocks):
    """What a plain form says, in its order; variations are lists within."""
    for it in blocks:
        if it.name == "p":
            yield from inline(it)
        elif it.name == "figure":
            picture = next(one for one in it.elements() if one.name == "img")
            caption = next((one for one in it.elements() if one.name == "figcaption"), None)
            own = caption is not None and caption.elements() and caption.elements()[0].name == "bdi"
            yield ("picture", picture, caption, own)
        elif it.name == "ol":
            yield ("sides", [list(events(item.elements())) for item in it.elements()])
        elif it.name != "pre":
            yield ("strange", it.name)


class Read:
    """The tree of a plain form: `children` by path, words by path, in which part each move was."""

    def __init__(self, start, questions, labels, list_of_events):
        """`labels`: the line of each question, None for the main line."""
        self.children, self.said, self.asked, self.before = {(): []}, {}, {}, {}
        self.because, self.wrong, self.open, self.pictures = {}, [], set(), []
        self.start, self.is_answering = start, False
        waiting = list(questions)
        at, answered = (), []
        self.boards = {(): start}
        parts = [((), [])]
        for event in list_of_events:
            if event[0] == "answers":
                self.is_answering = True
            elif event[0] == "answer":
                if not self.is_answering:
                    self.wrong.append(f"the answer after {event[1]!r} is not under their heading")
                if not waiting:
                    self.wrong.append(f"an answer after {event[1]!r} for which there is no question")
                    break
                at = waiting.pop(0)
                answered.append((at, event[1], event[2]))
                parts.append((at, []))
            else:
                parts[-1][1].append(event)
        self.left = waiting
        self.first_part = parts[0]
        self.line((), parts[0][1], False)
        self.open = set(self.boards)
        for at, name, label in answered:
            list_ = next(part for path, part in parts[1:] if path == at)
            if at not in self.boards:
                self.wrong.append(f"an answer at {at}, which is in no line")
                continue
            if name is not None and not self.names(at, name):
                self.wrong.append(f"the answer after {name!r} is that at {' '.join(at)}")
            if label != labels[at]:
                self.wrong.append(f"the answer after {name!r} is said to be on line {label}, not {labels[at]}")
            if name is None and at:
                self.wrong.append(f"an answer of the start is that at {' '.join(at)}")
            self.line(at, list_, True)

    def names(self, path, text):
        found = SHOWN_MOVE.match(text)
        return found is not None and bool(path) and found[3] == path[-1]

    def add(self, into, path, words):
        into[path] = f"{into.get(path, '')} {words}"

    def play(self, at, text):
        found = SHOWN_MOVE.match(text)
        if found is None:
            self.wrong.append(f"{text!r} is no move")
            return None
        number, dots, san = found.groups()
        board = self.boards[at].copy(stack=False)
        if number is not None and (int(number), dots) != (board.fullmove_number, "." if board.turn else "…"):
            self.wrong.append(f"{text!r} is numbered wrong after {' '.join(at)}")
        try:
            move = board.parse_san(san)
        except ValueError:
            self.wrong.append(f"{text!r} cannot be played after {' '.join(at)}")
            return None
        path = (*at, board.san(move))
        if path in self.boards:
            self.wrong.append(f"{' '.join(path)} is there twice")
        board.push(move)
        self.boards[path] = board
        self.children[path] = []
        self.children[at].append(path)
        return path

    def line(self, at, list_of_events, is_answer):
        """Reads a line that begins after `at`; words before its first move are those before that move."""
        first, is_fresh, early = at, True, ""
        is_after_sides = False
        for event in list_of_events:
            if event[0] == "move":
                path = self.play(at, event[1])
                if path is None:
                    return
                if early.strip():
                    self.add(self.because if is_answer and is_fresh else self.before,
                             first if is_answer and is_fresh else path, early)
                at, is_fresh, early, is_after_sides = path, False, "", False
            elif event[0] in ("words", "picture"):
                if event[0] == "picture":
                    self.pictures.append((at, event[1], event[2], event[3]))
                    if not event[3]:
                        continue
                words = event[1] if event[0] == "words" else event[2].text()
                is_main_start = first == () and is_fresh and not is_answer and list_of_events is self.first_part[1]
                if (is_fresh and not is_main_start) or is_after_sides:
                    early += " " + words
                else:
                    self.add(self.said, at, words)
            elif event[0] == "question":
                self.add(self.asked, at, event[1])
            elif event[0] == "sides":
                is_after_sides = True
                for side in event[1]:
                    self.line(at[:-1], side, False)
            else:
                self.wrong.append(f"what is {event}?")
        if early.strip():
            self.add(self.because if is_answer and is_fresh else self.before, first if is_fresh else (*at, None), early)
