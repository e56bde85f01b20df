//! Markup to nodes of a page: what `web` and `web_counts` have in common.

mod morph;

pub use morph::{morph, morph_element};

/// Hands out memory with less code than std's own.
#[global_allocator]
static MEMORY: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();
