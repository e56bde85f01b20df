//! Signs, as the lesson writes them.

use super::given::{becomes, sign};

#[test]
fn signs_are_typed_where_the_lesson_types_them() {
    becomes("1. e4 e5 *", &sign("e4", &[1]), "1. e4! e5 *");
    becomes("1. e4? e5 *", &sign("e4", &[3]), "1. e4!! e5 *");
    becomes(
        "1. e4 e5 = 2. Nf3 *",
        &sign("e4 e5 Nf3", &[14]),
        "1. e4 e5 = 2. Nf3 += *",
    );
    becomes("1. e4! e5 *", &sign("e4", &[]), "1. e4 e5 *");
}

#[test]
fn a_second_sign_of_a_move_and_signs_that_pgn_does_not_type_are_numbers() {
    becomes("1. e4 e5 *", &sign("e4", &[2, 5]), "1. e4? $5 e5 *");
    becomes("1. e4! e5 *", &sign("e4 e5", &[7]), "1. e4! e5 $7 *");
}

#[test]
fn signs_are_numbers_where_the_lesson_has_numbers() {
    becomes("1. e4 $1 e5 *", &sign("e4 e5", &[2]), "1. e4 $1 e5 $2 *");
    becomes("1. e4 e5 *", &sign("e4", &[10]), "1. e4 $10 e5 *");
    becomes("1. e4 $1 $14 e5 *", &sign("e4", &[14]), "1. e4 $14 e5 *");
    becomes("1. e4 $1 e5 *", &sign("e4", &[1, 14]), "1. e4 $1 $14 e5 *");
    becomes(
        "1. e4 $1 {fine} e5 *",
        &sign("e4", &[]),
        "1. e4 {fine} e5 *",
    );
}

#[test]
fn a_sign_before_the_first_move_of_a_variation_is_that_moves() {
    becomes("1. e4 ($1 1. d4) *", &sign("d4", &[]), "1. e4 (1. d4) *");
}
