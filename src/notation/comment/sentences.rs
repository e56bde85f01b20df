//! A passage as written, with spaces for everything that is not part of a sentence.

use super::passage::{Does, Paragraph, Passage, Piece};
use crate::text::split;
use std::borrow::Cow;

impl Passage {
    /// The author's words in their places: as many bytes as the text has, with spaces for marks,
    /// signs, the targets of links and commands of other programs. Line ends separate paragraphs.
    pub fn sentences(&self) -> Cow<'_, str> {
        self.blanked(|does| !matches!(does, Does::Marks(_) | Does::MarksNothing))
    }

    /// The same with the marks as they are written.
    pub fn sentences_and_marks(&self) -> Cow<'_, str> {
        self.blanked(|_| true)
    }

    fn blanked(&self, keeps: impl Fn(&Does) -> bool) -> Cow<'_, str> {
        let whole = self.text();
        if self.is_plain() {
            return Cow::Borrowed(whole);
        }
        let mut text = String::with_capacity(whole.len());
        for Piece { does, at, .. } in self.paragraphs().flat_map(Paragraph::pieces) {
            let mut kept = at;
            if matches!(does, Does::Links(_) | Does::LinksNowhere { .. }) {
                // `[words](target)`
                let written = whole.get(kept.clone()).unwrap_or_default();
                let words = split(written, b']').next().unwrap_or_default();
                kept = kept.start + 1..kept.start + words.len();
            }
            if keeps(&does) {
                blank(whole, &mut text, kept.start);
                text.push_str(whole.get(kept).unwrap_or_default());
            }
        }
        blank(whole, &mut text, whole.len());
        Cow::Owned(text)
    }
}

/// Goes on to a byte with spaces, and keeps the line ends.
fn blank(whole: &str, text: &mut String, to: usize) {
    for byte in whole.bytes().take(to).skip(text.len()) {
        text.push(if byte == b'\n' { '\n' } else { ' ' });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_where_they_are_and_nothing_else_does() {
        let written =
            "After 6.Bd3 @f3-d2-c4, [see](#4.cxd5_exd5)\n\nand [%cal Gd2d4] \u{e9}, *@c5*.";
        let passage = Passage::read(written);
        for (text, wanted) in [
            (passage.sentences(), "After 6.Bd3 , see and \u{e9}, ."),
            (
                passage.sentences_and_marks(),
                "After 6.Bd3 @f3-d2-c4, see and \u{e9}, @c5 .",
            ),
        ] {
            assert_eq!(text.len(), written.len());
            let words: Vec<&str> = text.split_whitespace().collect();
            for word in &words {
                let at = text.find(word).expect("a word");
                assert_eq!(written.get(at..at + word.len()), Some(*word));
            }
            assert_eq!(words.join(" "), wanted, "{text}");
        }
    }
}
