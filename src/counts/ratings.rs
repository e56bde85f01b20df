//! What ratings would predict of games: the score that White would be expected to make of them.

use super::Results;

/// The score of White that ratings predict of some games.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Predicted {
    /// The games in which the ratings of both players are known.
    pub games: u64,
    /// The percents expected of each of those, added up: whole ones, so that sums are exact.
    pub sum: u64,
}

impl Predicted {
    /// Of one game between players of these ratings; nothing where one is not known.
    pub fn of(white: Option<u32>, black: Option<u32>) -> Predicted {
        match (white, black) {
            (Some(white), Some(black)) => Predicted {
                games: 1,
                sum: expected(white, black),
            },
            _ => Predicted::default(),
        }
    }

    /// Adds those of others.
    pub fn add(&mut self, others: &Predicted) {
        self.games += others.games;
        self.sum += others.sum;
    }
}

/// Games as they are counted: how they ended, and what ratings would predict of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Record {
    pub results: Results,
    pub predicted: Predicted,
}

impl Record {
    /// How many games there are.
    pub fn games(&self) -> u64 {
        self.results.games()
    }

    /// Adds those of others.
    pub fn add(&mut self, others: &Record) {
        self.results.add(&others.results);
        self.predicted.add(&others.predicted);
    }
}

/// The greatest difference of ratings at which 50, 51, ... 99 percent are expected of the player with the
/// higher one: FIDE Rating Regulations, table 8.1.2; from memory.
const UP_TO: [u32; 50] = [
    3, 10, 17, 25, 32, 39, 46, 53, 61, 68, // 50 to 59
    76, 83, 91, 98, 106, 113, 121, 129, 137, 145, // 60 to 69
    153, 162, 170, 179, 188, 197, 206, 215, 225, 235, // 70 to 79
    245, 256, 267, 278, 290, 302, 315, 328, 344, 357, // 80 to 89
    374, 391, 411, 432, 456, 484, 517, 559, 619, 735, // 90 to 99
];

/// The percents of a game that are expected of White, from 0 to 100. The whole table counts: that differences above
/// 400 are taken as 400 is a rule of rating players, not of what is expected.
fn expected(white: u32, black: u32) -> u64 {
    let apart = white.abs_diff(black);
    let higher = 50 + UP_TO.iter().filter(|&&it| it < apart).count() as u64;
    match white >= black {
        true => higher,
        false => 100 - higher,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The normal distribution up to x: Abramowitz and Stegun 1964, 7.1.26 (to 1.5e-7), from memory.
    fn normal(x: f64) -> f64 {
        let z = x.abs() / 2.0_f64.sqrt();
        let t = 1.0 / (1.0 + 0.327_591_1 * z);
        let parts = [
            1.061_405_429,
            -1.453_152_027,
            1.421_413_741,
            -0.284_496_736,
            0.254_829_592,
        ];
        let sum = parts.iter().fold(0.0, |sum, part| (sum + part) * t);
        let erf = 1.0 - sum * (-z * z).exp();
        0.5 * (1.0 + if x < 0.0 { -erf } else { erf })
    }

    #[test]
    fn what_is_expected_is_the_normal_distribution_in_whole_percents() {
        // A. E. Elo 1978, "The Rating of Chessplayers": performances differ normally, with a standard deviation of
        // 200 √2 (from memory). The table is to agree within one percent.
        for apart in -1500_i32..=1500 {
            let white = 2000_u32.saturating_add_signed(apart);
            let exact = 100.0 * normal(f64::from(apart) / (200.0 * 2.0_f64.sqrt()));
            let told = expected(white, 2000) as f64;
            let differs = (told - exact.round()).abs();
            assert!(differs <= 1.0, "{apart}: {told} {exact}");
        }
    }

    #[test]
    fn both_players_expect_a_whole_point_between_them() {
        for apart in 0..=1000 {
            let (stronger, weaker) = (expected(1500 + apart, 1500), expected(1500, 1500 + apart));
            assert_eq!(stronger + weaker, 100, "{apart}");
        }
    }

    #[test]
    fn a_percent_begins_where_the_table_says() {
        // FIDE Rating Regulations, table 8.1.2; from memory.
        let told = [0, 3, 4, 10, 11, 92, 98, 344, 345, 619, 620, 735, 736]
            .map(|apart| expected(2000 + apart, 2000));
        let percents = [50, 50, 51, 51, 52, 63, 63, 88, 89, 98, 99, 99, 100];
        assert_eq!(told, percents);
    }

    #[test]
    fn nothing_is_predicted_where_a_rating_is_not_known() {
        assert_eq!(Predicted::of(Some(2000), None), Predicted::default());
        assert_eq!(Predicted::of(None, Some(2000)), Predicted::default());
        let one = Predicted::of(Some(2000), Some(2100));
        assert_eq!((one.games, one.sum), (1, 36));
    }
}
