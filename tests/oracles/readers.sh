#!/bin/sh
# Brings programs that others wrote to read pages: sh readers.sh VENV FOLDER
# Afterwards FOLDER/node_modules holds the Nu HTML checker (npm `vnu-jar`, which needs Java 17) and three sanitizers, and VENV
# has the fourth (PyPI `nh3`, the Rust crate ammonia). Does nothing when all is there already.
set -eu

CHECKER=26.9.27
NH3=0.3.8
# jsdom 26 and sanitize-html 2.17.0 are the last that run on Node 20.
PACKAGES="vnu-jar@$CHECKER sanitize-html@2.17.0 dompurify@3.5.0 jsdom@26.1.0 rehype@13.0.2 rehype-sanitize@6.0.0"
[ $# -eq 2 ] || { echo "usage: sh readers.sh VENV FOLDER" >&2; exit 2; }
VENV=$1
FOLDER=$2
DONE=$FOLDER/ready-$(echo "$PACKAGES nh3@$NH3" | cksum | cut -d ' ' -f 1)
if [ ! -e "$DONE" ]; then
    # What an interrupted run left behind is made again.
    rm -rf "$FOLDER"
    mkdir -p "$FOLDER"
    # shellcheck disable=SC2086
    npm install --silent --no-audit --no-fund --prefix "$FOLDER" $PACKAGES
    touch "$DONE"
fi
[ "$("$VENV/bin/python" -c 'import importlib.metadata as of; print(of.version("nh3"))' 2>/dev/null)" = "$NH3" ] ||
    "$VENV/bin/python" -m pip --quiet --disable-pip-version-check install "nh3==$NH3"
