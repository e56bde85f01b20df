//! From cues to words, each with its time: lines that captions show twice are heard once, and times between those
//! that are given are shared out.

use super::{Cue, Millis, Part};
use crate::text::Span;

/// A word as it was written, with its time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Its letters and signs.
    pub text: String,
    /// When it begins.
    pub at: Millis,
    /// Its bytes in the captions.
    pub span: Span,
    /// Whether nobody speaks before it for a while.
    pub after_pause: bool,
}

/// How long a pause is, in milliseconds. Within a sentence people breathe for some 300 (common knowledge, no source).
const PAUSE: Millis = 900;
/// The longest that one word is taken to last, in milliseconds, where times are shared out.
const SLOW: Millis = 1_200;
/// How long a word takes where its end is not known: 150 words a minute (common knowledge, no source).
const USUAL: Millis = 400;
/// How far apart two cues may be of which one shows lines of the other again, in milliseconds.
const CLOSE: Millis = 250;
/// Where at least one of so many cues shows lines of the one before, captions roll.
const ROLLS: usize = 4;
/// How many lines back are looked at for one that is shown again; captions have two or three.
const SHOWN: usize = 4;

/// The words of cues, which are in the order of their times.
pub fn words(cues: &[Cue]) -> Vec<Word> {
    let ends = ends(cues);
    let rolls = rolling(cues);
    let mut words: Vec<Word> = Vec::new();
    let mut shown: Vec<String> = Vec::new();
    let mut before: Option<(usize, Millis)> = None;
    for (at, (cue, end)) in cues.iter().zip(ends).enumerate() {
        let lines: Vec<String> = cue.lines.iter().map(|line| plain(line)).collect();
        let is_close = before.is_some_and(|(_, end)| cue.from <= end.saturating_add(CLOSE));
        let is_copy = before.is_some_and(|(other, _)| is_same(&cues[other], cue)); // a number of `cues`
        let again = match (is_copy, is_close && rolls) {
            (true, _) => lines.len(),
            (_, true) => repeated(&shown, &lines),
            _ => 0,
        };
        let is_first = before.is_none_or(|(_, end)| cue.from > end.saturating_add(PAUSE));
        // What is shown again is not heard again, so a cue with nothing else ends nothing.
        let fresh: Vec<&Part> = cue.lines.iter().skip(again).flatten().collect();
        let from = words.len();
        spoken(&cue.lines[again..], cue.from, end, &mut words); // at most all of them
        if let Some(first) = words.get_mut(from) {
            first.after_pause = is_first;
        }
        if !fresh.is_empty() || before.is_none() {
            shown.extend(lines.into_iter().skip(again));
            let many = shown.len().saturating_sub(SHOWN);
            shown.drain(..many);
        }
        let end = before.map_or(end, |(_, last)| last.max(end));
        before = Some((at, end));
    }
    words
}

/// Where each cue ends: as it says, else where the next one begins.
fn ends(cues: &[Cue]) -> Vec<Millis> {
    let mut ends: Vec<Millis> = Vec::new();
    let mut next = None;
    for cue in cues.iter().rev() {
        let count = cue.lines.iter().flatten();
        let count: usize = count.map(|it| it.text.split_whitespace().count()).sum();
        let usual = cue.from + count as Millis * USUAL;
        ends.push(cue.to.or(next).unwrap_or(usual));
        next = Some(cue.from).filter(|from| *from > 0).or(next);
    }
    ends.reverse();
    ends
}

/// The words of a line, letters only, to see whether it is shown again.
fn plain(line: &[Part]) -> String {
    let text: String = line.iter().map(|part| part.text.as_str()).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn is_same(one: &Cue, other: &Cue) -> bool {
    let lines = |cue: &Cue| -> Vec<String> { cue.lines.iter().map(|it| plain(it)).collect() };
    one.from == other.from && one.to == other.to && lines(one) == lines(other)
}

/// How many lines at the start of a cue are the last that were shown.
fn repeated(shown: &[String], lines: &[String]) -> usize {
    let most = shown.len().min(lines.len());
    let fits = |count: &usize| shown[shown.len() - count..] == lines[..*count]; // at most either
    (1..=most).rev().find(fits).unwrap_or(0)
}

/// Whether these captions show lines again: a talk may well say a line twice, captions that do not roll may not.
fn rolling(cues: &[Cue]) -> bool {
    let last = |cue: &Cue| cue.lines.last().map(|line| plain(line));
    let first = |cue: &Cue| cue.lines.first().map(|line| plain(line));
    let pairs = cues.windows(2);
    let again = pairs.filter(|pair| {
        let same = first(&pair[1]); // windows of two
        same.is_some() && (last(&pair[0]) == same || first(&pair[0]) == same)
    });
    let count = again.count();
    count > 0 && count * ROLLS >= cues.len()
}

/// Adds the words of lines that are spoken from one time to another.
fn spoken(lines: &[Vec<Part>], from: Millis, to: Millis, words: &mut Vec<Word>) {
    let first = words.len();
    // Known times, each with the number of its word.
    let mut known: Vec<(usize, Millis)> = vec![(first, from)];
    for line in lines {
        let mut joins = false;
        for part in line {
            for (at, text) in pieces(&part.text) {
                let is_first = at == 0;
                let span = within(part, at, text.len());
                match words.last_mut().filter(|_| is_first && joins) {
                    Some(word) => {
                        word.text.push_str(text);
                        word.span = word.span.join(span);
                    }
                    None => {
                        if let Some(time) = part.at
                            && known.last().is_none_or(|(_, last)| time > *last)
                            && time >= from
                        {
                            known.push((words.len(), time));
                        }
                        words.push(Word {
                            text: text.to_owned(),
                            at: from,
                            span,
                            after_pause: false,
                        });
                    }
                }
                joins = true;
            }
            joins &= !part.text.ends_with(char::is_whitespace);
        }
    }
    let last = known.last().map_or(from, |it| it.1);
    known.push((words.len(), to.max(last)));
    for pair in known.windows(2) {
        let [(start, time), (end, until)] = [pair[0], pair[1]]; // windows of two
        share(&mut words[start..end], time, until); // numbers of words that are there
    }
}

/// The bytes of a word of a part; of the whole part where escapes make it longer than its text.
fn within(part: &Part, at: usize, length: usize) -> Span {
    let bytes = part.span.range();
    match bytes.len() == part.text.len() {
        true => Span::new(bytes.start + at, bytes.start + at + length),
        false => part.span,
    }
}

/// The words of a text with the byte of each.
fn pieces(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let start = text.as_ptr() as usize;
    text.split_whitespace()
        .map(move |word| (word.as_ptr() as usize - start, word))
}

/// Shares out a time among words by their letters.
fn share(words: &mut [Word], from: Millis, to: Millis) {
    let letters = |word: &Word| word.text.chars().count() as Millis + 1;
    let all: Millis = words.iter().map(letters).sum();
    let whole = (to - from.min(to)).min(words.len() as Millis * SLOW);
    let mut before = 0;
    for word in words {
        word.at = from + whole * before / all.max(1);
        before += letters(word);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::talk::captions;

    fn heard(text: &str) -> Vec<(String, Millis)> {
        let (cues, _) = captions::read(text);
        let all = words(&cues).into_iter();
        all.map(|word| (word.text, word.at)).collect()
    }

    fn text(captions: &str) -> String {
        let words = heard(captions).into_iter().map(|it| it.0);
        words.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn lines_that_roll_are_heard_once() {
        let rolled = "WEBVTT\n\n00:01.000 --> 00:03.000\n \nwe play<00:01.500><c> e4</c>\n\n00:03.000 --> 00:03.010\nwe play e4\n\n00:03.010 --> 00:05.000\nwe play e4\nand<00:03.500><c> then</c>\n\n00:05.000 --> 00:05.010\nand then\n\n00:05.010 --> 00:07.000\nand then\nknight f3\n";
        assert_eq!(text(rolled), "we play e4 and then knight f3");
        let twice = "WEBVTT\n\n00:01.000 --> 00:03.000\none\n\n00:01.000 --> 00:03.000\none\n\n00:04.000 --> 00:05.000\ntwo\n\n00:04.000 --> 00:05.000\ntwo\n";
        assert_eq!(text(twice), "one two");
    }

    #[test]
    fn a_line_that_is_spoken_twice_is_heard_twice() {
        let spoken = "WEBVTT\n\n00:01.000 --> 00:02.000\ntakes\n\n00:02.000 --> 00:03.000\ntakes\n\n00:03.000 --> 00:04.000\nand now\n\n00:04.000 --> 00:05.000\nwe stop\n\n00:05.000 --> 00:06.000\nfor today\n";
        assert_eq!(text(spoken), "takes takes and now we stop for today");
    }

    #[test]
    fn times_of_words_are_kept_and_others_shared_out() {
        let tagged =
            "WEBVTT\n\n00:10.000 --> 00:14.000\nwe<00:11.000><c> play</c><00:13.000><c> it</c>\n";
        let times: Vec<Millis> = heard(tagged).iter().map(|it| it.1).collect();
        assert_eq!(times, [10_000, 11_000, 13_000]);
        let stamped = "[0:10] aaa aaa aaa aaa\n[0:14] b";
        let times: Vec<Millis> = heard(stamped).iter().map(|it| it.1).collect();
        assert_eq!(times, [10_000, 11_000, 12_000, 13_000, 14_000]);
    }

    #[test]
    fn a_word_of_two_parts_is_one() {
        assert_eq!(
            text("WEBVTT\n\n00:01.000 --> 00:02.000\nkni<b>ght</b> f3\n"),
            "knight f3"
        );
    }
}
