//! What a line of an engine says (UCI protocol, 2006, from memory).

use crate::assessments::{Bound, Score};

/// What a line says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    Name(String),
    Author(String),
    /// The name of an option that can be set.
    Option(String),
    Ready,
    /// All options have been said.
    Begun,
    Info(Info),
    /// The search is over; the move in letters and digits, none where there is none.
    Best(Option<String>),
    /// Anything else.
    Other,
}

/// What is found so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Info {
    pub score: Score,
    pub bound: Bound,
    pub depth: Option<u32>,
    pub nodes: Option<u64>,
    /// The moves, in letters and digits.
    pub line: Vec<String>,
}

impl Said {
    /// Reads a line.
    pub fn read(line: &str) -> Said {
        let mut words = line.split_whitespace();
        match words.next() {
            Some("uciok") => Said::Begun,
            Some("readyok") => Said::Ready,
            Some("id") => {
                let what = words.next();
                let value = words.collect::<Vec<_>>().join(" ");
                match what {
                    Some("name") => Said::Name(value),
                    Some("author") => Said::Author(value),
                    _ => Said::Other,
                }
            }
            Some("option") => {
                let name: Vec<&str> = words.skip(1).take_while(|it| *it != "type").collect();
                Said::Option(name.join(" "))
            }
            Some("bestmove") => {
                let best = words.next().filter(|it| !matches!(*it, "(none)" | "0000"));
                Said::Best(best.map(str::to_owned))
            }
            Some("info") => info(&words.collect::<Vec<_>>()).map_or(Said::Other, Said::Info),
            _ => Said::Other,
        }
    }
}

/// The news of a line; none without a score, or about another than the best line.
fn info(words: &[&str]) -> Option<Info> {
    // Free text may hold any word.
    let end = words.iter().position(|it| *it == "string");
    let words = words.get(..end.unwrap_or(words.len()))?;
    let after = |name: &str| {
        let at = words.iter().position(|it| *it == name)?;
        words.get(at + 1..)
    };
    let number = |name: &str| after(name)?.first()?.parse::<u64>().ok();
    if number("multipv").is_some_and(|it| it > 1) {
        return None;
    }
    let score = after("score")?;
    let value: i32 = score.get(1)?.parse().ok()?;
    let line = after("pv").unwrap_or_default();
    let bound = match score.get(2) {
        Some(&"lowerbound") => Bound::Lower,
        Some(&"upperbound") => Bound::Upper,
        _ => Bound::Exact,
    };
    Some(Info {
        score: match *score.first()? {
            "cp" => Score::Pawns(value),
            "mate" => Score::Mate(value),
            _ => return None,
        },
        bound,
        depth: number("depth").and_then(|it| u32::try_from(it).ok()),
        nodes: number("nodes"),
        line: line.iter().map(|it| (*it).to_owned()).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_news_has_score_bound_depth_nodes_and_moves() {
        let line = "info depth 12 seldepth 20 multipv 1 score cp -34 upperbound nodes 5000 nps 1 pv e2e4 e7e5";
        let wanted = Info {
            score: Score::Pawns(-34),
            bound: Bound::Upper,
            depth: Some(12),
            nodes: Some(5000),
            line: vec!["e2e4".to_owned(), "e7e5".to_owned()],
        };
        assert_eq!(Said::read(line), Said::Info(wanted));
        assert_eq!(
            wanted_mate("info score mate -3 pv e1e2"),
            Some(Score::Mate(-3))
        );
    }

    fn wanted_mate(line: &str) -> Option<Score> {
        match Said::read(line) {
            Said::Info(info) => Some(info.score),
            _ => None,
        }
    }

    #[test]
    fn what_is_no_news_of_the_best_line_is_passed_over() {
        for line in [
            "info depth 3 multipv 2 score cp 5 pv e2e4",
            "info string score cp 900",
            "info score",
            "info score cp",
            "info score cp x",
            "info currmove e2e4 currmovenumber 1",
            "",
            "hello",
        ] {
            assert_eq!(Said::read(line), Said::Other, "{line}");
        }
    }

    #[test]
    fn names_options_and_moves_are_read() {
        assert_eq!(Said::read("id name A 1.0"), Said::Name("A 1.0".to_owned()));
        assert_eq!(
            Said::read("option name Own Book type check default true"),
            Said::Option("Own Book".to_owned())
        );
        assert_eq!(
            Said::read("bestmove e2e4 ponder e7e5"),
            Said::Best(Some("e2e4".to_owned()))
        );
        assert_eq!(Said::read("bestmove (none)"), Said::Best(None));
    }
}
