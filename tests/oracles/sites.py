"""Whole sites: python sites.py [--long]

Sites by chance, of pages with a lesson, a diagram, a recap and prose. Baked twice they come out the same, a second run in place
writes no file, and a run that is killed at any moment leaves each page as it was or as it will be, so that the next run
completes the site and leaves nothing else behind. With `--long` (by PLYLINE_LONG in run.sh) also how time and memory of
sites of 250, 500 and 1,000 pages grow: at most RATIO times for each doubling.
The program is the environment's PLYLINE.
"""
import argparse
import html
import os
import random
import re
import shutil
import signal
import subprocess
import tempfile
import time

import lessonbook
import program

SIZES = (250, 500, 1000)
# For one doubling; 2 is linear, 4 quadratic.
RATIO = 2.6
PAGES, KILLS = 60, 10
LONG_PAGES, LONG_KILLS = 120, 50
LESSONS = 40
PICTURE = re.compile(rb"plyline-pictures/[0-9a-f]{16}\.svg")


def site(folder, pages):
    """A site of that many pages, in folders, with what belongs to it."""
    chance = random.Random(pages)
    lessons = [lessonbook.Lesson(chance) for _ in range(LESSONS)]
    texts = [html.escape(it.pgn()) for it in lessons]
    for at in range(pages):
        # Each page has a lesson of its own words, and positions that other pages have too.
        text = texts[at % LESSONS].replace("plan", f"plan{at}x")
        first = lessons[at % LESSONS].game.variations[0]
        body = (f'<h1>Page {at}</h1>\n<ply-line id="lesson"><pre>\n{text}\n</pre></ply-line>\n'
                f'<p><ply-diagram for="lesson" at="{first.san()}"></ply-diagram></p>\n'
                f'<ply-recap for="lesson" side="white"></ply-recap>\n'
                f'<ply-prose for="lesson"><p>It begins with {first.san()}, in folder {at}.</p></ply-prose>')
        below = os.path.join(folder, f"{at // 100:02}", f"post-{at}")
        os.makedirs(below)
        with open(os.path.join(below, "index.html"), "w", encoding="utf-8") as handle:
            handle.write(lessonbook.page(body, title=f"Page {at}"))
    with open(os.path.join(folder, "site.css"), "w", encoding="utf-8") as handle:
        handle.write("body { margin: 0 }\n")


def contents(folder):
    """The bytes of every file, by its path."""
    found = {}
    for below, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(below, name)
            with open(path, "rb") as handle:
                found[os.path.relpath(path, folder)] = handle.read()
    return found


def times(folder):
    return {os.path.join(below, name): os.stat(os.path.join(below, name)).st_mtime_ns
            for below, _, names in os.walk(folder) for name in names}


def started(*arguments):
    return subprocess.Popen([os.environ["PLYLINE"], "bake", *arguments], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                            stderr=subprocess.PIPE)


def measured(*arguments):
    """Seconds of the processor, and the most memory in kilobytes."""
    child = started(*arguments)
    said = child.stderr.read()
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):
        raise program.Refused(f"bake ended with {child.returncode}: {said[-300:].decode('utf-8', 'replace')}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss


def grown(folder):
    """What is wrong with how the work grows."""
    wrong, before = [], None
    for pages in SIZES:
        made = os.path.join(folder, f"site-{pages}")
        os.mkdir(made)
        site(made, pages)
        seconds, kilobytes = measured(made, "--out", f"{made}-out")
        print(f"{pages} pages: {seconds:.2f} s of the processor, {kilobytes} kB")
        if before is not None:
            for name, one, other in (("time", before[0], seconds), ("memory", before[1], kilobytes)):
                if other > RATIO * one:
                    wrong.append(f"{pages} pages take {other / one:.2f} times the {name} of half as many")
        before = seconds, kilobytes
        shutil.rmtree(made)
        shutil.rmtree(f"{made}-out")
    return wrong


def differences(what, one, other):
    return [f"{what}: {name}" for name in sorted(one.keys() | other.keys()) if one.get(name) != other.get(name)]


def killed(old, new, folder, kills, seconds):
    """Kills a run in place again and again; also how many left a site half done."""
    wrong, chance, halves, left = [], random.Random(50), 0, 0
    for at in range(kills):
        place = os.path.join(folder, f"killed-{at}")
        shutil.copytree(old, place)
        child = started(place, "--in-place")
        time.sleep(chance.random() * seconds * 1.1)
        child.send_signal(signal.SIGKILL)
        child.communicate()
        there, before, after = contents(place), contents(old), new
        is_old = is_new = False
        for name, text in there.items():
            if os.path.basename(name).startswith("."):
                left += 1
            elif text not in (before.get(name), after.get(name)):
                wrong.append(f"kill {at}: {name} is neither old nor new")
            elif before.get(name) != after.get(name):
                is_old |= text == before.get(name)
                is_new |= text == after.get(name)
        wrong += [f"kill {at}: {name} is gone" for name in before if name not in there]
        shown = {it for name, text in there.items() if name.endswith(".html") for it in PICTURE.findall(text)}
        wrong += [f"kill {at}: {name.decode()} is shown and not there" for name in shown if name.decode() not in there]
        halves += is_old and is_new
        program.run("bake", place, "--in-place")
        wrong += differences(f"kill {at}, after the next run", contents(place), after)
        shutil.rmtree(place)
    return wrong, halves, left


def check():
    parser = argparse.ArgumentParser()
    parser.add_argument("--long", action="store_true")
    is_long = parser.parse_args().long
    pages, kills = (LONG_PAGES, LONG_KILLS) if is_long else (PAGES, KILLS)
    with tempfile.TemporaryDirectory() as folder:
        wrong = grown(folder) if is_long else []
        made, first, second, place = (os.path.join(folder, name) for name in ("made", "first", "second", "place"))
        os.mkdir(made)
        site(made, pages)
        shutil.copytree(made, place)
        one = program.run("bake", made, "--out", first)
        two = program.run("bake", made, "--out", second)
        if (one[0].replace(first, ""), one[1]) != (two[0].replace(second, ""), two[1]):
            wrong.append("two runs say different things")
        wrong += differences("two runs differ", contents(first), contents(second))
        began = time.monotonic()
        program.run("bake", place, "--in-place")
        seconds = time.monotonic() - began
        new = contents(place)
        wrong += differences("in place is not as elsewhere", new, contents(first))
        before = times(place)
        program.run("bake", place, "--in-place")
        wrong += differences("the second run in place writes", times(place), before)
        before = times(first)
        program.run("bake", made, "--out", first)
        wrong += differences("the second run elsewhere writes", times(first), before)
        if new == contents(made):
            wrong.append("nothing was baked")
        more, halves, left = killed(made, new, folder, kills, seconds)
        wrong += more
        if not halves:
            wrong.append("no run was killed half way")
    return wrong, (f"{pages} pages, {len(new)} files, {kills} runs killed: {halves} half way, {left} files that were not in "
                   "their place")


if __name__ == "__main__":
    program.main(check)
