//! Assessments in baked pages.

use super::baked_with;
use plyline::assessments::{Assessment, Bound, Collection, Limit, Score};
use plyline::post::{Around, Neighbour};

/// Only assessments are beside the page.
struct Beside(Result<Collection, String>);

impl Around for Beside {
    fn notation(&self, _: &str) -> Option<Result<String, String>> {
        None
    }

    fn post(&self, _: &str) -> Neighbour<'_> {
        Neighbour::Unknown
    }

    fn assessments(&self, address: &str) -> Option<Result<Collection, String>> {
        (address == "a.json").then(|| self.0.clone())
    }
}

const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -";
const AFTER_D5: &str = "rnbqkbnr/ppp1pppp/8/3p4/3P4/8/PPP1PPPP/RNBQKBNR w KQkq -";

fn assessed() -> Collection {
    let mut all = Collection::default();
    all.of.name = "Ours 1".to_owned();
    all.of.limit = Some(Limit::Depth(20));
    all.of.date = "2026-11-30".to_owned();
    for (fen, hundredths) in [(START, 31), (AFTER_D5, -70)] {
        let assessment = Assessment {
            score: Score::Pawns(hundredths),
            bound: Bound::Exact,
            depth: Some(20),
            line: vec!["Nf3".to_owned(), "Nf6".to_owned()],
        };
        all.at.insert(fen.to_owned(), assessment);
    }
    all
}

fn baked(tag: &str, beside: Result<Collection, String>) -> (String, Vec<String>) {
    baked_with(tag, &Beside(beside))
}

const NAMED: &str = "<ply-line id=\"one\" assessments=\"a.json\">";

#[test]
fn assessments_wait_under_one_word_and_are_written_in_the_plain_form() {
    let (text, said) = baked(NAMED, Ok(assessed()));
    assert!(
        !said.iter().any(|it| it.contains("assessments")),
        "{said:?}"
    );
    let (drawn, plain) = text.split_once("</template>").expect("a root");
    let place = "<details class=\"assessed\"><summary>engine</summary><p>engine: +0.3 for White, depth 20</p>";
    assert!(drawn.contains(place), "{drawn}");
    assert!(drawn.contains("Its line: 1.Nf3 Nf6."), "{drawn}");
    assert!(drawn.contains("plyline-counts.css"), "{drawn}");
    for words in [
        "<b><bdi dir=\"ltr\">the start</bdi></b>: +0.3 for White, depth 20.",
        "<b><bdi dir=\"ltr\">1...d5</bdi></b>: +0.7 for Black, depth 20.",
        "Ours 1; depth 20 for each; 2026-11-30.",
        "not written by your teacher",
    ] {
        assert!(plain.contains(words), "{words}\n{plain}");
    }
}

#[test]
fn assessments_that_cannot_be_used_are_told_and_the_lesson_is_baked_without() {
    let (text, said) = baked(NAMED, Err("it is torn".to_owned()));
    let told = "the assessments a.json cannot be used: it is torn";
    assert!(said.iter().any(|it| it == told), "{said:?}");
    assert!(text.contains("class=\"lesson\"") && !text.contains("class=\"assessed\""));
    let (_, said) = baked(NAMED, Ok(Collection::default()));
    let told = "it holds no position of this lesson";
    assert!(said.iter().any(|it| it.contains(told)), "{said:?}");
}
