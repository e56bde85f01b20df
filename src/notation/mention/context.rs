//! The words beside a mention that say what it is: an answer, an item of a list,
//! the number of something else, a move that may come.

use super::{Mention, Ordinal, Surroundings};
use crate::text::{is_letter, is_letter_or_digit, is_small, split};
use shakmaty::Color;

/// Whether a square is Black's answer in the manner of old books: `1. d4, d5;`.
pub(crate) fn answers(list: &[Mention], found: &Mention, text: &str) -> bool {
    list.last().is_some_and(|last| {
        last.side == Some(Color::White)
            && found.written.is_bare
            && found.number.is_none()
            && &text[last.range.end..found.range.start] == ", "
            && text[found.range.end..].starts_with([';', '.'])
    })
}

/// Whether two mentions are items of a numbered list, `1. a4 paper, 2. b5 envelopes`.
pub(crate) fn are_items(one: &Mention, next: &Mention, text: &str) -> bool {
    let spaced =
        |it: &Mention| it.written.is_bare && text[it.range.start..it.word.start].ends_with(". ");
    let between = &text[one.range.end..next.range.start];
    let words = between
        .strip_prefix(' ')
        .and_then(|rest| rest.strip_suffix(", "));
    spaced(one)
        && spaced(next)
        && next.number == one.number.map(|number| number + 1)
        && words.is_some_and(|words| words.starts_with(is_small))
}

/// Words for what a text or a set numbers: `figure 5.b3`, `rule 6.e3`; their plurals too.
const LABELS: &str = " article box chapter clause exercise figure item page paragraph part question rule seat section \
    step table version volume ";

/// Whether the words before a mention say that it is not a move: the name of something numbered, or
/// an article, after which comes a name (`a Be6 with 19 seats`).
pub(crate) fn is_label(before: &str, found: &Mention) -> bool {
    let Some(before) = before.strip_suffix(' ') else {
        return false;
    };
    let word = before.rsplit(|sign: char| !is_letter(sign)).next();
    let word = word.unwrap_or_default().to_ascii_lowercase();
    match found.number {
        Some(_) => {
            let one = word.strip_suffix('s').unwrap_or(&word);
            found.written.is_bare && !one.is_empty() && holds(LABELS, one)
        }
        None => word == "a" || word == "an",
    }
}

/// Words after which a move is one that may come, not an alternative to the last.
const AHEAD: &str = " threat threats threatens threatening threatened threaten later plan plans planning \
    idea ideas followed prepare prepares preparing next then eventually eventual wants hopes aims \
    intends meets met means dreams dreaming without ";

/// Words after which a square is where a pawn moves to.
const SAYS: &str = " with by is are was after against plays play played tries try replies reply answer answers \
    answered then now have has prefers prefer move gambit push start starts begins choose between \
    when here can as if ";

/// Words after which a square is only a place.
const PLACES: &str = " on at to from of out for over via into that in pawn knight bishop rook queen king square \
    point points squares guards attacks eyes not ";

/// Words after which a move answers the one named before it.
const ANSWERS: &str = " met meets answered answers reply replies allows permits refuted punished ";

/// Whether a text goes back to the main line.
pub fn returns(text: &str) -> bool {
    hear(text).is_main
}

/// What the words between the mention before and this one say, in their order.
pub(crate) fn hear(part: &str) -> Surroundings {
    let mut heard = Surroundings::default();
    let (mut the, mut main) = (false, false);
    for word in part.split(|sign: char| !is_letter_or_digit(sign)) {
        if word.is_empty() {
            continue;
        }
        match word {
            "White" => heard.spoken = Some(Color::White),
            "Black" => heard.spoken = Some(Color::Black),
            _ => {}
        }
        if the {
            heard.listed = match word {
                "first" | "former" => Some(Ordinal::At(0)),
                "second" => Some(Ordinal::At(1)),
                "third" => Some(Ordinal::At(2)),
                "last" | "latter" => Some(Ordinal::Last),
                _ => heard.listed,
            };
        }
        heard.is_main |= main && holds(" line road way variation ", word);
        main = word == "main";
        the = word == "the" || word == "The";
    }
    heard
}

/// Whether a text between two moves makes a list of them: `, `, ` or `, `, and the quiet `.
fn lists(between: &str) -> bool {
    if matches!(between, "/" | ", ") {
        return true;
    }
    let between = between.strip_prefix(',').unwrap_or(between);
    let (mut count, mut joined, mut named) = (0, false, true);
    for word in split(between, b' ') {
        match word {
            "" => continue,
            "and" | "or" => joined = count == 0,
            "the" | "even" => named &= count == 1,
            _ => named &= count == 2 && word.bytes().all(|letter| letter.is_ascii_lowercase()),
        }
        count += 1;
    }
    joined && named
}

/// What a sentence says of a move: the last words before it, the text between it and the mention
/// before, and the text after it; `judged` if it has a sign such as `!`.
pub(crate) fn look_around(
    heard: &mut Surroundings,
    sentence: &str,
    between: &str,
    after: &str,
    judged: bool,
) {
    heard.is_beside = matches!(between, "/" | " or " | " and ") || after.starts_with(" instead");
    heard.is_listed = lists(between);
    let words = sentence.split(|sign: char| !is_letter_or_digit(sign));
    let words = words.filter(|word| !word.is_empty()).rev();
    let mut is_place = false;
    // A sign of judgement is the move's own where the sentence goes on.
    heard.says_move = sentence.ends_with(": ") || judged && after.starts_with(',');
    heard.is_answer |= sentence.ends_with("after which ");
    for (at, word) in words.take(4).enumerate() {
        if word.ends_with(|sign: char| sign.is_ascii_digit()) {
            continue; // a move or a number
        }
        let word = word.to_ascii_lowercase();
        heard.is_ahead |= at < 3 && holds(AHEAD, &word);
        heard.is_answer |= holds(ANSWERS, &word);
        heard.is_beside |= word == "instead" || word == "other";
        heard.is_here |= word == "this";
        // `White's e3`
        heard.says_move |= at < 3 && holds(SAYS, &word) || at == 0 && word == "s";
        is_place |= at == 0 && holds(PLACES, &word);
    }
    heard.says_move &= !is_place && !after.starts_with(" square") && !after.starts_with(" pawn");
}

/// Whether a list has a word; there are spaces between them.
fn holds(list: &str, word: &str) -> bool {
    !word.is_empty() && split(list, b' ').any(|known| known == word)
}

#[cfg(test)]
mod tests {
    use super::super::mentions;
    use crate::notation::Letters;

    fn found(text: &str) -> Vec<&str> {
        let all = mentions(text, Letters::ENGLISH).into_iter();
        let all = all.filter(|it| !it.around.is_alone);
        all.map(|it| &text[it.range]).collect()
    }

    #[test]
    fn a_square_after_a_word_for_something_numbered_is_no_move() {
        for text in [
            "figure 5.b3",
            "Rules 6.e3",
            "Version 2.c3",
            "See clause 4.d4",
        ] {
            assert_eq!(found(text), Vec::<&str>::new(), "{text}");
        }
        assert_eq!(found("In figure 5.Bd3"), ["5.Bd3"], "a piece's move is one");
        assert_eq!(found("The reply 5.b3"), ["5.b3"]);
    }

    #[test]
    fn a_square_after_a_number_without_a_dot_is_a_move_where_the_text_leaves_dots_out() {
        assert_eq!(found("Chair 5 f4 is free."), Vec::<&str>::new());
        assert_eq!(found("After 5 f4 comes 6 Nf3."), ["5 f4", "6 Nf3"]);
        assert_eq!(found("After 5 f4 Nf6"), ["5 f4", "Nf6"], "a run");
    }

    #[test]
    fn items_of_a_numbered_list_are_no_moves() {
        let list = "1. a4 paper, 2. b5 envelopes, 3. c6 cards";
        assert_eq!(found(list), Vec::<&str>::new());
        assert_eq!(found("1. a4 b5 2. c3"), ["1. a4", "b5", "2. c3"]);
    }

    #[test]
    fn an_article_before_a_move_makes_it_a_name_unless_it_has_a_number() {
        assert_eq!(found("He flew in a Be6 and an Nf3."), Vec::<&str>::new());
        assert_eq!(found("a 6.Be2 line"), ["6.Be2"]);
    }

    #[test]
    fn an_answer_after_a_comma_is_part_of_the_run_as_in_old_books() {
        let follows = |text: &str| -> Vec<bool> {
            let all = mentions(text, Letters::ENGLISH).into_iter();
            all.map(|it| it.around.follows).collect()
        };
        assert_eq!(follows("1. d4, d5; 2. c4, e6."), [false, true, false, true]);
        assert_eq!(follows("1. d4, d5 is weak"), [false, false]);
    }

    #[test]
    fn words_of_the_future_are_heard_in_their_own_sentence_only() {
        let ahead = |text: &str| {
            mentions(text, Letters::ENGLISH)
                .iter()
                .map(|it| it.around.is_ahead)
                .collect::<Vec<_>>()
        };
        assert_eq!(ahead("White plans Nb5."), [true]);
        assert_eq!(ahead("White has plans. Nb5 is one."), [false]);
        assert_eq!(
            ahead("He plans one of many long and slow ways to Nb5."),
            [false]
        );
    }

    #[test]
    fn a_move_offered_beside_another_is_joined_to_it_or_said_to_come_instead() {
        let beside = |text: &str| {
            mentions(text, Letters::ENGLISH)
                .pop()
                .map(|it| it.around.is_beside)
        };
        for text in [
            "5.d3/5.O-O",
            "either Bd3 or Be2",
            "the other capture, Nxd4",
            "Bg7 instead of that",
        ] {
            assert_eq!(beside(text), Some(true), "{text}");
        }
        assert_eq!(beside("After Bd3 comes Be2"), Some(false));
    }
}
