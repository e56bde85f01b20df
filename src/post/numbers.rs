//! Numbers of moves that Markdown takes for those of a list: `4. cxd5` at the beginning of a paragraph
//! (CommonMark 0.31, 5.2).

use super::elements::Tree;
use super::prose::is_closed;
use crate::notation::Letters;
use crate::notation::mention::mentions;
use crate::text::{Code, Finding, Span};

/// The findings about lists below an element that begin with a move.
pub fn lost(tree: &Tree, root: usize, letters: &Letters) -> Vec<Finding> {
    let mut findings = Vec::new();
    for list in 0..tree.nodes.len() {
        let Some(number) = tree
            .value(list, "start")
            .filter(|_| tree.nodes[list].name == "ol")
        else {
            continue;
        };
        let mut within = tree.around(list);
        if !within.any(|it| it == root)
            || tree
                .around(list)
                .any(|it| it != root && is_closed(tree, it))
        {
            continue;
        }
        let Some(item) = tree.children(list).next() else {
            continue;
        };
        let text = tree.text(item);
        let word = text.text.split_whitespace().next().unwrap_or_default();
        let whole = format!("{number}.{word}");
        let is_move = mentions(&whole, letters)
            .first()
            .is_some_and(|it| it.range.start == 0);
        if is_move {
            let message =
                format!("{number}. begins a list here, so the page shows no {number}.{word}");
            let help = format!("write a word before it, or {number}\\. {word}");
            let begin = text.text.len() - text.text.trim_start().len();
            let end = text.mapping.outer(Span::new(begin, begin + word.len())).to;
            let span = Span {
                from: tree.nodes[item].tag.from,
                to: end,
            };
            findings.push(Finding::new(Code::NumberLost, span, message).with_help(help));
        }
    }
    findings
}
