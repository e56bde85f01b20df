//! Tags that have no effect: unknown names and values, places that the lesson does not have,
//! questions that differ from what is meant. The page ignores them.

mod question;

use crate::check::attributes::{ATTRIBUTES, Attribute, Tagged};
use crate::lesson::{Lesson, LocateError, locate, way_out};
use crate::notation::{Game, Tag};
use crate::text::{Code, Finding, Findings, Source};

/// The findings about the tags of a game; those about their values, which every page makes, come
/// from elsewhere.
pub(super) fn tags(source: &Source, game: &Game, lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    let tags = Tags { source, game };
    for tag in &game.tags {
        push(&mut findings, name(&tags, tag));
        push(&mut findings, quotes(source, tag));
    }
    // Only questions have these two.
    match tags.get("Accept").or(tags.get("Moves")) {
        Some(_) => findings.extend(question::question(&tags, lesson)),
        None => push(
            &mut findings,
            tags.get("At").and_then(|at| place(lesson, at)),
        ),
    }
    findings
}

fn push(findings: &mut Findings, finding: Option<Finding>) {
    if let Some(finding) = finding {
        findings.push(finding);
    }
}

/// The tags of a game by name; of a repeated name the first counts.
struct Tags<'a> {
    source: &'a Source,
    game: &'a Game,
}

impl<'a> Tags<'a> {
    fn name(&self, tag: &Tag) -> &'a str {
        self.source.slice(tag.name)
    }

    fn get(&self, name: &str) -> Option<&'a Tag> {
        self.game.tags.iter().find(|tag| self.name(tag) == name)
    }
}

/// A value in the quotes of a word processor: it is read, but other programs lose it.
fn quotes(source: &Source, tag: &Tag) -> Option<Finding> {
    let raw = source.slice(tag.value_span);
    let curly = ['\u{201c}', '\u{201d}', '\u{201e}'];
    if !raw.starts_with(curly) && !raw.ends_with(curly) {
        return None;
    }
    let mut fix = "\"".to_owned();
    for letter in tag.value.chars() {
        if matches!(letter, '\\' | '"') {
            fix.push('\\');
        }
        fix.push(letter);
    }
    fix.push('"');
    let message = "the value of this tag is in the quotes of a word processor".to_owned();
    let finding = Finding::new(Code::BadTag, tag.value_span, message);
    let help = "a tag is written `[Name \"value\"]`, in straight quotes";
    Some(
        finding
            .with_help(help.to_owned())
            .with_fix(tag.value_span, fix),
    )
}

/// A name with wrong capitals, and one that belongs elsewhere.
fn name(tags: &Tags, tag: &Tag) -> Option<Finding> {
    let written = tags.name(tag);
    let find =
        |message, help| Some(Finding::new(Code::TagAmiss, tag.name, message).with_help(help));
    let is_fenced = |row: &Attribute| row.tagged == Tagged::Fence && row.tag == written;
    if ATTRIBUTES.iter().any(is_fenced) {
        let message = format!("the tag {written} does nothing in the notation of a lesson");
        let help = "it belongs to a fence or an element that shows something of a lesson, such as \
                    ply-quiz or ply-recall";
        return find(message, help.to_owned());
    }
    let (mut slip, mut capitals) = (None, None);
    let mut look = |known: &'static str| {
        if slip.is_none() && is_slip(written, known) {
            slip = Some(known);
        }
        if capitals.is_none() && known.eq_ignore_ascii_case(written) {
            capitals = Some(known);
        }
    };
    for row in ATTRIBUTES {
        if row.tagged == Tagged::Lesson && is_near(written, row.tag) {
            look(row.tag);
        }
    }
    // The standard's own tag, which a start position needs.
    look("SetUp");
    if let Some(meant) = slip {
        if tags.get(meant).is_some() {
            return None;
        }
        let message = format!("the tag {written} does nothing: nothing reads a tag of that name");
        return find(message, format!("did you mean {meant}"));
    }
    let meant = capitals?;
    if meant == written || tags.get(meant).is_some() {
        return None;
    }
    let message = format!("the tag {written} does nothing: capitals count in the names of tags");
    find(message, format!("did you mean {meant}"))
}

/// Whether a name may be a slip of another or have other capitals: its length and first letter say.
fn is_near(written: &str, known: &str) -> bool {
    let first = |name: &str, at: usize| name.as_bytes().get(at).map(u8::to_ascii_lowercase);
    written.len().abs_diff(known.len()) <= 1
        && (first(written, 0) == first(known, 0) || first(written, 0) == first(known, 1))
}

/// A name of fewer letters is one letter away from too many words.
const LONG: usize = 4;

/// The standard's tag (PGN, 8.1.1.2) that is one letter from one of ours, Side.
const STANDARD: &str = "Site";

/// Whether a name is another with two letters in the wrong order, with one letter put in, left out
/// or replaced after the first, or, of a short one, with a letter written twice.
fn is_slip(written: &str, known: &str) -> bool {
    let is_same = |(one, other): &(u8, u8)| one.eq_ignore_ascii_case(other);
    let pairs = written.bytes().zip(known.bytes());
    let begins = pairs.take_while(is_same).count();
    let (one, other) = (&written.as_bytes()[begins..], &known.as_bytes()[begins..]);
    let pairs = one.iter().copied().rev().zip(other.iter().copied().rev());
    let ends = pairs.take_while(is_same).count();
    let (one, other) = (&one[..one.len() - ends], &other[..other.len() - ends]);
    let is_apart = known.len() >= LONG && begins > 0 && !written.eq_ignore_ascii_case(STANDARD);
    match (one, other) {
        ([first, second], [right, next]) => {
            first.eq_ignore_ascii_case(next) && second.eq_ignore_ascii_case(right)
        }
        ([twice], []) if !is_apart => {
            let before = written.as_bytes()[..begins].last();
            before.is_some_and(|before| before.eq_ignore_ascii_case(twice))
        }
        ([_], []) | ([], [_]) | ([_], [_]) => is_apart,
        _ => false,
    }
}

/// Where the reader begins, if the lesson has no such place.
fn place(lesson: &Lesson, tag: &Tag) -> Option<Finding> {
    let error = locate(lesson, &tag.value).err()?;
    let mut finding = error.finding(&tag.value, tag.value_span);
    match error {
        LocateError::None => finding.help = Some(way_out(lesson, &tag.value)),
        LocateError::Several(nodes) => {
            for node in nodes.into_iter().take(4) {
                let place = lesson.node(node).span;
                finding = finding.with_related(place, "one of them".to_owned());
            }
        }
    }
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::{ATTRIBUTES, is_slip};
    use crate::check::author::given;

    /// The codes of what is found in moves with these tags, and the words where it is found.
    fn told(tags: &str) -> Vec<(&'static str, String)> {
        let moves = "1. e4 e5 (1... c5 2. Nf3 d6 3. d4 {x}) 2. Nf3 {natural} *";
        given::told(&format!("{tags}\n{moves}"))
    }

    #[test]
    fn tags_that_do_what_they_say_are_not_told() {
        for tags in [
            "[Side \"white\"] [Prose \"yes\"] [Id \"a-b_1\"] [At \"1...c5\"]",
            "[Side \"black\"] [Prose \"no\"] [Id \"\u{e9}t\u{e9}\"] [At \"line A\"]",
            "[Event \"?\"] [Site \"?\"] [ECO \"B20\"] [WhiteElo \"2000\"] [Annotator \"left\"]",
            "[At \"1.e4 e5\"] [Accept \"2.d4 Nf3\"]",
            "[At \"start\"] [Accept \"b3\"] [Moves \"1\"]",
        ] {
            assert_eq!(told(tags), [], "{tags}");
        }
    }

    #[test]
    fn a_name_that_is_a_slip_of_ours_is_told() {
        for name in [
            "Prosa", "prosee", "Sides", "Sode", "Sied", "Att", "FENN", "Acept", "Letter", "Idd",
        ] {
            let tag = format!("[{name} \"x\"]");
            assert_eq!(told(&tag), [("P070", name.to_owned())], "{name}");
        }
    }

    #[test]
    fn no_name_of_the_standard_is_a_slip() {
        let names = "Event Site Date Round White Black Result WhiteTitle BlackTitle WhiteElo \
                     WhiteUSCF WhiteNA WhiteType EventDate EventSponsor Section Stage Board \
                     Opening Variation SubVariation ECO NIC Time UTCTime UTCDate TimeControl \
                     Termination Annotator Mode PlyCount";
        for name in names.split_whitespace() {
            for known in ATTRIBUTES.iter().map(|row| row.tag).chain(["SetUp"]) {
                assert!(!is_slip(name, known), "{name} {known}");
            }
        }
        assert_eq!(told("[Alt \"x\"] [Ad \"x\"] [Hide \"x\"] [Sort \"x\"]"), []);
    }

    #[test]
    fn as_many_moves_in_a_row_count_as_the_page_s_longest_replies_allow() {
        let three = "[At \"start\"] [Moves \"3\"]";
        assert_eq!(told(three), [], "by the sideline");
        let four = "[At \"start\"] [Moves \"4\"]";
        assert_eq!(told(four), [("P071", "\"4\"".to_owned())]);
        let beside = "[At \"start\"] [Accept \"b3\"] [Moves \"2\"]";
        assert_eq!(told(beside), [("P071", "\"2\"".to_owned())]);
    }

    #[test]
    fn the_place_of_a_question_is_told_once() {
        let asks = "[At \"7.Nf3\"] [Accept \"b3\"]";
        assert_eq!(told(asks), [("P041", "\"7.Nf3\"".to_owned())]);
        let begins = "[At \"7.Nf3\"]";
        assert_eq!(told(begins), [("P041", "\"7.Nf3\"".to_owned())]);
    }

    #[test]
    fn an_accepted_move_that_the_lesson_marks_weak_is_told() {
        let moves = "1. e4 e5 2. Nf3 {x} (2. f3?! {weak}) *";
        let codes = |tags: &str| given::codes(&format!("{tags} {moves}"));
        assert_eq!(codes("[At \"1.e4 e5\"] [Accept \"Nf3 f3\"]"), ["P050"]);
        assert_eq!(codes("[At \"1.e4 e5\"] [Accept \"Nf3 d4\"]"), [""; 0]);
    }

    #[test]
    fn a_number_of_moves_that_is_none_hides_no_illegal_move() {
        let found = told("[At \"1.e4 e5\"] [Accept \"Ke3\"] [Moves \"9\"]");
        let found: Vec<&str> = found.into_iter().map(|(code, _)| code).collect();
        assert_eq!(found, ["P012", "P066"]);
    }

    #[test]
    fn of_a_tag_that_stands_twice_the_first_counts() {
        let twice = "[Side \"black\"]\n[Side \"left\"]";
        assert_eq!(told(twice).len(), 1, "it stands twice, and that is all");
    }
}
