//! A move taken out with all that comes after it. The variations beside it stay: they replace it.

use super::grow::number_after;
use super::lift::Opened;
use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::{Held, words};
use crate::edit::meant::{Bound, Made, forget, opened};
use crate::edit::written::laid::{Laid, Place};
use crate::edit::written::place::{cut, joined};
use crate::edit::written::style::Style;
use crate::lesson::{NodeId, at_move};
use crate::notation::{Item, ItemKind, LineIx};
use crate::text::Span;

/// Takes a move out.
///
/// # Errors
/// Where the place is gone or is the start, or words that cannot be read would be lost.
pub fn drop(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
) -> Result<Made, Refused> {
    let node = laid.find(at)?;
    let (Some(place), Some(parent)) = (laid.place(node), laid.lesson.node(node).parent) else {
        let reason = "the start cannot be dropped";
        return Err(Refused::new(
            Why::NotHere,
            reason,
            "go to the first move that is to go",
        ));
    };
    laid.closed(place.line)?;
    let dropped = match laid.begins_variation(place) {
        true => variation(laid, style, node, place),
        false => onward(laid, style, node, place)?,
    };
    if let Some(said) = held.nodes.get_mut(parent as usize) {
        said.children.retain(|&it| it != node as usize);
    }
    if let Some(first) = dropped.opened {
        opened(&mut held, first as usize);
    }
    let is_kept = |span: Span| {
        dropped
            .kept
            .iter()
            .any(|it| it.from <= span.from && span.to <= it.to)
    };
    for stretch in &laid.lesson.unread {
        let is_within =
            dropped.range.from <= stretch.span.from && stretch.span.to <= dropped.range.to;
        if is_within && !is_kept(stretch.span) {
            forget(&mut held.unread, &words(laid.source.slice(stretch.span)));
        }
    }
    Ok(Made {
        bound: Bound::NotOdd,
        ..Made::new(vec![dropped.splice], held, laid.lesson.run(parent))
    })
}

struct Dropped {
    splice: Splice,
    range: Span,
    /// What of that stays.
    kept: Vec<Span>,
    /// The first node of a variation that goes on with the line in place of what was dropped.
    opened: Option<NodeId>,
}

/// The variations among the items after a move: line and place.
fn beside(laid: &Laid<'_>, node: NodeId) -> Vec<(LineIx, Span)> {
    let (line, tail) = laid.tail(node);
    let items = laid.items(line).get(tail).unwrap_or_default();
    // The item has only the opening bracket; its line has all.
    let variation = |it: &Item| match it.kind {
        ItemKind::Variation(line) => Some((line, laid.span(line))),
        _ => None,
    };
    items.iter().filter_map(variation).collect()
}

/// A whole variation; those beside its first move take its place.
fn variation(laid: &Laid<'_>, style: &Style, node: NodeId, place: Place) -> Dropped {
    let range = laid.span(place.line);
    let kept: Vec<Span> = beside(laid, node)
        .into_iter()
        .map(|(_, span)| span)
        .collect();
    let texts: Vec<String> = kept
        .iter()
        .map(|&it| laid.source.slice(it).to_owned())
        .collect();
    let splice = match texts.is_empty() {
        true => cut(laid.text(), range),
        false => Splice {
            span: range,
            text: joined(style, &texts),
        },
    };
    Dropped {
        splice,
        range,
        kept,
        opened: None,
    }
}

/// The rest of a line. Where variations are beside the move, the first of them goes on with the line.
fn onward(laid: &Laid<'_>, style: &Style, node: NodeId, place: Place) -> Result<Dropped, Refused> {
    let range = Span {
        from: laid.begin(place),
        to: laid.end(place.line),
    };
    let beside = beside(laid, node);
    let mut firsts = beside.iter().map(|&(line, _)| Opened::of(laid, line));
    let first = firsts.clone().position(|it| it.is_some());
    let Some((at, first)) = first.zip(firsts.find_map(|it| it)) else {
        if !beside.is_empty() {
            return Err(Refused::broken(
                "beside this move are words that cannot be read, and they would be lost",
            ));
        }
        let is_all = place.line == 0 && laid.game.result.is_none() && laid.game.tags.is_empty();
        let splice =
            match is_all && laid.tail(0).1.start == 0 && laid.next_move(0, 0) == Some(place) {
                // Without a move, a tag or a result there would be no game.
                true => Splice {
                    span: range,
                    text: "*".to_owned(),
                },
                false => cut(laid.text(), range),
            };
        return Ok(Dropped {
            splice,
            range,
            kept: Vec::new(),
            opened: None,
        });
    };
    for &(line, _) in &beside {
        laid.closed(line)?;
    }
    let number = laid.number(place).map_or(String::new(), |number| {
        let word = laid.item(place).map_or(number.span.to, |it| it.span.from);
        laid.slice(number.span.from, word).to_owned()
    });
    let others = beside.iter().enumerate().filter(|(other, _)| *other != at);
    let others: Vec<String> = others
        .map(|(_, (_, span))| laid.source.slice(*span).to_owned())
        .collect();
    let mut parts = vec![format!("{number}{}", first.word)];
    parts.extend(first.before.iter().cloned());
    parts.extend(first.own.iter().cloned());
    let is_apart = first.is_told || !first.beside.is_empty() || !others.is_empty();
    parts.extend(first.beside.iter().cloned());
    parts.extend(others);
    parts.push(first.rest(laid, style, is_apart));
    Ok(Dropped {
        splice: Splice {
            span: range,
            text: joined(style, &parts),
        },
        range,
        kept: beside.into_iter().map(|(_, span)| span).collect(),
        opened: Some(first.node),
    })
}

impl Opened {
    /// The moves after its first, as they are written. A black move gets its number after a comment or a variation.
    pub fn rest(&self, laid: &Laid<'_>, style: &Style, is_apart: bool) -> String {
        let at = at_move(&laid.lesson.node(self.node).position);
        let number = number_after(laid, style, self.line, self.rest_from, at).filter(|_| is_apart);
        format!("{}{}", number.unwrap_or_default(), self.rest)
    }
}
