//! Questions that hide most of a lesson: until they are answered, readers see nothing of it.

use crate::check::lesson::questions::asked_at;
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Findings};

/// How many positions a question may hide without a word, whatever their share.
const FEW: usize = 20;

/// The questions that hide more than half of the positions of a lesson. Where one is after the
/// other only the first is told, because it hides the other too.
pub(super) fn hides_much(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    // Where moves could not be read nobody knows how many positions there are.
    if !lesson.unread.is_empty() {
        return findings;
    }
    let mut commented = lesson.commented().iter();
    if commented.all(|&id| lesson.node(id).ask().is_none()) {
        return findings;
    }
    let all = lesson.nodes.len() - 1; // node 0 is always there
    let mut hidden_by_first = vec![false; lesson.nodes.len()];
    // How many nodes come after each one. A node comes after its parent in the list.
    let mut after = vec![0; lesson.nodes.len()];
    for id in (0..lesson.nodes.len() as NodeId).rev() {
        if let Some(parent) = lesson.node(id).parent {
            after[parent as usize] += after[id as usize] + 1;
        }
    }
    for id in lesson.ids() {
        let node = lesson.node(id);
        let is_hidden = |parent| hidden_by_first[parent as usize];
        if node.parent.is_some_and(is_hidden) {
            hidden_by_first[id as usize] = true;
            continue;
        }
        let hides = after[id as usize];
        if node.ask().is_none() || hides <= FEW || 2 * hides <= all {
            continue;
        }
        hidden_by_first[id as usize] = true;
        let message = format!("this question hides {hides} of {all} positions");
        let help = "readers see them once they have answered; ask later, or ask in a page with a \
                    question of its own (`ply-quiz`)";
        let finding = Finding::new(Code::HidesMuch, asked_at(lesson, id), message);
        findings.push(finding.with_help(help.to_owned()));
    }
    findings
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::checked;
    use crate::text::Code;

    fn told(text: &str) -> Vec<String> {
        let (_, found) = checked(text);
        let of = found.iter().filter(|it| it.code == Code::HidesMuch);
        of.map(|it| it.message.clone()).collect()
    }

    #[test]
    fn a_question_before_most_of_a_lesson_is_told_once() {
        let mut moves = String::from("1. Nf3 {Ask: What now?} Nf6 {Ask: And now?} ");
        for number in 2..14 {
            let (white, black) = if number % 2 == 0 {
                ("Ng1", "Ng8")
            } else {
                ("Nf3", "Nf6")
            };
            moves += &format!("{number}. {white} {black} ");
        }
        assert_eq!(told(&moves), ["this question hides 25 of 26 positions"]);
    }

    #[test]
    fn a_question_late_in_a_lesson_or_in_a_short_one_is_not_told() {
        assert!(told("1. e4 {Ask: What now?} e5 2. Nf3 Nc6 *").is_empty());
    }
}
