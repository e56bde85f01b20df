"""Feeds before and after `<p>written by plyline</p>` was added to the HTML of every entry: another reader sees the same
entries, with that and nothing else added.

    python feeds.py FOLDER

FOLDER: where `tests/native/bake/feed.rs` wrote `*-before.xml` and `*-after.xml`. They are read by feedparser (PyPI, 6.0.14)
and by Python's own XML parser with the rules of RSS 2.0 and RFC 4287 that say where HTML is: `description` and
`content:encoded` of an item as text; `content` and `summary` of an entry, of type `html` as text, of type `xhtml` as the
content of its `div` (3.1.1.2, 3.1.1.3, 4.1.3).
"""
import copy
import glob
import os
import sys
import xml.etree.ElementTree as ElementTree

import feedparser

import program

ADDED = "<p>written by plyline</p>"
ATOM = "{http://www.w3.org/2005/Atom}"
XHTML = "{http://www.w3.org/1999/xhtml}"
ENCODED = "{http://purl.org/rss/1.0/modules/content/}encoded"


def parsed(path):
    """What feedparser has of each entry, as written: nothing resolved, nothing cleaned."""
    read = feedparser.parse(path, resolve_relative_uris=False, sanitize_html=False)
    if read.bozo:
        raise ValueError(f"{path}: feedparser says {read.bozo_exception}")
    return read


def without(value, count):
    """The same without what was added; `count` is a list that counts how often it was there."""
    if isinstance(value, str):
        count.append(value.count(ADDED))
        return value.replace(ADDED, "").strip()
    if isinstance(value, dict):
        return {key: without(inner, count) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [without(inner, count) for inner in value]
    return value


def fields(root):
    """Every place of HTML, by the rules: the element, whether it is XHTML."""
    for item in root.iter("item"):
        yield from ((field, False) for field in item if field.tag in ("description", ENCODED))
    for entry in root.iter(f"{ATOM}entry"):
        for field in entry:
            if field.tag in (f"{ATOM}content", f"{ATOM}summary"):
                form = field.get("type", "text")
                if form in ("html", "text/html"):
                    yield field, False
                elif form == "xhtml":
                    yield field.find(f"{XHTML}div"), True


def bare(root):
    """A document without what was added, and how often that was there."""
    root, count = copy.deepcopy(root), 0
    for field, is_xhtml in list(fields(root)):
        if is_xhtml:
            last = field[-1] if len(field) else None
            if last is not None and last.tag == f"{XHTML}p" and last.text == "written by plyline":
                count += 1
                field.remove(last)
        else:
            text = (field.text or "").strip()
            count += text.endswith(ADDED)
            field.text = text.removesuffix(ADDED)
    return ElementTree.canonicalize(ElementTree.tostring(root, encoding="unicode")), count


def check():
    wrong, seen, entries = [], 0, 0
    pairs = sorted(glob.glob(os.path.join(sys.argv[1], "*-before.xml")))
    if not pairs:
        wrong.append(f"no feeds in {sys.argv[1]}")
    for path in pairs:
        after = path.replace("-before", "-after")
        old, new = parsed(path), parsed(after)
        counts = []
        if without(old.entries, []) != without(new.entries, counts) or old.feed != new.feed:
            wrong.append(f"{path}: feedparser sees other entries after than before")
        if not sum(counts):
            wrong.append(f"{path}: feedparser does not see what was added")
        entries += len(old.entries)
        old, new = ElementTree.parse(path).getroot(), ElementTree.parse(after).getroot()
        was, none = bare(old)
        remains, added = bare(new)
        wanted = sum(1 for field, _ in fields(old) if "".join(field.itertext()).strip())
        if none or added != wanted:
            wrong.append(f"{path}: {wanted} places of HTML, {added} written to")
        if was != remains:
            at = next((at for at, (one, other) in enumerate(zip(was, remains)) if one != other), 0)
            wrong.append(f"{path}: {was[at - 60:at + 60]!r} has become {remains[at - 60:at + 60]!r}")
        seen += added
    return wrong, f"{len(pairs)} feeds, {entries} entries, {seen} places"


if __name__ == "__main__":
    program.main(check)
