"""The example that Eleventy builds, by its own build line: python eleventy.py

Eleventy (npm `@11ty/eleventy` 3.1.8) makes a page of `examples/eleventy/index.md`, and its build line bakes it. What the page
shows without script is read back as in baked.py; each move that the prose names is a link to it, every file that the page
names is there, and baking once more changes nothing.
"""
import os
import re
import subprocess
import tempfile

import baked
import plainform
import program
import sites

ROOT = os.path.realpath(os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", ".."))
EXAMPLE = os.path.join(ROOT, "examples", "eleventy")
MAKE = os.path.join(ROOT, "tests", "pages", "articles", "generators", "site.sh")


def check():
    with open(os.path.join(EXAMPLE, "index.md"), encoding="utf-8") as handle:
        prose, notation = re.fullmatch(r"(.*)```pgn\n(.*)```\n", handle.read(), re.S).groups()
    counts = dict.fromkeys(("moves", "words", "questions", "pictures", "hidden"), 0)
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "site")
        done = subprocess.run(["sh", MAKE, out, os.environ["PLYLINE"]], stdin=subprocess.DEVNULL, capture_output=True)
        if done.returncode:
            raise program.Refused(f"not built: {done.stderr[-600:].decode('utf-8', 'replace')}")
        before = sites.contents(out)
        program.run("bake", out, "--in-place")
        wrong = sites.differences("baked once more", before, sites.contents(out))
        page = plainform.Tree(before["index.html"].decode("utf-8")).root
        lessons = plainform.ours(page)
        if len(lessons) != 1 or lessons[0].get("data-plyline-baked") is None:
            return [*wrong, f"{len(lessons)} lessons, baked or not"], "nothing"
        wrong += baked.compared("the page", lessons[0], notation, counts, out)
        links = [it for it in page.walk() if it.name == "a" and it.get("data-plyline") == ""]
        named = [move for _, _, move in plainform.SHOWN_MOVE.findall(prose.replace("...", "…"))]
        told = [plainform.SHOWN_MOVE.findall(it.text().replace("...", "…"))[0][2] for it in links]
        leads = [it.get("href").rpartition("/")[2].lstrip("0123456789.") for it in links]
        if not named or not named == told == leads:
            wrong.append(f"the prose names {named}; linked are {told}, to {leads}")
        for it in page.walk():
            for name in ("src", "href"):
                address = it.get(name) or "#"
                if address[0] != "#" and not os.path.isfile(os.path.join(out, address.lstrip("/"))):
                    wrong.append(f"there is no {address}")
    return wrong, f"{counts['moves']} moves, {counts['words']} words, {len(links)} links"


if __name__ == "__main__":
    program.main(check)
