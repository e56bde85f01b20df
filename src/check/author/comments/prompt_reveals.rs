//! Questions whose prompt gives their answer away in another spelling than the standard's.

use crate::ask::names_move;
use crate::check::lesson::questions::asked_at;
use crate::lesson::place::number::Number;
use crate::lesson::reason::phrases::{name, side};
use crate::lesson::rules::{self, landing, square_name};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::comment::passage::Passage;
use crate::notation::mention::mentions;
use crate::notation::word::san::{self, Kind, Shape};
use crate::text::{Code, Finding, Findings, quote};
use core::ops::Range;
use shakmaty::{CastlingSide, Chess, Color, Move, Position, Role};

/// The questions of a lesson whose prompt names its answer in other words than SAN; every page
/// reports SAN itself.
pub(super) fn prompts(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        if let Some(finding) = prompt(lesson, id) {
            findings.push(finding);
        }
    }
    findings
}

fn prompt(lesson: &Lesson, id: NodeId) -> Option<Finding> {
    let node = lesson.node(id);
    let prompt = &node.ask()?.prompt;
    let choices = lesson.choices(id);
    let san = |&id: &NodeId| lesson.node(id).san.trim_end_matches(['+', '#']);
    if choices.iter().any(|id| names_move(prompt.text(), san(id))) {
        return None; // reported there
    }
    let told = |id| Some((id, tells(prompt, &node.position, san(id))?));
    let (&answer, words) = choices.iter().find_map(told)?;
    let san = &lesson.node(answer).san;
    let message = format!("the prompt names its answer, {san}, by \u{201c}{words}\u{201d}");
    let finding = Finding::new(Code::PromptTells, asked_at(lesson, id), message);
    Some(
        finding
            .with_help("ask in other words; `Hint:` and `Because:` may name it".to_owned())
            .with_related(lesson.node(answer).span, "the answer".to_owned()),
    )
}

/// The words of a prompt that name a legal move, given in English SAN: `Knight to f3`, `Ng1-f3`,
/// `g1f3`, `castles`, an arrow `@g1-f3`. A square alone names a pawn's move and no other, and a
/// move with another number belongs to another position.
pub(in crate::check::author) fn tells(
    prompt: &Passage,
    position: &Chess,
    san: &str,
) -> Option<String> {
    let answer = san::read(san, Letters::ENGLISH).shape?;
    let (answer, _) = rules::resolve(position, &answer).ok()?;
    let text = prompt.sentences();
    for mention in mentions(&text, Letters::ENGLISH) {
        let number = mention.number.map(|value| Number {
            value,
            side: mention.side,
        });
        // `the f1-b5 diagonal`
        let is_meant =
            !mention.written.is_bare && number.is_none_or(|number| number.agrees(position));
        if is_meant && is_by(position, &mention.shape, answer) {
            return prompt.text().get(mention.range).map(quote);
        }
    }
    for mark in prompt.marks() {
        let squares = [rules::origin(answer), landing(answer)];
        if mark.squares == squares {
            return Some(mark.text());
        }
    }
    let words = prompt.text();
    words
        .get(spoken(&text, answer, position.turn())?)
        .map(quote)
}

/// Whether a shape means that move, and both are captures or neither: after White's
/// Nf3 the answer may be that Black takes there.
fn is_by(position: &Chess, shape: &Shape, answer: Move) -> bool {
    let takes = match shape.kind {
        Kind::Piece {
            role: Some(Role::Pawn),
            file: Some(_),
            ..
        } => answer.is_capture(), // `ed5`
        // Both squares are enough.
        Kind::Piece { role: None, .. } => answer.is_capture(),
        _ => shape.capture,
    };
    takes == answer.is_capture()
        && rules::resolve(position, shape).is_ok_and(|(resolved, _)| resolved == answer)
}

/// What may be between a piece and the square that it goes to.
const GOES: &[&str] = &[
    "to", "into", "onto", "from", "at", "go", "goes", "move", "moves", "jump", "jumps", "come",
    "comes", "step", "steps", "develop", "develops",
];
const TAKES: &[&str] = &["take", "takes", "capture", "captures", "on", "x"];

/// Where a text says the move in words.
fn spoken(text: &str, answer: Move, turn: Color) -> Option<Range<usize>> {
    let words = words(text);
    for (at, (word, range)) in words.iter().enumerate() {
        let word = word.as_str();
        if let Some(side) = answer.castling_side() {
            let after = words.get(at + 1).map_or("", |(word, _)| word.as_str());
            let other = match side {
                CastlingSide::KingSide => "queen",
                CastlingSide::QueenSide => "king",
            };
            if matches!(word, "castle" | "castles" | "castling")
                && !after.starts_with(other)
                && !is_of_other(text, range, turn)
            {
                return Some(range.clone());
            }
            continue;
        }
        if word != name(answer.role()) || text[range.end..].starts_with([',', '.', ';', ':', '?']) {
            continue;
        }
        let mut takes = false;
        for (word, end) in &words[at + 1..] {
            let word = word.as_str();
            let is_target = word == square_name(landing(answer));
            if is_target && takes == answer.is_capture() {
                return Some(range.start..end.end);
            }
            takes |= TAKES.contains(&word);
            let is_square = word.len() == 2 && word.as_bytes()[1].is_ascii_digit();
            if is_target || !(is_square || GOES.contains(&word) || TAKES.contains(&word)) {
                break;
            }
        }
    }
    None
}

/// Whether the sentence around a word names only the side that is not to move: then it is about
/// that side's moves.
fn is_of_other(text: &str, range: &Range<usize>, turn: Color) -> bool {
    let ends = ['.', '!', '?', ';'];
    let from = text[..range.start].rfind(ends).map_or(0, |at| at + 1);
    let to = text[range.end..]
        .find(ends)
        .map_or(text.len(), |at| range.end + at);
    let sentence = words(&text[from..to]);
    let names = |color: Color| {
        let name = side(color).to_lowercase();
        sentence.iter().any(|(word, _)| *word == name)
    };
    names(!turn) && !names(turn)
}

/// The words of a text in small letters, and where they are.
fn words(text: &str) -> Vec<(String, Range<usize>)> {
    let mut list = Vec::new();
    let mut from = None;
    for (at, sign) in text.char_indices().chain([(text.len(), ' ')]) {
        match (sign.is_alphanumeric(), from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                list.push((text[start..at].to_lowercase(), start..at));
                from = None;
            }
            _ => {}
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::author::given::words_of;
    use crate::lesson::given::lesson;

    /// What a prompt at the end of a line names of the answer.
    fn told(text: &str, san: &str, prompt: &str) -> Option<String> {
        let lesson = lesson(text);
        let last = lesson.nodes.last().expect("a node");
        tells(&Passage::read(prompt), &last.position, san)
    }

    #[test]
    fn an_answer_in_another_spelling_is_told() {
        let knight = |prompt| told("1. e4 e5 *", "Nf3", prompt);
        for (prompt, words) in [
            ("Is Knight to f3 good?", "Knight to f3"),
            ("Should the knight go to f3?", "knight go to f3"),
            ("Knight from g1 to f3?", "Knight from g1 to f3"),
            ("Is knight f3 good?", "knight f3"),
            ("Why 2. Ng1-f3?", "2. Ng1-f3?"),
            ("Why g1f3?", "g1f3?"),
            ("Why \u{2658}f3!", "\u{2658}f3!"),
            ("What of @!g1-f3?", "g1\u{2013}f3"),
        ] {
            assert_eq!(knight(prompt).as_deref(), Some(words), "{prompt}");
        }
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 *";
        for prompt in ["Should White castle?", "Why 0-0?", "Castling kingside?"] {
            assert!(told(text, "O-O", prompt).is_some(), "{prompt}");
        }
        let text = "1. e4 d5 *";
        for prompt in ["Why ed5?", "Pawn takes d5?", "Why e4d5?"] {
            assert!(told(text, "exd5", prompt).is_some(), "{prompt}");
        }
    }

    #[test]
    fn what_is_near_an_answer_and_does_not_name_it_is_not_told() {
        let knight = |prompt| told("1. e4 e5 *", "Nf3", prompt);
        for prompt in [
            "Which piece belongs on f3?",
            "What does the knight, f3 or e2 in mind, do?",
            "What did 1.Nf3 threaten?",
            "Is knight to c3 good?",
            "What of the g1-f3 way?",
            "What does the knight do? f3 is free.",
        ] {
            assert_eq!(knight(prompt), None, "{prompt}");
        }
        let takes = |prompt| told("1. d4 Nc6 2. d5 Nd4 3. Nf3 *", "Nxf3+", prompt);
        assert_eq!(takes("White has played knight to f3. Now?"), None);
        assert_eq!(takes("White has played Nf3, and now?"), None);
        assert!(takes("Does the knight take on f3?").is_some());
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 *";
        assert_eq!(told(text, "O-O", "Should White castle queenside?"), None);
        assert_eq!(told(text, "d3", "Should White castle?"), None);
        let other = "Black wants to castle. What does White play?";
        assert_eq!(told(text, "O-O", other), None);
        let both = "White may castle before Black does. Why?";
        assert!(told(text, "O-O", both).is_some());
    }

    fn count(comment: &str) -> usize {
        let text = format!("1. e4 e5 2. Nf3 Nc6 {{{comment}}} 3. Bb5 {{the pressure}} *");
        words_of(&text, Code::PromptTells).len()
    }

    #[test]
    fn a_prompt_that_names_its_answer_is_told_once_however_it_does() {
        for prompt in [
            "Ask: Is Bb5 good?",
            "Ask: Is the bishop to b5 good?",
            "Ask: Is Bb5 good, or Bf1-b5?",
            "Ask: How about @f1-b5?",
        ] {
            assert_eq!(count(prompt), 1, "{prompt}");
        }
        for prompt in [
            "Ask: What goes to b5? Hint: the bishop to b5.",
            "Ask: What of the bishop? Because: 3.Bb5 is best.",
        ] {
            assert_eq!(count(prompt), 0, "{prompt}");
        }
    }
}
