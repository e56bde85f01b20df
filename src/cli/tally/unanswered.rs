//! `plyline unanswered`: which moves of the other side a lesson has no reply to, by counts from games.

use super::{beside_of, file, lesson, share, stream};
use crate::cli::Outcome;
use crate::cli::args;
use crate::cli::out::{Out, say};
use crate::games::{Coverage, FEW, Positions, Standing, Wanted, coverage, percent, shares};
use crate::lesson::dots;
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, Place};
use serde_json::{Value, json};
use shakmaty::{Color, Position};
use std::io::{self, Write};

/// Reads a lesson and counts, and says what is not answered.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Unanswered) -> io::Result<Outcome> {
    let (lesson, found, games) = match found(wanted) {
        Ok(found) => found,
        Err(why) => {
            say(&why);
            return Ok(Outcome::Failed);
        }
    };
    let mut out = Out::new();
    match wanted.format {
        args::Written::Json => writeln!(out, "{}", as_json(wanted, &lesson, &found, games))?,
        args::Written::Text => write!(out, "{}", as_text(wanted, &lesson, &found, games))?,
    }
    out.flush()?;
    Ok(Outcome::of(!found.moves.is_empty()))
}

fn found(wanted: &args::Unanswered) -> Result<(Lesson, Coverage, u64), String> {
    let least = share("at-least", &wanted.at_least)?;
    let found = lesson::load(&wanted.lesson)?;
    let positions = Positions::of(&found.lesson);
    let (standings, games): (Vec<Standing>, u64) = if wanted.games.is_empty() {
        let path = wanted.counts.clone();
        let path = path.unwrap_or_else(|| beside_of(found.path()));
        let counts = file::Counts::load(&path)?;
        let games = counts.games();
        let standings = counts.standings(&positions);
        (
            standings.map_err(|why| format!("{}: {why}", path.display()))?,
            games,
        )
    } else {
        let (tally, damaged) = stream::count(&wanted.games, &positions, &Wanted::default())?;
        for line in &damaged {
            say(line);
        }
        (tally.standings(&positions), tally.all.games())
    };
    let side = match wanted.side {
        args::Side::White => Color::White,
        args::Side::Black => Color::Black,
    };
    let found = (found.lesson, least);
    let coverage = coverage(&found.0, &positions, &standings, side, wanted.to, found.1);
    Ok((found.0, coverage, games))
}

/// A move as people name it: `6...c5`.
fn numbered(lesson: &Lesson, at: NodeId, san: &str) -> String {
    let position = &lesson.node(at).position;
    format!("{}{}{san}", position.fullmoves(), dots(position.turn()))
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

/// How often a reader comes there.
fn met(share: f64) -> String {
    match share > 0.0 {
        true => format!("{} of what you will meet", percent(share)),
        false => "beside what the lesson recommends".to_owned(),
    }
}

fn after(lesson: &Lesson, at: NodeId) -> String {
    match at {
        0 => "at the start".to_owned(),
        _ => format!("after {}", lesson.numbered(at)),
    }
}

fn as_text(wanted: &args::Unanswered, lesson: &Lesson, it: &Coverage, games: u64) -> String {
    let mut text = String::new();
    for one in &it.moves {
        text += &format!(
            "{} no reply to {}: {} of {} games here ({}), {}\n",
            after(lesson, one.at),
            numbered(lesson, one.at, &one.played),
            grouped(one.games),
            grouped(one.of),
            percent(one.games as f64 / one.of as f64),
            met(one.met)
        );
    }
    for (node, of) in &it.unplayed {
        let before = lesson.node(*node).parent.unwrap_or(0);
        text += &format!(
            "{} nobody played {}, in {} games here\n",
            after(lesson, before),
            lesson.numbered(*node),
            grouped(*of)
        );
    }
    for stop in &it.stops {
        text += &format!(
            "the lesson stops {}: {} of {} games go on, {}\n",
            after(lesson, stop.at),
            grouped(stop.on),
            grouped(stop.games),
            met(stop.met)
        );
    }
    let part = |share: f64| (share * 1e9).round() as u64;
    let parts = shares(
        &[part(it.answered), part(it.missing), part(it.stopped)],
        100,
    );
    text += &format!(
        "Of what you will meet to move {} as {}, this lesson answers {} %; {} % are moves without a reply; for {} % \
         it stops before, or fewer than {FEW} games are known. Counted in {} games.\n",
        wanted.to,
        wanted.side.name(),
        parts[0],
        parts[1],
        parts[2],
        grouped(games)
    );
    text
}

fn as_json(wanted: &args::Unanswered, lesson: &Lesson, it: &Coverage, games: u64) -> Value {
    let place = |node: NodeId| address(lesson, &Place::of(node));
    let moves = it.moves.iter().map(|one| {
        json!({
            "after": place(one.at), "move": one.played, "games": one.games, "of": one.of,
            "share": one.games as f64 / one.of as f64, "met": one.met,
        })
    });
    let unplayed = it.unplayed.iter();
    let unplayed = unplayed.map(|(node, of)| json!({ "at": place(*node), "of": of }));
    let stops = it.stops.iter().map(
        |stop| json!({ "at": place(stop.at), "games": stop.games, "on": stop.on, "met": stop.met }),
    );
    json!({
        "side": wanted.side.name(), "to": wanted.to, "games": games,
        "answered": it.answered, "missing": it.missing, "stopped": it.stopped,
        "moves": moves.collect::<Vec<_>>(), "unplayed": unplayed.collect::<Vec<_>>(),
        "stops": stops.collect::<Vec<_>>(),
    })
}
