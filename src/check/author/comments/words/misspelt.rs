//! Words such as `Choose:` with a typing slip.

use crate::lesson::reason::suggest::distance;
use crate::notation::comment::keyword::KEYWORDS;

/// English words that differ by one letter from one of those, and are no slips.
const OWN: &[&str] = &[
    "ark", "as", "ash", "asp", "ass", "auk", "bask", "cask", "mask", "task", "choosy", "hind",
    "hilt", "hit", "hunt", "dint", "lint", "mint", "pint", "tint",
];

/// The word that is meant by a word before a colon with one slip: a letter too many, too few or
/// wrong, or two in the wrong order. Capitals are checked elsewhere.
pub(super) fn meant(word: &str) -> Option<&'static str> {
    let small = word.to_ascii_lowercase();
    if !(2..=8).contains(&small.len()) || OWN.contains(&small.as_str()) {
        return None;
    }
    let mut known = KEYWORDS.iter().map(|&(word, _)| word);
    known.find(|known| {
        // As many English words are one letter away from `Not:` as it has letters to change.
        if *known == "Not:" {
            return false;
        }
        let name = known.trim_end_matches(':');
        // What is as long within one letter, and not the word itself.
        small.len().abs_diff(name.len()) < 2
            && !small.eq_ignore_ascii_case(name)
            && distance(small.as_bytes(), name.to_ascii_lowercase().as_bytes()) == 1
    })
}
