//! A weaker move at a question: what the lesson holds against it is played by the reader, step by
//! step, and the question waits meanwhile.

use super::*;

/// What a reader sees: the caption, and which of back, next and home can be used.
fn seen(lesson: &Lesson, state: &State) -> (String, [bool; 3]) {
    let words = Words::default();
    let figure = plyline::view::figure(&words, lesson, state);
    let drawn = markup::html(&[markup::figure(&words, &figure)]);
    let (_, caption) = drawn.split_once("<figcaption>").expect("a caption");
    let (caption, _) = caption.split_once("</figcaption>").expect("its end");
    let mut text = String::new();
    for part in caption.split('<') {
        text.push_str(part.split_once('>').map_or(part, |(_, text)| text));
    }
    let home = drawn.contains("data-do=\"home\"");
    (text, [figure.can_back, figure.can_next, home])
}

fn tried(lesson: &Lesson) -> State {
    after(lesson, at(lesson, "2.Nf3"), &[Intent::Typed("f6".into())])
}

#[test]
fn a_weaker_move_stays_on_the_board_with_the_lessons_reply_by_any_hand() {
    let lesson = lesson(TEXT);
    for intents in hands(Square::F7, Square::F6, "f6") {
        let (last, before) = intents.split_last().expect("one");
        let before = after(&lesson, at(&lesson, "2.Nf3"), before);
        let (state, told) = step(&lesson, &before, last.clone());
        assert_eq!(
            told.iter().map(row).collect::<Vec<_>>(),
            [(Some("weaker"), Some("f6"), 1, None)]
        );
        assert_eq!(sans(&state), ["f6", "Nxe5"]);
        assert!(state.waits() && state.is_beside());
        assert_eq!(
            said(&lesson, &state),
            "Weaker: 2\u{2026}f6. word-weak. The reply is Nxe5. \u{201c}next\u{201d} shows how it goes on."
        );
        let slides = plyline::view::slides(&effects(&lesson, &before, last.clone()).1);
        assert_eq!(slides, [(Square::F3, Square::E5)], "the reply");
    }
}

#[test]
fn next_and_back_lead_through_the_refutation_and_each_move_is_named_once_and_seen() {
    let lesson = lesson(TEXT);
    let mut state = tried(&lesson);
    let caption = "weaker: after 2\u{2026}f6";
    assert_eq!(
        seen(&lesson, &state),
        (
            format!("{caption} 3.Nxe5, Black to move"),
            [true, true, true]
        )
    );
    let steps = [
        (
            Intent::Next(None),
            "Black pawn from f6 takes on e5.",
            " \u{2026} 3\u{2026}fxe5, White to move",
            true,
            (Square::F6, Square::E5),
        ),
        (
            Intent::Next(None),
            "White queen from d1 to h5, check. The line ends here.",
            " \u{2026} 4.Qh5+, Black to move",
            false,
            (Square::D1, Square::H5),
        ),
        (
            Intent::Back,
            "Black pawn from f6 takes on e5.",
            " \u{2026} 3\u{2026}fxe5, White to move",
            true,
            (Square::H5, Square::D1),
        ),
        (
            Intent::Back,
            "White knight from f3 takes on e5.",
            " 3.Nxe5, Black to move",
            true,
            (Square::E5, Square::F6),
        ),
    ];
    for (intent, heard, caption_ends, goes_on, slide) in steps {
        let (next, effects) = effects(&lesson, &state, intent);
        assert_eq!(said(&lesson, &next), heard);
        assert_eq!(
            seen(&lesson, &next),
            (format!("{caption}{caption_ends}"), [true, goes_on, true])
        );
        assert_eq!(plyline::view::slides(&effects), [slide]);
        assert!(next.waits() && edge::current(&lesson, &next).next.len() == usize::from(goes_on));
        state = next;
    }
    // The author's words about a move are read with it.
    let state = after(&lesson, state, &[Intent::Back]);
    assert_eq!(
        said(&lesson, &state),
        "Black pawn from f7 to f6. word-weak."
    );
    let home = after(&lesson, state, &[Intent::Back]);
    assert_eq!(
        seen(&lesson, &home),
        (
            "after 2.Nf3, Black to move".to_owned(),
            [true, false, false]
        )
    );
    assert_eq!((home.node, home.aside.len(), home.waits()), (3, 0, true));
    assert_eq!(after(&lesson, home, &[Intent::Back]).node, 2);
}

#[test]
fn at_the_end_of_a_refutation_next_changes_nothing() {
    let lesson = lesson(TEXT);
    let end = after(
        &lesson,
        tried(&lesson),
        &[Intent::Next(None), Intent::Next(None)],
    );
    assert_eq!(sans(&end), ["f6", "Nxe5", "fxe5", "Qh5+"]);
    assert_eq!(after(&lesson, end.clone(), &[Intent::Next(None)]), end);
}

#[test]
fn one_word_leads_back_to_the_question_from_anywhere_in_a_refutation() {
    let lesson = lesson(TEXT);
    let mut state = tried(&lesson);
    for _ in 0..3 {
        let (home, told) = step(&lesson, &state, Intent::Home);
        assert_eq!((home.node, home.aside.len(), home.waits()), (3, 0, true));
        assert!(told.is_empty() && said(&lesson, &home).ends_with("Your move."));
        let tried = after(&lesson, home, &[Intent::Typed("Nc6".into())]);
        assert_eq!((judged(&tried).tries, tried.waits()), (2, false));
        state = after(&lesson, state, &[Intent::Next(None)]);
    }
}

#[test]
fn a_move_of_the_refutation_by_hand_is_a_step_in_it() {
    let lesson = lesson(TEXT);
    let (state, told) = step(&lesson, &tried(&lesson), Intent::Typed("fxe5".into()));
    assert!(told.is_empty());
    assert_eq!(said(&lesson, &state), "Black pawn from f6 takes on e5.");
    let next = after(&lesson, state, &[Intent::Next(None)]);
    assert_eq!(sans(&next), ["f6", "Nxe5", "fxe5", "Qh5+"]);
}

#[test]
fn another_move_in_a_refutation_is_no_try_at_the_question_and_is_said_to_be_in_no_lesson() {
    let lesson = lesson(TEXT);
    let (aside, told) = step(&lesson, &tried(&lesson), Intent::Typed("Nc6".into()));
    assert!(told.is_empty() && aside.waits(), "{told:?}");
    assert_eq!(
        said(&lesson, &aside),
        "Black knight from b8 to c6. Not in the lesson."
    );
    assert_eq!(
        seen(&lesson, &aside),
        (
            "not in the lesson: after 2\u{2026}f6 3.Nxe5 Nc6, White to move".to_owned(),
            [true, false, true]
        )
    );
    let (refused, told) = step(&lesson, &aside, Intent::Play("Ke4".into()));
    assert!(
        told.is_empty() && matches!(refused.notice, Some(Notice::Refused(..))),
        "{told:?}"
    );
    // And back leads into the refutation again.
    let back = after(&lesson, refused, &[Intent::Back, Intent::Next(None)]);
    assert_eq!(sans(&back), ["f6", "Nxe5", "fxe5"]);
}

#[test]
fn a_refutation_ends_where_it_asks_in_turn() {
    let lesson = lesson(
        "1. e4 {Ask: How?} e5 (1... f6? 2. d4 {word-d4.} {Ask: Which? Because: because.} e5 3. dxe5 fxe5) 2. Nf3 *",
    );
    let state = after(&lesson, at(&lesson, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!(sans(&state), ["f6", "d4"]);
    assert_eq!(
        said(&lesson, &state),
        "Weaker: 1\u{2026}f6. The reply is d4. word-d4. There is a question here."
    );
    assert_eq!(after(&lesson, state.clone(), &[Intent::Next(None)]), state);
    let again = after(&lesson, state, &[Intent::Back, Intent::Next(None)]);
    assert_eq!(
        said(&lesson, &again),
        "White pawn from d2 to d4. word-d4. There is a question here."
    );
    let asks =
        crate::support::lesson("1. e4 {Ask: How?} e5 (1... f6? {Ask: Why not?} 2. d4) 2. Nf3 *");
    let state = after(&asks, at(&asks, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!(sans(&state), ["f6"]);
}

#[test]
fn where_the_lesson_holds_nothing_against_a_weaker_move_no_reply_is_said() {
    let lesson = lesson("1. e4 {Ask: How?} e5 (1... f6? {loosens}) 2. Nf3 *");
    let state = after(&lesson, at(&lesson, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!(sans(&state), ["f6"]);
    assert_eq!(said(&lesson, &state), "Weaker: 1\u{2026}f6. loosens");
    assert!(!seen(&lesson, &state).1[1]);
}

#[test]
fn a_pass_in_a_refutation_is_no_reply() {
    let lesson = lesson("1. e4 {Ask: How?} e5 (1... f6? 2. -- g5 3. Qh5#) 2. Nf3 *");
    let state = after(&lesson, at(&lesson, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!((sans(&state), &judged(&state).reply), (vec!["f6"], &None));
}

#[test]
fn in_a_row_a_weaker_move_is_played_out_where_it_was_tried_and_the_row_goes_on_from_there() {
    let lesson = lesson("1. d4 d5 2. Nf3 Nf6 3. e3 (3. b4? e6 4. b5 c5) 3... e6 4. Bd3 *");
    let second = after(&lesson, three(&lesson, 0), &[Intent::Typed("Nf3".into())]);
    let weak = after(&lesson, second.clone(), &[Intent::Typed("b4".into())]);
    assert_eq!((weak.node, sans(&weak)), (second.node, vec!["b4", "e6"]));
    let end = after(&lesson, weak, &[Intent::Next(None), Intent::Next(None)]);
    assert_eq!(sans(&end), ["b4", "e6", "b5", "c5"]);
    let home = after(&lesson, end, &[Intent::Home]);
    assert_eq!((home.node, home.aside.len()), (second.node, 0));
    let found = after(
        &lesson,
        home,
        &[Intent::Typed("e3".into()), Intent::Typed("Bd3".into())],
    );
    assert_eq!((found.waits(), judged(&found).tries), (false, 4));
}

#[test]
fn a_sideline_of_a_refutation_is_walked_by_who_plays_it() {
    let lesson =
        lesson("1. e4 {Ask: How?} e5 (1... f6? 2. d4 (2. Nc3 {slower} d5) 2... e6) 2. Nf3 *");
    let state = after(
        &lesson,
        at(&lesson, "1.e4"),
        &[Intent::Typed("f6".into()), Intent::Back],
    );
    let side = after(&lesson, state, &[Intent::Typed("Nc3".into())]);
    assert_eq!(said(&lesson, &side), "White knight from b1 to c3. slower.");
    assert_eq!(
        sans(&after(&lesson, side, &[Intent::Next(None)])),
        ["f6", "Nc3", "d5"]
    );
}

#[test]
fn the_pages_reply_in_a_row_slides() {
    let lesson = lesson(ROW);
    let before = three(&lesson, 0);
    let (_, effects) = effects(&lesson, &before, Intent::Typed("Nf3".into()));
    let [slide] = plyline::view::slides(&effects)[..] else {
        panic!("one piece slides");
    };
    assert!([(Square::G8, Square::F6), (Square::E7, Square::E6)].contains(&slide));
}
