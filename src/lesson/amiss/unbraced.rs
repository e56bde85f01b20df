//! Words among the moves in other signs than braces, `[so]` or `"so"`: the checker's, not the
//! page's.

use super::standing::Text;
use crate::notation::ItemKind;
use crate::text::{Code, Finding, Findings, Source, Span, quote};

/// Says of what was found among the moves of a game where it is words in other signs than braces.
pub(super) fn unbraced(text: &Text, findings: &mut Findings) {
    let (source, game) = (text.source, text.game);
    let mut items = game.lines.iter().flat_map(|line| &line.items);
    let Some(first) = items.find(|item| item.kind == ItemKind::Move) else {
        return;
    };
    let mut quoted: Vec<Span> = Vec::new();
    let mut open: Option<Span> = None;
    for finding in findings.iter_mut() {
        if finding.span.from < first.span.from || finding.span.from >= game.span.to {
            continue;
        }
        match finding.code {
            // On a line of its own it is a tag that went wrong, perhaps another game's.
            Code::BadTag if stands_among_words(source, finding.span) => {
                let words = source.slice(finding.span).trim_start_matches('[');
                let words = words.trim_end_matches(']').trim();
                finding.help = Some(among(words));
                finding.message =
                    "words among the moves stand in braces, not in brackets".to_owned();
            }
            Code::StrayCharacter if source.slice(finding.span).starts_with('"') => {
                let from = open.take().filter(|open| {
                    let between =
                        source.slice(Span::new(open.to as usize, finding.span.from as usize));
                    !between.contains('\n')
                });
                match from {
                    Some(from) => quoted.push(from.join(finding.span)),
                    None => open = Some(finding.span),
                }
            }
            _ => {}
        }
    }
    if quoted.is_empty() {
        return;
    }
    // The words and the sign behind them are told with the sign before them.
    let within = |it: &Finding, span: &Span| it.span.from >= span.from && it.span.from < span.to;
    findings.retain(|it| {
        let span = quoted.iter().find(|span| within(it, span));
        span.is_none_or(|span| it.span.from == span.from)
    });
    for finding in findings.iter_mut() {
        if let Some(&span) = quoted.iter().find(|span| within(finding, span)) {
            finding.span = span;
            finding.message = "words among the moves stand in braces, not in quotes".to_owned();
            finding.help = Some(among(source.slice(span).trim_matches('"')));
        }
    }
}

/// Whether something stands on the line before this place.
fn stands_among_words(source: &Source, span: Span) -> bool {
    let before = source.slice(Span::new(0, span.from as usize));
    let line = before.rsplit('\n').next().unwrap_or_default();
    !line.trim().is_empty()
}

fn among(words: &str) -> String {
    format!("words belong in {{braces}}: write {{{}}}", quote(words))
}

#[cfg(test)]
mod tests {
    use super::super::standing::looked;
    use super::*;

    /// The codes of what is found in a text, and the help of the first.
    fn told(text: &str) -> (Vec<&'static str>, String) {
        let (_, findings) = looked(text, unbraced);
        let codes = findings.iter().map(|it| it.code.id()).collect();
        let first = findings.iter().next().and_then(|it| it.help.clone());
        (codes, first.unwrap_or_default())
    }

    #[test]
    fn words_in_brackets_or_quotes_are_told_to_belong_in_braces() {
        for (text, code) in [
            ("1. e4 e5 [White takes space] 2. Nf3 {x} *", "P006"),
            ("1. e4 e5 \"White takes space\" 2. Nf3 {x} *", "P005"),
        ] {
            let help = "words belong in {braces}: write {White takes space}";
            assert_eq!(told(text), (vec![code], help.to_owned()), "{text}");
        }
    }

    #[test]
    fn a_tag_before_the_moves_and_a_single_quote_keep_their_advice() {
        let (_, help) = told("[White takes space] 1. e4 {x} *");
        assert!(help.starts_with("a tag is written"), "{help}");
        let (_, help) = told("1. e4 {x}\n\n[Event \"A quiet line]\n\ne5 {x} *");
        assert!(!help.contains("braces"), "{help}");
        assert_eq!(
            told("1. e4 e5 \" 2. Nf3 {x} *"),
            (vec!["P005"], String::new())
        );
    }
}
