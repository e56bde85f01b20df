//! Signs that contradict each other: on one move, or on the two moves that lead to one position.

use crate::lesson::{Lesson, NodeId};
use crate::notation::{Lexer, TokenKind};
use crate::text::{Code, Finding, Findings, Source, Span};

/// The contradicting signs of a lesson.
pub(super) fn signs(source: &Source, lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for id in lesson.ids() {
        let nags = &lesson.node(id).nags;
        if nags.len() > 1 && (differ(nags, praise) || differ(nags, favours)) {
            let message = format!("the signs on {} contradict each other", lesson.numbered(id));
            let finding = Finding::new(Code::SignsContradict, lesson.node(id).span, message);
            findings.push(finding.with_help("keep the one that is meant".to_owned()));
        }
    }
    for &(one, other) in &lesson.same {
        if let Some(finding) = of_position(source, lesson, one, other) {
            findings.push(finding);
        }
    }
    findings
}

fn of_position(source: &Source, lesson: &Lesson, one: NodeId, other: NodeId) -> Option<Finding> {
    let of = |id: NodeId| lesson.node(id).nags.iter().find_map(|&nag| favours(nag));
    let (first, second) = (of(one)?, of(other)?);
    if first * second >= 0 {
        return None;
    }
    let side = |favours: i8| if favours > 0 { "White" } else { "Black" };
    let message = format!(
        "{} is said to be better for {}, and {}, which leads to the same position, for {}",
        lesson.numbered(other),
        side(second),
        lesson.numbered(one),
        side(first)
    );
    let sign = |id| sign(source, lesson, id);
    let finding = Finding::new(Code::SignsContradict, sign(other), message);
    Some(
        finding
            .with_help("keep the one that is meant".to_owned())
            .with_related(sign(one), "the same position".to_owned()),
    )
}

/// Where the first sign after a move is that is a word of its own; else the move, which may hold it.
fn sign(source: &Source, lesson: &Lesson, id: NodeId) -> Span {
    let span = lesson.node(id).span;
    let after = &source.text()[span.to as usize..];
    let next = Lexer::new(after).find(|it| it.kind != TokenKind::Space);
    match next.filter(|it| it.kind == TokenKind::Nag) {
        Some(next) => Span {
            from: span.to + next.span.from,
            to: span.to + next.span.to,
        },
        None => span,
    }
}

/// Whether some signs say two different things of one kind.
fn differ(nags: &[u8], says: fn(u8) -> Option<i8>) -> bool {
    let mut all = nags.iter().filter_map(|&nag| says(nag));
    let first = all.next();
    all.any(|it| Some(it) != first)
}

/// Whether a glyph praises a move or blames it (PGN standard, section 10).
fn praise(nag: u8) -> Option<i8> {
    match nag {
        1 | 3 => Some(1),
        2 | 4 => Some(-1),
        _ => None,
    }
}

/// Whom a glyph says the position favours (PGN standard, section 10).
fn favours(nag: u8) -> Option<i8> {
    match nag {
        10..=13 => Some(0),
        14 | 16 | 18 => Some(1),
        15 | 17 | 19 => Some(-1),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    #[test]
    fn signs_of_one_move_say_one_thing() {
        let found = |text| words_of(text, Code::SignsContradict);
        assert_eq!(found("1. e4 $1 $4 {x} *"), ["e4"]);
        assert_eq!(found("1. e4 $16 $17 {x} *"), ["e4"]);
        assert!(found("1. e4 $1 $16 {x} *").is_empty());
    }

    #[test]
    fn one_position_is_not_better_for_both() {
        let text = "1. d4 d5 2. c4 $18 {x} (2. Nf3 Nf6 3. c4 $14 {y}) (2. c4 Nf6 3. Nf3 $17 {z}) *";
        assert_eq!(words_of(text, Code::SignsContradict), ["$17"]);
    }
}
