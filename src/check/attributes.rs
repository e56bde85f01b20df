//! What authors write on our elements: each attribute with the tag of the same meaning, the
//! elements that have it, and what its value is. Checker, page and `view::open` use this table;
//! the script has a property for each attribute, of the same name.

/// The sides.
pub const SIDES: &[&str] = &["white", "black"];

/// Our elements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// `ply-line`
    Lesson,
    /// `ply-quiz`
    Quiz,
    /// `ply-recall`
    Recall,
    /// `ply-diagram`
    Diagram,
    /// `ply-recap`
    Recap,
    /// `ply-ref`
    Reference,
    /// `ply-prose`
    Prose,
}

/// All elements: kind, name, and the languages of the fenced blocks that become one.
pub const KINDS: &[(Kind, &str, &[&str])] = &[
    (Kind::Lesson, "ply-line", &["pgn"]),
    (Kind::Quiz, "ply-quiz", &["ply-quiz"]),
    (Kind::Recall, "ply-recall", &["ply-recall"]),
    (Kind::Diagram, "ply-diagram", &["ply-diagram", "fen"]),
    (Kind::Recap, "ply-recap", &["ply-recap"]),
    (Kind::Reference, "ply-ref", &[]),
    (Kind::Prose, "ply-prose", &[]),
];

/// The list of a series' posts, which only baking fills: on the page it shows what it holds. Its fence
/// has the same name.
#[cfg(not(target_family = "wasm"))]
pub const SERIES: &str = "ply-series";

impl Kind {
    /// The kind of the element of this name; none if it is not ours.
    pub fn named(name: &str) -> Option<Kind> {
        let known = KINDS.iter().find(|(_, known, _)| *known == name);
        known.map(|&(kind, ..)| kind)
    }

    /// The name of its element.
    #[cfg(not(target_family = "wasm"))]
    pub fn name(self) -> &'static str {
        let known = KINDS.iter().find(|(kind, ..)| *kind == self);
        known.map_or("", |&(_, name, _)| name)
    }
}

/// What the value of an attribute is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Value {
    /// The name by which addresses name a lesson.
    Id,
    /// The id of a lesson of the page.
    Lesson,
    /// The id of an element of the page that is none of ours.
    #[cfg(not(target_family = "wasm"))]
    Element,
    /// The address of a text.
    Address,
    /// A locator.
    Place,
    /// One of these words.
    Word(&'static [&'static str]),
    /// Moves of one position.
    Moves,
    /// A number of moves.
    Count,
    /// A language by whose piece letters moves are read and shown.
    Letters,
    /// Pieces and their squares.
    Placement,
    /// Marks, as `@` writes them in a comment.
    Marks,
    /// No value: present or absent.
    Flag,
}

/// Where the tag with the same meaning is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tagged {
    /// In the notation of a lesson.
    Lesson,
    /// In a fenced block that shows something of a lesson elsewhere.
    Fence,
    /// Nowhere.
    No,
}

/// One attribute.
#[derive(Debug)]
pub struct Attribute {
    /// Its name.
    pub name: &'static str,
    /// The name of its tag.
    pub tag: &'static str,
    /// Where that is allowed.
    pub tagged: Tagged,
    /// What it says.
    pub value: Value,
    /// The elements that have it.
    pub of: &'static [Kind],
}

const fn row(
    name: &'static str,
    tag: &'static str,
    tagged: Tagged,
    value: Value,
    of: &'static [Kind],
) -> Attribute {
    Attribute {
        name,
        tag,
        tagged,
        value,
        of,
    }
}

/// All attributes. `prose` is only a tag: it makes the article around a lesson a `ply-prose`.
pub const ATTRIBUTES: &[Attribute] = {
    use Kind::{Diagram, Lesson, Prose, Quiz, Recall, Recap, Reference};
    &[
        row("id", "Id", Tagged::Lesson, Value::Id, &[Lesson]),
        row(
            "at",
            "At",
            Tagged::Lesson,
            Value::Place,
            &[Lesson, Quiz, Recall, Diagram, Reference],
        ),
        row(
            "side",
            "Side",
            Tagged::Lesson,
            Value::Word(SIDES),
            &[Lesson, Quiz, Recall, Diagram, Recap],
        ),
        row(
            "letters",
            "Letters",
            Tagged::Lesson,
            Value::Letters,
            &[Lesson, Quiz, Recall],
        ),
        row("accept", "Accept", Tagged::Lesson, Value::Moves, &[Quiz]),
        row("moves", "Moves", Tagged::Lesson, Value::Count, &[Quiz]),
        row("fen", "FEN", Tagged::Lesson, Value::Placement, &[Diagram]),
        row(
            "prose",
            "Prose",
            Tagged::Lesson,
            Value::Word(&["yes", "no"]),
            &[],
        ),
        row(
            "for",
            "For",
            Tagged::Fence,
            Value::Lesson,
            &[Quiz, Recall, Diagram, Recap, Reference, Prose],
        ),
        row("marks", "Marks", Tagged::Fence, Value::Marks, &[Diagram]),
        row(
            "remember",
            "Remember",
            Tagged::Fence,
            Value::Flag,
            &[Recall],
        ),
        row(
            "counts",
            "Counts",
            Tagged::Lesson,
            Value::Address,
            &[Lesson],
        ),
        // The page's script reads these three itself.
        #[cfg(not(target_family = "wasm"))]
        row(
            "assessments",
            "Assessments",
            Tagged::Lesson,
            Value::Address,
            &[Lesson],
        ),
        #[cfg(not(target_family = "wasm"))]
        row(
            "answers",
            "Answers",
            Tagged::Lesson,
            Value::Word(&["search"]),
            &[Lesson],
        ),
        #[cfg(not(target_family = "wasm"))]
        row("talk", "Talk", Tagged::Lesson, Value::Element, &[Lesson]),
        row(
            "src",
            "",
            Tagged::No,
            Value::Address,
            &[Lesson, Quiz, Recall],
        ),
    ]
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_attribute_and_each_element_stands_once_and_its_tag_differs_in_capitals_alone() {
        for (at, row) in ATTRIBUTES.iter().enumerate() {
            assert!(ATTRIBUTES[..at].iter().all(|other| other.name != row.name));
            match row.tagged {
                Tagged::No => assert_eq!(row.tag, ""),
                _ => assert!(row.tag.eq_ignore_ascii_case(row.name) && row.tag != row.name),
            }
        }
        for &(kind, name, _) in KINDS {
            assert_eq!(Kind::named(name), Some(kind));
        }
        assert_eq!(Kind::named("ply-other"), None);
    }
}
