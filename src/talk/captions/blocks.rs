//! WebVTT and SubRip: blocks of lines, of which those with an arrow are cues (W3C WebVTT, section 6.1 "WebVTT
//! parser algorithm", from memory).

use super::payload;
use super::{Cue, Form};
use crate::notation::comment::clock::{Millis, timestamp};
use crate::text::Span;

const ARROW: &str = "-->";

/// A line with the byte at which it begins.
#[derive(Clone, Copy)]
struct Line<'a> {
    from: usize,
    text: &'a str,
}

/// The cues in the order of the text, and the places of those whose times cannot be read.
pub fn read(text: &str, form: Form) -> (Vec<Cue>, Vec<Span>) {
    let mut lines = lines(text);
    if form == Form::WebVtt {
        // The header ends at the first blank line, or before a line with an arrow.
        while let Some(line) = lines.next_if(|line| !line.text.contains(ARROW)) {
            if line.text.is_empty() {
                break;
            }
        }
    }
    let (mut cues, mut bad) = (Vec::new(), Vec::new());
    while let Some(first) = lines.next() {
        if first.text.trim().is_empty() {
            continue;
        }
        let mut timing = first.text.contains(ARROW).then_some(first);
        if timing.is_none() {
            // A name may come before the times. All other blocks are notes, styles, regions or nothing.
            timing = lines.next_if(|line| line.text.contains(ARROW));
        }
        let mut payload = Vec::new();
        while let Some(line) = lines.next_if(|line| !line.text.contains(ARROW)) {
            if line.text.trim().is_empty() {
                break;
            }
            payload.push(line);
        }
        let Some(timing) = timing else {
            continue;
        };
        match times(timing.text, form) {
            Some((from, to)) => {
                // In SubRip the number of the next cue comes right before its times where the blank line is missing.
                if form == Form::SubRip
                    && lines.peek().is_some_and(|line| line.text.contains(ARROW))
                    && payload.last().is_some_and(|line| is_number(line.text))
                {
                    payload.pop();
                }
                cues.push(Cue {
                    from,
                    to: Some(to).filter(|to| *to > from),
                    lines: payload::lines(payload.iter().map(|line| (line.from, line.text))),
                });
            }
            None => bad.push(Span::new(timing.from, timing.from + timing.text.len())),
        }
    }
    (cues, bad)
}

fn is_number(text: &str) -> bool {
    let text = text.trim();
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Lines without their ends, which are LF, CR or both.
fn lines(text: &str) -> std::iter::Peekable<impl Iterator<Item = Line<'_>>> {
    let mut from = 0;
    let all = std::iter::from_fn(move || {
        let rest = text.get(from..).filter(|rest| !rest.is_empty())?;
        let length = rest.find(['\n', '\r']).unwrap_or(rest.len());
        let line = Line {
            from,
            text: &rest[..length],
        };
        let ends = match rest[length..].starts_with("\r\n") {
            true => 2,
            false => 1,
        };
        from += length + ends;
        Some(line)
    });
    all.peekable()
}

/// The two times of a cue; what comes after them says where it is shown, which nobody hears.
fn times(line: &str, form: Form) -> Option<(Millis, Millis)> {
    let comma = form == Form::SubRip;
    let line = line.trim_start();
    let (from, length) = timestamp(line, comma)?;
    let rest = line.get(length..)?.trim_start().strip_prefix(ARROW)?;
    let (to, _) = timestamp(rest.trim_start(), comma)?;
    Some((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Begin, end and text of each cue.
    fn cues(text: &str) -> Vec<(Millis, Option<Millis>, String)> {
        let form = super::super::form(text).expect("captions");
        let text_of = |cue: &Cue| {
            let lines = cue.lines.iter();
            let lines =
                lines.map(|line| line.iter().map(|it| it.text.as_str()).collect::<String>());
            lines.collect::<Vec<_>>().join("|")
        };
        let all = read(text, form).0;
        all.iter().map(|it| (it.from, it.to, text_of(it))).collect()
    }

    // The examples are those of W3C WebVTT, section 1, from memory, with words of ours.

    #[test]
    fn section_1_1_cues_with_line_breaks_and_names() {
        let text = "WEBVTT\n\n00:11.000 --> 00:13.000\n<v Anna>We begin\nwith the centre\n\n2 - the second\n00:13.000 --> 00:16.000\n<v Ben>Yes.\n";
        assert_eq!(
            cues(text),
            [
                (11_000, Some(13_000), "We begin|with the centre".to_owned()),
                (13_000, Some(16_000), "Yes.".to_owned()),
            ]
        );
    }

    #[test]
    fn section_1_3_comments_are_not_heard() {
        let text = "WEBVTT - a title\n\nNOTE\nOne comment that is spanning\nmore than one line.\n\nNOTE one line\n\n00:01.000 --> 00:02.000\nheard\n";
        assert_eq!(cues(text), [(1_000, Some(2_000), "heard".to_owned())]);
    }

    #[test]
    fn section_1_2_and_1_6_styles_and_regions_are_not_heard() {
        let text = "WEBVTT\nKind: captions\n\nSTYLE\n::cue { color: papayawhip; }\n\nREGION\nid:fred\nwidth:40%\n\n00:00.000 --> 00:20.000 region:fred align:left position:10%,line-left size:35%\n<v Fred>Hi\n";
        assert_eq!(cues(text), [(0, Some(20_000), "Hi".to_owned())]);
    }

    #[test]
    fn section_6_1_line_ends_of_all_three_kinds_and_an_arrow_that_ends_a_block() {
        let text = "WEBVTT\r\n\r\n00:01.000-->00:02.000\r\na\r00:02.000 --> 00:03.000\rb\n";
        let texts: Vec<String> = cues(text).into_iter().map(|it| it.2).collect();
        assert_eq!(texts, ["a", "b"]);
    }

    #[test]
    fn section_6_1_a_cue_with_bad_times_is_left_out_and_told() {
        let text = "WEBVTT\n\n00:61.000 --> 00:62.000\nlost\n\n00:01.000 -> 00:02.000\nno cue\n\n00:03.000 --> 00:01.000\nkept\n";
        let (found, bad) = read(text, Form::WebVtt);
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].from, found[0].to), (3_000, None));
        let words: Vec<&str> = bad.iter().map(|span| &text[span.range()]).collect();
        assert_eq!(words, ["00:61.000 --> 00:62.000"]);
    }

    #[test]
    fn subrip_has_numbers_commas_and_sometimes_no_blank_line() {
        let text = "1\n00:00:01,000 --> 00:00:02,000\na\n2\n00:00:02,500 --> 00:00:03,000\n<i>b</i> {\\an8}c\n";
        let texts: Vec<String> = cues(text).into_iter().map(|it| it.2).collect();
        assert_eq!(texts, ["a", "b c"]);
    }
}
