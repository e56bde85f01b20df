//! Findings at their places in the file.

use super::elements::Attribute;
use super::elements::Kind;
use super::found::Found;
use super::read::Read;
use crate::text::{Finding, Findings, Fix, Mapping, Span};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

/// The findings of a text at their places in the file; of an empty text at the tag of its element. A
/// fix is kept where the file has the same bytes, and needs no other signs there.
pub fn placed(
    findings: Findings,
    text: &str,
    mapping: &Mapping,
    tag: Span,
    kind: Kind,
) -> Vec<Finding> {
    let is_plain = |fix: &Fix| {
        let is_markup = kind == Kind::Html || mapping.length() as usize != text.len();
        mapping.is_same(fix.span) && !(is_markup && fix.text.contains(['<', '&']))
    };
    let place = |finding: &Finding| {
        let mut finding = finding.clone();
        if mapping.length() == 0 {
            return alone(finding, tag);
        }
        finding.fix = finding.fix.take().filter(is_plain);
        mapping.finding(finding)
    };
    findings.iter().map(place).collect()
}

/// A finding at one place, without what is about others.
fn alone(mut finding: Finding, span: Span) -> Finding {
    finding.span = span;
    finding.fix = None;
    finding.related.clear();
    finding
}

/// What an element says, by the names that `view::Element::read` knows; `of` is the lesson of
/// another element that it is about.
pub fn given(it: &Found, of: Option<&Read>, name: &str) -> Option<String> {
    let is_own = it.notation.is_some();
    match name {
        "prompt" => Some(it.prompt.clone()),
        "own" => is_own.then(String::new),
        "written" => it.notation.as_ref().map(|text| text.text.clone()),
        // What is written into the page for a lesson of another post is the element's own there.
        "start" => of.filter(|it| it.is_here()).map(|it| it.address.clone()),
        "lesson-side" => of?.side.clone(),
        _ => it.value(name).map(str::to_owned),
    }
}

/// The address of a lesson's start in its own page.
pub fn address_of(id: &str) -> String {
    format!("#{}", utf8_percent_encode(id, COMPONENT))
}

/// What an address has as it is, as `encodeURIComponent` of ECMAScript (19.2.6.4) leaves it.
const COMPONENT: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'_')
    .remove(b'.')
    .remove(b'!')
    .remove(b'~')
    .remove(b'*')
    .remove(b'\'')
    .remove(b'(')
    .remove(b')');

/// Where an attribute of an element is: its value, else the element's tag.
pub fn place(it: &Found, name: &str) -> Span {
    it.attribute(name).map_or(it.tag, Attribute::stands)
}

/// A finding at the attribute that it is about, or at the tag of its element.
pub fn at_attribute(it: &Found, finding: Finding) -> Finding {
    let span = place(it, finding.attribute);
    alone(finding, span)
}
