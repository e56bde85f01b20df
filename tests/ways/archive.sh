#!/bin/sh
# Packs the crate as it would be published and builds it from that archive alone: `sh tests/ways/archive.sh`, called by
# tests/run.sh with --long. The archive must hold the page's files, which the program carries, and nothing but sources,
# the page and words about them.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR
list=$(cargo package --list --allow-dirty 2>/dev/null)
for name in src/lib.rs www/dist/plyline.js www/dist/plyline.mjs www/dist/plyline-core.wasm www/words/de.js README.md LICENSE; do
    echo "$list" | grep -q -x "$name" || { echo "$name is not in the archive" >&2; exit 1; }
done
others=$(echo "$list" | grep -v -E '^(src|www)/|^(Cargo\.(toml|toml\.orig|lock)|README\.md|DEVELOPERS\.md|LICENSE|\.cargo_vcs_info\.json)$' || true)
[ -z "$others" ] || { echo "in the archive, and not meant to be: $others" >&2; exit 1; }
cargo package --quiet --allow-dirty
