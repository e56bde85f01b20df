#!/bin/sh
# Builds examples/eleventy by its own build line into OUT: `sh site.sh OUT PLYLINE`, PLYLINE being the program.
# Installs Eleventy.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../../../../www/pack/tools.sh"
program=$(cd "$(dirname "$2")" && pwd)/$(basename "$2")
need_npm @11ty/eleventy 3.1.8
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp -R "$here/../../../../examples/eleventy" "$work/site"
rm -rf "$work/site/_site" "$work/site/node_modules"
# Found by the build line as in an author's shell.
mkdir "$work/bin"
ln -s "$program" "$work/bin/plyline"
(cd "$work/site" && PATH="$work/bin:$PATH" npm run --silent build)
mkdir -p "$(dirname "$1")"
rm -rf "$1"
mv "$work/site/_site" "$1"
