//! What is written after baking.

mod amiss;
mod feed;
