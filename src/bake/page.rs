//! A page with its elements baked.

use super::also::Meetings;
use super::drawn;
use super::head::{self, Script};
use super::numbers::Numbers;
use super::pictures::{Picture, Pictures};
use super::plain::{Plain, pictured, pictured_board};
use super::series::{self, Member};
use super::{ALSO, BAKED, FROM, MARK};
use crate::check::attributes::{Kind, SERIES, SIDES};
use crate::edge;
use crate::markup::{Element, el, escape, html};
use crate::post::{self, Around, Checked, Found, Inside, Post, Shown, Tree};
use crate::text::Edits;
use crate::text::Source;
use crate::view::Words;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

/// What a page is baked with.
pub struct Setting<'a> {
    /// What the page names in other files.
    pub around: &'a dyn Around,
    /// The texts of a language, by its name as it is written; English where there are none.
    pub words: &'a dyn Fn(&Tree, &str) -> Words,
    /// Those of counts and assessments.
    pub numbers: &'a dyn Fn(&Tree, &str) -> Numbers,
    /// What comes before the name of a picture in its address, seen from the page.
    pub pictures: &'a str,
    /// The address of the folder with `plyline.css`; none for the one from which the page loads the
    /// script.
    pub assets: Option<&'a str>,
    /// The address of the page, seen from the site's folder: `posts/a/`.
    pub path: &'a str,
    /// The posts of all series.
    pub series: &'a [Member],
    /// Where their lessons meet.
    pub meetings: &'a Meetings,
    /// Makes the absolute address of the picture for other sites of that file's name; none if the
    /// site's address is not known.
    pub site: Option<&'a dyn Fn(&str) -> String>,
}

/// A page that was baked.
#[derive(Debug)]
pub struct Baked {
    pub text: String,
    /// Those that it shows.
    pub pictures: Vec<Picture>,
    /// The name of the one by which other sites show it, if that is written into it.
    pub shared: Option<String>,
    /// How it loads the script.
    pub script: Script,
    /// What could not be made, and why.
    pub said: Vec<String>,
    /// How many elements were baked.
    pub count: usize,
    /// What there is to say of it, as without baking.
    pub checked: Checked,
}

/// Bakes a page from which what an earlier run wrote has been taken out.
pub fn page(source: &Source, setting: &Setting<'_>) -> Baked {
    let mut post = post::read(source, post::Kind::Html, setting.around);
    let also = setting
        .meetings
        .tell(&mut post, setting.path, setting.words);
    let script = Script::of(&post.tree);
    let pictures = Pictures::default();
    let mut baking = Baking {
        text: source.text(),
        post: &post,
        also: &also,
        setting,
        sheets: setting.assets.or(script.folder()),
        is_live: script != Script::None,
        pictures: &pictures,
        words: HashMap::new(),
        edits: Edits::default(),
        count: 0,
        sheets_used: BTreeSet::new(),
        said: Vec::new(),
    };
    for shown in &post.shown {
        baking.element(shown);
    }
    baking.articles();
    baking.links();
    baking.series();
    let shared = baking.head();
    let (edits, count, said) = (baking.edits, baking.count, baking.said);
    Baked {
        text: edits.apply(source.text()),
        pictures: pictures.take(),
        shared,
        script,
        said,
        count,
        checked: post.checked,
    }
}

/// The texts of one language.
struct Texts {
    page: Words,
    numbers: Numbers,
}

/// A page while it is baked.
pub(super) struct Baking<'a> {
    pub text: &'a str,
    pub post: &'a Post,
    /// The attributes of lessons that say where others meet them, by their nodes.
    also: &'a HashMap<usize, String>,
    setting: &'a Setting<'a>,
    /// The address of the folder with the style sheets.
    sheets: Option<&'a str>,
    /// Whether a script will make the drawn form act.
    pub is_live: bool,
    pictures: &'a Pictures,
    /// Those of each language that was needed.
    words: HashMap<String, Rc<Texts>>,
    pub edits: Edits,
    pub count: usize,
    /// The style sheets that elements need besides that of lessons.
    sheets_used: BTreeSet<&'static str>,
    said: Vec<String>,
}

impl Baking<'_> {
    fn element(&mut self, shown: &Shown) {
        let post = self.post;
        let found = &post.found[shown.at]; // its own index
        let language = self.post.tree.language(found.node).to_owned();
        let texts = self.texts_of(&language);
        let (words, numbers) = (texts.page.clone(), &texts.numbers);
        let words = &words.lettered(shown.letters);
        let start = shown.of.as_ref().map_or("", |it| it.address.as_str());
        if found.kind == Kind::Reference {
            self.reference(shown, found);
            return;
        }
        if !drawn::is_shown(words, found.kind, shown) {
            return;
        }
        self.count += 1;
        let plain = Plain {
            words,
            numbers,
            pictures: self.pictures,
            folder: self.setting.pictures,
            is_drawn: self.is_live,
        };
        let is_own = found.notation.is_some();
        let is_inline = !found.is_fence && self.is_inline(found.node);
        let mut inside = String::new();
        // Without the lesson in its page the script cannot draw what another lesson shows: there the
        // plain form is what it holds.
        let is_still = matches!(found.kind, Kind::Diagram | Kind::Recap);
        let foreign = shown.of.as_ref().filter(|it| !it.is_here());
        let is_static = is_still && foreign.is_some();
        if let Some(sheets) = self.sheets.filter(|_| self.is_live && !is_static)
            && let Some(root) = drawn::root(words, numbers, found, shown, start)
        {
            let has_numbers = shown.counts.is_some() || shown.assessments.is_some();
            let more = [
                ("plyline-more.css", is_more(found.kind)),
                ("plyline-counts.css", has_numbers),
            ];
            let more = more.into_iter().filter(|(_, is_used)| *is_used);
            let more: Vec<&'static str> = more.map(|(name, _)| name).collect();
            inside += &shadow(sheets, &more, &root);
            self.sheets_used.extend(more);
        }
        let wrapper = if is_inline { "span" } else { "div" };
        let mut made = el(wrapper).with(MARK, "");
        // What else is in the element may have a place in its root: a prompt, a caption.
        if found.kind != Kind::Lesson && !is_static {
            made = made.with("slot", "paper");
        }
        let made = match is_inline {
            true => made.maybe(plain.picture(found.kind, shown)),
            false => {
                let is_lesson = found.kind == Kind::Lesson;
                made.children(plain.of(found, shown, is_lesson && !is_own, start))
            }
        };
        inside += &html(&[made]);
        if let Some(of) = shown
            .notation
            .as_ref()
            .filter(|_| self.is_live && foreign.is_some() && !is_still)
        {
            let text = format!("\n{}", of.text());
            inside += &html(&[el("pre").with(FROM, "").text(&text)]);
        }
        let stamp = self.stamp(shown, found, &language);
        match found.is_fence {
            true => self.fence(found, &stamp, &inside),
            false => self.tag(found, &stamp, &inside, is_inline),
        }
    }

    /// An element that is in the page: its tag is told what was baked, and that comes first in it.
    pub fn tag(&mut self, found: &Found, stamp: &str, inside: &str, is_inline: bool) {
        let end = found.tag.to as usize;
        let is_empty = self.text.as_bytes().get(end.saturating_sub(2)) == Some(&b'/');
        let attributes = self.attributes(found, stamp);
        self.edits
            .insert(end.saturating_sub(1 + usize::from(is_empty)), attributes);
        self.edits.insert(end, inside);
        if !is_inline {
            self.unwrapped(found.node);
        }
    }

    /// What the tag of an element is told.
    fn attributes(&self, found: &Found, stamp: &str) -> String {
        let also = self.also.get(&found.node);
        let also = also.map(|also| attribute(ALSO, also));
        attribute(BAKED, stamp) + &also.unwrap_or_default()
    }

    /// A paragraph around a block would end where that begins.
    fn unwrapped(&mut self, node: usize) {
        let tree = &self.post.tree;
        let parent = tree.nodes[node].parent.filter(|_| !self.is_inline(node));
        if let Some(paragraph) = parent.map(|it| &tree.nodes[it])
            && let ("p", Some(close)) = (paragraph.name.as_str(), paragraph.close)
        {
            self.edits.replace(paragraph.named.range(), "div");
            self.edits.replace(close.range(), "</div>");
        }
    }

    /// A fence, which becomes an element.
    fn fence(&mut self, found: &Found, stamp: &str, inside: &str) {
        let tree = &self.post.tree;
        let block = post::wrapper(tree, found.node);
        let (Some(from), Some(to)) = (Some(tree.nodes[block].tag.from), tree.nodes[block].close)
        else {
            return;
        };
        let mut text = String::new();
        text = text + self.ending(block) + "<" + found.kind.name();
        for it in &found.values {
            text += &attribute(&it.name, &it.value.text);
        }
        text += &self.attributes(found, stamp);
        text.push('>');
        text += inside;
        if found.notation.is_some() {
            let pre = &tree.nodes[found.node];
            let end = pre.close.map_or(pre.tag.to, |it| it.to);
            text += &self.text[pre.tag.from as usize..end as usize]; // places of the page
        } else if !found.prompt.is_empty() {
            text += &html(&[el("p").text(&found.prompt)]);
        }
        text = text + "</" + found.kind.name() + ">";
        self.edits.replace(from as usize..to.to as usize, text);
    }

    /// The end tag of the paragraph that a block ended, which our element does not end.
    fn ending(&self, block: usize) -> &'static str {
        let ended = |it: &post::Node| it.name == "p" && it.ended_by == Some(block);
        match self.post.tree.nodes.iter().any(ended) {
            true => "</p>",
            false => "",
        }
    }

    /// The lists of series.
    fn series(&mut self) {
        let tree = &self.post.tree;
        for wanted in series::wanted(tree) {
            let list = series::list(&wanted, self.setting.series, tree, self.setting.path);
            let list = match list {
                Ok(list) => html(&[list]),
                Err(why) => {
                    self.said.push(why);
                    continue;
                }
            };
            self.count += 1;
            if !wanted.is_fence {
                self.edits
                    .insert(tree.nodes[wanted.node].tag.to as usize, list);
                self.unwrapped(wanted.node);
                continue;
            }
            let block = post::wrapper(tree, wanted.node);
            if let Some(close) = tree.nodes[block].close {
                let list = format!("{}<{SERIES}>{list}</{SERIES}>", self.ending(block));
                let from = tree.nodes[block].tag.from as usize;
                self.edits.replace(from..close.to as usize, list);
            }
        }
    }

    /// The style sheet and the picture for other sites.
    fn head(&mut self) -> Option<String> {
        let tree = &self.post.tree;
        let place = head::place(tree)?;
        if let Some(sheets) = self.sheets.filter(|_| self.is_live && self.count > 0) {
            let mut names = vec!["plyline.css"];
            names.extend(self.sheets_used.iter().rev());
            for name in names {
                let address = format!("{sheets}{name}");
                let is_there = |it: usize| {
                    let node = &tree.nodes[it];
                    node.name == "link" && tree.value(it, "href") == Some(&address)
                };
                if !(0..tree.nodes.len()).any(is_there) {
                    self.edits.insert(place, head::sheet(&address));
                }
            }
        }
        let site = self.setting.site?;
        let first = self.post.shown.iter().find(|it| pictured(it).is_some())?;
        if head::has_og_image(tree) {
            return None;
        }
        let found = &self.post.found[first.at]; // its own index
        let texts = self.texts_of(self.post.tree.language(found.node));
        let still = pictured_board(&texts.page, first)?;
        let name = self.pictures.add(&still.board, &still.description);
        let name = name.replace(".svg", ".png");
        self.edits.insert(place, head::og_image(&site(&name)));
        Some(name)
    }

    fn stamp(&self, shown: &Shown, found: &Found, language: &str) -> String {
        let text = shown.notation.as_ref().map_or("", |it| it.source.text());
        let side = found.value("side").filter(|side| SIDES.contains(side));
        let attributes = [("at", found.value("at")), ("side", side)];
        edge::stamp(text, &attributes, language)
    }

    fn texts_of(&mut self, language: &str) -> Rc<Texts> {
        let make = || {
            Rc::new(Texts {
                page: (self.setting.words)(&self.post.tree, language),
                numbers: (self.setting.numbers)(&self.post.tree, language),
            })
        };
        self.words
            .entry(language.to_owned())
            .or_insert_with(make)
            .clone()
    }

    /// Whether an element is among the words of a paragraph.
    fn is_inline(&self, node: usize) -> bool {
        let tree = &self.post.tree;
        let mut around = tree.around(node).skip(1);
        let Some(paragraph) = around.find(|&it| tree.nodes[it].name == "p") else {
            return false;
        };
        let is_alone = |inside: &Inside| match inside {
            Inside::Element(child) => *child == node,
            Inside::Text(text) => text.text.trim().is_empty(),
        };
        tree.nodes[node].parent != Some(paragraph)
            || tree.nodes[paragraph].close.is_none()
            || !tree.nodes[paragraph].inside.iter().all(is_alone)
    }
}

/// An attribute, with the space before it.
fn attribute(name: &str, value: &str) -> String {
    let mut text = format!(" {name}=\"");
    escape(value, &mut text);
    text + "\""
}

/// Whether an element needs the style sheet of those that are not in every page.
fn is_more(kind: Kind) -> bool {
    matches!(kind, Kind::Quiz | Kind::Recall | Kind::Recap)
}

/// A declarative shadow root, with the style sheets that it is painted with before there is a script.
fn shadow(sheets: &str, more: &[&'static str], root: &[Element]) -> String {
    let sheet = |name: &str| {
        el("link")
            .with("rel", "stylesheet")
            .with("href", format!("{sheets}{name}"))
    };
    let mut links = vec![sheet("plyline.css")];
    links.extend(more.iter().map(|name| sheet(name)));
    let open = format!("<template shadowrootmode=\"open\" {MARK}=\"\">");
    open + &html(&links) + &html(root) + "</template>"
}
