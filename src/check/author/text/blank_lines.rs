//! A blank line among the moves of a game, where other readers stop: in the import format of the PGN
//! standard (section 8.1) a blank line comes after the tags and after the moves.

use crate::notation::{Game, ItemKind};
use crate::text::{Code, Finding, Source, Span};

/// The first blank line between the moves of a game.
pub(in crate::check::author) fn blank_line(source: &Source, game: &Game) -> Option<Finding> {
    if let [only] = &game.lines[..] {
        let mut pairs = only.items.windows(2);
        return pairs.find_map(|pair| between(source, pair[0].span, pair[1].span));
    }
    let mut items: Vec<Span> = Vec::new();
    for line in &game.lines {
        for item in &line.items {
            if !matches!(item.kind, ItemKind::Variation(_)) {
                items.push(item.span);
            }
        }
    }
    items.sort_unstable_by_key(|span| span.from);
    let mut pairs = items.windows(2);
    pairs.find_map(|pair| between(source, pair[0], pair[1]))
}

/// The first blank line between two that follow each other.
fn between(source: &Source, before: Span, after: Span) -> Option<Finding> {
    let (from, to) = (before.to, after.from);
    // Between most there is one space. Comments to the end of their lines often have lines of
    // their own.
    let is_line = |span: Span| source.slice(span).starts_with(';');
    if to < from + 2 || is_line(before) || is_line(after) {
        return None;
    }
    let gap = source.slice(Span { from, to });
    let mut ends = gap.match_indices('\n');
    let (mut last, _) = ends.next()?;
    for (at, _) in ends {
        if gap[last..at].trim().is_empty() {
            let from = from as usize + last + 1;
            let message = "a blank line is among the moves, and other readers of PGN stop here";
            let place = Span::new(from, from + 1);
            let finding = Finding::new(Code::BlankLine, place, message.to_owned());
            return Some(finding.with_help("take it out".to_owned()));
        }
        last = at;
    }
    None
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    #[test]
    fn a_blank_line_is_among_the_moves_only_between_them() {
        assert_eq!(codes("1. e4 e5\n\n2. Nf3 {x} *"), ["P087"]);
        assert!(codes("1. e4 {one\n\ntwo} e5\n2. Nf3 {x}\n\n*").is_empty());
    }
}
