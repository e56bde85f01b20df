//! What a page says of itself, and what baking adds to its head.

use super::MARK;
use crate::markup::escape;
use crate::post::{Inside, Tree};

/// How a page loads the script.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Script {
    /// `plyline.mjs`, which loads the rest when a reader touches a lesson. With the address of its folder.
    Module(String),
    /// `plyline.js`, which loads everything at once. With the address of its folder.
    Classic(String),
    None,
}

impl Script {
    /// That of a page: the first of the two that it loads.
    pub fn of(tree: &Tree) -> Script {
        let scripts = (0..tree.nodes.len()).filter(|&it| tree.nodes[it].name == "script");
        for node in scripts {
            if let Some(src) = tree.value(node, "src") {
                let path = src.split(['?', '#']).next().unwrap_or_default();
                if let Some(folder) = path.strip_suffix("plyline.mjs") {
                    return Script::Module(folder.to_owned());
                }
                if let Some(folder) = path.strip_suffix("plyline.js") {
                    return Script::Classic(folder.to_owned());
                }
                continue;
            }
            // A module of the page's own that imports ours.
            for inside in &tree.nodes[node].inside {
                if let Inside::Text(text) = inside
                    && let Some(folder) = imported(&text.text)
                {
                    return Script::Module(folder.to_owned());
                }
            }
        }
        Script::None
    }

    /// The address of the folder from which it is loaded.
    pub fn folder(&self) -> Option<&str> {
        match self {
            Script::Module(folder) | Script::Classic(folder) => Some(folder),
            Script::None => None,
        }
    }
}

/// The folder of `plyline.mjs` in the text of a module that imports it.
fn imported(text: &str) -> Option<&str> {
    let (before, _) = text.split_once("plyline.mjs")?;
    let from = before.rfind(['"', '\''])? + 1;
    before.get(from..)
}

/// Where something is added to the head of a page: before its end, else after its beginning.
pub fn place(tree: &Tree) -> Option<usize> {
    let head = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == "head");
    if let Some(head) = head {
        let node = &tree.nodes[head];
        let end = node.close.map(|it| it.from);
        return Some(end.unwrap_or(node.tag.to) as usize);
    }
    // The end tag of `head`, and the element itself, may be left out.
    let body = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == "body");
    if let Some(body) = body {
        return Some(tree.nodes[body].tag.from as usize);
    }
    let title = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == "title")?;
    tree.nodes[title].close.map(|it| it.to as usize)
}

/// The address of a style sheet as a link, in a line of its own.
pub fn sheet(address: &str) -> String {
    let mut text = String::from("<link rel=\"stylesheet\" href=\"");
    escape(address, &mut text);
    text + "\" " + MARK + "=\"\">\n"
}

/// The picture by which other sites show the page.
pub fn og_image(address: &str) -> String {
    let mut text = String::from("<meta property=\"og:image\" content=\"");
    escape(address, &mut text);
    text + "\" " + MARK + "=\"\">\n"
}

/// Whether the page names such a picture itself.
pub fn has_og_image(tree: &Tree) -> bool {
    (0..tree.nodes.len())
        .any(|it| tree.nodes[it].name == "meta" && tree.value(it, "property") == Some("og:image"))
}
