//! Claims in the author's own words: found in sentences (`phrase`, `sentence`), put to a position (`subject`), and held against a
//! search or the board (`test`). Told only where they are contradicted.

mod phrase;
mod sentence;
mod subject;
mod test;

use super::spots::Spots;
use super::tell::Told;
use super::words;
use crate::lesson::Lesson;
use crate::text::Finding;
use rayon::prelude::*;

/// The claims of a lesson that are contradicted, and in a report those for which nothing was found.
pub fn claims(
    lesson: &Lesson,
    spots: &Spots,
    budget: u64,
    is_report: bool,
) -> (Vec<Finding>, Vec<Told>) {
    let mut asked = Vec::new();
    for &id in lesson.commented() {
        if spots.number(id).is_some() && !words::is_weighed(lesson, id) {
            asked.extend(subject::asked(lesson, id));
        }
    }
    let tested: Vec<_> = asked
        .par_iter()
        .map(|it| test::tested(it, budget, is_report))
        .collect();
    let (mut findings, mut told) = (Vec::new(), Vec::new());
    for (asked, outcome) in asked.iter().zip(tested) {
        match outcome {
            test::Outcome::Contradicted(why) => findings.push(asked.finding(&why)),
            test::Outcome::NotFound(why) => told.push(asked.told(&why)),
            test::Outcome::Open => {}
        }
    }
    (findings, told)
}
