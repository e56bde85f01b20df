//! `plyline draft`: a lesson to start from, of the moves that are played most.

use super::{counted_as, named, refused, stream};
use crate::check::author::drafted;
use crate::cli::Outcome;
use crate::cli::args;
use crate::cli::out::{Out, say};
use crate::games::{FEW, Positions, Record, Results, Standing, Wanted, percents, step};
use crate::lesson::rules::{after, san_of};
use crate::lesson::{PositionKey, beginning, dots, position_key};
use shakmaty::{Chess, Position};
use std::collections::HashMap;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// The most positions of a draft: more is no lesson to start from.
const MOST: usize = 5_000;

/// A position of the draft.
struct Node {
    position: Chess,
    parent: Option<usize>,
    /// The move that leads to it, in SAN; empty for the start.
    san: String,
    children: Vec<usize>,
    /// Among how many games that move was played, and how those with it ended; none for a move of the author's.
    counted: Option<(u64, Results)>,
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
        Err(why) => return refused(&why),
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
    let mut nodes = first(from)?;
    // The same position may come by another order.
    let mut known: HashMap<PositionKey, usize> = HashMap::new();
    for (at, node) in nodes.iter().enumerate() {
        known.insert(position_key(&node.position), at);
    }
    let mut open = vec![nodes.len() - 1]; // there is always the start
    for ply in 0..wanted.plies {
        let positions = Positions::from(open.iter().map(|&at| &nodes[at].position)); // its own numbers
        let (tally, _) = stream::count(&wanted.games, &positions, &Wanted::default())?;
        let standings = tally.standings(&positions);
        let mut next = Vec::new();
        for (&at, standing) in open.iter().zip(&standings) {
            for (san, of, results) in kept(standing, least, wanted.games_at_least) {
                let Some(position) = step(&nodes[at].position, &san) else {
                    continue;
                };
                let key = position_key(&position);
                let same = known.get(&key).copied();
                let counted = Some((of, results));
                let number = follow(&mut nodes, at, position, san);
                nodes[number].counted = counted;
                nodes[number].same = same;
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
    if nodes.iter().all(|node| node.counted.is_none()) {
        return Err(format!(
            "no move is played from there in {} games or more, by a share of {}",
            wanted.games_at_least, wanted.share
        ));
    }
    Ok(text(wanted, &nodes))
}

/// The start, and the nodes of the moves that `--from` names.
fn first(from: &str) -> Result<Vec<Node>, String> {
    let (start, moves) = beginning(from).map_err(|why| format!("--from {from}: {why}"))?;
    let mut nodes = vec![Node {
        position: start,
        parent: None,
        san: String::new(),
        children: Vec::new(),
        counted: None,
        same: None,
    }];
    for played in moves {
        let last = nodes.len() - 1; // there is always the start
        let position = &nodes[last].position;
        let (san, position) = (san_of(position, played), after(position, played));
        follow(&mut nodes, last, position, san);
    }
    Ok(nodes)
}

/// Adds a node after another; its number.
fn follow(nodes: &mut Vec<Node>, before: usize, position: Chess, san: String) -> usize {
    let number = nodes.len();
    nodes[before].children.push(number); // one that is there
    nodes.push(Node {
        position,
        parent: Some(before),
        san,
        children: Vec::new(),
        counted: None,
        same: None,
    });
    number
}

/// The moves that are kept of a position, those first that are played most.
fn kept(standing: &Standing, least: f64, games: u64) -> Vec<(String, u64, Results)> {
    let of: u64 = standing.next.values().map(Record::games).sum();
    let mut moves: Vec<(String, u64, Results)> = standing
        .next
        .iter()
        .filter(|(_, record)| {
            let count = record.games();
            count >= games && count as f64 >= least * of as f64
        })
        .map(|(san, record)| (san.clone(), of, record.results))
        .collect();
    moves.sort_by(|a, b| (b.2.games(), &a.0).cmp(&(a.2.games(), &b.0)));
    moves
}

/// The moves to a node, with numbers where White plays and at the first.
fn run_to(nodes: &[Node], mut at: usize) -> Vec<String> {
    let mut words = Vec::new();
    while let Some(before) = nodes[at].parent {
        let position = &nodes[before].position;
        let san = nodes[at].san.trim_end_matches(['+', '#']);
        let is_first = nodes[before].parent.is_none();
        words.push(match position.turn().is_white() || is_first {
            true => format!("{}{san}", number(position)),
            false => san.to_owned(),
        });
        at = before;
    }
    words.reverse();
    words
}

/// The number of a move at a position, with its dots.
fn number(position: &Chess) -> String {
    format!("{}{}", position.fullmoves(), dots(position.turn()))
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

fn text(wanted: &args::Draft, nodes: &[Node]) -> String {
    let start = &nodes[0].position; // there is always the start
    let names: Vec<String> = wanted.games.iter().map(|path| named(path)).collect();
    let event = format!("Draft, counted in {}", names.join(", "));
    let side = wanted.side.name().to_ascii_lowercase();
    let mut moves = String::new();
    line(nodes, 0, &mut moves);
    drafted([("Event", &*event), ("Side", &side)], start, &moves)
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
    let node = &nodes[at];
    *text += &format!("{} {} ", number(&nodes[before].position), node.san);
    if let Some((of, results)) = &node.counted {
        let mut words = said(*of, results);
        if let Some(same) = node.same {
            let run = run_to(nodes, same);
            words += &match run.is_empty() {
                true => " This is the position at the start.".to_owned(),
                false => format!(
                    " By another order this is [the position after {}](#{}).",
                    run.join(" "),
                    run.join("_")
                ),
            };
        }
        *text += &format!("{{{words}}} ");
    }
}
