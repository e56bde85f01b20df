//! What there is to say of a post: of its lessons, of what names one of them, and of its prose.

use super::elements::{Kind as Written, Markup, Tree};
use super::found::{Found, find};
use super::named::{self, About, Checked};
use super::placed::{at_attribute, given, place, placed};
use super::prose::is_closed;
use super::read::{Around, Notation, Read, Shown};
use super::reading::{Reading, There};
use super::{anchors, closed, fences, names};
use crate::check::attributes::Kind;
use crate::lesson::diagram;
use crate::notation::Letters;
use crate::text::{Code, Finding, Findings, Source, Span};
use crate::view::{DiagramOf, Element, State, open};
use std::rc::Rc;

/// A post that was read.
#[derive(Debug)]
pub struct Post {
    pub tree: Tree,
    pub found: Vec<Found>,
    /// What readers first meet, in the order in which it was read.
    pub shown: Vec<Shown>,
    pub checked: Checked,
}

/// What there is to say of a post; `around` hands out what it names in other files.
pub fn check(source: &Source, kind: Written, around: &dyn Around) -> Checked {
    read(source, kind, around).checked
}

/// Reads a post, and says what there is to say of it.
pub fn read(source: &Source, kind: Written, around: &dyn Around) -> Post {
    let markup = Markup::of(source, kind);
    let tree = Tree::of(&markup);
    let found = find(&tree);
    let mut reading = Reading::new(source, kind, &markup, &tree, &found, around);
    reading.all();
    let Reading {
        shown, mut checked, ..
    } = reading;
    checked.findings.sort_by_key(|finding| finding.span.from);
    checked.links.sort_by_key(|link| link.span.from);
    Post {
        tree,
        found,
        shown,
        checked,
    }
}

impl Reading<'_> {
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
                self.open_last(at);
            }
        }
        for (at, it) in found.iter().enumerate() {
            match it.kind {
                Kind::Lesson => {}
                Kind::Prose => self.prose_of_element(it),
                _ => self.companion(at, it),
            }
        }
        for at in 0..self.lessons.len() {
            self.prose_around(at);
        }
        let own: Rc<[Read]> = self.lessons.clone().into();
        for link in anchors::links(self.tree) {
            let there = match link.page.is_empty() {
                true => There::Lessons(Rc::clone(&own)),
                false => self.lessons_at(&link.page),
            };
            match there {
                There::Unknown => {}
                // Other fragments with a slash are no places.
                There::Missing if link.is_place() => self.say_missing(&link.page, link.stands()),
                There::Missing => {}
                There::Lessons(lessons) => {
                    let findings = anchors::amiss(self.tree, &link, &lessons);
                    self.checked.findings.extend(findings);
                }
            }
        }
    }

    /// Opens the lesson that was read last.
    fn open_last(&mut self, at: usize) {
        let Some(read) = self.lessons.last() else {
            return;
        };
        if let Some(notation) = read.notation.clone() {
            let letters = read.letters;
            self.open(at, None, notation, letters);
        }
    }

    fn companion(&mut self, at: usize, it: &Found) {
        let is_own = matches!(it.kind, Kind::Quiz | Kind::Recall);
        if is_own && (it.notation.is_some() || it.value("src").is_some()) {
            if let Some(notation) = self.notation(it) {
                let letters = self.letters(it, Some(&notation));
                self.open(at, None, Rc::new(notation), letters);
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
            self.shown.push(Shown {
                at,
                notation: None,
                of: None,
                element,
                state: State::empty(),
                letters: Letters::ENGLISH,
                counts: None,
                assessments: None,
            });
            return;
        }
        let Some(of) = self.lesson_of(it) else {
            return;
        };
        if let Some(notation) = of.notation.clone() {
            let own = it.value("letters").and_then(Letters::of);
            let letters = own.unwrap_or(of.letters);
            self.open(at, Some(of), notation, letters);
        }
    }

    /// Says what is found as an element is opened, on its own lesson or that of another element: `of`.
    fn open(
        &mut self,
        at: usize,
        of: Option<Read>,
        notation: Rc<Notation>,
        letters: &'static Letters,
    ) {
        let it = &self.found[at]; // its own index
        let element = Element::read(it.kind, &|name| given(it, of.as_ref(), name));
        let (state, mut findings) = open(&notation.lesson, &element, letters);
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
        let counts = self.counts(it, &notation.lesson);
        let assessments = self.assessments(it, &notation.lesson);
        self.shown.push(Shown {
            at,
            notation: Some(notation),
            of,
            element,
            state,
            letters,
            counts,
            assessments,
        });
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
        let is_same = |text: &&super::elements::Text| source.text().starts_with(text.text.as_str());
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
        if let Some(of) = self.lesson_of(it) {
            self.read_prose(&of, it.node);
        }
    }

    /// `[Prose "yes"]`: the article around a lesson is read; in Markdown the whole file.
    fn prose_around(&mut self, at: usize) {
        let read = &self.lessons[at]; // it is one of them
        if read.lesson().and_then(|it| it.tag("Prose")) != Some("yes") {
            return;
        }
        let (node, of) = (read.node, read.clone());
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
            self.read_prose(&of, root);
        }
    }

    fn read_prose(&mut self, read: &Read, root: usize) {
        if let Some(lesson) = read.lesson() {
            let about = About {
                lesson,
                id: read.name(),
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
