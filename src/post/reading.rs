//! What is read of a post: its lessons, the lesson that each other element is about, and what there is
//! to say of reading them.

use super::closed;
use super::elements::{Kind as Written, Markup, Tree};
use super::found::{Found, find};
use super::named::Checked;
use super::placed::{address_of, place, placed};
use super::read::{Around, Neighbour, Notation, Other, Read, Shown};
use crate::assessments;
use crate::check::attributes::Kind;
use crate::check::author;
use crate::check::page::no_such_lesson;
use crate::counts::Collection;
use crate::lesson::Lesson;
use crate::notation::{self, Letters};
use crate::text::{Code, Finding, Source, Span};
use percent_encoding::percent_decode_str;
use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::rc::Rc;

/// What another post has.
#[derive(Clone)]
pub enum There {
    /// Nobody knows.
    Unknown,
    /// There is no such file.
    Missing,
    Lessons(Rc<[Read]>),
}

/// A post while it is read.
pub struct Reading<'a> {
    pub source: &'a Source,
    pub kind: Written,
    pub markup: &'a Markup,
    pub tree: &'a Tree,
    pub found: &'a [Found],
    pub around: &'a dyn Around,
    /// All ids that are written.
    pub written: HashSet<&'a str>,
    /// How many names were made for lessons without an id.
    pub unnamed: usize,
    /// The first lesson of each id, among all that was found.
    pub named: HashMap<String, usize>,
    pub lessons: Vec<Read>,
    /// Those of other posts, by their addresses.
    pub others: HashMap<String, There>,
    pub shown: Vec<Shown>,
    pub checked: Checked,
}

impl<'a> Reading<'a> {
    pub fn new(
        source: &'a Source,
        kind: Written,
        markup: &'a Markup,
        tree: &'a Tree,
        found: &'a [Found],
        around: &'a dyn Around,
    ) -> Reading<'a> {
        Reading {
            source,
            kind,
            markup,
            tree,
            found,
            around,
            written: found.iter().filter_map(|it| it.value("id")).collect(),
            unnamed: 0,
            named: HashMap::new(),
            lessons: Vec::new(),
            others: HashMap::new(),
            shown: Vec::new(),
            checked: Checked::default(),
        }
    }

    pub fn say(&mut self, finding: Finding) {
        self.checked.findings.push(finding);
    }

    /// Reads a lesson; the place of it among all that are read.
    pub fn read_lesson(&mut self, at: usize, it: &Found) {
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
        let notation = self.notation(it).map(Rc::new);
        let read = Read {
            address: address_of(&id),
            id,
            side: it.value("side").map(str::to_owned),
            node: it.node,
            letters: self.letters(it, notation.as_deref()),
            notation,
        };
        self.lessons.push(read);
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
    pub fn notation(&mut self, it: &Found) -> Option<Notation> {
        if let Some(text) = &it.notation {
            let source = Source::new(self.source.name(), text.text.as_str());
            let (lessons, findings) = author::lessons(&source);
            let placed = placed(findings, &text.text, &text.mapping, it.tag, self.kind);
            // Where it is not closed, the rest of the page is read as moves.
            if closed::is_held(self.tree, it) {
                self.checked.findings.extend(placed);
            }
            let lesson = lessons.into_iter().next().flatten()?;
            for mut chosen in author::chosen(&lesson) {
                chosen.span = text.mapping.outer(chosen.span);
                self.checked.chosen.push(chosen);
            }
            return Some(Notation {
                own: 0..source.text().len(),
                source,
                lesson,
                games: Vec::new(),
                number: 0,
            });
        }
        let Some(src) = it.attribute("src") else {
            if it.kind == Kind::Lesson {
                let message = "there is no notation here".to_owned();
                let help = "put it into <pre>, or name a file by src".to_owned();
                self.say(Finding::new(Code::NoGame, it.tag, message).with_help(help));
            }
            return None;
        };
        let (path, written) = match src.value.text.rsplit_once('#') {
            Some((path, number)) => (path, number.parse().ok()),
            None => (src.value.text.as_str(), None),
        };
        let number: usize = written.unwrap_or(1);
        match self.around.notation(path)? {
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
                let lesson = lesson.flatten()?;
                // Without a number the reader chooses.
                let is_choice = written.is_none() && count > 1 && it.kind == Kind::Lesson;
                let (names, own) = games(&source, number.saturating_sub(1));
                Some(Notation {
                    games: if is_choice { names } else { Vec::new() },
                    own: if is_choice {
                        0..source.text().len()
                    } else {
                        own
                    },
                    source,
                    lesson,
                    number: number.saturating_sub(1),
                })
            }
            Err(reason) => {
                let message = format!("{path} cannot be read: {reason}");
                self.say(Finding::new(Code::NoSuchLesson, src.stands(), message));
                None
            }
        }
    }

    /// What was counted for a lesson, if it names that. It is said where that cannot be used.
    pub fn counts(&mut self, it: &Found, lesson: &Lesson) -> Option<Collection> {
        let address = named(it, lesson, "counts", "Counts")?;
        let reason = match self.around.counts(address)? {
            Ok(counts) if counts.is_of(lesson) => return Some(counts),
            Ok(_) => "it was counted for another lesson; count again with plyline tally".to_owned(),
            Err(reason) => reason,
        };
        let message = format!("the counts {address} cannot be used: {reason}");
        let place = named_at(it, "counts");
        self.say(Finding::new(Code::NoSuchCounts, place, message));
        None
    }

    /// What an engine said of a lesson's positions, the same.
    pub fn assessments(&mut self, it: &Found, lesson: &Lesson) -> Option<assessments::Collection> {
        let address = named(it, lesson, "assessments", "Assessments")?;
        let reason = match self.around.assessments(address)? {
            Ok(found) if found.is_of(lesson) => return Some(found),
            Ok(_) => "it holds no position of this lesson; ask again with plyline weigh --engine"
                .to_owned(),
            Err(reason) => reason,
        };
        let message = format!("the assessments {address} cannot be used: {reason}");
        let place = named_at(it, "assessments");
        self.say(Finding::new(Code::NoSuchAssessments, place, message));
        None
    }

    /// The letters in which moves are shown, and read first: those that the element names, else those of its notation's
    /// tag, else those of the language around it.
    pub fn letters(&self, it: &Found, notation: Option<&Notation>) -> &'static Letters {
        let around = || {
            let mut around = self.tree.around(it.node);
            around.find_map(|node| self.tree.value(node, "lang"))
        };
        let tag = notation.and_then(|it| it.lesson.tag("Letters"));
        let around = around().or(self.markup.lang.as_deref());
        Letters::first([it.value("letters"), tag, around].into_iter().flatten())
    }

    /// The lesson that `for` names, or the only one: of the element's own article, else of all. Else it
    /// is said that there is none.
    pub fn lesson_of(&mut self, it: &Found) -> Option<Read> {
        let id = it.value("for").filter(|id| !id.is_empty());
        if let Some(address) = id.filter(|id| id.contains(['#', '/'])) {
            return self.elsewhere(address, place(it, "for"));
        }
        let article = |node: usize| {
            let mut around = self.tree.around(node);
            around.find(|&it| self.tree.nodes[it].name == "article")
        };
        let is_named = |lesson: &Read| id.is_none_or(|id| lesson.id == id);
        let all: Vec<&Read> = self.lessons.iter().filter(|it| is_named(it)).collect();
        let own = article(it.node);
        let is_near =
            |it: &&Read| own.is_some_and(|own| self.tree.around(it.node).any(|node| node == own));
        let near: Vec<&Read> = all.iter().copied().filter(is_near).collect();
        let one = |list: &[&Read]| {
            let first = list.first().filter(|_| id.is_some() || list.len() == 1);
            first.map(|&it| it.clone())
        };
        let meant = one(&near).or_else(|| one(&all));
        if meant.is_none() {
            let finding = unknown(id.unwrap_or_default(), &self.lessons, place(it, "for"));
            self.say(finding);
        }
        meant
    }

    /// The lesson of another post at an address: the one that its fragment names, or the only one. None
    /// where there is no such file, of which nothing is said.
    fn elsewhere(&mut self, address: &str, place: Span) -> Option<Read> {
        let (page, id) = address.split_once('#').unwrap_or((address, ""));
        let id = percent_decode_str(id).decode_utf8_lossy();
        if page.is_empty() {
            let own = self.lessons.iter().find(|it| it.id == id).cloned();
            if own.is_none() {
                self.say(unknown(&id, &self.lessons, place));
            }
            return own;
        }
        let lessons = match self.lessons_at(page) {
            There::Lessons(lessons) => lessons,
            There::Unknown => return None,
            There::Missing => {
                self.say_missing(page, place);
                return None;
            }
        };
        let mut named = lessons.iter().filter(|it| id.is_empty() || it.id == id);
        let first = named
            .next()
            .filter(|_| !id.is_empty() || named.next().is_none());
        match first {
            Some(first) => Some(Read {
                address: format!("{page}{}", address_of(&first.id)),
                ..first.clone()
            }),
            None => {
                let message = format!("the lesson \u{201c}{id}\u{201d} is not in {page}");
                let all = lessons.iter().map(|it| format!("`{page}#{}`", it.id));
                let help = match lessons.is_empty() {
                    true => format!("{page} has no lesson"),
                    false => format!("it has {}", all.collect::<Vec<_>>().join(", ")),
                };
                let finding = Finding::new(Code::NoSuchLesson, place, message);
                self.say(finding.with_help(help));
                None
            }
        }
    }

    /// The lessons of another post, which is read once.
    pub fn lessons_at(&mut self, page: &str) -> There {
        if let Some(known) = self.others.get(page) {
            return known.clone();
        }
        let read = match self.around.post(page) {
            Neighbour::Unknown => There::Unknown,
            Neighbour::Missing => There::Missing,
            Neighbour::Post(other) => There::Lessons(lessons(&other).1.into()),
        };
        self.others.insert(page.to_owned(), read.clone());
        read
    }

    /// Says that a page is not there. What Markdown names a generator may make: there the pages that it
    /// has made decide.
    pub fn say_missing(&mut self, page: &str, place: Span) {
        if self.kind == Written::Html {
            let message = format!("there is no page at {page}");
            self.say(Finding::new(Code::NoSuchLesson, place, message));
        }
    }
}

impl Notation {
    /// The same lesson, of a text that says more; none if that is not read.
    pub fn retold(&self, text: String) -> Option<Notation> {
        let source = Source::new(self.source.name(), text);
        let (lessons, _) = author::lessons(&source);
        let is_all = self.own == (0..self.source.text().len());
        let own = match is_all {
            true => 0..source.text().len(),
            false => games(&source, self.number).1,
        };
        Some(Notation {
            lesson: lessons.into_iter().nth(self.number).flatten()?,
            games: self.games.clone(),
            own,
            number: self.number,
            source,
        })
    }
}

/// The lessons of another post, and its markup. What is wrong with them is said there.
pub fn lessons(other: &Other<'_>) -> (Tree, Vec<Read>) {
    let markup = Markup::of(&other.source, other.kind);
    let tree = Tree::of(&markup);
    let found = find(&tree);
    let around = other.around.as_ref();
    let mut reading = Reading::new(&other.source, other.kind, &markup, &tree, &found, around);
    for (at, it) in found.iter().enumerate() {
        if it.kind == Kind::Lesson {
            reading.read_lesson(at, it);
        }
    }
    let lessons = reading.lessons;
    (tree, lessons)
}

/// The finding that an element names a lesson that is not there.
fn unknown(id: &str, lessons: &[Read], place: Span) -> Finding {
    let ids: Vec<&str> = lessons.iter().map(|it| it.id.as_str()).collect();
    let mut finding = no_such_lesson(id, &ids.join(", "));
    finding.span = place;
    finding
}

/// The names of the games of a text, the first of which is the one that is shown, and the bytes of one.
fn games(source: &Source, number: usize) -> (Vec<(String, bool)>, Range<usize>) {
    let (syntax, _) = notation::parse(source);
    let games = syntax.games.iter().enumerate();
    let names = games.map(|(at, game)| (game.name(source), at == 0));
    let bytes = syntax.bytes_of(number);
    let end = (bytes.end as usize).min(source.text().len());
    (names.collect(), bytes.start as usize..end)
}

/// The address of a file about a lesson, which an attribute or a tag names.
fn named<'a>(it: &'a Found, lesson: &'a Lesson, attribute: &str, tag: &str) -> Option<&'a str> {
    let named = it.value(attribute).or(lesson.tag(tag));
    named.filter(|_| it.kind == Kind::Lesson)
}

/// Where it is named.
fn named_at(it: &Found, attribute: &str) -> Span {
    match it.attribute(attribute) {
        Some(attribute) => attribute.stands(),
        None => it.tag,
    }
}
