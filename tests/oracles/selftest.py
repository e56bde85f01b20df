"""Tests of the oracle itself, so that it cannot agree with everything: python selftest.py slips|labels|refusals
and, with the unpacked sources of sources.sh, the readers of readers.sh and the program in PLYLINE:
python selftest.py outside SOURCES READERS

The program in the first three is fake_plyline.py, in the last spoil.py. Exit 0: as it should be; 1: not, with the
reasons.
"""
import io
import os
import subprocess
import sys
import tempfile

import fake_plyline
import reading

HERE = os.path.dirname(os.path.abspath(__file__))
TEXTS = os.path.join(HERE, "handwritten.pgn")
FAKE = os.path.join(HERE, "fake_plyline.py")

# The label of each move of the first text in handwritten.pgn, in text order: worked out by hand from the rule in
# design section 2, before the code in reading.py was run.
LABELS = [
    ("e4", None), ("d4", "A"), ("c4", "A1"), ("b4", "A1a"), ("e5", "A1"), ("Nf3", "A2"), ("d5", "A"), ("c4", "A"),
    ("Bf4", "A3"), ("f4", "B"), ("e5", None), ("c5", "C"), ("Nf3", "C"), ("c3", "C1"), ("d4", "C1a"), ("f4", "C1a1"),
    ("g3", "C1a1a"), ("e6", "C1a1a"), ("Nf3", None), ("Nc6", None), ("d6", "D"), ("d4", "D"), ("Bc4", "D1"),
    ("h3", "D2"),
]
LETTERS = {1: "A", 26: "Z", 27: "AA", 28: "AB", 52: "AZ", 53: "BA", 702: "ZZ", 703: "AAA"}


def compare(*arguments, program=FAKE, slip=""):
    done = subprocess.run([sys.executable, os.path.join(HERE, "compare.py"), "--plyline", program, *arguments],
                          capture_output=True, text=True, env={**os.environ, "FAKE_PLYLINE_SLIP": slip})
    return done.returncode, done.stdout + done.stderr


def slips():
    """Each slip is found, and the message names the field; without a slip nothing is found."""
    code, said = compare(TEXTS)
    if code != 0:
        yield f"without a slip: exit {code}, {said}"
    for name, (field, _) in fake_plyline.SLIPS.items():
        code, said = compare(TEXTS, slip=name)
        named = f": {field}: python-chess has " in said
        # The fake program ends with another code when a slip had nothing to spoil, and that must not pass for a find.
        spoiled = name == "exit-code" or ": exit code: " not in said
        if code != 1 or not named or not spoiled:
            yield f"{name}: exit {code}, expected a message about {field!r}, got: {said}"


def labels():
    """The labels worked out by reading.py are those worked out by hand."""
    first = reading.read_file(TEXTS)[0].tree()
    have = [(node["san"], node["line"]) for node in first["nodes"][1:]]
    if have != LABELS:
        yield f"expected {LABELS}, got {have}"
    for number, text in LETTERS.items():
        if reading.letters(number, "A") != text:
            yield f"line {number} is {text}, got {reading.letters(number, 'A')}"
    wide = "1. e4 " + "( 1. d4 ) " * 28 + "*"
    last = reading.read(io.StringIO(wide))[0].tree()["nodes"][-1]["line"]
    if last != "AB":
        yield f"the 28th variation is AB, got {last}"


def refusals():
    """What cannot be compared is never called equal."""
    with tempfile.TemporaryDirectory() as folder:
        def text(name, content):
            path = os.path.join(folder, name)
            with open(path, "w", encoding="utf-8") as handle:
                handle.write(content)
            return path

        for what, code_and_said in {
            "no program": compare(TEXTS, program=os.path.join(folder, "nothing")),
            "no game": compare(text("empty.pgn", "")),
            "fewer games than asked for": compare("--games", "3", text("one.pgn", "1. e4 *\n")),
            "a move that python-chess cannot read": compare(text("wrong.pgn", "1. e5 *\n")),
            "a file that is not there": compare(os.path.join(folder, "none.pgn")),
        }.items():
            if code_and_said[0] != 2:
                yield f"{what}: expected exit 2, got {code_and_said}"


def outside():
    """Each outside check fails when the program is spoiled in what it checks."""
    games, openings = os.path.join(sys.argv[2], "games"), os.path.join(sys.argv[2], "openings")
    cases = [
        ("fen", ["openings.py", openings]), ("fen", ["mainlines.mjs", os.path.join(sys.argv[2], "chessjs"), games]),
        ("comment", ["peer.py", TEXTS]), ("column", ["slips.py", games]), ("fix", ["slips.py", games]),
        ("square", ["reasons.py", games]), ("silent", ["reasons.py", games]), ("silent", ["trade.py"]),
        ("fix", ["letters.py", games, "--games", "3"]), ("fen", ["letters.py", games, "--games", "3"]),
        ("crash", ["growth.py", "dots"]), ("title", ["alternatives.py", "--positions", "30"]),
        ("move", ["baked.py"]), ("piece", ["baked.py"]), ("word", ["baked.py"]), ("answers", ["baked.py"]),
        ("html", ["validity.py", sys.argv[3]]), ("field", ["sanitizers.py", sys.argv[3]]), ("again", ["sites.py"]),
    ]
    with tempfile.TemporaryDirectory() as folder:
        program = os.path.join(folder, "plyline")
        with open(program, "w", encoding="utf-8") as handle:
            handle.write(f'#!/bin/sh\nexec "{sys.executable}" "{os.path.join(HERE, "spoil.py")}" "$@"\n')
        os.chmod(program, 0o755)
        for spoil, (name, *arguments) in cases:
            runner, rest = (sys.executable, []) if name.endswith(".py") else ("node", [program, "0", "20"])
            done = subprocess.run([runner, os.path.join(HERE, name), *arguments, *rest], capture_output=True, text=True,
                                  env={**os.environ, "PLYLINE": program, "SPOIL": spoil,
                                       "SPOIL_PLYLINE": os.path.abspath(os.environ["PLYLINE"])})
            if done.returncode != 1:
                yield f"{name} with {spoil} spoiled: exit {done.returncode}: {(done.stdout + done.stderr)[-400:]}"


def main():
    tests = {"slips": slips, "labels": labels, "refusals": refusals, "outside": outside}
    wrong = list(tests[sys.argv[1]]())
    print("\n".join(wrong) or "as it should be")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
