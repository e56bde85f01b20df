"""Real games written with the piece letters of other languages read to the same trees.

    python letters.py GAMES [--games N] [--plies P | --slips]

The letters are those of PGN 1994-03-12, section 17, all 17 languages; the games those of the crate `pgn-reader`, see
games.py. With the tag `[Letters "xx"]` a game has no finding that its English form does not have. Without it, P054 and
the tag as its fix are said exactly where English fails and one other set of letters reads the whole game, by the
judgement of python-chess (PyPI `chess` 1.11.2), and is seen in it: by a capital that English moves do not begin with
(pawns write no P), or by two moves of another piece. The tree is then the same at once, and after the fix with no P054.
`--plies` cuts the games, so that more than one set can read them. `--slips`: short English lines with one slip are no
other language; `1. e4 e5 2. Bf4` is not 2.f4 with the German pawn's letter. The program is the environment's PLYLINE.
"""
import argparse
import bisect
import multiprocessing
import os
import random
import re
import tempfile

import chess

import games
import program
import slips

ENGLISH = "PNBRQK"
LANGUAGES = {
    "cs": "PJSVDK", "da": "BSLTDK", "nl": "OPLTDK", "en": "PNBRQK", "et": "PROVLK", "fi": "PRLTDK", "fr": "PCFTDR",
    "de": "BSLTDK", "hu": "GHFBVK", "is": "PRBHDK", "it": "PCATDR", "no": "BSLTDK", "pl": "PSGWHK", "pt": "PCBTDR",
    "ro": "PCNTDR", "es": "PCATDR", "sv": "BSLTDK",
}


def translated(word, letters):
    """An English move word in other letters; castling has none."""
    return word if word.startswith("O-O") else word.translate(str.maketrans(ENGLISH, letters))


def translated_back(word, letters):
    """None if the word holds a letter that names no piece in this language."""
    if word.startswith("O-O"):
        return word
    if any(sign.isupper() and sign not in letters for sign in word):
        return None
    word = word.translate(str.maketrans(letters, ENGLISH))
    # A pawn's move may be written with its letter; python-chess wants it without.
    return word.removeprefix("P")


def parsed(board, word):
    """python-chess's move; plyline also reads a pawn's capture without its file, `Pxd5`, where one pawn can take."""
    if not word.startswith("x"):
        return board.parse_san(word)
    takes = [move for move in board.legal_moves
             if move.to_square == chess.parse_square(word[1:3]) and board.piece_type_at(move.from_square) == chess.PAWN
             and board.is_capture(move) and board.san(move)[1:].rstrip("+#") == word.rstrip("+#")]
    if len(takes) != 1:
        raise ValueError(word)
    return takes[0]


def reads(words, letters):
    """Whether python-chess reads all these words, written with such letters."""
    board = chess.Board()
    for word in words:
        english = translated_back(word, letters)
        try:
            board.push(parsed(board, english or ""))
        except ValueError:
            return False
    return True


def seen(words, letters):
    """Whether enough words could not be English slips; one may be."""
    moves = [word[0] for word in words if word[0].isupper() and not word.startswith("O-O")]
    other = [sign for sign in moves if sign in letters and letters.index(sign) != ENGLISH.find(sign)]
    return len(other) > 1 or any(sign not in ENGLISH[1:] for sign in other)


def only_letters(words):
    """The one set of letters but the English that these words are written with; None for none, several, or English."""
    readers = {letters for letters in LANGUAGES.values()
               if letters != ENGLISH and seen(words, letters) and reads(words, letters)}
    return readers.pop() if len(readers) == 1 and not reads(words, ENGLISH) else None


class Batch:
    """Games in one text, each written with the letters of one language."""

    def __init__(self, texts):
        self.starts = []
        start = 0
        for text in texts:
            self.starts.append(start)
            start += text.count("\n") + 1
        self.text = "\n".join(texts)

    def read(self):
        """The trees, and the findings of each game."""
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "games.pgn")
            with open(path, "w", encoding="utf-8") as handle:
                handle.write(self.text)
            trees, found = program.trees(path), program.findings(path).get(path, [])
        by_game = [[] for _ in self.starts]
        for finding in found:
            by_game[bisect.bisect_right(self.starts, finding["line"] - 1) - 1].append(finding)
        return trees, by_game


def without_letters(tree):
    return tree | {"tags": {name: value for name, value in tree["tags"].items() if name != "Letters"}}


def codes(found):
    return [finding["code"] for finding in found]


def differences(task):
    """What is wrong in one language, and how many games were read with the tag, without it, and left to English."""
    language, texts, words, english, baseline = task
    letters = LANGUAGES[language]
    written = [[translated(word, letters) for word in game] for game in words]
    bodies = [movetext(game) for game in written]
    wrong, guessed, left = [], 0, 0

    tagged = Batch([f'{tags}\n[Letters "{language}"]\n\n{body}' for tags, body in zip(texts, bodies)])
    trees, found = tagged.read()
    for at, (tree, its_own) in enumerate(zip(trees, found)):
        if without_letters(tree) != english[at]:
            wrong.append(f"{language}: game {at + 1} with its tag reads to another tree: {bodies[at][:200]}")
        if codes(its_own) != baseline[at]:
            wrong.append(f"{language}: game {at + 1} with its tag has findings: {codes(its_own)}")

    plain = Batch([f"{tags}\n\n{body}" for tags, body in zip(texts, bodies)])
    trees, found = plain.read()
    fixes = []
    for at, (tree, its_own) in enumerate(zip(trees, found)):
        alone = only_letters(written[at])
        said = [finding for finding in its_own if finding["code"] == "P054"]
        if len(said) != (alone is not None):
            wrong.append(f"{language}: game {at + 1} without a tag is read with {alone}, "
                         f"P054 {len(said)} times: {bodies[at][:200]}")
        elif alone:
            guessed += 1
            fix = said[0]["fix"]
            named = re.fullmatch(r'\[Letters "(\w+)"\]\n', fix["text"] if fix else "")
            if not named or LANGUAGES.get(named.group(1)) != alone or alone != letters:
                wrong.append(f"{language}: game {at + 1}: the fix of P054 is {fix}")
            else:
                fixes.append(fix)
            if tree != english[at]:
                wrong.append(f"{language}: game {at + 1} reads to another tree by P054's own reading")
        else:
            left += 1
            if reads(written[at], ENGLISH) and program.errors(its_own):
                wrong.append(f"{language}: game {at + 1} reads with English letters, but: {program.errors(its_own)}")
    plain.text = program.mended(plain.text, fixes)
    # Which game a finding belongs to does not matter any more, and the lines have moved.
    plain.starts = [0]
    trees, found = plain.read()
    for at, tree in enumerate(trees):
        if "Letters" in tree["tags"] and without_letters(tree) != english[at]:
            wrong.append(f"{language}: game {at + 1} reads to another tree after the fix")
    mended = sum("Letters" in tree["tags"] for tree in trees)
    if mended != len(fixes) or "P054" in codes(sum(found, [])):
        wrong.append(f"{language}: {len(fixes)} fixes put in, {mended} tags read; left: {codes(sum(found, []))}")
    return wrong, len(bodies), guessed, left


def slipped(chosen):
    """English lines of three to eight plies with one slip that P054 takes for another language, and how many lines."""
    rng = random.Random(slips.SEED)
    texts = []
    for game in chosen:
        for kind in ("wrong square", "wrong piece", "wrong side, instead"):
            plies = rng.randint(3, 8)
            if len(game.words) < plies:
                continue
            end = game.words[plies - 1][0] + len(game.words[plies - 1][1])
            text = slips.KINDS[kind](rng, games.Played(game.text[:end] + "\n"), rng.randrange(plies))
            if text:
                texts.append(text[game.body:] + "*\n")
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, f"{at:05}.pgn") for at in range(len(texts))]
        for path, text in zip(paths, texts):
            with open(path, "w", encoding="utf-8") as handle:
                handle.write(text)
        found = program.findings(folder)
    wrong = []
    for path, text in zip(paths, texts):
        words = [word for _, word in games.words(text, 0)]
        # Two words of another piece in so short a line are not a slip.
        if ("P054" in codes(found.get(path, []))) != (only_letters(words) is not None):
            wrong.append(f"a slip is taken for another language, or two words are not: {text.strip()[:-2].strip()}")
    return wrong, len(texts)


def movetext(words):
    numbered = [f"{at // 2 + 1}. {word}" if at % 2 == 0 else word for at, word in enumerate(words)]
    return " ".join(numbered) + " {so far} *\n"


def check():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("folder")
    arguments.add_argument("--games", type=int, default=100)
    arguments.add_argument("--plies", type=int)
    arguments.add_argument("--slips", action="store_true", help="only the short English lines")
    given = arguments.parse_args()
    chosen = games.played(given.folder, given.games)
    if given.slips:
        wrong, lines = slipped(chosen)
        return wrong + ([] if lines else ["no line"]), f"{lines} short English lines with a slip"
    words = [[word for _, word, _, _ in game.words[:given.plies]] for game in chosen]
    texts = [f'[Event "{at}"]' for at in range(len(words))]
    english, found = Batch([f"{tags}\n\n{movetext(game)}" for tags, game in zip(texts, words)]).read()
    wrong = [f"game {at + 1} in English: {program.errors(its_own)}"
             for at, its_own in enumerate(found) if program.errors(its_own)]
    ends = [game.words[len(cut)][2] if len(cut) < len(game.words) else game.last for game, cut in zip(chosen, words)]
    wrong += [f"game {at + 1} in English ends at {tree['nodes'][-1]['fen']}, by python-chess at {board.fen()}"
              for at, (tree, board) in enumerate(zip(english, ends)) if tree["nodes"][-1]["fen"] != board.fen()]
    baseline = [codes(its_own) for its_own in found]
    tasks = [(language, texts, words, english, baseline) for language in LANGUAGES]
    with multiprocessing.Pool() as pool:
        parts = pool.map(differences, tasks, chunksize=1)
    wrong += [line for part in parts for line in part[0]]
    tagged, guessed, left = (sum(part[at] for part in parts) for at in (1, 2, 3))
    if guessed == 0 or tagged != len(LANGUAGES) * len(words):
        wrong.append(f"{tagged} games with a tag and {guessed} without were to be read")
    return wrong, (f"{tagged} games read with their tag; without it {guessed} by P054, {left} not "
                   f"(English reads them, or several languages do)")


if __name__ == "__main__":
    program.main(check)
