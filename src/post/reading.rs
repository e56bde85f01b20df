//! What is read of a post: its lessons, the lesson that each other element is about, and what there is
//! to say of reading them.

use super::closed;
use super::elements::{Kind as Written, Markup, Tree};
use super::found::Found;
use super::named::Checked;
use super::placed::{place, placed};
use crate::check::attributes::Kind;
use crate::check::author;
use crate::check::page::no_such_lesson;
use crate::lesson::Lesson;
use crate::notation::{self, Letters};
use crate::text::{Code, Finding, Source};
use crate::view::{Element, State};
use std::collections::{HashMap, HashSet};
use std::rc::Rc;

/// The notation at an address: none where it is not in a file, and the reason where it cannot be read.
pub type Load<'a> = &'a dyn Fn(&str) -> Option<Result<String, String>>;

/// A lesson, and the text that it was read from.
#[derive(Debug)]
pub struct Notation {
    pub source: Source,
    pub lesson: Lesson,
    /// The names of the lessons to choose from, and which one this is; empty for a single one.
    pub games: Vec<(String, bool)>,
}

/// A lesson of the post.
pub struct Read {
    pub id: String,
    /// Where it is, among all that was found.
    pub at: usize,
    /// None if it cannot be read, which has been said.
    pub notation: Option<Rc<Notation>>,
    pub letters: &'static Letters,
}

impl Read {
    pub fn lesson(&self) -> Option<&Lesson> {
        self.notation.as_deref().map(|it| &it.lesson)
    }
}

/// An element as a reader first meets it.
#[derive(Debug)]
pub struct Shown {
    /// Where it is, among all that was found.
    pub at: usize,
    /// What it is about; none for a diagram of a placement.
    pub notation: Option<Rc<Notation>>,
    /// The id of the lesson that it is about; empty for one of its own.
    pub id: String,
    pub element: Element,
    /// `State::missing` where there is nothing to show, which has been said.
    pub state: State,
    pub letters: &'static Letters,
}

/// A post while it is read.
pub struct Reading<'a> {
    pub source: &'a Source,
    pub kind: Written,
    pub markup: &'a Markup,
    pub tree: &'a Tree,
    pub found: &'a [Found],
    pub load: Load<'a>,
    /// All ids that are written.
    pub written: HashSet<&'a str>,
    /// How many names were made for lessons without an id.
    pub unnamed: usize,
    /// The first lesson of each id, among all that was found.
    pub named: HashMap<String, usize>,
    pub lessons: Vec<Read>,
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
        load: Load<'a>,
    ) -> Reading<'a> {
        Reading {
            source,
            kind,
            markup,
            tree,
            found,
            load,
            written: found.iter().filter_map(|it| it.value("id")).collect(),
            unnamed: 0,
            named: HashMap::new(),
            lessons: Vec::new(),
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
        let read = Read {
            id,
            at,
            notation: self.notation(it).map(Rc::new),
            letters: self.letters(it),
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
            return Some(Notation {
                source,
                lesson,
                games: Vec::new(),
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
                let lesson = lesson.flatten()?;
                // Without a number the reader chooses.
                let is_choice = written.is_none() && count > 1 && it.kind == Kind::Lesson;
                Some(Notation {
                    games: if is_choice {
                        games(&source)
                    } else {
                        Vec::new()
                    },
                    source,
                    lesson,
                })
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
    pub fn letters(&self, it: &Found) -> &'static Letters {
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

    /// The lesson that `for` names, or the only one: of the element's own article, else of all. Else it
    /// is said that there is none.
    pub fn lesson_of(&mut self, it: &Found) -> Option<usize> {
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
}

/// The names of the games of a text; the first is the one that is shown.
fn games(source: &Source) -> Vec<(String, bool)> {
    let (syntax, _) = notation::parse(source);
    let games = syntax.games.iter().enumerate();
    games
        .map(|(at, game)| (game.name(source), at == 0))
        .collect()
}
