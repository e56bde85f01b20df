//! A bracket of another kind in the place of the right one, `]` for `)`, a move in the braces of a
//! comment, words in `<angle brackets>`, and a `%` within a line.

use super::quotes::Splice;
use super::trial::{Score, Trial, tokens};
use crate::notation::word::san;
use crate::notation::{Letters, Lexer, Token, TokenKind};
use crate::text::{Code, Finding, Span, line_start, quote};
use shakmaty::Chess;

/// How many such signs are tried.
const TRIED: usize = 8;

/// How many tokens before the first that cannot be played a comment may be.
const NEAR: usize = 4;

/// The one such sign with whose right form the whole text plays, and the changes.
pub(super) fn other_sign(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<(Finding, Vec<Splice>)> {
    let tokens = tokens(text);
    let mut tries = squares(text, &tokens);
    tries.extend(in_comment(text, &tokens));
    let base = Trial::new(start, letters).read(text, 0, Score::WORST, left)?;
    let (first, _) = base.first?;
    let at = tokens.partition_point(|it| (it.span.from as usize) < first);
    tries.extend(in_braces(text, &tokens, at, letters));
    tries.extend(escape(text, first));
    tries.extend(angles(text, first));
    let mut found = None;
    for (finding, splices) in tries {
        let new = super::spliced(text, &splices);
        let read = Trial::new(start, letters).read(&new, 0, Score::SOUND, left);
        // A comment that ends earlier frees moves; else its signs are its own.
        let is_freed = |read: &Trial| finding.code != Code::OpenComment || read.moves > base.moves;
        if read.is_some_and(|read| is_freed(&read)) && found.replace((finding, splices)).is_some() {
            return None; // nobody knows which
        }
    }
    found
}

type Try = (Finding, Vec<Splice>);

fn splice(at: usize, length: usize, text: &str) -> Splice {
    Splice {
        from: at,
        to: at + length,
        text: text.to_owned(),
    }
}

/// Square brackets among the moves for round ones.
fn squares(text: &str, tokens: &[Token]) -> Vec<Try> {
    let mut list = Vec::new();
    for token in tokens {
        let at = token.span.from as usize;
        let (code, right) = match (&text[token.span.range()], token.kind) {
            ("[", TokenKind::TagOpen | TokenKind::Stray) => (Code::NotOpened, "("),
            ("]", TokenKind::TagClose | TokenKind::Stray) => (Code::SignAmiss, ")"),
            _ => continue,
        };
        let written = &text[token.span.range()];
        let message = format!("this `{written}` is in the place of a `{right}`");
        let finding = Finding::new(code, token.span, message).with_help(format!("write `{right}`"));
        let finding = finding.with_fix(token.span, right.to_owned());
        list.push((finding, vec![splice(at, 1, right)]));
        if list.len() == TRIED {
            break;
        }
    }
    list
}

/// A comment without its end, or with the beginning of another in it, and a parenthesis in it that has
/// no other half: it may be its end.
fn in_comment(text: &str, tokens: &[Token]) -> Vec<Try> {
    let mut list = Vec::new();
    let is_open = |it: &&Token| {
        let words = &text[it.span.range()];
        it.kind == TokenKind::Comment && (words[1..].contains('{') || !words.ends_with('}'))
    };
    let Some(comment) = tokens.iter().find(is_open) else {
        return list;
    };
    let from = comment.span.from as usize;
    let words = &text[comment.span.range()];
    let words = &words[..words[1..].find('{').map_or(words.len(), |inner| inner + 1)];
    let mut depth = 0;
    for (at, sign) in words.match_indices(['(', ')', ']', '[']) {
        match sign {
            "(" | "[" => depth += 1,
            _ if depth > 0 => depth -= 1,
            _ if list.len() < TRIED => {
                let span = Span::new(from + at, from + at + 1);
                let message = format!("this comment ends with `{sign}`, and not with its brace");
                let finding = Finding::new(Code::OpenComment, span, message)
                    .with_help(format!("write `}}` for `{sign}`"))
                    .with_related(Span::new(from, from + 1), "it begins here".to_owned());
                list.push((finding, vec![splice(from + at, 1, "}")]));
            }
            _ => {}
        }
    }
    list
}

/// Words after a `%` that is not the first of its line (PGN standard, section 6).
fn escape(text: &str, at: usize) -> Option<Try> {
    let begin = line_start(text, at);
    let line = text[begin..].split('\n').next()?;
    let from = begin + line.find('%').filter(|from| *from > 0)?;
    let span = Span::new(from, from + 1);
    let message = "a `%` sets aside its line only where it is the first of it".to_owned();
    let finding = Finding::new(Code::StrayCharacter, span, message)
        .with_help("begin a line with it, or write the words in {braces}".to_owned());
    Some((finding, vec![splice(from, 1, ";")]))
}

/// Words in angle brackets where the text first reads amiss.
fn angles(text: &str, at: usize) -> Option<Try> {
    let rest = text[at..].split('\n').next()?.strip_prefix('<')?;
    let words = &rest[..rest.find('>')?];
    if words.contains(['{', '}']) {
        return None;
    }
    let to = at + 1 + words.len();
    let message = "words among the moves are written in braces, not in angle brackets".to_owned();
    let help = format!("words belong in {{braces}}: write {{{}}}", quote(words));
    let finding = Finding::new(Code::StrayCharacter, Span::new(at, to + 1), message);
    Some((
        finding.with_help(help),
        vec![splice(at, 1, "{"), splice(to, 1, "}")],
    ))
}

/// A comment of nothing but moves right before the place where the text reads amiss.
fn in_braces(text: &str, tokens: &[Token], at: usize, letters: &Letters) -> Vec<Try> {
    let mut list = Vec::new();
    for token in &tokens[at.saturating_sub(NEAR)..at] {
        let Some(words) = text[token.span.range()]
            .strip_prefix('{')
            .and_then(|it| it.strip_suffix('}'))
            .filter(|_| token.kind == TokenKind::Comment)
        else {
            continue;
        };
        let mut moves = 0;
        let is_moves = Lexer::new(words).all(|it| match it.kind {
            TokenKind::Word => {
                moves += 1;
                san::read(&words[it.span.range()], letters).shape.is_some()
            }
            TokenKind::Space | TokenKind::Number | TokenKind::Dots => true,
            _ => false,
        });
        if !is_moves || moves == 0 {
            continue;
        }
        let (from, to) = (token.span.from as usize, token.span.to as usize);
        let what = if moves == 1 { "is a move" } else { "are moves" };
        let message = format!("{} {what} in the braces of a comment", quote(words.trim()));
        let finding = Finding::new(Code::SignAmiss, token.span, message)
            .with_help("take the braces away: with it the rest can be played".to_owned());
        list.push((finding, vec![splice(from, 1, " "), splice(to - 1, 1, " ")]));
    }
    list
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::{codes, told};

    #[test]
    fn a_square_bracket_for_a_round_one_is_one_finding() {
        assert_eq!(
            told("1. e4 e5 (1... c5 2. Nf3 $14] 2. Nf3 {x} *"),
            [("P081", "]".to_owned())]
        );
        assert_eq!(
            codes("1. e4 e5 [1... c5 2. Nf3 $14) 2. Nf3 {x} *"),
            ["P080"]
        );
    }

    #[test]
    fn a_parenthesis_that_ends_a_comment_is_told() {
        let text = "1. e4 {takes the centre.) 1... e5 2. Nf3 {x} Nc6 {y} *";
        assert_eq!(told(text), [("P007", ")".to_owned())]);
        let text = "1. e4 {takes (at once) the centre. 1... e5 2. Nf3 {x} Nc6 {y} *";
        assert_eq!(told(text), [("P007", "{".to_owned())]);
    }

    #[test]
    fn words_after_a_percent_sign_within_a_line_are_one_finding() {
        for text in [
            "1. e4 e5 % words\n2. Nf3 {x} *",
            "1. e4 e5\n % more words\n2. Nf3 {x} *",
        ] {
            assert_eq!(told(text), [("P005", "%".to_owned())], "{text}");
        }
        assert!(codes("1. e4 e5\n% words\n2. Nf3 {x} *").is_empty());
    }

    #[test]
    fn a_move_in_braces_is_told_where_the_rest_needs_it() {
        assert_eq!(
            told("1. e4 e5 2. Nf3 {Nc6} 3. Bb5 a6 {x} *"),
            [("P081", "{Nc6}".to_owned())]
        );
        assert!(codes("1. e4 e5 2. Nf3 {Nc6} 2... Nc6 {x} *").is_empty());
    }
}
