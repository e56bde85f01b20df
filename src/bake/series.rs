//! The posts of a series: those of its pages whose `data-plyline-series` names it, and the list of them
//! that `<ply-series>` becomes.

use super::MARK;
use crate::check::attributes::SERIES;
use crate::markup::{Element, el};
use crate::post::{self, Tree};

/// The attribute by which posts say that they are of one series.
pub const OF: &str = "data-plyline-series";

/// A post of a series.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    pub series: String,
    /// The address of its page, seen from the site's folder: `posts/a/`.
    pub path: String,
    /// Its heading, else the page's title.
    pub title: String,
    /// When it was published, as written: dates of ISO 8601 are in their order as text.
    pub date: Option<String>,
}

/// The series that a page belongs to. A page with several posts lists them and is none; neither is one
/// that says that its text is elsewhere (`rel=canonical`).
pub fn member(tree: &Tree, path: &str) -> Option<Member> {
    let mut named = (0..tree.nodes.len()).filter_map(|it| tree.value(it, OF));
    let series = named.next().filter(|name| !name.trim().is_empty())?;
    if named.next().is_some() || is_copy(tree, path) {
        return None;
    }
    Some(Member {
        series: series.to_owned(),
        path: path.to_owned(),
        title: title(tree)?,
        date: dated(tree),
    })
}

/// Whether a page names another as the one with its text.
pub fn is_copy(tree: &Tree, path: &str) -> bool {
    let is_canonical = |it: usize| {
        let rel = tree.value(it, "rel").unwrap_or_default();
        tree.nodes[it].name == "link" && rel.eq_ignore_ascii_case("canonical")
    };
    let link = (0..tree.nodes.len()).find(|&it| is_canonical(it));
    let Some(href) = link.and_then(|it| tree.value(it, "href")) else {
        return false;
    };
    let bare = |address: &str| {
        let address = address.split(['?', '#']).next().unwrap_or_default();
        address
            .trim_end_matches("index.html")
            .trim_matches('/')
            .to_owned()
    };
    let (href, own) = (bare(href), bare(path));
    href != own && !href.ends_with(&format!("/{own}"))
}

/// The heading of a page, else its title.
pub fn title(tree: &Tree) -> Option<String> {
    words_of(tree, "h1").or_else(|| words_of(tree, "title"))
}

/// The text of the first element of a name.
fn words_of(tree: &Tree, name: &str) -> Option<String> {
    let node = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == name)?;
    let text = tree.text(node).text;
    let words: Vec<&str> = text.split_whitespace().collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// When a page was published.
pub fn dated(tree: &Tree) -> Option<String> {
    let mut all = 0..tree.nodes.len();
    let time = all.find_map(|it| match tree.nodes[it].name.as_str() {
        "time" => tree.value(it, "datetime"),
        "meta" if tree.value(it, "property") == Some("article:published_time") => {
            tree.value(it, "content")
        }
        _ => None,
    });
    time.map(str::to_owned)
}

/// Where a page lists a series, and what is wanted.
#[derive(Debug)]
pub struct Wanted {
    /// Where it is in the tree.
    pub node: usize,
    pub is_fence: bool,
    name: Option<String>,
    is_by_name: bool,
}

/// The elements and fences of a page that list a series.
pub fn wanted(tree: &Tree) -> Vec<Wanted> {
    let mut found = Vec::new();
    for node in 0..tree.nodes.len() {
        let own = |name: &str| tree.value(node, name).map(str::to_owned);
        match tree.nodes[node].name.as_str() {
            SERIES => found.push(Wanted {
                node,
                is_fence: false,
                name: own("name"),
                is_by_name: own("order").as_deref() == Some("name"),
            }),
            "pre" if post::is_fence_of(tree, node, SERIES) => {
                let (tags, ..) = post::tags(&tree.text(node));
                let value = |name: &str| {
                    let tag = tags.iter().find(|tag| tag.name == name);
                    tag.map(|tag| tag.value.text.clone())
                };
                found.push(Wanted {
                    node,
                    is_fence: true,
                    name: value("name"),
                    is_by_name: value("order").as_deref() == Some("name"),
                });
            }
            _ => {}
        }
    }
    found
}

/// The list that is wanted in the page at a path, or why there is none. Without a name it is of the
/// page's own series, else of the only one.
pub fn list(
    wanted: &Wanted,
    members: &[Member],
    tree: &Tree,
    path: &str,
) -> Result<Element, String> {
    let own = || {
        let mut all = 0..tree.nodes.len();
        all.find_map(|it| tree.value(it, OF)).map(str::to_owned)
    };
    let only = || {
        let first = members.first().map(|it| &it.series)?;
        members
            .iter()
            .all(|it| it.series == *first)
            .then(|| first.clone())
    };
    let Some(name) = wanted.name.clone().or_else(own).or_else(only) else {
        return Err(format!(
            "this page lists a series and does not name it: name=\"\u{2026}\" is missing at {SERIES}"
        ));
    };
    let mut of: Vec<&Member> = members.iter().filter(|it| it.series == name).collect();
    if of.is_empty() {
        return Err(format!(
            "no post is of the series \u{201c}{name}\u{201d}: {OF}=\"{name}\" makes one so"
        ));
    }
    match wanted.is_by_name {
        true => of.sort_by(|a, b| (&a.title, &a.path).cmp(&(&b.title, &b.path))),
        // Those without a date come last.
        false => of.sort_by(|a, b| {
            let key = |it: &Member| (it.date.is_none(), it.date.clone(), it.path.clone());
            key(a).cmp(&key(b))
        }),
    }
    let row = |it: &&Member| match it.path == path {
        true => el("li").with("aria-current", "page").text(&it.title),
        false => el("li").child(
            el("a")
                .with("href", seen_from(path, &it.path))
                .text(&it.title),
        ),
    };
    Ok(el("ol").with(MARK, "").children(of.iter().map(row)))
}

/// The address of a page, seen from another.
pub fn seen_from(from: &str, to: &str) -> String {
    let depth = from.matches('/').count();
    let address = "../".repeat(depth) + to;
    match address.is_empty() {
        true => "./".to_owned(),
        false => address,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str, path: &str) -> Option<Member> {
        member(&Tree::of_html(text), path)
    }

    fn page(series: &str, title: &str, date: &str) -> String {
        format!(
            "<title>{title} \u{2013} site</title><article data-plyline-series=\"{series}\"><h1>{title}</h1><time datetime=\"{date}\">x</time></article>"
        )
    }

    #[test]
    fn a_page_with_one_post_is_of_its_series_and_a_list_of_posts_is_not() {
        let one = page("traps", "The <b>first</b> &amp; best", "2026-05-01");
        let found = of(&one, "a/").expect("a member");
        assert_eq!(found.title, "The first & best");
        assert_eq!(found.date.as_deref(), Some("2026-05-01"));
        assert_eq!(of(&(one.clone() + &one), ""), None);
        let copy = one.replace(
            "<title>",
            "<link rel=\"canonical\" href=\"https://a.example/b/\"><title>",
        );
        assert_eq!(of(&copy, "a/"), None);
        let own = copy.replace("/b/", "/a/");
        assert!(of(&own, "a/").is_some());
    }

    #[test]
    fn a_list_is_in_the_order_of_dates_or_of_names_and_does_not_link_its_own_page() {
        let pages = [
            ("b/", "Beta", "2026-02-01"),
            ("a/", "Alpha", "2026-03-01"),
            ("c/", "Gamma", "2026-01-01"),
        ];
        let members: Vec<Member> = pages
            .iter()
            .filter_map(|(path, title, date)| of(&page("s", title, date), path))
            .collect();
        let shown = |html: &str, path: &str| {
            let tree = Tree::of_html(html);
            let list = list(&wanted(&tree)[0], &members, &tree, path);
            list.map(|it| crate::markup::html(&[it]))
        };
        assert_eq!(
            shown("<ply-series></ply-series>", "b/").as_deref(),
            Ok(
                "<ol data-plyline=\"\"><li><a href=\"../c/\">Gamma</a></li><li aria-current=\"page\">Beta</li><li><a href=\"../a/\">Alpha</a></li></ol>"
            )
        );
        let fence =
            "<pre><code class=\"language-ply-series\">[Name \"s\"] [Order \"name\"]</code></pre>";
        let by_name = shown(fence, "").expect("a list");
        assert!(
            by_name.starts_with("<ol data-plyline=\"\"><li><a href=\"a/\">Alpha"),
            "{by_name}"
        );
        assert!(shown("<ply-series name=\"t\"></ply-series>", "").is_err());
    }
}
