//! What there is to say of a post: of its lessons, of what names one of them, and of its prose.

use super::found::{Found, find};
use super::named::{self, About, Checked};
use super::placed::{at_attribute, given, place, placed};
use super::prose::is_closed;
use super::tree::Tree;
use super::{Kind as Written, Markup, anchors, closed, fences, markup, names};
use crate::check::attributes::Kind;
use crate::check::author;
use crate::check::page::no_such_lesson;
use crate::lesson::{Lesson, diagram};
use crate::notation::Letters;
use crate::text::{Code, Finding, Findings, Source, Span};
use crate::view::{DiagramOf, Element, open};
use std::collections::{HashMap, HashSet};

/// The notation at an address: none where it is not in a file, and the reason where it cannot be read.
pub type Load<'a> = &'a dyn Fn(&str) -> Option<Result<String, String>>;

/// A lesson of the post, or of an element that has one of its own.
struct Read {
    id: String,
    /// Where it is, among all that was found.
    at: usize,
    /// None if it cannot be read, which has been said.
    lesson: Option<Lesson>,
    letters: &'static Letters,
}

/// What there is to say of a post. `load` hands out the notation at the address that `src` names.
pub fn check(source: &Source, kind: Written, load: Load<'_>) -> Checked {
    let markup = markup(source, kind);
    let tree = Tree::of(&markup);
    let found = find(&tree);
    let mut post = Post {
        source,
        kind,
        markup: &markup,
        tree: &tree,
        found: &found,
        load,
        written: found.iter().filter_map(|it| it.value("id")).collect(),
        unnamed: 0,
        named: HashMap::new(),
        lessons: Vec::new(),
        checked: Checked::default(),
    };
    post.all();
    let mut checked = post.checked;
    checked.findings.sort_by_key(|finding| finding.span.from);
    checked.links.sort_by_key(|link| link.span.from);
    checked
}

struct Post<'a> {
    source: &'a Source,
    kind: Written,
    markup: &'a Markup,
    tree: &'a Tree,
    found: &'a [Found],
    load: Load<'a>,
    /// All ids that are written.
    written: HashSet<&'a str>,
    /// How many names were made for lessons without an id.
    unnamed: usize,
    /// The first lesson of each id, among all that was found.
    named: HashMap<String, usize>,
    lessons: Vec<Read>,
    checked: Checked,
}

impl Post<'_> {
    fn all(&mut self) {
        let found = self.found;
        self.checked.findings.extend(names::elements(self.tree));
        self.checked.findings.extend(fences::languages(self.tree));
        for it in found {
            let findings = names::attributes(self.tree, it);
            self.checked.findings.extend(findings);
            let broken = fences::broken_tags(self.tree, it);
            self.checked.findings.extend(broken);
            let open = closed::amiss(self.source, self.kind, self.tree, it);
            self.checked.findings.extend(open);
            self.checked.findings.extend(letters_amiss(it));
        }
        for (at, it) in found.iter().enumerate() {
            if it.kind == Kind::Lesson {
                self.read_lesson(at, it);
            }
        }
        for it in found {
            match it.kind {
                Kind::Lesson => {}
                Kind::Prose => self.prose_of_element(it),
                _ => self.companion(it),
            }
        }
        for at in 0..self.lessons.len() {
            self.prose_around(at);
        }
        let of_id = |id: &str| {
            let mut lessons = self.lessons.iter();
            lessons.find(|it| it.id == id)?.lesson.as_ref()
        };
        let ids: Vec<&str> = self.lessons.iter().map(|it| it.id.as_str()).collect();
        let amiss = anchors::amiss(self.tree, &ids, &of_id);
        self.checked.findings.extend(amiss);
    }

    fn say(&mut self, finding: Finding) {
        self.checked.findings.push(finding);
    }

    // Lessons

    fn read_lesson(&mut self, at: usize, it: &Found) {
        let id = match it.value("id") {
            Some(id) if !id.is_empty() => id.to_owned(),
            _ => self.free_id(),
        };
        if let Some(&before) = self.named.get(&id) {
            let other = self.found[before].tag; // its own index
            let message = format!("an earlier element has the id {id}");
            let finding = Finding::new(Code::IdTaken, place(it, "id"), message)
                .with_related(other, "the earlier one".to_owned());
            self.say(finding);
        }
        self.named.entry(id.clone()).or_insert(at);
        let lesson = self.notation(it);
        let letters = self.letters(it);
        if let Some(lesson) = &lesson {
            self.open(it, lesson, letters);
        }
        self.lessons.push(Read {
            id,
            at,
            lesson,
            letters,
        });
    }

    /// The name of a lesson without an id: `lesson`, `lesson-2`.
    fn free_id(&mut self) -> String {
        loop {
            self.unnamed += 1;
            let id = match self.unnamed {
                1 => "lesson".to_owned(),
                number => format!("lesson-{number}"),
            };
            if !self.written.contains(id.as_str()) {
                return id;
            }
        }
    }

    /// The lesson of an element's own notation, or of its `src`. What is wrong with the notation is
    /// said; what is in a file of its own is said when that is checked.
    fn notation(&mut self, it: &Found) -> Option<Lesson> {
        if let Some(text) = &it.notation {
            let source = Source::new(self.source.name(), text.text.as_str());
            let (lessons, findings) = author::lessons(&source);
            let placed = placed(findings, &text.text, &text.mapping, it.tag, self.kind);
            // Where it is not closed, the rest of the page is read as moves.
            if closed::is_held(self.tree, it) {
                self.checked.findings.extend(placed);
            }
            return lessons.into_iter().next().flatten();
        }
        let Some(src) = it.attribute("src") else {
            if it.kind == Kind::Lesson {
                let message = "there is no notation here".to_owned();
                let help = "put it into <pre>, or name a file by src".to_owned();
                self.say(Finding::new(Code::NoGame, it.tag, message).with_help(help));
            }
            return None;
        };
        let (path, number) = match src.value.text.rsplit_once('#') {
            Some((path, number)) => (path, number.parse().unwrap_or(1)),
            None => (src.value.text.as_str(), 1usize),
        };
        match (self.load)(path)? {
            Ok(text) => {
                self.checked.sources.push(path.to_owned());
                let source = Source::new(path, text);
                let (lessons, _) = author::lessons(&source);
                let count = lessons.len();
                let lesson = lessons.into_iter().nth(number.saturating_sub(1));
                if lesson.is_none() {
                    let message = format!("{path} has {count} games, so there is no game {number}");
                    self.say(Finding::new(Code::NoSuchGame, src.stands(), message));
                }
                lesson.flatten()
            }
            Err(reason) => {
                let message = format!("{path} cannot be read: {reason}");
                self.say(Finding::new(Code::NoSuchLesson, src.stands(), message));
                None
            }
        }
    }

    /// The letters by which moves are read: those that the element names, else those of the language
    /// around it.
    fn letters(&self, it: &Found) -> &'static Letters {
        let around = || {
            let mut around = self.tree.around(it.node);
            around.find_map(|node| self.tree.value(node, "lang"))
        };
        let code = it
            .value("letters")
            .or_else(around)
            .or(self.markup.lang.as_deref());
        code.and_then(Letters::of).unwrap_or(Letters::ENGLISH)
    }

    // What is about a lesson

    /// The lesson that `for` names, or the only one: of the element's own article, else of all. Else it
    /// is said that there is none.
    fn lesson_of(&mut self, it: &Found) -> Option<usize> {
        let id = it.value("for").filter(|id| !id.is_empty());
        if id.is_some_and(|id| id.contains(['#', '/'])) {
            return None; // of another page
        }
        let article = |node: usize| {
            let mut around = self.tree.around(node);
            around.find(|&it| self.tree.nodes[it].name == "article")
        };
        let is_named = |lesson: &Read| id.is_none_or(|id| lesson.id == id);
        let all: Vec<usize> = (0..self.lessons.len())
            .filter(|&at| is_named(&self.lessons[at]))
            .collect();
        let own = article(it.node);
        let is_near = |at: &usize| {
            let lesson = self.found[self.lessons[*at].at].node; // its own index
            own.is_some_and(|own| self.tree.around(lesson).any(|it| it == own))
        };
        let near: Vec<usize> = all.iter().copied().filter(is_near).collect();
        let one = |list: &[usize]| {
            list.first()
                .copied()
                .filter(|_| id.is_some() || list.len() == 1)
        };
        let at = one(&near).or_else(|| one(&all));
        if at.is_none() {
            let ids: Vec<&str> = self.lessons.iter().map(|it| it.id.as_str()).collect();
            let mut finding = no_such_lesson(id.unwrap_or_default(), &ids.join(", "));
            finding.span = place(it, "for");
            self.say(finding);
        }
        at
    }

    fn companion(&mut self, it: &Found) {
        let is_own = matches!(it.kind, Kind::Quiz | Kind::Recall);
        if is_own && (it.notation.is_some() || it.value("src").is_some()) {
            if let Some(lesson) = self.notation(it) {
                self.open(it, &lesson, self.letters(it));
            }
            return;
        }
        let element = Element::read(it.kind, &|name| given(it, None, name));
        if let Element::Diagram {
            of: DiagramOf::Placement(_),
            ..
        } = &element
        {
            self.placement(it, &element);
            return;
        }
        let Some(at) = self.lesson_of(it) else {
            return;
        };
        let lessons = std::mem::take(&mut self.lessons);
        let read = &lessons[at]; // it was found there
        if let Some(lesson) = &read.lesson {
            let found = self.found;
            let letters = it
                .value("letters")
                .and_then(Letters::of)
                .unwrap_or(read.letters);
            self.open_about(it, Some(&found[read.at]), lesson, letters);
        }
        self.lessons = lessons;
    }

    fn open(&mut self, it: &Found, lesson: &Lesson, letters: &Letters) {
        self.open_about(it, None, lesson, letters);
    }

    /// Says what is found as an element is opened, on its own lesson or that of another element.
    fn open_about(&mut self, it: &Found, of: Option<&Found>, lesson: &Lesson, letters: &Letters) {
        let element = Element::read(it.kind, &|name| given(it, of, name));
        let (_, mut findings) = open(lesson, &element, letters);
        if let Element::Diagram {
            of: DiagramOf::Position { marks: Some(_), .. },
            ..
        } = &element
        {
            let source = Source::new(self.source.name(), element.text());
            let mut found = Findings::default();
            diagram::read_marks(&source, 0, &mut found);
            for finding in found.iter() {
                findings.push(finding.clone().of_attribute("marks"));
            }
        }
        for finding in findings.iter() {
            // What a tag of the notation says has been said there.
            if !finding.attribute.starts_with(char::is_uppercase) {
                let finding = at_attribute(it, finding.clone());
                self.say(finding);
            }
        }
    }

    /// Says what is wrong with a diagram of its own placement.
    fn placement(&mut self, it: &Found, element: &Element) {
        let source = Source::new(self.source.name(), element.text());
        let mut findings = element.amiss(None);
        diagram::read(&source, &mut findings);
        let written = it
            .attribute("fen")
            .map(|fen| &fen.value)
            .or(it.notation.as_ref());
        let is_same = |text: &&super::entities::Text| source.text().starts_with(text.text.as_str());
        match written.filter(is_same) {
            Some(text) => {
                let mut mapping = text.mapping.clone();
                if let Some(marks) = it.attribute("marks") {
                    let end = text.stands().to;
                    mapping.instead(1, Span { from: end, to: end });
                    mapping.append(&marks.value.mapping);
                }
                let placed = placed(findings, &element.text(), &mapping, it.tag, self.kind);
                if closed::is_held(self.tree, it) {
                    self.checked.findings.extend(placed);
                }
            }
            None => {
                for finding in findings.iter() {
                    let mut finding = finding.clone().of_attribute("fen");
                    finding.fix = None;
                    self.say(at_attribute(it, finding));
                }
            }
        }
    }

    // Prose

    fn prose_of_element(&mut self, it: &Found) {
        let parent = self.tree.nodes[it.node].parent;
        let is_inside = |node: usize| self.tree.around(node).any(|it| is_closed(self.tree, it));
        if parent.is_some_and(is_inside) {
            return;
        }
        if let Some(at) = self.lesson_of(it) {
            self.read_prose(at, it.node);
        }
    }

    /// `[Prose "yes"]`: the article around a lesson is read; in Markdown the whole file.
    fn prose_around(&mut self, at: usize) {
        let read = &self.lessons[at]; // it is one of them
        if read.lesson.as_ref().and_then(|it| it.tag("Prose")) != Some("yes") {
            return;
        }
        let node = self.found[read.at].node; // its own index
        let is_article = |it: &usize| {
            matches!(
                self.tree.nodes[*it].name.as_str(),
                "article" | "main" | "body"
            )
        };
        let root = match self.kind {
            Written::Markdown => Some(0),
            Written::Html => self.tree.around(node).find(is_article),
        };
        if let Some(root) = root {
            self.read_prose(at, root);
        }
    }

    fn read_prose(&mut self, at: usize, root: usize) {
        let read = &self.lessons[at]; // it is one of them
        if let Some(lesson) = &read.lesson {
            let about = About {
                lesson,
                id: &read.id,
                letters: read.letters,
            };
            named::read(self.tree, root, self.kind, &about, &mut self.checked);
        }
    }
}

/// The finding about a language of an element whose piece letters are not known; it is that of the tag.
fn letters_amiss(it: &Found) -> Option<Finding> {
    let written = it.value("letters").filter(|code| !code.is_empty())?;
    let is_read = matches!(it.kind, Kind::Lesson | Kind::Quiz | Kind::Recall);
    if !is_read || Letters::of(written).is_some() {
        return None;
    }
    let message = format!("\u{201c}{written}\u{201d} is no language whose piece letters are known");
    let finding = Finding::new(Code::UnknownLetters, place(it, "letters"), message);
    Some(finding.with_help("the moves are read with English letters".to_owned()))
}
