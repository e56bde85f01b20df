//! Counts drawn: a sentence and a scale, and on request the moves, the years and the source.

use super::Results;
use super::said::{Counted, Of, context, expected, sentence, told, whole};
use super::score::Score;
use super::words::{Word, Words};
use crate::markup::{Element, el};

/// So many moves have a row of their own.
const ROWS: usize = 7;

/// Whether a script acts for what is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn {
    /// It does: moves of the lesson are buttons.
    Live,
    /// Not yet: as a page is baked. The first click would be lost, because the script draws it anew.
    Baked,
    /// Never: without scales too.
    Plain,
}

/// What is inside the element `details` of counts.
pub fn counts(words: &Words, of: &Of, counted: &Counted, drawn: Drawn) -> Vec<Element> {
    let said = el("span").text(&sentence(words, &counted.all));
    let mut summary = el("summary").child(said);
    let mut inside = el("div");
    if let Some(score) = told(&counted.all) {
        let here = [
            told(&of.all).map(|it| it.score),
            expected(&counted.predicted, &counted.all),
        ];
        summary = summary.child(scale(&score, here));
        let all = score_words(words, &score);
        let mut text = words.get(Word::Score).to_owned() + ": " + &all;
        for more in context(words, of, &counted.all, &counted.predicted) {
            text = text + "; " + &more;
        }
        inside = inside.child(el("p").text(&text));
    }
    inside = inside.maybe(moves(words, counted, drawn));
    if drawn == Drawn::Live {
        let button = el("button").with("type", "button").with("data-count", "");
        let button = button.text(words.get(Word::InText));
        inside = inside.child(el("p").child(button));
    }
    let mut source = el("details").child(el("summary").text(words.get(Word::Source)));
    source = source
        .children(self::source(words, of))
        .child(el("p").text(words.get(Word::Key)));
    source = source
        .maybe(years(of, counted))
        .maybe(parts(words, of, counted));
    vec![summary, inside.child(source)]
}

/// The same for a page without a script: a sentence, after what says where that is, and the moves.
#[cfg(not(target_family = "wasm"))]
pub fn listed(words: &Words, counted: &Counted, place: Element) -> Vec<Element> {
    let mut list = vec![place.text(&sentence(words, &counted.all)).text(".")];
    list.extend(moves(words, counted, Drawn::Plain));
    list
}

/// Where the counts come from, and what they say.
pub fn source(words: &Words, of: &Of) -> Vec<Element> {
    vec![
        el("p").text(&origin(words, of)),
        el("p").text(words.get(Word::Only)),
    ]
}

/// Where the counts come from.
fn origin(words: &Words, of: &Of) -> String {
    let games = words.number(of.all.games());
    let [damaged, left] = [of.damaged, of.left].map(|it| words.number(it));
    let values = [
        ("names", of.names.as_str()),
        ("games", &games),
        ("date", &of.date),
        ("damaged", &damaged),
        ("left", &left),
    ];
    words.fill(Word::Read, &values)
}

/// A score in words: `58 %`, or that every game was drawn.
fn score_words(words: &Words, score: &Score) -> String {
    let text = words.percent(whole(score.score));
    match score.range {
        Some((low, high)) => {
            text + " (" + &whole(low).to_string() + "\u{2013}" + &words.percent(whole(high)) + ")"
        }
        None => text + ", " + words.get(Word::Drawn),
    }
}

/// A short scale from 0 to 100: the score as a dot, what chance alone can do as a line, the collection's
/// score as a tick and what ratings predict as a ring. Everything it shows is in words beside it.
fn scale(score: &Score, [all, predicted]: [Option<f64>; 2]) -> Element {
    let at = |it: f64| ((it * 1000.0) as u32).to_string(); // 0 to 1
    let path = |class: &'static str, d: String| el("path").with("class", class).with("d", d);
    let mut picture = el("svg")
        .with("class", "scale")
        .with("viewBox", "-40 0 1080 100")
        .with("aria-hidden", "true")
        .child(path(
            "axis",
            "M0 50H1000M0 20V80M500 35V65M1000 20V80".to_owned(),
        ));
    if let Some((low, high)) = score.range {
        picture = picture.child(path(
            "range",
            "M".to_owned() + &at(low) + " 50H" + &at(high),
        ));
    }
    if let Some(all) = all {
        picture = picture.child(path("tick", "M".to_owned() + &at(all) + " 5V95"));
    }
    let circle = |class: &'static str, x: f64, r: &'static str| {
        let circle = el("circle").with("class", class);
        circle.with("cx", at(x)).with("cy", "50").with("r", r)
    };
    if let Some(predicted) = predicted {
        picture = picture.child(circle("ring", predicted, "34"));
    }
    picture.child(circle("dot", score.score, "24"))
}

fn cell(text: &str) -> Element {
    el("td").text(text)
}

fn row(first: Element, words: &Words, results: &Results, drawn: Drawn) -> Element {
    let games = cell(&words.number(results.games()));
    let mut last = el("td");
    match told(results) {
        Some(score) => {
            if drawn != Drawn::Plain {
                last = last.child(scale(&score, [None, None])).text(" ");
            }
            last = last.text(&words.percent(whole(score.score)));
        }
        None => last = last.text(&ends(words, results)),
    }
    el("tr")
        .child(el("th").with("scope", "row").child(first))
        .child(games)
        .child(last)
}

/// How few games ended.
fn ends(words: &Words, results: &Results) -> String {
    let [white, drawn, black] =
        [results.white, results.drawn, results.black].map(|it| words.number(it));
    let values = [
        ("white", white.as_str()),
        ("drawn", &drawn),
        ("black", &black),
    ];
    words.fill(Word::Ends, &values)
}

fn heads(first: &str, words: &Words) -> Element {
    let mut row = el("tr");
    for text in [first, words.get(Word::Games), words.get(Word::Score)] {
        row = row.child(el("th").with("scope", "col").text(text));
    }
    el("thead").child(row)
}

/// What was played next.
fn moves(words: &Words, counted: &Counted, drawn: Drawn) -> Option<Element> {
    let mut rows = el("tbody");
    let mut others = Results::default();
    for (at, next) in counted.next.iter().enumerate() {
        if at >= ROWS && next.node.is_none() {
            others.add(&next.results);
            continue;
        }
        let shown = el("bdi").with("dir", "ltr").text(&next.shown);
        let shown = match next.node.filter(|_| drawn == Drawn::Live) {
            Some(node) => el("button")
                .with("type", "button")
                .with("data-go", node.to_string())
                .child(shown),
            None => shown,
        };
        rows = rows.child(row(shown, words, &next.results, drawn));
    }
    if others.games() > 0 {
        let shown = el("span").text(words.get(Word::Others));
        rows = rows.child(row(shown, words, &others, drawn));
    }
    let table = el("table")
        .child(heads(words.get(Word::Move), words))
        .child(rows);
    (!counted.next.is_empty()).then_some(table)
}

/// The games of each year as one small line; the table after it has its numbers.
fn years(of: &Of, counted: &Counted) -> Option<Element> {
    let mut all: Vec<(u64, u64)> = Vec::new();
    for part in &counted.parts {
        // Games of no known year have another name.
        if let Ok(year) = part.name.parse() {
            all.push((year, part.results.games()));
        }
    }
    let (first, last) = (all.first()?.0, all.last()?.0);
    let most = all.iter().map(|(_, games)| *games).max().unwrap_or(0);
    if of.by != "year" || first >= last || most == 0 {
        return None;
    }
    let mut path = String::new();
    for (year, games) in all {
        let x = year.saturating_sub(first) * 1000 / (last - first); // `last` is later
        let y = 100 - games * 90 / most; // one or more
        path.push(if path.is_empty() { 'M' } else { 'L' });
        path = path + &x.to_string() + " " + &y.to_string();
    }
    let line = el("path").with("class", "range").with("d", path);
    Some(
        el("svg")
            .with("class", "years")
            .with("viewBox", "-10 0 1020 110")
            .with("aria-hidden", "true")
            .child(line),
    )
}

fn parts(words: &Words, of: &Of, counted: &Counted) -> Option<Element> {
    let head = match of.by.as_str() {
        "year" => Word::Year,
        "rating" => Word::Rating,
        _ => Word::Time,
    };
    let mut rows = el("tbody");
    for part in &counted.parts {
        let name = match part.name.as_str() {
            "unknown" => words.get(Word::NotKnown),
            "unrated" => words.get(Word::Unrated),
            "standard" => words.get(Word::Standard),
            "rapid" => words.get(Word::Rapid),
            "blitz" => words.get(Word::Blitz),
            name => name,
        };
        let name = el("span").text(name);
        rows = rows.child(row(name, words, &part.results, Drawn::Plain));
    }
    let table = el("table").child(heads(words.get(head), words)).child(rows);
    (!counted.parts.is_empty()).then_some(table)
}
