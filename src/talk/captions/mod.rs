//! Captions: texts with times, in WebVTT, in SubRip, and as text with `[m:ss]` stamps.

mod blocks;
mod heard;
mod payload;
mod stamped;

pub use heard::{Word, words};

use crate::notation::comment::clock::Millis;
use crate::text::{Code, Finding, Findings, Span};

/// A text of one time, as captions show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// When it begins.
    pub from: Millis,
    /// When it ends; none where that is not said, or comes before its beginning.
    pub to: Option<Millis>,
    /// Its lines.
    pub lines: Vec<Vec<Part>>,
}

/// A stretch of a line without tags.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// When it is spoken, where a tag says that.
    pub at: Option<Millis>,
    /// Its text, escapes read.
    pub text: String,
    /// Its bytes in the file.
    pub span: Span,
}

/// Which form captions have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// WebVTT (W3C): begins with the word `WEBVTT`.
    WebVtt,
    /// SubRip: as WebVTT without that word, with a comma in the times.
    SubRip,
    /// Text with a stamp such as `[4:27]` before what is said from then on.
    Stamped,
}

/// The form of a text; none where no line of it has a time.
pub fn form(text: &str) -> Option<Form> {
    let is_vtt = text.strip_prefix("WEBVTT").is_some_and(|rest| {
        // W3C WebVTT, section 6.1: then a space, a tab, a line end or nothing.
        rest.is_empty() || rest.starts_with([' ', '\t', '\n', '\r'])
    });
    match () {
        () if is_vtt => Some(Form::WebVtt),
        () if text.contains("-->") => Some(Form::SubRip),
        () if stamped::has_stamp(text) => Some(Form::Stamped),
        () => None,
    }
}

/// Reads captions. The cues are in the order of their times; what is amiss with some of them is told once
/// a kind, at the first.
pub fn read(text: &str) -> (Vec<Cue>, Findings) {
    let mut findings = Findings::default();
    let Some(form) = form(text) else {
        return (Vec::new(), findings);
    };
    let (mut cues, bad) = match form {
        Form::WebVtt | Form::SubRip => blocks::read(text, form),
        Form::Stamped => (stamped::read(text), Vec::new()),
    };
    if let Some(first) = bad.first() {
        let count = bad.len();
        let what = match form {
            Form::SubRip => "hours, minutes, seconds and thousandths, such as 00:04:27,500",
            Form::WebVtt | Form::Stamped => "minutes, seconds and thousandths, such as 04:27.500",
        };
        let message = format!(
            "the times of this cue cannot be read, and its words are left out{}",
            others(count)
        );
        let help = format!("a time is {what}");
        findings.push(Finding::new(Code::BadCue, *first, message).with_help(help));
    }
    let is_back = |pair: &[Cue]| pair[1].from < pair[0].from; // windows of two
    let back: Vec<Span> = cues
        .windows(2)
        .filter(|pair| is_back(pair))
        .filter_map(|pair| first_span(&pair[1]))
        .collect();
    if let Some(first) = back.first() {
        let message = format!(
            "this cue begins before the one above it; cues are read in the order of their times{}",
            others(back.len())
        );
        findings.push(Finding::new(Code::BadCue, *first, message));
        cues.sort_by_key(|cue| cue.from);
    }
    (cues, findings)
}

/// How many more there are of what is told once.
fn others(count: usize) -> String {
    match count {
        0 | 1 => String::new(),
        2 => "; so is one other".to_owned(),
        _ => format!("; so are {} others", count - 1),
    }
}

fn first_span(cue: &Cue) -> Option<Span> {
    cue.lines.iter().flatten().next().map(|part| part.span)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_form_is_seen_at_the_text() {
        for (text, wanted) in [
            ("WEBVTT", Some(Form::WebVtt)),
            ("WEBVTT a title\n", Some(Form::WebVtt)),
            ("WEBVTTX\n", None),
            (
                "1\n00:00:01,000 --> 00:00:02,000\nhello\n",
                Some(Form::SubRip),
            ),
            ("[0:01] hello", Some(Form::Stamped)),
            ("hello", None),
        ] {
            assert_eq!(form(text), wanted, "{text}");
        }
    }

    #[test]
    fn cues_come_in_the_order_of_their_times_and_it_is_told_once_that_they_did_not() {
        let text = "WEBVTT\n\n00:05.000 --> 00:06.000\nb\n\n00:01.000 --> 00:02.000\na\n\n00:00.500 --> 00:00.900\nz\n";
        let (cues, findings) = read(text);
        let times: Vec<Millis> = cues.iter().map(|cue| cue.from).collect();
        assert_eq!(times, [500, 1_000, 5_000]);
        assert_eq!(findings.len(), 1);
    }
}
