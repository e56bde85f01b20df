//! Names of elements, attributes and tags that are nearly ours: a slip of the hand does nothing on the
//! page, and says nothing there.

use super::elements::Tree;
use super::found::{Found, tags};
use crate::check::attributes::{ATTRIBUTES, Attribute, KINDS, Kind, SERIES, Tagged};
use crate::lesson::reason::suggest::distance;
use crate::text::{Code, Finding, Span};

/// The most letters by which a name may differ from ours.
const NEAR: usize = 2;

/// The findings about the names of elements that are none of ours.
pub fn elements(tree: &Tree) -> Vec<Finding> {
    let mut findings = Vec::new();
    for node in &tree.nodes {
        let name = node.name.as_str();
        let is_ours = name == SERIES || Kind::named(name).is_some();
        let is_near = name.len() > NEAR + 2 && name.starts_with('p') && !is_ours;
        if !is_near {
            continue;
        }
        let names = KINDS.iter().map(|(_, name, _)| *name).chain([SERIES]);
        if let Some(near) = nearest(name, names) {
            let message = format!("<{name}> is no element of plyline");
            let finding = Finding::new(Code::NameAmiss, node.named, message);
            findings.push(finding.with_help(format!("did you mean <{near}>?")));
        }
    }
    findings
}

/// The findings about the attributes of an element of ours, and the tags of a fence.
pub fn attributes(tree: &Tree, found: &Found) -> Vec<Finding> {
    let mut findings = Vec::new();
    let own = |row: &&Attribute| row.of.contains(&found.kind);
    if !found.is_fence {
        for it in &tree.nodes[found.node].attributes {
            let name = it.name.as_str();
            let names = ATTRIBUTES.iter().filter(own).map(|row| row.name);
            if is_common(name) || names.clone().any(|known| known == name) {
                continue;
            }
            if let Some(near) = nearest(
                name,
                names.filter(|near| tree.value(found.node, near).is_none()),
            ) {
                findings.push(amiss("attribute", name, near, it.named));
            }
        }
    } else if found.kind != Kind::Lesson {
        let (written, ..) = tags(&tree.text(found.node));
        for it in &written {
            let names = tag_names(found.kind);
            if names.clone().any(|known| known == it.name) || it.name == "id" {
                continue;
            }
            let is_written = |near: &str| written.iter().any(|tag| tag.name == near);
            let mut near = names.filter(|near| !is_written(near));
            let twice = near.clone().find(|near| is_twice(&it.name, near));
            if let Some(near) = nearest(&it.name, &mut near).or(twice) {
                let row = ATTRIBUTES.iter().find(|row| row.name == near);
                let tag = row.map_or(near, |row| row.tag);
                findings.push(amiss("tag", &it.name, tag, it.named));
            }
        }
    }
    findings
}

/// The names of the tags that a fence of a kind may have, in small letters.
pub fn tag_names(kind: Kind) -> impl Iterator<Item = &'static str> + Clone {
    let rows = ATTRIBUTES.iter();
    let own = rows.filter(move |row| row.of.contains(&kind) && row.tagged != Tagged::No);
    own.map(|row| row.name)
}

fn amiss(what: &str, name: &str, near: &str, span: Span) -> Finding {
    let message = format!("this {what} does nothing here: \u{201c}{name}\u{201d}");
    Finding::new(Code::NameAmiss, span, message).with_help(format!("did you mean {near}?"))
}

/// Attributes that any element may have (WHATWG HTML, 3.2.6), and those by which libraries of
/// scripts name theirs: they are never meant as one of ours.
fn is_common(name: &str) -> bool {
    let known = [
        "class", "id", "style", "title", "lang", "dir", "slot", "part", "hidden", "role",
        "tabindex", "inert", "is", "key", "ref",
    ];
    let prefixes = ["data-", "aria-", "x-", "on", ":", "@", "v-", "#", "item"];
    known.contains(&name) || prefixes.iter().any(|prefix| name.starts_with(prefix))
}

/// Whether a name is another with its last letter written twice: short ones have no other slip that is
/// certain.
fn is_twice(name: &str, known: &str) -> bool {
    let rest = name.strip_prefix(known);
    rest.is_some_and(|rest| rest.len() == 1 && known.ends_with(rest))
}

/// The name that differs least from this one, by no more than [`NEAR`] letters and not by as many as
/// it has; the first of several.
pub fn nearest<'a>(name: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let all = names.map(|near| (distance(name.as_bytes(), near.as_bytes()), near));
    let near = all.filter(|(apart, near)| *apart <= NEAR && apart + 1 < near.len());
    near.min_by_key(|(apart, _)| *apart).map(|(_, near)| near)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_near_by_one_or_two_letters_that_differ() {
        let near = |name| nearest(name, ["accept", "moves", "side", "at", "for"].into_iter());
        assert_eq!(near("acept"), Some("accept"));
        assert_eq!(near("moevs"), Some("moves"));
        assert_eq!(near("sdie"), Some("side"));
        assert_eq!(near("fro"), Some("for"));
        assert_eq!(near("at2"), None, "two letters are too few to be sure");
        assert_eq!(near("href"), None);
    }

    #[test]
    fn what_any_element_may_have_is_never_near() {
        for name in [
            "class",
            "data-at",
            "aria-label",
            "x-for",
            ":for",
            "@at",
            "onclick",
            "is",
        ] {
            assert!(is_common(name), "{name}");
        }
        assert!(!is_common("fro"));
    }
}
