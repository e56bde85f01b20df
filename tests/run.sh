#!/bin/sh
# All the tests: `sh tests/run.sh`, or one part by name: page, ways, format, native, oracles, lesson,
# web, pages. `--long` adds what takes longer. Installs what is missing (Debian's
# browsers, npm and PyPI packages, wasm-bindgen) and ends with a line `N passed, N failed`.
set -u
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"
# The results of cargo are looked for in target/.
unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR
. "$root/www/pack/tools.sh"
set +e

long=
parts=
for word in "$@"; do
    case $word in
    --long) long=1 ;;
    page | ways | format | native | oracles | lesson | web | pages) parts="$parts $word" ;;
    *) echo "usage: sh tests/run.sh [--long] [page|ways|format|native|oracles|lesson|web|pages]" >&2; exit 2 ;;
    esac
done
export PLYLINE_LONG=$long
# The page first: the program carries its files, so that all that is built before them is built
# once more after them.
[ -n "$parts" ] || parts="page ways format native oracles lesson web pages"

passed=0
failed=0
log=$(mktemp)

# Runs a command and counts what its closing lines say: cargo's `N passed; N failed` and the
# plain `N passed, N failed`. A command that fails without counting is one failure.
count() {
    : >"$log"
    { "$@" 2>&1; echo "exit $?" >>"$log"; } | tee -a "$log"
    code=$(sed -n 's/^exit //p' "$log" | tail -n 1)
    good=$(sed -nE 's/.* ([0-9]+) passed[;,] .*/\1/p' "$log" | awk '{ n += $1 } END { print n + 0 }')
    bad=$(sed -nE 's/.* [0-9]+ passed[;,] ([0-9]+) failed.*/\1/p' "$log" | awk '{ n += $1 } END { print n + 0 }')
    if [ "$code" != 0 ] && [ "$bad" = 0 ]; then bad=1; echo "FAILED: $*"; fi
    passed=$((passed + good))
    failed=$((failed + bad))
}

# A check without a count of its own is one test.
check() {
    name=$1
    shift
    if "$@"; then
        passed=$((passed + 1)); echo "ok $name"
    else
        failed=$((failed + 1)); echo "FAILED $name"
    fi
}

need_debian() {
    missing=
    for pair in "$@"; do
        command -v "${pair%%:*}" >/dev/null 2>&1 || missing="$missing ${pair##*:}"
    done
    [ -z "$missing" ] && return
    sudo=
    [ "$(id -u)" = 0 ] || sudo=sudo
    $sudo apt-get update -qq
    # shellcheck disable=SC2086 # a list of words
    DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends $missing >/dev/null
}

need_browsers() {
    need_debian chromium:chromium chromedriver:chromium-driver firefox-esr:firefox-esr \
        pdftotext:poppler-utils WebKitWebDriver:webkit2gtk-driver Xvfb:xvfb xsettingsd:xsettingsd
    command -v geckodriver >/dev/null 2>&1 ||
        cargo install --quiet geckodriver --root "$PLYLINE_TOOLS"
    need_npm axe-core 4.14.1
}

part_format() {
    check "the source is formatted" cargo fmt --check
    check "the source of what cargo does not build is formatted" rustfmt --check --edition 2024 www/pack/unsort.rs
    check "clippy has nothing to say" cargo clippy --quiet --all-targets -- -D warnings
    need_wasm_target
    check "clippy has nothing to say about the page" \
        cargo clippy --quiet --lib --target wasm32-unknown-unknown -- -D warnings
}

part_native() {
    count node tests/languages.mjs
    count cargo test --quiet --lib --bins --test native
    count cargo test --quiet --doc
    # It carries the page's files, which the parts before have built; minutes.
    [ -z "$long" ] || check "the crate builds from its own archive" sh tests/ways/archive.sh
    # Half an hour a target.
    [ -z "$long" ] || count sh tests/fuzz/run.sh 1800
}

# With its examples each time: without them other features are chosen, and all is built once more.
build_program() {
    check "the program is built as its users have it" cargo build --quiet --release --bins --example search --example edits
}

part_oracles() {
    need_debian python3:python3 java:default-jre-headless
    build_program
    PLYLINE_PROSE=$root/target/prose
    PLYLINE_CHOICES=$root/target/choices
    export PLYLINE_PROSE PLYLINE_CHOICES
    mkdir -p "$PLYLINE_PROSE" "$PLYLINE_CHOICES"
    check "what recap and recall make of lessons by chance, what is answered there, feeds and scores are written" \
        cargo test --quiet --test native -- ask::chosen view::answered bake::feed::feeds_before counts::scores
    check "the links of four marked corpora and of the demo are written" cargo test --quiet --test native lesson::prose
    check "the outside oracles are installed" sh tests/oracles/setup.sh "$PLYLINE_TOOLS/oracles"
    count sh tests/oracles/run.sh "$PLYLINE_TOOLS/oracles" target/release/plyline
}

part_lesson() {
    check "the outside oracles are installed" sh tests/oracles/setup.sh "$PLYLINE_TOOLS/oracles"
    check "the demo's lesson holds what it says, by python-chess" \
        "$PLYLINE_TOOLS/oracles/bin/python" -B demo-site/check_lesson.py
    build_program
    check "the program finds no error and no warning in the demo's pages and the examples" \
        target/release/plyline check --strict demo-site/pages examples
}

part_page() {
    check "the page files build within their bound" build_within_bound
    check "the demo site is served" env PLYLINE_BUILT=1 PORT=8217 sh demo-site/run.sh --check
}

build_within_bound() {
    sh www/build.sh | tee "$log.size"
    for form in "plyline.js" "the three-file form" "plyline.mjs, the entry" "a page of baked lessons, the entry and plyline.css"; do
        grep -q "^$form: .*within the bound" "$log.size" || return 1
    done
}

part_ways() {
    need_browsers
    need_package_tools
    [ -e www/dist/plyline.js ] || sh www/build.sh
    if [ -n "$long" ]; then
        need_debian hugo:hugo jekyll:jekyll
        need_mdbook
    fi
    count node tests/ways.mjs ${long:+--long}
    # Everything is compiled twice: half an hour, and more on a busy machine.
    [ -z "$long" ] || check "two builds in two folders give the same files" sh tests/ways/twice.sh
}

part_web() {
    need_browsers
    need_wasm_target
    need_wasm_bindgen .
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER="$PLYLINE_TOOLS/bin/wasm-bindgen-test-runner"
    echo "in Chromium:"
    count env CHROMEDRIVER="$(command -v chromedriver)" \
        cargo test --target wasm32-unknown-unknown --test web
    echo "in Firefox:"
    count env GECKODRIVER="$(command -v geckodriver)" \
        cargo test --target wasm32-unknown-unknown --test web
}

part_pages() {
    need_browsers
    need_npm commonmark 0.31.2
    need_npm @11ty/eleventy 3.1.8
    [ -e www/dist/plyline.js ] || sh www/build.sh
    if [ -n "$long" ]; then
        need_debian hugo:hugo jekyll:jekyll
        PLYLINE_GENERATED=$root/target/generators
        export PLYLINE_GENERATED
        check "Hugo, Jekyll and mdBook write the pages that are kept" \
            sh tests/pages/articles/generators/saved.sh "$PLYLINE_GENERATED"
    fi
    count cargo test --quiet --test pages
}

for part in $parts; do
    began=$(date +%s)
    echo "== $part"
    "part_$part"
    echo "== $part took $(($(date +%s) - began)) s"
done

echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
