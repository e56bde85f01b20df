//! What can only be seen when the games of a text are checked together: an id that two of them
//! have, and tags that are after the moves, where they begin another game.

use crate::notation::Game;
use crate::text::{Code, Finding, Source, Span, quote};
use std::collections::HashMap;

/// The tags of the games so far.
#[derive(Default)]
pub(super) struct Heads {
    /// The first place of each id.
    ids: HashMap<String, Span>,
    /// Whether there was a game before.
    is_later: bool,
}

impl Heads {
    /// The finding about the tags of the next game.
    pub(super) fn next(&mut self, source: &Source, game: &Game) -> Option<Finding> {
        let name = |tag: Span| source.slice(tag);
        let is_later = core::mem::replace(&mut self.is_later, true);
        let shows = game.words > 0
            || game.result.is_some()
            || game.tags.iter().any(|tag| name(tag.name) == "FEN");
        if let Some(tag) = game.tags.first().filter(|_| is_later && !shows) {
            let message = format!(
                "the tag {} comes after the moves and begins another game, which has no moves",
                quote(name(tag.name))
            );
            let help = "tags come before the moves of their game";
            let finding = Finding::new(Code::TagAmiss, tag.span, message);
            return Some(finding.with_help(help.to_owned()));
        }
        let id = game.tags.iter().find(|tag| name(tag.name) == "Id")?;
        if let Some(&first) = self.ids.get(id.value.as_str()) {
            let message = format!(
                "another game of this text has the id \u{201c}{}\u{201d} already",
                quote(&id.value)
            );
            let help = "give each game its own: an address leads to the first";
            let finding = Finding::new(Code::TagAmiss, id.value_span, message);
            return Some(
                finding
                    .with_help(help.to_owned())
                    .with_related(first, "the other".to_owned()),
            );
        }
        self.ids.insert(id.value.as_str().to_owned(), id.value_span);
        None
    }
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::told;

    #[test]
    fn an_id_that_two_games_have_is_told_at_the_second() {
        let found = told("[Id \"a\"] 1. e4 {x} * [Id \"b\"] 1. d4 {x} * [Id \"a\"] 1. c4 {x} *");
        assert_eq!(found, [("P070", "\"a\"".to_owned())]);
    }

    #[test]
    fn tags_after_the_moves_are_told_once() {
        let found = told("1. e4 {x} *\n\n[Id \"a\"]\n[Side \"white\"]\n");
        assert_eq!(found, [("P070", "[Id \"a\"]".to_owned())]);
    }

    #[test]
    fn a_game_without_a_move_that_shows_something_is_not_told() {
        for text in [
            "1. e4 {x} * [Event \"b\"] *",
            "1. e4 {x} * [SetUp \"1\"] [FEN \"4k3/8/8/8/8/8/8/4K2R w K - 0 1\"]",
            "[Event \"b\"]",
        ] {
            assert_eq!(told(text), [], "{text}");
        }
    }
}
