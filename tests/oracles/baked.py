"""What `plyline bake` writes for readers without script, read back and compared with the notation it was made of.

    python baked.py [--lessons N]

It bakes the pages of the demo site, the examples, N lessons by chance (lessonbook.py) and a feed. Python's html.parser reads each
lesson's plain form, python-chess (PyPI `chess` 1.11.2) plays its moves and reads the notation, and both trees must be one:
every move in its place, the words of every comment at its move, questions, their answers at the end and nothing of what
follows a question before them. Each picture is a file, and its alternative text is the position that its caption names. What
only a script shows, hints and wrong answers with their reasons, must be in no plain form: it is in the notation.
"""
import argparse
import io
import os
import random
import re
import shutil
import tempfile
import xml.etree.ElementTree as ElementTree

import chess
import chess.pgn

import alternatives
import lessonbook
import plainform
import program
import reading

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "..", "..")
PARTS = re.compile(r"(?:^|(?<=\s))(Hint:|Because:|Not:)")
SEPARATOR = "\x1f"
# The address of the site whose feed is baked.
BASE = "https://example.org/"


class Pieces(reading.Reading):
    """The same reading; where python-chess joins comments, a separator says so."""

    def visit_comment(self, comment):
        super().visit_comment(comment + SEPARATOR)


def words(text):
    """The words of an author's text, without its signs (design, section 5)."""
    text = re.sub(r"\[%[^\]]*\]", " ", text)
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", text)
    text = re.sub(r"(?<![\w.+-])@[!?]?([a-h][1-8](?:-[a-h][1-8])*)", r"\1", text)
    return re.findall(r"[^\W_]+", text)


class Comment:
    """What the comments of a place say, by the rules of the design's section 5."""

    def __init__(self, text):
        self.said, self.prompt, self.because, self.hidden = [], None, [], []
        self.diagrams = self.choices = 0
        for one in filter(str.strip, (text or "").split(SEPARATOR)):
            self.read(one.strip())

    def read(self, one):
        if one.startswith("Ask:"):
            first, *rest = PARTS.split(one.removeprefix("Ask:"))
            self.prompt = (self.prompt or []) + words(first)
            for name, part in zip(rest[::2], rest[1::2]):
                (self.because if name == "Because:" else self.hidden).extend(words(part))
            return
        for paragraph in one.split("\n\n"):
            paragraph = paragraph.strip()
            if paragraph.startswith("In short:"):
                self.hidden += words(paragraph.removeprefix("In short:"))
                continue
            for name in ("Choose:", "Diagram:"):
                if paragraph.startswith(name):
                    self.diagrams += name == "Diagram:"
                    self.choices += name == "Choose:"
                    paragraph = paragraph.removeprefix(name)
            # Passages of a talk are said by where they begin, after the word by which the page plays them (section 17).
            if paragraph.startswith("Hear:"):
                paragraph = re.sub(r"\s*[-–]\s*[\d:.]+", "", paragraph.replace("Hear:", "hear"))
            self.said += words(paragraph)


class Wanted:
    """What python-chess reads, by the path of each node: SAN from the start."""

    def __init__(self, text):
        self.reading = chess.pgn.read_game(io.StringIO(text), Visitor=Pieces)
        self.game = self.reading.game
        self.paths, self.nodes = {id(self.game): ()}, {(): self.game}
        for node in self.reading.order[1:]:
            path = (*self.paths[id(node.parent)], node.san().rstrip())
            self.paths[id(node)] = path
            self.nodes.setdefault(path, node)
        self.comments = {path: Comment(node.comment) for path, node in self.nodes.items()}
        self.before = {path: Comment(node.starting_comment) for path, node in self.nodes.items()}
        self.questions = [path for path, node in self.nodes.items()
                          if self.comments[path].prompt is not None and node.variations]

        self.labels = {path: reading.label(self.reading.lines[id(node)]) for path, node in self.nodes.items()}

    def pictured(self, at):
        """The path of the position by which the lesson is known."""
        node = self.game
        while True:
            path = self.paths[id(node)]
            comment = self.comments[path]
            tells = comment.prompt is not None or len(node.variations) > 1
            if path or "FEN" in self.game.headers:
                tells |= bool((node.comment or "").strip(SEPARATOR + " "))
            if tells or not node.variations:
                return path
            node = node.variations[0]


def game(text, number):
    """The n-th game of a text."""
    starts = [0, *(it.start() + 2 for it in re.finditer(r"\n\n\[", text)), len(text)]
    return text[starts[number - 1]:starts[number]]


def notations(page, path, root):
    """The notation of each lesson of a page, in order."""
    for node in plainform.ours(page, ("ply-line", "pre")):
        if node.name == "ply-line":
            pre = next((it for it in node.elements() if it.name == "pre"), None)
            if pre is not None:
                yield pre.text()
            elif node.get("src"):
                name, _, number = node.get("src").partition("#")
                folder = root if name.startswith("/") else os.path.dirname(path)
                with open(os.path.join(folder, name.lstrip("/")), encoding="utf-8") as handle:
                    yield game(handle.read(), int(number or 1))
        elif any("language-pgn" in (it.get("class") or "") for it in [node, *node.elements()]):
            yield node.text()


def attribute(node, name, text):
    tag = re.search(rf'^\[{name.capitalize()} "([^"]*)"\]', text, re.M)
    return node.get(name) or (tag[1] if tag else None)


def with_others(element, text):
    """The notation with what is said of other posts of the series, as the attribute says: places in units of UTF-16."""
    length, *lines = (element.get("data-plyline-also") or "").split("\n")
    if not lines:
        return text
    units = text.removeprefix("\n").encode("utf-16-le")
    assert len(units) == 2 * int(length), f"{length} is not the length of the notation"
    for at, said in (line.split(" ", 1) for line in lines):
        units = units[:2 * int(at)] + f" {said}".encode("utf-16-le") + units[2 * int(at):]
    return units.decode("utf-16-le")


def meetings(where, text, baked, counts):
    """What is wrong with the links to other posts: python-chess plays the run there to the same position."""
    wrong = []
    for path, node in Wanted(text).nodes.items():
        for page, lesson, run in re.findall(r"\[Also in [^]]*\]\(([^)#]*)#([^)/]*)/([^)]*)\)", node.comment.replace("\n", " ")):
            there = os.path.join(os.path.dirname(baked), page, "index.html" if page.endswith("/") else "")
            with open(there.rstrip("/"), encoding="utf-8") as handle:
                tree = plainform.Tree(handle.read()).root
            texts = dict(zip((one.get("id") for one in plainform.ours(tree)), notations(tree, there, "")))
            sans = tuple(re.sub(r"^\d+\.+", "", word) for word in run.split("_"))
            boards = [other.board().epd() for names, other in Wanted(texts[lesson]).nodes.items()
                      if tuple(name.rstrip("+#") for name in names[-len(sans):]) == sans]
            counts["meetings"] += 1
            if node.board().epd() not in boards:
                wrong.append(f"{where}: {' '.join(path)} is another position than {run} of {page}")
    return wrong


def compared(where, element, text, counts, folder):
    wanted = Wanted(text)
    plain = plainform.plain(element)
    if plain is None:
        return [f"{where}: no plain form"]
    said = list(plainform.events(plain.elements()))
    lead = said.pop(0) if said and said[0][0] == "picture" else None
    read = plainform.Read(wanted.game.board(), wanted.questions, wanted.labels, said)
    wrong = [f"{where}: {line}" for line in read.wrong]
    have = {path: list_ for path, list_ in read.children.items()}
    for path, node in wanted.nodes.items():
        children = list(dict.fromkeys(wanted.paths[id(child)] for child in node.variations))
        if have.get(path) != children:
            wrong.append(f"{where}: after {' '.join(path) or 'the start'} the notation has "
                         f"{[it[-1] for it in children]}, the list {[it[-1] for it in have.get(path) or []]}")
        for name, want, got in (
            ("comment", wanted.comments[path].said, read.said),
            ("words before", wanted.before[path].said, read.before),
            ("question", wanted.comments[path].prompt or [], read.asked),
            ("reason", wanted.comments[path].because, read.because),
        ):
            found = words(got.get(path, ""))
            if name == "reason" and path in wanted.questions:
                first = node.variations[0]
                want = want + wanted.before[wanted.paths[id(first)]].said
            elif name == "reason":
                want = []
            elif name == "comment" and wanted.comments[path].prompt is not None and path not in wanted.questions:
                want = want + wanted.comments[path].because
            elif name == "words before" and path and path[:-1] in wanted.questions and node.is_main_variation():
                parent = node.parent
                if parent.variations[0] is node:
                    want = []
            counts["words"] += len(want)
            if want != found:
                wrong.append(f"{where}: {name} at {' '.join(path) or 'the start'} is {want}, the list has {found}")
        hidden = wanted.comments[path].hidden
        counts["hidden"] += len(hidden)
    closed = [path for path in wanted.nodes if any(path[:at] in wanted.questions for at in range(len(path)))]
    wrong += [f"{where}: {' '.join(path)} is before its question's answer" for path in closed if path in read.open]
    if read.left:
        wrong.append(f"{where}: no answer to {len(read.left)} questions")
    counts["moves"] += len(wanted.nodes) - 1
    counts["questions"] += len(wanted.questions)
    for path, comment in wanted.comments.items():
        there = sum(1 for at, *_ in read.pictures if at == path)
        if there != comment.diagrams:
            wrong.append(f"{where}: {comment.diagrams} diagrams at {' '.join(path)}, {there} in the list")
    # The picture by which the lesson is known, then those in the text.
    if lead is None:
        wrong.append(f"{where}: no picture")
    else:
        at = attribute(element, "at", text)
        path = wanted.pictured(at) if not at else None
        wrong += picture(where, lead[1], lead[2], wanted, path, counts, folder)
    for path, image, caption, _ in read.pictures:
        wrong += picture(where, image, None, wanted, path, counts, folder)
    return wrong


def placement(image):
    """The pieces that the alternative text names, marks left out; none if it cannot be read."""
    try:
        return alternatives.placement(image.get("alt").partition(". Marked: ")[0])
    except (AssertionError, KeyError, ValueError):
        return None


def picture(where, image, caption, wanted, path, counts, folder):
    """`path`: that of the position; none where only the caption names it."""
    counts["pictures"] += 1
    shown = placement(image)
    if shown is None:
        return [f"{where}: cannot read {image.get('alt')!r}"]
    wrong = []
    if not os.path.isfile(os.path.join(folder, image.get("src").removeprefix(BASE))):
        wrong.append(f"{where}: there is no {image.get('src')}")
    if path is not None and shown != wanted.nodes[path].board().board_fen():
        wrong.append(f"{where}: the picture has {shown} and not the position after {' '.join(path) or 'the start'}")
    if caption is not None:
        found = plainform.SHOWN_MOVE.search(caption.text())
        san = found[3] if found else None
        boards = [node.board() for at, node in wanted.nodes.items() if (at[-1] if at else None) == san]
        turn = "White" if "White to move" in caption.text() else "Black"
        if (shown, turn) not in [(it.board_fen(), "White" if it.turn else "Black") for it in boards]:
            wrong.append(f"{where}: {caption.text()!r} is no position with {shown}")
    return wrong


def check():
    parser = argparse.ArgumentParser()
    parser.add_argument("--lessons", type=int, default=60)
    given = parser.parse_args()
    chance = random.Random(9)
    counts = dict.fromkeys(("pages", "lessons", "entries", "moves", "words", "questions", "pictures", "diagrams", "hidden", "meetings"), 0)
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        made = os.path.join(folder, "made")
        os.mkdir(made)
        for at in range(0, given.lessons, 4):
            body = "\n".join(lessonbook.element(lessonbook.Lesson(chance).pgn(), one, chance)
                             for one in range(at, min(at + 4, given.lessons)))
            with open(os.path.join(made, f"page-{at:03}.html"), "w", encoding="utf-8") as handle:
                handle.write(lessonbook.page(body))
        for name, site in (("demo", os.path.join(ROOT, "demo-site", "pages")),
                           ("examples", os.path.join(ROOT, "examples")), ("chance", made)):
            out = os.path.join(folder, name)
            program.run("bake", site, "--out", out)
            for below, _, names in sorted(os.walk(site)):
                for page in sorted(names):
                    if page.endswith(".html"):
                        path = os.path.join(below, page)
                        baked = os.path.join(out, os.path.relpath(path, site))
                        wrong += whole(f"{name}/{os.path.relpath(path, site)}", path, site, baked, counts)
        wrong += feed(chance, given.lessons // 3, folder, counts)
        if os.environ.get("KEEP"):
            shutil.copytree(folder, os.environ["KEEP"], dirs_exist_ok=True)
    if counts["questions"] < 20 or counts["lessons"] < given.lessons:
        wrong.append("too little to compare")
    return wrong, ", ".join(f"{many} {name}" for name, many in counts.items())


def feed(chance, lessons, folder, counts):
    """A feed with lessons, each entry of which becomes a plain form."""
    texts = [lessonbook.Lesson(chance).pgn() for _ in range(lessons)]
    site, out = os.path.join(folder, "feed"), os.path.join(folder, "feed-baked")
    os.mkdir(site)
    with open(os.path.join(site, "feed.xml"), "w", encoding="utf-8") as handle:
        handle.write(lessonbook.feed(BASE, texts))
    program.run("bake", site, "--out", out, "--base-url", BASE)
    entries = [it.text for it in ElementTree.parse(os.path.join(out, "feed.xml")).getroot().iter("description")][1:]
    wrong = [] if len(entries) == lessons else [f"{lessons} entries before, {len(entries)} after"]
    for at, (text, entry) in enumerate(zip(texts, entries), start=1):
        counts["entries"] += 1
        wrong += compared(f"entry {at}", plainform.Tree(entry).root, text, counts, out)
    return wrong


def whole(where, path, site, baked, counts):
    """One page."""
    with open(path, encoding="utf-8") as handle:
        before = plainform.Tree(handle.read()).root
    with open(baked, encoding="utf-8") as handle:
        after = plainform.Tree(handle.read()).root
    counts["pages"] += 1
    texts, elements = list(notations(before, path, site)), plainform.ours(after)
    if len(texts) != len(elements):
        return [f"{where}: {len(texts)} lessons before, {len(elements)} after"]
    wrong = []
    for at, (text, element) in enumerate(zip(texts, elements), start=1):
        counts["lessons"] += 1
        text = with_others(element, text)
        wrong += meetings(f"{where} lesson {at}", text, baked, counts)
        wrong += compared(f"{where} lesson {at}", element, text, counts, os.path.dirname(baked))
    for diagram in plainform.ours(after, ("ply-diagram",)):
        form = plainform.plain(diagram)
        image = form and next((it for it in form.walk() if it.name == "img"), None)
        if image is None:
            wrong.append(f"{where}: a diagram without a picture")
            continue
        counts["diagrams"] += 1
        shown = placement(image)
        if diagram.get("fen"):
            wanted = chess.Board(None)
            wanted.set_board_fen(diagram.get("fen").split()[0])
            if shown != wanted.board_fen():
                wrong.append(f"{where}: {diagram.get('fen')} is shown as {shown}")
        elif diagram.get("at"):
            text = next(text for text, one in zip(texts, elements)
                        if diagram.get("for") in (None, one.get("id")))
            last = plainform.SHOWN_MOVE.findall(diagram.get("at"))[-1][2]
            tree = Wanted(text)
            boards = [node.board().board_fen() for path, node in tree.nodes.items() if path and path[-1] == last]
            if shown not in boards:
                wrong.append(f"{where}: {diagram.get('at')} is shown as {shown}")
    return wrong


if __name__ == "__main__":
    program.main(check)
