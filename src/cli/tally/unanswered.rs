//! `plyline unanswered`: which moves of the other side a lesson has no reply to, by counts from games.

use super::format::Counts;
use super::{counted_as, grouped, lesson, refused, share, stream};
use crate::cli::Outcome;
use crate::cli::args;
use crate::cli::out::{Out, say};
use crate::games::{Coverage, FEW, Positions, Wanted, coverage, deepest, percent, percents};
use crate::lesson::dots;
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, Place};
use serde_json::{Value, json};
use shakmaty::{Color, Position};
use std::io::{self, Write};

/// What was found, and of what.
struct Found {
    lesson: Lesson,
    /// Up to which move.
    to: u32,
    coverage: Coverage,
    /// The games that come to the lesson, and all that were counted.
    here: u64,
    games: u64,
    /// Which were chosen; empty for all.
    chosen: String,
}

/// Reads a lesson and counts, and says what is not answered.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Unanswered) -> io::Result<Outcome> {
    let found = match found(wanted) {
        Ok(found) => found,
        Err(why) => return refused(&why),
    };
    let mut out = Out::new();
    match wanted.format {
        args::Written::Json => writeln!(out, "{}", as_json(wanted, &found))?,
        args::Written::Text => write!(out, "{}", as_text(wanted, &found))?,
    }
    out.flush()?;
    Ok(Outcome::of(!found.coverage.moves.is_empty()))
}

fn found(wanted: &args::Unanswered) -> Result<Found, String> {
    let least = share("at-least", &wanted.at_least)?;
    let found = lesson::load(&wanted.lesson)?;
    let positions = Positions::of(&found.lesson);
    let (standings, games, chosen) = match wanted.games.is_empty() {
        true => {
            let path = wanted.counts.clone().unwrap_or_else(|| found.counts());
            if !path.exists() {
                let path = path.display();
                return Err(format!(
                    "there is no {path}: run plyline tally first, or name games by --games"
                ));
            }
            let counts = Counts::load(&path)?;
            let standings = counts
                .standings(&positions)
                .map_err(|why| format!("{}: {why}", path.display()))?;
            (standings, counts.games(), counts.chosen())
        }
        false => {
            let (tally, damaged) = stream::count(&wanted.games, &positions, &Wanted::default())?;
            for line in &damaged {
                say(line);
            }
            let standings = tally.standings(&positions);
            (standings, tally.all.games(), String::new())
        }
    };
    let here = standings.first().map_or(0, |it| it.all.games());
    if here < FEW {
        let come = counted_as(here, "game");
        return Err(format!(
            "{come} at the start of this lesson: too few to say anything, below {FEW}"
        ));
    }
    let first = found.lesson.node(0).position.fullmoves().get();
    let to = wanted.to.unwrap_or(deepest(&found.lesson).min(TO));
    if to < first {
        return Err(format!("--to {to}: the lesson begins at move {first}"));
    }
    let side = match wanted.side {
        args::Side::White => Color::White,
        args::Side::Black => Color::Black,
    };
    Ok(Found {
        coverage: coverage(&found.lesson, &positions, &standings, side, to, least),
        lesson: found.lesson,
        to,
        here,
        games,
        chosen,
    })
}

/// Up to which move a longer lesson is measured.
const TO: u32 = 10;

/// A move as people name it: `6...c5`.
fn numbered(lesson: &Lesson, at: NodeId, san: &str) -> String {
    let position = &lesson.node(at).position;
    format!("{}{}{san}", position.fullmoves(), dots(position.turn()))
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

fn as_text(wanted: &args::Unanswered, found: &Found) -> String {
    let (lesson, it) = (&found.lesson, &found.coverage);
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
    let all = [it.answered, it.missing, it.stopped, it.few].map(part);
    let parts = percents(&all);
    text += &format!(
        "Of what you will meet to move {} as {}:\n",
        found.to,
        wanted.side.name()
    );
    let rare = match part(it.rare) {
        0 => String::new(),
        _ => format!(" (those too rare to be listed: {})", percent(it.rare)),
    };
    let lines = [
        format!("{} is answered", parts[0]),
        format!("{} are moves without a reply{rare}", parts[1]),
        format!("for {} the lesson stops before", parts[2]),
        format!("for {} fewer than {FEW} games are known", parts[3]),
    ];
    for line in lines {
        text += &format!("  {line}\n");
    }
    let chosen = match found.chosen.as_str() {
        "" => String::new(),
        chosen => format!(" ({chosen})"),
    };
    text + &format!(
        "Counted in {} of {} games{chosen}: those that come to this lesson.\n",
        grouped(found.here),
        grouped(found.games)
    )
}

fn as_json(wanted: &args::Unanswered, found: &Found) -> Value {
    let (lesson, it) = (&found.lesson, &found.coverage);
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
        "side": wanted.side.name().to_lowercase(), "to": found.to, "games": found.games, "here": found.here,
        "answered": it.answered, "missing": it.missing, "rare": it.rare, "stopped": it.stopped, "few": it.few,
        "moves": moves.collect::<Vec<_>>(), "unplayed": unplayed.collect::<Vec<_>>(),
        "stops": stops.collect::<Vec<_>>(),
    })
}
