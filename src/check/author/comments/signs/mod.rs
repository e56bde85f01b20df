//! Signs in comments: marks, links and emphasis that do not do what they look like.

mod arrows;
mod emphasis;
mod links_apart;
mod marks_apart;
mod stray_markup;

use crate::lesson::Lesson;
use crate::notation::Comment;
use crate::text::Findings;

/// The findings about the signs in the comments of a lesson.
pub(super) fn signs(lesson: &Lesson) -> Findings {
    let mut findings = stray_markup::stray_markup(lesson);
    findings.extend(arrows::arrows(lesson));
    for &id in lesson.commented() {
        let node = lesson.node(id);
        let comments = node.before.iter().chain(node.comments.iter());
        for said in comments.filter(|said| !said.is_silent()) {
            for passage in said.passages().filter(|it| !it.is_silent()) {
                marks_apart::marks(passage, &mut findings);
                emphasis::open(passage, &mut findings);
            }
            links(said, &mut findings);
        }
    }
    findings
}

fn links(said: &Comment, findings: &mut Findings) {
    for passage in said.passages().filter(|it| !it.is_silent()) {
        links_apart::links(passage, findings);
    }
}
