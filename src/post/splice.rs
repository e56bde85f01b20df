//! Changes of a lesson's text as changes of the file that holds it: the marks before its lines, entities and line ends
//! stay those of the file. The file with them is read again, and all that is not the lesson must mean what it did.

use super::closed::is_held;
use super::elements::{Kind as Written, Markup, Text, Tree};
use super::found::{Found, find};
use crate::check::attributes::Kind;
use crate::markup::escape;
use crate::text::{Edits, Source, Span, line_end, line_start};

/// New text in place of some bytes.
pub type Change = (Span, String);

/// Why a lesson of a post cannot be changed there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unfit {
    /// The post has no such lesson.
    Missing,
    /// Its notation is in another file, at this address.
    Elsewhere(String),
    /// Its fence or element is not closed.
    Open,
    /// It has no notation and no place for it.
    Empty,
    /// With the change a template language would read a mark of its own.
    Template(&'static str),
    /// With the change the rest of the post would not mean what it does.
    Spoils,
}

/// A lesson with its text, and where that is in the post.
pub struct Own {
    pub text: String,
    block: Block,
    /// The post as it was read, against which it is read again.
    tree: Tree,
    found: Vec<Found>,
}

struct Block {
    text: Text,
    tag: Span,
    /// Whether it is a fence of Markdown, in which nothing is an entity.
    is_fence: bool,
    /// Its place among all that was found.
    at: usize,
}

/// What begins a mark of common template languages.
const TEMPLATES: [&str; 3] = ["{%", "{{", "{#"];

/// The lesson of that number among those of the post, from 0.
///
/// # Errors
/// Where there is none, or it has no text of its own here.
pub fn own(source: &Source, kind: Written, lesson: usize) -> Result<Own, Unfit> {
    let (tree, found) = read(source, kind);
    let mut lessons = found.iter().enumerate().filter(|(_, it)| is_lesson(it));
    let (at, it) = lessons.nth(lesson).ok_or(Unfit::Missing)?;
    let text = notation(source, &tree, it)?;
    Ok(Own {
        text: text.text.clone(),
        block: Block {
            text: text.clone(),
            tag: it.tag,
            is_fence: is_markdown(source, it),
            at,
        },
        tree,
        found,
    })
}

/// The texts of all lessons of the post, in their order; of one that has none here the reason.
pub fn texts(source: &Source, kind: Written) -> Vec<Result<String, Unfit>> {
    let all = blocks(source, kind).into_iter();
    all.map(|(_, text)| text.map(|it| it.text)).collect()
}

/// The same with the places of their bytes in the file, each after its tag or the first line of its fence.
pub fn blocks(source: &Source, kind: Written) -> Vec<(Span, Result<Text, Unfit>)> {
    let (tree, found) = read(source, kind);
    let lessons = found.iter().filter(|it| is_lesson(it));
    let block = |it: &Found| (it.tag, notation(source, &tree, it).cloned());
    lessons.map(block).collect()
}

fn is_lesson(it: &Found) -> bool {
    it.kind == Kind::Lesson
}

/// Whether it is a fence of Markdown, and not one that a generator has made markup of.
fn is_markdown(source: &Source, it: &Found) -> bool {
    it.is_fence && !source.slice(it.tag).starts_with('<')
}

/// The notation of a lesson where it can be changed.
fn notation<'a>(source: &Source, tree: &Tree, it: &'a Found) -> Result<&'a Text, Unfit> {
    if !is_held(tree, it) {
        return Err(Unfit::Open);
    }
    let text = match (&it.notation, it.value("src")) {
        (Some(text), _) => text,
        (None, Some(src)) => return Err(Unfit::Elsewhere(src.to_owned())),
        (None, None) => return Err(Unfit::Empty),
    };
    let is_empty = text.text.is_empty() && !is_markdown(source, it);
    match text.mapping.length() as usize != text.text.len() || is_empty {
        true => Err(Unfit::Empty),
        false => Ok(text),
    }
}

impl Own {
    /// Changes of the lesson's text, in their order, as changes of the file. `wanted` is the text with them.
    ///
    /// # Errors
    /// Where the file would then be read otherwise.
    pub fn changes(
        &self,
        source: &Source,
        kind: Written,
        changes: &[Change],
        wanted: &str,
    ) -> Result<Vec<Change>, Unfit> {
        let mut last = Unfit::Spoils;
        // In Markdown an empty line ends a block of HTML; one with a space as entity does not.
        for empty in ["", "&#32;"] {
            if !empty.is_empty() && (self.block.is_fence || kind == Written::Html) {
                break;
            }
            let made: Vec<Change> = changes
                .iter()
                .map(|it| self.change(source, it, empty))
                .collect();
            match self.verify(source, kind, &made, wanted) {
                Ok(()) => return Ok(made),
                Err(unfit) => last = unfit,
            }
        }
        Err(last)
    }

    fn change(&self, source: &Source, (span, new): &Change, empty: &str) -> Change {
        let file = source.text();
        let mapping = &self.block.text.mapping;
        let text = self.text.as_str();
        if text.is_empty() {
            return self.first(file, new);
        }
        let place = |byte: u32| {
            mapping
                .outer(Span {
                    from: byte,
                    to: byte,
                })
                .from
        };
        // Right after the words before it: a file may have more than the text at the end of a line.
        let before = text.get(..span.from as usize).unwrap_or_default();
        let from = match before.chars().next_back().filter(|it| *it != '\n') {
            Some(last) => {
                let from = span.from - last.len_utf8() as u32;
                mapping
                    .outer(Span {
                        from,
                        to: span.from,
                    })
                    .to
            }
            None => place(span.from),
        };
        let ends_line = text
            .get(..span.to as usize)
            .is_some_and(|it| it.ends_with('\n'));
        let is_all = span.to as usize >= text.len();
        let to = match span.is_empty() {
            true => from,
            // Up to the words of the next line, so that the marks before them go too.
            false if ends_line && !is_all => place(span.to),
            false => mapping.outer(*span).to,
        };
        let (end, prefix) = (line_end(file, from as usize), self.prefix(file, span.from));
        let mut made = String::new();
        let new = new.replace("\r\n", "\n");
        let count = new.matches('\n').count();
        for (nth, line) in new.split('\n').enumerate() {
            if nth > 0 {
                made += end;
                let is_last = nth == count && line.is_empty() && is_all && ends_line;
                // White space alone is an empty line to Markdown, but in a fence it is the lesson's.
                let is_empty = line.is_empty() || (!self.block.is_fence && line.trim().is_empty());
                let is_empty = is_empty && nth < count;
                match (is_last, is_empty) {
                    (true, _) => {}
                    (_, true) => {
                        made += prefix.trim_end();
                        made += empty;
                    }
                    _ => made += &prefix,
                }
            }
            made += &self.written(line);
        }
        (Span { from, to }, made)
    }

    /// What is put into a fence without a line.
    fn first(&self, file: &str, new: &str) -> Change {
        let tag = self.block.tag;
        let end = line_end(file, tag.from as usize);
        let rest = file.get(tag.to as usize..).unwrap_or_default();
        let at = tag.to as usize + rest.find('\n').map_or(rest.len(), |at| at + 1);
        let prefix = container(file, tag.from);
        let lines = new.trim_end().replace("\r\n", "\n");
        let lines: Vec<String> = lines
            .split('\n')
            .map(|line| format!("{prefix}{line}{end}"))
            .collect();
        (Span::new(at, at), lines.concat())
    }

    /// Text of the lesson as the file has it.
    fn written(&self, text: &str) -> String {
        match self.block.is_fence {
            true => text.to_owned(),
            false => in_element(text),
        }
    }

    /// What the file has before the words of a line, as on the lines around it.
    fn prefix(&self, file: &str, byte: u32) -> String {
        let text = self.text.as_str();
        let mapping = &self.block.text.mapping;
        let mut starts: Vec<usize> = text.match_indices('\n').map(|(at, _)| at + 1).collect();
        if self.block.is_fence {
            starts.insert(0, 0);
        }
        starts.retain(|&at| {
            text[at..]
                .lines()
                .next()
                .is_some_and(|line| !line.trim().is_empty())
        });
        let before = starts.iter().rev().find(|&&at| at <= byte as usize);
        match before.or(starts.first()) {
            Some(&start) => {
                let place = mapping.outer(Span::new(start, start)).from as usize;
                file.get(line_start(file, place)..place)
                    .unwrap_or_default()
                    .to_owned()
            }
            None => container(file, mapping.outer(Span::new(0, 0)).from),
        }
    }

    /// Reads the file with some changes again.
    fn verify(
        &self,
        source: &Source,
        kind: Written,
        changes: &[Change],
        wanted: &str,
    ) -> Result<(), Unfit> {
        let file = source.text();
        let mut edits = Edits::default();
        for (span, text) in changes {
            edits.replace(span.range(), text);
        }
        let new = edits.apply(file);
        for mark in TEMPLATES {
            if new.matches(mark).count() > file.matches(mark).count() {
                return Err(Unfit::Template(mark));
            }
        }
        let after = Source::new(source.name(), new);
        let same = |one: &str, two: &str| {
            one.replace("\r\n", "\n").trim_end() == two.replace("\r\n", "\n").trim_end()
        };
        let old = &self.found;
        let (tree, new) = read(&after, kind);
        let own = new.get(self.block.at).and_then(|it| it.notation.as_ref());
        let is_own =
            own.is_some_and(|it| lines_of(&it.text) == lines_of(wanted) || same(&it.text, wanted));
        let others = old.len() == new.len()
            && old
                .iter()
                .zip(&new)
                .enumerate()
                .all(|(at, (one, two))| at == self.block.at || is_same(one, two));
        let block = |found: &[Found]| found.get(self.block.at).map(|it| it.pre.unwrap_or(it.node));
        let is_around = around(&self.tree, block(old)) == around(&tree, block(&new));
        match is_own && others && is_around {
            true => Ok(()),
            false => Err(Unfit::Spoils),
        }
    }
}

/// Text as it is written in an element, where a quotation mark and `>` need no entity, and authors type them.
pub fn in_element(text: &str) -> String {
    let mut made = String::new();
    for letter in text.chars() {
        match letter {
            '&' | '<' => escape(letter.encode_utf8(&mut [0; 4]), &mut made),
            _ => made.push(letter),
        }
    }
    made
}

fn read(source: &Source, kind: Written) -> (Tree, Vec<Found>) {
    let tree = Tree::of(&Markup::of(source, kind));
    let found = find(&tree);
    (tree, found)
}

/// The lines of a text without white space at their ends: Markdown has none on an empty line.
fn lines_of(text: &str) -> Vec<&str> {
    text.trim_end().lines().map(str::trim_end).collect()
}

/// Whether something of ours says the same in two readings.
fn is_same(one: &Found, two: &Found) -> bool {
    let values = |it: &Found| -> Vec<(String, String)> {
        let values = it.values.iter();
        values
            .map(|it| (it.name.clone(), it.value.text.clone()))
            .collect()
    };
    let text = |it: &Found| it.notation.as_ref().map(|it| it.text.clone());
    let is_kind = one.kind == two.kind && one.is_fence == two.is_fence && one.prompt == two.prompt;
    is_kind && text(one) == text(two) && values(one) == values(two)
}

/// All elements with their attributes, depth and own text, but what is in one of them.
fn around(tree: &Tree, block: Option<usize>) -> Vec<(String, usize, bool, String)> {
    use super::elements::Inside;
    let mut depths = vec![0; tree.nodes.len()];
    let mut is_within = vec![false; tree.nodes.len()];
    let mut list = Vec::new();
    for (at, node) in tree.nodes.iter().enumerate() {
        // A parent comes before what is in it.
        if let Some(parent) = node.parent {
            depths[at] = depths[parent] + 1;
            is_within[at] = is_within[parent] || Some(parent) == block;
        }
        if is_within[at] {
            continue;
        }
        let mut said = node.name.clone();
        for attribute in &node.attributes {
            said += &format!(" {}={:?}", attribute.name, attribute.value.text);
        }
        let mut text = String::new();
        for inside in node.inside.iter().filter(|_| Some(at) != block) {
            if let Inside::Text(it) = inside {
                text += &it.text;
            }
        }
        list.push((said, depths[at], node.is_closed, text));
    }
    list
}

/// What the lines of a container begin with, by the line on which something begins in it: marks of quotations as they
/// are, those of lists as spaces.
fn container(file: &str, place: u32) -> String {
    let start = line_start(file, place as usize);
    let line = file.get(start..).unwrap_or_default();
    let line = line.lines().next().unwrap_or_default();
    let line = line.get(..place as usize - start).unwrap_or(line);
    let sign = |it: char| if matches!(it, '>' | '\t') { it } else { ' ' };
    let marks = line.split('<').next().unwrap_or_default();
    marks.chars().map(sign).collect()
}
