//! What a comment says. It is read once, when its move is validated, and everything that shows,
//! speaks or checks it asks the value.

#[cfg(any(not(target_family = "wasm"), feature = "counts"))]
#[cfg(not(target_family = "wasm"))]
pub mod clock;
mod cut;
mod fold;
#[cfg(not(target_family = "wasm"))]
pub mod hear;
pub mod keyword;
pub mod mark;
pub mod passage;
pub mod quoted;
mod read;
mod sentences;

use self::fold::{Places, fold};
use self::keyword::{Opens, Part, Times, at_start};
use self::passage::{Paragraph, Passage};
use self::read::{commands_at_start, without_commands};
use crate::text::Span;
use core::ops::Range;
use std::borrow::Cow;

/// One comment of a lesson; never empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Comment {
    /// Where it is in the source, delimiters included.
    pub span: Span,
    kind: Kind,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Kind {
    Text(Passage),
    Question(Box<Ask>),
}

/// A question that a comment asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// The whole comment.
    text: Box<str>,
    places: Places,
    /// Where the word is in the source that makes it a question.
    pub word: Span,
    /// What is asked.
    pub prompt: Passage,
    /// What else is said, in the order of the text.
    pub parts: Vec<AskPart>,
}

/// A part of a question after its prompt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskPart {
    /// Which part.
    pub part: Part,
    /// Where its word is in the source.
    pub word: Span,
    /// What it says.
    pub says: Passage,
}

impl Comment {
    /// Reads the token of a comment, or several of `;` that are one comment, which are at this
    /// span of the source; none if nothing is said.
    pub fn read(token: &str, span: Span) -> Option<Comment> {
        #[cfg(not(target_family = "wasm"))] // for collections: a page does well without it
        if let Some((text, places)) = fold::one_command(token, span.from) {
            let kind = Kind::Text(Passage::command(text, places));
            return Some(Comment { span, kind });
        }
        let (text, places) = fold(token, span.from);
        if text.is_empty() {
            return None;
        }
        // Commands before the word do not count: no reader sees them.
        let start = commands_at_start(&text);
        let word = at_start(text.get(start..).unwrap_or_default(), |opens| {
            opens == Opens::Question
        });
        let kind = match word {
            Some((_, length)) => {
                let word = start..start + length;
                Kind::Question(Box::new(Ask::read(&text, places, word)))
            }
            None => Kind::Text(Passage::at(&text, places, true)),
        };
        Some(Comment { span, kind })
    }

    /// As it is written: delimiters off, white space folded, blank lines as `\n\n`.
    pub fn text(&self) -> &str {
        match &self.kind {
            Kind::Text(passage) => passage.text(),
            Kind::Question(ask) => &ask.text,
        }
    }

    /// The place in the source of a byte range of its text.
    pub fn place(&self, range: Range<usize>) -> Span {
        match &self.kind {
            Kind::Text(passage) => passage.span(range),
            Kind::Question(ask) => ask.places.span(range.start, range.end),
        }
    }

    /// As it is written, with spaces for the commands of other programs.
    pub fn written(&self) -> Cow<'_, str> {
        without_commands(self.text())
    }

    /// The question that it asks.
    pub fn ask(&self) -> Option<&Ask> {
        match &self.kind {
            Kind::Text(_) => None,
            Kind::Question(ask) => Some(ask),
        }
    }

    /// All of it, where it asks nothing.
    pub fn told(&self) -> Option<&Passage> {
        match &self.kind {
            Kind::Text(passage) => Some(passage),
            Kind::Question(_) => None,
        }
    }

    /// Whether nothing of it is shown: commands of other programs alone.
    pub fn is_silent(&self) -> bool {
        self.told().is_some_and(Passage::is_silent)
    }

    /// All that it says: one passage, or of a question its prompt and its parts.
    pub fn passages(&self) -> impl Iterator<Item = &Passage> {
        let (first, parts) = match &self.kind {
            Kind::Text(passage) => (passage, &[][..]),
            Kind::Question(ask) => (&ask.prompt, &ask.parts[..]),
        };
        let mut next = 0;
        core::iter::from_fn(move || {
            let passage = match next {
                0 => first,
                at => &parts.get(at - 1)?.says,
            };
            next += 1;
            Some(passage)
        })
    }

    /// The paragraph with which it recommends the move before it: its words are the condition.
    pub fn choice(&self) -> Option<Paragraph<'_>> {
        for passage in self.passages() {
            let mut paragraphs = passage.paragraphs();
            let choice = paragraphs.find(|one| one.lead == Some(keyword::Lead::Choose));
            if choice.is_some() {
                return choice;
            }
        }
        None
    }

    /// Several comments as one text, joined by spaces; none if there are none.
    pub fn join(comments: &[Comment]) -> Option<String> {
        let mut text = comments.first()?.text().to_owned();
        for more in comments.iter().skip(1) {
            text.push(' ');
            text.push_str(more.text());
        }
        Some(text)
    }
}

impl Ask {
    /// Reads a comment that begins with the word for a question. A word for a part counts after
    /// white space, and ends the part before it.
    fn read(text: &str, places: Places, word: Range<usize>) -> Ask {
        let mut ask = Ask {
            word: places.span(word.start, word.end),
            prompt: Passage::default(),
            parts: Vec::new(),
            text: text.into(),
            places,
        };
        let (text, places) = (&ask.text, &ask.places);
        let passage = |from: usize, to: usize| {
            let part = text.get(from..to).unwrap_or_default();
            let start = from + part.len() - part.trim_start().len();
            // No paragraph begins with it.
            Passage::at(part.trim(), places.part(start), false)
        };
        // Where the words of the last part begin.
        let mut from = word.end;
        let mut parts: Vec<AskPart> = Vec::new();
        let mut before = ' ';
        for (at, letter) in text.char_indices() {
            let is_apart = before.is_whitespace();
            before = letter;
            if !is_apart || at < word.end {
                continue;
            }
            let counts = |opens| match opens {
                Opens::Part(part, Times::Once) => parts.iter().all(|known| known.part != part),
                Opens::Part(_, Times::Many) => true,
                Opens::Question | Opens::Paragraph(_) => false,
            };
            let rest = text.get(at..).unwrap_or_default();
            let Some((Opens::Part(part, _), length)) = at_start(rest, counts) else {
                continue;
            };
            let said = passage(from, at);
            match parts.last_mut() {
                Some(last) => last.says = said,
                None => ask.prompt = said,
            }
            parts.push(AskPart {
                part,
                word: places.span(at, at + length),
                says: Passage::default(),
            });
            from = at + length;
        }
        let said = passage(from, text.len());
        match parts.last_mut() {
            Some(last) => last.says = said,
            None => ask.prompt = said,
        }
        ask.parts = parts;
        ask
    }

    /// What a part says; of one that is given several times the first.
    pub fn part(&self, part: Part) -> Option<&Passage> {
        let said = self.parts.iter().find(|said| said.part == part);
        said.map(|said| &said.says)
    }

    /// The author's hint.
    pub fn hint(&self) -> Option<&Passage> {
        self.part(Part::Hint)
    }

    /// Why the answer is right.
    pub fn because(&self) -> Option<&Passage> {
        self.part(Part::Because)
    }
}

#[cfg(test)]
mod tests {
    use super::mark::MarkKind;
    use super::passage::{Does, Link, Style};
    use super::*;
    use crate::text::Source;

    /// A comment that is after a move, and its source.
    fn read(token: &str) -> (Source, Comment) {
        let source = Source::new("a.pgn", format!("1. e4 {token} *"));
        let span = Span::new(6, 6 + token.len());
        let comment = Comment::read(source.slice(span), span).expect("a comment");
        (source, comment)
    }

    fn shown(comment: &str) -> String {
        let mut text = String::new();
        let (source, comment) = read(&format!("{{{comment}}}"));
        for paragraph in comment.passages().flat_map(Passage::paragraphs) {
            if paragraph.lead.is_some() {
                text += "Choose ";
            }
            for piece in paragraph.pieces() {
                let sign = match piece.style {
                    Style::Plain => "",
                    Style::Emphasis => "_",
                    Style::Strong => "__",
                };
                text += &format!("{sign}{}{sign}", piece.text);
                match piece.does {
                    Does::Links(Link::Web(address)) => text += &format!("<{address}>"),
                    Does::Links(Link::Locator { run, span }) => {
                        assert_eq!(source.slice(span), format!("#{run}"));
                        text += &format!("<at {run}>");
                    }
                    Does::Marks(mark) if mark.kind == MarkKind::Strong => text.push('!'),
                    Does::MarksNothing => text += "<nothing>",
                    Does::LinksNowhere { target } => {
                        text += &format!("<not {}>", source.slice(target));
                    }
                    _ => {}
                }
                let there = source.slice(piece.span);
                assert!(there.contains(piece.text.split('\u{2013}').next().unwrap_or_default()));
            }
            text += "|";
        }
        text
    }

    #[test]
    fn emphasis_links_and_marks_are_cut_out() {
        assert_eq!(shown("a *b* **c** d"), "a _b_ __c__ d|");
        assert_eq!(
            shown("see [here](https://example.org/x)."),
            "see here<https://example.org/x>.|"
        );
        assert_eq!(shown("as [there](#1.d4 d5)"), "as there<at 1.d4 d5>|");
        let near = shown("[a](../b/#c) [d](./e) [f](../g)");
        assert_eq!(near, "a<../b/#c> d<./e> f<../g>|");
        assert_eq!(shown("[a](//c.d/) [b](/x)"), "a<not //c.d/> b<not /x>|");
        assert_eq!(shown("on @c5 and @!b4-b5"), "on c5 and b4\u{2013}b5!|");
        assert_eq!(shown("*a [b](#1.d4) @c5*"), "_a __b_<at 1.d4>_ __c5_|");
    }

    #[test]
    fn signs_that_open_nothing_are_text() {
        assert_eq!(
            shown("2 * 3 * 4, a*, [x] (y) mail@@c5 @x"),
            "2 * 3 * 4, a*, [x] (y) mail@c5 @x|"
        );
        assert_eq!(shown("a **b*\n\nc**"), "a *_b_|c**|");
    }

    #[test]
    fn a_link_that_is_refused_and_a_mark_of_no_square_show_their_words() {
        assert_eq!(shown("[x](javascript:y) z"), "x<not javascript:y> z|");
        assert_eq!(shown("on @i9."), "on @i9<nothing>.|");
    }

    #[test]
    fn commands_of_other_programs_are_not_shown() {
        for (written, wanted) in [
            ("[%clock 1:02] good [%x y] move", "good move|"),
            ("[%x y]", ""),
            ("[%x y] [%z]\n\n[%x]", ""),
            ("a [%x][%y] b", "a b|"),
            ("a[%x] b", "a b|"),
            ("a [%x]b", "a b|"),
            ("a [%x] [%y]\n\n[%z] c", "a|c|"),
            ("*a* [%x]", "_a_|"),
            ("*a [%*] b", "*a b|"),
            ("a [%x", "a [%x|"),
            ("[%x] Choose: [%y] if wide", "Choose if wide|"),
        ] {
            assert_eq!(shown(written), wanted, "{written}");
        }
    }

    #[test]
    fn commands_are_kept_with_their_places() {
        let (source, comment) = read("{[%a 1] word [%b\n 2]\n\nmore [%c]}");
        let passage = comment.told().expect("no question");
        let commands: Vec<(&str, &str)> = passage
            .commands()
            .map(|(text, span)| (text, source.slice(span)))
            .collect();
        let wanted = [
            ("[%a 1]", "[%a 1]"),
            ("[%b 2]", "[%b\n 2]"),
            ("[%c]", "[%c]"),
        ];
        assert_eq!(commands, wanted);
    }

    #[test]
    fn a_paragraph_is_a_choice_where_it_begins_with_the_word() {
        let (_, comment) = read("{Good.\n\nChoose: if *you* dare\n\nMore.}");
        let choice = comment.choice().expect("a choice");
        assert_eq!(
            (choice.text(), &*choice.words()),
            ("if *you* dare", "if you dare")
        );
        assert_eq!(
            shown("Choose:\n\nGood. Choose: x"),
            "Choose |Good. Choose: x|"
        );
        assert!(read("{I Choose: x}").1.choice().is_none());
    }

    #[test]
    fn a_question_has_its_parts_in_any_order_and_each_once() {
        let (source, comment) = read("{Ask: What now? Because:\nit wins. Hint: d5. Hint: x}");
        let ask = comment.ask().expect("a question");
        assert_eq!(ask.prompt.text(), "What now?");
        assert_eq!(ask.hint().map(Passage::text), Some("d5. Hint: x"));
        assert_eq!(ask.because().map(Passage::text), Some("it wins."));
        assert_eq!(source.slice(ask.word), "Ask:");
        let words: Vec<&str> = ask.parts.iter().map(|it| source.slice(it.word)).collect();
        assert_eq!(words, ["Because:", "Hint:"]);
        for passage in comment.passages() {
            let span = passage.span(0..passage.text().len());
            assert_eq!(source.slice(span), passage.text());
        }
        assert!(read("{[%x] [%y] Ask: what?}").1.ask().is_some());
        for text in ["{They Ask: what?}", "{ask: what?}"] {
            assert!(read(text).1.ask().is_none(), "{text}");
        }
    }

    #[test]
    fn a_question_may_recommend_its_move_in_a_paragraph_of_its_own() {
        let choice = |text: &str| read(text).1.choice().map(|one| one.text().to_owned());
        let asked = choice("{Ask: What now?\n\nChoose: if wide Hint: d5.}");
        assert_eq!(asked.as_deref(), Some("if wide"));
        assert_eq!(choice("{Ask: Choose: one?}"), None);
    }

    #[test]
    fn nothing_is_read_of_a_comment_without_words() {
        for token in ["{}", "{ \n }", ";", ";\n;"] {
            assert_eq!(Comment::read(token, Span::new(0, token.len())), None);
        }
    }
}
