//! Counts in baked pages.

use super::baked_with;
use plyline::counts::{Collection, Counted, Next, Results};
use plyline::post::{Around, Neighbour};

/// Only counts are beside the page.
struct Beside(Result<Collection, String>);

impl Around for Beside {
    fn notation(&self, _: &str) -> Option<Result<String, String>> {
        None
    }

    fn post(&self, _: &str) -> Neighbour<'_> {
        Neighbour::Unknown
    }

    fn counts(&self, address: &str) -> Option<Result<Collection, String>> {
        (address == "c.json").then(|| self.0.clone())
    }
}

fn ended(white: u64, drawn: u64, black: u64) -> Results {
    Results {
        white,
        drawn,
        black,
        unknown: 0,
    }
}

/// Counts of the start, after which 1.e4 and 1.d4 were played.
fn counts() -> Collection {
    let next = |shown: &str, games| Next {
        shown: shown.to_owned(),
        node: None,
        results: ended(games, 0, 0),
    };
    let mut counts = Collection::default();
    counts.of.names = "games.pgn".to_owned();
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -";
    let counted = Counted {
        all: ended(50, 20, 30),
        next: vec![next("d4", 60), next("e4", 40)],
        ..Counted::default()
    };
    counts.at.insert(start.to_owned(), counted);
    counts
}

fn baked(tag: &str, beside: Result<Collection, String>) -> (String, Vec<String>) {
    baked_with(tag, &Beside(beside))
}

const NAMED: &str = "<ply-line id=\"one\" counts=\"c.json\">";

#[test]
fn counts_are_beside_the_board_and_in_the_plain_form_at_each_branch() {
    let (text, _) = baked(NAMED, Ok(counts()));
    let (drawn, plain) = text.split_once("</template>").expect("a root");
    let said = "100 games: White won 50\u{a0}%, drawn 20\u{a0}%, Black won 30\u{a0}%";
    let place = "<details class=\"counts\"><summary><span>";
    assert!(drawn.contains(&format!("{place}{said}")), "{drawn}");
    let after = drawn.find(place) > drawn.find("class=\"under\"");
    assert!(after, "counts come after what is opened under the board");
    assert!(
        plain.contains(&format!("<b><bdi dir=\"ltr\">the start</bdi></b>: {said}.")),
        "{plain}"
    );
    assert!(
        plain.contains("<bdi dir=\"ltr\">1.d4</bdi></th><td>60</td>"),
        "{plain}"
    );
    assert!(plain.contains("not what is best"), "{plain}");
}

#[test]
fn nothing_in_what_is_baked_waits_for_a_click_that_would_be_lost() {
    let (text, _) = baked(NAMED, Ok(counts()));
    let (_, drawn) = text
        .split_once("<details class=\"counts\">")
        .expect("counts");
    let (drawn, plain) = drawn.split_once("</template>").expect("a root");
    let (drawn, _) = drawn
        .split_once("class=\"lines\"")
        .expect("what comes after counts");
    assert!(
        drawn.contains("1.d4") && !drawn.contains("<button"),
        "{drawn}"
    );
    assert!(
        plain.contains("1.d4") && !plain.contains("<button"),
        "{plain}"
    );
}

#[test]
fn the_style_of_counts_is_linked_where_there_are_some() {
    let sheet = "plyline-counts.css";
    let (text, _) = baked(NAMED, Ok(counts()));
    assert_eq!(
        text.matches(sheet).count(),
        2,
        "in the head and in the root"
    );
    let (text, _) = baked("<ply-line id=\"one\">", Ok(counts()));
    assert!(!text.contains(sheet) && !text.contains("class=\"counts\""));
}

#[test]
fn counts_that_cannot_be_used_are_told_and_the_lesson_is_baked_without() {
    let (text, said) = baked(NAMED, Err("it is torn".to_owned()));
    let told = "the counts c.json cannot be used: it is torn";
    assert!(said.iter().any(|it| it == told), "{said:?}");
    assert!(text.contains("class=\"lesson\"") && !text.contains("class=\"counts\""));
    let (_, said) = baked(NAMED, Ok(Collection::default()));
    let told = "it was counted for another lesson";
    assert!(said.iter().any(|it| it.contains(told)), "{said:?}");
}
