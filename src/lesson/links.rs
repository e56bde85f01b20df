//! Where the links of comments to positions lead: looked up once, when the lesson is whole.

use super::place::found::{LinkTo, LocateError};
use super::place::locate::locate_within;
use super::tree::{Lesson, NodeId};
use crate::notation::Comment;
use crate::notation::comment::passage::{Link, Paragraph};
use crate::text::{Span, limits};

/// The links of some comments to positions: each locator and where it is.
pub fn locators(comments: &[Comment]) -> impl Iterator<Item = (&str, Span)> {
    let passages = comments.iter().flat_map(Comment::passages);
    let pieces = passages
        .filter(|passage| !passage.is_plain())
        .flat_map(|passage| passage.paragraphs().flat_map(Paragraph::pieces));
    pieces.filter_map(|piece| match piece.link()? {
        Link::Locator { run, span } => Some((run, span)),
        Link::Web(_) => None,
    })
}

/// Looks up where the links of a lesson lead. Where [`limits::LINK_LOOKS`] is not enough, the last
/// ones lead nowhere.
pub(super) fn links(lesson: &Lesson) -> Vec<LinkTo> {
    let mut list = Vec::new();
    let mut looks = limits::LINK_LOOKS;
    for &id in lesson.commented() {
        let node = lesson.node(id);
        for comments in [&node.before[..], &node.comments[..]] {
            for (run, span) in locators(comments) {
                // The others lead nowhere, and to look at each would take too long.
                if looks == 0 {
                    break;
                }
                let leads = locate_within(lesson, run, &mut looks);
                if looks > 0 {
                    let at = span.from;
                    list.push(LinkTo { at, leads });
                }
            }
        }
    }
    list.sort_unstable_by_key(|link| link.at);
    list
}

impl Lesson {
    /// Where a link of one of its comments leads whose target is at this place; none if
    /// the lesson has more links than are checked.
    pub fn link(&self, target: Span) -> Option<&Result<NodeId, LocateError>> {
        let at = |link: &LinkTo| link.at.cmp(&target.from);
        let found = self.links.binary_search_by(at).ok()?;
        self.links.get(found).map(|link| &link.leads)
    }

    /// The node to which such a link leads.
    pub fn linked(&self, target: Span) -> Option<NodeId> {
        self.link(target)?.as_ref().ok().copied()
    }
}
