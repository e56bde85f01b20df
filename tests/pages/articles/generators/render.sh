#!/bin/sh
# Renders page.md by the generators that are named and writes OUT/NAME/index.html for each:
# `sh render.sh OUT commonmark commonmark-html eleventy hugo hugo-html jekyll mdbook`. Markdown is
# read with each one's defaults, but `-html` lets raw HTML through; the frame around it is ours,
# mdBook's its own. Installs what comes from npm; saved.sh the others.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../../../../www/pack/tools.sh"
out=$1
shift
mkdir -p "$out"
out=$(cd "$out" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# The frame around what a template language writes for the content.
frame() {
    sed "s/^CONTENT\$/$1/" "$here/frame.html"
}

# A source with the front matter that a generator asks for.
source_page() {
    printf -- '---\nlayout: page\n---\n'
    cat "$here/page.md"
}

commonmark() {
    need_npm commonmark 0.31.2
    {
        sed '/^CONTENT$/,$d' "$here/frame.html"
        "$PLYLINE_TOOLS/npm/node_modules/.bin/commonmark" "$@" "$here/page.md"
        sed '1,/^CONTENT$/d' "$here/frame.html"
    } >"$site/index.html"
}

eleventy() {
    need_npm @11ty/eleventy 3.1.8
    mkdir -p "$work/eleventy/_includes"
    frame '{{ content }}' >"$work/eleventy/_includes/page.html"
    source_page | sed 's/^layout: page$/layout: page.html/' >"$work/eleventy/index.md"
    (cd "$work/eleventy" && "$PLYLINE_TOOLS/npm/node_modules/.bin/eleventy" --quiet --output="$site")
}

hugo_site() {
    mkdir -p "$work/$1/content" "$work/$1/layouts"
    frame '{{ .Content }}' >"$work/$1/layouts/index.html"
    source_page >"$work/$1/content/_index.md"
    { echo 'disableKinds = ["RSS", "sitemap", "taxonomy", "term", "404"]'; echo "$2"; } >"$work/$1/config.toml"
    hugo --quiet --source "$work/$1" --destination "$site"
}

jekyll_site() {
    mkdir -p "$work/jekyll/_layouts"
    frame '{{ content }}' >"$work/jekyll/_layouts/page.html"
    source_page >"$work/jekyll/index.md"
    jekyll build --quiet --disable-disk-cache --source "$work/jekyll" --destination "$site"
}

# With its default theme and that theme's scripts, and a next chapter for its keys to lead to.
mdbook_site() {
    mkdir -p "$work/mdbook/src"
    cat >"$work/mdbook/book.toml" <<'END'
[book]
title = "A book"
[output.html]
additional-js = ["plyline.js"]
hash-files = false
END
    cp "$here/../../../../www/dist/plyline.js" "$work/mdbook/"
    cp "$here/page.md" "$work/mdbook/src/index.md"
    printf '# Summary\n\n- [Every form](index.md)\n- [The next](next.md)\n' >"$work/mdbook/src/SUMMARY.md"
    echo '# The next' >"$work/mdbook/src/next.md"
    (cd "$work/mdbook" && MDBOOK_LOG=warn mdbook build --dest-dir "$site")
}

for name in "$@"; do
    site=$out/$name
    mkdir -p "$site"
    case $name in
    commonmark) commonmark --safe ;;
    commonmark-html) commonmark ;;
    eleventy) eleventy ;;
    hugo) hugo_site hugo '' ;;
    hugo-html) hugo_site hugo-html '[markup.goldmark.renderer]
unsafe = true' ;;
    jekyll) jekyll_site ;;
    mdbook) mdbook_site ;;
    *) echo "no generator is called $name" >&2; exit 2 ;;
    esac
done
