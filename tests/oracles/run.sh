#!/bin/sh
# Checks `plyline tree FILE --json` against python-chess: sh run.sh VENV PLYLINE [FOLDER]
# VENV: the oracle's Python environment, made by setup.sh when it is not there. PLYLINE: the program.
# FOLDER: where the written PGN files stay (otherwise they are removed at the end).
# Prints a line for each check, the reasons under one that failed, and the count last; exit 1 if any failed.
set -u

[ $# -ge 2 ] || { echo "usage: sh run.sh VENV PLYLINE [FOLDER]" >&2; exit 2; }
HERE=$(cd "$(dirname "$0")" && pwd)
VENV=$1
PLYLINE=$2
GAMES=500
# python-chess 1.11.2 carries 14 games of ordinary chess that it reads without an error.
REAL_GAMES=14
# No __pycache__ in the source tree; the same text encoding whatever the locale.
export PYTHONDONTWRITEBYTECODE=1 PYTHONUTF8=1

SCRATCH=$(mktemp -d)
trap 'rm -rf "$SCRATCH"' EXIT
trap 'exit 1' INT TERM
FOLDER=${3:-$SCRATCH}
passed=0
failed=0

# check NAME COMMAND…: one named check.
check() {
    name=$1
    shift
    if "$@" >"$SCRATCH/said" 2>&1; then
        passed=$((passed + 1))
        echo "ok $name"
    else
        failed=$((failed + 1))
        echo "FAILED $name"
        sed 's/^/    /' "$SCRATCH/said"
    fi
}
python() { "$VENV/bin/python" "$@"; }
compare() { python "$HERE/compare.py" --plyline "$PLYLINE" "$@"; }

if ! sh "$HERE/setup.sh" "$VENV" >"$SCRATCH/said" 2>&1; then
    sed 's/^/    /' "$SCRATCH/said"
    echo "FAILED python-chess is installed"
    echo "oracles: 0 passed, 1 failed"
    exit 1
fi

# First the oracle itself: who watches the watchman.
check "the comparison finds every slip that a false program makes, and names its field" \
    python "$HERE/selftest.py" slips
check "the outline labels that the oracle works out are those worked out by hand" \
    python "$HERE/selftest.py" labels
check "what cannot be compared is never called equal" \
    python "$HERE/selftest.py" refusals
check "the $GAMES random trees hold every kind of move, sign, comment and nesting that they are there to test" \
    python "$HERE/trees.py" "$FOLDER/trees" --games "$GAMES"

# Source: python-chess (PyPI `chess` 1.11.2) wrote these texts and read them again.
check "$GAMES random trees written by python-chess read to the same trees" \
    compare --games "$GAMES" "$FOLDER"/trees/*.pgn
# Source: python-chess's reading of texts that it does not write itself.
check "texts written by hand, close together or deep inside each other, read to the trees that python-chess reads" \
    compare "$HERE/handwritten.pgn"
# Source: the games in python-chess's source archive, by its own reading.
check "the ordinary games of python-chess's archive are found" \
    python "$HERE/archive.py" "$VENV-source" "$FOLDER/real"
check "the $REAL_GAMES real games of python-chess's archive read to the same moves" \
    compare --games "$REAL_GAMES" "$FOLDER"/real/*.pgn

echo "oracles: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
