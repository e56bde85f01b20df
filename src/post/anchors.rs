//! Ordinary links of a post that lead to a place of one of its lessons: `[the exchange](#lesson/4.cxd5)`.

use super::tree::Tree;
use crate::lesson::Lesson;
use crate::notation::Letters;
use crate::text::Finding;
use crate::view::{Element, open};
use percent_encoding::percent_decode_str;

/// What is wrong with the links of a post; `lesson` hands out the lesson of an id, if the post has it.
/// Links to other parts of the page, and to other pages, are none of ours.
pub fn amiss<'a>(tree: &Tree, lesson: &dyn Fn(&str) -> Option<&'a Lesson>) -> Vec<Finding> {
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
