#!/bin/sh
# Installs what building the page needs and is missing: the wasm target, std's source, wasm-bindgen at the
# version of Cargo.lock, wasm-opt, zopfli and esbuild from npm. Kept in a cache folder of the user's,
# so that a second clone finds them. Sourced by build.sh and tests/run.sh.
set -eu

PLYLINE_TOOLS="${PLYLINE_TOOLS:-${XDG_CACHE_HOME:-$HOME/.cache}/plyline}"
export PLYLINE_TOOLS
mkdir -p "$PLYLINE_TOOLS"
PATH="$PLYLINE_TOOLS/bin:$PLYLINE_TOOLS/npm/node_modules/.bin:$PATH"
export PATH

# The version of a package in Cargo.lock.
locked() {
    awk -v name="\"$1\"" '$1 == "name" { found = ($3 == name) }
        $1 == "version" && found { gsub(/"/, "", $3); print $3; exit }' "$2/Cargo.lock"
}

need_wasm_target() {
    rustc --print target-libdir --target wasm32-unknown-unknown 2>/dev/null | xargs test -d ||
        rustup target add wasm32-unknown-unknown
}

# The source of std, which is built again for size.
need_rust_src() {
    test -d "$(rustc --print sysroot)/lib/rustlib/src/rust/library" ||
        rustup component add rust-src
}

need_wasm_bindgen() {
    wanted=$(locked wasm-bindgen "$1")
    case "$("$PLYLINE_TOOLS/bin/wasm-bindgen" --version 2>/dev/null || true)" in
    *" $wanted") ;;
    *) # Without --locked: its lock file names a version that not every registry serves.
        cargo install --quiet wasm-bindgen-cli --version "$wanted" --root "$PLYLINE_TOOLS" ;;
    esac
}

# A package from npm at a version, into the cache.
need_npm() {
    folder="$PLYLINE_TOOLS/npm/node_modules/$1"
    grep -qs "\"version\": \"$2\"" "$folder/package.json" ||
        npm install --silent --no-audit --no-fund --prefix "$PLYLINE_TOOLS/npm" "$1@$2"
}

# The generator of books that tests read; cargo builds it for some minutes.
need_mdbook() {
    "$PLYLINE_TOOLS/bin/mdbook" --version 2>/dev/null | grep -q -x 'mdbook v0.5.4' ||
        cargo install --quiet mdbook --version 0.5.4 --no-default-features --root "$PLYLINE_TOOLS"
}

# What reads the package from outside, and compiles its examples: tests/ways.mjs.
need_package_tools() {
    need_npm esbuild 0.25.12
    need_npm @gfx/zopfli 1.0.15
    need_npm @11ty/eleventy 3.1.8
    need_npm commonmark 0.31.2
    need_npm typescript 7.0.2
    need_npm publint 0.3.25
    need_npm @arethetypeswrong/cli 0.18.5
    need_npm custom-elements-manifest 2.1.0
    need_npm ajv 8.20.0
}

need_page_tools() {
    need_wasm_target
    need_rust_src
    need_wasm_bindgen "$1"
    need_npm binaryen 132.0.0
    need_npm esbuild 0.25.12
    # Deflates a twentieth better than zlib at its best, for a few seconds of building.
    need_npm @gfx/zopfli 1.0.15
}
