//! `plyline tally`: counts what is played at the positions of a lesson, in collections of games.

pub mod draft;
mod file;
pub mod format;
pub mod games;
mod lesson;
mod stream;
pub mod unanswered;

use self::format::Counts;
use super::Outcome;
use super::args;
use super::out::say;
use super::written::put;
use crate::games::{Dates, Positions, Split, Wanted};
use std::io;
use std::path::Path;

/// Counts, or merges what was counted, and writes a counts file.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Tally) -> io::Result<Outcome> {
    let done = match wanted.merge.is_empty() {
        true => counted(wanted),
        false => merged(wanted),
    };
    match done {
        Ok(()) => Ok(Outcome::Clean),
        Err(why) => refused(&why),
    }
}

/// Says why nothing could be done.
fn refused(why: &str) -> io::Result<Outcome> {
    say(why);
    Ok(Outcome::Failed)
}

fn counted(wanted: &args::Tally) -> Result<(), String> {
    let Some(path) = &wanted.lesson else {
        return Err("name the lesson whose positions are counted".to_owned());
    };
    let which = filters(wanted)?;
    let lesson = lesson::load(path)?;
    let positions = Positions::of(&lesson.lesson);
    // What can be refused is refused before hours of counting.
    file::sources(wanted.games.iter().map(|path| named(path)))?;
    if let Some(out) = &wanted.out {
        file::may_write(out)?;
    }
    let (tally, damaged) = stream::count(&wanted.games, &positions, &which)?;
    for line in &damaged {
        say(line);
    }
    let counts = Counts::of(&tally, &positions, which.split, wanted)?;
    let why = match (tally.all.games(), tally.left) {
        (0, 0) => Some("there is no game in this collection"),
        (0, _) => Some("the filters leave all games out"),
        _ if counts.is_empty() => Some("no game comes to a position of this lesson"),
        _ => None,
    };
    match (&wanted.out, why) {
        // Part of a collection may have nothing, and is added to others.
        (Some(out), why) => {
            why.into_iter().for_each(say);
            save(out, &counts)
        }
        (None, None) => save(&lesson.counts(), &counts),
        (None, Some(why)) => Err(format!("{why}; nothing is written")),
    }
}

fn merged(wanted: &args::Tally) -> Result<(), String> {
    let Some(out) = &wanted.out else {
        return Err("say by --out which file to write".to_owned());
    };
    let mut all: Option<Counts> = None;
    for path in &wanted.merge {
        let next = Counts::load(path)?;
        all = Some(match all {
            None => next,
            Some(before) => before
                .with(next)
                .map_err(|why| format!("{}: {why}", path.display()))?,
        });
    }
    match all {
        Some(all) => save(out, &all),
        None => Ok(()),
    }
}

fn save(out: &Path, counts: &Counts) -> Result<(), String> {
    file::may_write(out)?;
    put(out, counts.text().as_bytes()).map_err(|why| format!("{}: {why}", out.display()))?;
    say(&format!("{}: {}", out.display(), counts.summary()));
    Ok(())
}

/// What the arguments say of the games that count.
fn filters(wanted: &args::Tally) -> Result<Wanted, String> {
    let date = |name: &str, text: &Option<String>| match text {
        None => Ok(None),
        Some(text) => Dates::read(text)
            .map(Some)
            .ok_or_else(|| format!("--{name} {text}: write a date as 2024, 2024-06 or 2024-06-01")),
    };
    let since = date("since", &wanted.since)?.map(|it| it.first);
    let until = date("until", &wanted.until)?.map(|it| it.last);
    if since.zip(until).is_some_and(|(since, until)| since > until) {
        return Err("--since comes after --until, so no game can be between".to_owned());
    }
    Ok(Wanted {
        since,
        until,
        rating: match &wanted.rating {
            None => None,
            Some(text) => Some(rating(text)?),
        },
        once: wanted.once,
        split: wanted.by.map(|by| match by {
            args::By::Year => Split::Year,
            args::By::Rating => Split::Rating,
            args::By::Time => Split::Time,
        }),
    })
}

fn rating(text: &str) -> Result<(u32, u32), String> {
    let both = text.split_once('-');
    let both =
        both.and_then(|(low, high)| Some((low.trim().parse().ok()?, high.trim().parse().ok()?)));
    both.filter(|(low, high)| low <= high)
        .ok_or_else(|| format!("--rating {text}: write it as 2000-2400, the lower first"))
}

/// The name of a file as it is written into another: without its folder.
fn named(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

/// A share as it is typed: `5%`, `5`. `name` is the argument's.
fn share(name: &str, text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches('%').trim().parse::<f64>().ok();
    number
        .filter(|it| (0.0..=100.0).contains(it))
        .map(|it| it / 100.0)
        .ok_or_else(|| format!("--{name} {text}: write a share from 0% to 100%, as 5%"))
}

/// A tag's value for people.
fn known(value: &str) -> &str {
    match value.trim() {
        "" => "?",
        value => value,
    }
}

/// So many of something: `1 game`, `20 games`.
fn counted_as(count: u64, one: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{} {one}s", grouped(count)),
    }
}

/// A number with a comma before each three digits.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
