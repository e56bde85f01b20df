//! Links to a move that could not be read: they lead nowhere because of that.

use super::explained::{Explained, Told};
use crate::lesson::{Lesson, rules};
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Code, Findings, Severity, Source};
use shakmaty::Position;

/// How many links, and how many moves that could not be read, are compared.
const COMPARED: usize = 16;

/// The errors at moves that could not be read, `found`, with the links among `others` that name the
/// move which could be played there.
pub(super) fn held_links(
    source: &Source,
    lesson: &Lesson,
    found: &Findings,
    others: &Findings,
) -> Vec<Told> {
    let mut list = Vec::new();
    for unread in lesson.unread.iter().take(COMPARED) {
        let within = unread.span.from..unread.span.to;
        let is_reason = |it: &&crate::text::Finding| {
            it.severity() == Severity::Error && within.contains(&it.span.from)
        };
        let Some(reason) = found.iter().find(is_reason) else {
            continue;
        };
        let position = &lesson.node(unread.after).position;
        let number = position.fullmoves().to_string();
        let links = others.iter().filter(|it| it.code == Code::LocatorNone);
        let held = links.take(COMPARED).filter(|it| {
            let place = source.slice(it.span).trim_start_matches('#');
            let last = place.rsplit(['_', ' ']).next().unwrap_or_default();
            let word = last.trim_start_matches(|it: char| it.is_ascii_digit());
            let is_numbered = last[..last.len() - word.len()] == number;
            let dots = word.len() - word.trim_start_matches('.').len();
            let side = (dots > 1) == position.turn().is_black();
            let shape = san::read(word.trim_start_matches('.'), Letters::ENGLISH).shape;
            is_numbered && side && shape.is_some_and(|it| rules::resolve(position, &it).is_ok())
        });
        let explains: Vec<Explained> = held.map(|it| Explained::One(it.code, it.span)).collect();
        if !explains.is_empty() {
            let finding = reason.clone();
            list.push(Told { finding, explains });
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    #[test]
    fn a_link_to_a_move_that_could_not_be_read_follows_from_that() {
        let text = |link: &str| {
            format!("1. e4 {{See [it](#{link}).}} e5 2. Nf3 Nc6 3. Nc3 Nf6 4. Bb5 Ne7 {{x}} *")
        };
        let bad = text("4.Bc4").replace("4. Bb5", "4. Bc9");
        assert_eq!(codes(&bad), ["P011"]);
        let other = text("4.Bc9").replace("4. Bb5", "4. Bc8");
        assert_eq!(codes(&other), ["P041", "P012"]);
    }
}
