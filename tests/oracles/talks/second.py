"""A talk marked again by someone who sees only what was said: the sheet for it, and how far both markings agree.

    python second.py sheet TALK.marked.txt              the text with numbered places, no meanings, times in brackets
    python second.py compare TALK.marked.txt SHEET      agreement, and each place where the two differ

A sheet of answers has one line a place, `NUMBER MEANING`, meanings as in talks.py; `NUMBER` alone or left out is `-`;
`12+ bxc6` is a move meant but never said, after place 12; `#` begins a remark. Two markings agree at a place where both
say that it is no move, or both lead to the same positions by the same moves. Where they differ, the marked talk is to
say `?` or `?Nf3`; such a place counts as one where they differ, and one that is not marked so is listed (exit 1). The
share of agreeing places is the ceiling of what a listener can be asked.
"""
import re
import sys

import captions
import talks


def sheet(talk):
    """The text with `[number words]` for each place that was said, in paragraphs with times."""
    text, done, rows = talk.text, 0, []
    for number, place in said(talk):
        rows.append(text[done:place["from"]] + f"[{number} {place['said']}]")
        done = place["to"]
    return "".join(rows) + text[done:]


def said(talk):
    """The places that were said, numbered from 1."""
    return list(enumerate((place for place in talk.places if place["said"]), 1))


def answers(path):
    """Meanings by number; those of moves never said by the number before them."""
    found, unsaid = {}, {}
    with open(path, encoding="utf-8") as handle:
        for row in handle:
            row = row.split("#")[0].strip()
            if row:
                number, plus, meaning = re.match(r"(\d+)(\+?)\s*(.*)", row).groups()
                (unsaid if plus else found)[int(number)] = meaning or "-"
    return found, unsaid


def again(path, sheet_path):
    """The talk with the second marking in place of the first."""
    with open(path, encoding="utf-8") as handle:
        text = handle.read()
    found, unsaid = answers(sheet_path)
    number = 0

    def marked(place):
        nonlocal number
        if not place[1].strip():
            return ""
        number += 1
        hidden = "".join("{|%s}" % part.strip() for part in unsaid.get(number, "").split(";") if part.strip())
        return "{%s|%s}%s" % (place[1], found.get(number, "-"), hidden)
    head, gap, body = text.partition("\n\n")
    return talks.Talk(head + gap + talks.PLACE.sub(marked, body))


def paths(place):
    return [node.path() for node in place.get("nodes", [])]


def compare(path, sheet_path):
    first, second = talks.read(path), again(path, sheet_path)
    differ, either = [], 0
    for (number, one), (_, other) in zip(said(first), said(second)):
        if one["meaning"].startswith("?"):
            either += 1
        elif paths(one) != paths(other):
            differ.append(f"{number} {one['said']!r} at {captions.stamp(one['begin'])}: "
                          f"{one['meaning']!r} and {other['meaning']!r}")
    told, again_told = ({node.path() for node in talk.told()} for talk in (first, second))
    count = len(said(first))
    print("\n".join(differ), end="\n" if differ else "")
    print(f"ceiling {1 - (len(differ) + either) / count:.1%}: of {count} places {either} are marked `?`, {len(differ)} "
          f"more differ; moves in the same place {len(told & again_told) / len(told):.1%} of {len(told)} told")
    return 1 if differ else 0


def main():
    command, *rest = sys.argv[1:]
    if command == "sheet":
        print(sheet(talks.read(rest[0])))
        return 0
    return compare(*rest)


if __name__ == "__main__":
    sys.exit(main())
