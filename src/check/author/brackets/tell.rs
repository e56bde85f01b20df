//! What is said of a bracket or brace that is lost, doubled or in the wrong place.

use super::doubt::is_doubtful;
use super::edit::{Edit, Sign};
use crate::notation::{Lexer, Token, TokenKind};
use crate::text::{Code, Finding, Span, quote};

/// The finding for some ways out, of which the first is the likeliest; with a fix if that is
/// certain.
pub(super) fn tell(text: &str, edits: &[Edit], is_certain: bool) -> Finding {
    let Some((first, others)) = edits.split_first() else {
        return Finding::new(Code::SignAmiss, Span::default(), String::new());
    };
    let mut finding = one(text, first);
    for other in others {
        let help = finding.help.take().unwrap_or_default();
        finding = finding
            .with_help(format!("{help}; or {}", way_out(text, other)))
            .with_related(target(text, other), "or here".to_owned());
    }
    if is_certain && !is_doubtful(text, first) {
        let (from, to, new) = first.replaced(text);
        finding = finding.with_fix(Span::new(from, to), new);
    }
    finding
}

fn one(text: &str, edit: &Edit) -> Finding {
    let (code, message) = match (edit.sign, edit.put, edit.taken) {
        (sign, Some(_), Some(_)) => {
            let letter = sign.letter();
            let message = format!("this `{letter}` is in the wrong place");
            (Code::SignAmiss, message)
        }
        (Sign::Close, Some(_), None) => {
            let message = "this variation is not closed".to_owned();
            (Code::OpenVariation, message)
        }
        (Sign::End, Some((at, _)), None) => {
            let message = match after(text, at) {
                Some(next) => format!("this comment is not closed, so {next} is read as words"),
                None => "this comment is not closed".to_owned(),
            };
            (Code::OpenComment, message)
        }
        (Sign::Open, Some(_), None) => {
            let message = "a variation begins here without its `(`".to_owned();
            (Code::NotOpened, message)
        }
        (Sign::Begin, Some(_), None) => {
            let message = "a comment begins here without its `{`".to_owned();
            (Code::NotOpened, message)
        }
        (Sign::Close, ..) => {
            let message = "this parenthesis closes no variation".to_owned();
            (Code::StrayClose, message)
        }
        (Sign::Begin, ..) => {
            let message = "this comment holds another `{`, and the first `}` ends both";
            (Code::BraceInside, message.to_owned())
        }
        (sign, ..) => {
            let message = format!("there is one `{}` too many here", sign.letter());
            (Code::SignAmiss, message)
        }
    };
    let mut finding = Finding::new(code, place(text, edit), message);
    let other = match (edit.sign, edit.put, edit.taken) {
        (_, Some((to, _)), Some(_)) => Some((to, "it belongs here")),
        (Sign::Close | Sign::End, Some((to, _)), None) => Some((to, "its end is missing here")),
        _ => None,
    };
    if let Some((to, message)) = other {
        finding = finding.with_related(mark(text, to, edit.sign), message.to_owned());
    }
    let help = way_out(text, edit);
    finding.with_help(help)
}

/// Where an edit is shown.
fn place(text: &str, edit: &Edit) -> Span {
    match (edit.taken, edit.put) {
        (Some(at), _) => Span::new(at, at + 1),
        (None, Some((at, _))) => match edit.sign {
            Sign::Open | Sign::Begin => mark(text, at, edit.sign),
            sign => opened(text, at, sign),
        },
        (None, None) => Span::default(),
    }
}

/// The sign that opens what should close at a place.
fn opened(text: &str, at: usize, sign: Sign) -> Span {
    let mut open: Vec<usize> = Vec::new();
    for token in Lexer::new(&text[..at]) {
        let from = token.span.from as usize;
        match (token.kind, sign) {
            (TokenKind::Comment, Sign::End) => open.push(from),
            (TokenKind::Open, Sign::Close) => open.push(from),
            (TokenKind::Close, Sign::Close) => {
                open.pop();
            }
            _ => {}
        }
    }
    let from = open.last().copied().unwrap_or(at);
    Span::new(from, (from + 1).min(text.len()))
}

/// The place to which an edit leads.
fn target(text: &str, edit: &Edit) -> Span {
    match edit.put {
        Some((at, _)) => mark(text, at, edit.sign),
        None => place(text, edit),
    }
}

/// What is shown of a place where a sign is to be: what follows it, for what opens, and for what
/// closes the space there.
fn mark(text: &str, at: usize, sign: Sign) -> Span {
    match sign {
        Sign::Open | Sign::Begin => {
            let length = text[at..].find(char::is_whitespace);
            Span::new(at, length.map_or(text.len(), |length| at + length))
        }
        Sign::Close | Sign::End => {
            let next = text[at..]
                .chars()
                .next()
                .filter(|&it| it != '\n' && it != '\r');
            Span::new(at, at + next.map_or(0, char::len_utf8))
        }
    }
}

fn way_out(text: &str, edit: &Edit) -> String {
    let letter = edit.sign.letter();
    let Some((at, count)) = edit.put else {
        return match edit.sign {
            Sign::Begin => "leave it out, or end the comment with `}` before it".to_owned(),
            _ => "leave it out".to_owned(),
        };
    };
    let signs = letter.to_string().repeat(count);
    let verb = match edit.taken {
        Some(_) => format!("move `{letter}`"),
        None => format!("put `{signs}`"),
    };
    match edit.sign {
        Sign::Open | Sign::Begin => match word_after(text, at) {
            Some(next) => format!("{verb} before {}", quote(next)),
            None => verb,
        },
        Sign::Close | Sign::End => {
            let mut help = format!("{verb}{}", before(text, at));
            if let Some(next) = after(text, at) {
                help += &match edit.sign {
                    Sign::Close => format!(", before {}", quote(next)),
                    _ => format!(", before {}, which can be played there", quote(next)),
                };
            }
            help
        }
    }
}

/// ` after WORD`, with the last word before a place; empty if there is none.
fn before(text: &str, at: usize) -> String {
    let word = text[..at].trim_end().rsplit(char::is_whitespace).next();
    match word.filter(|word| !word.is_empty()) {
        Some(word) => format!(" after {}", quote(word)),
        None => String::new(),
    }
}

/// The next move after a place with its number, if nothing but signs is between.
fn after(text: &str, at: usize) -> Option<&str> {
    let mut from = None;
    for token in Lexer::new(&text[at..]) {
        let Token { kind, span } = token;
        match kind {
            TokenKind::Space | TokenKind::Dots => {}
            TokenKind::Number => from = Some(span),
            TokenKind::Word => {
                let span = from.map_or(span, |number: Span| number.join(span));
                return text.get(at + span.from as usize..at + span.to as usize);
            }
            _ => return None,
        }
    }
    None
}

/// The next word after a place: a move with its number, or whatever is there.
fn word_after(text: &str, at: usize) -> Option<&str> {
    after(text, at).or_else(|| text[at..].split_whitespace().next())
}
