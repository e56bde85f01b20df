//! The recap as a table: the positions in which one side decides, its moves there and why.

use super::parts::{link, run, shown};
use super::{Element, el};
use crate::view::{Choice, Recap, Row, Says, Word, Words};
use shakmaty::Color;

/// What is in the shadow root of a recap. `start` is the address of the lesson's start; those
/// of the rows go on from it.
pub fn recap(words: &Words, recap: &Recap, start: &str) -> Vec<Element> {
    let (title, plays) = match recap.side {
        Color::White => (Word::RecapWhite, Word::WhitePlays),
        Color::Black => (Word::RecapBlack, Word::BlackPlays),
    };
    let mut head = part("tr", "row");
    for word in [Word::RecapAfter, plays] {
        let heading = part("th", "columnheader").with("scope", "col");
        head = head.child(heading.text(words.get(word)));
    }
    let mut body = part("tbody", "rowgroup");
    for shown in &recap.rows {
        body = body.child(row(words, shown, start));
    }
    if recap.is_cut {
        let rest = part("td", "cell").with("colspan", "2");
        body = body.child(part("tr", "row").child(rest.text("\u{2026}")));
    }
    let table = part("table", "table")
        .with("class", "card")
        .with("part", "table")
        .child(el("caption").text(words.get(title)))
        .child(part("thead", "rowgroup").child(head))
        .child(body);
    vec![table]
}

/// A part of the table with the role that it has: narrow pages set them as blocks, and some engines
/// then no longer treat them as a table.
fn part(tag: &'static str, role: &'static str) -> Element {
    el(tag).with("role", role)
}

fn row(words: &Words, row: &Row, start: &str) -> Element {
    let mut link = link(start, &row.address, row.node);
    if row.run.is_empty() {
        link = link.text(words.get(Word::Start));
    }
    let mut says = part("td", "cell");
    match &row.says {
        Says::Choices(choices) => {
            for one in choices {
                says = says.child(choice(one));
            }
        }
        Says::Question(prompt) => {
            let said = el("p").text(words.get(Word::QuestionHere));
            says = says.child(with_why(
                el("div").with("class", "asked").child(said),
                prompt,
            ));
        }
    }
    let place = part("th", "rowheader").with("scope", "row");
    part("tr", "row")
        .child(place.child(run(link, &row.run)))
        .child(says)
}

fn choice(choice: &Choice) -> Element {
    let mut played = el("p").child(el("b").child(shown(&choice.shown)));
    if !choice.condition.is_empty() {
        played = played.text(" ").child(el("em").text(&choice.condition));
    }
    with_why(el("div").with("class", "pick").child(played), &choice.words)
}

fn with_why(into: Element, why: &str) -> Element {
    into.maybe((!why.is_empty()).then(|| el("p").with("class", "why").text(why)))
}
