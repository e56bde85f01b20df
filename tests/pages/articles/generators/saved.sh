#!/bin/sh
# Runs Hugo, Jekyll and mdBook on page.md into OUT and compares the pages with those that are kept in
# saved/: `sh saved.sh OUT`; `sh saved.sh OUT --renew` keeps the new ones. Their versions then were
# hugo 0.111.3+extended and jekyll 4.3.1 (kramdown 2.4.0, kramdown-parser-gfm 1.1.0, rouge 3.30.0),
# both of Debian 12, and mdbook 0.5.4 (cargo install). Needs www/dist/plyline.js.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../../../../www/pack/tools.sh"
need_mdbook

rm -rf "${1:?where to render}"
sh "$here/render.sh" "$1" hugo hugo-html jekyll mdbook
differ=0
for name in hugo hugo-html jekyll mdbook; do
    if [ "${2:-}" = --renew ]; then
        mkdir -p "$here/saved/$name"
        cp "$1/$name/index.html" "$here/saved/$name/"
    else
        diff -u "$here/saved/$name/index.html" "$1/$name/index.html" || differ=1
    fi
done
exit $differ
