//! What is told of a lesson that was weighed.

use crate::support::lesson;
use plyline::text::Code;
use plyline::weigh::{Weighed, weigh};

/// Little, because tests are built without optimisation; the positions here need no more.
const BUDGET: u64 = 60_000;

/// White's knight may jump into two captures, at d4 and e5.
const KNIGHT: &str = "[SetUp \"1\"]\n[FEN \"4k3/8/3p4/2p1p3/8/5N2/4P3/7K w - - 0 1\"]\n\n";

fn weighed(text: &str) -> Weighed {
    weigh(&lesson(text), BUDGET, true)
}

/// The code and the move of each finding, and how many other moves belong to it.
fn told(text: &str) -> Vec<(Code, String, usize)> {
    let findings = weighed(text).findings;
    let list = findings.iter().map(|it| {
        let (from, to) = (it.span.from as usize, it.span.to as usize);
        (it.code, text[from..to].to_owned(), it.related.len())
    });
    list.collect()
}

fn loses(at: &str, related: usize) -> Vec<(Code, String, usize)> {
    vec![(Code::LosesByForce, at.to_owned(), related)]
}

#[test]
fn a_piece_that_is_left_to_be_taken_is_told_once_with_the_moves_that_leave_it_so() {
    for (moves, related) in [
        ("1. Nd4 *", 0),
        ("1. Nd4 Kd7 *", 1),
        ("1. Nd4 Kd7 2. Kg2 *", 2),
        ("1. Nd4 (1. Kg1 Kd7) 1... Kd7 *", 1),
    ] {
        assert_eq!(
            told(&format!("{KNIGHT}{moves}")),
            loses("Nd4", related),
            "{moves}"
        );
    }
}

#[test]
fn less_than_a_piece_is_a_hint() {
    let wanted = vec![(Code::LosesSome, "Nxe5".to_owned(), 0)];
    assert_eq!(told(&format!("{KNIGHT}1. Nxe5 *")), wanted);
}

#[test]
fn nothing_is_told_where_the_lesson_shows_the_reply_or_says_that_something_is_given() {
    for moves in [
        "1. Nd4 exd4 *",
        "1. Nd4 Kd7 (1... exd4) *",
        "1. Nd4? *",
        "1. Nd4 $44 *",
        "1. Nd4 {White offers the knight.} *",
        "({A sacrifice} 1. Nd4) *",
        "1. Nd4 {It costs a piece.} Kd7 *",
        "1. Nd4 {Bold.\n\nWeighed: for fun.} *",
        // Another order of moves has the reply.
        "1. Kg2 (1. Nd4? Kd7? 2. Kg2? exd4) 1... Kd7 2. Nd4 *",
    ] {
        assert_eq!(told(&format!("{KNIGHT}{moves}")), [], "{moves}");
    }
    let gambit = format!("[Event \"The Jumping Gambit\"]\n{KNIGHT}1. Nd4 *");
    assert_eq!(told(&gambit), []);
}

#[test]
fn a_mate_that_is_allowed_is_told_with_its_moves() {
    let found = weighed("1. f3 e5 2. g4 d6 *").findings;
    let messages: Vec<&str> = found.iter().map(|it| it.message.as_str()).collect();
    assert_eq!(messages, ["after 2.g4 White is mated in 1: 2...Qh4#"]);
    assert_eq!(told("1. f3 e5 2. g4 Qh4# *"), []);
}

#[test]
fn a_chance_is_told_where_no_move_of_the_lesson_has_it() {
    for (moves, wanted) in [
        (
            "1. Nd4? Kd7 *",
            vec![(Code::ChancePassed, "Kd7".to_owned(), 0)],
        ),
        (
            "1. Nd4? Kd7 (1... Kf7) *",
            vec![(Code::ChancePassed, "Kd7".to_owned(), 1)],
        ),
        ("1. Nd4? Kd7? *", vec![]),
        ("1. Nd4 {He offers a knight.} Kd7 *", vec![]),
    ] {
        assert_eq!(told(&format!("{KNIGHT}{moves}")), wanted, "{moves}");
    }
}

#[test]
fn a_mistake_that_nothing_refutes_is_told_where_its_sign_or_its_words_claim_a_refutation() {
    for (moves, wanted) in [
        (
            "1. Nd2?? Kd7 *",
            vec![(Code::NotRefuted, "Nd2??".to_owned(), 0)],
        ),
        (
            "1. Nd2? {This loses a pawn.} Kd7 *",
            vec![(Code::NotRefuted, "Nd2?".to_owned(), 0)],
        ),
        // An opinion.
        ("1. Nd2? Kd7 *", vec![]),
        // A judgement.
        ("1. Nd2?? Kd7 $19 *", vec![]),
        // It is refuted, whether the lesson shows it or not.
        ("1. Nd4?? *", vec![]),
        ("1. Nxe5?? dxe5 *", vec![]),
    ] {
        assert_eq!(told(&format!("{KNIGHT}{moves}")), wanted, "{moves}");
    }
}

#[test]
fn words_are_told_only_where_the_board_or_a_search_contradicts_them() {
    let against = |at: &str| vec![(Code::ClaimAgainst, at.to_owned(), 0)];
    for (moves, wanted) in [
        (
            "1. Nd4? {White wins a pawn.} exd4 *",
            against("wins a pawn"),
        ),
        ("1. Nd4? {Black wins a piece.} exd4 *", vec![]),
        ("1. Nd4? {This wins a pawn if Black sleeps.} exd4 *", vec![]),
        ("1. Kg1 {It is mate in two.} Kd7 *", against("mate in two")),
        (
            "1. Kg1 {The knight is pinned.} Kd7 *",
            against("knight is pinned"),
        ),
        (
            "1. Nd4? {The knight cannot be taken.} exd4 *",
            against("knight cannot be taken"),
        ),
        ("1. Nd2 {The knight cannot be taken.} Kd7 *", vec![]),
        (
            "1. Kg1 {The king steps aside. 1.Nd4 wins a pawn.} Kd7 *",
            against("wins a pawn"),
        ),
        (
            "1. Nd4? {White wins a pawn.\n\nWeighed: a joke.} exd4 *",
            vec![],
        ),
    ] {
        assert_eq!(told(&format!("{KNIGHT}{moves}")), wanted, "{moves}");
    }
    let pinned = "[SetUp \"1\"]\n[FEN \"4k3/4n3/8/8/8/8/4P3/R3K3 w - - 0 1\"]\n\n";
    for (moves, wanted) in [
        (
            "1. Ra7 {The knight is pinned.} *",
            against("knight is pinned"),
        ),
        (
            "1. Ra1-a8+ {Check.} Kd7 2. Re8 {The knight is pinned.} *",
            against("knight is pinned"),
        ),
        (
            "1. Kf2 Kd7 {The knight on e7 is pinned.} *",
            against("knight on e7 is pinned"),
        ),
        (
            "1. Ra1-b1 Kd8 2. Rb8+ {The knight is no more pinned.} *",
            vec![],
        ),
    ] {
        let text = format!("{pinned}{moves}");
        let found: Vec<_> = told(&text)
            .into_iter()
            .filter(|it| it.0 == Code::ClaimAgainst)
            .collect();
        assert_eq!(found, wanted, "{moves}");
    }
    let real = "[SetUp \"1\"]\n[FEN \"4k3/4n3/8/8/8/8/8/R3K3 w - - 0 1\"]\n\n1. Ra1-d1 Kf8 2. Kd2 Ke8 3. Re1";
    assert_eq!(told(&format!("{real} {{The knight is pinned.}} *")), []);
    assert_eq!(
        told(&format!("{real} {{The knight on e7 is pinned.}} *")),
        []
    );
}

#[test]
fn a_claim_before_a_move_is_about_that_move_and_one_in_a_trade_about_its_end() {
    let before = format!("{KNIGHT}1. Kg1 ({{This wins a pawn:}} 1. Nxe5 dxe5) 1... Kd7 *");
    let codes = |text: &str| told(text).into_iter().map(|it| it.0).collect::<Vec<_>>();
    assert_eq!(codes(&before), [Code::ClaimAgainst]);
    let trade = "[SetUp \"1\"]\n[FEN \"4k3/8/3p4/2p1b3/8/5N2/5P2/6K1 w - - 0 1\"]\n\n";
    let level = format!("{trade}1. Nxe5 dxe5 {{Black wins a pawn in the end.}} *");
    assert_eq!(codes(&level), []);
}

#[test]
fn a_greater_mistake_after_the_first_is_told_of_its_own() {
    let text =
        "[SetUp \"1\"]\n[FEN \"4k3/8/3p4/2p1p3/8/5N2/4P3/1Q5K w - - 0 1\"]\n\n1. Nd4 Kd7 2. Qb4 *";
    let of: Vec<_> = told(text)
        .into_iter()
        .filter(|it| it.0 == Code::LosesByForce)
        .collect();
    assert_eq!(
        of.iter().map(|it| it.1.as_str()).collect::<Vec<_>>(),
        ["Nd4", "Qb4"]
    );
}

#[test]
fn what_is_told_is_the_same_with_a_report_and_without() {
    for moves in [
        "1. Nd4 *",
        "1. Nxe5 *",
        "1. Nd4? Kd7 *",
        "1. Nd2?? Kd7 *",
        "1. Nd2? Kd7 *",
    ] {
        let lesson = lesson(&format!("{KNIGHT}{moves}"));
        let both = [true, false].map(|it| weigh(&lesson, BUDGET, it).findings);
        assert_eq!(both[0], both[1], "{moves}");
    }
}

#[test]
fn a_sign_is_weighed_only_where_it_says_that_a_side_is_winning() {
    let rook_up = |sign: &str| {
        format!("[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/r7/4K3 b - - 0 1\"]\n\n1... Ra5 {sign} *")
    };
    let against = vec![(Code::SignAgainst, "Ra5".to_owned(), 0)];
    assert_eq!(told(&rook_up("$18")), against);
    for sign in ["$19", "$16", "$10", "$13", "$44"] {
        assert_eq!(told(&rook_up(sign)), [], "{sign}");
    }
}

#[test]
fn two_orders_of_moves_to_one_position_have_signs_that_can_both_be_meant() {
    let both = |one: &str, other: &str| {
        told(&format!(
            "1. c4 (1. Nf3 Nf6 2. c4 {other}) 1... Nf6 2. Nf3 {one} *"
        ))
    };
    let apart = vec![(Code::SignsApart, "Nf3".to_owned(), 1)];
    assert_eq!(both("$10", "$18"), apart);
    assert_eq!(both("$14", "$15"), apart);
    assert_eq!(both("$10", "$14"), []);
}

#[test]
fn what_is_confirmed_is_reported_with_what_it_wins() {
    let told = weighed(&format!("{KNIGHT}1. Nd4? exd4 *")).told;
    let lines: Vec<_> = told.iter().map(|it| (it.kind, it.text.as_str())).collect();
    assert_eq!(lines.len(), 1, "{lines:?}");
    assert_eq!(lines[0].0, "trap");
    let wanted = "1.Nd4 loses a knight by force: 1...exd4 (searched ";
    assert!(lines[0].1.starts_with(wanted), "{lines:?}");
}

#[test]
fn nothing_is_weighed_after_a_pass() {
    assert_eq!(told(&format!("{KNIGHT}1. -- Kd7 2. Nd4 *")), []);
}

#[test]
fn the_same_lesson_and_budget_give_the_same_answer() {
    let text = format!("{KNIGHT}1. Nd4 Kd7?? 2. Kg2 exd4 *");
    assert_eq!(weighed(&text), weighed(&text));
}

#[test]
fn a_lesson_without_moves_and_a_finished_game_have_nothing_to_weigh() {
    assert_eq!(told("[Event \"none\"] *"), []);
    let mated = "[SetUp \"1\"]\n[FEN \"7k/6Q1/6K1/8/8/8/8/8 b - - 0 1\"]\n\n*";
    assert_eq!(told(mated), []);
}
