//! Recall: every line is met, and what is missed comes back.

use super::each;
use crate::support::chance::Chance;
use crate::support::{lesson, node};
use plyline::ask::recall::{Effect, Intent, Recall, Stage, update};
use plyline::ask::schedule::{Outcome, Progress};
use plyline::ask::{Tally, tally};
use plyline::lesson::rules::position_name;
use plyline::lesson::{Attempt, Lesson, NodeId, attempt_typed, replay};
use plyline::notation::Letters;
use shakmaty::{Color, Position};
use std::collections::BTreeSet;

/// What a recall should meet, found independently of plyline: the nodes of the part, and the
/// ends of its lines.
fn part(lesson: &Lesson, root: NodeId, side: Color) -> (BTreeSet<NodeId>, usize) {
    let mut nodes = BTreeSet::from([root]);
    let mut ends = 0;
    // Ids grow along a line.
    for id in lesson.ids() {
        if !nodes.contains(&id) {
            continue;
        }
        let mut next = lesson.node(id).children.to_vec();
        if lesson.node(id).position.turn() == side {
            next = lesson.choices(id);
        }
        next.retain(|&next| lesson.node(next).san != "--");
        ends += usize::from(next.is_empty());
        nodes.extend(next);
    }
    (nodes, ends)
}

fn begun(lesson: &Lesson, root: NodeId, side: Color, seed: u32) -> Option<Recall> {
    Recall::new(lesson, root, side, seed, &Progress::default(), 0)
}

fn plays(lesson: &Lesson, state: &Recall, to: NodeId) -> Intent {
    let played = lesson.node(to).played.expect("a move");
    let tried = replay(state.position(lesson), played).expect("a legal move");
    Intent::Try(Attempt::Played(tried))
}

/// Walks to the end as `choose` decides what is done when the reader is asked; `look` is given each
/// step.
fn walk(
    lesson: &Lesson,
    mut state: Recall,
    mut choose: impl FnMut(&Recall) -> Intent,
    mut look: impl FnMut(&Recall, &[Effect]),
) -> Recall {
    for _ in 0..50_000 {
        let intent = match state.stage {
            Stage::Over => return state,
            Stage::Between | Stage::Told | Stage::Ends => Intent::On,
            Stage::Asked => choose(&state),
        };
        let effects = update(lesson, &mut state, intent);
        look(&state, &effects);
    }
    panic!("the recall does not end");
}

/// The recalls of all lessons by chance, for either side and from several nodes.
fn each_recall(mut look: impl FnMut(&Lesson, Recall, &mut Chance)) {
    let mut count = 0;
    each(|lesson, chance| {
        for side in [Color::White, Color::Black] {
            for root in [0, chance.below(lesson.nodes.len()) as NodeId] {
                if let Some(state) = begun(lesson, root, side, chance.below(99) as u32) {
                    look(lesson, state, chance);
                    count += 1;
                }
            }
        }
    });
    assert!(count > 100, "{count}");
}

/// The positions of the part at which its side is asked, by their names.
fn asked_in(lesson: &Lesson, nodes: &BTreeSet<NodeId>, side: Color) -> BTreeSet<String> {
    let asked = nodes
        .iter()
        .filter(|&&id| lesson.node(id).position.turn() == side && !lesson.choices(id).is_empty());
    asked
        .map(|&id| position_name(&lesson.node(id).position))
        .collect()
}

/// Walks as `choose` says; each position of the part is asked once.
fn asks_each_once(lesson: &Lesson, state: Recall, mut choose: impl FnMut(&Recall) -> NodeId) {
    let (nodes, ends) = part(lesson, state.root, state.side);
    let wanted = asked_in(lesson, &nodes, state.side);
    assert_eq!(state.ends(), (ends, ends));
    let mut met = BTreeSet::new();
    let state = walk(
        lesson,
        state,
        |state| plays(lesson, state, choose(state)),
        |_, effects| {
            for effect in effects {
                if let Effect::Answered(id, outcome) = effect {
                    let name = position_name(&lesson.node(*id).position);
                    assert!(met.insert(name), "a position is asked once");
                    assert_eq!(*outcome, Outcome::Recalled);
                }
                assert!(!matches!(effect, Effect::Told { .. }), "nothing was missed");
            }
        },
    );
    assert_eq!(met, wanted);
    assert!(
        state.walks as usize <= ends,
        "{} walks, {ends} ends",
        state.walks
    );
    assert_eq!(state.ends(), (ends, 0));
    let account = state.account(lesson);
    assert_eq!(
        (account.met, account.recalled, account.later),
        (account.positions, account.positions, 0)
    );
    assert!(account.again.is_empty());
}

#[test]
fn without_slips_every_position_is_asked_once_in_at_most_as_many_walks_as_lines_end() {
    let mut several = 0;
    each_recall(|lesson, state, _| {
        several += u32::from(state.ends().0 > 3);
        asks_each_once(lesson, state, |state| {
            state.wanted(lesson).expect("a choice")
        });
    });
    assert!(several > 10, "{several}");
}

#[test]
fn a_position_that_another_order_of_moves_comes_to_is_not_asked_again() {
    let lesson = lesson(
        "1. d4 d5 (1... Nf6 2. c4 e6 3. Nc3 d5 4. cxd5 {Ours.} exd5 5. Bg5 c6 (5... h6 6. Bh4)) \
         2. c4 e6 3. Nc3 Nf6 4. cxd5 {Ours.} exd5 5. Bg5 Be7 6. e3 *",
    );
    for seed in 0..20 {
        let state = begun(&lesson, 0, Color::White, seed).expect("choices");
        asks_each_once(&lesson, state, |state| {
            state.wanted(&lesson).expect("a choice")
        });
    }
}

/// Each side has several choices at several places. Lessons by chance seldom have.
const CHOICES: &str = "1. e4 {Choose:} e5 (1... c5 2. Nf3 {Choose:} (2. c3 {Choose:}) (2. d4 {Choose:})) \
                       2. Nf3 {Choose:} (2. f4 {Choose:} exf4 (2... d5)) \
                       (1. d4 {Choose:} d5 (1... Nf6 2. Nf3) 2. c4 {Choose:} \
                       (2. Nf3 {Choose:} c5 (2... e6))) *";

#[test]
fn a_reader_who_keeps_to_a_choice_is_asked_after_the_others_too_and_none_is_a_slip() {
    let check = |lesson: &Lesson, state: Recall, chance: &mut Chance| {
        let kept: Vec<usize> = lesson.ids().map(|_| chance.below(60)).collect();
        asks_each_once(lesson, state, |state| {
            let choices = lesson.choices(state.node);
            choices[kept[state.node as usize] % choices.len()]
        });
    };
    let several = lesson(CHOICES);
    for seed in 0..200 {
        let state = begun(&several, 0, Color::White, seed).expect("choices");
        check(&several, state, &mut Chance::new(seed.into()));
    }
    each_recall(check);
}

#[test]
fn a_later_walk_begins_after_the_choice_that_was_not_played() {
    let lesson = lesson("1. e4 {Choose: one} (1. d4 {Choose: two} d5 2. c4) 1... e5 2. Nf3 *");
    for seed in 0..10 {
        let mut state = begun(&lesson, 0, Color::White, seed).expect("choices");
        let steps = told(&lesson, &mut state, &["on", "e4", "Nf3", "on", "c4"]);
        assert_eq!(
            steps[1..],
            [
                "right, Recalled, 1.e4, 1...e5",
                "right, Recalled, 2.Nf3, ended",
                "at 1.d4, 1...d5",
                "right, Recalled, 2.c4, ended, over"
            ]
        );
    }
}

#[test]
fn a_second_try_comes_before_the_answer_and_counts_as_recalled_later() {
    let lesson = lesson("1. e4 e5 2. Nf3 {x} *");
    let mut state = begun(&lesson, 0, Color::White, 1).expect("choices");
    assert_eq!(
        told(
            &lesson,
            &mut state,
            &["on", "a3", "e4", "a3", "h3", "on", "Nf3", "on"]
        ),
        [
            "at start",
            "other, Missed",
            "right, 1.e4, 1...e5",
            "other, Missed",
            "other, the choice is 2.Nf3",
            "",
            "",
            "back after 1...e5",
        ]
    );
    assert_eq!(
        told(&lesson, &mut state, &["Nf3"]),
        ["right, 2.Nf3, ended, over"]
    );
    let account = state.account(&lesson);
    assert_eq!((account.recalled, account.later), (0, 2));
    assert!(account.again.is_empty());
}

#[test]
fn a_line_with_a_slip_stays_on_the_board_at_its_end_before_what_was_missed_comes_back() {
    let lesson = lesson("1. e4 e5 2. Nf3 Nc6 {The last word.} *");
    let mut state = begun(&lesson, 0, Color::White, 1).expect("choices");
    let steps = told(&lesson, &mut state, &["on", "show", "on", "Nf3"]);
    assert_eq!(steps[3], "right, Recalled, 2.Nf3, 2...Nc6");
    assert_eq!((state.node, state.stage), (4, Stage::Ends));
    assert_eq!(told(&lesson, &mut state, &["on"]), ["back after start"]);
}

#[test]
fn what_is_missed_is_told_and_comes_back_once_before_the_walk_ends() {
    let (mut slips, mut backs) = (0, 0);
    each_recall(|lesson, state, chance| {
        let ends = state.ends().0;
        let mut missed: Vec<NodeId> = Vec::new();
        let mut answered = BTreeSet::new();
        let state = walk(
            lesson,
            state,
            |state| match chance.below(5) {
                0 => Intent::Show,
                1 => Intent::Try(attempt_typed(
                    state.position(lesson),
                    "Kd9",
                    Letters::ENGLISH,
                )),
                2 => {
                    let moves = state.position(lesson).legal_moves();
                    let played = moves[chance.below(moves.len())];
                    let tried = replay(state.position(lesson), played).expect("legal");
                    Intent::Try(Attempt::Played(tried))
                }
                _ => plays(lesson, state, state.wanted(lesson).expect("a choice")),
            },
            |state, effects| {
                let mut judged = "";
                for effect in effects {
                    match effect {
                        Effect::Judged(verdict) => judged = verdict.word(),
                        Effect::Told { at, choice } => {
                            assert!(lesson.choices(*at).contains(choice));
                            assert_eq!((state.node, state.stage), (*choice, Stage::Told));
                            missed.retain(|known| known != at);
                            if !["fair", "right"].contains(&judged) && !state.is_back {
                                missed.push(*at);
                                slips += 1;
                            }
                        }
                        Effect::Played(node) => {
                            let at = lesson.node(*node).parent;
                            missed.retain(|&known| Some(known) != at);
                        }
                        Effect::Back(node) => {
                            assert_eq!(missed.first(), Some(node), "the first missed comes first");
                            assert_eq!((state.node, state.stage), (*node, Stage::Asked));
                            backs += 1;
                        }
                        Effect::Ended => assert!(missed.is_empty(), "all have come back"),
                        Effect::Answered(node, outcome) => {
                            assert!(answered.insert(*node), "answered first once only");
                            let wanted = match judged {
                                "right" => Outcome::Recalled,
                                "fair" => Outcome::Fair,
                                _ => Outcome::Missed,
                            };
                            assert_eq!(*outcome, wanted);
                        }
                        Effect::Begun(_) | Effect::Replied(_) | Effect::Over => {}
                    }
                }
            },
        );
        assert!(
            state.walks as usize <= ends,
            "slips make no walk longer by another"
        );
        let account = state.account(lesson);
        assert!(account.recalled <= account.met && account.met <= account.positions);
        let met: u32 = account.lines.iter().map(|held| held.met).sum();
        assert_eq!(met as usize, answered.len());
    });
    assert!(slips > 150, "{slips}");
    assert_eq!(backs, slips, "each comes back once");
}

#[test]
fn a_reader_who_knows_nothing_and_asks_to_be_shown_comes_to_the_end() {
    each_recall(|lesson, state, _| {
        let ends = state.ends().0;
        // Each walk begins, and shows each position of its line twice: with a word to go on.
        let longest = lesson.ids().map(|id| lesson.path(id).len()).max();
        let bound = ends * (1 + 4 * longest.expect("a node"));
        let mut presses = 0;
        let state = walk(lesson, state, |_| Intent::Show, |_, _| presses += 1);
        assert!(presses <= bound, "{presses} of {bound}");
        let account = state.account(lesson);
        assert_eq!(account.recalled, 0);
        assert_eq!(account.again.len() as u32, account.met);
        assert!(account.met > 0);
    });
}

const TEXT: &str = "1. d4 d5 (1... Nf6 2. c4 e6 (2... g6 3. Nc3 {x}) 3. Nf3 {x}) 2. c4 (2. Nf3 {fair}) \
                    (2. g4? dxc4) e6 (2... c6 3. Nf3 {x}) 3. Nc3 {x} *";

/// The effects of several intents, in words.
fn told(lesson: &Lesson, state: &mut Recall, words: &[&str]) -> Vec<String> {
    let mut list = Vec::new();
    for word in words {
        let intent = match *word {
            "on" => Intent::On,
            "show" => Intent::Show,
            "stop" => Intent::Stop,
            word => Intent::Try(attempt_typed(
                state.position(lesson),
                word,
                Letters::ENGLISH,
            )),
        };
        let effects = update(lesson, state, intent);
        let effects = effects.iter().map(|effect| match effect {
            Effect::Begun(id) => format!("at {}", lesson.numbered(*id)),
            Effect::Judged(verdict) => verdict.word().to_owned(),
            Effect::Played(id) => lesson.numbered(*id),
            Effect::Replied(id) => lesson.numbered(*id),
            Effect::Answered(_, outcome) => format!("{outcome:?}"),
            Effect::Told { choice, .. } => format!("the choice is {}", lesson.numbered(*choice)),
            Effect::Back(id) => format!("back after {}", lesson.numbered(*id)),
            Effect::Ended => "ended".to_owned(),
            Effect::Over => "over".to_owned(),
        });
        list.push(effects.collect::<Vec<_>>().join(", "));
    }
    list
}

/// Progress in which the positions of these nodes were missed, and all else is known.
fn missed(lesson: &Lesson, nodes: &[NodeId]) -> Progress {
    let mut progress = Progress::default();
    for id in lesson.ids() {
        let outcome = match nodes.contains(&id) {
            true => Outcome::Missed,
            false => Outcome::Recalled,
        };
        progress.record(lesson, id, outcome, 0).expect("room");
        if outcome == Outcome::Recalled {
            progress.record(lesson, id, outcome, 1).expect("room");
        }
    }
    progress
}

#[test]
fn a_walk_leads_to_what_was_missed_before_and_goes_on_where_it_left() {
    let lesson = lesson(TEXT);
    let at = node(&lesson, "1...Nf6 2.c4 g6");
    let progress = missed(&lesson, &[at]);
    for seed in 0..20 {
        let mut state = Recall::new(&lesson, 0, Color::White, seed, &progress, 2).expect("choices");
        assert_eq!(
            told(&lesson, &mut state, &["on", "d4", "c4", "Nc3"]),
            [
                "at start",
                "right, Recalled, 1.d4, 1...Nf6",
                "right, Recalled, 2.c4, 2...g6",
                "right, Recalled, 3.Nc3, ended",
            ]
        );
        assert_eq!(state.stage, Stage::Between);
        let begins = told(&lesson, &mut state, &["on"]).remove(0);
        assert!(
            ["at 2.c4, 2...e6", "at 1.d4, 1...d5"].contains(&begins.as_str()),
            "{begins}"
        );
    }
}

#[test]
fn a_slip_shows_the_choice_and_a_fair_move_is_accepted() {
    let lesson = lesson(TEXT);
    let progress = missed(&lesson, &[node(&lesson, "d5 2.c4 c6")]);
    let mut state = Recall::new(&lesson, 0, Color::White, 1, &progress, 2).expect("choices");
    assert_eq!(
        told(
            &lesson,
            &mut state,
            &[
                "on", "e4", "d4", "on", "Nf3", "on", "Nd5", "hello", "show", "on", "on", "a3"
            ]
        ),
        [
            "at start",
            "other, Missed",
            "right, 1.d4, 1...d5",
            "",
            "fair, Fair, the choice is 2.c4",
            "2...c6",
            "illegal",
            "",
            "Missed, the choice is 3.Nf3",
            "",
            "back after 2...c6",
            "other, the choice is 3.Nf3",
        ]
    );
    // It has come back, and was missed again: it waits for another day.
    assert_eq!(told(&lesson, &mut state, &["on"]), ["ended"]);
    let account = state.account(&lesson);
    assert_eq!((account.met, account.recalled, account.later), (3, 0, 1));
    assert_eq!(account.again, [node(&lesson, "d5 2.c4 c6")]);
    assert_eq!(told(&lesson, &mut state, &["stop", "on"]), ["over", ""]);
}

#[test]
fn the_account_says_how_well_each_line_is_held() {
    let lesson = lesson(TEXT);
    let state = begun(&lesson, 0, Color::White, 0).expect("choices");
    let slip = node(&lesson, "2.c4 g6");
    let mut first = true;
    let state = walk(
        &lesson,
        state,
        |state| match state.node == slip && core::mem::take(&mut first) {
            true => Intent::Show,
            false => plays(&lesson, state, state.wanted(&lesson).expect("a choice")),
        },
        |_, _| {},
    );
    let account = state.account(&lesson);
    let lines = account.lines.iter().filter(|held| held.positions > 0);
    let lines: Vec<_> = lines
        .map(|held| {
            (
                lesson.line(held.line).label.as_str(),
                held.positions,
                held.met,
                held.recalled,
            )
        })
        .collect();
    // The main line has the start, 1...d5 and 2...e6.
    assert_eq!(
        lines,
        [
            ("", 3, 3, 3),
            ("A", 2, 2, 2),
            ("A1", 1, 1, 0),
            ("D", 1, 1, 1)
        ]
    );
    assert_eq!(
        (account.positions, account.met, account.recalled),
        (7, 7, 6)
    );
    // It was shown, and recalled when it came back.
    assert_eq!((account.later, account.again.len()), (1, 0));
    assert_eq!(account.walks, 4);
}

#[test]
fn one_variation_is_recalled_from_after_its_first_move() {
    let lesson = lesson(TEXT);
    let root = node(&lesson, "line A");
    let mut state = begun(&lesson, root, Color::White, 0).expect("choices");
    assert_eq!(state.ends(), (2, 2));
    let effects = told(&lesson, &mut state, &["on", "c4"]);
    assert_eq!(effects[0], "at 1...Nf6");
    assert!(
        effects[1].starts_with("right, Recalled, 2.c4, 2..."),
        "{effects:?}"
    );
}

#[test]
fn a_side_without_a_choice_has_nothing_to_recall() {
    let nothing = lesson("1. e4 e5? *");
    assert_eq!(begun(&nothing, 0, Color::Black, 0), None);
    assert_eq!(begun(&nothing, 2, Color::White, 0), None);
    assert_eq!(begun(&nothing, 99, Color::White, 0), None);
    assert!(begun(&nothing, 0, Color::White, 0).is_some());
}

#[test]
fn the_tally_counts_each_position_once_and_says_when_the_next_is_due() {
    // 1.Nf3 d5 2.d4 and 1.d4 d5 2.Nf3 come to one position.
    let lesson = lesson(
        "1. d4 {Choose:} (1. Nf3 {Choose:} d5 2. d4 Nf6 3. c4 {x}) d5 2. Nf3 Nf6 3. c4 {x} *",
    );
    let side = Color::White;
    let mut progress = Progress::default();
    let count = |progress: &Progress, day| tally(&lesson, 0, side, progress, day);
    let new = Tally {
        positions: 4,
        new: 4,
        ..Tally::default()
    };
    assert_eq!(count(&progress, 0), new);
    progress
        .record(&lesson, 0, Outcome::Recalled, 0)
        .expect("room");
    let last = node(&lesson, "2.d4 Nf6");
    progress
        .record(&lesson, last, Outcome::Recalled, 0)
        .expect("room");
    progress
        .record(&lesson, last, Outcome::Recalled, 1)
        .expect("room");
    let waiting = Tally {
        new: 2,
        waiting: 2,
        next: Some(1),
        ..new
    };
    assert_eq!(count(&progress, 0), waiting);
    let due = Tally {
        new: 2,
        due: 1,
        waiting: 1,
        next: Some(3),
        ..new
    };
    assert_eq!(count(&progress, 1), due);
    assert_eq!(
        count(&progress, 3),
        Tally {
            new: 2,
            due: 2,
            ..new
        }
    );
}
