//! Moves named in prose with their number: rule 2 of `prose.rs`.

use super::{Misplaced, Missed, Reading};
use crate::lesson::place::Place;
use crate::lesson::place::number::Number;
use crate::notation::mention::Mention;

/// How many places elsewhere in the lesson are tried with the run that follows.
const CANDIDATES: usize = 16;

impl Reading<'_> {
    /// A move with its number.
    pub(crate) fn numbered(
        &self,
        mention: &Mention,
        number: Number,
        last: &Place,
        follows: bool,
        more: &[&Mention],
    ) -> Option<Result<Place, Missed>> {
        let shape = &mention.shape;
        let at = |place: &Place| number.agrees(place.position(self.lesson));
        if follows
            && at(last)
            && let Some(place) = last.after(self.lesson, shape)
        {
            return Some(Ok(place));
        }
        // Nodes of the lesson on the path and in what goes on from it, then all of them. Of
        // several that one in which more of the run can be played, and more of it in the lesson.
        let mut candidates: Vec<Place> = Vec::new();
        let played = self.lesson.orders();
        let on_way = played.numbered(self.lesson, last, number);
        for place in &on_way {
            candidates.extend(place.child(self.lesson, shape).map(Place::of));
        }
        let there = on_way.last();
        if mention.around.is_beside || mention.around.is_here {
            candidates.extend(there.and_then(|place| place.after(self.lesson, shape)));
        }
        // A comment goes on from its own move before it speaks of another line.
        if candidates.is_empty()
            && let Some(own) = self.context.own
            && number.side.is_some()
            && number.agrees(&self.lesson.node(own).position)
        {
            candidates.extend(Place::of(own).after(self.lesson, shape));
        }
        // Where no run follows the first one counts.
        if candidates.is_empty() || !more.is_empty() {
            let anywhere = played.anywhere(self.lesson, number, shape, last.node);
            candidates.extend(anywhere.into_iter().map(Place::of).take(CANDIDATES));
            let ply = |place: &Place| self.lesson.node(place.node).ply + place.aside.len() as u32;
            let before = there.filter(|there| ply(there) <= ply(last));
            let listed = self.listed(number, before);
            candidates.extend(listed.and_then(|place| place.after(self.lesson, shape)));
        }
        let mut best: Option<((usize, usize), Place)> = None;
        for place in candidates {
            let score = self.run(&place, more);
            if best.as_ref().is_none_or(|(known, _)| score > *known) {
                best = Some((score, place));
            }
        }
        if let Some((_, place)) = best {
            return Some(Ok(place));
        }
        // `12 Nc6` may be twelve of something: without a dot only the lesson's moves count.
        number.side?;
        let Some(before) = there else {
            for place in self.context.played.iter().rev() {
                if at(place)
                    && let Some(place) = place.after(self.lesson, shape)
                {
                    return Some(Ok(place));
                }
            }
            return None;
        };
        match before.after(self.lesson, shape) {
            Some(place) => Some(Ok(place)),
            None if mention.written.is_bare || before.is_full() => None,
            None => Some(Err(Missed::Misplaced(Misplaced {
                before: before.clone(),
                word: mention.word.clone(),
            }))),
        }
    }

    /// How many moves of a run can be played from a place, and how many of these the lesson holds.
    pub(super) fn run(&self, place: &Place, more: &[&Mention]) -> (usize, usize) {
        let mut at = place.clone();
        let (mut legal, mut held) = (0, 0);
        for mention in more {
            let Some(next) = at.after(self.lesson, &mention.shape) else {
                break;
            };
            legal += 1;
            held += usize::from(next.aside.is_empty());
            at = next;
        }
        (legal, held)
    }

    /// The position on the path at which the text has listed several moves with this number
    /// already: one more of them is meant there, also where the lesson does not hold it.
    fn listed(&self, number: Number, there: Option<&Place>) -> Option<Place> {
        number.side?;
        let there = there?;
        let mut count = 0;
        for known in &self.context.played {
            count += u32::from(known.before(self.lesson).as_ref() == Some(there));
        }
        (count > 1).then(|| there.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{QUEENS, places};
    use crate::lesson::given::lesson;
    use crate::lesson::place::Place;
    use crate::lesson::place::address::address;
    use crate::lesson::prose::{Context, named};
    use crate::notation::Letters;

    #[test]
    fn a_number_leads_to_the_line_named_last_before_the_main_line() {
        assert_eq!(places(QUEENS, &["3.Nf3 Nf6"]), ["3.Nf3", "3.Nf3_Nf6"]);
        assert_eq!(
            places(QUEENS, &["2...c6 is solid, and 3...Nf6 is its point."]),
            ["2...c6", "3.Nf3_Nf6"]
        );
        assert_eq!(
            places(QUEENS, &["3...Nf6 is the usual move."]),
            ["3.Nc3_Nf6"]
        );
    }

    #[test]
    fn a_legal_move_that_the_lesson_does_not_hold_is_an_aside() {
        assert_eq!(
            places(QUEENS, &["Not 3.Nc3 but 3.e3."]),
            ["3.Nc3", "2...e6_3.e3"]
        );
    }

    #[test]
    fn a_move_that_cannot_be_played_where_its_number_puts_it_is_told() {
        assert_eq!(places(QUEENS, &["3.Nd6 is a dream."]), ["-"]);
        assert!(places(QUEENS, &["3.h5 is a square."]).is_empty());
    }

    #[test]
    fn a_number_without_a_dot_names_a_move_of_the_lesson_only() {
        assert_eq!(places(QUEENS, &["3 Nc3"]), ["3.Nc3"]);
        assert!(places(QUEENS, &["3 Qd3"]).is_empty());
    }

    #[test]
    fn a_comment_goes_on_from_its_own_move_before_it_speaks_of_another_line() {
        let lesson = lesson("1. d4 d5 2. c4 e6 3. Nc3 (3. Nf3 {here}) 3... Nf6 4. Nf3 Be7 *");
        let here = lesson
            .ids()
            .find(|&id| !lesson.node(id).comments.is_empty());
        let named = |text: &str| {
            let mut context = Context::at(Place::of(here.expect("the comment's move")));
            let all = named(&lesson, Letters::ENGLISH, &mut context, text).into_iter();
            let run = |place: Place| address(&lesson, &place);
            all.map(|it| it.place.map_or("-".to_owned(), run))
                .collect::<Vec<_>>()
        };
        assert_eq!(named("Then 3...Nf6 is calm."), ["3.Nf3_Nf6"]);
        assert_eq!(
            named("After 3...Nf6 4.Bg5 all is calm."),
            ["3.Nf3_Nf6", "3.Nf3_Nf6_4.Bg5"]
        );
        assert_eq!(named("As after 4...Be7."), ["4...Be7"]);
    }

    #[test]
    fn a_move_of_the_lesson_counts_before_one_more_of_those_that_were_listed() {
        let text = "1. e4 e6 2. d4 d5 3. Nc3 (3. Nd2 Nf6 (3... c5)) 3... Bb4 *";
        let listed = "After 3.Nd2 both 3...Nf6 and 3...c5 are played.";
        let after = |last: &str| places(text, &[listed, last]).pop();
        assert_eq!(
            after("The pin 3...Bb4 is sharp.").as_deref(),
            Some("3...Bb4")
        );
        assert_eq!(after("So is 3...Be7.").as_deref(), Some("3.Nd2_Be7"));
    }
}
