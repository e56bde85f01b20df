//! How an element begins: from what its author wrote to the state in which a reader meets it, and
//! what the author is told. The same on a page as in a check or a baked page.

use crate::ask::recall::Recall;
use crate::ask::schedule::Progress;
use crate::ask::{DefaultPosition, Fault, Question, Wish};
use crate::check::attributes::{Kind, SIDES};
use crate::check::values;
use crate::lesson::place::address;
use crate::lesson::{Lesson, LocateError, NodeId, Place, apart, locate, way_out};
use crate::notation::Letters;
use crate::text::{Code, Finding, Findings, Listed, Span, join};
use crate::view::reader::asking::Asking;
use crate::view::reader::recalling::Recalling;
use crate::view::reader::state::State;
use shakmaty::{Color, Position};

/// What an author wrote at an element, and what the page adds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Element {
    /// A lesson.
    Lesson {
        /// The name by which addresses name it; none if it has none of its own.
        id: Option<String>,
        /// Where the reader begins; none for the tag `At`, else the start.
        at: Option<String>,
        /// The side below; none for the tag `Side`, else White.
        side: Option<String>,
    },
    /// A question.
    Quiz {
        /// Where it asks; none for `place`.
        at: Option<String>,
        /// Where it asks without a locator.
        place: DefaultPosition,
        /// The side below; none for the one that is asked.
        side: Option<String>,
        /// The moves that are right in place of the choices.
        accept: Option<String>,
        /// How many moves are to be found in a row; none for one.
        moves: Option<String>,
        /// What is in the element and asks, as text.
        prompt: String,
        /// The address of the lesson's start, where that is elsewhere on the page; else empty.
        start: String,
        /// The number that varies the page's replies.
        seed: u32,
    },
    /// A recall.
    Recall {
        /// The part that is recalled; none as in a lesson.
        at: Option<String>,
        /// The side that is recalled, and below; none for the lesson's.
        side: Option<String>,
        /// The side of the element whose lesson it is.
        lesson_side: Option<String>,
        /// The address of the lesson's start, where that is elsewhere on the page; else empty.
        start: String,
    },
    /// A still diagram.
    Diagram {
        /// What it shows.
        of: DiagramOf,
        /// The side below; none for the lesson's.
        side: Option<String>,
        /// The side of the element whose lesson it is.
        lesson_side: Option<String>,
    },
    /// The table of choices.
    Recap {
        /// Whose choices; none for the lesson's side.
        side: Option<String>,
        /// The side of the element whose lesson it is.
        lesson_side: Option<String>,
    },
    /// A reference to a place, which may lie beside the lesson.
    Reference {
        /// The place.
        at: String,
    },
    /// An article.
    Prose,
}

/// What a diagram shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DiagramOf {
    /// A position of a lesson.
    Position {
        /// Where; none for the start.
        at: Option<String>,
        /// Marks in place of those of the comment there, even where there are none.
        marks: Option<String>,
    },
    /// A placement and, on the lines after it, marks; it needs no lesson.
    Placement(String),
}

impl Element {
    /// The element of a kind; `value` returns the text of a name: the attributes of
    /// `check::attributes` and, of the page,
    ///
    /// - `prompt`: what a question or a recall holds beside notation
    /// - `own`: there where its notation is its own
    /// - `written`: what the block in a diagram holds
    /// - `start`: the address of the lesson's start, where that is elsewhere
    /// - `lesson-side`: the attribute `side` of the element of the lesson that it is about
    /// - `seed`: a whole number
    pub fn read(kind: Kind, value: &dyn Fn(&str) -> Option<String>) -> Element {
        let text = |name| value(name).unwrap_or_default();
        match kind {
            Kind::Lesson => Element::Lesson {
                id: value("id"),
                at: value("at"),
                side: value("side"),
            },
            Kind::Quiz => Element::Quiz {
                at: value("at"),
                place: match value("own") {
                    Some(_) => DefaultPosition::End,
                    None => DefaultPosition::Start,
                },
                side: value("side"),
                accept: value("accept"),
                moves: value("moves"),
                prompt: text("prompt"),
                start: text("start"),
                seed: text("seed").parse().unwrap_or(0),
            },
            Kind::Recall => Element::Recall {
                at: value("at"),
                side: value("side"),
                lesson_side: value("lesson-side"),
                start: text("start"),
            },
            Kind::Diagram => Element::Diagram {
                of: diagram_of(value),
                side: value("side"),
                lesson_side: value("lesson-side"),
            },
            Kind::Recap => Element::Recap {
                side: value("side"),
                lesson_side: value("lesson-side"),
            },
            Kind::Reference => Element::Reference { at: text("at") },
            Kind::Prose => Element::Prose,
        }
    }

    /// The text of a diagram, in which its findings have their places: a placement, marks, or both.
    pub fn text(&self) -> String {
        match self {
            Element::Diagram { of, .. } => match of {
                DiagramOf::Placement(text) => text.clone(),
                DiagramOf::Position { marks, .. } => marks.clone().unwrap_or_default(),
            },
            _ => String::new(),
        }
    }

    /// What is wrong with it independently of its lesson.
    pub fn amiss(&self, lesson: Option<&Lesson>) -> Findings {
        let mut findings = Findings::default();
        let mut add = |found: Option<Finding>, name| {
            if let Some(found) = found {
                findings.push(found.of_attribute(name));
            }
        };
        match self {
            Element::Lesson { side, .. }
            | Element::Quiz { side, .. }
            | Element::Recall { side, .. }
            | Element::Diagram { side, .. }
            | Element::Recap { side, .. } => {
                let whose = "the attribute side";
                let written = side.as_deref();
                let found =
                    written.and_then(|it| values::unknown(whose, SIDES, it, Span::default()));
                add(found, "side");
            }
            Element::Reference { .. } | Element::Prose => {}
        }
        if let Element::Lesson { id: Some(id), .. } = self {
            // What a fence has as its tag is reported there.
            let is_tag = lesson.is_some_and(|lesson| lesson.tag("Id") == Some(id));
            let found = values::id_amiss(id, Span::default()).filter(|_| !is_tag);
            add(found, "id");
        }
        findings
    }
}

/// The state in which a reader meets an element of this lesson, and what its author is told. If
/// there is nothing to show, it is [`State::missing`], and the last finding says why. `letters` are
/// those that the lesson is shown with.
pub fn open(lesson: &Lesson, element: &Element, letters: &Letters) -> (State, Findings) {
    let mut findings = element.amiss(Some(lesson));
    let state = match element {
        Element::Lesson { at, side, .. } => {
            let at = begins(lesson, at.as_deref(), &mut findings);
            Ok(State::new(lesson, at, below(lesson, &[side])))
        }
        Element::Quiz { .. } => quiz(lesson, element, letters, &mut findings),
        Element::Recall {
            at,
            side,
            lesson_side,
            start,
        } => {
            let root = begins(lesson, at.as_deref(), &mut findings);
            let side = below(lesson, &[side, lesson_side]);
            let recall = Recall::new(lesson, root, side, 0, &Progress::default(), 0);
            match recall {
                Some(recall) => {
                    let recalling = Recalling::new(recall, start.clone());
                    Ok(State::recall(lesson, recalling, side))
                }
                None => {
                    let message = "nothing can be recalled here: this side has no move to choose";
                    Err(found(Code::NoAnswer, message.to_owned()))
                }
            }
        }
        Element::Diagram {
            of: DiagramOf::Placement(_),
            ..
        } => Ok(State::empty()),
        Element::Diagram {
            of: DiagramOf::Position { at, .. },
            side,
            lesson_side,
        } => {
            let side = below(lesson, &[side, lesson_side]);
            let at = at.as_deref().filter(|at| !at.is_empty());
            named(lesson, at.unwrap_or("start")).map(|node| {
                let shown = State::empty().within(lesson, node);
                if shown != node {
                    findings.push(hidden(lesson, node, shown));
                }
                State::at_node(lesson, shown, side)
            })
        }
        Element::Recap { side, lesson_side } => {
            let side = below(lesson, &[side, lesson_side]);
            Ok(State::at_node(lesson, 0, side))
        }
        Element::Reference { at } => place(lesson, at).map(|place| State {
            aside: place.aside,
            ..State::at_node(lesson, place.node, below(lesson, &[]))
        }),
        Element::Prose => Ok(State::at_node(lesson, 0, below(lesson, &[]))),
    };
    let state = state.unwrap_or_else(|finding| {
        findings.push(finding);
        State::missing()
    });
    (state, findings)
}

/// What a diagram shows, by what is written at it: without a word of a lesson its content is a
/// placement.
fn diagram_of(value: &dyn Fn(&str) -> Option<String>) -> DiagramOf {
    let (at, marks) = (value("at"), value("marks"));
    let placement = match value("fen") {
        Some(fen) => Some(join(&fen.split_whitespace().listed(), " ")),
        None if at.is_some() || value("for").is_some() => None,
        None => value("written").filter(|written| !written.trim().is_empty()),
    };
    let Some(mut text) = placement else {
        return DiagramOf::Position { at, marks };
    };
    if let Some(marks) = marks {
        text.push('\n');
        text.push_str(&marks);
    }
    DiagramOf::Placement(text)
}

/// A finding about an element, which has no place in the text.
fn found(code: Code, message: String) -> Finding {
    Finding::new(code, Span::default(), message)
}

/// The side that is below: the first of these that is one, else that of the tag, else White.
pub fn below(lesson: &Lesson, sides: &[&Option<String>]) -> Color {
    let is_side = |side: &&str| SIDES.contains(side);
    let written = sides.iter().filter_map(|side| side.as_deref());
    let side = written.into_iter().find(is_side);
    side.map_or(lesson.side(), |side| Color::from_white(side != "black"))
}

/// Where a reader begins: the node that the attribute names, else the tag, else the start.
fn begins(lesson: &Lesson, at: Option<&str>, findings: &mut Findings) -> NodeId {
    let (written, attribute) = match (at, lesson.tag("At")) {
        (Some(at), _) => (at, "at"),
        (None, Some(tag)) => (tag, "At"),
        (None, None) => return 0,
    };
    match named(lesson, written) {
        Ok(node) => node,
        Err(finding) => {
            findings.push(finding.of_attribute(attribute));
            0
        }
    }
}

fn quiz(
    lesson: &Lesson,
    element: &Element,
    letters: &Letters,
    findings: &mut Findings,
) -> Result<State, Finding> {
    let Element::Quiz {
        at,
        place,
        side,
        accept,
        moves,
        prompt,
        start,
        seed,
    } = element
    else {
        return Ok(State::missing());
    };
    let wish = Wish {
        at: at.as_deref().unwrap_or_default(),
        place: *place,
        prompt: "",
        accept: accept.as_deref().unwrap_or_default(),
        moves: moves.as_deref().unwrap_or_default(),
    };
    let question = match Question::new(lesson, &wish, letters) {
        Ok(question) => question,
        Err(fault) => {
            let (finding, attribute) = match &fault {
                Fault::Place(at, error) => (unplaced(lesson, at, error), "at"),
                Fault::Accepted(..) => (fault.finding(Span::default()), "accept"),
                Fault::Moves(_) => (fault.finding(Span::default()), "moves"),
                Fault::NoAnswer(..) => (fault.finding(Span::default()), ""),
            };
            return Err(finding.of_attribute(attribute));
        }
    };
    if let Some(told) = question.told(lesson, prompt) {
        let message = join(&["the prompt names its answer, ", told.san], "");
        findings.push(found(Code::PromptTells, message));
    }
    // The side that is asked is below, unless the author names another.
    let asked = lesson.node(question.node).position.turn();
    let side = side.as_deref().filter(|side| SIDES.contains(side));
    let side = side.map_or(asked, |side| Color::from_white(side != "black"));
    let asking = Asking::new(question, *seed);
    Ok(State::quiz(lesson, asking, start.clone(), side))
}

/// The finding that a diagram shows the position of a question instead of a later one.
fn hidden(lesson: &Lesson, node: NodeId, shown: NodeId) -> Finding {
    let [wanted, shown] = [node, shown].map(|id| lesson.numbered(id));
    let says = " comes after an open question, so this diagram shows the place of the question: ";
    let message = join(&[&wanted, says, &shown], "");
    found(Code::BehindQuestion, message).of_attribute("at")
}

/// The place that an author names, in the lesson or beside it. Several places are an error here,
/// though in an address the first one counts.
fn place(lesson: &Lesson, at: &str) -> Result<Place, Finding> {
    named(lesson, at).map(Place::of).or_else(|finding| {
        let place = address::follow(lesson, at);
        place.filter(|it| !it.aside.is_empty()).ok_or(finding)
    })
}

/// The node that the attribute `at` names.
fn named(lesson: &Lesson, at: &str) -> Result<NodeId, Finding> {
    locate(lesson, at).map_err(|error| unplaced(lesson, at, &error))
}

/// The finding that a locator names no place or several, with what the lesson has near it.
fn unplaced(lesson: &Lesson, at: &str, error: &LocateError) -> Finding {
    let mut finding = error.finding(at, Span::default()).of_attribute("at");
    finding.help = Some(match error {
        LocateError::None => way_out(lesson, at),
        LocateError::Several(nodes) => join(&["write ", &apart(lesson, nodes)], ""),
    });
    finding
}
