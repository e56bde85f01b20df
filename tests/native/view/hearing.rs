//! What a reader hears: marks, comments after a move, and answers to questions about the position.

use crate::support::lesson;
use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::text::{Findings, Source};
use plyline::view::{
    Command, Intent, State, Words, actions, carry, figure, page, resume, spoken, update,
};
use shakmaty::{Color, Square};

fn begin(lesson: &Lesson) -> State {
    State::new(lesson, 0, Color::White)
}

/// The state after these intents.
fn after(lesson: &Lesson, intents: &[Intent]) -> State {
    intents.iter().fold(begin(lesson), |state, intent| {
        update(lesson, &state, intent.clone(), Letters::ENGLISH).0
    })
}

fn heard(lesson: &Lesson, intents: &[Intent]) -> String {
    spoken::said(&Words::default(), lesson, &after(lesson, intents))
}

/// What is heard of the comment after 1.e4.
fn comment(text: &str) -> String {
    let lesson = lesson(&format!("1. e4 {{{text}}} *"));
    heard(
        &lesson,
        &[Intent::Next(None), Intent::Ask(Command::Comment)],
    )
}

#[test]
fn marks_are_said_in_one_sentence_after_the_words_of_the_comment() {
    assert_eq!(
        comment("threatens mate on @!h7, and the pawn on @?d5 falls."),
        "threatens mate on h7, and the pawn on d5 falls. Marked: h7, a strong square; d5, a weak square."
    );
    assert_eq!(
        comment("the plan @!b4-b5"),
        "the plan b4\u{2013}b5. Marked: the arrow from b4 to b5, a plan to play."
    );
    assert_eq!(
        comment("the knight goes @!f3-d2-c4, against @?c6-c5!"),
        "the knight goes f3\u{2013}d2\u{2013}c4, against c6\u{2013}c5! \
         Marked: the way from f3 through d2 to c4, a plan to play; the arrow from c6 to c5, a plan to stop."
    );
}

#[test]
fn a_mark_is_said_once_and_one_that_says_only_its_square_not_again() {
    assert_eq!(
        comment("look at @e4, at @!e5 and again at @!e5."),
        "look at e4, at e5 and again at e5. Marked: e5, a strong square."
    );
    assert_eq!(comment("look at @e4."), "look at e4.");
}

/// What is heard of a question that is typed in a position.
fn answer(fen: &str, text: &str) -> String {
    answer_in(&Words::default(), fen, text)
}

pub(super) fn answer_in(words: &Words, fen: &str, text: &str) -> String {
    let lesson = lesson(&format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n*"));
    let intent = actions::meant_at(words, &lesson, &begin(&lesson), text);
    spoken::said(words, &lesson, &after(&lesson, &[intent]))
}

pub(super) const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
/// The knight on c3 is pinned by the bishop on b4, the bishop on e3 by the rook on e8.
const PINS: &str = "3qrk2/8/8/8/1b1p4/2N1B3/8/R3K3 w - - 0 1";

#[test]
fn off_at_first_a_comment_is_named_and_on_it_is_read_after_the_move() {
    let lesson = lesson("{It begins.} 1. e4 {A step.} e5 (1... c5 {Aside.}) 2. Nf3 *");
    let next = || Intent::Next(None);
    assert_eq!(
        heard(&lesson, &[next()]),
        "White pawn from e2 to e4, with a comment. 2 moves go on from here: 1...e5 and 1...c5."
    );
    let on = [Intent::Aloud(true), next()];
    assert_eq!(
        heard(&lesson, &on[..1]),
        "Comments are read after each move, until \u{201c}comments on request\u{201d}."
    );
    assert_eq!(
        heard(&lesson, &on),
        "White pawn from e2 to e4. A step. 2 moves go on from here: 1...e5 and 1...c5."
    );
    let more = [&on[..], &[next(), next()]].concat();
    assert_eq!(
        heard(&lesson, &more),
        "White knight from g1 to f3. The line ends here."
    );
    let back = [&on[..], &[Intent::Top]].concat();
    assert_eq!(heard(&lesson, &back), "The start of the lesson. It begins.");
    let off = [&on[..], &[Intent::Aloud(false)]].concat();
    assert_eq!(heard(&lesson, &off), "Comments are read on request.");
}

#[test]
fn an_open_question_is_asked_after_the_comment_and_tells_no_answer() {
    let lesson = lesson("1. e4 {A step.} {Ask: How? Because: It is so.} e5 {Done.} *");
    let on = [Intent::Aloud(true), Intent::Next(None)];
    let asked = "White pawn from e2 to e4. A step. How? Your move.";
    assert_eq!(heard(&lesson, &on), asked);
    let comment = [&on[..], &[Intent::Ask(Command::Comment)]].concat();
    assert_eq!(heard(&lesson, &comment), "A step. How? Your move.");
    assert_eq!(
        heard(&lesson, &[Intent::Next(None)]),
        "White pawn from e2 to e4, with a comment. How? Your move."
    );
}

#[test]
fn whether_comments_are_read_outlives_the_core() {
    let lesson = lesson("1. e4 {A step.} *");
    let carried = carry(&after(&lesson, &[Intent::Aloud(true)]));
    let mut state = begin(&lesson);
    resume(&lesson, &mut state, &carried, None);
    assert!(state.aloud);
}

#[test]
fn the_switch_has_a_word_for_each_state_and_the_other_is_listed() {
    let lesson = lesson("1. e4 *");
    let words = Words::default();
    let off = begin(&lesson);
    for (text, on) in [("read comments", true), ("Comments on request.", false)] {
        let meant = actions::meant_at(&words, &lesson, &off, text);
        assert_eq!(meant, Intent::Aloud(on));
    }
    let names = |state: &State| actions::names(&words, &lesson, state);
    assert!(names(&off).contains("read comments") && !names(&off).contains("on request"));
    let on = names(&after(&lesson, &[Intent::Aloud(true)]));
    assert!(on.contains("comments on request") && !on.contains("read comments"));
}

#[test]
fn where_pieces_are_is_told_for_a_kind_a_side_or_both() {
    assert_eq!(
        answer(START, "where is the white queen"),
        "White: queen d1."
    );
    assert_eq!(
        answer(START, "Where are the knights?"),
        "White: knight b1, knight g1; Black: knight b8, knight g8."
    );
    assert_eq!(
        answer(PINS, "where is the white queen"),
        "Not on the board: white queen."
    );
    assert_eq!(
        answer(START, "where am I"),
        "The start of the lesson, White to move."
    );
}

#[test]
fn a_square_typed_alone_is_a_move_where_it_is_legal_and_else_a_question_too() {
    assert_eq!(
        answer(START, "e4"),
        "White pawn from e2 to e4. Not in the lesson."
    );
    assert_eq!(
        answer(START, "d8"),
        "No white pawn can reach d8. d8, black queen."
    );
    assert_eq!(answer(START, "what is on d8"), "d8, black queen.");
    assert_eq!(answer(START, "David eight"), "d8, black queen.");
}

#[test]
fn what_is_pinned_is_told_with_what_pins_it() {
    assert_eq!(
        answer(PINS, "what is pinned"),
        "White knight c3 is pinned to the king by black bishop b4. \
         White bishop e3 is pinned to the king by black rook e8."
    );
    assert_eq!(
        answer(PINS, "is the bishop pinned"),
        "White bishop e3 is pinned to the king by black rook e8. Black bishop b4 is not pinned."
    );
    assert_eq!(
        answer(PINS, "is the black knight pinned"),
        "Not on the board: black knight."
    );
    assert_eq!(answer(START, "what is pinned"), "Nothing is pinned.");
}

#[test]
fn an_attacker_or_a_guard_that_is_pinned_is_said_to_be_so() {
    assert_eq!(
        answer(PINS, "what attacks d4"),
        "d4 is attacked by white bishop e3 (pinned to the king). d4 is guarded by black queen d8."
    );
    assert_eq!(
        answer(PINS, "what guards the rook a1"),
        "Nothing guards a1."
    );
    assert_eq!(
        answer(PINS, "what attacks the queen on e3"),
        "Not on the board: queen e3. e3, white bishop."
    );
}

#[test]
fn material_is_counted_by_piece_and_compared_in_pawns() {
    assert_eq!(
        answer(START, "material"),
        "White: queen, 2 rooks, 2 bishops, 2 knights, 8 pawns; \
         Black: queen, 2 rooks, 2 bishops, 2 knights, 8 pawns. \
         Counted 1, 3, 3, 5 and 9, White has 39 and Black 39: level."
    );
    assert_eq!(
        answer("4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", "what is the material?"),
        "White: pawn; Black: king. Counted 1, 3, 3, 5 and 9, White has 1 and Black 0: White is 1 ahead."
    );
}

#[test]
fn legal_moves_are_told_for_the_side_to_move() {
    let knight = "g1, white knight. It can go to f3 and h3.";
    assert_eq!(answer(START, "moves of the knight on g1"), knight);
    let both = "b1, white knight. It can go to a3 and c3. ".to_owned() + knight;
    assert_eq!(answer(START, "where can the knight go"), both);
    assert_eq!(
        answer(START, "moves of the black queen"),
        "d8, black queen. The other side is to move."
    );
    assert_eq!(
        answer(PINS, "moves from c3"),
        "c3, white knight. It cannot move."
    );
    assert_eq!(answer(START, "moves from e4"), "e4, empty.");
    let all = answer(START, "legal moves");
    assert!(all.contains(knight) && !all.contains("cannot"), "{all}");
}

#[test]
fn what_is_no_question_is_answered_with_what_can_be_asked() {
    for text in [
        "what does the knight attack",
        "why is the queen on d1",
        "where is e4",
    ] {
        let said = answer(START, text);
        assert!(
            said.starts_with(&format!(
                "\u{201c}{text}\u{201d} is no move, and no question"
            )),
            "{said}"
        );
        assert!(
            said.ends_with("\u{201c}help\u{201d} says what is."),
            "{said}"
        );
    }
    let help = answer(START, "help");
    assert!(help.contains("where is the white queen"), "{help}");
    assert!(
        help.ends_with("the moves from here, where this is, help."),
        "{help}"
    );
}

#[test]
fn what_stands_before_a_queen_is_pinned_to_her_where_a_bishop_or_a_rook_attacks() {
    let fen = "3qk3/8/5n2/6B1/8/8/3P4/3QK3 b - - 0 1";
    assert_eq!(
        answer(fen, "what is pinned"),
        "Black knight f6 is pinned to the queen by white bishop g5."
    );
    assert_eq!(
        answer(fen, "what attacks e4"),
        "e4 is attacked by black knight f6 (pinned to the queen)."
    );
}

#[test]
fn a_comment_and_what_follows_it_are_two_sentences() {
    let lesson = lesson("1. e4 {A step} e5 (1... c5) *");
    let on = [Intent::Aloud(true), Intent::Next(None)];
    assert_eq!(
        heard(&lesson, &on),
        "White pawn from e2 to e4. A step. 2 moves go on from here: 1...e5 and 1...c5."
    );
}

#[test]
fn off_the_lesson_where_says_where_it_was_left_and_how_many_moves_ago() {
    let lesson = lesson("1. e4 e5 *");
    let play = |word: &str| Intent::Play(word.to_owned());
    let way = [Intent::Next(None), play("d5"), play("exd5")];
    let at = |count: usize| {
        heard(
            &lesson,
            &[&way[..count], &[Intent::Ask(Command::Where)]].concat(),
        )
    };
    assert_eq!(at(1), "On the main line, after 1.e4, Black to move.");
    assert_eq!(
        at(2),
        "On the main line, after 1.e4. Moves since then, not in the lesson: 1."
    );
    assert_eq!(
        at(3),
        "On the main line, after 1.e4. Moves since then, not in the lesson: 2."
    );
}

#[test]
fn a_typed_word_with_two_states_says_which_it_is_now() {
    let lesson = lesson("1. e4 e5 (1... c5) *");
    let words = Words::default();
    let mut state = begin(&lesson);
    for (text, said) in [
        ("map", "The map is closed."),
        ("map", "The map is open."),
        ("hide board", "The board is hidden."),
        ("hide board", "The board is hidden."),
        ("show board", "The board is shown."),
        ("main line only", "Main line only."),
        ("all lines", "All lines."),
    ] {
        let meant = actions::meant_at(&words, &lesson, &state, text);
        state = update(&lesson, &state, meant, Letters::ENGLISH).0;
        // One that comes again differs by a space that is neither seen nor heard.
        let heard = spoken::said(&words, &lesson, &state);
        assert_eq!(heard.trim_end_matches('\u{a0}'), said, "{text}");
    }
    assert!(!state.shut && state.alone.is_none() && state.map);
}

#[test]
fn a_piece_and_a_square_are_a_move_where_it_is_legal_and_else_a_question() {
    let knight = "White knight from g1 to f3. Not in the lesson.";
    for text in ["knight f3", "Knight to f3", "knight felix three"] {
        assert_eq!(answer(START, text), knight, "{text}");
    }
    assert_eq!(
        answer(START, "pawn e4"),
        "White pawn from e2 to e4. Not in the lesson."
    );
    assert_eq!(answer(START, "knight f3?"), "f3, empty.");
    assert_eq!(answer(START, "knight d5"), "d5, empty.");
}

#[test]
fn what_is_said_of_a_try_stays_in_sight_until_the_next_while_the_hand_is_heard() {
    let lesson = lesson("1. e4 {Ask: How?} e5 *");
    let way = [
        Intent::Next(None),
        Intent::Play("d5".to_owned()),
        Intent::Square(Square::C7),
    ];
    let remark = "1\u{2026}d5 is not an answer of this lesson.";
    let shown = |count: usize| figure(&Words::default(), &lesson, &after(&lesson, &way[..count]));
    assert_eq!(
        (shown(2).said.as_str(), shown(2).remark.as_str()),
        (remark, "")
    );
    let held = shown(3);
    assert!(held.is_notice);
    assert_eq!(held.remark, remark);
    assert_eq!(
        held.said,
        "c7, black pawn, in hand. It can go to c6 and c5."
    );
    let next = [&way[..], &[Intent::Square(Square::C5)]].concat();
    assert_eq!(
        heard(&lesson, &next),
        "1\u{2026}c5 is not an answer of this lesson."
    );
}

#[test]
fn a_board_is_named_by_its_lesson_and_nothing_is_heard_before_the_reader_acts() {
    let source = Source::new("a.pgn", "[Event \"A small trap\"]\n\n1. e4 *");
    let lesson = lesson(source.text());
    let state = begin(&lesson);
    let words = Words::default();
    let page = page(&words, &lesson, &state, &Findings::default(), &source, &[]);
    assert_eq!(page.figure.name, "A small trap");
    assert_eq!(page.figure.said, "");
    let next = after(&lesson, &[Intent::Next(None)]);
    assert_eq!(
        figure(&words, &lesson, &next).said,
        "White pawn from e2 to e4. The line ends here."
    );
}

#[test]
fn a_curved_apostrophe_is_read_as_a_straight_one() {
    assert_eq!(answer(START, "what\u{2019}s on d8"), "d8, black queen.");
}

#[test]
fn german_questions_get_german_answers() {
    let words = german();
    for (text, said) in [
        ("wo steht die weiße Dame?", "Weiß: Dame d1."),
        (
            "wo sind die Springer",
            "Weiß: Springer b1, Springer g1; Schwarz: Springer b8, Springer g8.",
        ),
        (
            "was greift d3 an",
            "d3 wird angegriffen von: weißer Bauer c2 und weißer Bauer e2.",
        ),
        (
            "was deckt den Läufer auf f1",
            "f1 wird gedeckt von: weißer König e1.",
        ),
        ("was ist gefesselt", "Nichts ist gefesselt."),
        (
            "ist der weiße König gefesselt",
            "Weißer König e1 ist nicht gefesselt.",
        ),
        (
            "Züge des Springers auf g1",
            "g1, weißer Springer. Mögliche Felder: f3 und h3.",
        ),
        (
            "wohin kann der Springer auf g1 gehen",
            "g1, weißer Springer. Mögliche Felder: f3 und h3.",
        ),
        ("Kommentar", "Hier gibt es keinen Kommentar."),
        ("wo bin ich", "Der Anfang der Lektion, Weiß am Zug."),
        ("where is the black king", "Schwarz: König e8."),
    ] {
        assert_eq!(answer_in(&words, START, text), said, "{text}");
    }
    let said = answer_in(&words, START, "Material");
    assert!(
        said.ends_with("hat Weiß 39 und Schwarz 39: gleich viel."),
        "{said}"
    );
    for text in ["was greift die Dame an", "warum steht die Dame auf d1"] {
        let said = answer_in(&words, START, text);
        assert!(
            said.contains("ist kein Zug und keine Frage"),
            "{text}: {said}"
        );
    }
}

/// The words of www/words/de.js.
fn german() -> Words {
    let file = include_str!("../../../www/words/de.js");
    let lines = file.lines().filter_map(|line| line.strip_prefix("  "));
    let pairs = lines.filter_map(|line| line.split_once(": \""));
    Words::with(
        pairs.map(|(name, text)| (name.to_owned(), text.trim_end_matches("\",").to_owned())),
    )
}
