//! Where lessons of one series meet: a position that two posts have is told in both, with a link from
//! each to the other.
//!
//! It is written beside the notation and not into it, which is the author's. The script puts it in as it
//! reads the notation (`www/page/elements/reading.js`), and so does baking.

use super::series::{Member, OF, dated, is_copy, member, seen_from, title};
use crate::edge::{HASH, hashed};
use crate::lesson::place::address::address;
use crate::lesson::rules::key;
use crate::lesson::{Lesson, NodeId, Place};
use crate::notation::Comment;
use crate::notation::comment::passage::{Link, Paragraph};
use crate::post::{self, Notation, Other, Post, Tree};
use crate::view::{Element, Word, Words};
use std::collections::{HashMap, HashSet};
use std::rc::Rc;

/// How many other posts are named at one position, and how often a lesson names one.
const MOST: usize = 3;

/// A lesson of a post of a series.
#[derive(Clone, Debug)]
pub struct Posted {
    series: String,
    /// The address of its page, seen from the site's folder.
    path: String,
    /// The heading of its page.
    title: String,
    date: Option<String>,
    /// Whether its page says that its text is elsewhere (`rel=canonical`).
    is_copy: bool,
    /// How many lessons its page has.
    beside: usize,
    /// The address of its start in its page.
    start: String,
    /// Its notation, as a number: the same on several pages is one lesson.
    text: u64,
    spots: Vec<Spot>,
}

/// A position of a lesson.
#[derive(Clone, Debug)]
struct Spot {
    position: u64,
    /// The position before it.
    before: Option<u64>,
    run: String,
}

/// The series that a page belongs to, and the lessons on it that are of one.
pub fn posted(other: &Other<'_>, path: &str) -> (Option<Member>, Vec<Posted>) {
    let (tree, lessons) = post::lessons(other);
    let title = title(&tree).unwrap_or_default();
    let (date, is_copy) = (dated(&tree), is_copy(&tree, path));
    let beside = lessons.len();
    let post = |it: post::Read| {
        let notation = it.notation.as_deref()?;
        Some(Posted {
            series: series_of(&tree, it.node)?,
            path: path.to_owned(),
            title: title.clone(),
            date: date.clone(),
            is_copy,
            beside,
            start: it.address,
            text: number(notation),
            spots: spots(&notation.lesson),
        })
    };
    let posted = lessons.into_iter().filter_map(post).collect();
    (member(&tree, path), posted)
}

/// The series of an element: that of the post around it, else the only one that its page names.
pub fn series_of(tree: &Tree, node: usize) -> Option<String> {
    let around = tree.around(node).find_map(|it| tree.value(it, OF));
    let only = || {
        let mut all = (0..tree.nodes.len()).filter_map(|it| tree.value(it, OF));
        all.next().filter(|_| all.next().is_none())
    };
    let name = around.or_else(only)?.trim();
    (!name.is_empty()).then(|| name.to_owned())
}

fn number(notation: &Notation) -> u64 {
    let text = notation.text().bytes();
    hashed(HASH, text.filter(|&it| it != b'\r'))
}

/// The position of each node as a number of 64 bits: among the positions of a site two that differ will not
/// share one.
fn positions(lesson: &Lesson) -> Vec<u64> {
    let position = |node: NodeId| {
        let key = key(&lesson.node(node).position);
        hashed(HASH, key.iter().flat_map(|part| part.to_le_bytes()))
    };
    lesson.ids().map(position).collect()
}

/// The position before that of a node.
fn before(lesson: &Lesson, positions: &[u64], node: NodeId) -> Option<u64> {
    let parent = lesson.node(node).parent?;
    Some(positions[parent as usize]) // one a node
}

fn spots(lesson: &Lesson) -> Vec<Spot> {
    let positions = positions(lesson);
    let spot = |node: NodeId| Spot {
        position: positions[node as usize], // one a node
        before: before(lesson, &positions, node),
        run: address(lesson, &Place::of(node)),
    };
    lesson.ids().map(spot).collect()
}

/// All lessons of the series of a site.
#[derive(Debug, Default)]
pub struct Meetings {
    lessons: Vec<Posted>,
    /// By series and position, those that have it, each with a place among its spots: its first.
    at: HashMap<String, HashMap<u64, Vec<(usize, usize)>>>,
}

impl Meetings {
    /// Of the same notation on several pages one is kept: that of the page which is no copy, else of the
    /// one with fewest lessons.
    pub fn new(mut lessons: Vec<Posted>) -> Meetings {
        let order = |it: &Posted| (it.is_copy, it.beside, it.path.clone());
        lessons.sort_by_key(order);
        let mut seen = HashSet::new();
        lessons.retain(|it| seen.insert((it.series.clone(), it.text)));
        lessons.sort_by_key(|it| (it.date.is_none(), it.date.clone(), it.path.clone()));
        let mut at: HashMap<String, HashMap<u64, Vec<(usize, usize)>>> = HashMap::new();
        for (number, lesson) in lessons.iter().enumerate() {
            let at = at.entry(lesson.series.clone()).or_default();
            for (spot, it) in lesson.spots.iter().enumerate() {
                let here = at.entry(it.position).or_default();
                if here.iter().all(|(other, _)| *other != number) {
                    here.push((number, spot));
                }
            }
        }
        // What only one has is met by nobody.
        for at in at.values_mut() {
            at.retain(|_, here| here.len() > 1);
        }
        Meetings { lessons, at }
    }

    /// Puts what is said of others into the lessons of a page, and into all that is about them: what a reader
    /// sees and the stamp count it. Returns the attributes of the lessons by their nodes.
    pub fn tell(
        &self,
        post: &mut Post,
        path: &str,
        words: &dyn Fn(&Tree, &str) -> Words,
    ) -> HashMap<usize, String> {
        let mut attributes = HashMap::new();
        for at in 0..post.shown.len() {
            let shown = &post.shown[at]; // below the length
            let node = post.found[shown.at].node; // its own index
            let own = shown.notation.clone().filter(|it| it.games.is_empty());
            let (Some(own), Element::Lesson { .. }) = (own, &shown.element) else {
                continue;
            };
            let Some(series) = series_of(&post.tree, node) else {
                continue;
            };
            let words = words(&post.tree, post.tree.language(node));
            let is_file = post.found[shown.at].notation.is_none(); // its own index
            let page = (path, &words);
            let Some(told) = self.told(&series, &own, is_file, page) else {
                continue;
            };
            attributes.insert(node, told.attribute);
            let Some(told) = own.retold(told.text).map(Rc::new) else {
                continue;
            };
            for shown in &mut post.shown {
                if shown
                    .notation
                    .as_ref()
                    .is_some_and(|it| Rc::ptr_eq(it, &own))
                {
                    shown.notation = Some(Rc::clone(&told));
                }
            }
        }
        attributes
    }

    /// What a lesson of the page at a path says of others, in the order of its text.
    fn said(&self, series: &str, notation: &Notation, path: &str, words: &Words) -> Vec<Said> {
        let Some(known) = self.at.get(series) else {
            return Vec::new();
        };
        let lesson = &notation.lesson;
        let positions = positions(lesson);
        let own = number(notation);
        // For each node the others that have its position; and those that have one after it.
        let mut here: Vec<Vec<(usize, usize)>> = Vec::new();
        let mut after: Vec<HashSet<usize>> = Vec::new();
        for position in &positions {
            let all = known.get(position).map_or(&[][..], |it| it);
            let is_other = |(it, _): &&(usize, usize)| {
                self.lessons[*it].text != own && self.lessons[*it].path != path // its own number
            };
            here.push(all.iter().filter(is_other).copied().collect());
            after.push(HashSet::new());
        }
        for node in lesson.ids().rev() {
            if let Some(before) = lesson.node(node).parent {
                let mut those = after[node as usize].clone(); // one a node
                those.extend(here[node as usize].iter().map(|(it, _)| it));
                after[before as usize].extend(those);
            }
        }
        // Where each is met, in the order of the text.
        let mut met: HashMap<usize, Vec<(NodeId, usize)>> = HashMap::new();
        for node in lesson.ids().skip(1) {
            let parent = lesson.node(node).parent;
            let from = before(lesson, &positions, node);
            for &(number, spot) in &here[node as usize] {
                let other = &self.lessons[number]; // its own number
                let there = &other.spots[spot]; // its own place
                let is_told = is_linked(lesson, node, path, &other.path);
                let is_last = !after[node as usize].contains(&number);
                let is_transposition = there.before.is_some() && there.before != from;
                let places = met.entry(number).or_default();
                // One move later it would say the same again.
                let is_new = places.iter().all(|(it, _)| Some(*it) != parent);
                if is_new && !is_told && (is_last || is_transposition) {
                    places.push((node, spot));
                }
            }
        }
        let mut chosen = Vec::new();
        for (number, mut places) in met {
            // The nearer to the main line, the more readers come by.
            places.sort_by_key(|(node, _)| (lesson.label(*node).len(), *node));
            let first = places.into_iter().take(MOST);
            chosen.extend(first.map(|(node, spot)| (node, number, spot)));
        }
        chosen.sort_unstable();
        let mut list = Vec::new();
        for here in chosen.chunk_by(|one, next| one.0 == next.0) {
            for &(node, number, spot) in here.iter().take(MOST) {
                let other = &self.lessons[number]; // its own number
                let address = other.address(&other.spots[spot], path); // its own place
                let title = [("post", &*plain(&other.title))];
                let words = words.fill(Word::AlsoIn, &title);
                list.push(Said {
                    at: place(notation, node),
                    words: format!("{{[{words}]({address})}}"),
                });
            }
        }
        list.sort_by_key(|it| it.at);
        list
    }

    /// The text of a lesson with what is said of others, and the attribute by which the script does
    /// the same; none where nothing is. `is_file` says that the notation is not in the page.
    fn told(
        &self,
        series: &str,
        of: &Notation,
        is_file: bool,
        page: (&str, &Words),
    ) -> Option<Told> {
        let said = self.said(series, of, page.0, page.1);
        if said.is_empty() {
            return None;
        }
        // In the page every end of a line is a line feed, and the first one after the tag is none of it
        // (HTML, 13.2.3.5 and 13.2.6.4.7).
        let whole = of.source.text();
        let start = usize::from(!is_file && whole.starts_with('\n'));
        let part = |from: usize, to: usize| {
            let part = whole.get(from..to).unwrap_or_default();
            match is_file {
                true => part.to_owned(),
                false => part.replace("\r\n", "\n"),
            }
        };
        let units = |text: &str| text.encode_utf16().count();
        let (mut text, mut lines, mut from) = (String::new(), Vec::new(), start);
        for it in &said {
            text += &part(from, it.at);
            let at = units(&part(start, it.at));
            lines.push(format!("{at} {}", it.words));
            text = text + " " + &it.words;
            from = it.at;
        }
        text += &part(from, whole.len());
        lines.push(units(&part(start, whole.len())).to_string());
        lines.reverse();
        let attribute = lines.join("\n");
        Some(Told { text, attribute })
    }
}

/// A lesson's text with what is said of others, and the attribute by which a script puts that in.
struct Told {
    text: String,
    attribute: String,
}

impl Posted {
    /// The address of one of its positions, seen from a page.
    fn address(&self, spot: &Spot, path: &str) -> String {
        let page = seen_from(path, &self.path);
        let page = match page.starts_with('.') {
            true => page,
            false => format!("./{page}"),
        };
        let mut address = format!("{page}{}/{}", self.start, spot.run);
        // What would end a link of a comment, or the comment.
        for sign in ['(', ')', '[', ']', '{', '}', ' ', '"', '\n'] {
            if address.contains(sign) {
                address = address.replace(sign, &format!("%{:02X}", u32::from(sign)));
            }
        }
        address
    }
}

/// What is said at a place of the text.
struct Said {
    at: usize,
    words: String,
}

/// A title as the words of a link, without signs that would set it or end it.
fn plain(title: &str) -> String {
    let sign = |it: char| match it {
        '[' | '{' => '(',
        ']' | '}' => ')',
        '*' | '@' => ' ',
        _ => it,
    };
    title.chars().map(sign).collect()
}

/// Whether the author links from a node of a lesson to the page of another post.
fn is_linked(lesson: &Lesson, node: NodeId, from: &str, to: &str) -> bool {
    let mut comments = lesson.node(node).comments.iter();
    let targets = |comment: &Comment| {
        let passages = comment.passages();
        let mut pieces = passages.flat_map(|it| it.paragraphs().flat_map(Paragraph::pieces));
        pieces.any(
            |piece| matches!(piece.link(), Some(Link::Web(target)) if resolved(from, target) == to),
        )
    };
    comments.any(targets)
}

/// The address of a page that another links to, seen from the site's folder.
fn resolved(from: &str, target: &str) -> String {
    let target = target.split(['?', '#']).next().unwrap_or_default();
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop(); // the page itself
    for part in target.split('/') {
        match part {
            "." => {}
            ".." => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    let address = parts.join("/");
    address
        .strip_suffix("index.html")
        .unwrap_or(&address)
        .to_owned()
}

/// Where what is said of a position comes: after the author's words, before a question.
fn place(notation: &Notation, node: NodeId) -> usize {
    let (text, it) = (notation.source.text(), notation.lesson.node(node));
    if let Some(asking) = it.asking() {
        return asking.span.from as usize;
    }
    let from = match it.comments.iter().last() {
        Some(last) => last.span.to as usize,
        None => it.span.to as usize,
    };
    let mut rest = text.get(from..).unwrap_or_default();
    // A glyph, `$10`, belongs to the move; a comment to the end of its line ends there.
    while let Some(glyph) = rest.trim_start().strip_prefix('$') {
        rest = glyph.trim_start_matches(|it: char| it.is_ascii_digit());
    }
    let is_line = |it: &Comment| {
        let from = it.span.from as usize;
        text.get(from..).is_some_and(|it| it.starts_with(';'))
    };
    if it.comments.iter().last().is_some_and(is_line) {
        rest = rest.split_once('\n').map_or("", |(_, after)| after);
    }
    text.len() - rest.len()
}
