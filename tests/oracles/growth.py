"""Big texts of every shape end, and the time for them grows as their length: python growth.py [--ratios] [WORD…]

Each shape is written at a size n; `--ratios` (by PLYLINE_LONG in run.sh) also at 2n and 4n, and then the user time of
the program may grow at most GROWTH times for each doubling. Without it every shape must end within SECONDS, which a
shape of quadratic growth does not at its size. WORD: only the shapes whose name holds it.
The program is the environment's PLYLINE. Nothing outside is compared here: what is wrong with these texts does not
matter, only that somebody says so and soon.
"""
import argparse
import os
import subprocess
import tempfile
import time

SECONDS = 10
# For one doubling. 2 is linear, 4 quadratic; timing on a busy machine needs room.
GROWTH = 3.0
# User time below which a ratio says nothing.
LEAST = 0.05
HOPS = ["Nf3", "Nf6", "Ng1", "Ng8"]
SIXTEEN = 16 * 1024 * 1024


def moves(plies, between=lambda at: ""):
    """Knights that go out and back: every position comes again after four plies."""
    return " ".join(f"{at // 2 + 1}. {HOPS[at % 4]}{between(at)}" if at % 2 == 0 else f"{HOPS[at % 4]}{between(at)}"
                    for at in range(plies))


# Name of the shape: the size n, and the text of a size.
SHAPES = {
    "many plain games": (4_000, lambda n: "\n\n".join(f'[Event "{at}"]\n\n{moves(12)} *' for at in range(n))),
    "one long game": (24_000, lambda n: moves(n) + " *"),
    "a move with n variations beside it": (20_000, lambda n: "1. e4 " + "(1. d4) (1. c4) " * (n // 2) + "*"),
    "n moves, each with a variation": (10_000, lambda n: moves(n, lambda at: " (a3)" if at % 2 == 0 else " (a6)") + " *"),
    "a bad move in each of n variations": (20_000, lambda n: "1. e4 " + "(1. Qh8 e5 2. Nf3) " * n + "*"),
    "variations 64 deep, again and again": (600, lambda n: "1. e4 " + ("(1. d4 " * 64 + ")" * 64 + " ") * n + "*"),
    "parentheses that are never closed": (500_000, lambda n: "1. e4 " + "(1. d4 " * n),
    "parentheses without a move": (2_000_000, lambda n: "(" * n),
    "closing parentheses": (2_000_000, lambda n: "1. e4 " + ")" * n),
    "a million numbers": (1_000_000, lambda n: "1. " * n + "e4 *"),
    "numbers without dots": (1_000_000, lambda n: "1 " * n + "*"),
    "dots": (4_000_000, lambda n: "1" + "." * n + " e4 *"),
    "comments and empty variations": (80_000, lambda n: "1. e4 " + "{x} () " * n + "*"),
    "comments after one move": (300_000, lambda n: "1. e4 " + "{x} " * n + "*"),
    "lines of `;`": (300_000, lambda n: "1. e4\n" + ";x\n" * n + "*"),
    "a comment of opening brackets": (1_000_000, lambda n: "1. e4 {" + "[" * n + "} *"),
    "a comment of link beginnings": (300_000, lambda n: "1. e4 {" + "[a](" * n + "} *"),
    "a comment of commands": (300_000, lambda n: "1. e4 {" + "[%a b] " * n + "} *"),
    "a comment of command beginnings": (500_000, lambda n: "1. e4 {" + "[%" * n + "} *"),
    "a comment of stars": (1_000_000, lambda n: "1. e4 {" + "*" * n + "} *"),
    "a comment of stars and words": (300_000, lambda n: "1. e4 {" + "*a **b " * n + "} *"),
    "a comment of at signs": (1_000_000, lambda n: "1. e4 {" + "@" * n + "} *"),
    "a comment of marks": (300_000, lambda n: "1. e4 {" + "@e4 @!c5-c6 " * n + "} *"),
    "a route of squares": (1_000_000, lambda n: "1. e4 {@e4" + "-e5-e4" * n + "} *"),
    "a comment of bad squares": (300_000, lambda n: "1. e4 {" + "@i9 " * n + "} *"),
    "a question of many words": (300_000, lambda n: "1. e4 {Ask: " + "Hint: Because: e5 " * n + "} e5 *"),
    "a question before many moves": (20_000, lambda n: "1. e4 {Ask: what?} e5 " + "(1... c5) (1... e6) " * (n // 2) + "*"),
    "a comment of paragraphs": (500_000, lambda n: "1. e4 {" + "a\n\n" * n + "} *"),
    "a comment of choices": (300_000, lambda n: "1. e4 {" + "Choose: a\n\n" * n + "} *"),
    "links to one place": (3_000, lambda n: "1. e4 {" + "[a](#1.e4) " * n + "} " + moves(n)[7:] + " *"),
    "links that name many places": (1_000, lambda n: moves(n, lambda at: " {[a](#Nf3_Nf6_Ng1_Ng8)}") + " *"),
    "long links in a long game": (40, lambda n: "1. a3 {" + f"[a](#{'_'.join(HOPS * 240)}_b4) " * n + "} a6 "
                                  + moves(n * 500)[7:] + " *"),
    "a long comment where a position comes again": (5_000, lambda n: "1. Nf3 {" + "[a](#1.d4) " * n + "} " + moves(n)[7:] + " *"),
    "a position with many next moves that comes again": (
        10_000, lambda n: "1. Nf3 " + "(1. a3) (1. a4) " * (n // 2) + moves(n)[7:] + " *"),
    "choices at a position that comes again": (
        10_000, lambda n: moves(n, lambda at: " {Choose: a}") + " *"),
    "tags": (100_000, lambda n: "".join(f'[T{at} "x"]\n' for at in range(n)) + "\n1. e4 *"),
    "one tag again and again": (100_000, lambda n: '[Event "x"]\n' * n + "\n1. e4 *"),
    "tags that are not closed": (200_000, lambda n: '[Event "x\n' * n + "\n1. e4 *"),
    "a tag value without an end": (4_000_000, lambda n: '[Event "' + "\\" * n),
    "opening brackets": (1_000_000, lambda n: "[" * n),
    "glyphs": (1_000_000, lambda n: "1. e4 " + "$1 " * n + "*"),
    "signs on one word": (2_000_000, lambda n: "1. e4" + "!?+-" * (n // 4) + " *"),
    "one word": (4_000_000, lambda n: "1. " + "e" * n + " *"),
    "words behind a bad move": (500_000, lambda n: "1. Qh8 " + "e4 e5 " * n + "*"),
    "results": (1_000_000, lambda n: "1. e4 " + "1-0 " * n),
    "games of one move": (100_000, lambda n: "1. e4 * " * n),
    "games with a bad move": (20_000, lambda n: '[Event "x"]\n\n1. e4 e5 2. Nf6 *\n\n' * n),
    "games in other letters": (1_500, lambda n: '[Event "x"]\n\n1. Sf3 Sf6 2. Sg1 Sg8 3. Qh8 *\n\n' * n),
    "escape lines": (1_000_000, lambda n: "1. e4\n" + "%x\n" * n + "*"),
    "stray characters": (2_000_000, lambda n: "1. e4 " + "~^ " * (n // 3) + "*"),
    "one line of 8 MB with 1,100 findings": (1_100, lambda n: "1. e4 " + ("{" + "é" * 3_600 + "} $999 ") * n + "*"),
    "wide characters in one line": (300_000, lambda n: "1. e4 {" + "将棋" * n + "} Nf9 *"),
    "a FEN without an end": (2_000_000, lambda n: f'[FEN "{"8/" * (n // 2)}"]\n\n1. e4 *'),
}
# Every shape is checked as text, the way with the most to do; `export` and `tree` read the same.
COMMANDS = [["check"], ["check", "--format", "json"], ["tree", "--json"], ["export", "--partial"]]


def run(command, path, seconds):
    """User seconds; None where it did not end in time, a message where it broke."""
    began = time.monotonic()
    with open(os.devnull, "wb") as nowhere, tempfile.TemporaryFile() as said:
        child = subprocess.Popen([os.environ["PLYLINE"], *command, path], stdin=subprocess.DEVNULL, stdout=nowhere, stderr=said)
        while True:
            pid, status, usage = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if time.monotonic() - began > seconds:
                child.kill()
                os.wait4(child.pid, 0)
                return None
            time.sleep(0.002)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode not in (0, 1):
            said.seek(0)
            return f"ended with {child.returncode}: {said.read()[-300:].decode('utf-8', 'replace')}"
        return usage.ru_utime


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--ratios", action="store_true")
    arguments.add_argument("words", nargs="*")
    given = arguments.parse_args()
    chosen = [name for name in SHAPES if not given.words or any(word in name for word in given.words)]
    wrong, runs = [], 0
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "big.pgn")
        for name in chosen:
            size, write = SHAPES[name]
            times = {tuple(command): [] for command in COMMANDS}
            for factor in (1, 2, 4) if given.ratios else (1,):
                text = write(size * factor)
                if len(text.encode()) > SIXTEEN:
                    break
                with open(path, "w", encoding="utf-8") as handle:
                    handle.write(text)
                for command in COMMANDS:
                    if given.words or given.ratios:
                        print(f"{name} at {size * factor}: {' '.join(command)} …", end=" ", flush=True)
                    runs += 1
                    spent = run(command, path, SECONDS * factor)
                    if given.words or given.ratios:
                        print(spent if spent is None or isinstance(spent, str) else f"{spent:.2f} s", flush=True)
                    if not isinstance(spent, float):
                        why = spent or f"did not end within {SECONDS * factor} s"
                        wrong.append(f"{name} at {size * factor}: `{' '.join(command)}` {why}")
                        continue
                    before = times[tuple(command)]
                    if before and spent > LEAST and spent > GROWTH * max(before[-1], LEAST):
                        wrong.append(f"{name}: `{' '.join(command)}` took {before[-1]:.2f} s, then {spent:.2f} s for "
                                     f"twice the text")
                    before.append(spent)
    print("\n".join(wrong))
    print(f"{len(chosen)} shapes, {runs} runs")
    return 1 if wrong or not runs else 0


if __name__ == "__main__":
    raise SystemExit(main())
