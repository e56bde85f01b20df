//! Moves named in an article.

use super::harness::Case;
pub const CASES: &[Case] = &[];
