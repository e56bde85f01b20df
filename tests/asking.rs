//! Questions as a reader meets them, in a lesson and in an element of their own: what each hand
//! leads to, what stays closed, and what thousands of intents by chance do not change.

mod support;

use plyline::ask::asked::{Hint, How};
use plyline::ask::{Question, Wish};
use plyline::edge::{self, Told};
use plyline::lesson::address::{address, follow};
use plyline::lesson::{Lesson, NodeId, Place};
use plyline::markup;
use plyline::notation::{Letters, comment};
use plyline::text::{Findings, Source};
use plyline::view::command::LIST;
use plyline::view::{Asking, Effect, Intent, Judged, Notice, State, Words, spoken};
use shakmaty::{Color, Square};
use support::intents::{Chance, any_intent};
use support::{lesson, node};

/// Each verdict is at hand at the question, and the lesson goes on behind two more. Each word that
/// the author says is said once, and names the node that it is of.
const TEXT: &str = "1. e4 e5 2. Nf3 {Why? @e5} {Ask: What guards @e5? Hint: a *hint3* on @!b8. Because: the knight @!c6 because3.} \
    Nc6 {word4.} (2... d6 {word-fair.} 3. d4) (2... f6? {word-weak.} 3. Nxe5 fxe5 4. Qh5+) \
    3. Bb5 {Ask: And now? Because: because-bb5.} a6 {word-a6.\n\nChoose: if you *dare*} (3... Nf6 {Choose: if not} 4. O-O) \
    4. Ba4 (4. Bxc6 {Ask: Which pawn? Because: because-bxc6.} dxc6 (4... bxc6? {word-bxc6.})) Nf6 {word-end.} *";

fn step(lesson: &Lesson, state: &State, intent: Intent) -> (State, Vec<Told>) {
    let (after, _) = plyline::view::update(lesson, state, intent, Letters::ENGLISH);
    let mut told = Vec::new();
    edge::tell(lesson, state, &after, &mut told);
    (after, told)
}

fn after(lesson: &Lesson, state: State, intents: &[Intent]) -> State {
    let step = |state, intent: &Intent| step(lesson, &state, intent.clone()).0;
    intents.iter().fold(state, step)
}

fn at(lesson: &Lesson, locator: &str) -> State {
    State::new(lesson, node(lesson, locator), Color::White)
}

/// The element of a question, as the page begins it.
fn quiz(lesson: &Lesson, wish: &Wish, seed: u32) -> State {
    let question = Question::new(lesson, wish, Letters::ENGLISH).expect("a question");
    let node = question.node;
    State {
        asking: Some(Box::new(Asking::new(question, seed))),
        is_quiz: true,
        ..State::at_question(lesson, node, Color::White)
    }
}

fn judged(state: &State) -> &Judged {
    match &state.notice {
        Some(Notice::Judged(judged)) => judged,
        other => panic!("no verdict: {other:?}"),
    }
}

fn said(lesson: &Lesson, state: &State) -> String {
    spoken::said(&Words::default(), lesson, state)
}

fn sans(state: &State) -> Vec<&str> {
    state.aside.iter().map(|tried| tried.san.as_str()).collect()
}

/// The same move by each hand: clicks, a drag, the field, a script.
fn hands(from: Square, to: Square, san: &str) -> [Vec<Intent>; 4] {
    [
        vec![Intent::Square(from), Intent::Square(to)],
        vec![Intent::Move(from, to)],
        vec![Intent::Typed(san.to_owned())],
        vec![Intent::Play(san.to_owned())],
    ]
}

/// What is told of a try: verdict, move, tries, and how it settled.
fn row(told: &Told) -> (Option<&str>, Option<&str>, u32, Option<&str>) {
    (told.verdict, told.played.as_deref(), told.tries, told.how)
}

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
            "Right: 2\u{2026}Nc6. the knight c6, strong square because3."
        );
        // And is walked like any line.
        let on = after(&lesson, state, &[Intent::Next(None)]);
        assert_eq!(on.node, node(&lesson, "3.Bb5"));
    }
}

#[test]
fn a_fair_move_is_said_to_be_sound_with_the_authors_words_and_the_question_stays() {
    let lesson = lesson(TEXT);
    for intents in hands(Square::D7, Square::D6, "d6") {
        let state = after(&lesson, at(&lesson, "2.Nf3"), &intents);
        assert_eq!((state.node, state.aside.len(), state.waits()), (3, 0, true));
        assert_eq!(
            said(&lesson, &state),
            "Sound: 2\u{2026}d6 is in the lesson too, which prefers another move here. word-fair."
        );
        assert_eq!((judged(&state).tries, judged(&state).settled), (1, None));
    }
}

#[test]
fn a_weaker_move_is_played_out_and_back_leads_home_move_by_move() {
    let lesson = lesson(TEXT);
    for intents in hands(Square::F7, Square::F6, "f6") {
        let mut state = after(&lesson, at(&lesson, "2.Nf3"), &intents);
        assert_eq!(sans(&state), ["f6", "Nxe5", "fxe5", "Qh5+"]);
        assert!(state.waits() && state.is_beside());
        assert_eq!(
            said(&lesson, &state),
            "Weaker: 2\u{2026}f6. word-weak. The board shows what the lesson holds against it."
        );
        for left in [3, 2, 1, 0] {
            state = after(&lesson, state, &[Intent::Back]);
            assert_eq!((state.node, state.aside.len()), (3, left));
            assert!(!said(&lesson, &state).contains("Not in the lesson"));
        }
        assert!(state.waits() && !state.is_beside());
        assert_eq!(after(&lesson, state, &[Intent::Back]).node, 2);
    }
}

#[test]
fn home_leads_back_to_the_question_at_once_and_the_board_of_the_refutation_is_no_question() {
    let lesson = lesson(TEXT);
    let beside = after(
        &lesson,
        at(&lesson, "2.Nf3"),
        &[Intent::Typed("f6".into()), Intent::Back],
    );
    // A try there is none of the question.
    let (tried, told) = step(&lesson, &beside, Intent::Typed("Nc3".into()));
    assert!(told.is_empty() && tried.waits(), "{told:?}");
    assert_eq!(sans(&tried).last(), Some(&"Nc3"));
    let (refused, told) = step(&lesson, &tried, Intent::Play("Ke4".into()));
    assert!(
        told.is_empty() && matches!(refused.notice, Some(Notice::Refused(_))),
        "{told:?}"
    );
    let home = after(&lesson, refused, &[Intent::Home]);
    assert_eq!((home.node, home.aside.len(), home.waits()), (3, 0, true));
    assert_eq!(
        judged(&after(&lesson, home, &[Intent::Typed("Nc6".into())])).tries,
        2
    );
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
        "2.a3 is legal, but not covered here."
    );
    assert_eq!(
        tried(&lesson, "1.Nf3 Nf6", "d4"),
        "2.d4 is legal, but not covered here. It leads to the position after 2.Nf3."
    );
    let behind = support::lesson("1. d4 d5 {Ask: Which?} 2. Nf3 Nf6 3. Ng1 Ng8 4. Nc3 *");
    assert_eq!(
        tried(&behind, "1...d5", "Nc3"),
        "2.Nc3 is legal, but not covered here."
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
        assert!(state.waits() && matches!(state.notice, Some(Notice::Refused(_))));
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
        "Right: 3\u{2026}a6. because-bb5. Also right: 3\u{2026}Nf6, if not."
    );
}

#[test]
fn hints_go_from_the_authors_words_to_piece_square_and_move_and_the_last_can_be_heard_again() {
    let lesson = lesson(TEXT);
    let mut state = at(&lesson, "2.Nf3");
    let mut heard = Vec::new();
    for _ in 0..4 {
        state = after(&lesson, state, &[Intent::Hint]);
        heard.push(said(&lesson, &state));
    }
    assert_eq!(
        heard,
        [
            "a hint3 on b8, strong square.",
            "The knight on b8 moves.",
            "It goes to c6.",
            "The move is 2\u{2026}Nc6."
        ]
    );
    let again = after(&lesson, state, &[Intent::Typed("Ra6".into()), Intent::Hint]);
    assert_eq!(again.notice, Some(Notice::Hint(Hint::Move("Nc6".into()))));
    // In the middle of a refutation a hint leads home.
    let beside = after(
        &lesson,
        at(&lesson, "2.Nf3"),
        &[Intent::Typed("f6".into()), Intent::Hint, Intent::Hint],
    );
    assert_eq!(said(&lesson, &beside), "The knight on b8 moves.");
    assert!(!beside.is_beside());
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
            "The answer: 2\u{2026}Nc6. the knight c6, strong square because3."
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
fn nothing_that_a_reader_does_leads_behind_an_open_question_and_a_script_opens_it() {
    let lesson = lesson(TEXT);
    let behind = node(&lesson, "4.Ba4");
    let stop = node(&lesson, "2.Nf3");
    let start = at(&lesson, "start");
    assert_eq!(at(&lesson, "4.Ba4").node, stop, "as `at` says");
    let run = address(
        &lesson,
        &Place {
            node: behind,
            aside: Vec::new(),
        },
    );
    let enter = |run: &str| Intent::Enter(follow(&lesson, run).expect("a place"));
    for intent in [
        Intent::Go(behind),
        enter(&run),
        enter("2.Nf3_Nc6_3.Bb5"),
        enter("2.Nf3_b6"),
    ] {
        let state = after(&lesson, start.clone(), std::slice::from_ref(&intent));
        assert_eq!((state.node, state.aside.len()), (stop, 0), "{intent:?}");
        let on = after(&lesson, state, &[Intent::Next(None), Intent::Next(Some(1))]);
        assert_eq!(on.node, stop);
    }
    let (opened, told) = step(&lesson, &start, Intent::Open(behind));
    assert_eq!((opened.node, told.len()), (behind, 2));
    // A question that is gone to stays.
    let (there, told) = step(&lesson, &start, Intent::Open(stop));
    assert_eq!((there.node, there.waits(), told.len()), (stop, true, 0));
}

#[test]
fn a_refutation_ends_where_it_asks_in_turn() {
    let lesson = lesson(
        "1. e4 {Ask: How?} e5 (1... f6? 2. d4 {Ask: Which? Because: because.} e5 3. dxe5 fxe5) 2. Nf3 *",
    );
    let state = after(&lesson, at(&lesson, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!(sans(&state), ["f6", "d4"]);
    // Where the lesson holds nothing against it, it says so of nothing.
    let bare = support::lesson("1. e4 {Ask: How?} e5 (1... f6? {loosens}) 2. Nf3 *");
    let state = after(&bare, at(&bare, "1.e4"), &[Intent::Typed("f6".into())]);
    assert_eq!(said(&bare, &state), "Weaker: 1\u{2026}f6. loosens");
}

const ROW: &str = "1. d4 d5 {Ask: Develop? Because: all is ready.} 2. Nf3 Nf6 (2... e6 3. e3 c6 4. Bd3) 3. e3 e6 (3... c5 4. c3) 4. Bd3 *";

fn three(lesson: &Lesson, seed: u32) -> State {
    let wish = Wish {
        at: "1...d5",
        moves: "3",
        ..Wish::default()
    };
    quiz(lesson, &wish, seed)
}

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

/// All that a reader can see, hear, or ask a script for, without what answers a try or a wish.
fn told_in_all(lesson: &Lesson, state: &State, source: &Source) -> Vec<String> {
    let words = Words::default();
    let quiet = State {
        notice: None,
        ..state.clone()
    };
    let none = Findings::default();
    let page = plyline::view::page(&words, lesson, &quiet, &none, source, &[]);
    let mut all = vec![markup::html(&markup::lesson(&page))];
    for (_, command) in LIST {
        let asks = State {
            notice: Some(Notice::Answer(*command)),
            ..state.clone()
        };
        all.push(spoken::said(&words, lesson, &asks));
    }
    let current = edge::current(lesson, state);
    all.extend(current.comment);
    all.extend(current.next);
    all
}

/// The words of a comment that are said of one node alone.
fn own_words(text: &str) -> Vec<String> {
    let letters = |letter: char| !letter.is_ascii_alphanumeric() && letter != '-';
    let words = text.split(letters).filter(|word| {
        ["word", "hint", "because"]
            .iter()
            .any(|kind| word.starts_with(kind) && word.len() > kind.len())
    });
    words.map(str::to_owned).collect()
}

fn check(lesson: &Lesson, state: &State, source: &Source, intent: &Intent) {
    assert_eq!(
        state.within(lesson, state.node),
        state.node,
        "{intent:?} led behind an open question"
    );
    assert_eq!(state.waits(), state.is_closed(lesson, state.node));
    let asked = state.asking.as_ref().map(|asking| asking.question.node);
    assert!(asked.is_none_or(|asked| asked == state.node));
    let hidden = state.hidden(lesson);
    let all = told_in_all(lesson, state, source);
    for id in lesson.ids() {
        let is_hidden = hidden[id as usize];
        let ids = [format!("data-go=\"{id}\""), format!("id=\"m{id}\"")];
        assert!(
            !is_hidden || ids.iter().all(|id| !all[0].contains(id)),
            "{intent:?}: {id} is hidden and drawn"
        );
        for said in &lesson.node(id).comments {
            let ask = comment::ask(&said.text).filter(|_| state.is_closed(lesson, id));
            let secret = match ask {
                Some(ask) => ask.hint.unwrap_or_default() + " " + &ask.because.unwrap_or_default(),
                None if is_hidden => said.text.clone(),
                None => String::new(),
            };
            for word in own_words(&secret) {
                let tells = all.iter().find(|text| text.contains(&word));
                assert_eq!(tells, None, "{intent:?}: {word} is told");
            }
        }
    }
    if state.waits() && state.aside.is_empty() {
        let prompt = &state.asking.as_ref().expect("it waits").question.prompt;
        let board = plyline::view::board(lesson, state);
        assert_eq!(board.marks, comment::marks(prompt));
    }
}

#[test]
fn whatever_comes_no_reader_is_behind_an_open_question_and_none_of_it_is_told() {
    let lesson = lesson(TEXT);
    let source = Source::new("t", TEXT);
    let mut chance = Chance(521_288_629);
    let (mut beside, mut settled) = (0, 0);
    for _ in 0..24 {
        let mut state = State::new(&lesson, 0, Color::White);
        for turn in 0..120 {
            let intent = match chance.below(4) {
                // A move of the lesson, which chance alone seldom finds.
                0 => {
                    let id = chance.below(lesson.nodes.len() as u64) as NodeId;
                    Intent::Typed(lesson.node(id).san.to_string())
                }
                1 => {
                    let node = chance.below(lesson.nodes.len() as u64) as NodeId;
                    Intent::Enter(Place {
                        node,
                        aside: Vec::new(),
                    })
                }
                _ => any_intent(&mut chance, &lesson),
            };
            // Else little would be left to find.
            if intent == Intent::OpenAll && turn < 100 {
                continue;
            }
            let (next, told) = step(&lesson, &state, intent.clone());
            assert!(next.settled.starts_with(&state.settled), "settled stays");
            let count = told.iter().filter(|told| told.how.is_some()).count();
            assert_eq!(count, next.settled.len() - state.settled.len());
            let mut once = next.settled.clone();
            once.sort_unstable();
            once.dedup();
            assert_eq!(once.len(), next.settled.len(), "each once");
            check(&lesson, &next, &source, &intent);
            beside += u32::from(next.waits() && next.is_beside());
            settled += count;
            state = next;
        }
    }
    assert!(beside > 5 && settled > 40, "{beside}, {settled}");
}

#[test]
fn whatever_comes_a_quiz_stands_where_it_asks_and_what_is_settled_stays_settled() {
    let lesson = lesson(ROW);
    let mut chance = Chance(362_436_069);
    let mut ends = [0, 0];
    for seed in 0..60 {
        let mut state = three(&lesson, seed);
        for _ in 0..120 {
            let intent = match chance.below(3) {
                0 => {
                    let id = chance.below(lesson.nodes.len() as u64) as NodeId;
                    Intent::Play(lesson.node(id).san.to_string())
                }
                _ => any_intent(&mut chance, &lesson),
            };
            let (next, told) = step(&lesson, &state, intent.clone());
            let [before, asking] = [&state, &next].map(|it| it.asking.as_ref().expect("a quiz"));
            let asked = &asking.asked;
            if next.waits() && !next.is_beside() {
                assert_eq!(
                    next.position(&lesson),
                    asked.position(&lesson, &asking.question),
                    "{intent:?}"
                );
            }
            if next.waits() {
                assert_eq!(next.node, asked.node.unwrap_or(asking.question.node));
            }
            if intent != Intent::Again {
                assert!(before.is_open() || !asking.is_open(), "{intent:?}");
                assert!(asked.tries >= before.asked.tries);
            }
            for told in &told {
                match told.how {
                    Some("answered") => ends[0] += 1,
                    Some(_) => ends[1] += 1,
                    None => {}
                }
            }
            assert!(!said(&lesson, &next).is_empty());
            state = next;
        }
    }
    assert!(ends[0] > 2 && ends[1] > 50, "{ends:?}");
}

#[test]
fn to_settle_a_question_draws_the_page_anew_and_is_a_jump_for_no_address() {
    let lesson = lesson(TEXT);
    let state = at(&lesson, "2.Nf3");
    let intent = Intent::Typed("Nc6".into());
    let (_, effect) = plyline::view::update(&lesson, &state, intent, Letters::ENGLISH);
    assert_eq!(effect, Some(Effect::Opened));
    assert!(!Effect::Opened.is_jump(&lesson));
}
