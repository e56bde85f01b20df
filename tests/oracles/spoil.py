"""A program that is plyline but for one slip, to test the outside checks themselves.

It runs the program named by SPOIL_PLYLINE with the same arguments and spoils what that prints in the way named by
SPOIL: `fen` a move number of the last position, `column` where an error is, `square` the first square that a
message names, `title` the first piece that a picture's title names, `fix` what a fix puts in, `silent` no findings,
`comment` a word of the export, `crash` the exit code.
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
    elif way == "crash":
        code = 101
    sys.stdout.buffer.write(output.encode("utf-8"))
    return code


if __name__ == "__main__":
    sys.exit(main())
