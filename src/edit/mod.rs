//! Writing: an edit of a lesson becomes the smallest change of its notation. Pure: nothing is written here.
//!
//! The text is read and its moves are found in it (`laid`), with the manner in which it is written (`style`). The edit
//! is made twice: in what the lesson holds (`meant`, on the plain values of `held`), and in the text (`grow`, `paste`, `change`,
//! `comment`, `sign`, `drop`, `lift`, which put words into lines by `writer` and `place`). The text after it is read
//! again, and where it does not hold just what was meant, the edit is refused. `posted` does the same to a lesson
//! within a page of Markdown or HTML.

mod asked;
mod change;
mod comment;
mod drop;
mod grow;
mod held;
mod laid;
mod lift;
mod make;
mod meant;
mod paste;
mod place;
mod posted;
mod sign;
mod style;
mod writer;

pub use asked::{Changed, Edit, Refused, Splice, Why, spliced};
pub use make::edit;
pub use posted::edit_post;
