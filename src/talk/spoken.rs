//! What a talk says of its moves: sentences that give a reason, conditions of a choice, signs in plain words, and that
//! a position came by another order.

use super::draft::Draft;
use super::reading::{Act, Places, Read};
use super::words::{Cue, End, Language, Said, has_signs, is_at};
use std::collections::HashMap;
use std::ops::Range;

/// Which words of a talk become comments.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Comments {
    /// The sentences in which a move is named and a reason is given.
    #[default]
    Reasons,
    /// All that is said.
    All,
    /// None.
    None,
}

/// The longest sentence, in tokens; captions without signs have none that ends.
const SENTENCE: usize = 60;
/// The shortest that says something.
const SHORT: usize = 5;
/// How much is taken of captions without signs, after a move.
const CLAUSE: usize = 36;
/// The most sentences at one move.
const SENTENCES: usize = 3;
/// How far after a move its sign is said, and how far before a link is, in tokens.
const SIGN: usize = 12;
/// The longest condition.
const CONDITION: usize = 16;

/// Adds them to a draft.
pub fn add(
    draft: &mut Draft,
    places: &Places,
    said: &Said,
    read: &Read,
    language: &Language,
    comments: Comments,
) {
    let plays = plays(draft, read);
    let by_saying: HashMap<usize, usize> = plays.iter().copied().collect();
    let spoken = Spoken {
        said,
        language,
        plays: &plays,
        by_saying: &by_saying,
    };
    match comments {
        Comments::None => {}
        Comments::Reasons => spoken.reasons(draft),
        Comments::All => spoken.all(draft),
    }
    spoken.choices(draft);
    spoken.signs(draft);
    for hit in said.hits.iter().filter(|hit| hit.cue == Cue::Transposes) {
        let before = plays.partition_point(|(at, _)| said.sayings[*at].tokens.end <= hit.from); // numbers of sayings
        let near = |at: &&(usize, usize)| {
            hit.from.abs_diff(said.sayings[at.0].tokens.start) <= SIGN // as above
        };
        let around = [before.checked_sub(1), Some(before)].into_iter().flatten();
        for (_, node) in around.filter_map(|it| plays.get(it).filter(near)) {
            draft.joins(places, *node);
        }
    }
}

/// The sayings that are moves of the draft, each with its node.
fn plays(draft: &Draft, read: &Read) -> Vec<(usize, usize)> {
    let acts = read.acts.iter().enumerate();
    acts.filter_map(|(at, act)| match act {
        Act::Play { to, .. } => Some((at, draft.find(*to)?)),
        Act::Talk => None,
    })
    .collect()
}

struct Spoken<'a> {
    said: &'a Said,
    language: &'a Language,
    plays: &'a [(usize, usize)],
    by_saying: &'a HashMap<usize, usize>,
}

impl Spoken<'_> {
    /// The sentence about a token.
    fn sentence(&self, at: usize) -> Range<usize> {
        let from = (0..=at)
            .rev()
            .take(SENTENCE)
            .find(|it| self.said.begins(*it));
        let to = (at + 1..).take(SENTENCE).find(|it| self.said.begins(*it));
        from.unwrap_or(at)..to.unwrap_or(at + 1)
    }

    fn has(&self, tokens: &Range<usize>, cue: Cue) -> bool {
        self.said.within(tokens).iter().any(|hit| hit.cue == cue)
    }

    fn reasons(&self, draft: &mut Draft) {
        let has_signs = has_signs(&self.said.tokens);
        let mut done = 0;
        for (number, &(at, node)) in self.plays.iter().enumerate() {
            let saying = &self.said.sayings[at]; // a number of a saying
            let next = self.plays.get(number + 1);
            let next = next.map_or(self.said.tokens.len(), |it| {
                self.said.sayings[it.0].tokens.start
            });
            let range = match has_signs {
                // The last move of the sentence has it.
                true => {
                    let sentence = self.sentence(saying.tokens.start);
                    match next < sentence.end {
                        true => continue,
                        false => sentence,
                    }
                }
                false => {
                    let from = saying.tokens.start;
                    let most = next.min(saying.tokens.end + CLAUSE);
                    let pause = (saying.tokens.end + SHORT..most).find(|it| self.said.begins(*it));
                    from..pause.unwrap_or(most)
                }
            };
            let fits = range.start >= done
                && (SHORT..=SENTENCE).contains(&range.len())
                && self.has(&(range.start..range.end), Cue::Reason)
                && !self.has(&range, Cue::Greeting);
            if fits {
                done = range.end;
                self.comment(draft, node, &range);
            }
        }
    }

    /// Everything, each sentence at the move before its end.
    fn all(&self, draft: &mut Draft) {
        let mut at = 0;
        while at < self.said.tokens.len() {
            let sentence = self.sentence(at);
            let end = sentence.end.max(at + 1);
            let before = self
                .plays
                .partition_point(|it| self.said.sayings[it.0].tokens.start < end); // numbers of sayings
            let node = before.checked_sub(1).and_then(|it| self.plays.get(it));
            let node = node.map_or(0, |it| it.1);
            let text = self.text(&(at..end));
            draft.nodes[node].comments.push(text); // one that is there
            at = end;
        }
    }

    fn comment(&self, draft: &mut Draft, node: usize, range: &Range<usize>) {
        let text = self.text(range);
        let comments = &mut draft.nodes[node].comments; // one that is there
        if comments.len() < SENTENCES && !comments.contains(&text) {
            comments.push(text);
        }
    }

    /// The words of tokens, as a sentence.
    fn text(&self, tokens: &Range<usize>) -> String {
        let text = self.plain(tokens);
        let mut letters = text.chars();
        let first = letters.next().map(char::to_uppercase);
        let mut text: String = first.into_iter().flatten().chain(letters).collect();
        if !text.ends_with(['.', '?', '!']) {
            let bare = text.trim_end_matches([',', ';', ':', ' ', '-']).len();
            text.truncate(bare);
            text.push('.');
        }
        text
    }

    /// The words of tokens, without what would be more than text in a comment.
    fn plain(&self, tokens: &Range<usize>) -> String {
        let word = |at: usize| self.said.tokens.get(at).map(|it| it.word);
        let (Some(from), Some(to)) = (word(tokens.start), word(tokens.end.saturating_sub(1)))
        else {
            return String::new();
        };
        let words = self.said.words.get(from..=to).unwrap_or_default();
        let words: Vec<&str> = words.iter().map(|it| it.text.as_str()).collect();
        let text = words.join(" ").replace('@', "@@");
        text.chars()
            .filter(|it| !matches!(it, '{' | '}' | '*' | '`' | '[' | ']') && !it.is_control())
            .collect()
    }

    /// Conditions: "if you want a quiet game, play d3", "play d3 if you want a quiet game".
    fn choices(&self, draft: &mut Draft) {
        let hits = self.said.hits.iter().filter(|hit| hit.cue == Cue::IfYou);
        let tokens = &self.said.tokens;
        for hit in hits {
            let sentence = self.sentence(hit.from);
            let end = sentence.end.min(hit.to + 2 * CONDITION);
            let starts = |it: &(usize, usize)| self.said.sayings[it.0].tokens.start; // numbers of sayings
            let after = self
                .plays
                .iter()
                .find(|it| (hit.to..end).contains(&starts(it)));
            let clause = (hit.to..end).find(|it| tokens[*it].end != End::None); // tokens of the talk
            let (node, until) = match after {
                Some(play) => {
                    let mut until = starts(play);
                    while until > hit.to && self.leads(until - 1) {
                        until -= 1;
                    }
                    (play.1, clause.map_or(until, |it| until.min(it + 1)))
                }
                None => {
                    let before = self.plays.partition_point(|it| starts(it) < hit.from);
                    let Some(play) = before.checked_sub(1).and_then(|it| self.plays.get(it)) else {
                        continue;
                    };
                    let is_near = starts(play) >= sentence.start && starts(play) + SIGN >= hit.from;
                    if !is_near {
                        continue;
                    }
                    (play.1, clause.map_or(end, |it| it + 1))
                }
            };
            if until <= hit.to || until - hit.from > CONDITION {
                continue;
            }
            let text = self.plain(&(hit.from..until));
            let text = text.trim_end_matches(|it: char| !it.is_alphanumeric());
            let mut letters = text.chars();
            let first = letters.next().map(char::to_lowercase);
            let text: String = first.into_iter().flatten().chain(letters).collect();
            let node = &mut draft.nodes[node]; // one that is there
            if node.parent.is_some() && node.choose.is_none() {
                node.choose = Some(text);
            }
        }
    }

    /// Whether a token leads from a condition to its move: "then play".
    fn leads(&self, at: usize) -> bool {
        let word = self.said.tokens.get(at).map_or("", |it| it.text.as_str());
        self.language.advice.contains(&word)
    }

    /// Signs, within the sentence of a move and right after it.
    fn signs(&self, draft: &mut Draft) {
        let tokens = &self.said.tokens;
        for &(at, node) in self.plays {
            let saying = &self.said.sayings[at]; // a number of a saying
            let end = self
                .sentence(saying.tokens.start)
                .end
                .min(saying.tokens.end + SIGN);
            let next = self
                .said
                .sayings
                .get(at + 1)
                .map_or(end, |it| it.tokens.start);
            let end = end.min(next).max(saying.tokens.end);
            let after = saying.tokens.end..end;
            if self.has(&after, Cue::Not) || self.has(&after, Cue::Might) {
                continue;
            }
            for from in after {
                let signs = self.language.signs.iter();
                let mut found = signs.filter(|(phrase, _)| {
                    let words: Vec<&str> = phrase.split(' ').collect();
                    is_at(tokens, from, &words)
                });
                if let Some((_, nag)) = found.next()
                    && self.by_saying.get(&at) == Some(&node)
                    && draft.nodes[node].nags.is_empty() // one that is there
                    && node > 0
                {
                    draft.nodes[node].nags.push(*nag);
                }
            }
        }
    }
}
