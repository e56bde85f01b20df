//! New words are written as the lesson is written.

use super::given::{becomes, keep};

#[test]
fn numbers_have_the_spaces_and_dots_that_others_have() {
    becomes("1.e4 e5 *", &keep("e4 e5", "Nf3"), "1.e4 e5 2.Nf3 *");
    becomes("1.e4 e5 *", &keep("e4", "c5"), "1.e4 e5 (1...c5) *");
    becomes(
        "1. e4 (1. d4) 1... e5 *",
        &keep("", "c4"),
        "1. e4 (1. d4) (1. c4) 1... e5 *",
    );
    becomes("e4 e5 *", &keep("e4 e5", "Nf3"), "e4 e5 Nf3 *");
    becomes(
        "1. e4 {a} e5 {b} 2. Nf3 *",
        &keep("", "d4"),
        "1. e4 {a} (1. d4) e5 {b} 2. Nf3 *",
    );
}

#[test]
fn variations_begin_lines_of_their_own_where_they_do() {
    becomes(
        "1. e4 e5\n  (1... c5)\n2. Nf3 Nc6\n  (2... d6)\n3. Bb5 *\n",
        &keep("e4", "e6"),
        "1. e4 e5\n  (1... c5)\n  (1... e6)\n2. Nf3 Nc6\n  (2... d6)\n3. Bb5 *\n",
    );
    becomes(
        "1. e4 e5\n  (1... c5)\n2. Nf3 Nc6 3. Bb5 *\n",
        &keep("e4 e5 Nf3", "d6"),
        "1. e4 e5\n  (1... c5)\n2. Nf3 Nc6\n  (2... d6)\n3. Bb5 *\n",
    );
}

#[test]
fn each_move_begins_a_line_where_each_does() {
    becomes(
        "1. e4 e5\n2. Nf3 Nc6\n*\n",
        &keep("e4 e5 Nf3 Nc6", "Bb5 a6"),
        "1. e4 e5\n2. Nf3 Nc6\n3. Bb5 a6\n*\n",
    );
}

#[test]
fn line_ends_are_those_of_the_text() {
    becomes(
        "1. e4 e5\r\n2. Nf3 Nc6\r\n*\r\n",
        &keep("e4 e5 Nf3 Nc6", "Bb5"),
        "1. e4 e5\r\n2. Nf3 Nc6\r\n3. Bb5\r\n*\r\n",
    );
}

#[test]
fn pieces_have_the_letters_of_the_lesson() {
    becomes(
        "[Letters \"de\"]\n\n1. e4 e5 2. Sf3 *",
        &keep("e4 e5 Nf3", "Nc6"),
        "[Letters \"de\"]\n\n1. e4 e5 2. Sf3 Sc6 *",
    );
    becomes(
        "1. e4 e5 2. Sf3 Sc6 3. Lb5 *",
        &keep("e4 e5 Nf3 Nc6 Bb5", "Nf6"),
        "1. e4 e5 2. Sf3 Sc6 3. Lb5 Sf6 *",
    );
}

#[test]
fn after_a_comment_to_the_end_of_its_line_new_words_begin_another() {
    becomes(
        "1. e4 ; wide\n*",
        &keep("e4", "e5"),
        "1. e4 ; wide\n1... e5\n*",
    );
    becomes(
        "1. e4 (1. d4 ; calm\n) *",
        &keep("d4", "d5"),
        "1. e4 (1. d4 ; calm\n1... d5\n) *",
    );
}

#[test]
fn a_full_line_is_broken_and_a_long_one_that_is_not_stays_whole() {
    let knights = |count: usize| -> String {
        let pairs = ["Nf3 Nf6", "Ng1 Ng8"];
        let rows = (1..=count).map(|at| format!("{at}. {}", pairs[(at - 1) % 2]));
        rows.collect::<Vec<_>>().join(" ")
    };
    let moves = |count: usize| {
        ["Nf3 Nf6 Ng1 Ng8"; 20]
            .join(" ")
            .split(' ')
            .take(count * 2)
            .collect::<Vec<_>>()
            .join(" ")
    };
    let (full, long) = (knights(7), knights(12));
    assert!(full.len() + 9 > 79 && full.len() <= 79 && long.len() > 79);
    becomes(
        &format!("{full} *"),
        &keep(&moves(7), "Ng1"),
        &format!("{full}\n8. Ng1 *"),
    );
    becomes(
        &format!("{long} *"),
        &keep(&moves(12), "Nf3"),
        &format!("{long} 13. Nf3 *"),
    );
}
