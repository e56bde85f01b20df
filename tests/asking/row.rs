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
    let lesson = lesson("1. d4 d5 2. Nf3 Nf6 3. e3 e6 4. Bd3 *");
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
        "Right: 2.e3. The reply is Nf6. Your move."
    );
    let (wrong, told) = step(&lesson, &first, Intent::Typed("a3".into()));
    assert_eq!(row(&told[0]), (Some("other"), Some("a3"), 2, None));
    assert!(said(&lesson, &wrong).starts_with("3.a3 is legal"));
    assert_eq!(sans(&wrong), ["e3", "Nf6"]);
    let found = after(
        &lesson,
        wrong,
        &[Intent::Typed("Bd3".into()), Intent::Typed("Nf3".into())],
    );
    assert!(!found.waits());
    let shown = after(&lesson, first, &[Intent::Show(None)]);
    assert_eq!(
        said(&lesson, &shown).split(" all").next(),
        Some("The answer: 3.Nf3 e6 4.Bd3.")
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
    // What comes to a settled question changes nothing.
    for intent in [Intent::Hint, Intent::Show(None)] {
        assert_eq!(after(&lesson, held.clone(), &[intent]), held);
    }
}
