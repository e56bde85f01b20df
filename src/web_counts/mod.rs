//! The thin layer in the browser for counts and assessments: what the page's script calls to draw them. It is the whole of a
//! core of its own (www/build.sh, the feature `counts`), which only lessons with counts load.

use crate::assessments;
use crate::counts::{self, Drawn, Words};
use crate::nodes::morph;
use crate::notation::Letters;
use crate::text::split;
use shakmaty::Color;
use wasm_bindgen::prelude::wasm_bindgen;

fn words_of(texts: &str) -> Words {
    Words::with(split(texts, 0))
}

/// Draws counts, as `counts::given` reads them, into their element. `words` are names and texts of the
/// page's language in turn, with a NUL after each; `letters` are codes of languages, a NUL
/// between them: moves are shown in those of the first that is known.
#[wasm_bindgen(js_name = drawCounts)]
pub fn draw_counts(into: &web_sys::Element, written: &str, words: &str, letters: &str) {
    let (of, counted) = counts::given(written);
    let counted = counted.lettered(Letters::first(split(letters, 0)));
    morph(
        into,
        &counts::counts(&words_of(words), &of, &counted, Drawn::Live),
    );
}

/// The sentence for a paragraph that quotes a figure; nothing for another paragraph.
#[wasm_bindgen(js_name = quoteCounts)]
pub fn quote_counts(paragraph: &str, words: &str) -> Option<String> {
    counts::quote(&words_of(words), paragraph)
}

/// What is said of a move beside it in the text.
#[wasm_bindgen(js_name = sayCounts)]
pub fn say_counts(written: &str, words: &str) -> String {
    let (_, counted) = counts::given(written);
    counts::beside(&words_of(words), &counted.all)
}

/// Draws an assessment, as `assessments::given` reads it, into its element. `number` is that of the next move, which is
/// White's or Black's.
#[wasm_bindgen(js_name = drawAssessment)]
pub fn draw_assessment(
    into: &web_sys::Element,
    written: &str,
    is_white: bool,
    number: u32,
    words: &str,
    letters: &str,
) {
    let words = assessments::Words::with(split(words, 0));
    let first = (Color::from_white(is_white), number);
    if let Some((of, found)) = assessments::given(written) {
        let found = found.lettered(Letters::first(split(letters, 0)));
        morph(into, &assessments::assessment(&words, &of, &found, first));
    }
}
