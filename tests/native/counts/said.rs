//! What is said of counts.

use super::ended;
use plyline::counts::{Collection, Counted, Next, Results, TEXTS, Words, beside, listed, quote};
use plyline::markup::{el, html};
use plyline::view;

/// The sentence about a position.
fn said(words: &Words, all: Results) -> String {
    let counted = Counted {
        all,
        ..Counted::default()
    };
    let list = listed(words, &counted, el("p"));
    html(&list).replace("<p>", "").replace("</p>", "")
}

fn english(all: Results) -> String {
    said(&Words::default(), all)
}

#[test]
fn a_sentence_has_the_games_and_shares_that_add_to_100() {
    // Design, section 14: "1,906 games: White won 41 %, drawn 35 %, Black won 24 %".
    assert_eq!(
        english(ended(786, 664, 456)),
        "1,906 games: White won 41\u{a0}%, drawn 35\u{a0}%, Black won 24\u{a0}%."
    );
}

#[test]
fn nothing_is_said_to_be_all_that_is_not_and_nothing_to_be_none_that_is() {
    assert_eq!(
        english(ended(1999, 1, 0)),
        "2,000 games: White won over 99\u{a0}%, drawn under 1\u{a0}%, Black won 0\u{a0}%."
    );
}

#[test]
fn few_games_are_named_one_by_one() {
    assert_eq!(
        english(ended(12, 10, 7)),
        "few games, 29: White won 12, drawn 10, Black won 7."
    );
    assert!(english(ended(12, 10, 8)).starts_with("30 games: White won 40"));
}

#[test]
fn results_that_nobody_knows_are_named_apart() {
    let some = Results {
        unknown: 4,
        ..ended(2, 1, 0)
    };
    let told = "few games, 7: White won 2, drawn 1, Black won 0; 4 of unknown result.";
    assert_eq!(english(some), told);
    let few = Results {
        unknown: 4980,
        ..ended(12, 5, 3)
    };
    let told = "5,000 games: White won 12, drawn 5, Black won 3; 4,980 of unknown result.";
    assert_eq!(english(few), told);
    assert_eq!(beside(&Words::default(), &few), "5,000 games");
    let all = Results {
        unknown: 1200,
        ..ended(0, 0, 0)
    };
    assert_eq!(english(all), "games of unknown result: 1,200.");
    let one = Results {
        unknown: 1,
        ..ended(0, 0, 0)
    };
    assert_eq!(english(one), "games of unknown result: 1.");
}

#[test]
fn where_no_game_came_that_is_said() {
    let told = "no game of the collection came here.";
    assert_eq!(english(Results::default()), told);
}

#[test]
fn a_move_has_its_games_and_its_score_beside_it() {
    let words = Words::default();
    assert_eq!(
        beside(&words, &ended(50, 20, 30)),
        "100 games, White\u{2019}s score 60\u{a0}%"
    );
    assert_eq!(beside(&words, &ended(3, 0, 0)), "few games, 3");
}

#[test]
fn another_language_has_words_and_thousands_of_its_own() {
    let texts = [
        "countsMany",
        "{games} Partien, {white} {drawn} {black}",
        "countsGroup",
        ".",
        "unknown",
        "x",
    ];
    let words = Words::with(texts.into_iter());
    assert_eq!(
        said(&words, ended(600, 400, 1000)),
        "2.000 Partien, 30\u{a0}% 20\u{a0}% 50\u{a0}%."
    );
}

#[test]
fn no_word_of_counts_is_taken_for_one_of_lessons() {
    // Those know their names by numbers of 16 bits alone.
    for (name, _) in TEXTS {
        let words = view::Words::with([((*name).to_owned(), "taken".to_owned())]);
        let taken: Vec<_> = view::words::TEXTS
            .iter()
            .filter(|(known, _)| words.named(known) == "taken")
            .collect();
        assert!(taken.is_empty(), "{name}: {taken:?}");
    }
}

#[test]
fn a_lesson_finds_what_was_counted_at_its_positions_however_they_are_reached() {
    let text = "1. d4 d5 (1... Nf6 2. c4 e6 3. Nf3 d5) 2. Nf3 Nf6 3. c4 e6 *";
    let lesson = crate::support::lesson(text);
    let end = crate::support::node(&lesson, "3.c4 e6");
    let other = crate::support::node(&lesson, "1.d4 Nf6 2.c4 e6 3.Nf3 d5");
    let mut collection = Collection::default();
    let here = Counted {
        all: ended(3, 2, 1),
        next: vec![Next {
            shown: "Nc3".to_owned(),
            node: None,
            results: ended(1, 0, 0),
        }],
        ..Counted::default()
    };
    let fen = "rnbqkb1r/ppp2ppp/4pn2/3p4/2PP4/5N2/PP2PPPP/RNBQKB1R w KQkq -";
    collection.at.insert(fen.to_owned(), here);
    for node in [end, other] {
        let found = collection.at(&lesson, node).expect("counts");
        assert_eq!(found.all.games(), 6);
        assert_eq!(found.next[0].shown, "4.Nc3");
    }
    assert!(collection.at(&lesson, 1).is_none());
    assert!(!collection.is_of(&lesson), "its start is not counted");
}

#[test]
fn a_quoted_figure_is_a_sentence_with_its_source() {
    let words = Words::default();
    let said = "Quoted from the book of 1998: 1,906 games: White won 41\u{a0}%, drawn 35\u{a0}%, Black won 24\u{a0}%.";
    for written in [
        "Counts: 1906 games, 41 35 24, from the book of 1998",
        "Counts: 1,906 games, 41% 35% 24%, from the book of 1998.",
        " Counts: 1906 games, 41  35 24, from  the book of 1998 ",
    ] {
        assert_eq!(quote(&words, written).as_deref(), Some(said), "{written}");
    }
}

#[test]
fn a_figure_that_is_written_otherwise_stays_as_it_is() {
    let words = Words::default();
    for written in [
        "",
        "Counts:",
        "Counts: many",
        "Counts: 12 games",
        "Counts: 12 games, 50 50, from a book",
        "Counts: 12 games, 50 30 10 10, from a book",
        "Counts: 12 games, 50 30 x, from a book",
        "Counts: 12 games, 50 30 20",
        "Counts: 12 games, 50 30 20, from .",
        "Counts: 12 moves, 50 30 20, from a book",
        "Counts: , games, 50 30 20, from a book",
        "He counts: 12 games, 50 30 20, from a book",
    ] {
        assert_eq!(quote(&words, written), None, "{written}");
    }
}
