//! Another move in the place of one that is there.

use super::grow::played;
use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::Held;
use crate::edit::meant::{Bound, Made};
use crate::edit::written::laid::Laid;
use crate::edit::written::style::Style;
use crate::notation::word::san;
use crate::text::Span;

/// Puts a move in the place of another. Its signs and words stay, and what comes after it as far as it can be played.
///
/// # Errors
/// Where the place is gone or is the start, or the move cannot be played or is there already.
pub fn change(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
    moves: &[String],
) -> Result<Made, Refused> {
    let node = laid.find(at)?;
    let (Some(item), Some(parent)) = (
        laid.place(node).and_then(|it| laid.item(it)),
        laid.lesson.node(node).parent,
    ) else {
        let reason = "the start is no move, so no other takes its place";
        return Err(Refused::new(Why::NotHere, reason, "go to a move first"));
    };
    let [word] = moves else {
        let reason = "one move takes the place of another";
        return Err(Refused::new(
            Why::NoMove,
            reason,
            "play one move, then go on after it",
        ));
    };
    let (san, _) = played(&laid.lesson.node(parent).position, word, laid)?;
    let mut run = laid.lesson.run(node);
    match laid.child(parent, &san) {
        Some(same) if same == node => return Ok(Made::new(Vec::new(), held, run)),
        Some(_) => {
            let reason = format!("{san} is given at this position already");
            return Err(Refused::new(
                Why::ThereAlready,
                reason,
                "go there, or drop one of the two",
            ));
        }
        None => {}
    }
    let written = laid.source.slice(item.span);
    let read = san::read(written, laid.lesson.letters());
    let after = written.get(read.core.len()..).unwrap_or_default();
    let check = if after.starts_with(read.check) {
        read.check.len()
    } else {
        0
    };
    let from = item.span.from as usize;
    let splice = Splice {
        span: Span::new(from, from + read.core.len() + check),
        text: style.letters.write(&san),
    };
    if let Some(said) = held.nodes.get_mut(node as usize) {
        said.san = san.clone();
        said.children.clear();
    }
    run.pop();
    run.push(san);
    Ok(Made {
        bound: Bound::NotAfter,
        ..Made::new(vec![splice], held, run)
    })
}
