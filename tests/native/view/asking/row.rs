//! Questions in elements of their own: moves in a row, other orders, and where they stay.

use super::*;

#[test]
fn several_moves_are_found_in_a_row_and_the_replies_vary_from_round_to_round() {
    let lesson = lesson(ROW);
    let mut replies = Vec::new();
    let mut state = three(&lesson, 0);
    for _ in 0..4 {
        let (first, told) = step(&lesson, &state, Intent::Typed("Nf3".into()));
        assert_eq!(told.len(), 1, "still open");
        let reply = judged(&first).reply.clone().expect("a reply");
        assert!(!said(&lesson, &first).contains("ready"), "not yet");
        assert_eq!(first.node, node(&lesson, &format!("2.Nf3 {reply}")));
        // Neither the page's reply nor what was found can be taken back.
        assert_eq!(after(&lesson, first.clone(), &[Intent::Back]), first);
        let (second, _) = step(&lesson, &first, Intent::Typed("e3".into()));
        let reply_2 = judged(&second).reply.clone().expect("a reply");
        let right = if reply_2 == "c5" { "c3" } else { "Bd3" };
        let (third, told) = step(&lesson, &second, Intent::Play(right.into()));
        assert_eq!(told[1].how, Some("answered"));
        assert_eq!((third.waits(), judged(&third).tries), (false, 3));
        assert!(said(&lesson, &third).contains("all is ready."));
        replies.push((reply, reply_2));
        state = after(&lesson, third, &[Intent::Again]);
        assert!(state.waits() && state.node == 2 && state.aside.is_empty());
    }
    replies.sort();
    replies.dedup();
    assert_eq!(replies.len(), 3, "{replies:?}");
}

#[test]
fn moves_found_in_another_order_count_and_the_question_goes_on_from_there() {
    let lesson = lesson("1. d4 d5 2. Nf3 Nf6 3. e3 e6 4. Bd3 {well placed.} *");
    let first = after(&lesson, three(&lesson, 0), &[Intent::Typed("e3".into())]);
    assert_eq!(sans(&first), ["e3", "Nf6"]);
    assert!(first.waits() && !first.is_beside());
    assert_eq!(
        after(
            &lesson,
            first.clone(),
            &[Intent::Back, Intent::Home, Intent::Top]
        ),
        first,
        "it stays where it is asked"
    );
    assert_eq!(
        said(&lesson, &first),
        "Right: 2.e3. The reply is Nf6. 1 of 3 found. Your move."
    );
    let (wrong, told) = step(&lesson, &first, Intent::Typed("a3".into()));
    assert_eq!(row(&told[0]), (Some("other"), Some("a3"), 2, None));
    assert!(said(&lesson, &wrong).starts_with("3.a3 is not an answer"));
    assert_eq!(sans(&wrong), ["e3", "Nf6"]);
    let found = after(
        &lesson,
        wrong,
        &[Intent::Typed("Bd3".into()), Intent::Typed("Nf3".into())],
    );
    assert!(!found.waits());
    // The lesson's last move there is another than the reader's.
    assert_eq!(
        said(&lesson, &found),
        "Right: 4.Nf3. The lesson reaches this position by 4.Bd3. well placed."
    );
    let shown = after(&lesson, first, &[Intent::Show(None)]);
    assert_eq!(
        said(&lesson, &shown),
        "The answer: 3.Nf3 e6 4.Bd3. well placed."
    );
}

#[test]
fn all_moves_in_a_row_are_told_when_the_answer_is_shown() {
    let lesson = lesson(ROW);
    let shown = after(&lesson, three(&lesson, 0), &[Intent::Show(None)]);
    assert_eq!(
        said(&lesson, &shown),
        "The answer: 2.Nf3 Nf6 3.e3 e6 4.Bd3. all is ready."
    );
    assert_eq!(shown.node, node(&lesson, "3...e6 4.Bd3"));
}

#[test]
fn a_quiz_stays_at_its_position_until_it_is_settled_and_then_walks() {
    let lesson = lesson(ROW);
    let wish = Wish {
        at: "1...d5",
        accept: "e3 Nf3",
        ..Wish::default()
    };
    let open = quiz(&lesson, &wish, 0);
    let place = follow(&lesson, "2.Nf3_Nf6").expect("a place");
    for intent in [
        Intent::Go(0),
        Intent::Open(4),
        Intent::Enter(place),
        Intent::Back,
        Intent::Top,
        Intent::Next(None),
    ] {
        assert_eq!(
            after(&lesson, open.clone(), std::slice::from_ref(&intent)),
            open,
            "{intent:?}"
        );
    }
    // Accepted, though the lesson holds it nowhere.
    let (right, told) = step(&lesson, &open, Intent::Typed("e3".into()));
    assert_eq!(told[1].how, Some("answered"));
    assert_eq!((right.node, sans(&right)), (2, vec!["e3"]));
    let held = after(
        &lesson,
        open,
        &[Intent::Typed("Nf3".into()), Intent::Next(None)],
    );
    assert_eq!(held.node, node(&lesson, "2...Nf6"));
    // No intent changes a settled question.
    for intent in [Intent::Hint, Intent::Show(None)] {
        assert_eq!(after(&lesson, held.clone(), &[intent]), held);
    }
}

#[test]
fn what_the_author_says_is_said_and_seen_on_the_walk_of_a_settled_quiz_and_not_at_its_question() {
    let lesson = lesson("1. d4 {one.} d5 {two.} 2. Nf3 {three.} Nf6 3. e3 {four.} *");
    let wish = Wish {
        at: "1...d5",
        ..Wish::default()
    };
    let seen = |state: &State| {
        let figure = plyline::view::figure(&Words::default(), &lesson, state);
        (figure.said, figure.is_notice)
    };
    let open = quiz(&lesson, &wish, 0);
    let said = |text: &str, is_seen| (text.to_owned(), is_seen);
    assert_eq!(
        seen(&open),
        said("Black pawn from d7 to d5. Your move.", false)
    );
    let asked = after(&lesson, open, &[Intent::Ask(Command::Comment)]);
    assert_eq!(seen(&asked), said("There is no comment here.", true));
    let mut state = after(&lesson, asked, &[Intent::Typed("Nf3".into())]);
    assert_eq!(seen(&state), said("Right: 2.Nf3. three.", true));
    for (intent, text, is_seen) in [
        (Intent::Next(None), "Black knight from g8 to f6.", false),
        (
            Intent::Next(None),
            "White pawn from e2 to e3. four. The line ends here.",
            true,
        ),
        // Closed, and back at the question, which is the quiz's start.
        (
            Intent::Release,
            "White pawn from e2 to e3. four. The line ends here.",
            false,
        ),
        (Intent::Top, "Black pawn from d7 to d5. two.", true),
        (Intent::Back, "White pawn from d2 to d4. one.", true),
        (Intent::Top, "Black pawn from d7 to d5. two.", true),
        (Intent::Again, "Black pawn from d7 to d5. Your move.", false),
    ] {
        state = after(&lesson, state, std::slice::from_ref(&intent));
        assert_eq!(seen(&state), said(text, is_seen), "{intent:?}");
    }
}

#[test]
fn what_is_typed_at_a_quiz_is_answered_by_what_can_be_done_there() {
    let lesson = lesson(TEXT);
    let wish = Wish {
        at: "2.Nf3",
        ..Wish::default()
    };
    let words = Words::default();
    let typed = |state: &State, text: &str| {
        let meant = actions::meant_at(&words, &lesson, state, text);
        after(&lesson, state.clone(), &[meant])
    };
    let listed = |state: &State| actions::names(&words, &lesson, state);
    let open = quiz(&lesson, &wish, 0);
    assert!(listed(&open).starts_with("hint, show me, again, flip, ask, describe the position,"));
    for text in [
        "hide board",
        "show board",
        "map",
        "to the lesson",
        "start",
        "back",
        "next",
    ] {
        let state = typed(&open, text);
        let said = said(&lesson, &state);
        assert!(
            said.contains("\u{201c}help\u{201d} says what is"),
            "{text}: {said}"
        );
        assert!(!state.shut && !state.map, "{text}");
    }
    let beside = typed(&open, "f6");
    assert!(
        listed(&beside)
            .starts_with("to the question, hint, show me, again, back, next, start, flip,")
    );
    assert_eq!(
        said(&lesson, &typed(&beside, "read the comment")),
        "There is no comment here."
    );
    assert!(
        said(&lesson, &typed(&typed(&beside, "back"), "read the comment")).contains("word-weak.")
    );
    let settled = typed(&typed(&beside, "to the question"), "Nc6");
    assert!(listed(&settled).starts_with("again, back, next, start, flip,"));
    // A lesson has them all.
    let lesson_words = listed(&at(&lesson, "1.e4"));
    assert!(lesson_words.contains("map, ask, hide board, show board, main line only, all lines"));
}
