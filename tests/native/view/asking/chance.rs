//! Thousands of intents by chance: where a reader is, and what events say.

use super::*;

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
    for action in QUESTIONS {
        let Some(Intent::Ask(command)) = action.row().intent else {
            panic!("{action:?} is no question");
        };
        let asks = State {
            notice: Some(Notice::Answer(command)),
            ..state.clone()
        };
        all.push(spoken::said(&words, lesson, &asks));
    }
    let aloud = State {
        aloud: true,
        ..quiet.clone()
    };
    all.push(spoken::said(&words, lesson, &aloud));
    let current = edge::current(lesson, state);
    all.extend(current.comment);
    all.extend(current.next);
    all
}

/// The words of comments that belong to one node only.
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
        "{intent:?} led past an open question"
    );
    assert_eq!(state.waits(), state.is_closed(lesson, state.node));
    let asked = state.asking().map(|asking| asking.question.node);
    assert!(asked.is_none_or(|asked| asked == state.node));
    let hidden = state.hidden(lesson);
    let all = told_in_all(lesson, state, source);
    // A weaker move and the moves against it are on the board, and shown with their comments.
    let against = state.against(lesson).map(|at| lesson.path(at));
    let against = against.unwrap_or_default();
    for id in lesson.ids() {
        let is_hidden = hidden[id as usize];
        let ids = [format!("data-go=\"{id}\""), format!("id=\"m{id}\"")];
        assert!(
            !is_hidden || ids.iter().all(|id| !all[0].contains(id)),
            "{intent:?}: {id} is hidden and drawn"
        );
        for said in &lesson.node(id).comments {
            let ask = said.ask().filter(|_| state.is_closed(lesson, id));
            let secret = match ask {
                Some(ask) => {
                    let hint = ask.hint().map(Passage::text).unwrap_or_default();
                    let because = ask.because().map(Passage::text).unwrap_or_default();
                    format!("{hint} {because}")
                }
                None if is_hidden && !against.contains(&id) => said.text().to_owned(),
                None => String::new(),
            };
            for word in own_words(&secret) {
                let tells = all.iter().find(|text| text.contains(&word));
                assert_eq!(tells, None, "{intent:?}: {word} is told");
            }
        }
    }
    if state.waits() && state.aside.is_empty() {
        let prompt = &state.asking().expect("it waits").question.prompt;
        let board = plyline::view::board(lesson, state);
        assert_eq!(board.marks, prompt.marks());
    }
}

#[test]
fn whatever_comes_no_reader_is_past_an_open_question_and_none_of_it_is_told() {
    let lesson = lesson(TEXT);
    let source = Source::new("t", TEXT);
    let mut chance = Chance::new(521_288_629);
    let (mut beside, mut settled) = (0, 0);
    for _ in 0..24 {
        let mut state = State::new(&lesson, 0, Color::White);
        for turn in 0..120 {
            let intent = match chance.below(4) {
                // A move of the lesson, which chance alone seldom finds.
                0 => {
                    let id = chance.below(lesson.nodes.len()) as NodeId;
                    Intent::Typed(lesson.node(id).san.to_string())
                }
                1 => {
                    let node = chance.below(lesson.nodes.len()) as NodeId;
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
            assert!(next.settled().starts_with(state.settled()), "settled stays");
            let count = told.iter().filter(|told| told.how.is_some()).count();
            assert_eq!(count, next.settled().len() - state.settled().len());
            let mut once = next.settled().to_vec();
            once.sort_unstable();
            once.dedup();
            assert_eq!(once.len(), next.settled().len(), "each once");
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
    let mut chance = Chance::new(362_436_069);
    let mut ends = [0, 0];
    for seed in 0..60 {
        let mut state = three(&lesson, seed);
        for _ in 0..120 {
            let intent = match chance.below(3) {
                0 => {
                    let id = chance.below(lesson.nodes.len()) as NodeId;
                    Intent::Play(lesson.node(id).san.to_string())
                }
                _ => any_intent(&mut chance, &lesson),
            };
            let (next, told) = step(&lesson, &state, intent.clone());
            let [before, asking] = [&state, &next].map(|it| it.asking().expect("a quiz"));
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
