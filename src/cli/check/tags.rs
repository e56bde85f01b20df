//! What the tags of a game ask for and do not get: values that nothing knows, places that the
//! lesson does not have, questions that are not as they are meant. The page passes over them.

use crate::ask::{Question, Wish, check_tags};
use crate::lesson::{Lesson, LocateError, NodeId, dots, locate, names_move, tells, value, way_out};
use crate::notation::{Game, Tag};
use crate::text::{Code, Finding, Findings, Source, limits};
use shakmaty::Position;

/// Tags that mean something here, by their exact names.
const NAMES: &[&str] = &[
    "Id", "At", "Side", "Prose", "Letters", "Accept", "Moves", "FEN", "SetUp",
];

/// Tags of fences that show something of a lesson elsewhere.
const OF_FENCES: &[&str] = &["For", "Remember", "Marks"];

/// Adds what there is to say about the tags of a game.
pub fn check(source: &Source, game: &Game, lesson: &Lesson, findings: &mut Findings) {
    let tags = Tags { source, game };
    for tag in &game.tags {
        push(findings, name(&tags, tag));
    }
    value::check(source, game, findings);
    match tags.get("Accept").or(tags.get("Moves")) {
        Some(_) => question(&tags, lesson, findings),
        None => push(findings, tags.get("At").and_then(|at| place(lesson, at))),
    }
}

fn push(findings: &mut Findings, finding: Option<Finding>) {
    if let Some(finding) = finding {
        findings.push(finding);
    }
}

/// The tags of a game by name; of a repeated name the first counts.
struct Tags<'a> {
    source: &'a Source,
    game: &'a Game,
}

impl<'a> Tags<'a> {
    fn name(&self, tag: &Tag) -> &'a str {
        self.source.slice(tag.name)
    }

    fn get(&self, name: &str) -> Option<&'a Tag> {
        self.game.tags.iter().find(|tag| self.name(tag) == name)
    }
}

/// A name with other capitals, and one that is of another place.
fn name(tags: &Tags, tag: &Tag) -> Option<Finding> {
    let written = tags.name(tag);
    let find =
        |message, help| Some(Finding::new(Code::TagAmiss, tag.name, message).with_help(help));
    if OF_FENCES.contains(&written) {
        let message = format!("the tag {written} does nothing in the notation of a lesson");
        let help = "it belongs to a fence or an element that shows something of a lesson, such as \
                    ply-quiz or ply-recall";
        return find(message, help.to_owned());
    }
    let mut known = NAMES.iter();
    let meant = known.find(|known| known.eq_ignore_ascii_case(written))?;
    if *meant == written || tags.get(meant).is_some() {
        return None;
    }
    let message = format!("the tag {written} does nothing: capitals count in the names of tags");
    find(message, format!("did you mean {meant}"))
}

/// Where the reader begins, if the lesson has no such place.
fn place(lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let error = locate(lesson, &tag.value).err()?;
    let mut finding = error.finding(&tag.value, tag.value_span);
    match error {
        LocateError::None => finding.help = Some(way_out(lesson, &tag.value)),
        LocateError::Several(nodes) => {
            for node in nodes.into_iter().take(4) {
                let place = lesson.node(node).span;
                finding = finding.with_related(place, "one of them".to_owned());
            }
        }
    }
    Some(finding)
}

/// The question that tags ask.
fn question(tags: &Tags, lesson: &Lesson, findings: &mut Findings) {
    let blank = |name| tags.get(name).filter(|tag| tag.value.trim().is_empty());
    push(findings, blank("At").and_then(|at| place(lesson, at)));
    if let Some(tag) = blank("Moves") {
        let message = "the tag Moves names no number of moves, and one is asked for";
        let finding = Finding::new(Code::TagAmiss, tag.value_span, message.to_owned());
        let most = limits::QUESTION_MOVES;
        let help = format!("write a number from 1 to {most}, or leave it out");
        findings.push(finding.with_help(help));
    }
    let letters = lesson.letters();
    if let Some(mut asked) = check_tags(tags.source, tags.game, lesson) {
        if let Some(at) = tags.get("At").filter(|_| asked.code == Code::LocatorNone) {
            asked.help = Some(way_out(lesson, &at.value));
        }
        let hides = asked.code == Code::BadMoves;
        findings.push(asked);
        if hides {
            // The number is looked at first, and the other tags may be amiss as well.
            let wish = Wish {
                moves: "",
                ..Wish::of_tags(lesson)
            };
            let fault = Question::new(lesson, &wish, letters).err();
            push(
                findings,
                fault.map(|fault| fault.finding_in(tags.source, tags.game)),
            );
        }
        return;
    }
    let Ok(question) = Question::new(lesson, &Wish::of_tags(lesson), letters) else {
        return; // told above
    };
    if let Some(tag) = tags.get("Accept") {
        push(findings, accepted(&question, lesson, tag));
        push(findings, weak(&question, lesson, tag));
        push(findings, number(&question, lesson, tag));
    }
    if let Some(tag) = tags.get("Moves") {
        push(findings, moves(&question, lesson, tag));
    }
}

/// Accepted moves that are none, or that the prompt names.
fn accepted(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    if question.accepted.is_empty() {
        let message = "the tag Accept names no move, and the choices of the lesson are right";
        let help = "name the moves that are right, as in [Accept \"Bc5 Nf6\"], or leave it out";
        let finding = Finding::new(Code::TagAmiss, tag.value_span, message.to_owned());
        return Some(finding.with_help(help.to_owned()));
    }
    let position = &lesson.node(question.node).position;
    let choices = lesson.choices(question.node);
    let told = question.answers(lesson).into_iter().find(|answer| {
        // Of a choice it is told at the comment that asks.
        let is_choice = choices
            .iter()
            .any(|&id| lesson.node(id).san.as_str() == answer.san);
        let san = answer.san.trim_end_matches(['+', '#']);
        let prompt = &question.prompt;
        !is_choice && (names_move(prompt, san) || tells(prompt, position, san).is_some())
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

/// A number before an accepted move that is not the one of the position.
fn number(question: &Question, lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let position = &lesson.node(question.node).position;
    let right = position.fullmoves().get();
    let dots = dots(position.turn());
    let gap = |sign: char| sign.is_whitespace() || sign == ',' || sign == '_';
    let wrong = tag.value.split(gap).find_map(|word| {
        let digits = word.find(|sign: char| !sign.is_ascii_digit())?;
        let (digits, behind) = word.split_at(digits);
        let number: u32 = digits.parse().ok()?;
        // `0-0` castles.
        (number != right && behind.starts_with(['.', '\u{2026}'])).then_some(number)
    })?;
    let message =
        format!("the position of this question is before move {right}{dots}, not {wrong}");
    let finding = Finding::new(Code::WrongNumber, tag.value_span, message);
    let help = "the number is not used; look whether the tag At names the position that is meant";
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
    let help = format!("write {held}, or let the lesson go on; the question ends where it ends");
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

#[cfg(test)]
mod tests {
    use crate::cli::document::asked;

    /// The codes of what is found in moves with these tags, and the words where it is found.
    fn told(tags: &str) -> Vec<(&'static str, String)> {
        let moves = "1. e4 e5 (1... c5 2. Nf3 d6 3. d4 {x}) 2. Nf3 {natural} *";
        asked::told(&format!("{tags}\n{moves}"))
    }

    #[test]
    fn tags_that_do_what_they_say_are_not_told() {
        for tags in [
            "[Side \"white\"] [Prose \"yes\"] [Id \"a-b_1\"] [At \"1...c5\"]",
            "[Side \"black\"] [Prose \"no\"] [Id \"\u{e9}t\u{e9}\"] [At \"line A\"]",
            "[Event \"?\"] [Site \"?\"] [ECO \"B20\"] [WhiteElo \"2000\"] [Annotator \"left\"]",
            "[At \"1.e4 e5\"] [Accept \"2.d4 Nf3\"]",
            "[At \"start\"] [Accept \"b3\"] [Moves \"1\"]",
        ] {
            assert_eq!(told(tags), [], "{tags}");
        }
    }

    #[test]
    fn as_many_moves_in_a_row_count_as_the_page_s_longest_replies_allow() {
        let three = "[At \"start\"] [Moves \"3\"]";
        assert_eq!(told(three), [], "by the sideline");
        let four = "[At \"start\"] [Moves \"4\"]";
        assert_eq!(told(four), [("P071", "\"4\"".to_owned())]);
        let beside = "[At \"start\"] [Accept \"b3\"] [Moves \"2\"]";
        assert_eq!(told(beside), [("P071", "\"2\"".to_owned())]);
    }

    #[test]
    fn the_place_of_a_question_is_told_once() {
        let asks = "[At \"7.Nf3\"] [Accept \"b3\"]";
        assert_eq!(told(asks), [("P041", "\"7.Nf3\"".to_owned())]);
        let begins = "[At \"7.Nf3\"]";
        assert_eq!(told(begins), [("P041", "\"7.Nf3\"".to_owned())]);
    }

    #[test]
    fn an_accepted_move_that_the_lesson_marks_weak_is_told() {
        let moves = "1. e4 e5 2. Nf3 {x} (2. f3?! {weak}) *";
        let codes = |tags: &str| asked::codes(&format!("{tags} {moves}"));
        assert_eq!(codes("[At \"1.e4 e5\"] [Accept \"Nf3 f3\"]"), ["P050"]);
        assert_eq!(codes("[At \"1.e4 e5\"] [Accept \"Nf3 d4\"]"), [""; 0]);
    }

    #[test]
    fn a_number_of_moves_that_is_none_hides_no_illegal_move() {
        let found = told("[At \"1.e4 e5\"] [Accept \"Ke3\"] [Moves \"9\"]");
        let found: Vec<&str> = found.into_iter().map(|(code, _)| code).collect();
        assert_eq!(found, ["P012", "P066"]);
    }

    #[test]
    fn of_a_tag_that_stands_twice_the_first_counts() {
        let twice = "[Side \"black\"]\n[Side \"left\"]";
        assert_eq!(told(twice).len(), 1, "it stands twice, and that is all");
    }
}
