#!/bin/sh
# Builds the page's files from the source twice, in two folders with names of other lengths, and compares them byte by byte:
# `sh tests/ways/twice.sh`, called by tests/run.sh with --long. Nothing is shared but cargo's downloads and the tools, so a path,
# a time or an order by chance that gets into a file is found. Each build compiles std too.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
. "$root/www/pack/tools.sh"
need_page_tools "$root"
PLYLINE_ZOPFLI=1
export PLYLINE_ZOPFLI
folders=$(mktemp -d)
trap 'rm -rf "$folders"' EXIT
first="$folders/a"
second="$folders/another folder/and one within it"
for folder in "$first" "$second"; do
    mkdir -p "$folder"
    # What is in the repository, as it is now.
    git ls-files -z --cached --others --exclude-standard | tar --null --files-from=- --ignore-failed-read -cf - 2>/dev/null |
        tar -xf - -C "$folder"
    (cd "$folder" && sh www/build.sh >"$folder.said" 2>&1) || { cat "$folder.said"; exit 1; }
    # The next is not built in the same second.
    sleep 1
done
# What is compiled, and what is made of it.
for file in core.wasm counts/core.wasm answers/core.wasm glue.js; do
    cmp "$first/target/page/$file" "$second/target/page/$file"
done
diff -r "$first/www/dist" "$second/www/dist"
diff "$first.said" "$second.said"
count=$(find "$first/www/dist" -type f | wc -l)
[ "$count" -gt 20 ] || { echo "only $count files were built" >&2; exit 1; }
echo "$count files are the same"
