//! Writing: an edit of a lesson becomes the smallest change of its notation. Pure: nothing is written here.
//!
//! The text is read, its moves are found in it, and the manner in which it is written (`written`). The edit is made
//! twice (`acts`): in what the lesson holds (`meant`, on the plain values of `held`), and in the text. The text after
//! it is read again, and where it does not hold just what was meant, the edit is refused (`make`). `posted` does the
//! same to a lesson within a page of Markdown or HTML. `begun` is the text of a new lesson, `movetext` a line alone.

mod acts;
mod asked;
mod begun;
mod form;
mod held;
mod make;
mod meant;
mod movetext;
mod placed;
mod posted;
mod written;

pub use asked::{Changed, Edit, Refused, Splice, Why, spliced};
pub use begun::begun;
pub use form::Form;
pub use held::{Held, Said, unread};
pub use make::edit;
pub use movetext::{link, movetext, whole};
pub use placed::{Notation, Piece, Written, piece};
pub use posted::{edit_post, unfit};
