//! What is ours and is not closed: all that comes after it in the page is in it.

use super::Kind as Written;
use super::found::Found;
use super::tree::Tree;
use crate::text::{Code, Finding, Source};

/// The findings about an element of ours, or a fence, that is not closed, and about its notation.
pub fn amiss(source: &Source, kind: Written, tree: &Tree, found: &Found) -> Vec<Finding> {
    let nodes = [Some(found.node), found.pre].into_iter().flatten();
    let open = nodes.filter(|&node| !tree.nodes[node].is_closed);
    let say = |node: usize| {
        let name = tree.nodes[node].name.as_str();
        let tag = tree.nodes[node].tag;
        let (what, end) = match found.is_fence && kind == Written::Markdown {
            true => {
                let line = source.slice(tag);
                let sign = line.chars().next().unwrap_or('`');
                let signs = line.chars().take_while(|it| *it == sign);
                (
                    "this fence".to_owned(),
                    format!(
                        "write {} on a line of its own where it ends",
                        signs.collect::<String>()
                    ),
                )
            }
            false => (
                format!("<{name}>"),
                format!("write </{name}> where it ends"),
            ),
        };
        let message = format!("{what} is not closed, so all that comes after it is in it");
        Finding::new(Code::NotClosed, tag, message).with_help(end)
    };
    open.map(say).collect()
}

/// Whether the notation of an element ends where it is meant to end.
pub fn is_held(tree: &Tree, found: &Found) -> bool {
    let block = found.pre.or(found.is_fence.then_some(found.node));
    block.is_none_or(|block| tree.nodes[block].is_closed)
}
