//! What is made of a view: markup and pictures.

mod picture;
