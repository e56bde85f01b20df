//! `plyline draft`: a lesson to start from, of the moves that are played most.

use super::{counted_as, named, stream};
use crate::check::author;
use crate::cli::Outcome;
use crate::cli::args;
use crate::cli::out::{Out, say};
use crate::games::{FEW, Positions, Results, Standing, Wanted, percents};
use crate::lesson::export;
use crate::lesson::rules::{EnPassantForm, after, fen, meant, position_name};
use crate::text::Source;
use shakmaty::fen::Fen;
use shakmaty::san::San;
use shakmaty::{CastlingMode, Chess, Position};
use std::collections::HashMap;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// The most positions of a draft: more is no lesson to start from.
const MOST: usize = 5_000;

/// A position of the draft.
struct Node {
    position: Chess,
    /// The run of moves to it.
    run: Vec<String>,
    children: Vec<usize>,
    /// The move that leads to it, how often it was played among how many, and how those games ended.
    played: Option<(String, u64, Results)>,
    /// The node that has the same position, by another order.
    same: Option<usize>,
}

/// Writes a draft to standard output.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Draft) -> io::Result<Outcome> {
    let made = match made(wanted) {
        Ok(made) => made,
        Err(why) => {
            say(&why);
            return Ok(Outcome::Failed);
        }
    };
    let mut out = Out::new();
    write!(out, "{made}")?;
    out.flush()?;
    Ok(Outcome::Clean)
}

fn made(wanted: &args::Draft) -> Result<String, String> {
    // Each half-move reads them anew.
    for path in &wanted.games {
        let is_file = fs::metadata(path).map(|about| about.is_file());
        if path == Path::new("-") || is_file.is_ok_and(|it| !it) {
            let path = path.display();
            return Err(format!(
                "{path} cannot be read for each half-move anew; name files"
            ));
        }
    }
    let least = super::share("share", &wanted.share)?;
    let from = match wanted.from.trim() {
        "start" => "",
        from => from,
    };
    let (start, mut nodes) = beginning(from)?;
    // The same position may come by another order.
    let mut known: HashMap<[u64; 10], usize> = HashMap::new();
    for (at, node) in nodes.iter().enumerate() {
        known.insert(crate::lesson::position_key(&node.position), at);
    }
    let mut open = vec![nodes.len() - 1]; // there is always the start
    for ply in 0..wanted.plies {
        let positions = Positions::from(open.iter().map(|&at| &nodes[at].position)); // its own numbers
        let (tally, _) = stream::count(&wanted.games, &positions, &Wanted::default())?;
        let standings = tally.standings(&positions);
        let mut next = Vec::new();
        for (&at, standing) in open.iter().zip(&standings) {
            for one in kept(standing, least, wanted.games_at_least) {
                let (san, of, results) = one;
                let Some(child) = child(&nodes[at], &san, of, results) else {
                    continue;
                };
                let key = crate::lesson::position_key(&child.position);
                let number = nodes.len();
                let same = known.get(&key).copied();
                nodes[at].children.push(number);
                nodes.push(Node { same, ..child });
                if same.is_none() {
                    known.insert(key, number);
                    next.push(number);
                }
            }
        }
        if nodes.len() > MOST {
            return Err(format!(
                "a draft of more than {MOST} positions: ask for fewer half-moves (--plies) or a larger share (--share)"
            ));
        }
        open = next;
        if open.is_empty() && ply > 0 {
            let plies = counted_as(ply.into(), "half-move");
            let least = wanted.games_at_least;
            say(&format!(
                "after {plies} no new position comes of a move that is played in {least} games or more, by a share of {}",
                wanted.share
            ));
        }
        if open.is_empty() {
            break;
        }
    }
    if nodes.iter().all(|node| node.played.is_none()) {
        return Err(format!(
            "no move is played from there in {} games or more, by a share of {}",
            wanted.games_at_least, wanted.share
        ));
    }
    Ok(text(wanted, &start, &nodes))
}

/// The start, and the nodes of the moves that `--from` names.
fn beginning(from: &str) -> Result<(Chess, Vec<Node>), String> {
    let fen: Option<Fen> = from.trim().parse().ok();
    let start = match fen {
        Some(fen) => fen
            .into_position(CastlingMode::Standard)
            .map_err(|error| format!("--from {from}: no legal position: {error}"))?,
        None => Chess::default(),
    };
    let node = |position: Chess, run: Vec<String>| Node {
        position,
        run,
        children: Vec::new(),
        played: None,
        same: None,
    };
    let mut nodes = vec![node(start.clone(), Vec::new())];
    if from.trim().parse::<Fen>().is_ok() {
        return Ok((start, nodes));
    }
    let mut position = start.clone();
    for word in from.split_whitespace() {
        let bare = word.trim_start_matches(|it: char| it.is_ascii_digit() || it == '.');
        if bare.is_empty() {
            continue;
        }
        let san: San = bare
            .trim_end_matches(['+', '#', '!', '?'])
            .parse()
            .map_err(|_| format!("--from {from}: {word} is no move, and this is no FEN"))?;
        let played = meant(&position, &san)
            .ok_or_else(|| format!("--from {from}: {word} cannot be played there"))?;
        let mut run = nodes.last().map(|it| it.run.clone()).unwrap_or_default();
        run.push(numbered(
            &position,
            &San::from_move(&position, played).to_string(),
            run.is_empty(),
        ));
        position = after(&position, played);
        let number = nodes.len();
        if let Some(last) = nodes.last_mut() {
            last.children.push(number);
        }
        nodes.push(node(position.clone(), run));
    }
    Ok((start, nodes))
}

/// The moves that are kept of a position, those first that are played most.
fn kept(standing: &Standing, least: f64, games: u64) -> Vec<(String, u64, Results)> {
    let of: u64 = standing.next.values().map(Results::games).sum();
    let mut moves: Vec<(String, u64, Results)> = standing
        .next
        .iter()
        .filter(|(_, results)| {
            let count = results.games();
            count >= games && count as f64 >= least * of as f64
        })
        .map(|(san, results)| (san.clone(), of, *results))
        .collect();
    moves.sort_by(|a, b| (b.2.games(), &a.0).cmp(&(a.2.games(), &b.0)));
    moves
}

fn child(before: &Node, san: &str, of: u64, results: Results) -> Option<Node> {
    let word: San = san.trim_end_matches(['+', '#']).parse().ok()?;
    let played = meant(&before.position, &word)?;
    let mut run = before.run.clone();
    let bare = san.trim_end_matches(['+', '#']);
    run.push(numbered(&before.position, bare, run.is_empty()));
    Some(Node {
        position: after(&before.position, played),
        run,
        children: Vec::new(),
        played: Some((san.to_owned(), of, results)),
        same: None,
    })
}

/// A move of a run, with its number where White plays it or it is the first.
fn numbered(before: &Chess, san: &str, is_first: bool) -> String {
    match (before.turn().is_white(), is_first) {
        (true, _) => format!("{}.{san}", before.fullmoves()),
        (false, true) => format!("{}...{san}", before.fullmoves()),
        (false, false) => san.to_owned(),
    }
}

/// What was counted of a move, in words.
fn said(of: u64, results: &Results) -> String {
    let ended = [results.white, results.drawn, results.black];
    let games = results.games();
    let all = ended.iter().sum::<u64>();
    let how = match all >= FEW {
        true => {
            let parts = percents(&ended);
            format!(
                "White won {}, drawn {}, Black won {}",
                parts[0], parts[1], parts[2]
            )
        }
        false => format!(
            "White won {}, drawn {}, Black won {}",
            ended[0], ended[1], ended[2]
        ),
    };
    let known = match games - all {
        0 => String::new(),
        unknown => format!(", {unknown} without a result"),
    };
    format!("{games} of {of} games: {how}{known}.")
}

fn text(wanted: &args::Draft, start: &Chess, nodes: &[Node]) -> String {
    let names: Vec<String> = wanted.games.iter().map(|path| named(path)).collect();
    let escape = |text: &str| text.replace('\\', "\\\\").replace('"', "\\\"");
    let mut text = format!(
        "[Event \"Draft, counted in {}\"]\n",
        escape(&names.join(", "))
    );
    text += &format!("[Side \"{}\"]\n", wanted.side.name().to_ascii_lowercase());
    if position_name(start) != position_name(&Chess::default()) {
        let fen = fen(start, EnPassantForm::Legal);
        text += &format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n");
    }
    text.push('\n');
    line(nodes, 0, &mut text);
    text += "*\n";
    // As all PGN is written here.
    let (lessons, _) = author::lessons(&Source::new("draft", text.as_str()));
    let lesson = lessons.into_iter().flatten().next();
    lesson.and_then(|it| export(&it, true).ok()).unwrap_or(text)
}

/// The moves after a node: the first goes on, the others are variations beside it.
fn line(nodes: &[Node], at: usize, text: &mut String) {
    let mut at = at;
    while let Some(&first) = nodes[at].children.first() {
        word(nodes, at, first, text);
        let others = nodes[at].children.get(1..).unwrap_or_default();
        for &other in others {
            text.push_str("\n(");
            word(nodes, at, other, text);
            line(nodes, other, text);
            while text.ends_with(' ') {
                text.pop();
            }
            text.push_str(")\n");
        }
        at = first;
    }
}

fn word(nodes: &[Node], before: usize, at: usize, text: &mut String) {
    let (node, position) = (&nodes[at], &nodes[before].position);
    let san = match &node.played {
        Some((san, ..)) => san.clone(),
        None => node.run.last().cloned().unwrap_or_default(),
    };
    let san = san.trim_start_matches(|it: char| it.is_ascii_digit() || it == '.');
    let dots = if position.turn().is_white() {
        "."
    } else {
        "..."
    };
    *text += &format!("{}{dots} {san} ", position.fullmoves());
    if let Some((_, of, results)) = &node.played {
        let mut words = said(*of, results);
        if let Some(same) = node.same {
            let run = nodes[same].run.join("_");
            words = match run.is_empty() {
                true => format!("{words} This is the position at the start."),
                false => format!(
                    "{words} By another order this is [the position after {}](#{run}).",
                    nodes[same].run.join(" ")
                ),
            };
        }
        *text += &format!("{{{words}}} ");
    }
}
