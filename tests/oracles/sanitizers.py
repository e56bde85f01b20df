"""The plain form comes through sanitizers with every word: python sanitizers.py READERS

Lessons by chance are baked in a page and in a feed. npm `sanitize-html`, `dompurify` (in jsdom) and `rehype-sanitize`, and PyPI
`nh3` (the crate ammonia), each with the settings it comes with, clean the feed's HTML and the page's elements. Python's
html.parser reads what is left: every letter of the plain form, in their order; in feeds nothing else, and the
lists and paragraphs with it. What is lost of tags and attributes is counted and printed, not judged. What they leave of the
ways to put a lesson into a post is as the table in www/guide/baking.md says.
"""
import collections
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
import html as escapes

import nh3

import lessonbook
import plainform
import program

HERE = os.path.dirname(os.path.abspath(__file__))
LESSONS = 24
# The rows of the table in the guide, and a post that has each.
WAYS = {
    "a fence, as its generator writes it": '<pre><code class="language-pgn">1. e4 e5\n\n2. Nf3 *\n</code></pre>',
    "`<ply-line>` with a `<pre>`": '<ply-line id="a"><pre>1. e4 e5\n\n2. Nf3 *\n</pre></ply-line>',
    "a picture in a link": '<a href="https://your-site.example/a.html"><img src="https://your-site.example/a.svg" alt="After 1.e4"></a>',
    "`<iframe>`": '<iframe src="https://your-site.example/a.html" sandbox="allow-scripts" title="A lesson"></iframe>',
    "`<script>`": '<script src="/plyline.js"></script>',
}


def letters(node):
    """All text without white space: what separates blocks is their tags, and those are compared apart."""
    return "".join(node.text().split())


def kinds(node):
    """The tags below a node, and their attributes."""
    found = collections.Counter()
    for it in node.walk():
        found[f"<{it.name}>"] += 1
        found.update(f"{it.name} {name}" for name in it.attributes)
    return found


def baked(folder):
    """The HTML of each entry of a baked feed, and each element of a baked page as it is written there."""
    chance = random.Random(4)
    texts = [lessonbook.Lesson(chance).pgn() for _ in range(LESSONS)]
    feed = lessonbook.feed("https://example.org/", texts)
    lessons = [f'<ply-line id="l{at}"><pre>\n{escapes.escape(text)}\n</pre></ply-line>' for at, text in enumerate(texts)]
    site, out = os.path.join(folder, "site"), os.path.join(folder, "out")
    os.mkdir(site)
    for name, text in (("feed.xml", feed), ("index.html", lessonbook.page("\n".join(lessons)))):
        with open(os.path.join(site, name), "w", encoding="utf-8") as handle:
            handle.write(text)
    program.run("bake", site, "--out", out, "--base-url", "https://example.org/")
    entries = [it.text for it in ElementTree.parse(os.path.join(out, "feed.xml")).getroot().iter("description")][1:]
    with open(os.path.join(out, "index.html"), encoding="utf-8") as handle:
        elements = re.findall(r"<ply-line .*?</ply-line>", handle.read(), re.S)
    return entries, elements


def cleaned(readers, pieces):
    done = subprocess.run(["node", os.path.join(HERE, "sanitizers.mjs"), readers], input=json.dumps(pieces).encode(),
                          capture_output=True, timeout=120)
    if done.returncode:
        raise program.Refused(done.stderr.decode("utf-8", "replace")[-600:])
    return json.loads(done.stdout) | {"nh3": [nh3.clean(it) for it in pieces]}


def left_of(before, after):
    """In the words of the guide's table."""
    tree = plainform.Tree(after).root
    bare = {name for it in tree.walk() for name in it.attributes} - {"rel"}
    if kinds(plainform.Tree(before).root) - kinds(tree) == collections.Counter() and bare:
        return "stays"
    if letters(tree):
        return "its text"
    return "the link" if any(it.name == "a" for it in tree.walk()) else "gone"


def table(readers):
    """The guide's table against the sanitizers."""
    with open(os.path.join(HERE, "..", "..", "www", "guide", "baking.md"), encoding="utf-8") as handle:
        rows = [[cell.strip() for cell in line.strip().strip("|").split("|")] for line in handle if line.startswith("|")]
    heads = next((row for row in rows if row[0] == "in the post"), None)
    if heads is None:
        return ["the guide has no table of sanitizers"]
    after = {name.lower(): pieces for name, pieces in cleaned(readers, list(WAYS.values())).items()}
    wrong = [f"the guide says nothing of {name}" for name in after if name not in [head.lower() for head in heads]]
    for at, (way, before) in enumerate(WAYS.items()):
        said = next((row for row in rows if row[0] == way), None)
        real = [way, *(left_of(before, after[head.lower()][at]) for head in heads[1:])]
        if said != real:
            wrong.append(f"the guide says {said}, and it is {real}")
    return wrong


def check():
    wrong, seen = table(sys.argv[1]), 0
    with tempfile.TemporaryDirectory() as folder:
        entries, elements = baked(folder)
    if (len(entries), len(elements)) != (LESSONS, LESSONS):
        wrong.append(f"{len(entries)} entries and {len(elements)} elements of {LESSONS}")
    for name, results in cleaned(sys.argv[1], entries + elements).items():
        lost = collections.Counter()
        for at, (before, after) in enumerate(zip(entries + elements, results)):
            is_entry = at < len(entries)
            root = plainform.Tree(before).root
            form = root if is_entry else plainform.plain(root.elements()[0])
            left = plainform.Tree(after).root
            want, have = letters(form), letters(left)
            seen += len(want)
            if (have != want) if is_entry else want not in have:
                where = next((i for i, (one, other) in enumerate(zip(want, have)) if one != other), min(len(want), len(have)))
                wrong.append(f"{name}: {'entry' if is_entry else 'element'} {at}: after {want[max(0, where - 20):where]!r} comes "
                             f"{have[where:where + 30]!r}, not {want[where:where + 30]!r}")
            if is_entry:
                lost += kinds(form) - kinds(left)
                for tag in ("<ol>", "<li>", "<p>"):
                    if kinds(form)[tag] > kinds(left)[tag]:
                        wrong.append(f"{name}: entry {at}: {tag} is lost")
        print(f"{name} takes away: {', '.join(f'{what} ({many})' for what, many in sorted(lost.items())) or 'nothing'}")
    return wrong, f"{len(entries)} entries, {len(elements)} elements, {seen} letters by 4 sanitizers"


if __name__ == "__main__":
    program.main(check)
