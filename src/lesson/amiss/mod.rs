//! What only the checker says of a lesson, and every page would carry: of its text, and of the
//! moves that comments name and that cannot be played.

mod brackets;
mod earlier;
mod idle;
mod literal;
mod misspelt;
mod standing;
mod swallowed;
mod telling;
mod unbraced;
mod unclosed;

use super::prose::misplaced;
use super::prose::{self, Context, Place};
use super::review::names_move;
use super::tree::{Lesson, NodeId, Said};
use crate::notation::{Game, Letters, sentences};
use crate::text::{Code, Finding, Findings, Source, Span, join, quote};
use core::ops::Range;
use standing::Text;

pub use telling::tells;

/// Adds to what was found in a game what only text and lesson together show: variations behind the
/// wrong move, and comments without an end.
pub fn look_closer(source: &Source, game: &Game, lesson: &Lesson, findings: &mut Findings) {
    let text = Text::new(source, game, lesson);
    unclosed::unclosed(&text, findings);
    brackets::by_number(&text, findings);
    swallowed::swallowed(&text, findings);
    earlier::earlier(&text, findings);
    unbraced::unbraced(&text, findings);
}

/// Adds what there is to say about what is said of a node.
pub(super) fn said(source: &Source, lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    named_amiss(source, lesson, id, findings);
    idle::words(source, lesson, id, findings);
    let node = lesson.node(id);
    for said in node.before.iter().chain(node.comments.iter()) {
        literal::signs(source, said, findings);
    }
    question(lesson, id, findings);
    main_left_out(lesson, id, findings);
}

/// A question with written choices, of which the move that the lesson goes on with is none: a try
/// of it is called playable and not right.
fn main_left_out(lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    let (Some(_), Some(main)) = (&node.ask, lesson.next_on_line(id)) else {
        return;
    };
    let choices = lesson.choices(id);
    let is_move = lesson.node(main).played.is_some();
    if !is_move || lesson.is_weak(main) || choices.is_empty() || choices.contains(&main) {
        return;
    }
    let right: Vec<String> = choices.iter().map(|&id| lesson.numbered(id)).collect();
    let (right, goes_on) = (join(&right, " and "), lesson.numbered(main));
    let is = if choices.len() == 1 { "is" } else { "are" };
    let message = format!("the lesson goes on with {goes_on}, and only {right} {is} right here");
    let help = format!("write `Choose:` behind {goes_on} too, if it answers the question");
    let finding = Finding::new(Code::MainLeftOut, asked(lesson, id), message)
        .with_help(help)
        .with_related(lesson.node(main).span, "the lesson goes on".to_owned());
    findings.push(finding);
}

/// Where the comment stands that asks at a node.
fn asked(lesson: &Lesson, id: NodeId) -> Span {
    let node = lesson.node(id);
    let mut comments = node.comments.iter();
    let asked = comments.find(|said| said.text.starts_with("Ask:"));
    asked.map_or(node.span, |said| said.span)
}

/// A question whose prompt names its answer in other words than `review` looks for.
fn question(lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    let Some(ask) = &node.ask else {
        return;
    };
    let choices = lesson.choices(id);
    let san = |&id: &NodeId| lesson.node(id).san.trim_end_matches(['+', '#']);
    if choices.iter().any(|id| names_move(&ask.prompt, san(id))) {
        return; // told there
    }
    let told = |id| Some((id, tells(&ask.prompt, &node.position, san(id))?));
    let Some((&answer, words)) = choices.iter().find_map(told) else {
        return;
    };
    let span = asked(lesson, id);
    let san = &lesson.node(answer).san;
    let message = format!(
        "the prompt names its answer, {san}, by \u{201c}{}\u{201d}",
        words
    );
    let finding = Finding::new(Code::PromptTells, span, message)
        .with_help("ask in other words; `Hint:` and `Because:` may name it".to_owned())
        .with_related(lesson.node(answer).span, "the answer".to_owned());
    findings.push(finding);
}

/// Adds the moves that what is said of a node names and that cannot be played where their numbers
/// put them.
fn named_amiss(source: &Source, lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    named(
        source,
        lesson,
        node.parent.unwrap_or(id),
        &node.before,
        findings,
    );
    named(source, lesson, id, &node.comments, findings);
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
            let word = text.get(misplaced.word.clone()).unwrap_or_default();
            let mut help = format!(
                "where it is meant to be impossible, write {} without its number",
                quote(word)
            );
            if let Some(near) = &why.help {
                help = format!("{near}; {help}");
            }
            findings.push(Finding::new(Code::NamedAmiss, span, message).with_help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::lesson::validate;
    use crate::notation::parse;
    use crate::text::{Code, Source};

    fn told(comment: &str, code: Code) -> usize {
        let text = format!("1. e4 e5 2. Nf3 Nc6 {{{comment}}} 3. Bb5 {{the pressure}} *");
        let source = Source::new("a.pgn", text);
        let (syntax, _) = parse(&source);
        let (_, findings) = validate(&source, &syntax);
        findings.iter().filter(|it| it.code == code).count()
    }

    #[test]
    fn a_move_that_is_named_without_its_number_is_never_said_to_be_impossible() {
        for (with, without) in [
            ("3.Nd6 is impossible here.", "Nd6 is impossible here."),
            (
                "White cannot play 3.O-O-O at once.",
                "White cannot play O-O-O at once.",
            ),
            (
                "The knight goes, 3.Bxd7 follows.",
                "The knight goes, Bxd7 follows.",
            ),
        ] {
            assert_eq!(told(with, Code::NamedAmiss), 1, "{with}");
            assert_eq!(told(without, Code::NamedAmiss), 0, "{without}");
        }
    }

    #[test]
    fn a_question_that_leaves_out_the_move_of_its_own_line_is_told() {
        let count = |moves: &str| {
            let text = format!("1. e4 e5 {{Ask: what now?}} {moves} *");
            let source = Source::new("a.pgn", text);
            let (syntax, _) = parse(&source);
            let (_, findings) = validate(&source, &syntax);
            let of = findings.iter().filter(|it| it.code == Code::MainLeftOut);
            of.count()
        };
        assert_eq!(count("2. Nf3 {x} (2. Nc3 {Choose: it})"), 1);
        for moves in [
            "2. Nf3 {Choose: it} (2. Nc3 {Choose: it})",
            "2. Nf3?! {x} (2. Nc3 {Choose: it})",
            "2. Nf3 {x} (2. Nc3 {x})",
            "2. Nf3 {Choose: it} (2. Nc3 {x})",
        ] {
            assert_eq!(count(moves), 0, "{moves}");
        }
    }

    #[test]
    fn a_prompt_that_names_its_answer_is_told_once_however_it_does() {
        for prompt in [
            "Ask: Is Bb5 good?",
            "Ask: Is the bishop to b5 good?",
            "Ask: Is Bb5 good, or Bf1-b5?",
            "Ask: How about @f1-b5?",
        ] {
            assert_eq!(told(prompt, Code::PromptTells), 1, "{prompt}");
        }
        for prompt in [
            "Ask: What goes to b5? Hint: the bishop to b5.",
            "Ask: What of the bishop? Because: 3.Bb5 is best.",
        ] {
            assert_eq!(told(prompt, Code::PromptTells), 0, "{prompt}");
        }
    }
}
