//! Where phrases stand that tell something of the moves about them.

use super::language::{Cue, Language};
use super::token::{End, Token};
use std::collections::HashMap;

/// A phrase of a talk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit {
    /// What it tells.
    pub cue: Cue,
    /// Its first token.
    pub from: usize,
    /// One past its last.
    pub to: usize,
}

/// All phrases of a language, by their first word.
type Phrases<'a> = HashMap<&'a str, Vec<(Vec<&'a str>, Cue)>>;

/// The phrases in tokens, in their order. Of phrases that begin at one word only the longest count.
pub fn hits(tokens: &[Token], language: &'static Language) -> Vec<Hit> {
    let phrases = phrases(language);
    let mut hits = Vec::new();
    for (from, token) in tokens.iter().enumerate() {
        let Some(list) = phrases.get(token.text.as_str()) else {
            continue;
        };
        let mut length = 0;
        for (words, cue) in list {
            // The longest come first.
            if words.len() < length {
                break;
            }
            if is_at(tokens, from, words) {
                let count = words.len();
                // A reason may be a plan as well: "wants to".
                if *cue != Cue::Reason {
                    length = count;
                }
                let is_named =
                    *cue == Cue::Plays && count == 1 && is_infinitive(tokens, from, language);
                if !is_named {
                    hits.push(Hit {
                        cue: *cue,
                        from,
                        to: from + count,
                    });
                }
            }
        }
    }
    hits
}

fn phrases(language: &'static Language) -> Phrases<'static> {
    let mut all: Phrases<'static> = HashMap::new();
    for (cue, list) in language.cues {
        for phrase in list.split(", ") {
            let words: Vec<&str> = phrase.split(' ').collect();
            let Some(first) = words.first() else {
                continue;
            };
            all.entry(first).or_default().push((words, *cue));
        }
    }
    for list in all.values_mut() {
        list.sort_by_key(|(words, cue)| (std::cmp::Reverse(words.len()), *cue));
    }
    all
}

/// Whether words come here, in one sentence.
pub fn is_at(tokens: &[Token], from: usize, words: &[&str]) -> bool {
    let Some(here) = tokens.get(from..from + words.len()) else {
        return false;
    };
    let (last, others) = match here.split_last() {
        Some(found) => found,
        None => return false,
    };
    let goes_on = others.iter().all(|it| it.end != End::Sentence);
    goes_on
        && here
            .iter()
            .zip(words)
            .all(|(token, word)| token.text == *word)
        && !last.text.is_empty()
}

fn is_infinitive(tokens: &[Token], at: usize, language: &Language) -> bool {
    let before = at.checked_sub(1).and_then(|at| tokens.get(at));
    before.is_some_and(|it| language.infinitive.contains(&it.text.as_str()))
}
