//! Counts as the page's script hands them in: one text, whose values have a NUL after each.

use super::said::{Counted, Next, Of, Part};
use super::{MOST, Predicted, Results};
use crate::text::split;

/// What was counted, and of which collection. A value that is missing or no number is 0 or empty.
///
/// The order: names, date, what parts are of, damaged, left out, the collection's results (White won,
/// drawn, Black won, unknown), those of the position, games and sum of what ratings predict; then each part,
/// `p`, its name and results, and each move, `m`, as it is shown, its node or nothing, and its results.
pub fn given(text: &str) -> (Of, Counted) {
    let mut values = split(text, 0);
    let of = Of {
        names: word(&mut values),
        date: word(&mut values),
        by: word(&mut values),
        damaged: number(&mut values),
        left: number(&mut values),
        all: results(&mut values),
    };
    let mut counted = Counted {
        all: results(&mut values),
        predicted: Predicted {
            games: number(&mut values),
            sum: number(&mut values),
        },
        ..Counted::default()
    };
    while let Some(kind) = values.next() {
        match kind {
            "p" => {
                let name = word(&mut values);
                let results = results(&mut values);
                counted.parts.push(Part { name, results });
            }
            "m" => counted.next.push(Next {
                shown: word(&mut values),
                node: values.next().and_then(|it| it.parse().ok()),
                results: results(&mut values),
            }),
            _ => {}
        }
    }
    (of, counted)
}

fn word<'a>(values: &mut impl Iterator<Item = &'a str>) -> String {
    values.next().unwrap_or_default().to_owned()
}

fn number<'a>(values: &mut impl Iterator<Item = &'a str>) -> u64 {
    let number = values.next().and_then(|it| it.parse::<u64>().ok());
    number.unwrap_or(0).min(MOST)
}

fn results<'a>(values: &mut impl Iterator<Item = &'a str>) -> Results {
    Results {
        white: number(values),
        drawn: number(values),
        black: number(values),
        unknown: number(values),
    }
}
