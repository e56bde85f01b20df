//! The search for the likeliest reading: step by step through the sayings, with a few readings kept for each place.

use super::acts::{Act, Choice, Fits, Here, Hint, options};
use super::places::{PlaceId, Places};
use super::supply::supply;
use crate::talk::weights::{self, Turn};
use crate::talk::words::Saying;
use shakmaty::Move;
use std::collections::HashMap;
use std::rc::Rc;

/// How many readings are kept for one place.
const FOR_A_PLACE: usize = 2;
/// How many places are kept.
const PLACES: usize = 96;
/// Readings so much less likely than the best, as a logarithm, are dropped.
const HOPELESS: f32 = -16.0;
/// How many of the places that were told last a reading remembers.
const REMEMBERED: usize = 160;
/// How many of the moves that were named in passing.
const ANNOUNCED: usize = 64;
/// After how many sayings it is judged how sure one was.
const LATER: usize = 10;
/// How many of the best readings supply moves.
const SUPPLYING: usize = 4;
/// After how many steps those that no reading needs are forgotten.
const TIDY: usize = 200_000;

/// The most places, some five hundred bytes each: a talk of which readings come to more is read no further. Of moves by
/// chance that nobody says twice they are the places of a day.
const MOST: usize = 2_000_000;

/// A reading of the talk so far.
#[derive(Clone)]
struct Reading {
    /// Its log-probability, less that of the best.
    score: f32,
    place: PlaceId,
    /// The number of its last step.
    step: usize,
    told: Rc<Vec<PlaceId>>,
    /// Moves that were named in passing, with the place of the talk then, the latest last.
    named: Rc<Vec<(PlaceId, Move)>>,
    /// Those of them that were announced.
    promised: Rc<Vec<(PlaceId, Move)>>,
    /// How many moves it told.
    count: usize,
    /// Whether the last saying was a move.
    moved: bool,
    /// How many moves were told since the talk came to this line.
    run: u32,
}

struct Step {
    before: usize,
    act: Act,
}

/// What else a saying may be, and by how much that is likelier than what it was taken for, as a logarithm.
pub type Other = (Act, f32);

/// The likeliest reading.
#[derive(Clone, Debug, Default)]
pub struct Read {
    /// For each saying what it is taken for; fewer than they are many where the talk is too long.
    pub acts: Vec<Act>,
    /// For each saying what else it may be, the likeliest first.
    pub others: Vec<Vec<Other>>,
}

/// What is there before a talk is read.
#[derive(Clone, Debug, Default)]
pub struct Before {
    /// The place at which it begins.
    pub begin: PlaceId,
    /// The places of a lesson at which it may be.
    pub given: Vec<PlaceId>,
    /// For each saying what is known of it; may be shorter than they are many.
    pub hints: Vec<Hint>,
}

/// Reads sayings from a place on.
pub fn read(places: &mut Places, before: &Before, sayings: &[Saying]) -> Read {
    read_within(places, before, sayings, MOST)
}

/// The same, until there are more places than that.
pub fn read_within(places: &mut Places, before: &Before, sayings: &[Saying], most: usize) -> Read {
    let begin = before.begin;
    let none = Hint::default();
    let told = places.path(begin);
    let mut beam = Beam {
        readings: vec![Reading {
            score: 0.0,
            place: begin,
            step: 0,
            told: Rc::new(told),
            named: Rc::default(),
            promised: Rc::default(),
            count: 0,
            moved: true,
            run: 0,
        }],
        steps: vec![Step {
            before: 0,
            act: Act::Talk,
        }],
        kept: Vec::new(),
        others: Vec::new(),
    };
    let mut count = sayings.len();
    for at in 0..sayings.len() {
        if places.count() > most {
            count = at;
            break;
        }
        let hint = before.hints.get(at).unwrap_or(&none);
        beam.step(places, before, hint, &sayings[at..]);
        if at >= LATER {
            beam.judge(LATER);
        }
        if beam.steps.len() > TIDY {
            beam.tidy(at);
        }
    }
    for back in (0..count.min(LATER)).rev() {
        beam.judge(back);
    }
    beam.finish(count)
}

struct Beam {
    /// The best first; never empty.
    readings: Vec<Reading>,
    steps: Vec<Step>,
    /// Acts of which all readings agree, or that only the best remembers.
    kept: Vec<Act>,
    others: Vec<Vec<Other>>,
}

/// A candidate: its score, the reading it goes on from, and its move; none for talk.
struct Next {
    score: f32,
    from: usize,
    choice: Option<Choice>,
}

impl Beam {
    /// Goes on with one saying, the first of these.
    fn step(&mut self, places: &mut Places, before: &Before, hint: &Hint, sayings: &[Saying]) {
        let Some(saying) = sayings.first() else {
            return;
        };
        let mut fits = Fits::new(saying, sayings.get(1), hint);
        let mut likely = Vec::new();
        for &id in &before.given {
            if !fits.at(places, id).is_empty() {
                likely.push(id);
            }
        }
        let is_early = |it: &Reading| it.count < weights::FEW_TOLD;
        let recalls =
            self.readings.iter().any(is_early) && places.recalls(before.begin, &saying.shape);
        let mut supplied: HashMap<PlaceId, Option<Choice>> = HashMap::new();
        let mut nexts: Vec<Next> = Vec::new();
        for (from, reading) in self.readings.iter().enumerate() {
            let recalled = match recalls && is_early(reading) {
                true => weights::RECALLED,
                false => 0.0,
            };
            let lean = saying.lean + clump(reading, saying) + strict(reading, saying) + recalled;
            let (is_move, is_talk) = weights::split(lean);
            nexts.push(Next {
                score: reading.score + is_talk,
                from,
                choice: None,
            });
            let here = Here {
                place: reading.place,
                told: &reading.told,
                named: &reading.named,
                promised: &reading.promised,
                given: &likely,
                begin: before.begin,
                moved: reading.moved,
                run: reading.run,
            };
            let mut list = options(places, &mut fits, here);
            if from < SUPPLYING && lean > weights::MAY_SUPPLY && saying.turn <= Turn::If {
                let way = supplied.entry(reading.place).or_insert_with(|| {
                    let two = from == 0 && fits.at(places, reading.place).is_empty();
                    supply(places, reading.place, sayings, two)
                });
                list.extend(way.clone());
            }
            nexts.extend(list.into_iter().map(|choice| Next {
                score: reading.score + is_move + choice.score,
                from,
                choice: Some(choice),
            }));
        }
        nexts.sort_by(|one, other| other.score.total_cmp(&one.score));
        let best = nexts.first().map_or(0.0, |it| it.score);
        let mut counts: HashMap<PlaceId, usize> = HashMap::new();
        let mut readings = Vec::new();
        for next in nexts {
            if next.score < best + HOPELESS || readings.len() >= PLACES * FOR_A_PLACE {
                break;
            }
            let reading = self.after(places, &mut fits, &next, best);
            let many = counts.len() >= PLACES;
            let count = match counts.get_mut(&reading.place) {
                Some(count) => count,
                None if many => {
                    self.steps.pop();
                    continue;
                }
                None => counts.entry(reading.place).or_default(),
            };
            if *count < FOR_A_PLACE {
                *count += 1;
                readings.push(reading);
            } else {
                self.steps.pop();
            }
        }
        self.readings = readings;
    }

    /// The reading that goes on with a candidate; its step is the last one.
    fn after(
        &mut self,
        places: &mut Places,
        fits: &mut Fits<'_>,
        next: &Next,
        best: f32,
    ) -> Reading {
        let before = &self.readings[next.from]; // a number of `readings`
        let mut reading = before.clone();
        reading.score = next.score - best;
        let act = match &next.choice {
            None => {
                reading.moved = false;
                // Where the talk is, or in place of the last move.
                let above = places.parent(before.place).filter(|_| fits.is_named());
                let mut here = [Some(before.place), above].into_iter().flatten();
                let found = here.find_map(|id| match *fits.at(places, id) {
                    [only] => Some((id, only)),
                    _ => None,
                });
                if let Some(named) = found {
                    let list = match fits.is_promised() {
                        true => &mut reading.promised,
                        false => &mut reading.named,
                    };
                    let mut longer = Vec::clone(list);
                    longer.retain(|it| *it != named);
                    longer.push(named);
                    let many = longer.len().saturating_sub(ANNOUNCED);
                    longer.drain(..many);
                    *list = Rc::new(longer);
                }
                Act::Talk
            }
            Some(choice) => {
                let mut to = choice.at;
                let mut path = Vec::new();
                for &played in choice.supplied.iter().chain([&choice.played]) {
                    to = places.child(to, played);
                    path.push(to);
                }
                let instead = choice.takes_back.then_some(before.place);
                let mut told: Vec<PlaceId> = Vec::clone(&before.told);
                told.retain(|it| !path.contains(it) && Some(*it) != instead);
                told.extend(path);
                let many = told.len().saturating_sub(REMEMBERED);
                told.drain(..many);
                reading.told = Rc::new(told);
                reading.count += 1;
                reading.moved = true;
                reading.run = match choice.at == before.place {
                    true => before.run + 1,
                    false => 1,
                };
                reading.place = to;
                Act::Play {
                    at: choice.at,
                    to,
                    manner: choice.manner,
                    instead,
                }
            }
        };
        reading.step = self.steps.len();
        self.steps.push(Step {
            before: before.step,
            act,
        });
        reading
    }

    /// How sure the saying so many steps back is: what the readings take it for, and how likely each is.
    fn judge(&mut self, back: usize) {
        let mut list: Vec<Other> = Vec::new();
        for reading in &self.readings {
            let mut step = reading.step;
            for _ in 0..back {
                step = self.steps[step].before; // numbers of steps
            }
            let act = self.steps[step].act;
            if !list.iter().any(|(other, _)| is_same(*other, act)) {
                list.push((act, reading.score));
            }
        }
        list.truncate(5);
        self.others.push(list);
    }

    /// Forgets steps that no reading comes from, and those that only others than the best come from long ago.
    fn tidy(&mut self, at: usize) {
        let done = self.kept.len();
        let count = (at + 1 - done).saturating_sub(4 * LATER);
        let mut chain = self.chain(at + 1 - done);
        chain.truncate(count);
        self.kept.extend(chain);
        let mut steps = vec![Step {
            before: 0,
            act: Act::Talk,
        }];
        let mut numbers: HashMap<usize, usize> = HashMap::new();
        for reading in &mut self.readings {
            let mut all = Vec::new();
            let mut step = reading.step;
            for _ in 0..4 * LATER {
                if numbers.contains_key(&step) {
                    break;
                }
                all.push(step);
                step = self.steps[step].before; // numbers of steps
            }
            let mut before = numbers.get(&step).copied().unwrap_or(0);
            for step in all.into_iter().rev() {
                let number = steps.len();
                steps.push(Step {
                    before,
                    act: self.steps[step].act, // as above
                });
                numbers.insert(step, number);
                before = number;
            }
            reading.step = before;
        }
        self.steps = steps;
    }

    /// The last acts of the best reading, in their order.
    fn chain(&self, count: usize) -> Vec<Act> {
        let mut acts = Vec::new();
        let mut step = self.readings.first().map_or(0, |it| it.step);
        for _ in 0..count {
            acts.push(self.steps[step].act); // numbers of steps
            step = self.steps[step].before;
        }
        acts.reverse();
        acts
    }

    fn finish(mut self, count: usize) -> Read {
        let rest = self.chain(count - self.kept.len());
        self.kept.extend(rest);
        let judged = self.kept.iter().zip(self.others);
        let others = judged.map(|(taken, list)| {
            let own = list.iter().find(|(act, _)| is_same(*act, *taken));
            // One that was not among the likeliest then, and is now, was a little less likely than they.
            let least = list.last().map_or(0.0, |it| it.1 - 1.0);
            let own = own.map_or(least, |it| it.1);
            let others = list.iter().filter(|(act, _)| !is_same(*act, *taken));
            others.map(|(act, score)| (*act, score - own)).collect()
        });
        Read {
            others: others.collect(),
            acts: self.kept,
        }
    }
}

/// Whether two acts come to the same place.
fn is_same(one: Act, other: Act) -> bool {
    match (one, other) {
        (Act::Talk, Act::Talk) => true,
        (Act::Play { to, .. }, Act::Play { to: place, .. }) => to == place,
        _ => false,
    }
}

/// Moves come in runs, and so does talk.
fn clump(reading: &Reading, saying: &Saying) -> f32 {
    match (reading.moved, reading.count) {
        (_, 0) if saying.gap == usize::MAX => 0.0,
        (true, 0) => 0.0,
        // "if White does not play d4, but b3": what was talk is what it comes in place of.
        (false, _) if saying.in_place_of.is_some() => 0.0,
        (_, _) if saying.corrects => 0.0,
        (true, _) if saying.planned || saying.listed => 0.0,
        (true, _) if saying.begins => weights::after_move(saying.gap) / 2.0,
        (true, _) => weights::after_move(saying.gap),
        (false, _) if saying.begins => 0.0,
        (false, _) => weights::after_talk(saying.gap),
    }
}

/// Where least has been told a phantom does most harm.
fn strict(reading: &Reading, saying: &Saying) -> f32 {
    let is_bare = saying.shape.is_square();
    match reading.count < weights::FEW_TOLD && is_bare {
        true => weights::STRICT,
        false => 0.0,
    }
}
