//! Help for the findings of the passes over a lesson: kept out of the page, because only authors
//! read it.

use crate::lesson::place::Place;
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, locate, way_out};
use crate::notation::comment::mark;
use crate::text::{Code, Finding, Findings, Source, quote};

/// The same findings with their help.
pub(super) fn added(source: &Source, lesson: &Lesson, mut findings: Findings) -> Findings {
    for finding in findings.iter_mut() {
        if let Some(help) = of(source, lesson, finding) {
            finding.help = Some(help);
        }
    }
    findings
}

fn of(source: &Source, lesson: &Lesson, finding: &Finding) -> Option<String> {
    match finding.code {
        Code::LocatorNone => {
            // In a comment it is the address of a link.
            let place = source.slice(finding.span).strip_prefix('#')?;
            Some(way_out(lesson, place))
        }
        Code::WeakChoice => Some(
            "take `Choose:` out, or the sign that marks the move weak: one of them is not meant"
                .to_owned(),
        ),
        Code::ResultDisagrees => Some(result(source, finding)),
        Code::ArrowToItself => {
            let (mark, _) = mark::read(None, source.slice(finding.span))?;
            let square = mark.squares.first()?;
            Some(format!(
                "end the arrow on another square, or mark the square alone: @{square}"
            ))
        }
        Code::RefusedLink => refused(source, lesson, finding),
        Code::NoAnswer => Some("write the answer as the next move, without `?` or `?!`".to_owned()),
        Code::PromptTells => {
            Some("ask in other words; `Hint:` and `Because:` may name it".to_owned())
        }
        _ => None,
    }
}

/// What a tag and the end of the moves should both say.
fn result(source: &Source, finding: &Finding) -> String {
    let tag = source.slice(finding.span).trim_matches('"').to_owned();
    let end = finding
        .related
        .first()
        .map_or("*", |it| source.slice(it.span));
    match tag.as_str() {
        "1-0" | "0-1" | "1/2-1/2" | "*" => format!(
            "write [Result \"{end}\"] if the moves are right, or {tag} after them if the tag is"
        ),
        _ => format!("{} is no result: write [Result \"{end}\"]", quote(&tag)),
    }
}

/// What an address that no lesson links to may mean: a place of the lesson without its sign, or a page
/// without the beginning of its address. Followed, each of them leads somewhere.
fn refused(source: &Source, lesson: &Lesson, finding: &Finding) -> Option<String> {
    let target = source.slice(finding.span);
    let bare = target.trim_start_matches(['#', '/']);
    if locate(lesson, bare).is_ok() {
        return Some(format!("a position begins with one #: write #{bare}"));
    }
    if target.starts_with("www.") {
        return Some(format!("write https://{target}"));
    }
    let last = *lesson.path(lesson.nodes.len() as NodeId - 1).last()?;
    let place = address(lesson, &Place::of(last));
    let or = match last {
        0 => "start".to_owned(),
        _ => place,
    };
    Some(format!(
        "link to http:// or https://, or to a position as [words](#{or})"
    ))
}
