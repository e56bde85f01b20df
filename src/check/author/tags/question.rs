//! The question that a game asks by its tags, as a text of its own inside a question's element
//! does: `[At "…"]`, `[Accept "…"]`, `[Moves "…"]`.

use super::{Tags, place, push};
use crate::ask::{Fault, Question, Wish, names_move};
use crate::check::author::comments::prompt_reveals::tells;
use crate::lesson::{Lesson, LocateError, NodeId, dots, way_out};
use crate::notation::Tag;
use crate::text::{Code, Finding, Findings, limits};
use shakmaty::Position;

/// The question that tags ask.
pub(super) fn question(tags: &Tags, lesson: &Lesson) -> Findings {
    let mut list = Findings::default();
    let findings = &mut list;
    let blank = |name| tags.get(name).filter(|tag| tag.value.trim().is_empty());
    push(findings, blank("At").and_then(|at| place(lesson, at)));
    if let Some(tag) = blank("Moves") {
        let message = "the tag Moves gives no number of moves, so one move is asked for";
        let finding = Finding::new(Code::TagAmiss, tag.value_span, message.to_owned());
        let most = limits::QUESTION_MOVES;
        let help = format!("write a number from 1 to {most}, or leave it out");
        findings.push(finding.with_help(help));
    }
    let wish = Wish::of_tags(lesson);
    match Question::new(lesson, &wish, lesson.letters()) {
        Ok(question) => {
            if let Some(tag) = tags.get("Accept") {
                push(findings, accepted(&question, lesson, tag));
                push(findings, weak(&question, lesson, tag));
                push(findings, number(&question, lesson, tag));
            }
            if let Some(tag) = tags.get("Moves") {
                push(findings, moves(&question, lesson, tag));
            }
        }
        Err(fault) => {
            findings.push(told(tags, lesson, &fault));
            if matches!(fault, Fault::Moves(_)) {
                // The number is checked first; the other tags may be wrong as well.
                let wish = Wish { moves: "", ..wish };
                let fault = Question::new(lesson, &wish, lesson.letters()).err();
                push(findings, fault.map(|fault| told(tags, lesson, &fault)));
            }
        }
    }
    list
}

/// Why there is no question, at the tag that is to be fixed.
fn told(tags: &Tags, lesson: &Lesson, fault: &Fault) -> Finding {
    let name = match fault {
        Fault::Place(..) => "At",
        Fault::NoAnswer(..) | Fault::Accepted(..) => "Accept",
        Fault::Moves(_) => "Moves",
    };
    // Where no accepted moves are named, their tag is missing and another one asks.
    let tag = tags.get(name).or_else(|| tags.get("Moves"));
    let finding = fault.finding(tag.map_or(tags.game.span, |tag| tag.value_span));
    match (fault, tags.get("At")) {
        (Fault::Place(_, LocateError::None), Some(at)) => {
            finding.with_help(way_out(lesson, &at.value))
        }
        _ => finding,
    }
}

/// Accepted moves that are no moves, or that the prompt names.
fn accepted(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    if question.accepted.is_empty() {
        let message = "the tag Accept names no move, so the choices of the lesson are right";
        let help = "name the moves that are right, as in [Accept \"Bc5 Nf6\"], or leave it out";
        let finding = Finding::new(Code::TagAmiss, tag.value_span, message.to_owned());
        return Some(finding.with_help(help.to_owned()));
    }
    let position = &lesson.node(question.node).position;
    let choices = lesson.choices(question.node);
    let told = question.answers(lesson).into_iter().find(|answer| {
        // For a choice the comment that asks has the finding.
        let is_choice = choices
            .iter()
            .any(|&id| lesson.node(id).san.as_str() == answer.san);
        let san = answer.san.trim_end_matches(['+', '#']);
        let prompt = &question.prompt;
        let names = names_move(prompt.text(), san);
        !is_choice && (names || tells(prompt, position, san).is_some())
    })?;
    let message = format!("the prompt names the accepted move {}", told.san);
    let finding = Finding::new(Code::PromptTells, tag.value_span, message);
    Some(finding.with_help("ask in other words, or accept another move".to_owned()))
}

/// An accepted move that the lesson marks weak.
fn weak(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let mut moves = lesson.moves(question.node);
    let id = moves.find(|&id| {
        let mut accepted = question.accepted.iter();
        lesson.is_weak(id) && accepted.any(|tried| tried.played == lesson.node(id).played)
    })?;
    let message = format!("{} is accepted and is marked weak", lesson.numbered(id));
    let finding = Finding::new(Code::WeakChoice, tag.value_span, message);
    let help = "take the sign away, or accept another move";
    Some(
        finding
            .with_help(help.to_owned())
            .with_related(lesson.node(id).span, "the weak move".to_owned()),
    )
}

/// A number before an accepted move that differs from the position's.
fn number(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let position = &lesson.node(question.node).position;
    let right = position.fullmoves().get();
    let dots = dots(position.turn());
    let gap = |sign: char| sign.is_whitespace() || sign == ',' || sign == '_';
    let wrong = tag.value.split(gap).find_map(|word| {
        let digits = word.find(|sign: char| !sign.is_ascii_digit())?;
        let (digits, after) = word.split_at(digits);
        let number: u32 = digits.parse().ok()?;
        // `0-0` castles.
        (number != right && after.starts_with(['.', '\u{2026}'])).then_some(number)
    })?;
    let message =
        format!("the position of this question is before move {right}{dots}, not {wrong}");
    let finding = Finding::new(Code::WrongNumber, tag.value_span, message);
    let help = "the number is not used; check whether the tag At names the position that is meant";
    Some(finding.with_help(help.to_owned()))
}

/// More moves in a row than the lesson has.
fn moves(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let held = in_a_row(question, lesson);
    if held >= question.moves {
        return None;
    }
    let moves = match held {
        1 => "one move".to_owned(),
        _ => format!("{held} moves in a row"),
    };
    let message = format!(
        "the lesson answers this question with {moves}, not {}",
        question.moves
    );
    let help = format!(
        "write {held}, or add moves to the lesson; the question ends where the lesson ends"
    );
    Some(Finding::new(Code::MovesBeyond, tag.value_span, message).with_help(help))
}

/// How many of a question's moves the lesson has in a row, whatever the page replies.
fn in_a_row(question: &Question, lesson: &Lesson) -> u32 {
    let played = |id: NodeId| lesson.node(id).played;
    let is_accepted = |id: &NodeId| {
        let mut accepted = question.accepted.iter();
        accepted.any(|tried| tried.played == played(*id))
    };
    let mut asked = vec![question.node];
    for count in 0..question.moves {
        let mut answers = Vec::new();
        for &node in &asked {
            match count == 0 && !question.accepted.is_empty() {
                true => answers.extend(lesson.moves(node).filter(is_accepted)),
                false => answers.extend(lesson.choices(node)),
            }
        }
        if answers.is_empty() {
            return count.max(1); // an accepted move need not be of the lesson
        }
        asked.clear();
        for answer in answers {
            asked.extend(lesson.moves(answer));
        }
    }
    question.moves
}
