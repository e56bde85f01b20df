"""Big texts of every shape end, and the time for them grows in proportion to their length: python growth.py [--ratios] [WORD…]

Each shape is written at a size n that quadratic work does not survive: it must end within SECONDS. With `--ratios`
(by PLYLINE_LONG in run.sh) also at n/4 and n/2, and then the user time of the program may grow at most GROWTH times for
each doubling, and all four commands run instead of two. WORD: only the shapes whose name holds it.
The program is the environment's PLYLINE. Nothing outside is compared here: it does not matter what is wrong with these texts, only that it is reported
soon.
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
LEAST = 0.1
HOPS = ["Nf3", "Nf6", "Ng1", "Ng8"]
SIXTEEN = 16 * 1024 * 1024


def moves(plies, between=lambda at: "", hops=HOPS):
    """Knights that go out and back: every position comes again after four plies."""
    return " ".join((f"{at // 2 + 1}. " if at % 2 == 0 else "") + hops[at % len(hops)] + between(at)
                    for at in range(plies))


# Name of the shape: the size n, and the text of a size. All are below the limits of a text and most of a lesson.
SHAPES = {
    "many plain games": (16_000, lambda n: "\n\n".join(f'[Event "{at}"]\n\n{moves(12)} *' for at in range(n))),
    "one long game": (96_000, lambda n: moves(n) + " *"),
    "a move with n variations beside it": (80_000, lambda n: "1. e4 " + "(1. d4) (1. c4) " * (n // 2) + "*"),
    "n moves, each with a variation": (
        40_000, lambda n: moves(n, lambda at: " (a3)" if at % 2 == 0 else " (a6)") + " *"),
    "a bad move in each of n variations": (40_000, lambda n: "1. e4 " + "(1. Qh8 e5 2. Nf3) " * n + "*"),
    "variations 64 deep, again and again": (1_500, lambda n: "1. e4 " + ("(1. d4 " * 64 + ")" * 64 + " ") * n + "*"),
    "parentheses that are never closed": (2_000_000, lambda n: "1. e4 " + "(1. d4 " * n),
    "parentheses without a move": (8_000_000, lambda n: "(" * n),
    "closing parentheses": (8_000_000, lambda n: "1. e4 " + ")" * n),
    "a million numbers": (4_000_000, lambda n: "1. " * n + "e4 *"),
    "numbers without dots": (4_000_000, lambda n: "1 " * n + "*"),
    "dots": (16_000_000, lambda n: "1" + "." * n + " e4 *"),
    "comments and empty variations": (320_000, lambda n: "1. e4 " + "{x} () " * n + "*"),
    "comments after one move": (1_200_000, lambda n: "1. e4 " + "{x} " * n + "*"),
    "lines of `;`": (1_200_000, lambda n: "1. e4\n" + ";x\n" * n + "*"),
    "a comment of opening brackets": (4_000_000, lambda n: "1. e4 {" + "[" * n + "} *"),
    "a comment of link beginnings": (1_200_000, lambda n: "1. e4 {" + "[a](" * n + "} *"),
    "a comment of commands": (1_200_000, lambda n: "1. e4 {" + "[%a b] " * n + "} *"),
    "a comment of command beginnings": (2_000_000, lambda n: "1. e4 {" + "[%" * n + "} *"),
    "a comment of stars": (4_000_000, lambda n: "1. e4 {" + "*" * n + "} *"),
    "a comment of stars and words": (1_200_000, lambda n: "1. e4 {" + "*a **b " * n + "} *"),
    "a comment of at signs": (4_000_000, lambda n: "1. e4 {" + "@" * n + "} *"),
    "a comment of marks": (1_200_000, lambda n: "1. e4 {" + "@e4 @!c5-c6 " * n + "} *"),
    "a route of squares": (2_200_000, lambda n: "1. e4 {@e4" + "-e5-e4" * n + "} *"),
    "a comment of bad squares": (1_200_000, lambda n: "1. e4 {" + "@i9 " * n + "} *"),
    "a question of many words": (900_000, lambda n: "1. e4 {Ask: " + "Hint: Because: e5 " * n + "} e5 *"),
    "a question before many moves": (
        80_000, lambda n: "1. e4 {Ask: what?} e5 " + "(1... c5) (1... e6) " * (n // 2) + "*"),
    "a comment of paragraphs": (2_000_000, lambda n: "1. e4 {" + "a\n\n" * n + "} *"),
    "a comment of choices": (1_200_000, lambda n: "1. e4 {" + "Choose: a\n\n" * n + "} *"),
    "links to one place": (50_000, lambda n: "1. Nf3 {" + "[a](#1.Nf3) " * n + "} " + moves(n)[7:] + " *"),
    "links to no place": (50_000, lambda n: "1. Nf3 {" + "[a](#1.d4) " * n + "} " + moves(n)[7:] + " *"),
    "links that name many places": (16_000, lambda n: moves(n, lambda at: " {[a](#Nf3_Nf6_Ng1_Ng8)}") + " *"),
    "long links in a long game": (100, lambda n: "1. a3 {" + f"[a](#b4_{'_'.join(HOPS * 240)}) " * n + "} a6 "
                                  + moves(n * 800) + " *"),
    "a position with many next moves that comes again": (
        48_000, lambda n: "1. Nf3 " + "(1. a3) (1. a4) " * (n // 2) + moves(n)[7:] + " *"),
    "choices at a position that comes again": (96_000, lambda n: moves(n, lambda at: " {Choose: a}") + " *"),
    "a game that comes back by two ways": (96_000, lambda n: moves(n, hops=HOPS + ["Nc3", "Nf6", "Nb1", "Ng8"]) + " *"),
    "moves named in comments": (16_000, lambda n: moves(n, lambda at: " {4.Bb5}") + " *"),
    "runs named in comments": (8_000, lambda n: moves(n, lambda at: " {7.Nc3 Nc6 8.Nb1 Nb8}") + " *"),
    "moves named in variations": (8_000, lambda n: "1. a3 " + "(1. a4 {1.b3} e5 {2.Nf3 d6} 2. h3) " * n + "*"),
    "moves named without numbers": (16_000, lambda n: moves(n, lambda at: " {White's Bb5, and Qh5}") + " *"),
    "tags": (400_000, lambda n: "".join(f'[T{at} "x"]\n' for at in range(n)) + "\n1. e4 *"),
    "one tag again and again": (400_000, lambda n: '[Event "x"]\n' * n + "\n1. e4 *"),
    "tags that are not closed": (800_000, lambda n: '[Event "x\n' * n + "\n1. e4 *"),
    "a tag value without an end": (16_000_000, lambda n: '[Event "' + "\\" * n),
    "opening brackets": (4_000_000, lambda n: "[" * n),
    "glyphs": (4_000_000, lambda n: "1. e4 " + "$1 " * n + "*"),
    "signs on one word": (8_000_000, lambda n: "1. e4" + "!?+-" * (n // 4) + " *"),
    "one word": (16_000_000, lambda n: "1. " + "e" * n + " *"),
    "words after a bad move": (2_000_000, lambda n: "1. Qh8 " + "e4 e5 " * n + "*"),
    "results": (4_000_000, lambda n: "1. e4 " + "1-0 " * n),
    "games of one move": (400_000, lambda n: "1. e4 * " * n),
    "games with a bad move": (80_000, lambda n: '[Event "x"]\n\n1. e4 e5 2. Nf6 *\n\n' * n),
    "games in other letters": (6_000, lambda n: '[Event "x"]\n\n1. Sf3 Sf6 2. Sg1 Sg8 3. Qh8 *\n\n' * n),
    "escape lines": (4_000_000, lambda n: "1. e4\n" + "%x\n" * n + "*"),
    "stray characters": (8_000_000, lambda n: "1. e4 " + "~^ " * (n // 3) + "*"),
    "one line of 8 MB with 1,100 findings": (1_100, lambda n: "1. e4 " + ("{" + "é" * 3_600 + "} $999 ") * n + "*"),
    "wide characters in one line": (1_200_000, lambda n: "1. e4 {" + "将棋" * n + "} Nf9 *"),
    "a FEN without an end": (8_000_000, lambda n: f'[FEN "{"8/" * (n // 2)}"]\n\n1. e4 *'),
}
COMMANDS = [["check"], ["export", "--partial"], ["check", "--format", "json"], ["tree", "--json"]]


def run(command, path, seconds):
    """User seconds; None if it did not end in time, a message where it broke."""
    began = time.monotonic()
    with open(os.devnull, "wb") as nowhere, tempfile.TemporaryFile() as said:
        child = subprocess.Popen([os.environ["PLYLINE"], *command, path], stdin=subprocess.DEVNULL, stdout=nowhere,
                                 stderr=said)
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
            for part in (4, 2, 1) if given.ratios else (1,):
                n = size // part
                text = write(n)
                if len(text.encode()) > SIXTEEN:
                    wrong.append(f"{name} at {n}: longer than a text may be")
                with open(path, "w", encoding="utf-8") as handle:
                    handle.write(text)
                for command in COMMANDS if given.ratios else COMMANDS[:2]:
                    if given.words or given.ratios:
                        print(f"{name} at {n}: {' '.join(command)} …", end=" ", flush=True)
                    runs += 1
                    spent = run(command, path, SECONDS)
                    if given.words or given.ratios:
                        print(spent if spent is None or isinstance(spent, str) else f"{spent:.2f} s", flush=True)
                    if not isinstance(spent, float):
                        why = spent or f"did not end within {SECONDS} s"
                        wrong.append(f"{name} at {n}: `{' '.join(command)}` {why}")
                        continue
                    before = times[tuple(command)]
                    if before and spent > GROWTH * max(before[-1], LEAST):
                        wrong.append(f"{name}: `{' '.join(command)}` took {before[-1]:.2f} s, then {spent:.2f} s for "
                                     f"twice the text")
                    before.append(spent)
    print("\n".join(wrong))
    print(f"{len(chosen)} shapes, {runs} runs")
    return 1 if wrong or not runs else 0


if __name__ == "__main__":
    raise SystemExit(main())
