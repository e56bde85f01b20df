//! What is written after baking.

mod feed;
