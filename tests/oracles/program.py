"""Runs the program under test and takes apart what it prints. The program is named by the environment's PLYLINE."""
import json
import os
import re
import subprocess
import sys

SECONDS = 120
# Reasons shown under a check that failed; one fault often shows in hundreds of places.
SHOWN = int(os.environ.get("SHOWN", 40))


class Refused(Exception):
    """The program did not do what was asked at all: no such program, no end, a crash, exit code 2."""


def run(*arguments, seconds=SECONDS, codes=(0, 1)):
    """Its output as text and its exit code; `codes` are those that mean an answer (design section 8)."""
    program = os.environ["PLYLINE"]
    try:
        done = subprocess.run([program, *arguments], stdin=subprocess.DEVNULL, capture_output=True, timeout=seconds)
    except OSError as error:
        raise Refused(f"cannot run {program}: {error}") from error
    except subprocess.TimeoutExpired as error:
        raise Refused(f"`{' '.join(arguments)}` did not end within {seconds} s") from error
    if done.returncode not in codes:
        said = done.stderr.decode("utf-8", "replace").strip()
        raise Refused(f"`{' '.join(arguments)}` ended with {done.returncode}: {said[-600:]}")
    return done.stdout.decode("utf-8"), done.returncode


def lines(text):
    """Not splitlines: a JSON text may hold other characters that end a line, such as U+2028."""
    return text.removesuffix("\n").split("\n") if text else []


def trees(path, **more):
    """Every game of a file, as `tree --json` prints it."""
    return [json.loads(line) for line in lines(run("tree", path, "--json", **more)[0])]


def findings(*paths, **more):
    """What `check --format json` says, by file, each list in the order printed."""
    found = {}
    for line in lines(run("check", "--format", "json", *paths, **more)[0]):
        finding = json.loads(line)
        found.setdefault(finding["file"], []).append(finding)
    return found


def errors(of_a_file):
    return [finding for finding in of_a_file if finding["severity"] == "error"]


def near_misses(finding):
    """The legal moves that a finding's help offers, closest first."""
    offer = re.search(r"close to it(?: and legal)?: ([^;\n]*)", finding["help"] or "")
    return offer.group(1).split(", ") if offer else []


def mended(text, fixes):
    """The text with the fixes of some findings put in; lines and columns are those of design section 8."""
    rows = text.split("\n")
    starts = [0]
    for row in rows:
        starts.append(starts[-1] + len(row) + 1)
    at = lambda line, column: starts[line - 1] + column - 1
    for fix in sorted(fixes, key=lambda fix: (fix["line"], fix["column"]), reverse=True):
        begin, end = at(fix["line"], fix["column"]), at(fix["endLine"], fix["endColumn"])
        text = text[:begin] + fix["text"] + text[end:]
    return text


def place(text, at):
    """Line and column of an offset, both from 1."""
    return text.count("\n", 0, at) + 1, at - (text.rfind("\n", 0, at) + 1) + 1


def finish(wrong, told):
    """Prints what was compared and what was wrong; the exit code of a check."""
    for line in wrong[:SHOWN]:
        print(line)
    if len(wrong) > SHOWN:
        print(f"and {len(wrong) - SHOWN} more")
    print(told)
    return 1 if wrong else 0


def main(check):
    """Runs a check that returns (what is wrong, what was compared). Refusals are failures with their reason."""
    try:
        sys.exit(finish(*check()))
    except (Refused, OSError) as error:
        print(f"cannot compare: {error}")
        sys.exit(2)
