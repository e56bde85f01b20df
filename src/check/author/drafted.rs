//! A draft of a lesson that the program writes, as PGN.

use crate::lesson::export;
use crate::lesson::rules::{EnPassantForm, fen, position_name};
use crate::notation::printer::Printer;
use crate::text::Source;
use shakmaty::Chess;

/// Tags, the start where it is not the usual one, and movetext with its numbers, in the standard's export format. `moves`
/// has no result.
pub fn drafted<'a>(
    tags: impl IntoIterator<Item = (&'a str, &'a str)>,
    start: &Chess,
    moves: &str,
) -> String {
    let mut head = Printer::default();
    let mut has_fen = false;
    for (name, value) in tags {
        has_fen |= name == "FEN";
        head.tag(name, value);
    }
    if !has_fen && position_name(start) != position_name(&Chess::default()) {
        head.tag("SetUp", "1");
        head.tag("FEN", &fen(start, EnPassantForm::Legal));
    }
    head.blank_line();
    let text = head.finish() + moves + "*\n";
    let (lessons, _) = super::lessons(&Source::new("draft", text.as_str()));
    let lesson = lessons.into_iter().flatten().next();
    lesson.and_then(|it| export(&it, true).ok()).unwrap_or(text)
}
