//! New moves: written in the manner of the lesson, and where they go.

use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::{Held, Said};
use crate::edit::meant::Made;
use crate::edit::written::laid::{Laid, Place};
use crate::edit::written::place::Spot;
use crate::edit::written::style::{Style, indent, is_plain};
use crate::edit::written::writer::Piece;
use crate::lesson::{Attempt, NodeId, at_move, attempt_typed};
use crate::notation::{ItemKind, Letters};
use crate::text::Span;
use shakmaty::{Chess, Color};

/// Puts moves that follow each other into a lesson.
///
/// # Errors
/// Where the place is gone, or a move cannot be played.
pub fn keep(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
    moves: &[String],
) -> Result<Made, Refused> {
    let mut from = laid.find(at)?;
    let mut moves = moves.iter();
    let mut new: Vec<String> = Vec::new();
    for word in moves.by_ref() {
        match laid.child(from, word) {
            Some(child) => from = child,
            None => {
                new.push(word.clone());
                break;
            }
        }
    }
    new.extend(moves.cloned());
    let mut run = laid.lesson.run(from);
    if new.is_empty() {
        return Ok(Made::new(Vec::new(), held, run));
    }
    let mut position = laid.lesson.node(from).position.clone();
    let mut parent = from as usize;
    let first = held.nodes.len();
    for word in &new {
        let (san, after) = played(&position, word, laid)?;
        position = after;
        run.push(san.clone());
        let said = Said {
            san,
            ..Said::default()
        };
        parent = held.add(parent, said);
    }
    let splice = branch(laid, style, &held, from, &[first])?;
    Ok(Made::new(vec![splice], held, run))
}

/// The SAN of a move and the position after it.
///
/// # Errors
/// Where it cannot be played.
pub fn played(position: &Chess, word: &str, laid: &Laid<'_>) -> Result<(String, Chess), Refused> {
    // A move that was played on a board comes in English letters, some of which mean another piece elsewhere.
    let english = attempt_typed(position, word, Letters::ENGLISH);
    let attempt = match english {
        Attempt::Played(tried) if tried.san == word => Attempt::Played(tried),
        _ => attempt_typed(position, word, laid.lesson.letters()),
    };
    match attempt {
        Attempt::Played(tried) => Ok((tried.san, tried.position)),
        Attempt::Refused(reason) => {
            let help = reason
                .help
                .unwrap_or_else(|| "play another move".to_owned());
            Err(Refused::new(Why::NoMove, reason.message, help))
        }
        Attempt::Promotes => {
            let reason = format!("{word} does not say what the pawn becomes");
            Err(Refused::new(
                Why::NoMove,
                reason,
                "write the piece after it, as in e8=Q",
            ))
        }
        Attempt::NoMove => {
            let reason = format!("\u{201c}{word}\u{201d} is no move");
            Err(Refused::new(Why::NoMove, reason, "write it as in Nf3"))
        }
    }
}

/// New moves from a node: the first goes on where the line ends, and all others are variations, the last at this place.
///
/// # Errors
/// Where a bracket is missing there.
pub fn branch(
    laid: &Laid<'_>,
    style: &Style,
    held: &Held,
    from: NodeId,
    new: &[usize],
) -> Result<Splice, Refused> {
    let (line, tail) = laid.tail(from);
    laid.closed(line)?;
    let at = at_move(&laid.lesson.node(from).position);
    match laid.next_move(line, tail.start) {
        Some(next) => Ok(beside(laid, style, held, next, at, new)),
        None => Ok(onward(laid, style, held, from, at, new)),
    }
}

/// Variations beside a move that is there.
fn beside(
    laid: &Laid<'_>,
    style: &Style,
    held: &Held,
    next: Place,
    at: (Color, u32),
    new: &[usize],
) -> Splice {
    let items = laid.items(next.line);
    let end = laid.tail_end(next.line, next.item + 1);
    let is_variation = |at: &usize| {
        matches!(
            items.get(*at).map(|it| it.kind),
            Some(ItemKind::Variation(_))
        )
    };
    let sibling = (next.item + 1..end).rev().find(is_variation);
    let after = sibling.unwrap_or(end - 1); // at least the move itself
    let mut pieces = Vec::new();
    for &first in new {
        pieces.push(Piece::Open);
        line(style, held, first, at, Begin::Variation, &mut pieces);
        pieces.push(Piece::Close);
    }
    let Some(&item) = items.get(after) else {
        return Splice {
            span: Span::default(),
            text: String::new(),
        };
    };
    let mut spot = Spot::after(laid, item);
    spot.row = row(laid, next.line, sibling);
    spot.number = number_after(laid, style, next.line, after + 1, after_move(at));
    spot.insert(laid.text(), style, &pieces)
}

/// The white space before variations that begin lines of their own: as the one beside the same move does, else as most
/// of this line's do.
fn row<'a>(laid: &Laid<'a>, line: usize, sibling: Option<usize>) -> Option<&'a str> {
    let begins = |from: u32| {
        let indent = indent(laid.text(), from);
        let start = laid.text().get(..from as usize)?;
        let is_first =
            start.ends_with(indent) && start[..start.len() - indent.len()].ends_with('\n');
        is_first.then_some(indent)
    };
    let items = laid.items(line);
    if let Some(sibling) = sibling.and_then(|at| items.get(at)) {
        return begins(sibling.span.from);
    }
    let all = items
        .iter()
        .filter(|it| matches!(it.kind, ItemKind::Variation(_)));
    let (mut rows, mut first, mut count) = (0, None, 0);
    for item in all {
        count += 1;
        if let Some(indent) = begins(item.span.from) {
            rows += 1;
            first = first.or(Some(indent));
        }
    }
    first.filter(|_| rows * 2 > count)
}

/// Whose turn it is after a move, and the number of the next.
fn after_move((turn, number): (Color, u32)) -> (Color, u32) {
    (!turn, number + u32::from(turn.is_black()))
}

/// The number of the move at this item, where it did without because it came right after its predecessor.
pub fn number_after(
    laid: &Laid<'_>,
    style: &Style,
    line: usize,
    item: usize,
    at: (Color, u32),
) -> Option<String> {
    laid.node(Place { line, item })?; // unread words stay as they are
    let needs = at.0.is_black() && style.repeats && item > 0;
    needs
        .then(|| style.number(at.1, at.0))
        .filter(|it| !it.is_empty())
}

/// Moves that go on where a line ends.
fn onward(
    laid: &Laid<'_>,
    style: &Style,
    held: &Held,
    from: NodeId,
    at: (Color, u32),
    new: &[usize],
) -> Splice {
    let (text_line, tail) = laid.tail(from);
    let items = laid.items(text_line);
    let is_apart = |kind: ItemKind| matches!(kind, ItemKind::Comment | ItemKind::Variation(_));
    let mut told = items.get(tail.clone()).into_iter().flatten();
    let numbered = from == 0 || (style.repeats && told.any(|it| is_apart(it.kind)));
    let mut pieces = Vec::new();
    let begin = match (text_line == 0 && style.rows, numbered) {
        (true, numbered) => Begin::Main(numbered),
        (false, numbered) => Begin::Line(numbered),
    };
    lines(style, held, new, at, begin, &mut pieces);
    match tail.end.checked_sub(1).and_then(|at| items.get(at)) {
        Some(&item) => Spot::after(laid, item).insert(laid.text(), style, &pieces),
        None => first_of_all(laid, style, &pieces),
    }
}

/// What is put into a game without moves or comments: before its result, else after its tags.
pub fn first_of_all(laid: &Laid<'_>, style: &Style, pieces: &[Piece]) -> Splice {
    use crate::edit::written::writer::{Lead, Writer};
    let mut writer = Writer::new(style, "", 0, Lead::Close);
    writer.pieces(pieces);
    let ends_line = writer.ends_line();
    let (text, _) = writer.finish();
    let end = if ends_line { style.end } else { " " };
    let (at, text) = match laid.game.result {
        Some((_, span)) => (span.from, format!("{text}{end}")),
        None => (laid.game.span.to, format!("{0}{0}{text}", style.end)),
    };
    Splice {
        span: Span { from: at, to: at },
        text,
    }
}

/// How a line begins.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Begin {
    Variation,
    /// It goes on; whether a black move has its number.
    Line(bool),
    /// The same in the main line, where each white move may begin a line of the text.
    Main(bool),
}

/// The moves from one on, with all that is beside the others.
pub fn line(
    style: &Style,
    held: &Held,
    first: usize,
    at: (Color, u32),
    begin: Begin,
    pieces: &mut Vec<Piece>,
) {
    lines(style, held, &[first], at, begin, pieces);
}

/// All that comes after a node.
pub fn after(style: &Style, held: &Held, node: usize, at: (Color, u32), pieces: &mut Vec<Piece>) {
    if let Some(said) = held.nodes.get(node) {
        lines(style, held, &said.children, at, Begin::Variation, pieces);
    }
}

/// The same, with the variations beside the first move. Calls itself for variations, which the notation that they come
/// from nests no deeper than `limits::NESTING`.
fn lines(
    style: &Style,
    held: &Held,
    moves: &[usize],
    at: (Color, u32),
    begin: Begin,
    pieces: &mut Vec<Piece>,
) {
    let mut moves = moves;
    let mut at = at;
    let mut numbered = !matches!(begin, Begin::Line(false) | Begin::Main(false));
    while let Some((&id, beside)) = moves.split_first() {
        let Some(said) = held.nodes.get(id) else {
            return;
        };
        pieces.extend(said.before.iter().cloned().map(Piece::Comment));
        if at.0.is_white() && matches!(begin, Begin::Main(_)) {
            pieces.push(Piece::Row);
        }
        let number = match at.0.is_white() || numbered {
            true => style.number(at.1, at.0),
            false => String::new(),
        };
        let (close, apart) = signs(style, &said.nags);
        let word = format!("{number}{}{close}", style.letters.write(&said.san));
        pieces.push(Piece::Word(word));
        pieces.extend(apart.into_iter().map(Piece::Word));
        pieces.extend(said.comments.iter().cloned().map(Piece::Comment));
        for &first in beside {
            pieces.push(Piece::Open);
            line(style, held, first, at, Begin::Variation, pieces);
            pieces.push(Piece::Close);
        }
        numbered = style.repeats && !(said.comments.is_empty() && beside.is_empty());
        at = after_move(at);
        moves = &said.children;
    }
}

/// Glyphs as they are written: what is close to the move, and words of their own.
pub fn signs(style: &Style, nags: &[u8]) -> (String, Vec<String>) {
    let (mut close, mut apart) = (String::new(), Vec::new());
    for &glyph in nags {
        match style.sign(glyph) {
            Some(sign) if is_plain(glyph) && close.is_empty() => close = sign,
            Some(sign) if !is_plain(glyph) => apart.push(sign),
            _ => apart.push(format!("${glyph}")),
        }
    }
    (close, apart)
}
