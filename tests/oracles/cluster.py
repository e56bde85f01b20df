"""The example that counts on a cluster writes what one machine writes: python cluster.py FOLDER

FOLDER: the unpacked source archive of the crate `pgn-reader` 0.29.0. Its larger collections are cut into twelve files, which
`examples/cluster/tally.py` counts on a local cluster of two workers of PyPI `distributed`; one of them is killed on the way.
The file must be that of a single run, byte for byte.
"""
import glob
import os
import random
import re
import stat
import subprocess
import sys
import tempfile
import time

from distributed import LocalCluster

import program

FILES = 12
SECONDS = 240
EXAMPLE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "examples", "cluster", "tally.py")
LESSON = "1. e4 e5 (1... c5 2. Nf3 d6 3. d4) (1. d4 d5 2. c4 e6 (2... c6)) 2. Nf3 Nc6 3. Bb5 (3. Bc4) *\n"


def games(folder):
    """The text of every game."""
    texts = []
    for path in sorted(glob.glob(os.path.join(folder, "**", "*_1000k.pgn"), recursive=True)):
        with open(path, encoding="utf-8") as file:
            texts += re.split(r"(?<=\n)\n(?=\[Event )", file.read())
    return texts


def check(source):
    chance = random.Random(15)
    texts = games(source)
    with tempfile.TemporaryDirectory() as folder:
        at = lambda name: os.path.join(folder, name)
        with open(at("lesson.pgn"), "w", encoding="utf-8") as file:
            file.write(LESSON)
        cuts = [0, *sorted(chance.sample(range(1, len(texts)), FILES - 1)), len(texts)]
        shards = [at(f"part-{number:02}.pgn") for number in range(FILES)]
        for path, begin, end in zip(shards, cuts, cuts[1:]):
            with open(path, "w", encoding="utf-8") as file:
                file.write("\n".join(texts[begin:end]) + "\n")
        program.run("tally", at("lesson.pgn"), "--games", *shards, "--out", at("one.json"))
        # Slow enough to die on the way.
        slow = at("slow.sh")
        with open(slow, "w", encoding="utf-8") as file:
            file.write(f'#!/bin/sh\nsleep 1\nexec "{os.environ["PLYLINE"]}" "$@"\n')
        os.chmod(slow, stat.S_IRWXU)
        there = dict(os.environ, PLYLINE=slow)
        with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, env={"PLYLINE": slow}) as cluster:
            run = subprocess.Popen([sys.executable, EXAMPLE, cluster.scheduler_address, at("lesson.pgn"), at("many.json"), *shards],
                                   env=there, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
            time.sleep(5)
            was_running = run.poll() is None
            workers = [worker.process.pid for worker in cluster.workers.values()]
            os.kill(workers[0], 9)
            said = run.communicate(timeout=SECONDS)[1].decode("utf-8", "replace")
        if run.returncode:
            return [f"the example ended with {run.returncode}: {said[-600:]}"], 0
        with open(at("one.json"), "rb") as one, open(at("many.json"), "rb") as many:
            wrong = [] if one.read() == many.read() else ["two workers wrote another file than one machine"]
        if not was_running:
            wrong.append("the run was over before a worker was killed")
        return wrong, len(texts)


def main():
    wrong, count = check(sys.argv[1])
    for reason in wrong:
        print(reason)
    print(f"{count} games in {FILES} files, two workers, one of them killed")
    return bool(wrong)


if __name__ == "__main__":
    sys.exit(main())
