//! What a comment says: paragraphs, emphasis, links, marks, and the words `Choose:` and `Ask:`.

pub mod mark;
pub(crate) mod sentences;

use self::mark::Mark;
use crate::text::{find, has, run};

/// The text of one comment token: delimiters off, white space folded to single spaces, blank
/// lines kept as `\n\n`.
pub fn fold(token: &str) -> String {
    let inner = match token.strip_prefix(';') {
        Some(line) => line,
        None => {
            let open = token.strip_prefix('{').unwrap_or(token);
            open.strip_suffix('}').unwrap_or(open)
        }
    };
    // Most comments have single spaces between plain words, and are as they shall be.
    let inner = inner.trim_ascii();
    let mut last = b' ';
    let folded = run(inner, |byte| {
        let before = core::mem::replace(&mut last, byte);
        byte.is_ascii_graphic() || (byte == b' ' && before != b' ')
    });
    if folded == inner.len() {
        return inner.to_owned();
    }
    let mut text = String::with_capacity(inner.len());
    let mut breaks = 0;
    let mut space = false;
    for letter in inner.chars() {
        if letter.is_whitespace() {
            space = true;
            breaks += u32::from(letter == '\n');
            continue;
        }
        if space && !text.is_empty() {
            text.push_str(if breaks > 1 { "\n\n" } else { " " });
        }
        (space, breaks) = (false, 0);
        text.push(letter);
    }
    text
}

/// How a piece of text is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// As the paragraph is.
    Plain,
    /// `*emphasis*`
    Emphasis,
    /// `**strong**`
    Strong,
}

/// A stretch of a paragraph.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its words, as shown.
    pub text: String,
    /// How they are set.
    pub style: Style,
    /// Where they link to: an `http` or `https` address, or `#` and a locator.
    pub link: Option<String>,
    /// What they mark on the board.
    pub mark: Option<Mark>,
}

/// A paragraph of a comment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paragraph {
    /// Whether it is the condition of a choice; then the word `Choose:` is not in it.
    pub is_choice: bool,
    /// Its stretches; none where a choice has no condition.
    pub pieces: Vec<Piece>,
}

/// A question that a comment asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What is asked.
    pub prompt: String,
    /// Help on request.
    pub hint: Option<String>,
    /// Why the answer is right.
    pub because: Option<String>,
}

/// The paragraphs of a folded comment. By bytes, for a needle of two costs more than the whole
/// comment.
pub fn split(comment: &str) -> impl Iterator<Item = &str> {
    let mut rest = Some(comment);
    core::iter::from_fn(move || {
        let text = rest?;
        // Folded white space has line ends in pairs only.
        let (paragraph, more) = text.split_at(run(text, |byte| byte != b'\n'));
        rest = (!more.is_empty()).then(|| more.trim_start_matches('\n'));
        Some(paragraph)
    })
}

/// The condition after `Choose:`, if the paragraph is one.
pub fn choice(paragraph: &str) -> Option<&str> {
    paragraph.strip_prefix("Choose:").map(str::trim)
}

/// The question, if the folded comment begins with `Ask:`. `Hint:` and `Because:` end the part
/// before them; each counts once, in any order, after white space.
pub fn ask(comment: &str) -> Option<Ask> {
    let body = comment.strip_prefix("Ask:")?;
    let starts = [find_word(body, "Hint:"), find_word(body, "Because:")];
    let part = |start: usize, word: &str, other: Option<usize>| {
        let end = other.filter(|&end| end > start).unwrap_or(body.len());
        body[start + word.len()..end].trim().to_owned()
    };
    let hint = starts[0].map(|start| part(start, "Hint:", starts[1]));
    let because = starts[1].map(|start| part(start, "Because:", starts[0]));
    let end = starts.into_iter().flatten().min().unwrap_or(body.len());
    Some(Ask {
        prompt: body[..end].trim().to_owned(),
        hint,
        because,
    })
}

fn find_word(text: &str, word: &str) -> Option<usize> {
    let mut from = 0;
    while let Some(at) = find(&text[from..], word) {
        if text[..from + at].ends_with(char::is_whitespace) {
            return Some(from + at);
        }
        from += at + word.len();
    }
    None
}

/// The paragraphs of a folded comment, commands of other programs left out.
pub fn paragraphs(comment: &str) -> Vec<Paragraph> {
    let shown = without_commands(comment);
    let mut list = Vec::new();
    for text in split(&shown) {
        let (is_choice, text) = match choice(text.trim()) {
            Some(condition) => (true, condition),
            None => (false, text.trim()),
        };
        if is_choice || !text.is_empty() {
            list.push(Paragraph {
                is_choice,
                pieces: pieces(text),
            });
        }
    }
    list
}

/// The marks of a folded comment, in the order of the text.
pub fn marks(comment: &str) -> Vec<Mark> {
    let mut list = Vec::new();
    if !has(comment, b'@') {
        return list;
    }
    for paragraph in paragraphs(comment) {
        for piece in paragraph.pieces {
            if let Some(mark) = piece.mark {
                list.push(mark);
            }
        }
    }
    list
}

/// What is wrong with a mark or a link, or a link to check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slip {
    /// `@i9`
    NoSuchSquare,
    /// `@e4-e4`
    ArrowToItself,
    /// A link that is neither `http`, `https` nor to a position.
    RefusedLink,
    /// A link to a position; whether the lesson has it, is not known here.
    Place(String),
}

/// The slips of a comment as it stands in the text, and where in it they are.
pub fn slips(raw: &str) -> Vec<(Slip, core::ops::Range<usize>)> {
    let mut list = Vec::new();
    let mut next = 0;
    loop {
        let at = next + run(&raw[next..], |byte| byte != b'@' && byte != b'[');
        if at >= raw.len() {
            return list;
        }
        next = at + 1;
        let rest = &raw[at..];
        if rest.starts_with("[%") {
            continue; // a command of another program, which is never shown
        }
        if rest.starts_with('[') {
            if let Some((_, target, length)) = bracket(rest) {
                let range = at + length - 1 - target.len()..at + length - 1;
                match target.strip_prefix('#') {
                    Some(run) => list.push((Slip::Place(run.to_owned()), range)),
                    None if is_safe(target) => {}
                    None => list.push((Slip::RefusedLink, range)),
                }
            }
            continue;
        }
        let before = raw[..at].chars().next_back();
        match mark::read(before, rest) {
            Some((mark, length)) if mark.squares.windows(2).any(|pair| pair[0] == pair[1]) => {
                list.push((Slip::ArrowToItself, at..at + length));
            }
            None => {
                if let Some(length) = mark::no_square(before, rest) {
                    list.push((Slip::NoSuchSquare, at..at + length));
                }
            }
            Some(_) => {}
        }
    }
}

/// The comment without `[%name …]`, which is kept in the file and never shown.
fn without_commands(comment: &str) -> String {
    let mut shown = String::with_capacity(comment.len());
    let mut rest = comment;
    while let Some(start) = find(rest, "[%") {
        let Some(end) = find(&rest[start..], "]") else {
            break;
        };
        shown.push_str(&rest[..start]);
        rest = &rest[start + end + 1..];
        if shown.ends_with(' ') || shown.is_empty() {
            rest = rest.strip_prefix(' ').unwrap_or(rest);
        }
    }
    shown.push_str(rest);
    shown
}

/// Cuts a paragraph into stretches. A sign that opens nothing is text.
fn pieces(text: &str) -> Vec<Piece> {
    let mut list = Vec::new();
    let mut plain = String::new();
    let mut style = Style::Plain;
    let mut at = 0;
    let flush = |list: &mut Vec<Piece>, plain: &mut String, style| {
        if !plain.is_empty() {
            list.push(Piece {
                text: core::mem::take(plain),
                style,
                link: None,
                mark: None,
            });
        }
    };
    while let Some(letter) = text[at..].chars().next() {
        let rest = &text[at..];
        let before = text[..at].chars().next_back();
        match letter {
            '@' if rest.starts_with("@@") => {
                plain.push('@');
                at += 2;
            }
            '@' if let Some((mark, length)) = mark::read(before, rest) => {
                flush(&mut list, &mut plain, style);
                list.push(Piece {
                    text: mark.text(),
                    style,
                    link: None,
                    mark: Some(mark),
                });
                at += length;
            }
            '*' if let Some((next, length)) = emphasis(rest, style) => {
                flush(&mut list, &mut plain, style);
                style = next;
                at += length;
            }
            '[' if let Some((words, target, length)) = link(rest) => {
                flush(&mut list, &mut plain, style);
                list.push(Piece {
                    text: words.to_owned(),
                    style,
                    link: Some(target.to_owned()),
                    mark: None,
                });
                at += length;
            }
            _ => {
                plain.push(letter);
                at += letter.len_utf8();
            }
        }
    }
    flush(&mut list, &mut plain, style);
    list
}

/// What the stars at the start of `rest` turn the style to, and how many they are.
fn emphasis(rest: &str, now: Style) -> Option<(Style, usize)> {
    let (sign, wanted) = match rest.starts_with("**") {
        true => ("**", Style::Strong),
        false => ("*", Style::Emphasis),
    };
    let after = &rest[sign.len()..];
    if now == wanted {
        return Some((Style::Plain, sign.len()));
    }
    let closes = find(after, sign).is_some_and(|end| end > 0);
    let opens = after
        .chars()
        .next()
        .is_some_and(|letter| !letter.is_whitespace());
    (now == Style::Plain && opens && closes).then_some((wanted, sign.len()))
}

/// The link at the start of `rest`: its words, its address, its length. Only `http`, `https`
/// and positions (`#…`) are links; anything else stays text.
fn link(rest: &str) -> Option<(&str, &str, usize)> {
    bracket(rest).filter(|(_, target, _)| is_safe(target) || target.starts_with('#'))
}

/// Whether an address may be linked to.
fn is_safe(target: &str) -> bool {
    target.starts_with("https://") || target.starts_with("http://")
}

/// `[words](target)` at the start of `rest`: words, target, length.
fn bracket(rest: &str) -> Option<(&str, &str, usize)> {
    let inner = rest.strip_prefix('[')?;
    let end = inner.find([']', '['])?;
    let (words, after) = inner.split_at(end);
    let target = after.strip_prefix("](")?;
    // No address holds a bracket: looking on would read a text of `[a](` again and again.
    let (target, _) = target.split_at(target.find([')', '['])?);
    if !after[target.len() + 2..].starts_with(')') {
        return None;
    }
    let is_place = target.starts_with('#');
    let plain = !words.is_empty() && !target.is_empty() && (is_place || !has(target, b' '));
    plain.then_some((words, target, words.len() + target.len() + 4))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(comment: &str) -> String {
        let mut text = String::new();
        for paragraph in paragraphs(comment) {
            for piece in paragraph.pieces {
                let sign = match piece.style {
                    Style::Plain => "",
                    Style::Emphasis => "_",
                    Style::Strong => "__",
                };
                text += &format!("{sign}{}{sign}", piece.text);
                text += &piece
                    .link
                    .map(|link| format!("<{link}>"))
                    .unwrap_or_default();
            }
            text += "|";
        }
        text
    }

    #[test]
    fn white_space_folds_and_blank_lines_part_paragraphs() {
        assert_eq!(fold("{ a\n b \n \n\tc }"), "a b\n\nc");
        assert_eq!(fold("; to the end "), "to the end");
        assert_eq!(fold("{open"), "open");
    }

    #[test]
    fn emphasis_links_and_marks_are_cut_out() {
        assert_eq!(shown("a *b* **c** d"), "a _b_ __c__ d|");
        assert_eq!(
            shown("see [here](https://example.org/x)."),
            "see here<https://example.org/x>.|"
        );
        assert_eq!(shown("on @c5 and @!b4-b5"), "on c5 and b4\u{2013}b5|");
    }

    #[test]
    fn signs_that_open_nothing_are_text() {
        assert_eq!(
            shown("2 * 3 * 4, a*, [x](javascript:y) mail@@c5"),
            "2 * 3 * 4, a*, [x](javascript:y) mail@c5|"
        );
    }

    #[test]
    fn commands_of_other_programs_are_not_shown() {
        assert_eq!(shown("[%clock 1:02] good [%x y] move"), "good move|");
        assert_eq!(shown("[%x y]"), "");
    }

    #[test]
    fn a_question_has_its_parts_in_any_order() {
        let ask = ask("Ask: What now? Because: it wins. Hint: look at d5.").unwrap();
        assert_eq!(ask.prompt, "What now?");
        assert_eq!(ask.hint.as_deref(), Some("look at d5."));
        assert_eq!(ask.because.as_deref(), Some("it wins."));
        assert_eq!(super::ask("They ask: what?"), None);
    }
}
