//! From Markdown to the markup that a generator makes of it (CommonMark 0.31, by crate
//! pulldown-cmark), with the place of each byte. Only what tells lessons and prose apart is kept:
//! blocks, code, and the author's own tags.

use super::Markup;
use crate::markup::escape;
use crate::text::{Mapping, Span};
use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// Besides CommonMark, what common generators read: tables, notes, and front matter.
pub const OPTIONS: Options = Options::ENABLE_TABLES
    .union(Options::ENABLE_FOOTNOTES)
    .union(Options::ENABLE_STRIKETHROUGH)
    .union(Options::ENABLE_TASKLISTS)
    .union(Options::ENABLE_YAML_STYLE_METADATA_BLOCKS)
    .union(Options::ENABLE_PLUSES_DELIMITED_METADATA_BLOCKS);

pub fn to_html(text: &str) -> Markup {
    let mut writer = Writer {
        text,
        html: String::new(),
        mapping: Mapping::default(),
        lang: None,
        is_front: false,
        is_ended: true,
    };
    for (event, range) in Parser::new_ext(text, OPTIONS).into_offset_iter() {
        writer.event(event, range);
    }
    Markup {
        html: writer.html,
        mapping: writer.mapping,
        lang: writer.lang,
    }
}

struct Writer<'a> {
    text: &'a str,
    html: String,
    mapping: Mapping,
    lang: Option<String>,
    /// Whether the front matter is being read.
    is_front: bool,
    /// Whether the block of code that is being read has a line that ends it.
    is_ended: bool,
}

impl Writer<'_> {
    fn event(&mut self, event: Event<'_>, range: Range<usize>) {
        match event {
            Event::Start(tag) => self.start(tag, range),
            Event::End(TagEnd::MetadataBlock(_)) => self.is_front = false,
            Event::End(tag) => {
                let name = name_of_end(tag);
                if tag == TagEnd::CodeBlock {
                    // One that nothing ends stays open until the element around it is closed.
                    if !std::mem::replace(&mut self.is_ended, true) {
                        return;
                    }
                    self.tag("</code>", range.end..range.end);
                }
                if !name.is_empty() {
                    self.tag(&format!("</{name}>"), range.end..range.end);
                }
            }
            Event::Text(words) if self.is_front => {
                self.lang = self.lang.take().or_else(|| lang(&words))
            }
            Event::Text(words) => self.words(&words, range),
            Event::Code(words) => {
                let inner = self.text[range.clone()].find(&*words);
                let within = inner.map_or(range.clone(), |at| {
                    let from = range.start + at;
                    from..from + words.len()
                });
                self.tag("<code>", range.start..range.start);
                self.words(&words, within);
                self.tag("</code>", range.end..range.end);
            }
            Event::Html(markup) | Event::InlineHtml(markup) => self.same(&markup, range),
            Event::SoftBreak => self.instead("\n", range),
            Event::HardBreak => self.tag("<br>", range),
            Event::Rule => self.tag("<hr>", range),
            Event::FootnoteReference(_) | Event::TaskListMarker(_) => {
                self.instead("\u{fffc}", range)
            }
            Event::InlineMath(words) | Event::DisplayMath(words) => self.words(&words, range),
        }
    }

    fn start(&mut self, tag: Tag<'_>, range: Range<usize>) {
        let first = self.text[range.clone()].find('\n').unwrap_or(range.len());
        let line = range.start..range.start + first;
        match tag {
            Tag::MetadataBlock(_) => self.is_front = true,
            Tag::CodeBlock(kind) => {
                let language = match &kind {
                    CodeBlockKind::Fenced(info) => {
                        self.is_ended = is_ended(&self.text[range]);
                        info.split_whitespace().next().unwrap_or_default()
                    }
                    CodeBlockKind::Indented => "",
                };
                self.tag("<pre>", line.clone());
                if language.is_empty() {
                    return self.tag("<code>", line);
                }
                let written = self.text[line.clone()].find(language);
                let from = written.map(|at| line.start + at);
                let stands = from.map_or(line.clone(), |from| from..from + language.len());
                self.tag("<code class=\"language-", line.start..line.start);
                self.words(language, stands);
                self.tag("\">", line.start..line.start);
            }
            Tag::List(Some(number)) => self.tag(&format!("<ol start=\"{number}\">"), line),
            Tag::Link { dest_url, .. } => {
                let whole = &self.text[range.clone()];
                let written = whole.rfind(&*dest_url).map(|at| range.start + at);
                let stands = written.map_or(line.clone(), |at| at..at + dest_url.len());
                self.tag("<a href=\"", line.start..line.start);
                self.words(&dest_url, stands);
                self.tag("\">", line.start..line.start);
            }
            other => {
                let name = name_of_end(other.to_end());
                if !name.is_empty() {
                    self.tag(&format!("<{name}>"), line);
                }
            }
        }
    }

    /// Markup of ours that stands for something in the file.
    fn tag(&mut self, markup: &str, stands: Range<usize>) {
        self.instead(markup, stands);
    }

    fn instead(&mut self, markup: &str, stands: Range<usize>) {
        self.html += markup;
        let stands = Span::new(stands.start, stands.end);
        self.mapping.instead(markup.len() as u32, stands);
    }

    /// Markup that the file has.
    fn same(&mut self, markup: &str, range: Range<usize>) {
        match self.text[range.clone()] == *markup {
            true => {
                self.html += markup;
                self.mapping.same(Span::new(range.start, range.end));
            }
            false => self.instead(markup, range),
        }
    }

    /// Words as markup.
    fn words(&mut self, words: &str, range: Range<usize>) {
        let written = &self.text[range.clone()];
        // A line end of two signs is one in what is read.
        let start = match written == words {
            true => Some(0),
            false => written.starts_with(words.trim_end()).then_some(0),
        };
        let Some(start) = start else {
            let escaped = escaped(words);
            return self.instead(&escaped, range);
        };
        let from = range.start + start;
        let same = match written == words {
            true => words,
            false => words.trim_end(),
        };
        let mut done = 0;
        for (at, sign) in same.match_indices(['&', '<', '>', '"']) {
            self.same(&same[done..at], from + done..from + at);
            self.instead(&escaped(sign), from + at..from + at + 1);
            done = at + 1;
        }
        self.same(&same[done..], from + done..from + same.len());
        let rest = &words[same.len()..];
        if !rest.is_empty() {
            self.instead(rest, from + same.len()..range.end);
        }
    }
}

/// Whether the last line of a fence ends it (CommonMark 0.31, 4.5): it has the signs of the first
/// line, as many or more, and nothing else.
fn is_ended(block: &str) -> bool {
    let signs = |line: &str| {
        let line = line.trim_start_matches([' ', '\t', '>']);
        let sign = line
            .chars()
            .next()
            .filter(|sign| matches!(sign, '`' | '~'))?;
        let rest = line.trim_start_matches(sign);
        Some((sign, line.len() - rest.len(), rest.trim().is_empty()))
    };
    let lines = block.trim_end().rsplit_once('\n');
    let last = lines.and_then(|(_, last)| signs(last));
    match (signs(block), last) {
        (Some((sign, count, _)), Some((same, more, is_alone))) => {
            sign == same && more >= count && is_alone
        }
        _ => false,
    }
}

fn escaped(words: &str) -> String {
    let mut markup = String::new();
    escape(words, &mut markup);
    markup
}

/// The element that something becomes; none for what is of no importance here.
fn name_of_end(tag: TagEnd) -> &'static str {
    match tag {
        TagEnd::Paragraph => "p",
        TagEnd::Heading(_) => "h2",
        TagEnd::BlockQuote(_) => "blockquote",
        TagEnd::CodeBlock => "pre",
        TagEnd::List(true) => "ol",
        TagEnd::List(false) => "ul",
        TagEnd::Item => "li",
        TagEnd::FootnoteDefinition => "aside",
        TagEnd::Table => "table",
        TagEnd::TableHead | TagEnd::TableRow => "tr",
        TagEnd::TableCell => "td",
        TagEnd::Emphasis => "em",
        TagEnd::Strong => "strong",
        TagEnd::Link => "a",
        // The words for a picture are no text of the page.
        TagEnd::Image => "button",
        _ => "",
    }
}

/// `lang: fr` in front matter.
fn lang(front: &str) -> Option<String> {
    let line = front
        .lines()
        .find_map(|line| line.strip_prefix("lang").map(str::trim_start))?;
    let value = line
        .strip_prefix([':', '='])?
        .trim()
        .trim_matches(['"', '\'']);
    Some(value.to_owned()).filter(|value| !value.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The markup, and whether each word of it is where the file has it.
    fn made(text: &str, words: &[&str]) -> String {
        let Markup { html, mapping, .. } = to_html(text);
        for word in words {
            let at = html
                .find(word)
                .unwrap_or_else(|| panic!("{word} in {html}"));
            let outer = mapping.outer(Span::new(at, at + word.len()));
            assert_eq!(&text[outer.range()], *word);
        }
        html
    }

    #[test]
    fn paragraphs_marks_and_tags_are_as_the_page_has_them() {
        let text = "# One\n\nAfter **4.d4** R & B <ply-ref at=\"4.d4\">d4</ref>\nmore\n";
        assert_eq!(
            made(text, &["4.d4", "at=\"4.d4\"", "more"]),
            "<h2>One</h2><p>After <strong>4.d4</strong> R &amp; B <ply-ref at=\"4.d4\">d4</ref>\nmore</p>"
        );
    }

    #[test]
    fn a_fence_is_a_block_whose_lines_are_where_they_stand_in_a_quotation_too() {
        let text = "> ```pgn x\r\n> 1. e4 {R < B}\r\n> e5 *\r\n> ```\r\n";
        let html = made(text, &["1. e4 {R ", "e5 *"]);
        assert!(
            html.contains("<pre><code class=\"language-pgn\">1. e4 {R &lt; B}"),
            "{html}"
        );
    }

    #[test]
    fn the_last_line_of_a_fence_says_whether_it_is_ended() {
        for ended in ["```pgn\n```", "~~~\n1.\n~~~~ \n", "```\n> ```"] {
            assert!(is_ended(ended), "{ended:?}");
        }
        for open in [
            "```pgn",
            "```pgn\n1. e4",
            "```\n``",
            "~~~\n```\n",
            "```\n``` x\n",
        ] {
            assert!(!is_ended(open), "{open:?}");
        }
    }

    #[test]
    fn front_matter_is_no_text_and_names_the_language() {
        let read = to_html("---\ntitle: 4. d4\nlang: fr\n---\n\nText\n");
        assert_eq!(
            (read.html.as_str(), read.lang.as_deref()),
            ("<p>Text</p>", Some("fr"))
        );
        assert_eq!(
            to_html("+++\nlang = \"de\"\n+++\n").lang.as_deref(),
            Some("de")
        );
    }

    #[test]
    fn escaped_signs_and_entities_are_where_the_file_has_them() {
        let text = "a \\* b &amp; 4.d4 `x < 5.e4`";
        assert_eq!(
            made(text, &["4.d4", "5.e4"]),
            "<p>a * b &amp; 4.d4 <code>x &lt; 5.e4</code></p>"
        );
    }
}
