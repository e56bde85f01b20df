//! The progress of a recall, in numbers, so that it continues in another instance of the core.

use super::recall::{Recall, Stage};
use super::schedule::Outcome;
use crate::lesson::Lesson;

impl Recall {
    /// The reader's progress, in numbers; [`Recall::resume`] reads them.
    pub fn carry(&self, numbers: &mut Vec<u32>) {
        let stage = self.stage as u32;
        let is_back = u32::from(self.is_back);
        numbers.extend([
            stage,
            is_back,
            self.walks,
            self.node,
            self.target,
            self.seed,
        ]);
        for &(node, choice) in &self.missed {
            numbers.extend([node, choice]);
        }
        numbers.push(u32::MAX); // no node
        for &(node, outcome) in &self.answered {
            numbers.extend([node, outcome as u32]);
        }
        numbers.push(u32::MAX);
        numbers.extend(&self.later);
        numbers.extend([u32::MAX, u32::from(self.has_slipped)]);
        numbers.extend(self.scope.signs().iter().map(|&sign| u32::from(sign)));
    }

    /// A recall that has not begun continues where the same one was.
    pub fn resume(&mut self, lesson: &Lesson, next: &mut dyn FnMut() -> u32) {
        let stage = next();
        for known in [Stage::Asked, Stage::Told, Stage::Ends, Stage::Over] {
            if known as u32 == stage {
                self.stage = known;
            }
        }
        self.is_back = next() != 0;
        self.walks = next();
        for place in [&mut self.node, &mut self.target] {
            let node = next();
            *place = lesson.get(node).map_or(*place, |_| node);
        }
        self.seed = next();
        for is_missed in [true, false] {
            loop {
                let node = next();
                if lesson.get(node).is_none() {
                    break;
                }
                let what = next();
                match (is_missed, Outcome::of(what)) {
                    (true, _) if lesson.get(what).is_some() => self.missed.push((node, what)),
                    (false, Some(outcome)) => self.answered.push((node, outcome)),
                    _ => {}
                }
            }
        }
        loop {
            let node = next();
            if lesson.get(node).is_none() {
                break;
            }
            self.later.push(node);
        }
        self.has_slipped = next() != 0;
        for sign in self.scope.signs_mut() {
            *sign = next() as u8;
        }
    }
}
