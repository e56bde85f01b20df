//! What is said of counts.

use super::Predicted;
use super::Results;
use super::score::{Score, score};
use super::words::{Word, Words};
use crate::notation::Letters;

/// So many games are few: there each is named, and no share.
pub const FEW: u64 = 30;

/// What was counted at a position.
#[derive(Clone, Debug, Default)]
pub struct Counted {
    /// Those that came to it.
    pub all: Results,
    pub predicted: Predicted,
    /// The moves that followed, the most played first.
    pub next: Vec<Next>,
    /// Those that came to it, by the parts of a split.
    pub parts: Vec<Part>,
}

impl Counted {
    /// The same with moves in these letters.
    pub fn lettered(mut self, letters: &Letters) -> Counted {
        for next in &mut self.next {
            next.shown = letters.write(&next.shown);
        }
        self
    }
}

/// A move that followed.
#[derive(Clone, Debug)]
pub struct Next {
    /// With its number, as the lesson's readers see moves.
    pub shown: String,
    /// Where the lesson has it.
    pub node: Option<u32>,
    pub results: Results,
}

/// A year, a band of ratings or a class of time.
#[derive(Clone, Debug)]
pub struct Part {
    pub name: String,
    pub results: Results,
}

/// The collection.
#[derive(Clone, Debug, Default)]
pub struct Of {
    /// The names of its files.
    pub names: String,
    /// The latest date of a game that counts, and the filters.
    pub date: String,
    pub all: Results,
    pub damaged: u64,
    pub left: u64,
    /// What parts are of: `year`, `rating` or `time`.
    pub by: String,
}

/// How the games of a position ended, in one sentence.
pub fn sentence(words: &Words, results: &Results) -> String {
    let ends = [results.white, results.drawn, results.black];
    let known = ends[0] + ends[1] + ends[2];
    let games = words.number(results.games());
    if results.games() == 0 {
        return words.get(Word::None).to_owned();
    }
    if known == 0 {
        return words.fill(Word::Bare, &[("games", &games)]);
    }
    let word = match results.games() < FEW {
        true => Word::Few,
        false => Word::Many,
    };
    let parts = match known < FEW {
        true => ends.map(|it| words.number(it)),
        false => words.percents(&ends),
    };
    let [white, drawn, black] = &parts;
    let values = [
        ("games", games.as_str()),
        ("white", white),
        ("drawn", drawn),
        ("black", black),
    ];
    let mut text = words.fill(word, &values);
    if results.unknown > 0 {
        let unknown = words.number(results.unknown);
        text.push_str(&words.fill(Word::Unknown, &[("games", &unknown)]));
    }
    text
}

/// A score in whole percent.
pub fn whole(score: f64) -> u64 {
    (score * 100.0 + 0.5) as u64 // 0 to 1
}

/// The score of enough games.
pub fn told(results: &Results) -> Option<Score> {
    let known = results.games() - results.unknown;
    score(results).filter(|_| known >= FEW)
}

/// What is said of a move beside it in the text.
pub fn beside(words: &Words, results: &Results) -> String {
    let games = words.number(results.games());
    match told(results) {
        Some(it) => {
            let score = words.percent(whole(it.score));
            words.fill(Word::Beside, &[("games", &games), ("score", &score)])
        }
        None if results.games() < FEW => words.fill(Word::BesideFew, &[("games", &games)]),
        None => games + " " + words.get(Word::Games),
    }
}

/// What stands beside a score: the collection's, and what ratings predict.
pub fn context(words: &Words, of: &Of, all: &Results, predicted: &Predicted) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(it) = told(&of.all) {
        let score = words.percent(whole(it.score));
        said.push(words.fill(Word::Whole, &[("score", &score)]));
    }
    if let Some(part) = expected(predicted, all) {
        let score = words.percent(whole(part));
        said.push(words.fill(Word::Predicted, &[("score", &score)]));
    }
    said
}

/// What ratings predict, 0 to 1, where those of enough games are known: most of them, or it would be of others.
pub fn expected(predicted: &Predicted, all: &Results) -> Option<f64> {
    let is_told = predicted.games >= FEW && predicted.games >= all.games() / 2;
    is_told.then(|| predicted.sum as f64 / predicted.games as f64 / 100.0)
}
