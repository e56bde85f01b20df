//! Other words for a comment: those that stay keep their lines.

use super::grow::{first_of_all, number_after};
use crate::edit::asked::{Refused, Splice, Why};
use crate::edit::held::Held;
use crate::edit::meant::{Made, folded};
use crate::edit::written::laid::Laid;
use crate::edit::written::place::{Spot, cut};
use crate::edit::written::style::{Style, column, indent};
use crate::edit::written::writer::{Lead, MARKS, Piece, Writer, ends_with_line_comment, words};
use crate::lesson::{NodeId, at_move};
use crate::notation::{Comment, ItemKind};
use crate::text::Span;

/// Changes a comment, adds one, or takes one out.
///
/// # Errors
/// Where the place is gone, the comment is not what the author saw, or PGN cannot hold it.
pub fn comment(
    laid: &Laid<'_>,
    style: &Style,
    mut held: Held,
    at: &[String],
    (nth, was, text): (usize, &str, &str),
) -> Result<Made, Refused> {
    let node = laid.find(at)?;
    let said = laid.lesson.node(node);
    let first = said.before.len();
    let there = said.before.iter().chain(said.comments.iter()).nth(nth);
    let seen = folded(was).unwrap_or_default();
    let now = there.map_or("", |it| it.text());
    if now != seen || nth > first + said.comments.len() {
        let reason = match there {
            Some(_) => format!("this comment is now \u{201c}{now}\u{201d}"),
            None => "this comment is not there any more".to_owned(),
        };
        return Err(Refused::new(
            Why::CommentGone,
            reason,
            "look at both, and write one of them",
        ));
    }
    let new = folded(text);
    let has_brace = new.as_deref().is_some_and(|it| it.contains('}'));
    if has_brace && new.as_deref().is_some_and(|it| it.contains("\n\n")) {
        let reason =
            "a comment that holds } is written as one paragraph in PGN, and this has several";
        return Err(Refused::new(
            Why::NoComment,
            reason,
            "leave out the } or the empty line",
        ));
    }
    if let Some(said) = held.nodes.get_mut(node as usize) {
        let (list, nth) = match nth.checked_sub(first) {
            None => (&mut said.before, nth),
            Some(after) => (&mut said.comments, after),
        };
        match (&new, list.get_mut(nth)) {
            (Some(new), Some(old)) => old.clone_from(new),
            (Some(new), None) => list.push(new.clone()),
            (None, Some(_)) => drop(list.remove(nth)),
            (None, None) => {}
        }
    }
    let run = laid.lesson.run(node);
    let splice = match (there, new) {
        (None, None) => return Ok(Made::new(Vec::new(), held, run)),
        (Some(there), Some(new)) if there.text() == new => {
            return Ok(Made::new(Vec::new(), held, run));
        }
        (Some(there), None) => cut(laid.text(), there.span),
        (None, Some(new)) => added(laid, style, node, &new),
        (Some(there), Some(new)) => retold(laid, style, there, &new)?,
    };
    Ok(Made::new(vec![splice], held, run))
}

/// A new comment: after the last, else after the move and its signs.
fn added(laid: &Laid<'_>, style: &Style, node: NodeId, text: &str) -> Splice {
    let (line, tail) = laid.tail(node);
    let items = laid.items(line);
    let last = laid.lesson.node(node).comments.last().map(|it| it.span.to);
    let own = items.get(tail.clone()).unwrap_or_default();
    let after = match last {
        Some(to) => own.iter().position(|it| it.span.to == to).map(|at| at + 1),
        None => Some(
            own.iter()
                .take_while(|it| matches!(it.kind, ItemKind::Nag(_)))
                .count(),
        ),
    };
    let next = tail.start + after.unwrap_or(own.len());
    let pieces = [Piece::Comment(text.to_owned())];
    match next.checked_sub(1).and_then(|at| items.get(at)) {
        Some(&item) => {
            let mut spot = Spot::after(laid, item);
            let at = at_move(&laid.lesson.node(node).position);
            spot.number = number_after(laid, style, line, next, at);
            spot.insert(laid.text(), style, &pieces)
        }
        None => match items.first() {
            Some(first) => before(laid, style, first.span.from, &pieces),
            None => first_of_all(laid, style, &pieces),
        },
    }
}

/// A comment before the first move.
fn before(laid: &Laid<'_>, style: &Style, from: u32, pieces: &[Piece]) -> Splice {
    let mut writer = Writer::new(
        style,
        indent(laid.text(), from),
        column(laid.text(), from),
        Lead::Close,
    );
    writer.pieces(pieces);
    let ends_line = writer.ends_line();
    let (mut text, at) = writer.finish();
    let rest = laid.text().get(from as usize..).unwrap_or_default();
    let line = rest.lines().next().unwrap_or_default();
    match ends_line || at + 1 + line.chars().count() > style.columns {
        true => {
            text += style.end;
            text += indent(laid.text(), from);
        }
        false => text.push(' '),
    }
    Splice {
        span: Span { from, to: from },
        text,
    }
}

/// A word of a comment as it is written: where it is, and whether a paragraph begins with it.
struct Word<'a> {
    span: Span,
    text: &'a str,
    is_paragraph: bool,
}

/// Other words in a comment that is there. Those at its beginning and end that stay the same are not touched.
fn retold(laid: &Laid<'_>, style: &Style, there: &Comment, new: &str) -> Result<Splice, Refused> {
    let written = laid.source.slice(there.span);
    let is_lines = written.starts_with(';');
    if !is_lines && !written.ends_with('}') {
        return Err(Refused::broken("this comment is not closed"));
    }
    // One that cannot be written in the same manner is written anew.
    if (is_lines && new.contains("\n\n")) || (!is_lines && new.contains('}')) {
        return Ok(anew(laid, style, there, new));
    }
    let inner = match is_lines {
        true => Span::new(there.span.from as usize + 1, there.span.to as usize),
        false => Span::new(there.span.from as usize + 1, there.span.to as usize - 1),
    };
    let old = old_words(laid.source.slice(inner), inner.from, is_lines);
    let new = words(new);
    let is_same =
        |(old, new): &(&Word<'_>, &(&str, bool))| old.text == new.0 && old.is_paragraph == new.1;
    let first = old.iter().zip(new.iter()).take_while(is_same).count();
    let most = old.len().min(new.len()) - first;
    let last = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take_while(is_same)
        .take(most)
        .count();
    let (old_end, new_end) = (old.len() - last, new.len() - last);
    let end_of = |at: usize| old.get(at).map_or(inner.from, |it: &Word<'_>| it.span.to);
    let begin_of = |at: usize| old.get(at).map_or(inner.to, |it| it.span.from);
    let from = first.checked_sub(1).map_or(inner.from, end_of);
    let to = begin_of(old_end);
    // What is written between the words at both ends, which stays where it can.
    let gap_before = laid.slice(from, begin_of(first));
    let gap_after = laid.slice(old_end.checked_sub(1).map_or(inner.from, end_of), to);
    let own = indent(laid.text(), there.span.from);
    let sign = match is_lines {
        true => format!(
            "{own}{}",
            if written.starts_with("; ") { "; " } else { ";" }
        ),
        false => own.to_owned(),
    };
    let mut text = String::new();
    let mut at = column(laid.text(), from);
    let is_full =
        |at: usize, word: &str| at.saturating_add(1 + word.chars().count()) > style.columns;
    let line = |text: &mut String, count: usize| {
        text.extend(std::iter::repeat_n(style.end, count));
        text.push_str(&sign);
        sign.chars().count()
    };
    for (nth, (word, is_paragraph)) in new
        .get(first..new_end)
        .unwrap_or_default()
        .iter()
        .enumerate()
    {
        let is_first_word = nth == 0 && first == 0;
        let keeps = nth == 0
            && (is_first_word || (!gap_before.is_empty() && breaks(gap_before) == *is_paragraph));
        let is_broken = gap_before.contains('\n');
        if keeps && (is_first_word || is_broken || !is_full(at, word)) {
            text += gap_before;
            at = match gap_before.rfind('\n') {
                Some(end) => gap_before[end + 1..].chars().count(),
                None => at + gap_before.chars().count(),
            };
        } else if *is_paragraph {
            at = line(&mut text, 2);
        } else if is_full(at, word) {
            at = line(&mut text, 1);
        } else {
            text.push(' ');
            at += 1;
        }
        let is_mark = is_first_word && gap_before.is_empty() && word.starts_with(MARKS);
        if (at == 0 && word.starts_with('%')) || (is_mark && !is_lines) {
            text.push(' ');
            at += 1;
        }
        text += word;
        at += word.chars().count();
    }
    let follows = new.get(new_end);
    let wanted = follows.is_some_and(|(_, is_paragraph)| *is_paragraph);
    match follows {
        None => text += gap_after,
        Some(_) if new_end == first && first == 0 => text += gap_before,
        Some(_) if !gap_after.is_empty() && breaks(gap_after) == wanted => text += gap_after,
        Some(_) if wanted => drop(line(&mut text, 2)),
        Some(_) => text.push(' '),
    }
    Ok(Splice {
        span: Span { from, to },
        text,
    })
}

/// Whether white space parts paragraphs.
fn breaks(gap: &str) -> bool {
    gap.matches('\n').count() > 1
}

/// The words of a comment where they stand.
fn old_words(text: &str, from: u32, is_lines: bool) -> Vec<Word<'_>> {
    let mut list: Vec<Word<'_>> = Vec::new();
    let (mut at, mut lines) = (0, 0);
    while let Some(letter) = text.get(at..).and_then(|rest| rest.chars().next()) {
        if letter.is_whitespace() || (is_lines && letter == ';' && lines > 0) {
            lines = if letter == ';' {
                0
            } else {
                lines + usize::from(letter == '\n')
            };
            at += letter.len_utf8();
            continue;
        }
        let rest = &text[at..];
        let length = rest.find(char::is_whitespace).unwrap_or(rest.len());
        let start = from as usize + at;
        list.push(Word {
            span: Span::new(start, start + length),
            text: &rest[..length],
            is_paragraph: !is_lines && !list.is_empty() && lines > 1,
        });
        (at, lines) = (at + length, 0);
    }
    list
}

/// A comment in the place of one that is written in another manner.
fn anew(laid: &Laid<'_>, style: &Style, there: &Comment, new: &str) -> Splice {
    let text = laid.text();
    let from = there.span.from;
    let mut writer = Writer::new(style, indent(text, from), column(text, from), Lead::Close);
    writer.pieces(&[Piece::Comment(new.to_owned())]);
    let ends_line = writer.ends_line();
    let (mut made, _) = writer.finish();
    let rest = text.get(there.span.to as usize..).unwrap_or_default();
    let next = rest.trim_start_matches([' ', '\t']);
    let mut to = there.span.to as usize;
    let is_alone = next.is_empty() || next.starts_with(['\n', '\r']);
    if ends_line {
        // Comments of `;` on lines that follow each other are one; this parts them.
        let before = text.get(..from as usize).unwrap_or_default();
        if ends_with_line_comment(before) {
            made.insert_str(0, "{} ");
        }
        let is_parted = rest.trim_start().starts_with(';');
        if is_parted || !is_alone {
            made += style.end;
            made += indent(text, from);
        }
        if is_parted {
            made += if is_alone { "{}" } else { "{} " };
        }
        if !is_alone {
            to += rest.len() - next.len();
        }
    }
    Splice {
        span: Span::new(from as usize, to),
        text: made,
    }
}
