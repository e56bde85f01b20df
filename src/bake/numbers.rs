//! The words of numbers that are baked.

use crate::assessments;
use crate::counts;

/// The texts of counts and assessments in one language.
#[derive(Clone, Debug, Default)]
pub struct Numbers {
    pub counts: counts::Words,
    pub assessments: assessments::Words,
}
