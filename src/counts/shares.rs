//! Shares in whole percents that add to 100.

/// Whole parts of `whole` in the proportion of some counts, which add to it: each gets its share rounded
/// down, and those with the largest remainders one more (largest remainder, the method of Hamilton); of
/// equal ones the larger count comes first, then the earlier. All are 0 where there are no counts.
pub fn shares(counts: &[u64], whole: u64) -> Vec<u64> {
    let mut parts = vec![0; counts.len()];
    let mut sum = 0_u64;
    for &it in counts {
        sum = sum.saturating_add(it);
    }
    if sum == 0 {
        return parts;
    }
    let mut left = whole;
    let mut rests = Vec::new();
    for (part, &it) in parts.iter_mut().zip(counts) {
        let exact = it.saturating_mul(whole);
        *part = exact / sum;
        left = left.saturating_sub(*part);
        rests.push(Some((exact % sum, it)));
    }
    // Not by sorting, which costs the page more bytes: there are few parts.
    while left > 0 {
        let mut best = None;
        for (at, rest) in rests.iter().enumerate() {
            if rest.is_some() && best.is_none_or(|best: usize| *rest > rests[best]) {
                best = Some(at); // a place of `rests`, which are as many as `parts`
            }
        }
        let Some(best) = best else { break };
        rests[best] = None;
        parts[best] += 1;
        left -= 1;
    }
    parts
}

/// A share as words: `14 %`, `under 1 %` where it is more than nothing, `over 99 %` where it is less than all.
pub fn percent(part: f64) -> String {
    let whole = (part * 100.0).round();
    if part > 0.0 && part < 0.01 {
        "under 1 %".to_owned()
    } else if part < 1.0 && whole >= 100.0 {
        "over 99 %".to_owned()
    } else {
        format!("{whole} %")
    }
}

/// The shares of some counts as words: `41 %`, `under 1 %` of what is more than nothing, and never `100 %`
/// where something is otherwise.
pub fn percents(counts: &[u64]) -> Vec<String> {
    let sum: u64 = counts.iter().sum();
    let word = |(&count, part): (&u64, u64)| match part {
        0 if count > 0 => "under 1 %".to_owned(),
        100 if count < sum => "over 99 %".to_owned(),
        part => format!("{part} %"),
    };
    counts.iter().zip(shares(counts, 100)).map(word).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seats_are_given_as_in_a_worked_example() {
        // The example by which the method is commonly taught (100,000 votes, 10 seats, Hare quota); from
        // memory.
        let votes = [47_000, 16_000, 15_900, 12_000, 6_000, 3_100];
        assert_eq!(shares(&votes, 10), [5, 2, 1, 1, 1, 0]);
    }

    #[test]
    fn wins_draws_and_losses_of_1_to_200_games_add_to_100_percent() {
        // Common practice, no source: shares quoted for a position add to 100 %.
        for games in 1..=200 {
            for white in 0..=games {
                for drawn in 0..=games - white {
                    let parts = shares(&[white, drawn, games - white - drawn], 100);
                    assert_eq!(parts.iter().sum::<u64>(), 100, "{white} {drawn} of {games}");
                }
            }
        }
    }

    #[test]
    fn shares_in_words_never_say_all_where_something_is_otherwise() {
        assert_eq!(percents(&[41, 35, 24]), ["41 %", "35 %", "24 %"]);
        assert_eq!(percents(&[299, 1, 0]), ["over 99 %", "under 1 %", "0 %"]);
        assert_eq!(percents(&[3, 0]), ["100 %", "0 %"]);
    }

    #[test]
    fn a_little_is_not_nothing_and_nearly_all_is_not_all() {
        let words = [0.0, 0.004, 0.14, 0.996, 1.0].map(percent);
        assert_eq!(words, ["0 %", "under 1 %", "14 %", "over 99 %", "100 %"]);
    }
}
