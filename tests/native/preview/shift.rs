//! Changes of a text as values: made, turned back, and made after each other.

use crate::support::chance::Chance;
use plyline::preview::{Hunk, applied, difference, inverse, past};

fn text(chance: &mut Chance, words: usize) -> String {
    let word = |chance: &mut Chance| {
        chance.pick(&[
            "e4 ",
            "c5 ",
            "(Nf3) ",
            "{ä\u{1f40c}} ",
            "d6\n",
            "\n",
            "*\r\n",
        ])
    };
    (0..words).map(|_| word(chance)).collect()
}

#[test]
fn a_difference_turns_one_text_into_the_other_and_back() {
    let mut chance = Chance::new(7);
    for _ in 0..500 {
        let (length, other) = (chance.below(30), chance.below(30));
        let (old, new) = (text(&mut chance, length), text(&mut chance, other));
        let hunks = difference(&old, &new);
        assert_eq!(applied(&old, &hunks).as_deref(), Some(new.as_str()));
        assert_eq!(
            applied(&new, &inverse(&hunks)).as_deref(),
            Some(old.as_str())
        );
    }
    assert_eq!(difference("same", "same"), []);
}

#[test]
fn of_a_long_line_only_the_words_that_differ_are_a_change() {
    let hunks = difference("1. e4 c5 2. Nf3 d6 *\n", "1. e4! c5 2. Nf3 d6 3. d4 *\n");
    let told: Vec<(usize, &str, &str)> = hunks
        .iter()
        .map(|it| (it.from, it.was.as_str(), it.now.as_str()))
        .collect();
    assert_eq!(told, [(5, "", "!"), (19, "", "3. d4 ")]);
}

#[test]
fn two_changes_of_one_text_come_to_the_same_in_either_order_or_touch() {
    let mut chance = Chance::new(11);
    let mut apart = 0;
    for _ in 0..2000 {
        let base = text(&mut chance, 12);
        let change = |chance: &mut Chance| {
            let mut new = base.clone();
            let places: Vec<usize> = base.char_indices().map(|(at, _)| at).collect();
            if !places.is_empty() {
                let at = chance.pick(&places);
                new.insert_str(at, "X ");
            }
            difference(&base, &new)
        };
        let (one, two) = (change(&mut chance), change(&mut chance));
        if let Some((one_after, two_after)) = past(&one, &two) {
            apart += 1;
            let first = applied(&base, &one).and_then(|it| applied(&it, &two_after));
            let second = applied(&base, &two).and_then(|it| applied(&it, &one_after));
            assert!(
                first.is_some() && first == second,
                "{base:?} {one:?} {two:?}"
            );
        }
    }
    assert!(apart > 1000, "{apart}");
    let hunk = |from, was: &str, now: &str| {
        vec![Hunk {
            from,
            was: was.to_owned(),
            now: now.to_owned(),
        }]
    };
    assert_eq!(past(&hunk(3, "", "a"), &hunk(3, "", "b")), None);
    assert_eq!(past(&hunk(3, "xyz", "a"), &hunk(5, "z", "b")), None);
    assert_eq!(applied("abc", &hunk(1, "x", "y")), None);
}
