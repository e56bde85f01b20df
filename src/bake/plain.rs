//! The plain form of an element: what a reader sees in a feed, in mail, on paper and where there is no
//! script. A picture with all of it in words, the lines as lists, the answers, and the notation.

use super::drawn::{quote, recap, still};
use super::numbers::Numbers;
use super::pictures::Pictures;
use crate::assessments;
use crate::check::attributes::Kind;
use crate::counts;
use crate::lesson::{Lesson, NodeId};
use crate::markup::{Element, Markup, el, img, in_file, listed, prompted};
use crate::post::{Found, Shown};
use crate::view::{self, Caption, Word, Words};

/// Where the pictures are, and the words.
pub struct Plain<'a> {
    pub words: &'a Words,
    /// Those of counts, assessments and times of a talk.
    pub numbers: &'a Numbers,
    pub pictures: &'a Pictures,
    /// What comes before the name of a picture in its address.
    pub folder: &'a str,
    /// Whether what the element holds is seen in its drawn form alone.
    pub is_drawn: bool,
}

impl Plain<'_> {
    /// The plain form of an element. With `notation` also the text of its lesson, where the element
    /// does not hold that itself. `start` is the address of the lesson.
    pub fn of(&self, found: &Found, shown: &Shown, notation: bool, start: &str) -> Vec<Element> {
        let mut list = Vec::new();
        match found.kind {
            Kind::Reference | Kind::Prose => {}
            Kind::Diagram => {
                let shown = still(self.words, shown, false).map(|mut it| {
                    // The author's words are beside it.
                    if !found.prompt.is_empty() {
                        it.caption = Caption::None;
                    }
                    self.figure(&it)
                });
                list.extend(shown);
            }
            Kind::Recap => {
                let mut table = recap(self.words, shown, start).unwrap_or_default();
                table.iter_mut().for_each(bare);
                list.extend(table);
            }
            Kind::Quiz | Kind::Recall => {
                list.extend(self.prompt(found, shown));
                let board = board_at(self.words, shown, shown.state.node);
                list.extend(board.map(|it| self.figure(&it)));
                list.extend(self.answers(shown));
            }
            Kind::Lesson => list.extend(self.lesson(shown)),
        }
        let heard = &self.numbers.heard;
        list.iter_mut().for_each(|it| heard.write(it));
        if let Some(of) = shown.notation.as_ref().filter(|_| notation) {
            list.push(el("pre").text(&format!("\n{}", of.text())));
        }
        list
    }

    /// Only the picture of an element: what may stand in running text.
    pub fn picture(&self, kind: Kind, shown: &Shown) -> Option<Element> {
        let still = match kind {
            Kind::Reference | Kind::Prose | Kind::Recap => None,
            Kind::Diagram => still(self.words, shown, false),
            Kind::Quiz | Kind::Recall => board_at(self.words, shown, shown.state.node),
            Kind::Lesson => pictured_board(self.words, shown),
        }?;
        let address = self.file(&still.board, &still.description);
        Some(img(&address, &still.description))
    }

    /// What is asked: the words that the element holds, else the author's prompt of the position.
    fn prompt(&self, found: &Found, shown: &Shown) -> Vec<Element> {
        if !found.prompt.is_empty() && !self.is_drawn {
            return Vec::new(); // it is seen beside this
        }
        if !found.prompt.is_empty() {
            return vec![el("p").text(&found.prompt)];
        }
        match shown.state.asking() {
            Some(asking) => prompted(self.words, &asking.question.prompt),
            None => Vec::new(),
        }
    }

    /// The moves that answer a question, and why.
    fn answers(&self, shown: &Shown) -> Vec<Element> {
        let (Some(asking), Some(of)) = (shown.state.asking(), &shown.notation) else {
            return Vec::new();
        };
        let question = &asking.question;
        let answers = question.answers(&of.lesson);
        let names: Vec<String> = answers
            .iter()
            .map(|it| match it.node {
                Some(node) => self.words.numbered(&of.lesson, node),
                None => self.words.san(it.san),
            })
            .collect();
        let heading = format!("{}: ", self.words.get(Word::Answers));
        let moves = el("bdi").with("dir", "ltr").text(&names.join(", "));
        let mut list = vec![el("p").text(&heading).child(el("b").child(moves))];
        list.extend(prompted(self.words, &question.because));
        list
    }

    fn lesson(&self, shown: &Shown) -> Vec<Element> {
        let Some(of) = &shown.notation else {
            return Vec::new();
        };
        let mut list = Vec::new();
        list.extend(pictured_board(self.words, shown).map(|it| self.figure(&it)));
        let lines = view::listed_line(self.words, &of.lesson, &of.source);
        let file = |board: &view::Board, said: &str| self.file(board, said);
        list.extend(listed(self.words, &lines, &file));
        list.iter_mut()
            .for_each(|it| quote(&self.numbers.counts, it));
        list.extend(self.counts(shown));
        list.extend(self.assessments(shown));
        list
    }

    /// What was counted at each branch of a lesson, and of which games.
    fn counts(&self, shown: &Shown) -> Vec<Element> {
        let (Some(collection), Some(of)) = (&shown.counts, &shown.notation) else {
            return Vec::new();
        };
        let words = &self.numbers.counts;
        let title = el("b").text(words.get(counts::Word::Title));
        let mut list = vec![el("p").child(title)];
        for (node, counted) in collection.branches(&of.lesson) {
            list.extend(counts::listed(
                words,
                &counted.lettered(shown.letters),
                self.place(&of.lesson, node),
            ));
        }
        list.extend(counts::source(words, &collection.of));
        vec![el("div").with("class", "counts").children(list)]
    }

    /// What an engine said at each branch of a lesson and at the end of each line, and which engine.
    fn assessments(&self, shown: &Shown) -> Vec<Element> {
        let (Some(collection), Some(of)) = (&shown.assessments, &shown.notation) else {
            return Vec::new();
        };
        let (lesson, words) = (&of.lesson, &self.numbers.assessments);
        let title = el("b").text(&words.fill(assessments::Word::Title, &[]));
        let mut list = vec![el("p").child(title)];
        for node in lesson.ids() {
            let is_told = lesson.is_branch_point(node) || lesson.node(node).children.is_empty();
            if let Some(found) = collection.at(lesson, node).filter(|_| is_told) {
                list.push(assessments::listed(words, found, self.place(lesson, node)));
            }
        }
        list.extend(assessments::from(words, &collection.of));
        vec![el("div").with("class", "assessed").children(list)]
    }

    /// The beginning of a paragraph about a place of a lesson.
    fn place(&self, lesson: &Lesson, node: NodeId) -> Element {
        let place = match node {
            0 => self.words.get(Word::Start).to_owned(),
            node => self.words.numbered(lesson, node),
        };
        let place = el("bdi").with("dir", "ltr").text(&place);
        el("p").child(el("b").child(place)).text(": ")
    }

    /// A picture with its caption.
    fn figure(&self, still: &view::Diagram) -> Element {
        let file = |board: &view::Board, said: &str| self.file(board, said);
        in_file(self.words, still, None, &file)
    }

    fn file(&self, board: &view::Board, description: &str) -> String {
        format!("{}{}", self.folder, self.pictures.add(board, description))
    }
}

/// Takes out of a table what is for the style sheet of a root: there its rows may be set as blocks, and
/// need roles; here they are what they are, and a role would be an error.
fn bare(it: &mut Element) {
    it.attributes
        .retain(|(name, _)| !matches!(*name, "role" | "part"));
    for child in &mut it.children {
        if let Markup::Element(inside) = child {
            bare(inside);
        }
    }
}

/// The board by which a lesson is known.
pub fn pictured_board(words: &Words, shown: &Shown) -> Option<view::Diagram> {
    board_at(words, shown, pictured(shown)?)
}

/// A position of an element's lesson.
fn board_at(words: &Words, shown: &Shown, node: NodeId) -> Option<view::Diagram> {
    let lesson = &shown.notation.as_ref()?.lesson;
    Some(view::diagram(words, lesson, node, shown.state.side, None))
}

/// The position by which a lesson is known: where its reader begins, if the author says so; else the
/// first of the main line with a comment, a branch or a question; else its last. None comes after a
/// question.
pub fn pictured(shown: &Shown) -> Option<NodeId> {
    let lesson = &shown.notation.as_ref()?.lesson;
    if shown.state.node != 0 {
        return Some(shown.state.node);
    }
    let mut last = 0;
    for node in lesson.line_nodes(0) {
        last = node;
        if is_telling(lesson, node) {
            break;
        }
    }
    Some(last)
}

/// Whether there is something to say of a position of the main line. The start of a game is as it
/// always is.
fn is_telling(lesson: &Lesson, node: NodeId) -> bool {
    let it = lesson.node(node);
    let is_known = node == 0 && lesson.tag("FEN").is_none();
    let is_said = !is_known && !it.comments.is_empty();
    is_said || it.ask().is_some() || lesson.is_branch_point(node)
}
