//! A comment as it stands in the text, with everything blanked that is no sentence.

/// The same text, byte for byte as long, in which marks, the targets of links, commands of other
/// programs and line ends are spaces: what is left are the author's words, where they stood.
pub fn sentences(raw: &str) -> String {
    let mut text = String::with_capacity(raw.len());
    // What ends the stretch that is being blanked.
    let mut until: Option<fn(char) -> bool> = None;
    let mut before = ' ';
    for (at, letter) in raw.char_indices() {
        let opens: Option<fn(char) -> bool> = match letter {
            '@' => Some(|letter| {
                letter.is_ascii_whitespace() || matches!(letter, ',' | ';' | ':' | '.' | ')' | '}')
            }),
            '(' if before == ']' => Some(|letter| letter == ')'),
            '[' if raw[at..].starts_with("[%") => Some(|letter| letter == ']'),
            _ => None,
        };
        if until.is_some_and(|ends| ends(letter)) {
            until = None;
        }
        until = until.or(opens);
        match until.is_some() || letter.is_ascii_whitespace() {
            true => text.extend(core::iter::repeat_n(' ', letter.len_utf8())),
            false => text.push(letter),
        }
        before = letter;
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_where_they_are_and_nothing_else_does() {
        let raw = "{After 6.Bd3\n@f3-d2-c4, [see](#4.cxd5_exd5) and [%cal Gd2d4] \u{e9}@c5.}";
        let text = sentences(raw);
        assert_eq!(text.len(), raw.len());
        let words: Vec<&str> = text.split_whitespace().collect();
        assert_eq!(
            words,
            [
                "{After", "6.Bd3", ",", "[see]", ")", "and", "]", "\u{e9}", ".}"
            ]
        );
    }
}
