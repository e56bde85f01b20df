#!/bin/sh
# All benchmarks in one command, and one table at the end: medians, the middle half of the rounds, and the bounds of the
# design beside them ("Numbers to hold"). `sh tests/bench/run.sh`, or some by name: native, page, search, browser, load;
# tally, which writes files of 1.2 GB, and talk, which takes minutes, only by name. It ends with exit code 1 where a bound is missed. Ratios count:
# the two sides of each are measured in turn.
set -u
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR
. "$root/www/pack/tools.sh"
set +e
parts=${*:-native page search browser load}
[ -e www/dist/plyline.js ] || sh www/build.sh
PLYLINE_TABLE=$(mktemp)
export PLYLINE_TABLE
trap 'rm -f "$PLYLINE_TABLE"' EXIT
failed=
for part in $parts; do
    echo "== $part"
    case $part in
    native | search | browser | tally | talk) cargo bench --quiet --bench "$part" ;;
    page) need_npm chess.js 1.4.0 && node tests/bench/page.mjs ;;
    # The network with the servers' better compression, and the slow one with the worse.
    load) node tests/bench/load.mjs 6/local/gzip 6/10/br 6/1.6/gzip ;;
    *) echo "usage: sh tests/bench/run.sh [native|page|search|browser|load|tally|talk ...]" >&2; exit 2 ;;
    esac || failed="$failed $part"
done
echo
node tests/bench/table.mjs "$PLYLINE_TABLE" || failed="$failed table"
[ -z "$failed" ] || { echo "not as it should be:$failed" >&2; exit 1; }
