//! Moves that comments name and that cannot be played: the checker's, not the page's.

use super::misplaced;
use super::prose::{self, Context, Place};
use super::tree::{Lesson, NodeId, Said};
use crate::notation::{Letters, sentences};
use crate::text::{Code, Finding, Findings, Source, Span, quote};
use core::ops::Range;

/// Adds the moves that what is said of a node names and that cannot be played where their numbers
/// put them.
pub(super) fn named_amiss(source: &Source, lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    named(
        source,
        lesson,
        node.parent.unwrap_or(id),
        &node.before,
        findings,
    );
    named(source, lesson, id, &node.comments, findings);
    for said in &node.comments {
        words(source, said, findings);
    }
}

/// The words that make a comment more than text, where they stand so that they do not: `Choose:`
/// within a paragraph, `Ask:` behind other words, `Hint:` and `Because:` without a question.
fn words(source: &Source, said: &Said, findings: &mut Findings) {
    let raw = source.slice(said.span);
    let asks = said.text.starts_with("Ask:");
    for (word, help) in [
        (
            "Choose:",
            "begin a paragraph with it: leave a blank line before it, in the braces",
        ),
        (
            "Ask:",
            "begin the comment with it; what is said before stands in another",
        ),
        ("Hint:", "it belongs to a comment that begins with `Ask:`"),
        (
            "Because:",
            "it belongs to a comment that begins with `Ask:`",
        ),
    ] {
        for (at, _) in raw.match_indices(word) {
            let before = raw[..at].trim_end();
            let gap = &raw[before.len()..at];
            let opens = before.ends_with(['{', ';']);
            let works = match word {
                "Choose:" => opens || gap.matches('\n').count() > 1,
                "Ask:" => opens,
                _ => asks,
            };
            if works || gap.is_empty() {
                continue;
            }
            let from = said.span.from as usize + at;
            let message = format!("{} does nothing here and is shown as text", quote(word));
            let finding =
                Finding::new(Code::WordAmiss, Span::new(from, from + word.len()), message);
            findings.push(finding.with_help(help.to_owned()));
        }
    }
}

/// Whether a text may name a move by its number, as `6.Bd3`, `6...c5`, `6 Bd3` do: what has no
/// letter of a move behind a number is not looked at further. Clocks and evaluations have none.
fn numbers_a_move(text: &str) -> bool {
    let mut numbered = false;
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => numbered = true,
            b'a'..=b'h' | b'K' | b'Q' | b'R' | b'B' | b'N' | b'O' | b'o' if numbered => {
                return true;
            }
            // Dots, spaces, and signs beyond ASCII such as the ellipsis and the figurines.
            b'.' | b' ' | b'\n' | 128.. => {}
            _ => numbered = false,
        }
    }
    false
}

/// Moves that the comments at a position name and that cannot be played where their numbers put
/// them. The letters are English, as the notation's are unless its game says otherwise; moves in
/// others are not read.
fn named(source: &Source, lesson: &Lesson, at: NodeId, comments: &[Said], findings: &mut Findings) {
    let mut context = None;
    for said in comments {
        let raw = source.slice(said.span);
        if !numbers_a_move(raw) {
            continue;
        }
        let context = context.get_or_insert_with(|| Context::at(Place::of(at)));
        let text = sentences(raw);
        let from = said.span.from as usize;
        for found in prose::named(lesson, Letters::ENGLISH, context, &text) {
            let Err(misplaced) = found.place else {
                continue;
            };
            let why = misplaced::finding(lesson, Letters::ENGLISH, &text, &misplaced);
            let Range { start, end } = found.range;
            let written = quote(text.get(start..end).unwrap_or_default());
            let span = Span::new(from + start, from + end);
            let message = format!(
                "{written} is named here and cannot be played: {}",
                why.message
            );
            let mut finding = Finding::new(Code::NamedAmiss, span, message);
            finding.help.clone_from(&why.help);
            findings.push(finding);
        }
    }
}
