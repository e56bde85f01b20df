//! Where phrases stand that tell something of the moves about them.

use super::language::{Cue, Language, Sound};
use super::token::{End, Token, begins};
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
    let mut hits: Vec<Hit> = Vec::new();
    for (from, token) in tokens.iter().enumerate() {
        if is_kind(tokens, from, language) {
            hits.push(Hit {
                cue: Cue::Which,
                from,
                to: from + 3,
            });
        }
        if let Some(to) = announces(tokens, from, language) {
            hits.push(Hit {
                cue: Cue::Options,
                from,
                to,
            });
        }
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
                let head = language.heads.iter().find(|it| words[..] == [it.0]);
                let cue = match head {
                    Some((_, head)) if heads(tokens, from, language) => *head,
                    _ => *cue,
                };
                // A reason may be a plan as well: "wants to".
                if cue != Cue::Reason {
                    length = count;
                }
                let is_named =
                    cue == Cue::Plays && count == 1 && is_infinitive(tokens, from, language);
                // "what I mean" takes nothing back.
                let before = from.checked_sub(1).and_then(|at| tokens.get(at));
                let is_asked =
                    cue == Cue::Sorry && before.is_some_and(|it| it.text == language.what);
                if !is_named && !is_asked {
                    hits.push(Hit {
                        cue,
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

/// Whether a clause begins with what was announced: "the quiet one", "Now the old way".
fn is_kind(tokens: &[Token], at: usize, language: &Language) -> bool {
    let Some([the, which, kind]) = tokens.get(at..at + 3) else {
        return false;
    };
    heads(tokens, at, language)
        && the.text == language.the
        && the.end == End::None
        && which.end == End::None
        && language.kinds.contains(&kind.text.as_str())
}

/// Where a number of moves is announced, one past its end: "three answers", "two good moves".
fn announces(tokens: &[Token], at: usize, language: &Language) -> Option<usize> {
    let number = tokens.get(at).filter(|it| it.end == End::None)?;
    let mut ranks = language.ranks.iter().skip_while(|it| it.1 < 2);
    ranks.find(|it| it.0 == number.text && it.2 == Sound::Clear)?;
    let next = (at + 1..at + 3).find(|it| {
        let several = |word: &Token| language.several.contains(&word.text.as_str());
        tokens.get(*it).is_some_and(several)
    })?;
    let plain = |it: &Token| it.end == End::None;
    // "two moves on the knight"
    let last = tokens.get(next)?;
    let after = tokens.get(next + 1).map_or("", |it| it.text.as_str());
    let is_spent =
        plain(last) && (language.places.contains(&after) || language.to.contains(&after));
    (!is_spent && tokens.get(at..next)?.iter().all(plain)).then_some(next + 1)
}

/// Whether a clause begins here, or after a word that may lead it: "so", "now".
fn heads(tokens: &[Token], at: usize, language: &Language) -> bool {
    let before = at.checked_sub(1).and_then(|at| tokens.get(at));
    let leads = |it: &Token| language.leads.contains(&it.text.as_str());
    begins(tokens, at) || before.is_none_or(|it| it.end != End::None || leads(it))
}

fn is_infinitive(tokens: &[Token], at: usize, language: &Language) -> bool {
    let before = at.checked_sub(1).and_then(|at| tokens.get(at));
    before.is_some_and(|it| language.infinitive.contains(&it.text.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::talk::words::english::ENGLISH;
    use crate::talk::words::token::heard;

    /// What the phrases of a text tell, each with its words.
    fn told(text: &str) -> Vec<(Cue, String)> {
        let tokens = heard(text);
        let words = |it: &Hit| {
            let words: Vec<&str> = tokens[it.from..it.to]
                .iter()
                .map(|it| it.text.as_str())
                .collect();
            words.join(" ")
        };
        let hits = hits(&tokens, &ENGLISH);
        hits.iter().map(|it| (it.cue, words(it))).collect()
    }

    #[test]
    fn a_number_of_moves_announces_a_list_and_moves_that_are_spent_do_not() {
        let list = (Cue::Options, "three good lines".to_owned());
        assert_eq!(told("there are three good lines."), [list]);
        assert_eq!(
            told("he spent three moves on it"),
            [(Cue::Plays, "moves".to_owned())]
        );
    }

    #[test]
    fn what_a_clause_begins_with_may_tell_something_else() {
        let one = (Cue::Which, "the quiet one".to_owned());
        assert_eq!(told("the quiet one is"), [one]);
        assert_eq!(told("that is the quiet one"), []);
        assert_eq!(told("Against d4")[0].0, Cue::After);
        assert_eq!(told("good against d4")[0].0, Cue::Plan);
        assert_eq!(told("what i mean"), []);
        assert_eq!(told("i mean")[0].0, Cue::Sorry);
    }
}
