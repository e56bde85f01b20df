//! What is ours in a post: elements, and the fences that become elements. The rules are those of the
//! page's script (`www/page/elements/fences.js`, `blocks.js`).

use super::elements::Text;
use super::elements::{Attribute, Inside, Node, Tree};
use crate::check::attributes::{KINDS, Kind};
use crate::text::Span;

/// An element of ours, or a fence that becomes one.
#[derive(Debug)]
pub struct Found {
    pub kind: Kind,
    /// Where it is in the tree.
    pub node: usize,
    /// Its tag, or the first line of its fence, in the file.
    pub tag: Span,
    /// Its attributes, or the tags of its fence that have the same meaning.
    pub values: Vec<Attribute>,
    /// The block that holds that, if it is not the fence's own.
    pub pre: Option<usize>,
    /// The notation or placement that is its own.
    pub notation: Option<Text>,
    /// What it holds beside that, as text.
    pub prompt: String,
    pub is_fence: bool,
}

impl Found {
    pub fn attribute(&self, name: &str) -> Option<&Attribute> {
        self.values.iter().find(|it| it.name == name)
    }

    pub fn value(&self, name: &str) -> Option<&str> {
        self.attribute(name).map(|it| it.value.text.as_str())
    }
}

/// Elements whose inside is no part of the page.
const ELSEWHERE: &[&str] = &[
    "template", "script", "style", "textarea", "title", "noscript",
];

/// All that is ours, in the order in which it stands.
pub fn find(tree: &Tree) -> Vec<Found> {
    let mut found = Vec::new();
    for node in 0..tree.nodes.len() {
        let is_elsewhere = |it: usize| ELSEWHERE.contains(&tree.nodes[it].name.as_str());
        let name = tree.nodes[node].name.as_str();
        let kind = Kind::named(name);
        if (kind.is_some() || name == "pre") && tree.around(node).any(is_elsewhere) {
            continue;
        }
        if let Some(kind) = kind {
            found.push(element(tree, node, kind));
        } else if name == "pre"
            && let Some(language) = fence(tree, node)
        {
            found.extend(block(tree, node, language));
        }
    }
    found
}

fn element(tree: &Tree, node: usize, kind: Kind) -> Found {
    let Node {
        tag, attributes, ..
    } = &tree.nodes[node];
    let pre = tree
        .children(node)
        .filter(|&it| tree.nodes[it].name == "pre");
    let mut texts = pre.map(|it| (it, tree.text(it)));
    let own = texts.find(|(_, text)| !text.text.trim().is_empty());
    let (pre, notation) = own.unzip();
    let mut prompt = String::new();
    for inside in &tree.nodes[node].inside {
        match inside {
            Inside::Text(text) => prompt += &text.text,
            Inside::Element(it) if tree.nodes[*it].name != "pre" => prompt += &tree.text(*it).text,
            Inside::Element(_) => {}
        }
    }
    Found {
        kind,
        node,
        tag: *tag,
        values: attributes.clone(),
        pre,
        notation,
        prompt: prompt.trim().to_owned(),
        is_fence: false,
    }
}

/// The language of the fence that a block is; none for another, and inside an element of ours.
pub fn fence(tree: &Tree, pre: usize) -> Option<&'static str> {
    if is_within(tree, pre) {
        return None;
    }
    marked(tree, pre).find_map(|node| {
        let class = tree.value(node, "class")?;
        class.split_whitespace().find_map(language)
    })
}

/// Whether a block is a fence of this language.
pub fn is_fence_of(tree: &Tree, pre: usize, language: &str) -> bool {
    !is_within(tree, pre)
        && marked(tree, pre).any(|node| {
            let class = tree.value(node, "class").unwrap_or_default();
            let mut words = class.split_whitespace();
            words.any(|word| language_of(word) == Some(language))
        })
}

/// Whether a block is where no fence is: inside an element of ours, or switched off.
pub fn is_within(tree: &Tree, pre: usize) -> bool {
    tree.around(pre)
        .any(|node| match Kind::named(&tree.nodes[node].name) {
            Some(Kind::Reference | Kind::Prose) | None => is_off(tree, node),
            Some(_) => true,
        })
}

/// The elements whose class may name the language of a block.
pub fn marked(tree: &Tree, pre: usize) -> impl Iterator<Item = usize> {
    let code = tree.children(pre).find(|&it| tree.nodes[it].name == "code");
    let parent = tree.nodes[pre].parent;
    let marked = [code, Some(pre), parent, Some(wrapper(tree, pre))];
    marked.into_iter().flatten()
}

/// Whether an author has switched off what is in an element.
pub fn is_off(tree: &Tree, node: usize) -> bool {
    let value = tree.value(node, "data-plyline").unwrap_or_default();
    value.split_whitespace().any(|it| it == "off")
}

/// The language that a class of a block names, if it is one of ours.
fn language(class: &str) -> Option<&'static str> {
    let name = language_of(class)?;
    let mut all = KINDS.iter().flat_map(|(_, _, languages)| languages.iter());
    all.find(|language| **language == name).copied()
}

/// The language that a class of a block names.
pub fn language_of(class: &str) -> Option<&str> {
    let long = class.strip_prefix("language-");
    long.or_else(|| class.strip_prefix("lang-"))
}

/// The outermost wrapper of a highlighter that holds the block and nothing else.
pub fn wrapper(tree: &Tree, pre: usize) -> usize {
    let mut block = pre;
    while let Some(parent) = tree.nodes[block].parent {
        let Node { name, inside, .. } = &tree.nodes[parent];
        let is_alone = inside.iter().all(|it| match it {
            Inside::Element(child) => *child == block,
            Inside::Text(text) => text.text.trim().is_empty(),
        });
        let class = tree.value(parent, "class").unwrap_or_default();
        let is_wrapper = ["highlight", "lang-", "language-", "code"]
            .iter()
            .any(|it| class.contains(it));
        if !is_alone || !is_wrapper || !matches!(name.as_str(), "div" | "figure") {
            break;
        }
        block = parent;
    }
    block
}

fn block(tree: &Tree, node: usize, language: &str) -> Option<Found> {
    let (kind, ..) = *KINDS
        .iter()
        .find(|(_, _, languages)| languages.contains(&language))?;
    let text = tree.text(node);
    let mut found = Found {
        kind,
        node,
        tag: tree.nodes[node].tag,
        values: Vec::new(),
        pre: None,
        notation: None,
        prompt: String::new(),
        is_fence: true,
    };
    match language {
        "pgn" => {
            let (tags, ..) = tags(&text);
            found.values = tags.into_iter().filter(|tag| tag.name == "id").collect();
            found.notation = Some(text);
        }
        "fen" => found.notation = Some(text),
        _ => {
            let (tags, rest, _) = tags(&text);
            found.values = tags;
            found.prompt = rest.trim().to_owned();
            let is_placed = found.value("fen").is_some() || found.value("at").is_some();
            if kind == Kind::Diagram && !is_placed {
                found.values.push(start(tree.nodes[node].tag));
            }
        }
    }
    Some(found)
}

/// `at="start"`: the text of a fence for a diagram is not a placement.
fn start(stands: Span) -> Attribute {
    let mut value = Text::default();
    "start".chars().for_each(|sign| value.sign(sign, stands));
    Attribute {
        name: "at".to_owned(),
        named: stands,
        value,
    }
}

/// The tags of a fence, `[For "exchange"]`, as attributes, the rest of its text, and where a bracket
/// begins no tag.
pub fn tags(text: &Text) -> (Vec<Attribute>, String, Vec<usize>) {
    let (mut tags, mut rest, mut unread) = (Vec::new(), String::new(), Vec::new());
    let whole = text.text.as_str();
    let mut from = 0;
    while let Some(open) = whole[from..].find('[').map(|at| from + at) {
        rest += &whole[from..open];
        match tag(text, open) {
            Some((attribute, end)) => {
                tags.push(attribute);
                from = end;
            }
            None => {
                rest.push('[');
                unread.push(open);
                from = open + 1;
            }
        }
    }
    rest += &whole[from..];
    (tags, rest, unread)
}

/// The tag that begins at a bracket, and where it ends.
fn tag(text: &Text, open: usize) -> Option<(Attribute, usize)> {
    let whole = text.text.as_str();
    let skip = |at: usize| at + whole[at..].len() - whole[at..].trim_start().len();
    let name = skip(open + 1);
    let is_word = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let end = name + whole[name..].find(|sign| !is_word(sign))?;
    let quote = skip(end);
    let written = whole.get(quote..)?.strip_prefix('"')?;
    let length = written.find('"')?;
    let close = skip(quote + length + 2);
    whole.get(close..)?.strip_prefix(']')?;
    if end == name || quote == end {
        return None;
    }
    let value = Span::new(quote + 1, quote + 1 + length);
    let attribute = Attribute {
        name: whole[name..end].to_ascii_lowercase(),
        named: text.mapping.outer(Span::new(name, end)),
        value: Text {
            text: whole[value.range()].to_owned(),
            mapping: text.mapping.part(value),
        },
    };
    Some((attribute, close + 1))
}
