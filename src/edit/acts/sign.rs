//! Other signs for a move, written as the lesson writes signs.

use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::Held;
use crate::edit::meant::Made;
use crate::edit::written::laid::Laid;
use crate::edit::written::place::{Spot, cut};
use crate::edit::written::style::{Style, is_plain};
use crate::edit::written::writer::Piece;
use crate::notation::word::{nag, san};
use crate::notation::{Item, ItemKind};
use crate::text::Span;

/// Gives a move these glyphs.
///
/// # Errors
/// Where the place is gone, or is the start.
pub fn sign(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
    nags: &[u8],
) -> Result<Made, Refused> {
    let node = laid.find(at)?;
    let Some(place) = laid.place(node) else {
        let reason = "a sign says something of a move, and this is the start";
        return Err(Refused::new(Why::NotHere, reason, "go to a move first"));
    };
    let mut wanted: Vec<u8> = Vec::new();
    for &glyph in nags {
        if !wanted.contains(&glyph) {
            wanted.push(glyph);
        }
    }
    let said = &laid.lesson.node(node).nags;
    let gone = |glyph: &u8| !wanted.contains(glyph);
    let new: Vec<u8> = wanted
        .iter()
        .copied()
        .filter(|it| !said.contains(it))
        .collect();
    let mut changes = Vec::new();
    let (Some(item), (line, tail)) = (laid.item(place), laid.tail(node)) else {
        return Err(Refused::broken("the move is not in the text"));
    };
    // The signs that are words of their own, before a variation's first move too.
    let items = laid.items(line);
    let start = match laid.number(place) {
        Some(_) => place.item - 1,
        None => place.item,
    };
    let before = match laid.begins_variation(place) {
        true => 0..start,
        false => 0..0,
    };
    for item in before.chain(tail.clone()).filter_map(|at| items.get(at)) {
        if let ItemKind::Nag(glyph) = item.kind
            && gone(&glyph)
        {
            changes.push(cut(laid.text(), item.span));
        }
    }
    let word = Word::of(laid, item);
    let stays: Vec<&(String, u8)> = word
        .signs
        .iter()
        .filter(|(_, glyph)| !gone(glyph))
        .collect();
    let mut close: String = stays.iter().map(|(sign, _)| sign.as_str()).collect();
    // One of them is close to the move: two would be read as a third.
    let mut is_free = !stays.iter().any(|(_, it)| is_plain(*it));
    let mut apart = Vec::new();
    for &glyph in &new {
        match style.sign(glyph) {
            Some(sign) if is_plain(glyph) && is_free => {
                close.insert_str(0, &sign);
                is_free = false;
            }
            Some(sign) if !is_plain(glyph) => apart.push(Piece::Word(sign)),
            _ => apart.push(Piece::Word(format!("${glyph}"))),
        }
    }
    if close != word.written {
        changes.push(Splice {
            span: word.span,
            text: close,
        });
    }
    if !apart.is_empty() {
        let own = items.get(tail).unwrap_or_default();
        let last = own
            .iter()
            .take_while(|it| matches!(it.kind, ItemKind::Nag(_)))
            .last();
        let spot = Spot::after(laid, last.copied().unwrap_or(item));
        changes.push(spot.insert(laid.text(), style, &apart));
    }
    if let Some(said) = held.nodes.get_mut(node as usize) {
        wanted.sort_unstable();
        said.nags = wanted;
    }
    Ok(Made::new(
        one(laid.text(), changes),
        held,
        laid.lesson.run(node),
    ))
}

/// The signs at the end of a move's word.
struct Word {
    span: Span,
    written: String,
    /// Each, with its glyph.
    signs: Vec<(String, u8)>,
}

impl Word {
    fn of(laid: &Laid<'_>, item: Item) -> Word {
        let written = laid.source.slice(item.span);
        let read = san::read(written, laid.lesson.letters());
        let mut rest = written;
        let mut signs = Vec::new();
        while let Some((glyph, length)) = nag::sign_at_end(rest)
            && rest.len() - length >= read.core.len()
        {
            let (before, sign) = rest.split_at(rest.len() - length);
            signs.insert(0, (sign.to_owned(), glyph));
            rest = before;
        }
        let from = item.span.from as usize + rest.len();
        Word {
            span: Span::new(from, item.span.to as usize),
            written: written.get(rest.len()..).unwrap_or_default().to_owned(),
            signs,
        }
    }
}

/// Several changes as one stretch, with what is between them.
fn one(text: &str, mut changes: Vec<Splice>) -> Vec<Splice> {
    changes.sort_by_key(|it| (it.span.from, it.span.to));
    let mut made: Option<Splice> = None;
    for change in changes {
        made = Some(match made {
            None => change,
            Some(mut all) => {
                let from = (all.span.to as usize).min(change.span.from as usize);
                let between = text.get(all.span.to as usize..change.span.from as usize);
                if between.is_none() && from < all.span.to as usize {
                    // Both take the white space between them.
                    all.text += change.text.trim_start();
                } else {
                    all.text += between.unwrap_or_default();
                    all.text += &change.text;
                }
                all.span = all.span.join(change.span);
                all
            }
        });
    }
    made.into_iter().collect()
}
