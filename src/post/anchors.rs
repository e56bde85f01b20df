//! Ordinary links of a post that lead to a place of one of its lessons: `[the exchange](#lesson/4.cxd5)`.

use super::elements::{Attribute, Tree};
use super::names::nearest;
use crate::lesson::Lesson;
use crate::notation::Letters;
use crate::text::{Code, Finding};
use crate::view::{Element, open};
use percent_encoding::percent_decode_str;

/// What is wrong with the links of a post; `lesson` hands out the lesson of an id, if the post has it and
/// it can be read, and `ids` are all of the post.
/// Links to other parts of the page, and to other pages, are none of ours.
pub fn amiss<'a>(
    tree: &Tree,
    ids: &[&str],
    lesson: &dyn Fn(&str) -> Option<&'a Lesson>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for node in 0..tree.nodes.len() {
        let Some(link) = tree
            .attribute(node, "href")
            .filter(|_| tree.nodes[node].name == "a")
        else {
            continue;
        };
        let Some(fragment) = link.value.text.strip_prefix('#') else {
            continue;
        };
        let Ok(fragment) = percent_decode_str(fragment).decode_utf8() else {
            continue;
        };
        let Some((id, run)) = fragment.split_once('/') else {
            continue;
        };
        let Some(lesson) = lesson(id) else {
            findings.extend(elsewhere(tree, ids, link, (id, run)));
            continue;
        };
        let at = run.to_owned();
        let (_, found) = open(lesson, &Element::Reference { at }, Letters::ENGLISH);
        for finding in found.iter() {
            let mut finding = finding.clone();
            finding.span = link.stands();
            finding.fix = None;
            findings.push(finding);
        }
    }
    findings
}

/// The finding about a link to a place of a lesson that the post does not have, if its name is nearly that
/// of one and nothing else in the post has it.
fn elsewhere(
    tree: &Tree,
    ids: &[&str],
    link: &Attribute,
    (id, run): (&str, &str),
) -> Option<Finding> {
    let is_id = |node| tree.value(node, "id") == Some(id);
    let is_known = ids.contains(&id) || (0..tree.nodes.len()).any(is_id);
    if is_known || !run.starts_with(|sign: char| sign.is_ascii_digit()) {
        return None;
    }
    let near = nearest(id, ids.iter().copied())?;
    let message = format!("the lesson \u{201c}{id}\u{201d} is not in this page");
    let finding = Finding::new(Code::NoSuchLesson, link.stands(), message);
    Some(finding.with_help(format!("did you mean {near}?")))
}
