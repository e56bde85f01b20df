//! The recap as a table: where one side decides, what it plays there and why.

use super::figure::shown;
use super::{Element, el};
use crate::view::{Choice, Recap, Row, Says, Word, Words};
use shakmaty::Color;

/// What stands in the shadow root of a recap. `start` is the address of the lesson's start; those
/// of the rows go on from it.
pub fn recap(words: &Words, recap: &Recap, start: &str) -> Vec<Element> {
    let white = recap.side == Color::White;
    let title = [Word::RecapBlack, Word::RecapWhite][usize::from(white)];
    let plays = [Word::BlackPlays, Word::WhitePlays][usize::from(white)];
    let heading = |word: Word| {
        el("th")
            .with("scope", "col")
            .with("role", "columnheader")
            .text(words.get(word))
    };
    let head = el("tr")
        .with("role", "row")
        .child(heading(Word::RecapAfter))
        .child(heading(plays));
    let rows = recap.rows.iter().map(|shown| row(words, shown, start));
    // The roles are those that these elements have; narrow pages set them as blocks, and some
    // engines then take them for no table any more.
    let table = el("table")
        .with("class", "card")
        .with("part", "table")
        .with("role", "table")
        .child(el("caption").text(words.get(title)))
        .child(el("thead").with("role", "rowgroup").child(head))
        .child(el("tbody").with("role", "rowgroup").children(rows));
    vec![table]
}

fn row(words: &Words, row: &Row, start: &str) -> Element {
    let mut address = start.to_owned();
    if !row.address.is_empty() {
        address.push('/');
        address.push_str(&row.address);
    }
    let link = el("a")
        .with("href", address)
        .with("data-go", row.node.to_string());
    let link = match row.run.is_empty() {
        true => link.text(words.get(Word::Start)),
        false => row.run.iter().enumerate().fold(link, |link, (at, one)| {
            // The space is where a long run breaks.
            link.text(if at == 0 { "" } else { " " }).child(shown(one))
        }),
    };
    let place = el("th").with("scope", "row").with("role", "rowheader");
    let says = el("td").with("role", "cell");
    el("tr")
        .with("role", "row")
        .child(place.child(link))
        .child(match &row.says {
            Says::Choices(choices) => says.children(choices.iter().map(choice)),
            Says::Question(prompt) => says.child(question(words, prompt)),
        })
}

fn choice(choice: &Choice) -> Element {
    let played = el("p").child(el("b").child(shown(&choice.shown)));
    let played = match choice.condition.is_empty() {
        true => played,
        false => played.text(" ").child(el("em").text(&choice.condition)),
    };
    let why = (!choice.words.is_empty()).then(|| el("p").with("class", "why").text(&choice.words));
    el("div").with("class", "pick").child(played).maybe(why)
}

fn question(words: &Words, prompt: &str) -> Element {
    let said = el("p").text(words.get(Word::QuestionHere));
    let asked = (!prompt.is_empty()).then(|| el("p").with("class", "why").text(prompt));
    el("div").with("class", "asked").child(said).maybe(asked)
}
