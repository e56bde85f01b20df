//! From sayings to the tree that was told: readings are weighed against each other, a few for every place where the
//! talk may be, and the likeliest of all at the end.

mod acts;
mod beam;
mod places;
mod supply;

pub use acts::{Act, Hint, Manner};
#[cfg(test)]
pub use beam::read_within;
pub use beam::{Before, Read, read};
pub use places::{PlaceId, Places};
