//! Words such as `Choose:` with a slip of the hand in them: the checker's, not the page's.

use crate::lesson::reason::suggest::distance;

const KNOWN: &[&str] = &["Ask:", "Choose:", "Hint:", "Because:"];

/// Words of the language that are one sign from one of those, and mean themselves.
const OWN: &[&str] = &[
    "ark", "as", "ash", "asp", "ass", "auk", "bask", "cask", "mask", "task", "choosy", "hind",
    "hilt", "hit", "hunt", "dint", "lint", "mint", "pint", "tint",
];

/// Which of the words is meant by one before a colon that is written with one slip: a sign too
/// many, too few or another, or two in the wrong order. Capitals are another matter.
pub(super) fn meant(word: &str) -> Option<&'static str> {
    let small = word.to_ascii_lowercase();
    if !(2..=8).contains(&small.len()) || OWN.contains(&small.as_str()) {
        return None;
    }
    let mut known = KNOWN.iter().copied();
    known.find(|known| {
        let name = known.trim_end_matches(':').to_ascii_lowercase();
        distance(small.as_bytes(), name.as_bytes()) == 1
    })
}
