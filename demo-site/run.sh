#!/bin/sh
# Builds everything, makes the demo site, checks and bakes it, and serves it on loopback under the strict
# policy.
# PORT (8117) says where; `--check` fetches every page once and ends.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"
# The results of cargo are looked for in target/.
unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR
port=${PORT:-8117}

if [ -z "${PLYLINE_BUILT:-}" ]; then
    echo "Building the page files (some minutes the first time, seconds later) ..."
    sh www/build.sh
fi
cargo build --quiet --examples --bin plyline
address="http://127.0.0.1:$port"

# Numbers for the longest lesson, of games that nobody has played: the same each time, until the lesson changes.
lesson=the-jump-that-must-wait
talk=/told-by-the-tide-machine
target/debug/examples/games demo-site/pages/from-memory/exchange.pgn >target/invented-games.pgn
target/debug/plyline tally "demo-site/pages/$lesson/index.html#exchange" --games target/invented-games.pgn --by year \
    --out "demo-site/pages/$lesson/exchange.counts.json"
target/debug/plyline check --strict demo-site/posts demo-site/pages
rm -rf demo-site/dist
target/debug/examples/make demo-site/dist "$address"
target/debug/plyline check --strict demo-site/dist/guide
target/debug/plyline bake demo-site/dist --in-place --base-url "$address/"

if [ "${1:-}" != "--check" ]; then
    exec target/debug/examples/serve "$port" demo-site/dist www/dist
fi

target/debug/examples/serve "$port" demo-site/dist www/dist &
server=$!
trap 'kill $server' EXIT
for _ in 1 2 3 4 5 6 7 8 9 10; do
    curl --silent --output /dev/null "$address/" && break
    sleep 0.3
done
pages="/ /plyline.mjs /plyline-core.mjs /plyline-core.wasm /plyline.css /site.css /icon.svg /feed.xml"
for page in demo-site/dist/*/ demo-site/dist/guide/*/; do
    page=${page#demo-site/dist}
    [ -f "demo-site/dist$page/index.html" ] && pages="$pages $page"
done
for page in $pages "/$lesson/exchange.counts.json" $talk/talk.mp3 $talk/talk.vtt; do
    curl --silent --fail --output /dev/null --write-out "%{http_code} %{size_download} bytes  $page\n" \
        "$address$page" || { echo "cannot fetch $page" >&2; exit 1; }
done
