//! The text of a cue: tags taken out, times in them kept, escapes read (W3C WebVTT, section 6.4 "cue text parsing
//! rules", from memory).

use super::Part;
use crate::notation::comment::clock::timestamp;
use crate::text::Span;

/// The lines of a cue, each given with its first byte. A tag may go over a line's end.
pub fn lines<'a>(given: impl Iterator<Item = (usize, &'a str)>) -> Vec<Vec<Part>> {
    let mut lines = Vec::new();
    let mut state = State {
        at: None,
        in_tag: false,
    };
    for (from, text) in given {
        let parts = state.line(from, text);
        if parts.iter().any(|part| !part.text.trim().is_empty()) {
            lines.push(parts);
        }
    }
    lines
}

/// What goes on from one line to the next.
struct State {
    at: Option<u64>,
    in_tag: bool,
}

impl State {
    fn line(&mut self, from: usize, text: &str) -> Vec<Part> {
        let mut parts = Vec::new();
        let mut at = 0;
        while at < text.len() {
            let rest = &text[at..];
            if self.in_tag {
                let length = rest.find('>').map_or(rest.len(), |end| end + 1);
                self.in_tag = !rest[..length].ends_with('>');
                at += length;
                continue;
            }
            let length = match (rest.starts_with('<'), rest.starts_with("{\\")) {
                (true, _) => {
                    let inside = &rest[1..];
                    if let Some((time, length)) = timestamp(inside, true)
                        && inside[length..].starts_with('>')
                    {
                        self.at = Some(time);
                    }
                    self.in_tag = true;
                    1
                }
                // Where SubRip says how a line is drawn.
                (_, true) => rest.find('}').map_or(rest.len(), |end| end + 1),
                _ => {
                    let skip = rest.chars().next().map_or(1, char::len_utf8);
                    let more = &rest[skip..];
                    let ends = [more.find('<'), more.find("{\\")];
                    let length = ends
                        .into_iter()
                        .flatten()
                        .min()
                        .map_or(rest.len(), |end| end + skip);
                    parts.push(Part {
                        at: self.at,
                        text: htmlize::unescape(&rest[..length]).into_owned(),
                        span: Span::new(from + at, from + at + length),
                    });
                    length
                }
            };
            at += length;
        }
        parts
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(text: &str) -> Vec<(Option<u64>, String)> {
        let lines = lines(text.split('\n').map(|line| (0, line)));
        let all = lines.into_iter().flatten();
        all.map(|part| (part.at, part.text)).collect()
    }

    #[test]
    fn section_6_4_tags_are_silent_and_times_in_them_count() {
        assert_eq!(
            parts(
                "<v.loud Esme Smith>So <b>now</b> <00:19.000><c.a>the</c> <lang en>knight</lang>"
            ),
            [
                (None, "So ".to_owned()),
                (None, "now".to_owned()),
                (None, " ".to_owned()),
                (Some(19_000), "the".to_owned()),
                (Some(19_000), " ".to_owned()),
                (Some(19_000), "knight".to_owned()),
            ]
        );
    }

    #[test]
    fn section_6_4_escapes_are_read() {
        assert_eq!(parts("R&amp;D &lt;3&gt;"), [(None, "R&D <3>".to_owned())]);
    }

    #[test]
    fn a_tag_that_is_not_closed_hides_the_rest() {
        assert_eq!(
            parts("a <b\nc> d"),
            [(None, "a ".to_owned()), (None, " d".to_owned())]
        );
        assert_eq!(parts("a <b c"), [(None, "a ".to_owned())]);
    }
}
