//! The thin layer in the browser for answers to asides: what the page's script calls to search. It is the whole of a core
//! of its own (www/build.sh, the feature `answers`), which is loaded with the first aside of a lesson that answers.

use crate::aside::{self, Asked, Word, Words};
use crate::lesson::sans;
use crate::notation::Letters;
use crate::text::{join, split};
use wasm_bindgen::prelude::wasm_bindgen;

/// A move that is searched.
#[wasm_bindgen]
pub struct Look {
    asked: Asked,
    words: Words,
    letters: &'static Letters,
}

#[wasm_bindgen]
impl Look {
    /// Begins one, by what `aside::aside` reads; nothing where there is no answer. `words` are names and texts of the page's
    /// language in turn, with a NUL after each; `letters` are codes of languages,
    /// a NUL between them: moves are shown in those of the first that is known.
    pub fn begin(tried: &str, words: &str, letters: &str) -> Option<Look> {
        let aside = aside::aside(tried).filter(aside::Aside::goes_on)?;
        Some(Look {
            asked: Asked::about(aside),
            words: Words::with(split(words, 0)),
            letters: Letters::first(split(letters, 0)),
        })
    }

    /// Goes on for so many positions; false when the answer is the last.
    pub fn turn(&mut self, positions: u32) -> bool {
        self.asked.turn(u64::from(positions))
    }

    /// What is said of what has been found, a sentence a line.
    pub fn said(&self) -> String {
        let answer = self.asked.answer();
        join(
            &aside::said(&self.words, &self.asked, &answer, self.letters),
            "\n",
        )
    }

    /// The moves that show it, in English SAN with a space between; the first is the reply.
    pub fn line(&self) -> String {
        let sans = sans(&self.asked.aside.position, &self.asked.answer().gain.line);
        join(&sans, " ")
    }

    /// What the move gains for the side that plays it, in hundredths of a pawn.
    #[wasm_bindgen(getter)]
    pub fn pawns(&self) -> i32 {
        self.asked.answer().gain.pawns
    }

    /// In how many of its moves that side mates, below 0 is mated; nothing where there is no mate.
    #[wasm_bindgen(getter)]
    pub fn mate(&self) -> Option<i32> {
        self.asked.answer().gain.mate
    }

    /// How many half-moves deep every reply was tried.
    #[wasm_bindgen(getter)]
    pub fn depth(&self) -> u32 {
        self.asked.answer().gain.depth
    }
}

/// A sentence about the place of the lesson that an aside has reached, and the word that leads there, a line each. `way` is
/// what `aside::aside` reads of the move that leads to it in the lesson.
#[wasm_bindgen(js_name = ownPlace)]
pub fn own_place(way: &str, words: &str, letters: &str) -> Option<String> {
    let way = aside::aside(way)?;
    let words = Words::with(split(words, 0));
    let shown = aside::shown(&way.since, &way.moves, Letters::first(split(letters, 0)));
    let said = words.fill(Word::Own, &[("move", &shown)]);
    Some(join(&[said, words.fill(Word::There, &[])], "\n"))
}

/// What is said while nothing has been found.
#[wasm_bindgen]
pub fn searching(words: &str) -> String {
    Words::with(split(words, 0)).fill(Word::Looks, &[])
}
