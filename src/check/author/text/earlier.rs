//! What the numbers of the moves, and the moves before a wrong one, show about it: moves that are
//! missing, a game that begins again, a king that has castled.

use super::Text;
use super::line_starts::number_of;
use super::numbered::{Numbered, numbered};
use crate::check::author::explained::{Explained, Told};
use crate::lesson::reason::phrases::side;
use crate::lesson::rules::Refusal;
use crate::lesson::{Lesson, NodeId, rules};
use crate::notation::word::san;
use crate::notation::{ItemKind, Letters};
use crate::text::{Code, Finding, Severity, quote};
use shakmaty::{Color, Position, Role};
use std::collections::HashMap;

/// Adds these reasons to the findings at the moves of a game.
pub(super) fn earlier(text: &Text) -> Vec<Told> {
    let lesson = text.lesson;
    let is_meant = |finding: &&Finding| {
        finding.severity() == Severity::Error
            || matches!(finding.code, Code::WrongNumber | Code::Dots)
    };
    let mut list = Vec::new();
    if !text.found.iter().any(|finding| is_meant(&finding)) {
        return list;
    }
    let numbered = numbered(text);
    let mut places = HashMap::new();
    for (at, it) in numbered.iter().enumerate() {
        places.extend([(it.span.from, at), (it.word.from, at)]);
    }
    for finding in text.found.iter().filter(is_meant) {
        let Some(&at) = places.get(&finding.span.from) else {
            // A variation beside a move that could not be read: nobody knows what it replaces.
            let is_number = matches!(finding.code, Code::WrongNumber | Code::Dots);
            if is_number && finding.fix.is_some() {
                let mut finding = finding.clone();
                finding.fix = None;
                list.push(Told::alone(finding));
            }
            continue;
        };
        let before = at.checked_sub(1).map(|at| &numbered[at]);
        let better = match finding.code {
            Code::WrongNumber => jump(lesson, &numbered[at..], before, finding),
            Code::Dots => either_side(text, &numbered[at], finding)
                .or_else(|| one_dot(&numbered[at], finding)),
            Code::WrongSide => {
                if let Some(finding) = other_side(text, &numbered[at], finding) {
                    let explains = beside_missing(text, &numbered[at]);
                    list.push(Told { finding, explains });
                    continue;
                }
                left_out(text, &numbered[at], finding)
            }
            Code::CannotCastle => castled(lesson, &numbered[at], finding),
            _ => None,
        };
        match better {
            None if finding.severity() == Severity::Error => {
                list.extend(of_other_side(text, &numbered[at], finding));
            }
            _ => list.extend(better.map(Told::alone)),
        }
    }
    list
}

/// A number that jumps ahead of the moves, where those after it go on from there, or that goes back
/// to the first: this is no typing slip, and a fix would hide that something is missing.
fn jump(
    lesson: &Lesson,
    from: &[Numbered],
    before: Option<&Numbered>,
    found: &Finding,
) -> Option<Finding> {
    let [here, after @ ..] = from else {
        return None;
    };
    let (off, (number, _)) = here.off().zip(here.written)?;
    let right = here.right();
    let mut finding = found.clone();
    finding.fix = None;
    if number == 1 && here.turn.is_white() && off < 0 && here.line == 0 {
        let help = "a new game begins at a tag, or after a result such as `*`";
        return Some(finding.with_help(help.to_owned()));
    }
    let in_line = |it: &&Numbered| it.line == here.line && it.written.is_some();
    let before = before.filter(in_line).map_or(Some(0), Numbered::off);
    let goes_on = after.first().filter(in_line);
    let goes_on = goes_on.is_none_or(|next| next.off() == Some(off));
    // A variation begins where it is, and nothing can be missing before it.
    let can_miss = !here.is_first || here.line == 0;
    if !can_miss || !goes_on || before.is_none_or(|before| off <= before) {
        return None;
    }
    finding.message += ": moves may be missing before it";
    let otherwise = format!("if none is missing, write {right}");
    Some(finding.with_help(match here.is_first && lesson.tag("FEN").is_none() {
        true => format!(
            "a lesson that begins later needs its position, in the tags SetUp and FEN; {otherwise}"
        ),
        false => otherwise,
    }))
}

/// A number of White's at a move of Black's, where White too could play it one move earlier: it may
/// be another move of White's that lacks its parenthesis.
fn either_side(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let (_, dots) = here.written.filter(|_| here.turn.is_black())?;
    let before = text.lesson.node(here.at).parent?;
    let word = san::read(text.source.slice(here.word), text.letters);
    let shape = word.shape.filter(|_| dots <= 1)?;
    let position = &text.lesson.node(before).position;
    let can = match shape.kind {
        san::Kind::Pass => rules::pass(position).is_some(),
        _ => rules::resolve(position, &shape).is_ok(),
    };
    let mut finding = found.clone();
    finding.fix = None;
    let where_to = match here.is_first {
        true => "put its parentheses after that move",
        false => "put it in parentheses",
    };
    let help = format!(
        "write {} for Black's move; if it is another move of White's, which replaces {}, {where_to}",
        here.right(),
        text.lesson.numbered(here.at)
    );
    can.then(|| finding.with_help(help))
}

/// One dot at a move of Black's.
fn one_dot(here: &Numbered, found: &Finding) -> Option<Finding> {
    let (_, dots) = here.written?;
    let mut finding = found.clone();
    finding.message += ": one dot announces a move of White's";
    (here.turn.is_black() && dots == 1).then_some(finding)
}

/// A move of the side that is not to move, where its number says that it is the other's which is
/// missing.
fn other_side(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let (number, dots) = here.written?;
    let next = match here.turn {
        Color::White => here.right,
        Color::Black => here.right + 1,
    };
    let is_other = (dots > 1) == here.turn.is_white();
    if number != next || !is_other || here.is_first && here.line > 0 {
        return None;
    }
    let mut help = format!(
        "{}'s move {} is missing before {}{}",
        side(here.turn),
        here.right,
        text.source.slice(here.span),
        text.source.slice(found.span)
    );
    if let Some(before) = of_either_side(text, here) {
        help = format!("{help}, or {}'s before {before}", side(!here.turn));
    }
    Some(found.clone().with_help(help))
}

/// White's move before one of Black's that is missing, where Black could have played it too: then
/// White's may be the one that is missing.
pub(super) fn of_either_side(text: &Text, here: &Numbered) -> Option<String> {
    let node = text.lesson.node(here.at);
    let before = text.lesson.node(node.parent?);
    let shape = san::read(&node.san, Letters::ENGLISH).shape?;
    if here.turn.is_white() {
        return None;
    }
    // In check White cannot pass, and nobody knows what Black could have played.
    let can = rules::pass(&before.position).is_none_or(|other| {
        let played = rules::resolve(&other, &shape);
        matches!(played, Ok(_) | Err(Refusal::Ambiguous(_)))
    });
    can.then(|| node.san.as_str().to_owned())
}

/// A move that cannot be played for another reason, where its number says that it is the other
/// side's, and that side can play it.
fn of_other_side(text: &Text, here: &Numbered, found: &Finding) -> Option<Told> {
    let word = san::read(text.source.slice(here.word), text.letters);
    let shape = word.shape?;
    let other = rules::pass(&text.lesson.node(here.at).position)?;
    match rules::resolve(&other, &shape) {
        Ok(_) | Err(Refusal::Ambiguous(_)) => {}
        Err(_) => return None,
    }
    let (mover, owner) = (side(here.turn), side(!here.turn));
    let message = format!(
        "{} is a move of {owner}'s, and {mover} is to move here",
        quote(word.core)
    );
    let new = Finding::new(Code::WrongSide, found.span, message);
    let finding = other_side(text, here, &new)?;
    let mut explains = vec![Explained::One(found.code, found.span)];
    explains.extend(beside_missing(text, here));
    Some(Told { finding, explains })
}

/// Moves of the side whose move is missing before a number, in the variations there: they are beside
/// that move.
fn beside_missing(text: &Text, here: &Numbered) -> Vec<Explained> {
    let Some(line) = text.game.lines.get(here.line) else {
        return Vec::new();
    };
    let at = line
        .items
        .partition_point(|it| it.span.from < here.word.from);
    let mut before = line.items[..at].iter().rev();
    let Some(last) = before.find(|it| it.kind == ItemKind::Move) else {
        return Vec::new();
    };
    let between = last.span.to..here.span.from;
    let found = text.found.iter();
    found
        .filter(|it| it.code == Code::WrongSide && between.contains(&it.span.from))
        .map(|it| Explained::One(it.code, it.span))
        .collect()
}

/// A move of Black's after White's number, where the next number of White's follows at once, or nothing
/// more: White's move was left out.
fn left_out(text: &Text, here: &Numbered, found: &Finding) -> Option<Finding> {
    let (number, dots) = here.written?;
    if here.turn.is_black() || number != here.right || dots > 1 {
        return None;
    }
    let items = &text.game.lines.get(here.line)?.items;
    let mut after = items.iter().skip_while(|it| it.span.from <= here.word.from);
    let word = text.source.slice(here.word);
    let Some(next) = after.find(|it| matches!(it.kind, ItemKind::Move | ItemKind::Number { .. }))
    else {
        // At its end it may be a move of White's with a slip too.
        let more = found.help.as_ref().filter(|_| !here.is_first)?;
        let help = format!(
            "if {word} is meant, White's move {} is missing before it; {more}",
            here.right
        );
        return Some(found.clone().with_help(help));
    };
    let goes_on = matches!(
        next.kind,
        ItemKind::Number { number, dots } if i64::from(number) == here.right + 1 && dots <= 1
    );
    goes_on.then(|| {
        found.clone().with_help(format!(
            "White's move {} is missing before {word}",
            here.right
        ))
    })
}

/// Castling of a side that has castled, or whose king has moved.
fn castled(lesson: &Lesson, here: &Numbered, found: &Finding) -> Option<Finding> {
    let path = lesson.path(here.at);
    // The side that moved is not the one to move.
    let its = |id: NodeId| {
        let node = lesson.node(id);
        node.played.filter(|_| node.position.turn() != here.turn)
    };
    let mut moved = path
        .into_iter()
        .filter(|&id| its(id).is_some_and(|it| it.is_castle() || it.role() == Role::King));
    let id = moved.next()?;
    let mut finding = found.clone();
    finding.help = None;
    if its(id).is_some_and(|it| it.is_castle()) {
        let number = number_of(lesson, id);
        finding.message = format!("{} has castled at move {number} already", side(here.turn));
    } else {
        let (before, _) = found.message.split_once(':')?;
        finding.message = format!("{before}: the king has moved at {}", lesson.numbered(id));
    }
    Some(finding.with_related(lesson.node(id).span, "here".to_owned()))
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// The first finding of a text.
    fn first(text: &str) -> Finding {
        let (_, findings) = looked(text, earlier);
        findings.iter().next().expect("a finding").clone()
    }

    #[test]
    fn a_number_that_jumps_ahead_and_goes_on_is_not_mended() {
        for text in [
            "1. e4 e5 3. Bc4 Bc5 4. c3 {x} *",
            "1. e4 e5 3. Bc4 Bc5 {x} *",
            "5. Nf3 Nc6 6. e4 {x} *",
            "1. e4 e5 (1... c5 3. Nf3 d6 4. d4 {x}) 2. Nf3 {x} *",
            "1. e4 {x} 2... Nc6 3. d4 {x} *",
        ] {
            let told = first(text);
            assert!(told.message.ends_with("missing before it"), "{text}");
            assert_eq!(told.fix, None, "{text}");
        }
    }

    #[test]
    fn a_number_that_is_a_slip_is_mended() {
        for text in [
            "1. e4 e5 3. Nf3 Nc6 3. Bc4 {x} *",
            "1. e4 e5 2. Nf3 Nc6 2. Bc4 Bc5 {x} *",
            "1. e4 2. e5 3. Nf3 4. Nc6 {x} *",
        ] {
            assert!(first(text).fix.is_some(), "{text}");
        }
    }

    #[test]
    fn a_number_of_the_other_side_is_no_typing_slip_where_that_side_can_play_the_move() {
        let told = first("1. e4 d6 2. d4 1. -- {x} *");
        assert!(told.message.contains("number"), "{}", told.message);
        let told = first("1. e4 e5 2. Nf3 2. Nc6 {x} *");
        assert!(told.fix.is_some() && told.code == Code::Dots);
        let told = first("1. e4 e5 2. Nf3 2. d4 {x} *");
        assert_eq!(told.code, Code::WrongSide);
        let told = first("1. Nf3 d5 2. g3 2. -- {x} *");
        assert_eq!((told.code, &told.fix), (Code::Dots, &None));
        assert_eq!(
            told.help.as_deref(),
            Some(
                "write 2... for Black's move; if it is another move of White's, which replaces 2.g3, \
                 put it in parentheses"
            )
        );
    }

    #[test]
    fn a_number_that_falls_back_to_the_first_begins_a_game() {
        let told = first("1. e4 e5 1. d4 d5 {x} *");
        assert_eq!(told.fix, None);
        assert!(
            told.help
                .as_deref()
                .is_some_and(|help| help.starts_with("a new game"))
        );
    }

    #[test]
    fn the_number_before_a_move_of_the_other_side_says_which_one_is_missing() {
        let help = |text| first(text).help.clone().unwrap_or_default();
        assert_eq!(
            help("1. e4 e5 2. c3 3. Nf3 {x} *"),
            "Black's move 2 is missing before 3.Nf3"
        );
        assert_eq!(
            help("1. e4 e5 2... Nc6 {x} *"),
            "White's move 2 is missing before 2...Nc6"
        );
        assert_eq!(
            help("1. e4 e5 2. Nf6 3. Nf3 {x} *"),
            "White's move 2 is missing before Nf6"
        );
    }

    #[test]
    fn a_move_that_its_number_gives_to_the_other_side_is_that_side_s() {
        let told = first("1. e4 e5 2. Nf3 Nc6 3. Bc4 4. O-O {x} *");
        assert_eq!(told.code, Code::WrongSide);
        assert_eq!(
            told.help.as_deref(),
            Some("Black's move 3 is missing before 4.O-O")
        );
    }

    #[test]
    fn a_variation_beside_a_move_that_is_missing_follows_from_that() {
        let text = "1. e4 e5 2. Nf3 (2... d6 {x}) 3. Bb5 a6 {x} *";
        let (_, findings) = looked(text, earlier);
        let help: Vec<_> = findings.iter().map(|it| it.help.as_deref()).collect();
        assert_eq!(help, [Some("Black's move 2 is missing before 3.Bb5")]);
    }

    #[test]
    fn a_side_that_has_castled_is_told_when() {
        let told = first("1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. O-O Nf6 5. d3 d6 6. O-O {x} *");
        assert_eq!(told.message, "White has castled at move 4 already");
        assert_eq!(told.help, None);
        let told = first("1. e4 e5 2. Ke2 Ke7 3. Ke1 Ke8 4. Nf3 Nf6 5. Bc4 Bc5 6. O-O {x} *");
        let wanted = "White cannot castle on the king's side: the king has moved at 2.Ke2";
        assert_eq!(told.message, wanted);
    }
}
