//! The score of results, and how far chance alone could have moved it.

use super::Results;

/// A score from White's view, 0 to 1: a win is 1, a draw a half.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    pub score: f64,
    /// Where 95 of 100 such scores lie if nothing but chance is at work; none where every game was drawn.
    pub range: Option<(f64, f64)>,
}

/// What the ratings of the players would predict: the sum of the whole percents that White should have
/// scored, and of how many games both ratings are known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Predicted {
    pub games: u64,
    pub sum: u64,
}

/// 95 of 100 under the normal distribution lie within so many standard deviations.
const Z: f64 = 1.96;

/// The score of those games of which the result is known; none without any.
///
/// The range is Wilson's (1927) where nothing was drawn. A draw moves a score less than a win, so where
/// there are draws the variance is that of wins, draws and losses: s(1 - s) - d/4 with the score s and the
/// share of draws d.
pub fn score(results: &Results) -> Option<Score> {
    let known = results.white + results.drawn + results.black;
    if known == 0 {
        return None;
    }
    let n = known as f64;
    let d = results.drawn as f64 / n;
    let s = results.white as f64 / n + d / 2.0;
    let k = Z * Z / n;
    let root = (k * (4.0 * s * (1.0 - s) - d + k * (1.0 - d)))
        .max(0.0)
        .sqrt();
    let at = |root: f64| ((2.0 * s + k + root) / (2.0 * (1.0 + k))).clamp(0.0, 1.0);
    Some(Score {
        score: s,
        range: (results.drawn < known).then(|| (at(-root), at(root))),
    })
}
