//! The words of what the script loads apart: of numbers, and of a talk.

use super::times::Heard;
use crate::assessments;
use crate::counts;

/// The texts of counts and assessments in one language, and how the times of a talk are said.
#[derive(Clone, Debug, Default)]
pub struct Numbers {
    pub counts: counts::Words,
    pub assessments: assessments::Words,
    pub heard: Heard,
}
