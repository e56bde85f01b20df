//! When a position comes back, and what is kept of it.

use super::chance::Chance;
use super::support::{lesson, node};
use plyline::ask::progress_json;
use plyline::ask::schedule::{
    FARTHEST_DAY, Full, GAPS, Outcome, Progress, Standing, TOP, day_number,
};
use plyline::text::limits;

#[test]
fn days_are_numbered_from_the_first_of_1970() {
    // By hand. 1970 to 1999 are 30 years of 365 days and 7 leap days (1972, 76, 80, 84, 88, 92,
    // 96): 10,950 + 7 = 10,957. 2000 is a leap year, for 400 divides it: 28 February is 31 + 27
    // days later, then the 29th, then 1 March.
    assert_eq!(day_number(1970, 1, 1), Some(0));
    assert_eq!(day_number(1969, 12, 31), Some(-1));
    assert_eq!(day_number(2000, 1, 1), Some(10_957));
    assert_eq!(day_number(2000, 2, 28), Some(11_015));
    assert_eq!(day_number(2000, 2, 29), Some(11_016));
    assert_eq!(day_number(2000, 3, 1), Some(11_017));
    // 1970 to 2023: 54 * 365 = 19,710 and 13 leap days (1972 to 2020); 2024 has 366 days.
    assert_eq!(day_number(2024, 1, 1), Some(19_723));
    assert_eq!(day_number(2024, 12, 31), Some(20_088));
    assert_eq!(day_number(2025, 1, 1), Some(20_089));
    // 1970 to 2099: 130 * 365 = 47,450 and 32 leap days (1972 to 2096). 2100 has no leap day.
    assert_eq!(day_number(2100, 2, 28), Some(47_482 + 31 + 27));
    assert_eq!(day_number(2100, 2, 29), None);
    assert_eq!(day_number(2100, 3, 1), Some(47_482 + 31 + 28));
    // 1969 has 365 days and 1968 366: 1 January 1968 is day -731, 29 February 31 + 28 later.
    assert_eq!(day_number(1968, 2, 29), Some(-672));
}

#[test]
fn each_day_has_the_number_after_that_of_the_day_before() {
    let mut last = day_number(1599, 12, 31).expect("a day");
    let mut count = 0;
    for year in 1600..2400 {
        for month in 1..=12 {
            for day in 1..=31 {
                if let Some(number) = day_number(year, month, day) {
                    assert_eq!(number, last + 1, "{year}-{month}-{day}");
                    last = number;
                    count += 1;
                }
            }
        }
    }
    // 400 years have 97 leap days: all that 4 divides but for three of the full hundreds.
    assert_eq!(count, 2 * (400 * 365 + 97));
}

#[test]
fn a_day_that_there_is_not_has_no_number() {
    for (year, month, day) in [
        (2023, 2, 29),
        (1900, 2, 29),
        (2024, 4, 31),
        (2024, 0, 1),
        (2024, 13, 1),
        (2024, 1, 0),
        (2024, 1, 32),
        (i32::MAX, 1, 1),
        (i32::MIN, 1, 1),
    ] {
        assert_eq!(day_number(year, month, day), None, "{year}-{month}-{day}");
    }
}

const TEXT: &str = "1. d4 d5 (1... Nf6 2. c4 {x}) 2. c4 (2. Nf3 {x}) e6 {x} *";

#[test]
fn a_position_that_is_recalled_waits_twice_as_long_up_to_the_longest_gap() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    let at = node(&lesson, "1...d5");
    assert_eq!(progress.standing(&lesson, at, 100), Standing::New);
    let mut day = 100;
    let mut gaps = Vec::new();
    for turn in 0..8 {
        let before = progress
            .record(&lesson, at, Outcome::Recalled, day)
            .expect("room");
        let wanted = match turn {
            0 => Standing::New,
            _ => Standing::Due { missed: false },
        };
        assert_eq!(before, wanted);
        let Standing::Waiting { until } = progress.standing(&lesson, at, day) else {
            panic!("it waits on the day on which it was recalled");
        };
        assert_eq!(
            progress.standing(&lesson, at, until - 1),
            Standing::Waiting { until }
        );
        gaps.push(until - day);
        day = until;
    }
    assert_eq!(gaps, [1, 2, 4, 8, 16, 32, 32, 32]);
    assert_eq!(gaps[..6], GAPS);
}

#[test]
fn one_that_is_not_recalled_goes_back_to_the_first_gap() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    let mut keep = |outcome, day| {
        progress.record(&lesson, 0, outcome, day).expect("room");
        progress.standing(&lesson, 0, day)
    };
    keep(Outcome::Recalled, 10);
    assert_eq!(keep(Outcome::Recalled, 11), Standing::Waiting { until: 13 });
    assert_eq!(keep(Outcome::Missed, 13), Standing::Waiting { until: 14 });
    assert_eq!(
        keep(Outcome::Recalled, 13),
        Standing::Waiting { until: 14 },
        "too soon to count"
    );
    assert_eq!(keep(Outcome::Recalled, 14), Standing::Waiting { until: 16 });
    assert_eq!(
        keep(Outcome::Missed, 15),
        Standing::Waiting { until: 16 },
        "missed counts early too"
    );
}

#[test]
fn a_missed_position_is_known_as_missed_until_it_is_recalled_when_due() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    let mut keep = |outcome, day| progress.record(&lesson, 0, outcome, day).expect("room");
    keep(Outcome::Missed, 5);
    keep(Outcome::Recalled, 5);
    assert_eq!(keep(Outcome::Recalled, 6), Standing::Due { missed: true });
    assert_eq!(keep(Outcome::Recalled, 8), Standing::Due { missed: false });
}

#[test]
fn a_fair_move_brings_the_position_back_after_the_same_gap() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    for (outcome, day) in [
        (Outcome::Recalled, 0),
        (Outcome::Recalled, 1),
        (Outcome::Fair, 3),
        (Outcome::Fair, 4),
    ] {
        progress.record(&lesson, 0, outcome, day).expect("room");
    }
    assert_eq!(
        progress.standing(&lesson, 0, 4),
        Standing::Waiting { until: 5 }
    );
}

#[test]
fn a_position_is_one_in_every_lesson_and_by_every_path() {
    let lesson = lesson(TEXT);
    let other = super::lesson("1. c4 d5 2. d4 e6 {x} (2... c6 3. Nf3 {x}) *");
    let mut progress = Progress::default();
    progress
        .record(&lesson, node(&lesson, "d5 2.c4"), Outcome::Recalled, 0)
        .expect("room");
    assert_eq!(
        progress.standing(&other, node(&other, "2.d4"), 0),
        Standing::Waiting { until: 1 }
    );
    assert_eq!(progress.all().len(), 1);
    assert!(
        progress.all()[0].position.ends_with(" b KQkq -"),
        "{:?}",
        progress.all()
    );
}

#[test]
fn a_choice_that_is_taken_back_starts_again_and_one_that_joins_does_not() {
    let taught = lesson(TEXT);
    let mut progress = Progress::default();
    let at = node(&taught, "1...d5");
    progress
        .record(&taught, at, Outcome::Recalled, 0)
        .expect("room");
    progress
        .record(&taught, at, Outcome::Recalled, 1)
        .expect("room");
    let more = lesson("1. d4 d5 2. c4 {Choose:} (2. Nf3 {Choose:}) *");
    assert_eq!(
        progress.standing(&more, 2, 1),
        Standing::Waiting { until: 3 }
    );
    progress
        .record(&more, 2, Outcome::Recalled, 3)
        .expect("room");
    let fewer = lesson("1. d4 d5 2. c4 (2. Nf3 {Choose:}) *");
    assert_eq!(
        progress.standing(&fewer, 2, 3),
        Standing::Changed,
        "c4 was learned"
    );
    assert_eq!(
        progress.record(&fewer, 2, Outcome::Recalled, 3),
        Ok(Standing::Changed)
    );
    assert_eq!(
        progress.standing(&fewer, 2, 3),
        Standing::Waiting { until: 4 },
        "the first gap"
    );
}

#[test]
fn a_clock_that_jumps_back_loses_nothing() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    for day in [1000, 1001, 1003] {
        progress
            .record(&lesson, 0, Outcome::Recalled, day)
            .expect("room");
    }
    assert_eq!(
        progress.standing(&lesson, 0, 1003),
        Standing::Waiting { until: 1007 }
    );
    assert_eq!(
        progress.standing(&lesson, 0, 1002),
        Standing::Waiting { until: 1007 },
        "a journey to the west"
    );
    // The battery is flat, and the calendar shows 1970. The position is asked and keeps its step.
    assert_eq!(
        progress.standing(&lesson, 0, 0),
        Standing::Due { missed: false }
    );
    let old = progress.clone();
    progress
        .record(&lesson, 0, Outcome::Recalled, 0)
        .expect("room");
    assert_eq!(
        progress.standing(&lesson, 0, 0),
        Standing::Waiting { until: 8 }
    );
    // The clock is set: it is asked again rather than never.
    assert_eq!(
        progress.standing(&lesson, 0, 1004),
        Standing::Due { missed: false }
    );
    // The later copy stays, though its day is the earlier one.
    assert_eq!(merge(&old, &progress), Ok(progress.clone()));
    assert_eq!(merge(&progress, &old), Ok(progress));
}

#[test]
fn a_clock_that_was_far_ahead_does_not_put_a_position_off_for_ever() {
    let lesson = lesson(TEXT);
    let mut progress = Progress::default();
    progress
        .record(&lesson, 0, Outcome::Recalled, i32::MAX)
        .expect("room");
    assert_eq!(progress.all()[0].day, FARTHEST_DAY);
    assert_eq!(
        progress.standing(&lesson, 0, 20_000),
        Standing::Due { missed: false }
    );
    progress
        .record(&lesson, 0, Outcome::Recalled, 20_000)
        .expect("room");
    assert_eq!(
        progress.standing(&lesson, 0, 20_000),
        Standing::Waiting { until: 20_002 }
    );
    progress
        .record(&lesson, 0, Outcome::Recalled, i32::MIN)
        .expect("room");
    assert_eq!(progress.all()[0].day, -FARTHEST_DAY);
}

#[test]
fn whatever_the_clock_does_no_answer_loses_a_position_or_leaves_the_ladder() {
    let lesson = lesson(TEXT);
    let mut chance = Chance::new(3);
    let mut progress = Progress::default();
    for _ in 0..5_000 {
        let day = match chance.below(4) {
            0 => chance.below(40_000) as i32 - 20_000,
            1 => [i32::MIN, i32::MAX][chance.below(2)],
            _ => 20_000 + chance.below(60) as i32,
        };
        let at = chance.below(lesson.nodes.len()) as u32;
        let outcome = chance.pick(&[
            Outcome::Recalled,
            Outcome::Recalled,
            Outcome::Fair,
            Outcome::Missed,
        ]);
        let before = progress.clone();
        progress.record(&lesson, at, outcome, day).expect("room");
        for kept in before.all() {
            let after = progress.get(&kept.position).expect("no position is lost");
            assert!(after.asked >= kept.asked && after.step <= TOP);
            let fell = after.step < kept.step;
            assert!(
                !fell || outcome == Outcome::Missed,
                "only what is missed goes back"
            );
            assert!(after.step <= kept.step + 1, "one step at a time");
        }
    }
    assert!(progress.all().iter().any(|kept| kept.step == TOP));
}

/// Progress by chance, as two devices of one reader may have it: few positions, so that both have
/// them, and numbers that are often equal.
fn any(chance: &mut Chance) -> Progress {
    let entries = (0..chance.below(9)).map(|_| {
        format!(
            "[\"{}/8 w - -\",\"{}\",{},{},{},{}]",
            chance.below(6),
            chance.pick(&["e2e4", "d2d4", "d2d4 e2e4"]),
            chance.below(3) as i32 - 1,
            chance.below(3),
            chance.below(3),
            chance.below(2),
        )
    });
    of_entries(entries)
}

fn of_entries(entries: impl Iterator<Item = String>) -> Progress {
    let entries = entries.collect::<Vec<_>>().join(",");
    let text = format!("{{\"plyline\":\"progress\",\"version\":1,\"positions\":[{entries}]}}");
    progress_json::read(&text).expect("progress")
}

fn merge(one: &Progress, other: &Progress) -> Result<Progress, Full> {
    let mut both = one.clone();
    both.merge(other.clone()).map(|()| both)
}

#[test]
fn merging_keeps_every_position_whatever_the_order_and_the_number_of_merges() {
    let mut chance = Chance::new(11);
    let mut differed = 0;
    for _ in 0..4_000 {
        let [a, b, c] = [0; 3].map(|_| any(&mut chance));
        let merge = |one: &Progress, other: &Progress| merge(one, other).expect("room");
        let ab = merge(&a, &b);
        assert_eq!(ab, merge(&b, &a), "commutative");
        assert_eq!(merge(&ab, &c), merge(&a, &merge(&b, &c)), "associative");
        assert_eq!(merge(&a, &a), a, "idempotent");
        assert_eq!(merge(&ab, &b), ab, "idempotent");
        for kept in a.all().iter().chain(b.all()) {
            let stays = ab
                .get(&kept.position)
                .expect("a position of either is in the result");
            assert!(stays.asked >= kept.asked, "the later copy stays");
        }
        for kept in ab.all() {
            let from = [&a, &b].map(|one| one.get(&kept.position));
            assert!(from.contains(&Some(kept)), "and it is one of the two");
            differed += u32::from(from[0].is_some() && from[1].is_some() && from[0] != from[1]);
        }
    }
    assert!(differed > 1_000, "{differed}");
}

/// Progress with this many positions, the numbers of which begin with a letter.
fn many(letter: char, count: usize) -> Progress {
    of_entries((0..count).map(|at| format!("[\"{letter}{at:07}\",\"e2e4\",1,1,0,0]")))
}

#[test]
fn no_more_positions_than_the_limit_are_kept_and_none_is_dropped_for_another() {
    let lesson = lesson(TEXT);
    let mut full = many('a', limits::POSITIONS);
    assert_eq!(full.record(&lesson, 0, Outcome::Recalled, 1), Err(Full));
    assert_eq!(full.all().len(), limits::POSITIONS);
    let mut room = many('a', limits::POSITIONS - 1);
    assert_eq!(
        room.record(&lesson, 0, Outcome::Recalled, 1),
        Ok(Standing::New)
    );
    assert!(
        room.record(&lesson, 0, Outcome::Missed, 1).is_ok(),
        "it is kept already"
    );
    let before = full.clone();
    assert_eq!(full.merge(many('b', 1)), Err(Full));
    assert_eq!(full, before, "nothing is taken up");
    assert!(many('a', limits::POSITIONS - 1).merge(many('b', 1)).is_ok());
    assert!(full.merge(before).is_ok());
}
