//! Questions in the line list, and on paper their answers.

use super::lines::Text;
use super::parts::shown;
use super::{Element, el};
use crate::view::{LineView, MoveView, Paragraph, QuestionBlock, Word};

impl Text<'_> {
    /// A question; while it waits a word shows its answer.
    pub(super) fn question(&self, prompt: &[Paragraph], asked: &QuestionBlock) -> Vec<Element> {
        let mut list: Vec<Element> = Vec::new();
        for (at, paragraph) in prompt.iter().enumerate() {
            let into = el("p").with("class", "question");
            let into = match at {
                0 => into
                    .child(el("b").text(self.words.get(Word::Question)))
                    .text(": "),
                _ => into,
            };
            list.push(self.push_pieces(into, &paragraph.pieces));
        }
        match asked {
            QuestionBlock::Waits(_) if self.is_plain => {}
            QuestionBlock::Waits(node) => {
                let show = el("button")
                    .with("type", "button")
                    .with("class", "to")
                    .with("data-show", node.to_string())
                    .text(self.words.get(Word::ShowMe));
                let yours = el("p").with("class", "question");
                let yours = yours.text(self.words.get(Word::YourMove)).text(" ");
                list.push(yours.child(show));
            }
            QuestionBlock::Open(because) => {
                let because = because.iter();
                list.extend(because.map(|words| self.paragraph(words, None)));
            }
        }
        list
    }

    /// What follows each question, at the end of the printed form.
    pub(super) fn answers(&self, answers: &[(Option<MoveView>, LineView)]) -> Vec<Element> {
        let heading = self.words.get(Word::Answers);
        let mut list = vec![el("p").with("class", "main").text(heading)];
        for (left, line) in answers {
            let after = match left {
                Some(left) => {
                    let (before, after) = self.words.around(Word::After, "{move}");
                    el("p")
                        .text(before)
                        .child(el("b").child(shown(left)))
                        .text(after)
                }
                None => el("p").text(self.words.get(Word::Start)),
            };
            // Several lines may have a move of that number and name.
            let after = match line.label.is_empty() {
                true => after,
                false => after
                    .text(", ")
                    .text(&self.words.fill(Word::Line, &[("label", &line.label)])),
            };
            list.push(after.text(":"));
            list.extend(self.main_blocks(line));
        }
        list
    }
}
