"""A program that is plyline but for one slip, to test the outside checks themselves.

It runs the program named by SPOIL_PLYLINE with the same arguments and spoils what that prints in the way named by
SPOIL: `fen` a move number of the last position, `column` where an error is, `square` the first square that a
message names, `title` the first piece that a picture's title names, `fix` what a fix puts in, `silent` no findings,
`comment` a word of the export, `crash` the exit code. Of baked pages and feeds: `move` the number of a move, `piece` where
a king is, `word` a comment, `answers` their heading, `html` an element that HTML has no more, `field` words where
sanitizers read none, `again` a line more with each run.
"""
import json
import os
import re
import subprocess
import sys


def each(output, change):
    """Every line of JSON changed."""
    lines = [json.loads(line) for line in output.removesuffix("\n").split("\n") if line]
    for line in lines:
        change(line)
    return "".join(json.dumps(line, ensure_ascii=False) + "\n" for line in lines)


def fen(tree):
    tree["nodes"][-1]["fen"] += "1"


def column(finding):
    if finding["severity"] == "error":
        finding["column"] += 1


def square(finding):
    files = "abcdefgh"
    finding["message"] = re.sub(r"\b([a-h])([1-8])\b", lambda found: files[files.index(found[1]) - 1] + found[2],
                                finding["message"], count=1)


def fix(finding):
    if finding["fix"]:
        finding["fix"]["text"] = "x" + finding["fix"]["text"]


# What is changed in each page and feed, as often as is said; in feeds with the signs of XML.
BAKED = {
    "move": (r'(dir="ltr">)(\d+)([.…])', lambda found: f"{found[1]}{int(found[2]) + 1}{found[3]}", 0),
    "piece": (r'(alt="White: king )(\w\d)', lambda found: f"{found[1]}{'a1' if found[2] != 'a1' else 'b1'}", 0),
    "word": (r"<bdi>", "<bdi>so ", 0),
    "answers": (r'<p class="main">Answers</p>', "", 0),
    "html": (r'<div data-plyline="">', '<div data-plyline=""><center>so</center>', 1),
    "field": (r'(<|&lt;)p class="main"(>|&gt;)', r'\g<0>\1textarea\2so\1/textarea\2', 0),
    "again": (r"\Z", "\n", 0),
}


def baked(folder, way):
    pattern, new, count = BAKED[way]
    for below, _, names in os.walk(folder):
        for name in names:
            if name.endswith((".html", ".xml")):
                path = os.path.join(below, name)
                with open(path, encoding="utf-8", newline="") as handle:
                    text = handle.read()
                with open(path, "w", encoding="utf-8", newline="") as handle:
                    handle.write(re.sub(pattern, new, text, count=count))


def main():
    done = subprocess.run([os.environ["SPOIL_PLYLINE"], *sys.argv[1:]], stdin=subprocess.DEVNULL, capture_output=True)
    output, code, command, way = done.stdout.decode("utf-8"), done.returncode, sys.argv[1], os.environ["SPOIL"]
    if command == "tree" and way == "fen":
        output = each(output, fen)
    elif command == "tree" and way == "title":
        output = re.sub("<title>White: king ..", "<title>White: king i9", output, count=1)
    elif command == "check" and way in ("column", "square", "fix"):
        output = each(output, {"column": column, "square": square, "fix": fix}[way])
    elif command == "check" and way == "silent":
        output = ""
    elif command == "export" and way == "comment":
        output = output.replace("{", "{so ")
    elif command == "bake" and way in BAKED:
        baked(sys.argv[sys.argv.index("--out") + 1] if "--out" in sys.argv else sys.argv[2], way)
    elif way == "crash":
        code = 101
    sys.stdout.buffer.write(output.encode("utf-8"))
    return code


if __name__ == "__main__":
    sys.exit(main())
