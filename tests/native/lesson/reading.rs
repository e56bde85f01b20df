//! Reading a text: games, lines, comments, signs, and what happens to what cannot be read.

use crate::support::{codes, lesson, node, read, sans};
use plyline::lesson::Lesson;
use plyline::notation::Comment;
use plyline::text::limits;

fn labels(lesson: &Lesson) -> Vec<(&str, &str)> {
    lesson
        .ids()
        .skip(1)
        .map(|id| (lesson.node(id).san.as_str(), lesson.label(id)))
        .collect()
}

#[test]
fn nodes_count_in_the_order_of_the_text() {
    let game = lesson("1. e4 (1. d4 d5 (1... Nf6)) 1... e5 *");
    assert_eq!(sans(&game), ["e4", "d4", "d5", "Nf6", "e5"]);
    assert_eq!(game.node(5).parent, Some(1));
    assert_eq!(game.node(0).children, [1, 2]);
}

#[test]
fn labels_follow_the_line_that_a_variation_is_written_beside() {
    let game = lesson(
        "1. e4 (1. d4 d5 (1... Nf6 2. c4 (2. Nf3 g6 (2... e6))) 2. c4 (2. Bf4)) (1. c4 (1. g3)) 1... e5 *",
    );
    let wanted = [
        ("e4", ""),
        ("d4", "A"),
        ("d5", "A"),
        ("Nf6", "A1"),
        ("c4", "A1"),
        ("Nf3", "A1a"),
        ("g6", "A1a"),
        ("e6", "A1a1"),
        ("c4", "A"),
        ("Bf4", "A2"),
        ("c4", "B"),
        ("g3", "B1"),
        ("e5", ""),
    ];
    assert_eq!(labels(&game), wanted);
}

#[test]
fn comments_stand_where_the_contract_says() {
    let game = lesson("{a} ;b\n1. e4 {c} (; d\n{e} 1. d4 {f}) {g\n\n  h} 1... e5\n% gone\n;i\n*");
    let said = |id: u32| Comment::join(&game.node(id).comments).unwrap_or_default();
    assert_eq!(said(0), "a b");
    assert_eq!(said(1), "c g\n\nh");
    assert_eq!(Comment::join(&game.node(2).before).as_deref(), Some("d e"));
    assert_eq!(said(2), "f");
    assert_eq!(said(3), "i");
}

#[test]
fn semicolon_comments_on_lines_in_a_row_are_one_comment() {
    let game = lesson("1. e4 ; Ask: what\n; now?\n\n;another\n e5 *");
    assert_eq!(game.node(1).comments.len(), 2);
    assert_eq!(
        game.node(1).ask().map(|ask| ask.prompt.text()),
        Some("what now?")
    );
}

#[test]
fn glyphs_keep_their_order_and_count_once() {
    let game = lesson("1. e4! $14 $1 $254 ($3 1. d4?! +=) 1... e5 $0 *");
    assert_eq!(game.node(1).nags, [1, 14, 254]);
    assert_eq!(
        game.node(2).nags,
        [3, 6, 14],
        "one before the first move belongs to it"
    );
    assert_eq!(game.node(3).nags, [0]);
    assert_eq!(codes(&read("1. e4 $256 $ *")), ["P017", "P017"]);
}

#[test]
fn a_bad_move_ends_its_line_and_a_variation_beside_it_is_read() {
    let read = read("1. e4 e5 2. Nf6 $1 (2. Nf3 Nc6) Nc6 (2... d6) 3. Bb5 *");
    let game = read.lessons[0].as_ref().expect("a lesson");
    assert_eq!(sans(game), ["e4", "e5", "Nf3", "Nc6"]);
    assert_eq!(codes(&read), ["P044"]);
    let unread: Vec<&str> = game
        .unread
        .iter()
        .map(|words| read.source.slice(words.span))
        .collect();
    assert_eq!(unread, ["2. Nf6 $1", "Nc6 (2... d6) 3. Bb5"]);
    assert_eq!(
        game.label(3),
        "",
        "the first child of a node continues its line"
    );
}

#[test]
fn a_bad_move_in_a_variation_leaves_the_line_beside_it_whole() {
    let read = read("1. e4 (1. d5 c5) 1... e5 (1... Qh4 2. Nf3) 2. Nf3 *");
    let game = read.lessons[0].as_ref().expect("a lesson");
    assert_eq!(sans(game), ["e4", "e5", "Nf3"]);
    assert_eq!(codes(&read), ["P044", "P032"]);
    let places: Vec<u32> = game.unread.iter().map(|words| words.after).collect();
    assert_eq!(
        places,
        [1, 2],
        "unread words come after the move that they are beside"
    );
}

#[test]
fn a_game_begins_at_a_tag_after_a_move_or_at_a_move_after_a_marker() {
    let games = |text: &str| -> Vec<Vec<String>> {
        let read = read(text);
        let lessons = read.lessons.iter().flatten();
        lessons
            .map(|game| sans(game).iter().map(|san| (*san).to_owned()).collect())
            .collect()
    };
    assert_eq!(games("1. e4 [Event \"x\"] 1. d4"), [["e4"], ["d4"]]);
    assert_eq!(games("1. e4 * 1. d4 *"), [["e4"], ["d4"]]);
    assert_eq!(
        games("* [Event \"x\"]").len(),
        2,
        "a marker alone and a tag alone are games"
    );
    assert_eq!(games("1. e4 * {said of e4}").len(), 1);
    assert_eq!(games("{only words}").len(), 0);
    assert_eq!(codes(&read("{only words}")), ["P001"]);
}

#[test]
fn the_termination_marker_is_the_result_and_the_tag_is_only_compared() {
    assert_eq!(lesson("[Result \"1-0\"] 1. e4").result, "*");
    assert_eq!(lesson("1. e4 1/2-1/2").result, "1/2-1/2");
    assert_eq!(codes(&read("[Result \"1-0\"] 1. e4 0-1")), ["P023"]);
    let quoted = lesson("1. e4 (1. d4 1-0) 1... e5 *");
    assert_eq!(
        (sans(&quoted).len(), quoted.result),
        (3, "*"),
        "a marker in a variation ends nothing"
    );
}

#[test]
fn a_pass_moves_the_turn_and_the_clocks() {
    use plyline::lesson::rules::{EnPassantForm, fen};
    let game = lesson("1. e4 -- 2. d4 -- *");
    let fens: Vec<String> = game
        .nodes
        .iter()
        .map(|node| fen(&node.position, EnPassantForm::Legal))
        .collect();
    assert_eq!(
        fens[2],
        "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 1 2"
    );
    assert!(fens[4].ends_with(" w KQkq - 1 3"), "{}", fens[4]);
    assert_eq!(codes(&read("1. e4 f6 2. Qh5+ -- *")), ["P018"]);
}

#[test]
fn a_tag_given_twice_counts_once_and_quotes_are_resolved() {
    let read = read(r#"[White "a \"b\" \\ c"] [White "d"] *"#);
    let game = read.lessons[0].as_ref().expect("a lesson");
    let tags: Vec<(&str, &str)> = game
        .tags
        .iter()
        .map(|(name, value)| (&**name, &**value))
        .collect();
    assert_eq!(tags, [("White", r#"a "b" \ c"#)]);
    assert_eq!(codes(&read), ["P025"]);
}

#[test]
fn starts_that_are_no_ordinary_chess_give_no_lesson_but_a_reason() {
    let fen = |fen: &str| format!("[SetUp \"1\"] [FEN \"{fen}\"] 1. e4 *");
    let cases = [
        ("[Variant \"Some other chess\"] 1. e4 *".to_owned(), "P021"),
        (
            fen("bqnb1rkr/pp3ppp/3ppn2/2p5/5P2/P2P4/NPP1P1PP/BQ1BNRKR w HFhf - 2 9"),
            "P021",
        ),
        (fen("nonsense"), "P019"),
        (fen("8/8/8/8/8/8/8/8 w - - 0 1"), "P020"),
        (fen("4k3/8/8/8/8/8/8/8 w - - 0 1"), "P020"),
        (fen("4k3/8/8/8/8/8/4R3/4K3 w - - 0 1"), "P020"),
    ];
    for (text, code) in cases {
        let read = read(&text);
        assert!(read.lessons[0].is_none(), "{text}");
        assert_eq!(codes(&read), [code], "{text}");
    }
}

#[test]
fn the_next_game_is_read_though_one_cannot_be() {
    let read = read("[Variant \"Some other chess\"] 1. e4 * [Event \"x\"] 1. d4 *");
    assert!(read.lessons[0].is_none() && read.lessons[1].is_some());
}

#[test]
fn bad_text_gives_findings_and_the_rest() {
    let cases: &[(&str, &[&str], usize)] = &[
        ("", &["P001"], 0),
        ("\u{0}\u{0}", &["P005", "P001"], 0),
        ("1. e4 \u{0} e5", &["P005"], 2),
        ("1. e4 {never closed", &["P007"], 1),
        ("1. e4 (1. d4 d5", &["P008"], 3),
        ("1. e4 ) e5", &["P015"], 2),
        ("(1. e4) 1. d4", &["P014"], 1),
        ("1. e4 () e5", &["P016"], 2),
        ("[Event x] 1. e4", &["P006"], 1),
        ("1. e4 e5 2. hello 3. d4", &["P011"], 2),
        ("1. e4 e5 3. Nf3 Nc6 4. Bb5", &["P022"], 5),
        ("1. e4 (1. e4 e5) 1... c5", &["P046"], 4),
    ];
    for (text, wanted, moves) in cases {
        let read = read(text);
        let mut seen = codes(&read);
        seen.sort_unstable();
        let mut wanted = wanted.to_vec();
        wanted.sort_unstable();
        assert_eq!(seen, wanted, "{text:?}");
        let count = read
            .lessons
            .iter()
            .flatten()
            .map(|game| game.nodes.len() - 1)
            .sum::<usize>();
        assert_eq!(count, *moves, "{text:?}");
    }
}

#[test]
fn nesting_deeper_than_the_limit_is_told_once_and_passed_over() {
    let deep = format!(
        "1. e4 {}{} e5 *",
        "(1. d4 ".repeat(100_000),
        ")".repeat(100_000)
    );
    let read = read(&deep);
    assert_eq!(
        read.findings
            .iter()
            .filter(|f| f.code.id() == "P009")
            .count(),
        1
    );
    let game = read.lessons[0].as_ref().expect("a lesson");
    assert_eq!(game.lines.len(), limits::NESTING + 1);
    assert_eq!(
        sans(game).last(),
        Some(&"e5"),
        "what follows is still there"
    );
}

#[test]
fn a_hundred_thousand_parentheses_without_moves_are_survived() {
    for text in [
        "(".repeat(100_000),
        ")".repeat(100_000),
        format!("1. e4 {}", "(".repeat(100_000)),
    ] {
        assert!(!read(&text).findings.is_empty());
    }
}

#[test]
fn a_text_over_the_limit_is_not_read_and_says_so() {
    let long = format!("1. e4 {{{}}} *", "x".repeat(20 * 1024 * 1024));
    let read = read(&long);
    assert_eq!(codes(&read), ["P002"]);
    assert!(read.lessons.is_empty());
}

#[test]
fn more_nodes_than_the_limit_are_cut_with_one_finding() {
    let shuffle = "Nf3 Nf6 Ng1 Ng8 ".repeat(limits::NODES / 4 + 10);
    let read = read(&shuffle);
    assert_eq!(codes(&read), ["P010"]);
    let game = read.lessons[0].as_ref().expect("a lesson");
    assert_eq!(game.nodes.len(), limits::NODES);
}

#[test]
fn findings_are_kept_up_to_their_limit_and_one_says_that_there_were_more() {
    let read = read(&"1. e4 ) ".repeat(3_000));
    assert_eq!(read.findings.len(), limits::FINDINGS + 1);
    assert!(codes(&read).contains(&"P003"));
}

#[test]
fn tokens_cover_any_text() {
    for text in [
        "1. e4 {a} ;b\n%c\n(1. d4! $1) [A \"b\\\"c\"] 1/2-1/2",
        "\u{feff}[x \"y\nz] <> \u{1f600} e.p. exd6e.p. 1.e4e5 0-0-0 \u{2026}Nf6 \u{bd}-\u{bd}",
        "[[[\"\"\"]]]{{{}}}((()))$$$***%%%;;;",
    ] {
        let mut at = 0;
        for token in plyline::notation::lex(text) {
            assert_eq!(token.span.from, at, "{text:?}");
            assert!(text.is_char_boundary(token.span.to as usize) && token.span.to > at);
            at = token.span.to;
        }
        assert_eq!(at as usize, text.len(), "{text:?}");
    }
}

#[test]
fn a_locator_names_a_node_by_start_line_or_run() {
    let game = lesson("1. d4 d5 (1... Nf6 2. c4 e6 (2... g6)) 2. c4 e6 3. Nc3 Nf6 *");
    assert_eq!(node(&game, "start"), 0);
    assert_eq!(game.node(node(&game, "line A1")).san, "g6");
    for run in [
        "3.Nc3 Nf6",
        "3.Nc3_Nf6",
        "3. Nc3 3...Nf6",
        "3 Nc3 Nf6",
        "Nc3 Nf6",
        "3\u{2026}Nf6",
    ] {
        assert_eq!(game.node(node(&game, run)).ply, 6, "{run}");
    }
    assert_eq!(game.node(node(&game, "1...Nf6")).ply, 2);
    assert_eq!(
        game.node(node(&game, "b1c3")).ply,
        5,
        "read as moves are read"
    );
}

#[test]
fn a_locator_that_names_none_or_several_says_which() {
    use plyline::lesson::{LocateError, locate};
    let game = lesson("1. d4 d5 (1... Nf6 2. c4 e6) 2. c4 e6 *");
    for run in [
        "", "line Z", "line", "2.c5", "1.c4", "2...c4", "3.c4", "hello", "1.", "d4 c4",
    ] {
        assert_eq!(locate(&game, run), Err(LocateError::None), "{run:?}");
    }
    assert_eq!(locate(&game, "2.c4"), Err(LocateError::Several(vec![4, 6])));
    assert_eq!(locate(&game, "d5 c4"), Ok(6));
}
