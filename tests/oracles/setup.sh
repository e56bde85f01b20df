#!/bin/sh
# Makes the Python environment in which the outside oracle runs: sh setup.sh VENV
# Afterwards VENV/ holds Python with python-chess (PyPI `chess`), feedparser, distributed, statsmodels and webvtt-py, and
# VENV-source/ its unpacked source archive, whose real games are an oracle too. Says nothing and does nothing when both
# are there already.
set -eu

VERSION=1.11.2
FEEDPARSER=6.0.14
DISTRIBUTED=2026.8.0
STATSMODELS=0.15.0
WEBVTT=0.6.0
[ $# -eq 1 ] || { echo "usage: sh setup.sh VENV" >&2; exit 2; }
VENV=$1
SOURCE=$VENV-source
DONE=$VENV/chess-$VERSION-is-ready
PIP="$VENV/bin/python -m pip --quiet --disable-pip-version-check"

# An environment of before gains what it has not yet.
add() {
    [ ! -e "$VENV/$1-$2-is-ready" ] || return 0
    $PIP install "$1==$2"
    touch "$VENV/$1-$2-is-ready"
}
add_others() {
    add feedparser "$FEEDPARSER"
    add distributed "$DISTRIBUTED"
    add statsmodels "$STATSMODELS"
    add webvtt-py "$WEBVTT"
}
if [ -e "$DONE" ] && [ -d "$SOURCE" ]; then
    add_others
    exit 0
fi

# A bare Debian has python3 without ensurepip, and then `python3 -m venv` fails half-way.
can_make_venv() { "$1" -c 'import venv, ensurepip' 2>/dev/null; }
PYTHON=python3
if ! can_make_venv "$PYTHON"; then
    [ "$(id -u)" -eq 0 ] || { echo "setup.sh: python3 cannot make a virtual environment; install python3-venv" >&2; exit 1; }
    # Debian's own Python gains the module, whichever python3 is first in PATH.
    PYTHON=/usr/bin/python3
    if ! can_make_venv "$PYTHON"; then
        DEBIAN_FRONTEND=noninteractive
        export DEBIAN_FRONTEND
        apt-get update -qq >/dev/null
        apt-get install -y -qq python3 python3-venv >/dev/null
    fi
fi

# What an interrupted run left behind is made again.
rm -rf "$VENV" "$SOURCE" "$SOURCE.part"
"$PYTHON" -m venv "$VENV"
mkdir -p "$SOURCE.part"
$PIP download --no-binary chess --no-deps --dest "$SOURCE.part" "chess==$VERSION"
# Twice quiet: pip warns that this package is built the old way.
$PIP --quiet install "$SOURCE.part/chess-$VERSION.tar.gz"
tar -xzf "$SOURCE.part/chess-$VERSION.tar.gz" -C "$SOURCE.part"
mv "$SOURCE.part" "$SOURCE"
touch "$DONE"
add_others
