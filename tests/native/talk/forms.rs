//! One talk in several forms of captions.

/// The words of plain WebVTT, each with its seconds, shared out over its cue.
pub fn spoken(vtt: &str) -> Vec<(String, f64)> {
    let mut words = Vec::new();
    for block in vtt.split("\n\n").skip(1) {
        let (times, text) = block.split_once('\n').expect("times and a text");
        let (from, to) = times.split_once(" --> ").expect("two times");
        let (from, to) = (seconds(from), seconds(to));
        let all: Vec<&str> = text.split_whitespace().collect();
        for (at, word) in all.iter().enumerate() {
            let time = from + (to - from) * at as f64 / all.len() as f64;
            words.push(((*word).to_owned(), time));
        }
    }
    words
}

fn seconds(stamp: &str) -> f64 {
    let parts = stamp
        .split(':')
        .map(|it| it.parse::<f64>().expect("a number"));
    parts.fold(0.0, |sum, part| sum * 60.0 + part)
}

fn stamp(seconds: f64, sign: char) -> String {
    let whole = (seconds * 1000.0).round() as u64;
    let (minutes, rest) = (whole / 60_000, whole % 60_000);
    format!("00:{minutes:02}:{:02}{sign}{:03}", rest / 1000, rest % 1000)
}

/// Words of a line, and when it begins and ends.
type Line<'a> = (&'a [(String, f64)], f64, f64);

/// Lines of seven words, each with its times.
fn lines(words: &[(String, f64)]) -> Vec<Line<'_>> {
    let ends = words.iter().map(|it| it.1).skip(7).step_by(7);
    let last = words.last().map_or(0.0, |it| it.1 + 0.4);
    let chunks = words.chunks(7).zip(ends.chain([last]));
    chunks.map(|(line, end)| (line, line[0].1, end)).collect()
}

fn text(line: &[(String, f64)]) -> String {
    line.iter()
        .map(|it| it.0.as_str())
        .collect::<Vec<_>>()
        .join(" ")
}

/// WebVTT with a time at every word.
pub fn with_times(words: &[(String, f64)]) -> String {
    let mut all = "WEBVTT\n\n".to_owned();
    for (line, from, to) in lines(words) {
        all += &format!("{} --> {}\n", stamp(from, '.'), stamp(to, '.'));
        for (word, time) in line {
            all += &format!("<{}><c> {word}</c>", stamp(*time, '.'));
        }
        all += "\n\n";
    }
    all
}

/// WebVTT whose cues show the line before again.
pub fn twice(words: &[(String, f64)]) -> String {
    let mut all = "WEBVTT\n\n".to_owned();
    let mut before = String::new();
    for (line, from, to) in lines(words) {
        let text = text(line);
        let (from, to) = (stamp(from, '.'), stamp(to, '.'));
        all += &format!("{from} --> {to}\n{before}{text}\n\n");
        before = format!("{text}\n");
    }
    all
}

/// SubRip.
pub fn subrip(words: &[(String, f64)]) -> String {
    let mut all = String::new();
    for (at, (line, from, to)) in lines(words).into_iter().enumerate() {
        let (from, to) = (stamp(from, ','), stamp(to, ','));
        all += &format!("{}\n{from} --> {to}\n{}\n\n", at + 1, text(line));
    }
    all
}

/// A stamp for every third line.
pub fn stamped(words: &[(String, f64)]) -> String {
    let mut all = String::new();
    for line in words.chunks(21) {
        let time = line[0].1 as u64;
        all += &format!("[{}:{:02}] {}\n", time / 60, time % 60, text(line));
    }
    all
}
