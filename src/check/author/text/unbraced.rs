//! Words among the moves in other signs than braces, `[so]` or `"so"`.

use super::Text;
use crate::check::author::explained::{Explained, Told};
use crate::notation::ItemKind;
use crate::text::{Code, Finding, Source, Span, quote};

/// Rewords the findings among the moves of a game that are words in other signs than braces.
pub(super) fn unbraced(text: &Text) -> Vec<Told> {
    let (source, game) = (text.source, text.game);
    let mut list = Vec::new();
    let mut items = game.lines.iter().flat_map(|line| &line.items);
    let Some(first) = items.find(|item| item.kind == ItemKind::Move) else {
        return list;
    };
    let mut open: Option<&Finding> = None;
    for finding in text.found.iter() {
        if finding.span.from < first.span.from || finding.span.from >= game.span.to {
            continue;
        }
        match finding.code {
            // On a line of its own it is a wrong tag, perhaps another game's.
            Code::BadTag if stands_among_words(source, finding.span) => {
                // They may go on after what was read as a tag, up to their bracket.
                let from = finding.span.from as usize;
                let rest = source.text()[from..].split('\n').next().unwrap_or_default();
                let end = rest
                    .find(']')
                    .map_or(finding.span.to as usize, |end| from + end + 1);
                let span = Span::new(from, end.max(finding.span.to as usize));
                let words = source.slice(span).trim_start_matches('[');
                let words = words.trim_end_matches(']').trim();
                let mut finding = finding.clone().with_help(among(words));
                finding.span = span;
                finding.message =
                    "words among the moves are written in braces, not in brackets".to_owned();
                list.push(Told {
                    finding,
                    explains: vec![Explained::Within(span)],
                });
            }
            Code::StrayCharacter if source.slice(finding.span).starts_with(['"', '<', '>']) => {
                let from = open.take().filter(|open| {
                    let (from, to) = (open.span.to as usize, finding.span.from as usize);
                    !source.slice(Span::new(from, to)).contains('\n')
                });
                match from {
                    Some(from) => list.push(quoted(source, from, finding.span)),
                    None => open = Some(finding),
                }
            }
            _ => {}
        }
    }
    list
}

/// Tags on lines of their own that could not be read: what is left of the line was found word by word.
pub(super) fn broken_tags(text: &Text) -> Vec<Told> {
    let source = text.source;
    let is_tag = |it: &&Finding| it.code == Code::BadTag && !stands_among_words(source, it.span);
    let mut list = Vec::new();
    for finding in text.found.iter().filter(is_tag) {
        let to = finding.span.to as usize;
        let rest = source.text().get(to..).unwrap_or_default();
        let line = rest.split('\n').next().unwrap_or_default();
        if line.trim_end().ends_with(']') {
            list.push(Told {
                finding: finding.clone(),
                explains: vec![Explained::Within(Span::new(to, to + line.len()))],
            });
        }
    }
    list
}

/// Words between two signs of quotation, of which the first was found.
fn quoted(source: &Source, open: &Finding, close: Span) -> Told {
    let span = open.span.join(close);
    let words = source.slice(span).trim_matches(['"', '<', '>']);
    let mut finding = open.clone().with_help(among(words));
    finding.span = span;
    let signs = match source.slice(open.span).starts_with('<') {
        true => "angle brackets",
        false => "quotes",
    };
    finding.message = format!("words among the moves are written in braces, not in {signs}");
    Told {
        finding,
        // The words and the sign after them were found one by one.
        explains: vec![Explained::Within(span)],
    }
}

/// Whether something is on the line before this place.
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
    use super::super::looked;
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
            ("1. e4 e5 <White takes space> 2. Nf3 {x} *", "P005"),
        ] {
            let help = "words belong in {braces}: write {White takes space}";
            assert_eq!(told(text), (vec![code], help.to_owned()), "{text}");
        }
    }

    #[test]
    fn a_tag_that_cannot_be_read_is_told_once() {
        let (_, findings) = looked("[My-Tag \"no\"]\n\n1. e4 {x} *", broken_tags);
        let codes: Vec<&str> = findings.iter().map(|it| it.code.id()).collect();
        assert_eq!(codes, ["P006"]);
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
