//! What several drawings are made of: a button, a move, a run of moves, a label, a caption, a link to a place, what marks say.

use super::{Element, el};
use crate::lesson::NodeId;
use crate::text::cut;
use crate::view::{Action, Does, Intent, MoveView, Piece, Signs, Word, Words, wording};

/// A button that does something: what a reader means by it (`data-do`, of a question `data-ask`), or
/// what the page's script does (`data-take`).
pub(super) fn button(words: &Words, action: Action) -> Element {
    let row = action.row();
    let attribute = match row.intent {
        Some(Intent::Ask(_)) => "data-ask",
        Some(_) => "data-do",
        None => "data-take",
    };
    let button = el("button").with("type", "button");
    button.with(attribute, row.name).text(words.get(row.word))
}

/// A caption: the moves that led here, in the place that a word says, or the start; and whose turn
/// it is, after its comma.
pub(super) fn captioned(
    words: &Words,
    word: Word,
    last: &[MoveView],
    at: &str,
    turn: &str,
) -> Element {
    let caption = el("figcaption");
    let caption = match last.is_empty() {
        true => caption.text(words.get(Word::Start)),
        false => {
            let (before, after) = words.around(word, "{move}");
            let moves = run(el("b"), last);
            // `at` is what the comment belongs to that is spoken of.
            let caption = match cut(before, "{at}") {
                Some((before, between)) => caption.text(before).text(at).text(between),
                None => caption.text(before),
            };
            caption.child(moves).text(after)
        }
    };
    caption.text(turn)
}

/// A move with its number and signs, kept left to right and in one piece. Of `+=` and `=+` one half is set over the
/// other.
pub(super) fn shown(shown: &MoveView) -> Element {
    let number = shown.number.as_deref().unwrap_or_default();
    push_signs(
        el("bdi").with("dir", "ltr").text(number).text(&shown.san),
        &shown.signs,
    )
}

fn push_signs(into: Element, signs: &str) -> Element {
    for stacked in ["+=", "=+"] {
        if let Some((before, after)) = cut(signs, stacked) {
            let stacked = el("span").with("class", "stacked").text(stacked);
            return into.text(before).child(stacked).text(after);
        }
    }
    into.text(signs)
}

/// A key to signs.
pub(super) fn key(signs: &Signs) -> Element {
    let rows = signs.iter().map(|(sign, said)| {
        let sign = push_signs(el("bdi").with("dir", "ltr"), sign);
        el("li").child(el("b").child(sign)).text(" ").text(said)
    });
    el("ul")
        .with("role", "list")
        .with("class", "signs")
        .children(rows)
}

/// Moves in a row, which may break between them.
pub(super) fn run(mut into: Element, moves: &[MoveView]) -> Element {
    for (at, one) in moves.iter().enumerate() {
        into = into.text(if at == 0 { "" } else { " " }).child(shown(one));
    }
    into
}

/// A label with its word when spoken: alone "B2" sounds like a square.
pub(super) fn named(into: Element, words: &Words, label: &str) -> Element {
    let (before, after) = words.around(Word::Line, "{label}");
    let hidden =
        |text: &str| (!text.is_empty()).then(|| el("span").with("class", "said").text(text));
    into.maybe(hidden(before)).text(label).maybe(hidden(after))
}

/// The label of a line; the main line has a word.
pub(super) fn labelled(words: &Words, label: &str) -> Element {
    let place = el("span").with("class", "label");
    match label.is_empty() {
        true => place.text(words.get(Word::Main)),
        false => named(place, words, label),
    }
}

/// A link to a place of a lesson: the address of its start, and the run that goes on from there.
pub(super) fn link(start: &str, run: &str, node: NodeId) -> Element {
    let mut address = start.to_owned();
    if !run.is_empty() {
        address.push('/');
        address.push_str(run);
    }
    el("a")
        .with("href", address)
        .with("data-go", node.to_string())
}

/// The marks of a paragraph for a listener, after it; `is_last` says that its words are the last before them.
pub(super) fn marked(words: &Words, pieces: &[Piece], is_last: bool) -> Option<Element> {
    let mut marks = Vec::new();
    for piece in pieces {
        if let Does::Marks(mark) = &piece.does {
            marks.push(mark);
        }
    }
    let before = pieces.last().filter(|_| is_last);
    let said = wording::marked(words, before.map_or("", |it| &it.text), &marks);
    (!said.is_empty()).then(|| el("span").with("class", "said").text(&said))
}
