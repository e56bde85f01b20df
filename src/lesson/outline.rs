//! Labels of variations, and the outline: the lettered list of a lesson's variations.

use super::tree::{Lesson, LineId, NodeId};

/// One variation in the outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OutlineEntry {
    /// The line.
    pub line: LineId,
    /// Its first node.
    pub node: NodeId,
    /// 1 for a variation of the main line, 2 for one of those, and so on.
    pub depth: u32,
}

/// Gives every line its label. The main line has none. A variation beside a move of the main
/// line takes the next capital letter (A … Z, AA …) in the order of the text, one beside a
/// move of A the next number (A1, A2 …), beside A1 the next small letter (A1a …), then numbers
/// again.
pub(super) fn label(lesson: &mut Lesson) {
    let mut taken = vec![0usize; lesson.lines.len()];
    let mut depth = vec![0u32; lesson.lines.len()];
    for ix in 1..lesson.lines.len() {
        // A line's parent is before it in the text, so it has its label already.
        let parent = lesson.lines[ix].parent.unwrap_or(0) as usize;
        depth[ix] = depth[parent] + 1;
        let mut label = lesson.lines[parent].label.clone();
        match depth[ix] {
            1 => push_letters(&mut label, taken[parent], b'A'),
            even if even % 2 == 0 => label.push_str(&(taken[parent] + 1).to_string()),
            _ => push_letters(&mut label, taken[parent], b'a'),
        }
        taken[parent] += 1;
        lesson.lines[ix].label = label;
    }
}

/// A … Z, AA … AZ, BA …: counting in letters.
fn push_letters(label: &mut String, index: usize, first: u8) {
    let mut letters = Vec::new();
    let mut left = index + 1;
    while left > 0 {
        left -= 1;
        letters.push(char::from(first + (left % 26) as u8));
        left /= 26;
    }
    label.extend(letters.iter().rev());
}

/// The variations in the order of the text.
pub fn outline(lesson: &Lesson) -> Vec<OutlineEntry> {
    let mut depth = vec![0u32; lesson.lines.len()];
    let mut entries = Vec::new();
    for (ix, line) in lesson.lines.iter().enumerate().skip(1) {
        depth[ix] = depth[line.parent.unwrap_or(0) as usize] + 1;
        entries.push(OutlineEntry {
            line: ix as LineId,
            node: line.first,
            depth: depth[ix],
        });
    }
    entries
}

#[cfg(test)]
mod tests {
    use super::*;

    fn letters(index: usize) -> String {
        let mut label = String::new();
        push_letters(&mut label, index, b'A');
        label
    }

    #[test]
    fn letters_count_on_after_z() {
        let all = [0, 25, 26, 51, 52, 701, 702].map(letters);
        assert_eq!(all, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
