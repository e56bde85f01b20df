//! `plyline games`: the games that come to a position of a lesson.

use super::{counted_as, known, lesson, refused, stream};
use crate::cli::Outcome;
use crate::cli::args;
use crate::cli::out::{Out, say};
use crate::games::{Game, Positions, find};
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, LocateError, NodeId, Place, locate};
use crate::notation::printer::Printer;
use std::cmp::Reverse;
use std::io::{self, Write};

/// Lists games, or writes them as PGN.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Games) -> io::Result<Outcome> {
    let (games, count) = match found(wanted) {
        Ok(found) => found,
        Err(why) => return refused(&why),
    };
    let mut out = Out::new();
    for game in &games {
        match wanted.pgn {
            true => write!(out, "{}", pgn(game))?,
            false => writeln!(out, "{}", line(game))?,
        }
    }
    out.flush()?;
    let shown = match games.len() {
        all if all == count => String::new(),
        1 => "; 1 of them is shown (--first says how many)".to_owned(),
        some => format!("; {some} of them are shown (--first says how many)"),
    };
    let come = if count == 1 { "comes" } else { "come" };
    let all = counted_as(count as u64, "game");
    say(&format!("{all} {come} to this position{shown}"));
    Ok(Outcome::Clean)
}

fn found(wanted: &args::Games) -> Result<(Vec<Game>, usize), String> {
    let found = lesson::load(&wanted.lesson)?;
    let lesson = &found.lesson;
    let node = locate(lesson, &wanted.at).map_err(|error| match error {
        LocateError::None => format!("--at {}: this is not in the lesson", wanted.at),
        LocateError::Several(nodes) => {
            let runs = nodes.iter().take(4).map(|&node| moves_to(lesson, node));
            let runs = runs.collect::<Vec<_>>().join("; ");
            format!(
                "--at {}: it is there more than once; write {runs}",
                wanted.at
            )
        }
    })?;
    let position = Positions::from([&found.lesson.node(node).position]);
    let mut all = Vec::new();
    let mut count = 0;
    let most = match wanted.first {
        0 => usize::MAX,
        first => first,
    };
    let work = |block: &stream::Block| {
        let mut games = Vec::new();
        find(&block.bytes, &position, &mut |game| games.push(game));
        games
    };
    stream::blocks(&wanted.games, work, |_, games| {
        count += games.len();
        all.extend(games);
        // No more are kept than may be shown.
        if all.len() / 2 > most.max(1_000) || wanted.sort.is_none() {
            cut(&mut all, wanted.sort, most);
        }
    })?;
    cut(&mut all, wanted.sort, most);
    Ok((all, count))
}

/// The moves to a node, as people write them.
fn moves_to(lesson: &Lesson, node: NodeId) -> String {
    address(lesson, &Place::of(node)).replace('_', " ")
}

/// The first of the games in the order that is asked for; of equal ones the order of the files stays.
fn cut(games: &mut Vec<Game>, sort: Option<args::GamesBy>, most: usize) {
    match sort {
        Some(args::GamesBy::Year) => games.sort_by_key(|it| Reverse(it.header.known_date())),
        Some(args::GamesBy::Rating) => games.sort_by_key(|it| Reverse(it.header.rating())),
        None => {}
    }
    games.truncate(most);
}

fn line(game: &Game) -> String {
    let it = &game.header;
    let player = |name: &str, rating: Option<u32>| match rating {
        Some(rating) => format!("{} ({rating})", known(name)),
        None => known(name).to_owned(),
    };
    format!(
        "{} against {}, {}, {}: {}, {}",
        player(&it.white, it.white_rating),
        player(&it.black, it.black_rating),
        known(&it.event),
        known(&it.date),
        game.result.name(),
        game.played.as_deref().unwrap_or("the game ended here"),
    )
}

/// The game as PGN, in lines of 80 characters (PGN standard, 4.3).
fn pgn(game: &Game) -> String {
    let mut head = Printer::default();
    for (name, value) in &game.tags {
        head.tag(name, value);
    }
    head.blank_line();
    let mut text = head.finish();
    let mut width = 0;
    for word in game.moves.split(' ').chain([game.result.name()]) {
        if width > 0 && width + 1 + word.len() > 79 {
            text.push('\n');
            width = 0;
        } else if width > 0 {
            text.push(' ');
            width += 1;
        }
        text += word;
        width += word.len();
    }
    text + "\n\n"
}
