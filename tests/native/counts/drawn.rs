//! Counts as they are drawn.

use super::ended;
use plyline::counts::{Counted, Drawn, Next, Of, Part, Predicted, Words, counts, given};
use plyline::markup::html;

fn drawn(of: &Of, counted: &Counted) -> String {
    html(&counts(&Words::default(), of, counted, Drawn::Live))
}

fn collection() -> Of {
    Of {
        names: "games.pgn".to_owned(),
        date: "2025.11.30".to_owned(),
        all: ended(500, 300, 200),
        damaged: 3,
        left: 20,
        by: "year".to_owned(),
    }
}

fn next(shown: &str, node: Option<u32>, games: u64) -> Next {
    Next {
        shown: shown.to_owned(),
        node,
        results: ended(games, 0, 0),
    }
}

#[test]
fn the_dot_is_at_the_score_and_the_line_where_chance_leaves_it() {
    let counted = Counted {
        all: ended(50, 20, 30),
        predicted: Predicted {
            games: 80,
            sum: 4400,
        },
        ..Counted::default()
    };
    let html = drawn(&collection(), &counted);
    assert!(html.contains("class=\"dot\" cx=\"600\""), "{html}");
    // White scored 65 % of all games, and ratings predict 55 %.
    assert!(html.contains("class=\"tick\" d=\"M650 "), "{html}");
    assert!(html.contains("class=\"ring\" cx=\"550\""), "{html}");
    // By hand: s = 0.6, d = 0.2, k = 0.038416.
    assert!(html.contains("d=\"M512 50H680\""), "{html}");
    let said = "White\u{2019}s score: 60\u{a0}% (51\u{2013}68\u{a0}%); all games of the collection: 65\u{a0}%; what the ratings predict: 55\u{a0}%";
    assert!(html.contains(said), "{html}");
}

#[test]
fn where_every_game_was_drawn_there_is_no_line_of_chance() {
    let counted = Counted {
        all: ended(0, 40, 0),
        ..Counted::default()
    };
    let html = drawn(&Of::default(), &counted);
    assert!(html.contains("50\u{a0}%, all drawn"), "{html}");
    assert!(!html.contains("class=\"range\""), "{html}");
}

#[test]
fn few_games_have_no_scale_and_no_score() {
    let counted = Counted {
        all: ended(10, 9, 10),
        ..Counted::default()
    };
    let html = drawn(&collection(), &counted);
    assert!(!html.contains("<svg"), "{html}");
    let (summary, _) = html.split_once("</summary>").expect("a summary");
    assert!(!summary.contains('%'), "{html}");
}

#[test]
fn a_move_of_the_lesson_leads_to_its_place_and_rare_ones_share_a_row() {
    let mut list: Vec<Next> = (0..9).map(|at| next("2.a3", None, 40 - at)).collect();
    list.push(next("2.c4", Some(7), 3));
    let counted = Counted {
        all: ended(400, 0, 0),
        next: list,
        ..Counted::default()
    };
    let html = drawn(&collection(), &counted);
    assert!(html.contains("data-go=\"7\""), "{html}");
    assert_eq!(html.matches("2.a3").count(), 7);
    let others = "<span>other moves</span></th><td>65</td>";
    assert!(html.contains(others), "{html}");
}

#[test]
fn years_are_one_line_with_their_numbers_as_a_table() {
    let year = |name: &str, games| Part {
        name: name.to_owned(),
        results: ended(games, 0, 0),
    };
    let counted = Counted {
        all: ended(100, 0, 0),
        parts: vec![
            year("2023", 20),
            year("2024", 40),
            year("2027", 40),
            year("unknown", 9),
        ],
        ..Counted::default()
    };
    let html = drawn(&collection(), &counted);
    assert!(html.contains("d=\"M0 55L250 10L1000 10\""), "{html}");
    assert!(html.contains("<span>2023</span></th><td>20</td>"), "{html}");
    let of = Of {
        by: "rating".to_owned(),
        ..collection()
    };
    assert!(!drawn(&of, &counted).contains("class=\"years\""));
}

#[test]
fn the_source_is_told_once_with_what_counts_do_not_say() {
    let html = drawn(&collection(), &Counted::default());
    let source =
        "games.pgn: 1,000 games counted, the latest of 2025.11.30; 3 damaged and 20 left out.";
    assert!(html.contains(source), "{html}");
    let only = "Counts say who played what and how it ended, not what is best.";
    assert_eq!(html.matches(only).count(), 1);
}

#[test]
fn what_a_script_hands_in_is_read_in_its_order() {
    let of = [
        "games.pgn",
        "2025",
        "year",
        "3",
        "20",
        "50",
        "20",
        "30",
        "1",
    ];
    let here = ["4", "3", "2", "1", "5", "255"];
    let year = ["p", "2024", "4", "3", "2", "0"];
    let moves = [
        "m", "1.e4", "7", "2", "1", "0", "0", "m", "1.d4", "", "1", "0", "0", "0",
    ];
    let text = [&of[..], &here, &year, &moves].concat().join("\0");
    let (of, counted) = given(&text);
    assert_eq!((of.names.as_str(), of.date.as_str()), ("games.pgn", "2025"));
    assert_eq!((of.damaged, of.left, of.all.games()), (3, 20, 101));
    assert_eq!((counted.all.white, counted.all.unknown), (4, 1));
    assert_eq!((counted.predicted.games, counted.predicted.sum), (5, 255));
    assert_eq!(counted.parts[0].name, "2024");
    let moves: Vec<_> = counted
        .next
        .iter()
        .map(|it| (it.shown.as_str(), it.node, it.results.games()))
        .collect();
    assert_eq!(moves, [("1.e4", Some(7), 3), ("1.d4", None, 1)]);
}

#[test]
fn what_is_missing_or_no_number_counts_as_nothing() {
    for text in ["", "x\0y", "a\0b\0c\0-1\0NaN\0\u{663}", "a\0b\0c\0m\0p\0m"] {
        let (of, counted) = given(text);
        assert_eq!(
            of.all.games() + counted.all.games() + of.damaged,
            0,
            "{text:?}"
        );
    }
    let huge = vec!["99999999999999999999"; 20].join("\0");
    let (of, counted) = given(&huge);
    assert!(!drawn(&of, &counted).is_empty());
}
