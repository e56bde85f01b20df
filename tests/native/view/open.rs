//! How each element begins, from what its author wrote, and what the author is told.

use crate::support::{lesson, node};
use plyline::check::attributes::{ATTRIBUTES, KINDS, Kind};
use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::view::words::TEXTS;
use plyline::view::{DiagramOf, Element, Keeping, Mode, Note, State, open};
use shakmaty::Color;

const TEXT: &str = "[Side \"black\"] [At \"2.c4\"] 1. d4 d5 2. c4 {Ask: How?} e6 (2... c6 3. Nf3) \
                    3. Nc3 Nf6 *";

/// An element of a kind with these values under these names.
fn element(kind: Kind, values: &[(&str, &str)]) -> Element {
    Element::read(kind, &|name| {
        let value = values.iter().find(|(known, _)| *known == name);
        value.map(|(_, value)| (*value).to_owned())
    })
}

/// The state, and for each finding its code and the attribute that it is about.
fn opened<'a>(
    lesson: &Lesson,
    kind: Kind,
    values: &[(&str, &str)],
) -> (State, Vec<(&'static str, &'a str)>) {
    let (state, findings) = open(lesson, &element(kind, values), Letters::ENGLISH);
    let found = findings.iter().map(|it| (it.code.id(), it.attribute));
    (state, found.collect())
}

fn is_missing(state: &State) -> bool {
    state.mode == Mode::Missing
}

#[test]
fn a_lesson_begins_by_its_attributes_else_by_its_tags_else_at_the_start_with_white_below() {
    let tagged = lesson(TEXT);
    let (state, found) = opened(&tagged, Kind::Lesson, &[]);
    assert_eq!((state.node, state.side), (3, Color::Black));
    assert!(found.is_empty() && state.waits(), "at its question");
    let values = [("at", "1.d4"), ("side", "white"), ("id", "a-b")];
    let (state, found) = opened(&tagged, Kind::Lesson, &values);
    assert_eq!((state.node, state.side), (1, Color::White));
    assert_eq!(found, []);
    let (state, _) = opened(&lesson("1. e4 *"), Kind::Lesson, &[]);
    assert_eq!((state.node, state.side), (0, Color::White));
}

#[test]
fn a_value_that_nothing_knows_counts_as_if_it_were_not_there_and_is_told() {
    let lesson = lesson(TEXT);
    let values = [("at", "9.Kd2"), ("side", "left"), ("id", "a b")];
    let (state, found) = opened(&lesson, Kind::Lesson, &values);
    assert_eq!((state.node, state.side), (0, Color::Black));
    assert_eq!(found, [("P070", "side"), ("P070", "id"), ("P041", "at")]);
    for kind in [Kind::Quiz, Kind::Recall, Kind::Diagram, Kind::Recap] {
        let (_, found) = opened(&lesson, kind, &[("side", "left"), ("at", "2.c4")]);
        assert_eq!(found, [("P070", "side")], "{kind:?}");
    }
}

#[test]
fn a_question_stands_where_it_says_else_at_the_start_or_the_end_of_its_own_notation() {
    let lesson = lesson("1. d4 d5 2. c4 *");
    let (state, found) = opened(&lesson, Kind::Quiz, &[("start", "#x"), ("seed", "7")]);
    let Mode::Quiz { asking, start } = &state.mode else {
        panic!("no question: {:?}", state.mode);
    };
    assert_eq!((state.node, state.side, &**start), (0, Color::White, "#x"));
    assert!(asking.is_open() && found.is_empty());
    let own = [("own", ""), ("accept", "e6 Nf6"), ("side", "white")];
    let (state, _) = opened(&lesson, Kind::Quiz, &own);
    assert_eq!((state.node, state.side), (3, Color::White));
    let (state, _) = opened(&lesson, Kind::Quiz, &[("at", "1.d4"), ("moves", "1")]);
    assert_eq!(
        (state.node, state.side),
        (1, Color::Black),
        "its side is below"
    );
}

#[test]
fn a_question_that_cannot_be_asked_is_missing_and_the_attribute_to_mend_is_told_last() {
    let lesson = lesson("1. d4 d5 2. c4 *");
    for (values, told) in [
        (vec![("at", "9.Kd2")], ("P041", "at")),
        (vec![("accept", "hello")], ("P011", "accept")),
        (vec![("moves", "9")], ("P066", "moves")),
        (vec![("own", "")], ("P048", "")),
    ] {
        let (state, found) = opened(&lesson, Kind::Quiz, &values);
        assert!(is_missing(&state), "{values:?}");
        assert_eq!(found.last(), Some(&told), "{values:?}");
    }
    let (state, found) = opened(&lesson, Kind::Quiz, &[("prompt", "Is d4 good?")]);
    assert!(!is_missing(&state), "it gives its answer away");
    assert_eq!(found, [("P049", "")]);
}

#[test]
fn a_recall_takes_its_own_side_else_that_of_the_lessons_element_else_the_tag() {
    let lesson = lesson(TEXT);
    let side = |values: &[(&str, &str)]| opened(&lesson, Kind::Recall, values).0.side;
    assert_eq!(side(&[("at", "start")]), Color::Black);
    let both = [("side", "black"), ("lesson-side", "white")];
    assert_eq!(
        [side(&both), side(&both[1..])],
        [Color::Black, Color::White]
    );
    let (state, found) = opened(&lesson, Kind::Recall, &[("at", "2.c4")]);
    let recalling = state.recalling().expect("a recall");
    assert_eq!((recalling.recall.root, recalling.recall.walks), (3, 0));
    assert_eq!(found, []);
    let (state, found) = opened(&lesson, Kind::Recall, &[("at", "3...Nf6")]);
    assert!(is_missing(&state));
    assert_eq!(found, [("P048", "")]);
}

#[test]
fn what_a_diagram_holds_is_a_placement_unless_it_names_a_place_of_a_lesson() {
    let of = |values: &[(&str, &str)]| match element(Kind::Diagram, values) {
        Element::Diagram { of, .. } => of,
        other => panic!("no diagram: {other:?}"),
    };
    let placed = |text: &str| DiagramOf::Placement(text.to_owned());
    let position = |at: Option<&str>, marks: Option<&str>| DiagramOf::Position {
        at: at.map(str::to_owned),
        marks: marks.map(str::to_owned),
    };
    let written = ("written", "8/8/8/8\n@c5");
    assert_eq!(of(&[written]), placed("8/8/8/8\n@c5"));
    assert_eq!(
        of(&[("fen", "8/8  \n w"), ("marks", "c5")]),
        placed("8/8 w\nc5")
    );
    assert_eq!(of(&[written, ("fen", "k7/8"), ("at", "x")]), placed("k7/8"));
    assert_eq!(of(&[written, ("at", "1.d4")]), position(Some("1.d4"), None));
    assert_eq!(of(&[written, ("for", "x")]), position(None, None));
    assert_eq!(
        of(&[("written", " \n"), ("marks", "")]),
        position(None, Some(""))
    );
}

#[test]
fn a_diagram_and_a_reference_stand_at_the_place_that_they_name() {
    let lesson = lesson(TEXT);
    let (state, found) = opened(&lesson, Kind::Diagram, &[("at", "1.d4"), ("side", "white")]);
    assert_eq!((state.node, state.side, found.len()), (1, Color::White, 0));
    // Not what comes after a question.
    let (state, found) = opened(&lesson, Kind::Diagram, &[("at", "3.Nc3")]);
    assert_eq!(state.node, node(&lesson, "2.c4"));
    assert_eq!(found, [("P075", "at")]);
    let (state, _) = opened(&lesson, Kind::Diagram, &[("at", "7.Kd2")]);
    assert!(is_missing(&state));
    let (state, found) = opened(&lesson, Kind::Reference, &[("at", "2.c4 Nc6 3.Nc3")]);
    let sans: Vec<&str> = state.aside.iter().map(|it| it.san.as_str()).collect();
    assert_eq!((state.node, sans), (3, vec!["Nc6", "Nc3"]));
    assert_eq!(found, []);
    let (state, found) = opened(&lesson, Kind::Reference, &[("at", "9.Kd2")]);
    assert!(is_missing(&state));
    assert_eq!(found, [("P041", "at")]);
}

/// The names in the first list after `observedAttributes` or a constant of that meaning, with those of the constant where the
/// list takes them in.
fn observed(script: &str) -> Vec<&str> {
    let lower = ["observedAttributes = [", "attributes = [", "ATTRIBUTES = ["];
    let lists = lower.iter().filter_map(|head| script.split_once(head));
    let list = lists.map(|(_, list)| list).next().expect("a list");
    let (list, _) = list.split_once(']').expect("its end");
    let mut names: Vec<&str> = list
        .split(", ")
        .map(|name| name.trim_matches('"'))
        .collect();
    if let Some(at) = names.iter().position(|name| *name == "...ATTRIBUTES") {
        let (_, list) = script.split_once("ATTRIBUTES = [").expect("the constant");
        let (list, _) = list.split_once(']').expect("its end");
        names.remove(at);
        names.extend(list.split(", ").map(|name| name.trim_matches('"')));
    }
    names
}

#[test]
fn the_script_follows_the_attributes_that_the_table_gives_each_element() {
    let scripts = [
        (
            Kind::Lesson,
            include_str!("../../../www/page/elements/line.js"),
        ),
        (
            Kind::Quiz,
            include_str!("../../../www/page/elements/quiz.js"),
        ),
        (
            Kind::Recall,
            include_str!("../../../www/page/elements/recall.js"),
        ),
        (
            Kind::Diagram,
            include_str!("../../../www/page/companions/diagram.js"),
        ),
        (
            Kind::Recap,
            include_str!("../../../www/page/companions/recap.js"),
        ),
        (
            Kind::Reference,
            include_str!("../../../www/page/companions/ref.js"),
        ),
        (
            Kind::Prose,
            include_str!("../../../www/page/companions/prose.js"),
        ),
    ];
    assert_eq!(scripts.len(), KINDS.len());
    for (kind, script) in scripts {
        let mut follows = observed(script);
        follows.sort_unstable();
        // The first is read with the notation; the others with the lesson, each
        // by a file `begin.js` of a folder of www/page/.
        const APART: [&str; 5] = ["id", "counts", "assessments", "answers", "talk"];
        let rows = ATTRIBUTES.iter().filter(|row| row.of.contains(&kind));
        let names = rows.map(|row| row.name);
        let mut wanted: Vec<&str> = names.filter(|it| !APART.contains(it)).collect();
        wanted.sort_unstable();
        assert_eq!(follows, wanted, "{kind:?}");
    }
}

#[test]
fn the_script_makes_elements_of_the_fences_that_the_table_names() {
    let fences = include_str!("../../../www/page/elements/fences.js");
    let (_, list) = fences.split_once("lang(?:uage)?-(").expect("the languages");
    let (list, _) = list.split_once(')').expect("their end");
    let mut languages: Vec<&str> = list.split('|').collect();
    languages.sort_unstable();
    let mut wanted: Vec<&str> = KINDS
        .iter()
        .flat_map(|(.., names)| *names)
        .copied()
        .collect();
    wanted.sort_unstable();
    assert_eq!(languages, wanted);
}

#[test]
fn what_the_page_keeps_is_known_by_name_and_nothing_else_is() {
    assert_eq!(Keeping::named("kept"), Keeping::Kept);
    assert_eq!(Keeping::named("forgetting"), Keeping::Forgetting);
    assert_eq!(Keeping::named("true"), Keeping::Never);
    assert_eq!(Note::named("fileRead", 3), Some(Note::FileRead(3)));
    assert_eq!(Note::named("", 0), None);
    // Each has a sentence of its name, and the page knows no other.
    let script = concat!(
        include_str!("../../../www/page/elements/recall.js"),
        include_str!("../../../www/page/progress.js")
    );
    let notes = [
        "kept",
        "notKept",
        "storeNewer",
        "storeCorrupt",
        "fileRead",
        "fileUnread",
        "forgotten",
    ];
    for name in notes {
        assert!(Note::named(name, 0).is_some(), "{name}");
        assert!(TEXTS.iter().any(|(key, _)| *key == name), "{name}");
        assert!(script.contains(&format!("\"{name}\"")), "{name}");
    }
}
