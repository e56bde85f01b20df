//! A blank line among the moves of a game, where other readers stop: in the import format of the PGN
//! standard (section 8.1) a blank line comes after the tags and after the moves.

use crate::notation::{Game, ItemKind};
use crate::text::{Code, Finding, Source, Span};

/// The first blank line between the moves of a game.
pub(in crate::check::author) fn blank_line(source: &Source, game: &Game) -> Option<Finding> {
    let mut items: Vec<Span> = Vec::with_capacity(game.lines.first()?.items.len());
    for line in &game.lines {
        for item in &line.items {
            if !matches!(item.kind, ItemKind::Variation(_)) {
                items.push(item.span);
            }
        }
    }
    if game.lines.len() > 1 {
        items.sort_unstable_by_key(|span| span.from);
    }
    for pair in items.windows(2) {
        let (from, to) = (pair[0].to, pair[1].from);
        // Between most there is one space.
        if to < from + 2 {
            continue;
        }
        // Comments to the end of their lines often have lines of their own.
        if pair.iter().any(|it| source.slice(*it).starts_with(';')) {
            continue;
        }
        let gap = source.slice(Span { from, to });
        let mut ends = gap.match_indices('\n');
        let Some((first, _)) = ends.next() else {
            continue;
        };
        let mut last = first;
        for (at, _) in ends {
            if gap[last..at].trim().is_empty() {
                let from = from as usize + last + 1;
                let message = "a blank line is among the moves, and other readers of PGN stop here";
                let finding = Finding::new(
                    Code::BlankLine,
                    Span::new(from, from + 1),
                    message.to_owned(),
                );
                return Some(finding.with_help("take it out".to_owned()));
            }
            last = at;
        }
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
