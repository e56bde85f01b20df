//! What a reader sees of counts.

mod drawn;
mod said;
mod scores;

use plyline::counts::Results;

/// So many games that White won, that were drawn, that Black won.
pub fn ended(white: u64, drawn: u64, black: u64) -> Results {
    Results {
        white,
        drawn,
        black,
        unknown: 0,
    }
}
