"""Baked pages have no error that they had not before: python validity.py READERS

The Nu HTML checker (npm `vnu-jar`, in READERS/node_modules, by readers.sh) reads the pages of the demo site, the examples,
lessons by chance and every element of ours in every place where authors put it, before and after baking. Errors are compared
without their places. What the drawn form holds is in templates, where the checker looks no further than their syntax; so each
is also checked as a page of its own, of which only the kinds of errors are counted.
"""
import collections
import json
import os
import random
import re
import subprocess
import sys
import tempfile

import lessonbook
import program

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "..", "..")
# What the checker does not know yet, by its exact words, with the reason.
BEHIND = {}
LESSON = '<ply-line id="a"><pre>\n1. e4 {So.} e5 (1... c5 {Ask: What now?} 2. Nf3) 2. Nf3 {Choose: if you like} *\n</pre></ply-line>'
INLINE = [
    '<ply-diagram for="a" at="1.e4"></ply-diagram>', '<ply-diagram fen="8/5k2/8/8/3P4/8/4K3/8"></ply-diagram>',
    '<ply-ref for="a" at="1.e4">the move</ply-ref>', '<ply-quiz for="a" at="1...c5">What now?</ply-quiz>',
    '<ply-recall for="a" side="white"></ply-recall>',
]
BLOCK = ['<ply-recap for="a" side="black"></ply-recap>', LESSON.replace('id="a"', 'id="b"'),
         '<ply-line id="c"><pre>1. d4 d5 2. c4 *</pre></ply-line>',
         "<ply-quiz><pre>1. e4 {Ask: And now?} e5 *</pre></ply-quiz>"]
FENCES = ['<pre><code class="language-pgn">1. e4 {So.} e5 *\n</code></pre>',
          '<div class="language-pgn highlighter"><div class="highlight"><pre class="highlight"><code>1. d4 d5 *\n</code></pre></div></div>',
          '<pre><code class="language-ply-diagram">[For "a"]\n[At "1.e4"]\n</code></pre>',
          '<pre><code class="language-ply-recap">[For "a"]\n</code></pre>',
          '<pre><code class="language-fen">8/5k2/8/8/3P4/8/4K3/8 w - - 0 1\n</code></pre>']
ROOMS = ["{}", "<div>{}</div>", "<ul><li>{}</li></ul>", "<blockquote>{}</blockquote>", "<section><h2>x</h2>{}</section>",
         "<table><tr><td>{}</td></tr></table>", "<details><summary>x</summary>{}</details>", "<figure>{}<figcaption>x</figcaption></figure>"]
PHRASES = ["<p>{}</p>", "<p>Some words {} and more.</p>", "<p><em>In {} it</em></p>", "<ul><li>Words {} so</li></ul>",
           "<p>\n{}\n</p>"]


def made():
    """Pages by chance, and those with every element in every place."""
    chance = random.Random(3)
    for at in range(6):
        yield f"chance-{at}.html", "\n".join(lessonbook.element(lessonbook.Lesson(chance).pgn(), 3 * at + one, chance)
                                             for one in range(3))
    for at, room in enumerate(ROOMS):
        yield f"room-{at}.html", LESSON + "".join(room.format(one) for one in [*INLINE, *BLOCK, *FENCES])
    for at, phrase in enumerate(PHRASES):
        yield f"phrase-{at}.html", LESSON + "".join(phrase.format(one) for one in INLINE)
    yield "open.html", LESSON + "<p>An open paragraph\n" + "<p>another\n".join(FENCES)
    yield "prose.html", f'{LESSON}<ply-prose for="a"><p>After 1.e4 e5 2.Nf3 comes <em>1...c5</em>.</p></ply-prose>'


def checked(readers, paths):
    """What the checker says of pages: errors by page, without their places."""
    jar = os.path.join(readers, "node_modules", "vnu-jar", "build", "dist", "vnu.jar")
    done = subprocess.run(["java", "-jar", jar, "--format", "json", "--exit-zero-always", "--errors-only", *paths],
                          stdin=subprocess.DEVNULL, capture_output=True, timeout=300)
    found = {path: collections.Counter() for path in paths}
    try:
        messages = json.loads(done.stderr)["messages"]
    except (ValueError, KeyError) as error:
        raise program.Refused(f"the checker says {done.stderr[-300:]!r}") from error
    for message in messages:
        if message["type"] in ("error", "non-document-error"):
            found[message["url"].removeprefix("file:")][message["message"]] += 1
    return found


def drawn(page):
    """What is in the templates of a page."""
    return re.findall(r'<template shadowrootmode="open"[^>]*>(.*?)</template>', page, re.S)


def check():
    readers = os.path.abspath(sys.argv[1])
    wrong, kinds = [], collections.Counter()
    with tempfile.TemporaryDirectory() as folder:
        folder = os.path.realpath(folder)
        own = os.path.join(folder, "own")
        os.mkdir(own)
        for name, body in made():
            with open(os.path.join(own, name), "w", encoding="utf-8") as handle:
                handle.write(lessonbook.page(body))
        pairs, roots = [], []
        for name, site in (("demo", os.path.realpath(os.path.join(ROOT, "demo-site", "pages"))),
                           ("examples", os.path.realpath(os.path.join(ROOT, "examples"))), ("own", own)):
            out = os.path.join(folder, f"{name}-baked")
            program.run("bake", site, "--out", out)
            for below, _, names in sorted(os.walk(site)):
                for page in sorted(names):
                    if page.endswith(".html"):
                        path = os.path.join(below, page)
                        pairs.append((path, os.path.join(out, os.path.relpath(path, site))))
        for _, baked in pairs:
            with open(baked, encoding="utf-8") as handle:
                text = handle.read()
            for root in drawn(text):
                path = os.path.join(folder, f"root-{len(roots)}.html")
                with open(path, "w", encoding="utf-8") as handle:
                    handle.write(lessonbook.page(root, script=""))
                roots.append(path)
        found = checked(readers, [path for pair in pairs for path in pair] + roots)
        for before, baked in pairs:
            for message, many in (found[baked] - found[before]).items():
                if message not in BEHIND:
                    wrong.append(f"{os.path.relpath(baked, folder)}: {many} times: {message}")
        for root in roots:
            kinds.update(found[root])
    for message, many in sorted(kinds.items()):
        print(f"in {len(roots)} drawn forms, {many} times: {message}")
    had = sum(sum(found[before].values()) for before, _ in pairs)
    elements = len(roots)
    return wrong, f"{len(pairs)} pages, {had} errors before, {elements} drawn forms with {sum(kinds.values())} errors"


if __name__ == "__main__":
    program.main(check)
