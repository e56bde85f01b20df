//! Moves that enter, change, go.

use super::given::{becomes, change, drop, keep, made, paste};

#[test]
fn a_move_at_the_end_of_a_line_goes_on_with_it() {
    becomes("1. e4 *", &keep("e4", "e5"), "1. e4 e5 *");
    becomes("1. e4 e5", &keep("e4 e5", "Nf3 Nc6"), "1. e4 e5 2. Nf3 Nc6");
    becomes("1. e4 (1. d4) *", &keep("d4", "d5"), "1. e4 (1. d4 d5) *");
    becomes(
        "1. e4 {wide} *",
        &keep("e4", "e5"),
        "1. e4 {wide} 1... e5 *",
    );
}

#[test]
fn a_move_beside_another_begins_a_variation_after_the_last_one_there() {
    becomes(
        "1. e4 e5 *",
        &keep("", "d4 d5"),
        "1. e4 (1. d4 d5) 1... e5 *",
    );
    becomes(
        "1. e4 (1. d4) (1. c4) 1... e5 *",
        &keep("", "f4"),
        "1. e4 (1. d4) (1. c4) (1. f4) 1... e5 *",
    );
    becomes(
        "1. e4 $1 {best} 1... e5 *",
        &keep("", "d4"),
        "1. e4 $1 {best} (1. d4) 1... e5 *",
    );
}

#[test]
fn a_variation_in_a_variation_gets_one_of_its_own() {
    becomes(
        "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *",
        &keep("e4 c5", "c3"),
        "1. e4 e5 (1... c5 2. Nf3 (2. c3)) 2. Nf3 *",
    );
}

#[test]
fn moves_that_are_there_are_followed() {
    let changed = made("1. e4 e5 2. Nf3 *", &keep("", "e4 e5 Nf3"));
    assert_eq!(
        (changed.splices.len(), changed.at.join(" ")),
        (0, "e4 e5 Nf3".to_owned())
    );
    becomes("1. e4 e5 *", &keep("", "e4 e5 Nf3"), "1. e4 e5 2. Nf3 *");
}

#[test]
fn where_the_line_goes_on_with_unread_words_a_move_stands_beside_the_first_of_them() {
    becomes(
        "1. e4 e5 2. Nf6 Nc6 *",
        &keep("e4 e5", "Nf3"),
        "1. e4 e5 2. Nf6 (2. Nf3) Nc6 *",
    );
}

#[test]
fn a_lesson_begins_in_an_empty_text_before_a_result_and_after_tags() {
    becomes("", &keep("", "e4"), "1. e4 *");
    becomes("\n", &keep("", "e4 e5"), "1. e4 e5 *\n");
    becomes("*\n", &keep("", "e4"), "1. e4 *\n");
    becomes(
        "[Side \"black\"]\n\n*\n",
        &keep("", "e4"),
        "[Side \"black\"]\n\n1. e4 *\n",
    );
    becomes(
        "[Side \"black\"]\n",
        &keep("", "e4"),
        "[Side \"black\"]\n\n1. e4\n",
    );
    becomes("{All of it.} *", &keep("", "e4"), "{All of it.} 1. e4 *");
}

#[test]
fn a_lesson_from_a_position_has_its_numbers() {
    let tags = "[FEN \"4k3/8/8/8/8/8/4P3/4K3 b - - 0 7\"]\n\n";
    becomes(
        &format!("{tags}*"),
        &keep("", "Kd7 e4"),
        &format!("{tags}7... Kd7 8. e4 *"),
    );
}

#[test]
fn another_move_takes_the_place_of_one_and_what_can_be_played_stays() {
    becomes(
        "1. e4 e5 2. Nf3! {develops} Nc6 3. Bb5 *",
        &change("e4 e5 Nf3", "Nc3"),
        "1. e4 e5 2. Nc3! {develops} Nc6 3. Bb5 *",
    );
    let changed = made(
        "1. e4 e5 2. Bc4 Nc6 3. Bxf7+ Kxf7 *",
        &change("e4 e5 Bc4", "d4"),
    );
    assert_eq!(changed.text, "1. e4 e5 2. d4 Nc6 3. Bxf7+ Kxf7 *");
    assert_eq!(changed.unread, ["3.", "Bxf7+", "Kxf7"]);
}

#[test]
fn a_dropped_move_goes_with_all_that_comes_after_it() {
    becomes("1. e4 e5 2. Nf3 Nc6 *", &drop("e4 e5 Nf3"), "1. e4 e5 *");
    becomes("1. e4 e5 2. Nf3 Nc6 *", &drop("e4"), "*");
    becomes("1. e4 e5", &drop("e4"), "*");
    becomes(
        "1. e4 e5 (1... c5 2. Nf3) 2. Nc3 *",
        &drop("e4 c5"),
        "1. e4 e5 2. Nc3 *",
    );
    becomes(
        "1. e4 e5 (1... c5 2. Nf3 d6) 2. Nc3 *",
        &drop("e4 c5 Nf3"),
        "1. e4 e5 (1... c5) 2. Nc3 *",
    );
}

#[test]
fn a_variation_on_lines_of_its_own_goes_with_its_lines() {
    becomes(
        "1. e4 e5\n  (1... c5)\n2. Nc3 *\n",
        &drop("e4 c5"),
        "1. e4 e5\n2. Nc3 *\n",
    );
}

#[test]
fn where_a_move_is_dropped_the_first_variation_beside_it_goes_on_with_the_line() {
    becomes(
        "1. e4 e5 {open} (1... c5 2. Nf3) (1... e6) 2. Nc3 *",
        &drop("e4 e5"),
        "1. e4 c5 (1... e6) 2. Nf3 *",
    );
    becomes(
        "1. e4 e5 ({sharp} 1... c5 $5 {Sicilian} 2. Nf3) 2. Nc3 *",
        &drop("e4 e5"),
        "1. e4 c5 {sharp} $5 {Sicilian} 2. Nf3 *",
    );
    becomes(
        "1. e4 e5 (1... c5 (1... e6 2. d4) 2. Nf3) *",
        &drop("e4 c5"),
        "1. e4 e5 (1... e6 2. d4) *",
    );
}

#[test]
fn a_paste_enters_with_its_words_and_what_is_there_is_not_written_twice() {
    becomes(
        "1. e4 e5 2. Nf3 *",
        &paste("e4 e5", "2. Nf3 Nc6 $1 {natural} (2... d6 3. d4) 3. Bb5"),
        "1. e4 e5 2. Nf3 Nc6! {natural} (2... d6 3. d4) 3. Bb5 *",
    );
    becomes(
        "1. e4 e5 2. Nf3 *",
        &paste("e4 e5 Nf3", "1. e4 (1. d4 d5) e5 2. Nf3 Nc6"),
        "1. e4 (1. d4 d5) 1... e5 2. Nf3 Nc6 *",
    );
    let changed = made("1. e4 *", &paste("e4", "e5 2. Ke3 Nc6"));
    assert_eq!(
        (changed.text.as_str(), changed.unread.join(" ")),
        ("1. e4 e5 *", "2. Ke3 Nc6".to_owned())
    );
}

#[test]
fn a_paste_goes_on_where_its_position_stands_already_and_the_other_road_has_a_link() {
    becomes(
        "1. d4 d5 2. c4 e6 *",
        &paste("", "1. c4 e6 2. d4 d5 {known} 3. Nc3"),
        "1. d4 (1. c4 e6 2. d4 d5 {known} {This is the position after\n[2...e6](#1.d4_d5_2.c4_e6).}) 1... d5 2. c4 e6 3. Nc3 *",
    );
    // A position that its own line repeats is not joined.
    becomes(
        "1. Nf3 Nf6 *",
        &paste("Nf3 Nf6", "2. Ng1 Ng8 3. e4"),
        "1. Nf3 Nf6 2. Ng1 Ng8 3. e4 *",
    );
}

#[test]
fn of_several_games_only_the_one_that_is_meant_changes() {
    let text = "[Event \"One\"]\n\n1. e4 *\n\n[Event \"Two\"]\n\n1. d4 *\n";
    let changed = plyline::edit::edit(text, 1, &keep("d4", "d5")).expect("a change");
    assert_eq!(changed.text, text.replace("1. d4", "1. d4 d5"));
}

#[test]
fn sentences_enter_the_moves_that_they_name() {
    let text = "1. e4 c6 2. d4 d5 3. exd5 cxd5 *";
    let said = "Here 4.Bd3 is the plan: after 4...Nc6 5.c3 the bishop looks at h7, and 4.c4 is another story.";
    let changed = made(text, &paste("e4 c6 d4 d5 exd5 cxd5", said));
    assert_eq!(
        changed.text,
        "1. e4 c6 2. d4 d5 3. exd5 cxd5 4. Bd3 (4. c4) 4... Nc6 5. c3 *"
    );
    // Of an empty lesson too, and a move that cannot be played is named.
    let said = "White begins with 1.e4, and after 1...c6 2.d4 d5 the centre is closed; but not 2.Nf6 at once.";
    let changed = made("*", &paste("", said));
    assert_eq!(changed.text, "1. e4 c6 2. d4 d5 *");
    assert_eq!(changed.unread, ["2.Nf6"]);
}

#[test]
fn a_paste_is_read_in_the_lessons_letters_and_in_english_ones_where_more_can_be_played_so() {
    // In French R is the king, D the queen, C the knight (PGN standard, section 17).
    let text = "[Letters \"fr\"]\n\n1. e4 e5 *";
    becomes(
        text,
        &paste("e4 e5", "2. Cf3 {le cavalier} Cc6"),
        "[Letters \"fr\"]\n\n1. e4 e5 2. Cf3 {le cavalier} 2... Cc6 *",
    );
    becomes(
        text,
        &paste("e4 e5", "2. Nf3 {the knight} Nc6"),
        "[Letters \"fr\"]\n\n1. e4 e5 2. Cf3 {the knight} 2... Cc6 *",
    );
}
