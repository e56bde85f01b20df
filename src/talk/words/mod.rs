//! From words to sayings: each move that is named, with what the words about it tell.

mod about;
mod english;
mod language;
mod named;
mod notation;
mod phrases;
mod phrases_english;
mod said;
mod sayings;
mod taking;
mod token;

pub use language::{Cue, Language};
pub use phrases::is_at;
pub use said::{Said, Saying, has_signs};
pub use sayings::sayings;
pub use token::End;

impl Language {
    /// The language of a code; none where no talk in it is understood.
    pub fn of(code: &str) -> Option<&'static Language> {
        let all = [&english::ENGLISH];
        all.into_iter().find(|it| it.code == code)
    }
}
