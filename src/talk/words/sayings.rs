//! The sayings of a talk: each move that is named, with what the words about it tell.

use super::about::{replacing, side_of};
use super::language::{Cue, Language};
use super::named::{Named, Reader};
use super::phrases::{Hit, hits};
use super::said::{Said, Saying, has_signs, within};
use super::token::{End, begins, square, tokens};
use crate::talk::captions::Word;
use crate::talk::shape::Shape;
use crate::talk::weights::{self, Turn};

/// Reads the words of a talk.
pub fn sayings(words: Vec<Word>, language: &'static Language) -> Said {
    let tokens = tokens(&words, language);
    let hits = hits(&tokens, language);
    let digits = tokens
        .iter()
        .filter(|it| square(&it.text).is_some())
        .count();
    let mut reader = Reader {
        tokens: &tokens,
        language,
        spelled: false,
        says_to: false,
    };
    let words_only = (0..tokens.len())
        .filter(|at| reader.is_spelled(*at))
        .count();
    reader.spelled = words_only as f32 > weights::SPELLED * (words_only + digits) as f32;
    reader.says_to = reader.says_to();
    let mut scan = Scan {
        reader,
        hits: &hits,
        words: &words,
        sayings: Vec::new(),
        end: 0,
        in_place_of: false,
        is_taken_back: false,
        is_negated: false,
        in_list: false,
        carried: 0.0,
        elsewhere: None,
        has_signs: has_signs(&tokens),
        announced: None,
        list: Vec::new(),
        to_list: 0,
    };
    let mut at = 0;
    while at < tokens.len() {
        match reader.named(at) {
            Some(named) => {
                let to = named.to.max(at + 1);
                scan.add(at, named);
                at = to;
            }
            None => at += 1,
        }
    }
    let mut sayings = scan.sayings;
    replacing(&mut sayings, &tokens, language);
    Said {
        words,
        tokens,
        hits,
        sayings,
    }
}

struct Scan<'a> {
    reader: Reader<'a>,
    hits: &'a [Hit],
    words: &'a [Word],
    sayings: Vec<Saying>,
    /// One past the last token of the saying before.
    end: usize,
    /// Whether that was one in whose place another comes.
    in_place_of: bool,
    /// Whether that was taken back.
    is_taken_back: bool,
    /// Whether that was said not to be played.
    is_negated: bool,
    /// Whether several moves were announced, in this sentence.
    in_list: bool,
    /// What plans and the like took from the lean of the saying before.
    carried: f32,
    /// One past the token at which another game or opening was named, in this sentence.
    elsewhere: Option<usize>,
    /// Whether the captions show where sentences end.
    has_signs: bool,
    /// One past the token at which several moves were announced.
    announced: Option<usize>,
    /// The moves of the list at hand.
    list: Vec<Shape>,
    /// How many of the moves that were announced were not yet named.
    to_list: usize,
}

impl Scan<'_> {
    fn add(&mut self, at: usize, named: Named) {
        let tokens = self.reader.tokens;
        let gap = at - self.end.min(at);
        let is_first = self.sayings.is_empty();
        // Since the saying before, and of that the sentence at hand.
        let since = self.end.max(at.saturating_sub(weights::FAR_BACK));
        let starts = (since..=at).rev().find(|it| begins(tokens, *it));
        let sentence = starts.unwrap_or(since);
        let wide = within(self.hits, &(since..at));
        let near = within(self.hits, &(sentence..at));
        let distance = |hit: &Hit| at.saturating_sub(hit.to);
        let takes = named.shape.takes || self.sayings.last().is_some_and(|it| it.shape.takes);
        let in_list = self.in_list && starts.is_none() && !takes && self.joins(self.end, at);
        let Reader {
            tokens: all,
            language,
            ..
        } = self.reader;
        let is_now = |hit: &Hit| all.get(hit.from).is_some_and(|it| it.text == language.now);
        let is_played = near.iter().any(|hit| {
            matches!(hit.cue, Cue::Plays | Cue::After | Cue::If | Cue::But) || is_now(hit)
        });
        let (told, taken) = self.before(near, at);
        let mut lean = named.lean() + told + self.about(at, &named);
        let is_taken_back = self.reader.is_taken_back(self.hits, &named);
        let described = !is_taken_back && self.reader.is_described(self.hits, named.to);
        if is_taken_back {
            lean += weights::TAKEN_BACK;
        } else if described {
            lean += weights::DESCRIBED;
        }
        if starts == Some(at) && self.has_signs {
            lean += weights::HEADS;
        }
        if named.goes && !self.reader.says_to {
            lean += weights::PIECE_TO;
        }
        let goes_with = starts.is_none() && gap <= weights::LISTED && !is_played;
        let carried = if goes_with {
            self.carried * weights::CARRIED
        } else {
            0.0
        };
        lean += carried;
        self.carried = carried + taken;
        // A story of another game goes on to the end of its sentence.
        let far = if self.has_signs {
            weights::FAR_BACK
        } else {
            weights::FAR
        };
        let is_far = |hit: &Hit| hit.cue == Cue::Elsewhere;
        let is_played_here = |hit: &Hit| matches!(hit.cue, Cue::Next | Cue::Plays);
        if let Some(hit) = near.iter().rev().find(|hit| is_far(hit)) {
            self.elsewhere = Some(hit.to);
        } else if starts.is_some() || !self.has_signs && near.iter().any(is_played_here) {
            self.elsewhere = None;
        } else if self.elsewhere.is_some_and(|it| at - it <= far) {
            lean += weights::STILL_ELSEWHERE;
        }
        if let Some(hit) = wide.iter().rev().find(|hit| hit.cue == Cue::Options) {
            self.announced = Some(hit.to);
        }
        // "four of them. First, … Second, …"
        let is_next = self
            .announced
            .is_some_and(|it| at - it <= weights::ANNOUNCED_FOR);
        let acts = |hit: &Hit| side_of(hit.cue).is_some();
        let ordinal =
            is_next && near.iter().any(|hit| hit.cue == Cue::Which) && !near.iter().any(acts);
        let first = near
            .iter()
            .any(|hit| hit.cue == Cue::Options && distance(hit) <= weights::NEAR);
        // "three answers. Knight f6, that is …, knight c6, … and bishop c5"
        if let Some(hit) = wide.iter().rev().find(|hit| hit.cue == Cue::Options) {
            self.to_list = self.reader.count_in(hit);
        }
        let turns = |hit: &Hit| {
            matches!(
                hit.cue,
                Cue::Next | Cue::Plays | Cue::If | Cue::After | Cue::Back
            )
        };
        let is_near = self
            .announced
            .is_some_and(|it| at - it <= weights::FAR_BACK);
        let one_of = is_near
            && self.has_signs
            && self.to_list > 0
            && !near.iter().any(|hit| turns(hit) || acts(hit));
        let mut listed = in_list || ordinal || first || one_of;
        self.to_list = self.to_list.saturating_sub(usize::from(listed));
        if !listed && self.to_list == 0 {
            self.list.clear();
        }
        let again = listed && self.list.contains(&named.shape);
        if again {
            // The list is over, and the first of it is told.
            listed = false;
            lean += weights::TOLD_FIRST;
            self.list.clear();
            self.to_list = 0;
        } else if listed {
            self.list.push(named.shape);
            lean += weights::ANNOUNCED;
        }
        for hit in within(self.hits, &(named.to..named.to + 2)) {
            if (named.to..=hit.from).all(|it| it == named.to || !begins(tokens, it))
                && !begins(tokens, named.to)
            {
                lean += weights::behind(hit.cue, hit.from - named.to);
            }
        }
        // "if White does not play d4, but b3"
        let last = self.sayings.last().filter(|_| starts.is_none());
        let is_contrast = |hit: &Hit| hit.cue == Cue::But && distance(hit) <= 1;
        let not = last.filter(|_| self.is_negated && near.iter().any(is_contrast));
        let not = not.map(|it| it.shape);
        self.is_negated = near
            .iter()
            .any(|hit| hit.cue == Cue::Not && distance(hit) <= weights::NOT_PLAYED);
        let side = near
            .iter()
            .rev()
            .filter(|hit| distance(hit) <= weights::NEAR);
        let mut side = side.filter(|hit| self.reader.is_subject(hit.from));
        let side = side.find_map(|hit| side_of(hit.cue));
        let mut turn = self.turn(wide, near, at, starts, in_list);
        if again {
            turn = Turn::Heads;
        }
        // "back to where he has castled"
        if turn == Turn::Back && !named.acts {
            lean -= weights::NO_ACT + taken;
        }
        if not.is_some() {
            turn = Turn::Instead;
        }
        let last = tokens.get(named.to - 1).map_or(0, |it| it.word); // a saying has a token
        let first = tokens.get(at).map_or(0, |it| it.word);
        self.in_list = listed;
        if !listed && lean > 0.0 {
            self.announced = None; // from now on they are told
        }
        self.in_place_of = near
            .iter()
            .any(|hit| hit.cue == Cue::InsteadOf && distance(hit) <= 3);
        self.end = named.to;
        self.sayings.push(Saying {
            shape: named.shape,
            tokens: at..named.to,
            words: first..last + 1,
            at: self.words.get(first).map_or(0, |it| it.at),
            lean,
            gap: if is_first { usize::MAX } else { gap },
            begins: starts.is_some(),
            turn,
            listed,
            described,
            planned: carried + taken < weights::PLANNED,
            in_place_of: not,
            corrects: std::mem::replace(&mut self.is_taken_back, is_taken_back),
            replaced: self.in_place_of,
            takes_again: self.reader.takes_again(&named),
            side: side.or_else(|| self.reader.side_after(self.hits, named.to)),
            number: self.reader.number(self.hits, sentence, at, named.to),
        });
    }

    /// What the cues before a saying, in its sentence, add to its lean, and what of that is of plans and the like.
    fn before(&self, near: &[Hit], at: usize) -> (f32, f32) {
        let (mut sum, mut taken) = (0.0, 0.0);
        // "hits with c5"
        let before = at.checked_sub(1).and_then(|it| self.reader.tokens.get(it));
        let mut played = before.is_some_and(|it| it.text == self.reader.language.with);
        // "if he goes d5"
        let is_if = |hit: &Hit| hit.cue == Cue::If && at - hit.to <= weights::LISTED;
        let goes = |hit: &Hit| hit.cue == Cue::Plays && at - hit.to <= 1;
        if near.iter().any(is_if) && near.iter().any(goes) {
            sum += weights::IF_GOES;
        }
        let mut seen: Vec<Cue> = Vec::new();
        for hit in near.iter().rev() {
            if seen.contains(&hit.cue) {
                continue;
            }
            seen.push(hit.cue);
            let mut weight = weights::before(hit.cue, at.saturating_sub(hit.to));
            if matches!(hit.cue, Cue::Plan | Cue::Might | Cue::Not | Cue::Elsewhere) {
                weight *= self.reader.reaches(near, hit, at);
            }
            // Where no sign ends sentences, figures and stories end with a word that plays.
            let is_over = hit.cue == Cue::Elsewhere && !self.has_signs;
            if (hit.cue == Cue::Plan || is_over) && played {
                weight *= weights::PLAYED_AFTER_PLAN;
            }
            played |= hit.cue == Cue::Plays && weight > 0.0
                || matches!(
                    hit.cue,
                    Cue::Next | Cue::After | Cue::If | Cue::But | Cue::Which | Cue::Back
                );
            sum += weight;
            if matches!(hit.cue, Cue::Plan | Cue::Elsewhere | Cue::Might | Cue::Not) {
                taken += weight;
            }
        }
        (sum, taken)
    }

    /// What the words right before and after it add.
    fn about(&self, at: usize, named: &Named) -> f32 {
        let Reader {
            tokens, language, ..
        } = self.reader;
        let mut sum = 0.0;
        let before = at.checked_sub(1).filter(|_| !begins(tokens, at));
        let before = before.and_then(|it| tokens.get(it));
        if before.is_some_and(|it| it.text == language.with) && self.elsewhere.is_none() {
            sum += weights::WITH_BEFORE;
        }
        if let Some(before) = before.filter(|_| named.shape.is_square()) {
            let word = before.text.as_str();
            if language.articles.contains(&word) {
                sum += weights::ARTICLE_BEFORE;
            } else if language.places.contains(&word) && !self.reader.goes_on(at) {
                sum += weights::ON_BEFORE;
            } else if word == "to" {
                sum += weights::TO_BEFORE;
            }
        }
        let after = tokens.get(named.to).map_or("", |it| it.text.as_str());
        let ends = tokens
            .get(named.to - 1)
            .is_none_or(|it| it.end != End::None); // a saying has a token
        if !ends && language.nouns.contains(&after) && self.reader.named(named.to).is_none() {
            sum += weights::NOUN_AFTER;
        }
        sum
    }

    /// Whether words join the moves of a list: "and", "or", an article.
    fn joins(&self, from: usize, to: usize) -> bool {
        let Reader {
            tokens, language, ..
        } = self.reader;
        let between = tokens.get(from..to).unwrap_or_default();
        between.len() <= weights::LISTED
            && between.iter().enumerate().all(|(at, it)| {
                let hits = within(self.hits, &(from + at..from + at + 1));
                language.articles.contains(&it.text.as_str())
                    || hits.iter().any(|hit| matches!(hit.cue, Cue::Or | Cue::And))
            })
    }

    fn turn(
        &self,
        wide: &[Hit],
        near: &[Hit],
        at: usize,
        starts: Option<usize>,
        in_list: bool,
    ) -> Turn {
        let mut turn = Turn::None;
        let mut is = |other: Turn| turn = turn.max(other);
        let there = self.sayings.last().is_some_and(|it| {
            matches!(it.turn, Turn::After | Turn::Back) && at - self.end.min(at) <= weights::FAR
        });
        for hit in wide {
            let distance = at.saturating_sub(hit.to);
            match hit.cue {
                Cue::Also if there => is(Turn::There),
                Cue::Instead | Cue::InsteadOf | Cue::Also => is(Turn::Instead),
                // "c5 first": of the move before it. "the second lever": of a plan.
                Cue::Which
                    if distance <= weights::FAR
                        && hit.from != self.end
                        && !near
                            .iter()
                            .any(|it| it.cue == Cue::Plan && it.from >= hit.to) =>
                {
                    is(Turn::Which);
                }
                Cue::Back => is(Turn::Back),
                Cue::After if distance <= 4 => is(Turn::After),
                Cue::Sorry if distance <= 6 => is(Turn::Sorry),
                Cue::Or if distance <= 4 => is(Turn::List),
                _ => {}
            }
        }
        for hit in near {
            let distance = at.saturating_sub(hit.to);
            if matches!(hit.cue, Cue::If | Cue::But) && distance <= weights::NEAR {
                is(Turn::If);
            }
        }
        if in_list {
            is(Turn::List);
        }
        let gap = at - self.end.min(at);
        let may_begin = !self.has_signs && gap > weights::LISTED;
        if may_begin || starts.is_some_and(|it| at - it <= weights::HEAD) {
            is(Turn::Heads);
        }
        turn
    }
}
