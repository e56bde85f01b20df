//! Tries at a question by each input, hints, answers that are shown, and what leads after it.

use super::*;

#[test]
fn a_right_move_by_any_hand_settles_the_question_and_says_why() {
    let lesson = lesson(TEXT);
    for intents in hands(Square::B8, Square::C6, "Nc6") {
        let (last, before) = intents.split_last().expect("one");
        let state = after(&lesson, at(&lesson, "2.Nf3"), before);
        let (state, told) = step(&lesson, &state, last.clone());
        assert_eq!(state.node, node(&lesson, "2...Nc6"));
        let rows: Vec<_> = told.iter().map(row).collect();
        assert_eq!(
            rows,
            [
                (Some("right"), Some("Nc6"), 1, None),
                (None, None, 1, Some("answered"))
            ]
        );
        assert!(told[0].fen.as_ref().is_some_and(|fen| fen.contains(" b ")));
        assert_eq!(
            said(&lesson, &state),
            "Right: 2\u{2026}Nc6. the knight c6 because3. word4."
        );
        // And is stepped through like any line.
        let on = after(&lesson, state, &[Intent::Next(None)]);
        assert_eq!(on.node, node(&lesson, "3.Bb5"));
    }
}

#[test]
fn a_fair_move_and_the_one_that_the_lesson_prefers_are_named_with_the_authors_words_and_the_question_stays()
 {
    let lesson = lesson(TEXT);
    for intents in hands(Square::D7, Square::D6, "d6") {
        let state = after(&lesson, at(&lesson, "2.Nf3"), &intents);
        assert_eq!((state.node, state.aside.len(), state.waits()), (3, 0, true));
        assert_eq!(
            said(&lesson, &state),
            "Sound: 2\u{2026}d6 is in the lesson too. word-fair. The lesson prefers 2\u{2026}Nc6. \
             the knight c6 because3. word4."
        );
        assert_eq!((judged(&state).tries, judged(&state).settled), (1, None));
    }
}

#[test]
fn a_move_that_the_lesson_does_not_hold_is_taken_back_and_where_it_stands_is_said_unless_that_answers()
 {
    let tried = |lesson: &Lesson, locator: &str, san: &str| {
        let state = after(lesson, at(lesson, locator), &[Intent::Typed(san.into())]);
        assert!(state.waits() && !state.is_beside(), "it is taken back");
        said(lesson, &state)
    };
    let lesson = lesson("1. Nf3 (1. d4 Nf6 2. Nf3) Nf6 {Ask: Where to?} 2. c4 *");
    assert_eq!(
        tried(&lesson, "1.Nf3 Nf6", "a3"),
        "2.a3 is not an answer of this lesson."
    );
    assert_eq!(
        tried(&lesson, "1.Nf3 Nf6", "d4"),
        "2.d4 is not an answer of this lesson. It leads to the position after 2.Nf3."
    );
    let past = crate::support::lesson("1. d4 d5 {Ask: Which?} 2. Nf3 Nf6 3. Ng1 Ng8 4. Nc3 *");
    assert_eq!(
        tried(&past, "1...d5", "Nc3"),
        "2.Nc3 is not an answer of this lesson."
    );
}

#[test]
fn an_illegal_try_is_no_try_and_is_told_each_time() {
    let lesson = lesson(TEXT);
    for intents in hands(Square::A8, Square::A6, "Ra6") {
        let mut state = at(&lesson, "2.Nf3");
        for _ in 0..2 {
            let (last, before) = intents.split_last().expect("one");
            state = after(&lesson, state, before);
            let (next, told) = step(&lesson, &state, last.clone());
            let rows: Vec<_> = told.iter().map(row).collect();
            assert_eq!(rows, [(Some("illegal"), None, 0, None)], "{intents:?}");
            state = next;
        }
        assert!(state.waits() && matches!(state.notice, Some(Notice::Refused(..))));
    }
    let (state, told) = step(
        &lesson,
        &at(&lesson, "2.Nf3"),
        Intent::Typed("hello".into()),
    );
    assert!(told.is_empty());
    assert!(matches!(state.notice, Some(Notice::NotUnderstood(_))));
}

#[test]
fn a_choice_that_is_right_beside_others_names_them_with_their_conditions() {
    let lesson = lesson(TEXT);
    let state = State::new(&lesson, 0, Color::White);
    let opened = after(
        &lesson,
        state,
        &[
            Intent::Open(node(&lesson, "3.Bb5")),
            Intent::Typed("a6".into()),
        ],
    );
    assert_eq!(
        said(&lesson, &opened),
        "Right: 3\u{2026}a6, if you dare. because-bb5. word-a6. Also right: 3\u{2026}Nf6, if not."
    );
}

#[test]
fn hints_go_from_the_authors_words_to_the_idea_the_piece_the_square_and_the_move_and_the_last_can_be_heard_again()
 {
    let lesson = lesson(TEXT);
    let mut state = at(&lesson, "2.Nf3");
    let mut heard = Vec::new();
    for _ in 0..5 {
        state = after(&lesson, state, &[Intent::Hint]);
        heard.push(said(&lesson, &state));
    }
    assert_eq!(
        heard,
        [
            "a hint3 on b8.",
            "Something is attacked and has no guard.",
            "The knight on b8 moves.",
            "It goes to c6.",
            "The move is 2\u{2026}Nc6."
        ]
    );
    let again = after(&lesson, state, &[Intent::Typed("Ra6".into()), Intent::Hint]);
    assert_eq!(again.notice, Some(Notice::Hint(Hint::Move("Nc6".into()))));
}

#[test]
fn a_hint_and_the_answer_say_that_they_have_led_back_from_a_refutation() {
    let lesson = lesson(TEXT);
    let beside = after(&lesson, at(&lesson, "2.Nf3"), &[Intent::Typed("f6".into())]);
    let hinted = after(&lesson, beside.clone(), &[Intent::Hint]);
    assert_eq!(
        said(&lesson, &hinted),
        "Back at the question. a hint3 on b8."
    );
    assert!(hinted.waits() && !hinted.is_beside());
    let more = after(&lesson, hinted, &[Intent::Hint]);
    assert_eq!(
        said(&lesson, &more),
        "Something is attacked and has no guard."
    );
    // Also where there is no more to say than before.
    let known = [
        Intent::Hint,
        Intent::Hint,
        Intent::Typed("f6".into()),
        Intent::Hint,
    ];
    assert_eq!(
        said(&lesson, &after(&lesson, more, &known)),
        "Back at the question. The move is 2\u{2026}Nc6."
    );
    let shown = after(&lesson, beside, &[Intent::Show(None)]);
    assert!(said(&lesson, &shown).starts_with("Back at the question. The answer: 2\u{2026}Nc6. "));
}

#[test]
fn an_answer_is_shown_from_anywhere_and_told_as_such() {
    let lesson = lesson(TEXT);
    for (state, intent) in [
        (at(&lesson, "2.Nf3"), Intent::Show(None)),
        (at(&lesson, "start"), Intent::Show(Some(3))),
    ] {
        let (state, told) = step(&lesson, &state, intent);
        assert_eq!(state.node, node(&lesson, "2...Nc6"));
        assert_eq!(row(&told[0]), (None, None, 0, Some("shown")));
        assert_eq!(told.len(), 1);
        assert_eq!(
            said(&lesson, &state),
            "The answer: 2\u{2026}Nc6. the knight c6 because3. word4."
        );
        assert_eq!(judged(&state).settled, Some(How::Shown));
    }
}

#[test]
fn one_word_opens_all_answers_and_each_is_told() {
    let lesson = lesson(TEXT);
    let (state, told) = step(&lesson, &at(&lesson, "2.Nf3"), Intent::OpenAll);
    assert!(!state.waits() && state.node == 3);
    assert_eq!(told.len(), 3);
    assert!(told.iter().all(|told| told.how == Some("shown")));
    assert!(lesson.ids().all(|id| !state.is_closed(&lesson, id)));
    assert_eq!(
        after(&lesson, state, &[Intent::Next(None)]).node,
        node(&lesson, "2...Nc6")
    );
    let quiz = quiz(&lesson, &Wish::default(), 0);
    let (state, told) = step(&lesson, &quiz, Intent::OpenAll);
    assert_eq!((state.waits(), told.len()), (false, 1));
}

#[test]
fn nothing_that_a_reader_does_leads_past_an_open_question_and_a_script_opens_it() {
    let lesson = lesson(TEXT);
    let past = node(&lesson, "4.Ba4");
    let stop = node(&lesson, "2.Nf3");
    let start = at(&lesson, "start");
    assert_eq!(at(&lesson, "4.Ba4").node, stop, "as `at` says");
    let run = address(
        &lesson,
        &Place {
            node: past,
            aside: Vec::new(),
        },
    );
    let enter = |run: &str| Intent::Enter(follow(&lesson, run).expect("a place"));
    for intent in [
        Intent::Go(past),
        enter(&run),
        enter("2.Nf3_Nc6_3.Bb5"),
        enter("2.Nf3_b6"),
    ] {
        let state = after(&lesson, start.clone(), std::slice::from_ref(&intent));
        assert_eq!((state.node, state.aside.len()), (stop, 0), "{intent:?}");
        let on = after(&lesson, state, &[Intent::Next(None), Intent::Next(Some(1))]);
        assert_eq!(on.node, stop);
    }
    let (opened, told) = step(&lesson, &start, Intent::Open(past));
    assert_eq!((opened.node, told.len()), (past, 2));
    // A question that is gone to stays.
    let (there, told) = step(&lesson, &start, Intent::Open(stop));
    assert_eq!((there.node, there.waits(), told.len()), (stop, true, 0));
}

#[test]
fn to_settle_a_question_draws_the_page_anew_and_is_a_jump_for_no_address() {
    let lesson = lesson(TEXT);
    let state = at(&lesson, "2.Nf3");
    let (_, effects) = effects(&lesson, &state, Intent::Typed("Nc6".into()));
    assert!(effects.contains(&Effect::Opened));
    assert!(!effects.iter().any(|effect| effect.is_jump(&lesson)));
}

#[test]
fn an_answer_that_chooses_another_line_and_one_shown_far_away_are_jumps() {
    let lesson = lesson(TEXT);
    let last = after(
        &lesson,
        at(&lesson, "start"),
        &[Intent::Open(node(&lesson, "3.Bb5"))],
    );
    let there = node(&lesson, "2.Nf3");
    for (state, intent, from, to) in [
        (last, Intent::Typed("Nf6".into()), "3.Bb5", "3...Nf6"),
        (
            at(&lesson, "start"),
            Intent::Show(Some(there)),
            "start",
            "2...Nc6",
        ),
    ] {
        let (_, effects) = effects(&lesson, &state, intent);
        let [from, to] = [from, to].map(|locator| node(&lesson, locator));
        let moved = Effect::Moved { from, to };
        assert!(moved.is_jump(&lesson));
        assert!(effects.contains(&Effect::Opened) && effects.contains(&moved));
    }
}
