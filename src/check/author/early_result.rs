//! A result that comes too early: the moves after it have no tags and continue with the next
//! number. They are another game, which the page does not show.

use super::explained::{Explained, Told};
use crate::lesson::Lesson;
use crate::notation::{Game, Item, ItemKind};
use crate::text::{Code, Finding, Findings, Source, Span};
use shakmaty::Position;

/// How a game ended.
pub(super) struct End {
    /// Where its result is.
    result: Span,
    /// The number of the move that would come next, and whether it is Black's.
    next: (u32, bool),
}

impl End {
    /// How a game ended; none if it has no result, or its moves could not be read to the end.
    pub(super) fn of(game: &Game, lesson: Option<&Lesson>) -> Option<End> {
        let lesson = lesson.filter(|lesson| lesson.unread.is_empty())?;
        let (_, result) = game.result?;
        let last = lesson.line_nodes(0).last()?;
        let position = &lesson.node(last).position;
        let next = (position.fullmoves().get(), position.turn().is_black());
        Some(End { result, next })
    }

    /// The findings if the next game continues this one: this, and the one at its first move, which
    /// then names the reason.
    pub(super) fn told(&self, source: &Source, game: &Game, found: &Findings) -> Vec<Told> {
        let Some([number, first]) = beginning(game).filter(|_| game.tags.is_empty()) else {
            return Vec::new();
        };
        let ItemKind::Number {
            number: value,
            dots,
        } = number.kind
        else {
            return Vec::new();
        };
        // A number that jumps ahead also continues the game, with moves left out; no game begins
        // there.
        let goes_on = match value == self.next.0 {
            true => (dots > 1) == self.next.1 && self.next != (1, false),
            false => value > self.next.0,
        };
        if !goes_on {
            return Vec::new();
        }
        let result = source.slice(self.result);
        let go_on = source.slice(number.span.join(first.span));
        let message = format!("this {result} ends the game, and {go_on} begins another");
        let help = "take it out if the moves go on; another game begins with its tags, or with 1.";
        let mut list = vec![Told {
            finding: Finding::new(Code::ResultAmid, self.result, message)
                .with_help(help.to_owned())
                .with_related(first.span, "of another game".to_owned()),
            explains: vec![Explained::One(Code::WrongNumber, number.span)],
        }];
        let mut at_first = found.iter();
        if let Some(found) = at_first.find(|it| it.span.from == first.span.from) {
            let help = format!(
                "a new game begins here, because the {result} ends the one before; without it this is move {value} of that game"
            );
            list.push(Told::alone(found.clone().with_help(help)));
        }
        list
    }
}

/// The first move of a game and its number.
fn beginning(game: &Game) -> Option<[Item; 2]> {
    let items = &game.lines.first()?.items;
    let first = items.iter().position(|item| item.kind == ItemKind::Move)?;
    let number = items.get(first.checked_sub(1)?)?;
    Some([*number, items[first]]) // found above
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    #[test]
    fn a_result_after_which_the_moves_go_on_is_told() {
        assert_eq!(codes("1. e4 e5 {x} * 2. Nc3 {x} *"), ["P073"]);
        assert_eq!(
            codes("1. e4 e5 2. Nf3 {x} 1-0 2... Nc6 {x} *"),
            ["P073", "P044"]
        );
        assert_eq!(
            codes("1. e4 e5 {x} * {words} 2. Bc4 {x} *"),
            ["P073", "P032"]
        );
    }

    #[test]
    fn another_game_after_a_result_is_not_told() {
        for text in [
            "1. e4 e5 {x} * 1. d4 {x} *",
            "1. e4 e5 {x} * d4 {x} *",
            "1. e4 e5 {x} * [Event \"?\"] 1. Nc3 {x} *",
            "* 1. e4 {x} *",
        ] {
            assert_eq!(codes(text), [""; 0], "{text}");
        }
    }
}
