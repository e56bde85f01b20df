//! The score of results, and how far chance alone may carry it. Plain arithmetic only, for it goes into the
//! page too.

use super::Results;

/// How many standard deviations each way hold 95 % of a normal distribution.
const Z: f64 = 1.96;

/// What White scored, from 0 (lost all) to 1 (won all), a draw half.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    pub score: f64,
    /// The lowest and the highest score that agree with these results at 95 %, both from 0 to 1. It says what
    /// chance does to so few games, and nothing else. None where every game was drawn: no spread is seen then.
    pub range: Option<(f64, f64)>,
}

/// The score of those results that are known; none where none is.
///
/// With the score s and the share of draws d of n games, the range holds each score p for which
/// (s - p)² <= z²/n · (p(1 - p) - d/4): the variance of a game of which p is the mean and d the share of draws.
/// Without draws that is Wilson's interval (E. B. Wilson, 1927, "Probable inference, the law of succession, and
/// statistical inference").
pub fn score(results: &Results) -> Option<Score> {
    let (white, drawn) = (results.white as f64, results.drawn as f64);
    let games = white + drawn + results.black as f64;
    if games == 0.0 {
        return None;
    }
    let (score, drawn) = ((white + drawn / 2.0) / games, drawn / games);
    let all_drawn = results.white == 0 && results.black == 0;
    let range = (!all_drawn).then(|| {
        let k = Z * Z / games;
        let inner = 4.0 * score * (1.0 - score) - drawn + k * (1.0 - drawn);
        // Below 0 by rounding only.
        let half = (k * inner.max(0.0)).sqrt();
        let end = |sign: f64| (2.0 * score + k + sign * half) / (2.0 * (1.0 + k));
        // Where one side won all, an end is the score itself, but for rounding.
        (end(-1.0).min(score).max(0.0), end(1.0).max(score).min(1.0))
    });
    Some(Score { score, range })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(white: u64, drawn: u64, black: u64) -> Score {
        let known = Results {
            white,
            drawn,
            black,
            unknown: 3,
        };
        score(&known).expect("a score")
    }

    fn range(white: u64, drawn: u64, black: u64) -> (f64, f64) {
        of(white, drawn, black).range.expect("a range")
    }

    #[test]
    fn a_score_is_of_the_games_whose_end_is_known() {
        assert_eq!(of(1, 2, 1).score, 0.5);
        assert_eq!(of(3, 2, 0).score, 0.8);
        assert_eq!(score(&Results::default()), None);
        let unknown = Results {
            unknown: 5,
            ..Results::default()
        };
        assert_eq!(score(&unknown), None);
    }

    #[test]
    fn games_that_were_all_drawn_have_no_range() {
        let drawn = of(0, 7, 0);
        assert_eq!((drawn.score, drawn.range), (0.5, None));
    }

    #[test]
    fn without_draws_the_range_is_wilsons() {
        // By hand from Wilson's (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n) with z = 1.96, z² = 3.8416:
        // 0 of 10 up to 0.38416 / 1.38416, 10 of 10 mirrored, 1 of 1 from 1 / 4.8416, 5 of 10 at
        // 0.5 ± 1.96 √(0.025 + 0.009604) / 1.38416. The others by R. G. Newcombe (1998, "Two-sided confidence
        // intervals for the single proportion", table I, method 3; from memory).
        let expected = [
            ((0, 10), (0.0, 0.27754)),
            ((10, 0), (0.72246, 1.0)),
            ((1, 0), (0.20654, 1.0)),
            ((5, 5), (0.23659, 0.76341)),
            ((81, 182), (0.2553, 0.3662)),
            ((15, 133), (0.0624, 0.1605)),
            ((0, 20), (0.0, 0.1611)),
            ((1, 28), (0.0061, 0.1718)),
        ];
        for ((white, black), (low, high)) in expected {
            let found = range(white, 0, black);
            let near = |a: f64, b: f64| (a - b).abs() < 1e-4;
            assert!(
                near(found.0, low) && near(found.1, high),
                "{white} of {}: {found:?}",
                white + black
            );
        }
    }

    #[test]
    fn each_side_sees_the_other_mirrored() {
        for (white, drawn, black) in splits(25) {
            let (here, there) = (of(white, drawn, black), of(black, drawn, white));
            assert!((here.score + there.score - 1.0).abs() < 1e-12);
            if let (Some(here), Some(there)) = (here.range, there.range) {
                let apart = (here.0 + there.1 - 1.0).abs() + (here.1 + there.0 - 1.0).abs();
                assert!(apart < 1e-12, "{white} {drawn} {black}: {here:?} {there:?}");
            }
        }
    }

    #[test]
    fn a_range_lies_from_0_to_1_around_its_score() {
        for (white, drawn, black) in splits(40) {
            let it = of(white, drawn, black);
            if let Some((low, high)) = it.range {
                let is_so = 0.0 <= low && low <= it.score && it.score <= high && high <= 1.0;
                assert!(is_so && low < high, "{white} {drawn} {black}: {it:?}");
            }
        }
    }

    #[test]
    fn more_games_that_ended_alike_make_it_narrower_as_do_draws() {
        let width = |(low, high): (f64, f64)| high - low;
        for (white, drawn, black) in splits(12) {
            if of(white, drawn, black).range.is_some() {
                let few = width(range(white, drawn, black));
                let more = width(range(2 * white, 2 * drawn, 2 * black));
                assert!(more < few, "{white} {drawn} {black}: {more} {few}");
            }
        }
        assert!(width(range(10, 20, 10)) < width(range(20, 0, 20)));
    }

    /// All results of 1 to so many games.
    fn splits(most: u64) -> impl Iterator<Item = (u64, u64, u64)> {
        (1..=most).flat_map(|games| {
            (0..=games).flat_map(move |white| {
                (0..=games - white).map(move |drawn| (white, drawn, games - white - drawn))
            })
        })
    }
}
