//! What is ours and is not closed: all that comes after it in the page is in it.

use super::elements::Kind as Written;
use super::elements::{Node, Tree};
use super::found::Found;
use crate::check::attributes::Kind;
use crate::text::{Code, Finding, Source};

/// The findings about an element of ours, or a fence, that is not closed, and about its notation.
pub fn amiss(source: &Source, kind: Written, tree: &Tree, found: &Found) -> Vec<Finding> {
    let nodes = [Some(found.node), found.pre].into_iter().flatten();
    let open = nodes.filter(|&node| !tree.nodes[node].is_closed);
    let is_line = found.is_fence && kind == Written::Markdown;
    let say = |node: usize| match is_line {
        true => fence(source.slice(tree.nodes[node].tag)),
        false => element(tree, node, source.slice(tree.nodes[node].tag)),
    };
    let find = |node: usize| {
        let (message, help) = say(node);
        Finding::new(Code::NotClosed, tree.nodes[node].tag, message).with_help(help)
    };
    open.map(find).collect()
}

/// What is wrong with a fence, by its first line, and the way out.
fn fence(line: &str) -> (String, String) {
    let sign = line.chars().next().unwrap_or('`');
    let signs: String = line.chars().take_while(|it| *it == sign).collect();
    let message = "this fence is not closed, so all that comes after it is in it";
    let help = format!("write {signs} on a line of its own where it ends");
    (message.to_owned(), help)
}

/// What is wrong with an element, and the way out.
fn element(tree: &Tree, node: usize, tag: &str) -> (String, String) {
    let name = tree.nodes[node].name.as_str();
    let mut around = tree.around(node).skip(1).map(|it| &tree.nodes[it]);
    // The end of these also ends what is in them.
    let is_end = |it: &&Node| {
        let is_whole = matches!(it.name.as_str(), "" | "html" | "body");
        it.name == "p" || (it.is_closed && !is_whole && Kind::named(&it.name).is_none())
    };
    let within = around.find(is_end).map(|it| it.name.as_str());
    let is_inline = within == Some("p");
    let reach = match within {
        Some("p") => "the rest of its paragraph".to_owned(),
        Some(other) => format!("the rest of its <{other}>"),
        None => "all that comes after it".to_owned(),
    };
    let message = format!("<{name}> is not closed, so {reach} is in it");
    let help = match tag.ends_with("/>") {
        true => format!("write </{name}> after it; in HTML /> closes nothing"),
        false if is_inline => format!("write </{name}> where it ends, in the same paragraph"),
        false => format!("write </{name}> where it ends"),
    };
    (message, help)
}

/// Whether the notation of an element ends where it is meant to end.
pub fn is_held(tree: &Tree, found: &Found) -> bool {
    let block = found.pre.or(found.is_fence.then_some(found.node));
    block.is_none_or(|block| tree.nodes[block].is_closed)
}
