"""Counts a collection of many files on a Dask cluster (PyPI `distributed`), and writes what one machine would write:

    python tally.py tcp://scheduler:8786 lesson.pgn all.counts.json games/*.pgn.zst

Every worker has the program `plyline` in its PATH, or PLYLINE names it, and reads the games at the same paths. A file
that was being counted on a worker that dies is counted on another. Counts add up in any order, eight at a time.
"""
import os
import subprocess
import sys
import tempfile

from distributed import Client, as_completed

# How many counts files one task adds up.
AT_ONCE = 8
# How often a task is tried again before the whole fails.
RETRIES = 3


def run(folder, *words):
    done = subprocess.run([os.environ.get("PLYLINE", "plyline"), "tally", *words], cwd=folder, capture_output=True)
    if done.returncode:
        raise RuntimeError(done.stderr.decode("utf-8", "replace"))
    with open(os.path.join(folder, "out.json"), "rb") as file:
        return file.read()


def count(name, lesson, games):
    """A counts file of one file of games; `lesson` is the text of the lesson, `name` that of its file."""
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, name), "wb") as file:
            file.write(lesson)
        return run(folder, name, "--games", games, "--out", "out.json")


def merge(parts):
    """A counts file of all of which some are."""
    with tempfile.TemporaryDirectory() as folder:
        names = [f"{at}.json" for at in range(len(parts))]
        for name, part in zip(names, parts):
            with open(os.path.join(folder, name), "wb") as file:
                file.write(part)
        return run(folder, "--merge", *names, "--out", "out.json")


def main(scheduler, lesson, out, *games):
    with open(lesson, "rb") as file:
        text = file.read()
    with Client(scheduler) as client:
        name = os.path.basename(lesson)
        waiting = [client.submit(count, name, text, os.path.abspath(path), pure=False, retries=RETRIES) for path in games]
        for at, _ in enumerate(as_completed(list(waiting)), 1):
            print(f"{at} of {len(waiting)} files", file=sys.stderr)
        while len(waiting) > 1:
            groups = [waiting[at:at + AT_ONCE] for at in range(0, len(waiting), AT_ONCE)]
            waiting = [client.submit(merge, group, pure=False, retries=RETRIES) if len(group) > 1 else group[0] for group in groups]
        made = waiting[0].result()
    with open(out + ".part", "wb") as file:
        file.write(made)
    os.replace(out + ".part", out)


if __name__ == "__main__":
    if len(sys.argv) < 5:
        sys.exit(__doc__)
    main(*sys.argv[1:])
