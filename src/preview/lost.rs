//! An editor that still held an older text and has saved it: which of the steps made here since then it has saved over.

use super::history::{History, Step};
use super::shift::{Hunk, applied, difference, inverse};

/// Most steps that are looked at.
const STEPS: usize = 100;

/// Most bytes that are compared for it.
const BYTES: usize = 64 << 20;

/// A file as it was before some of its steps.
#[derive(Clone, Debug)]
struct Back {
    text: String,
    histories: Vec<History>,
    /// The steps with the numbers of their lessons, the first that was made first.
    steps: Vec<(usize, Step)>,
}

/// Looks at a text that came in place of another. Where it is nearer to what was there before the last steps than to
/// what is there with them, they were saved over: the histories lose them, note them as lost, and the older text is
/// given, from which the new one was made.
pub fn saved_over(text: &str, new: &str, histories: &mut Vec<History>) -> Option<String> {
    let mut back = Back {
        text: text.to_owned(),
        histories: histories.clone(),
        steps: Vec::new(),
    };
    let mut best: Option<Back> = None;
    let mut least = weight(&difference(text, new));
    let most = STEPS.min(BYTES / (text.len() + new.len() + 1));
    for _ in 0..most {
        if least == 0 || back.take_back().is_none() {
            break;
        }
        let weight = weight(&difference(&back.text, new));
        if weight < least {
            least = weight;
            best = Some(back.clone());
        }
    }
    let best = best?;
    *histories = best.histories;
    for (lesson, step) in best.steps {
        if let Some(history) = histories.get_mut(lesson) {
            history.redo.clear();
            history.lost.push(step);
        }
    }
    Some(best.text)
}

/// How many bytes a change takes away and puts in.
fn weight(hunks: &[Hunk]) -> usize {
    hunks.iter().map(|it| it.was.len() + it.now.len()).sum()
}

impl Back {
    /// Takes the last step back.
    fn take_back(&mut self) -> Option<()> {
        let last = |(_, history): &(usize, &History)| history.undo.last().map(|it| it.number);
        let all = self.histories.iter().enumerate();
        let (lesson, _) = all.filter(|it| last(it).is_some()).max_by_key(last)?;
        let step = self.histories.get_mut(lesson)?.undo.pop()?;
        let back = inverse(&step.hunks);
        self.text = applied(&self.text, &back)?;
        for (at, history) in self.histories.iter_mut().enumerate() {
            if at != lesson {
                history.over(&back);
            }
        }
        self.steps.insert(0, (lesson, step));
        Some(())
    }
}
