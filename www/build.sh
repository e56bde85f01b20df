#!/bin/sh
# Builds what a page loads into www/dist/ and prints how large it is.
# Installs what it needs; see pack/tools.sh.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
. "$root/www/pack/tools.sh"
need_page_tools "$root"
cd "$root"
# The results of cargo are looked for in target/.
unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR

work=target/page
dist=www/dist
mkdir -p "$work"
version=$(locked plyline .)

# std is built again for size, with panics that abort at once and carry no text: about a sixth
# of the whole. Functions go in line as seldom as the compiler allows: more often is faster (tests/bench/page.mjs) and
# larger: a threshold of 10 costs 1.3 kB more, 25 costs 2.4 kB.
small="-Cllvm-args=-inline-threshold=0"
# `compile FLAGS WORD...`. Never without --lib: the program has the same file name.
compile() {
    flags="-Zunstable-options -Cpanic=immediate-abort -Zlocation-detail=none $1"
    shift
    RUSTC_BOOTSTRAP=1 RUSTFLAGS="$flags" \
        cargo build --quiet --lib --profile page --target wasm32-unknown-unknown \
        -Zbuild-std=std,panic_abort -Zbuild-std-features=optimize_for_size "$@"
}
# Glue and core into a folder.
bind() {
    wasm-bindgen "target/wasm32-unknown-unknown/page/plyline.wasm" \
        --target web --no-typescript --experimental-reset-state-function --out-dir "$1"
}
# What draws counts and what answers asides are cores of their own, which few pages load. The latter is built for speed:
# it searches half as many positions again in a second, for 7 kB (cargo bench --bench search).
compile "$small" --features counts
bind "$work/counts"
compile "" --features answers --config profile.page.opt-level=2
bind "$work/answers"
compile "$small"
bind "$work"
# The features that browsers of the last two years have; `--all-features` writes newer ones.
features="--enable-bulk-memory --enable-nontrapping-float-to-int --enable-sign-ext \
    --enable-mutable-globals --enable-reference-types --enable-multivalue"
# Mostly passes that remove code, and inlining of the smallest functions only. -Oz makes the core
# smaller and its packed form 5 % larger: it inlines functions with one caller and makes code
# different that the compiler writes alike.
passes="--remove-unused-module-elements --duplicate-function-elimination --dce --vacuum \
    --inlining-optimizing --one-caller-inline-max-function-size=1 --flexible-inline-max-function-size=1 \
    --always-inline-max-function-size=8 --precompute --vacuum --remove-unused-brs --remove-unused-names \
    --rse --optimize-instructions --vacuum --duplicate-function-elimination --strip-debug --strip-producers \
    --strip-target-features"
wasm-opt $features $passes "$work/plyline_bg.wasm" -o "$work/lean.wasm"
apart() {
    part=$1
    shift
    wasm-opt $features "$@" --minify-imports-and-exports-and-modules "$work/$part/plyline_bg.wasm" \
        -o "$work/$part/core.wasm" >"$work/$part/names.json"
}
apart counts $passes
apart answers -O2 --strip-debug --strip-producers --strip-target-features
# The module that puts the core together again (www/pack/sort.mjs): a module with 16 MB of memory,
# all of which it may use.
rustc --edition 2024 --target wasm32-unknown-unknown --crate-type cdylib -Copt-level=s -Cpanic=abort \
    -Cstrip=symbols -Clink-args="--initial-memory=16777216 -zstack-size=4096" www/pack/unsort.rs -o "$work/unsort_whole.wasm"
wasm-opt $features -Oz --strip-debug --strip-producers --strip-target-features \
    "$work/unsort_whole.wasm" -o "$work/unsort.wasm"

# Similar functions near each other deflate better. The best and the worst of fifteen such orders
# differ by 0.4 %, and to look for the best took longer than all else here.
node www/pack/order.mjs "$work/lean.wasm" "$work/named.wasm"
wasm-opt $features --reorder-functions-by-name --strip-debug --minify-imports-and-exports-and-modules \
    "$work/named.wasm" -o "$work/core.wasm" >"$work/names.json"

rm -rf "$dist"
mkdir -p "$dist/words"
node www/pack/bundle.mjs "$work" "$dist" "$version"
cp www/plyline.d.ts LICENSE "$dist/"
cp www/words/*.js "$dist/words/"
