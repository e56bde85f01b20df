#!/bin/sh
# Fuzzes each target for so many seconds on one core: sh tests/fuzz/run.sh [SECONDS [TARGET…]]
# Needs the nightly toolchain; installs cargo-fuzz into the cache folder of www/pack/tools.sh. What it
# finds is kept under target/fuzz-finds; make it small (`cargo fuzz tmin`), name it
# tests/fuzz/finds/TARGET-what.txt, and tests/native/regressions.rs replays it from then on.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
. "$root/www/pack/tools.sh"
cd "$root"

seconds=${1:-300}
[ $# -eq 0 ] || shift
[ $# -gt 0 ] || set -- reader san marks locators prose findings print_parse

command -v cargo-fuzz >/dev/null 2>&1 || cargo install --quiet cargo-fuzz --root "$PLYLINE_TOOLS"
built=${CARGO_TARGET_DIR:-$root/target/fuzz}
finds=$root/target/fuzz-finds
seeds=$root/target/fuzz-seeds
rm -rf "$seeds"
mkdir -p "$finds" "$seeds"
cp tests/findings/*.pgn tests/oracles/*.pgn tests/native/cli/*.pgn "$seeds/" 2>/dev/null || true
cp tests/fuzz/finds/* "$seeds/" 2>/dev/null || true
# The examples of the spec, and their locators, one file each.
awk -v to="$seeds/spec-" '/^```(pgn|locators)/ { out = to n++; next } /^```/ { out = ""; next } out { print > out }' tests/spec/*.md

failed=0
for target in "$@"; do
    corpus=$root/target/fuzz-corpus/$target
    mkdir -p "$corpus"
    echo "== $target, $seconds s"
    cargo +nightly fuzz run --fuzz-dir tests/fuzz --target-dir "$built" --sanitizer none "$target" \
        "$corpus" "$seeds" -- -max_total_time="$seconds" -timeout=10 -max_len=3000 -dict=tests/fuzz/pgn.dict \
        -artifact_prefix="$finds/$target-" -print_final_stats=1 2>"$finds/$target.log" ||
        { failed=$((failed + 1)); grep -E "panicked|assertion|SUMMARY|Test unit" "$finds/$target.log" | head -5; }
    grep -E "number_of_executed_units|DONE" "$finds/$target.log" || true
done
# cargo-fuzz makes folders of its own, and they stay empty.
rmdir tests/fuzz/artifacts/* tests/fuzz/artifacts tests/fuzz/corpus 2>/dev/null || true
echo "$(($# - failed)) passed, $failed failed"
[ "$failed" = 0 ]
