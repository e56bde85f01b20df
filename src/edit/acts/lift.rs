//! A line moved one place towards the front at its branch point. Its words are moved as they are written.

use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::Held;
use crate::edit::meant::{Made, opened};
use crate::edit::written::laid::{Laid, Place};
use crate::edit::written::place::{closing, joined};
use crate::edit::written::style::{Style, column};
use crate::edit::written::writer::ends_with_line_comment;
use crate::lesson::{NodeId, at_move};
use crate::notation::{Item, ItemKind, LineIx};
use crate::text::Span;

/// A variation taken apart so that its moves can go on with another line. All as it is written.
#[derive(Clone)]
pub struct Opened {
    pub node: NodeId,
    pub line: LineIx,
    /// What is before its first move, without that one's number.
    pub before: Vec<String>,
    /// Its first move.
    pub word: String,
    /// The signs and comments of that.
    pub own: Vec<String>,
    /// Whether there are comments among those.
    pub is_told: bool,
    /// The variations beside it.
    pub beside: Vec<String>,
    /// The item with which the rest begins, and the rest.
    pub rest_from: usize,
    pub rest: String,
}

impl Opened {
    /// None for a variation whose first move cannot be read.
    pub fn of(laid: &Laid<'_>, line: LineIx) -> Option<Opened> {
        let items = laid.items(line);
        let place = laid.next_move(line, 0)?;
        let node = laid.node(place)?;
        let is_before = |it: &&Item| matches!(it.kind, ItemKind::Nag(_) | ItemKind::Comment);
        let text = |it: &Item| written(laid, it);
        let end = laid.tail_end(line, place.item + 1);
        let tail = items.get(place.item + 1..end)?;
        let before: Vec<&Item> = items.iter().take(place.item).filter(is_before).collect();
        let is_variation = |it: &&Item| matches!(it.kind, ItemKind::Variation(_));
        let (beside, own): (Vec<&Item>, Vec<&Item>) = tail.iter().partition(is_variation);
        let is_comment = |it: &&Item| it.kind == ItemKind::Comment;
        // Up to the bracket, with what is in no item.
        let close = laid.game.lines.get(line)?.span.to.saturating_sub(1);
        let rest = items
            .get(end)
            .map_or("", |first| laid.slice(first.span.from, close));
        Some(Opened {
            node,
            line,
            is_told: before.iter().chain(&own).any(is_comment),
            before: before.into_iter().map(text).collect(),
            word: text(&laid.item(place)?),
            own: own.into_iter().map(text).collect(),
            beside: beside.into_iter().map(text).collect(),
            rest_from: end,
            rest: rest.trim_end().to_owned(),
        })
    }
}

/// An item as it is written; of a variation all of it.
fn written(laid: &Laid<'_>, item: &Item) -> String {
    laid.source.slice(laid.whole(item)).to_owned()
}

/// Moves the line of a node one place towards the front.
///
/// # Errors
/// Where the place is gone, or it is the first line already.
pub fn lift(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
) -> Result<Made, Refused> {
    let asked = laid.find(at)?;
    let mut node = asked;
    let (parent, nth) = loop {
        let Some(parent) = laid.lesson.node(node).parent else {
            let reason = "this is the main line, which is the first already";
            return Err(Refused::new(Why::NotHere, reason, "go to a variation"));
        };
        let children = &laid.lesson.node(parent).children;
        match children.iter().position(|&it| it == node) {
            Some(0) | None => node = parent,
            Some(nth) => break (parent, nth),
        }
    };
    let before = laid.lesson.node(parent).children.get(nth - 1); // the first was passed over
    let (Some(&before), Some(place)) = (before, laid.place(node)) else {
        return Err(Refused::broken("the move is not in the text"));
    };
    let Some(other) = laid.place(before) else {
        return Err(Refused::broken("the move before it is not in the text"));
    };
    laid.closed(place.line)?;
    laid.closed(other.line)?;
    let splices = match laid.begins_variation(other) {
        true => exchanged(laid, style, other.line, place.line)?,
        false if laid.beside(place.line) != Some(other) => {
            return Err(Refused::broken(
                "this line stands beside words that cannot be read",
            ));
        }
        false => {
            opened(&mut held, node as usize);
            turned(laid, style, other, before, place.line)?
        }
    };
    if let Some(said) = held.nodes.get_mut(parent as usize) {
        said.children.swap(nth - 1, nth);
    }
    Ok(Made::new(splices, held, laid.lesson.run(asked)))
}

/// Two variations, the second of which is to come before the first.
fn exchanged(
    laid: &Laid<'_>,
    style: &Style,
    first: LineIx,
    second: LineIx,
) -> Result<Vec<Splice>, Refused> {
    let nests = |line: LineIx| Opened::of(laid, line).is_none_or(|it| !it.beside.is_empty());
    let is_simple = laid.beside(first) == laid.beside(second) && !nests(first) && !nests(second);
    if is_simple {
        let put = |there: LineIx, line: LineIx| Splice {
            span: laid.span(there),
            text: laid.source.slice(laid.span(line)).to_owned(),
        };
        return Ok(vec![put(first, second), put(second, first)]);
    }
    // Variations beside the first move of others: all of them side by side, with these two exchanged.
    let (outer, other) = (outermost(laid, first), outermost(laid, second));
    let beside = laid.beside(outer);
    let (Some(beside), true) = (beside, beside == laid.beside(other)) else {
        return Err(Refused::broken(
            "these two lines are beside different words",
        ));
    };
    let items = laid.items(beside.line);
    let at = |line: LineIx| {
        items
            .iter()
            .position(|it| it.kind == ItemKind::Variation(line))
    };
    let (Some(from), Some(to)) = (at(outer), at(other)) else {
        return Err(Refused::broken("the line is not in the text"));
    };
    let (from, to) = (from.min(to), from.max(to));
    let mut blocks: Vec<(Option<LineIx>, String)> = Vec::new();
    let range = items.get(from..=to).unwrap_or_default();
    for item in range {
        match item.kind {
            ItemKind::Variation(line) => flat(laid, style, line, &mut blocks),
            _ => blocks.push((None, written(laid, item))),
        }
    }
    let find = |line: LineIx| blocks.iter().position(|(it, _)| *it == Some(line));
    let (Some(one), Some(two)) = (find(first), find(second)) else {
        return Err(Refused::broken("the line is not in the text"));
    };
    blocks.swap(one, two);
    let parts: Vec<String> = blocks.into_iter().map(|(_, text)| text).collect();
    let whole = |at: usize| range.get(at).map_or(Span::default(), |it| laid.whole(it));
    Ok(vec![Splice {
        span: whole(0).join(whole(to - from)),
        text: joined(style, &parts),
    }])
}

/// The variation around one as long as it is beside the first move of another.
fn outermost(laid: &Laid<'_>, line: LineIx) -> LineIx {
    let mut line = line;
    while let Some(beside) = laid.beside(line)
        && laid.begins_variation(beside)
    {
        line = beside.line; // an earlier one
    }
    line
}

/// A variation without those beside its first move, and then those. Calls itself at most `limits::NESTING` deep.
fn flat(laid: &Laid<'_>, style: &Style, line: LineIx, blocks: &mut Vec<(Option<LineIx>, String)>) {
    let Some(it) = Opened::of(laid, line).filter(|it| !it.beside.is_empty()) else {
        blocks.push((Some(line), laid.source.slice(laid.span(line)).to_owned()));
        return;
    };
    let mut parts = it.before.clone();
    let number = laid
        .next_move(line, 0)
        .and_then(|place| laid.number(place).map(|it| (it, place)));
    let number = number.and_then(|(number, place)| {
        Some(laid.slice(number.span.from, laid.item(place)?.span.from))
    });
    parts.push(format!("{}{}", number.unwrap_or_default(), it.word));
    parts.extend(it.own.iter().cloned());
    parts.push(it.rest.clone());
    let text = joined(style, &parts);
    let close = closing(style, &text);
    blocks.push((Some(line), format!("({text}{close})")));
    for item in laid.items(line).iter().take(it.rest_from) {
        if let ItemKind::Variation(inner) = item.kind {
            flat(laid, style, inner, blocks);
        }
    }
}

/// A variation that becomes the line that it is beside; that becomes a variation.
fn turned(
    laid: &Laid<'_>,
    style: &Style,
    place: Place,
    node: NodeId,
    variation: LineIx,
) -> Result<Vec<Splice>, Refused> {
    let broken = || Refused::broken("the line is not in the text");
    let new = Opened::of(laid, variation).ok_or_else(broken)?;
    let word = laid.item(place).ok_or_else(broken)?;
    let items = laid.items(place.line);
    let end = laid.tail_end(place.line, place.item + 1);
    let tail = items.get(place.item + 1..end).unwrap_or_default();
    let begin = laid.begin(place);
    let parent = laid.lesson.node(node).parent.unwrap_or(0);
    let (turn, number) = at_move(&laid.lesson.node(parent).position);
    let numbered = match laid.number(place) {
        Some(it) => laid.slice(it.span.from, word.span.from).to_owned(),
        None => String::new(),
    };
    // What goes on with the line: the new move and what is its own.
    let mut parts = vec![format!("{numbered}{}", new.word)];
    parts.extend(new.before.iter().cloned());
    parts.extend(new.own.iter().cloned());
    // Then the old move as a variation, with what is its own.
    let is_comment = |it: &Item| it.kind == ItemKind::Comment;
    let own: Vec<&Item> = tail
        .iter()
        .filter(|it| !matches!(it.kind, ItemKind::Variation(_)))
        .collect();
    let is_told = own.iter().any(|it| is_comment(it));
    let mut old = vec![format!(
        "({}{}",
        style.number(number, turn),
        laid.source.slice(word.span)
    )];
    old.extend(own.into_iter().map(|it| written(laid, it)));
    parts.extend(old);
    // All other variations come after it, then the rest of the new line.
    let mut rest: Vec<String> = new.beside.clone();
    let others = tail
        .iter()
        .filter(|it| matches!(it.kind, ItemKind::Variation(ix) if ix != variation));
    rest.extend(others.map(|it| written(laid, it)));
    rest.push(new.rest(laid, style, true));
    let first = joined(style, &parts);
    let last = tail.last().map_or(word.span, |it| laid.whole(it));
    let rest = joined(style, &rest);
    let line_end = laid.end(place.line);
    let Some(next) = items.get(end) else {
        let text = format!("{first}{})", closing(style, &first));
        return Ok(vec![Splice {
            span: Span {
                from: begin,
                to: last.to,
            },
            text: joined(style, &[text, rest]),
        }]);
    };
    // A number that a black move had because of the variations before it.
    let gap = laid.slice(last.to, next.span.from);
    let is_superfluous = matches!(next.kind, ItemKind::Number { .. })
        && turn.is_white()
        && style.repeats
        && !is_told;
    let after = items
        .get(end + 1)
        .filter(|_| is_superfluous && !gap.contains('\n'));
    let ends_line = ends_with_line_comment(&first);
    let (to, gap) = match (gap.trim().is_empty(), after) {
        // What means nothing there stays between them.
        (false, _) => (last.to, if ends_line { style.end } else { " " }),
        (true, Some(after)) => (after.span.from, if ends_line { style.end } else { " " }),
        (true, None) if gap.is_empty() => (next.span.from, " "),
        (true, None) if ends_line && !gap.contains('\n') => (next.span.from, style.end),
        (true, None) => (next.span.from, gap),
    };
    let number = match next.kind == ItemKind::Move && is_told && turn.is_white() && style.repeats {
        true if to == next.span.from => style.number(number, !turn),
        _ => String::new(),
    };
    let rest_of_line = laid.slice(next.span.from, line_end);
    let is_full =
        column(laid.text(), line_end) + 2 + rest.lines().next().map_or(0, |it| it.chars().count())
            > style.columns;
    let space = if is_full { style.end } else { " " };
    let space = if rest.is_empty() { "" } else { space };
    Ok(vec![
        Splice {
            span: Span { from: begin, to },
            text: format!("{first}{gap}{number}"),
        },
        Splice {
            span: Span {
                from: line_end,
                to: line_end,
            },
            text: format!("{}){space}{rest}", closing(style, rest_of_line)),
        },
    ])
}
