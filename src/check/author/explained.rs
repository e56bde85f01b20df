//! Which finding explains which: the one place where findings are reworded, or left out because
//! another finding explains them.

use crate::notation::{Game, ItemKind};
use crate::text::{Code, Finding, Findings, Severity, Source, Span};

/// Within how many bytes after a number the move after its own is.
const NEXT_MOVE: u32 = 24;

/// The result of a pass that knows the earlier findings.
pub(super) struct Told {
    /// A new finding; or an earlier one in better words: then it replaces the one with the same
    /// code and the same start.
    pub(super) finding: Finding,
    /// What follows from it and is then left out.
    pub(super) explains: Vec<Explained>,
}

/// What is left out because another finding explains it.
pub(super) enum Explained {
    /// Every finding that begins within these bytes.
    Within(Span),
    /// A finding with this code there.
    One(Code, Span),
}

impl Told {
    /// A finding that explains no other.
    pub(super) fn alone(finding: Finding) -> Told {
        Told {
            finding,
            explains: Vec::new(),
        }
    }
}

/// The findings of a text whose slips are known: what would be found without them, and what was
/// found before a place that no slip reaches. All else was there because of the slips.
pub(super) fn without(
    found: &Findings,
    from: u32,
    slips: Vec<Finding>,
    left: Findings,
) -> Findings {
    let mut all = found.within(&(0..from));
    for slip in slips {
        all.push(slip);
    }
    all.extend(left);
    all.sort();
    all
}

/// Takes away the fixes that other findings put in doubt.
pub(super) fn doubt(source: &Source, game: &Game, findings: &mut Findings) {
    if findings.iter().any(|it| is_loose(source, it)) || hides_signs(source, game) {
        doubted(findings);
    }
    // Where the other side is to move, a move is missing or one too many: what a number should be is
    // a guess, and a dash may be a word's. Where the next move cannot be played, it is one too.
    let bad: Vec<(u32, Code)> = findings
        .iter()
        .filter(|it| it.severity() == Severity::Error && it.fix.is_none())
        .map(|it| (it.span.from, it.code))
        .collect();
    let is_off = bad.iter().any(|&(_, code)| code == Code::WrongSide);
    let is_lettered = game
        .tags
        .iter()
        .any(|tag| source.slice(tag.name) == "Letters");
    for finding in findings.iter_mut() {
        let Some(fix) = &finding.fix else {
            continue;
        };
        let (written, right) = (source.slice(fix.span), fix.text.as_str());
        let word = source.slice(finding.span);
        let from = finding.span.from;
        let next = bad.partition_point(|&(at, _)| at <= from);
        let is_soon = bad.get(next).is_some_and(|&(at, _)| at < from + NEXT_MOVE);
        let is_doubted = match finding.code {
            Code::WrongNumber => is_off || is_soon || !is_near(written, right),
            Code::Dots => is_off || is_soon,
            Code::Spelling => {
                let is_dash = !word.contains(char::is_alphanumeric);
                // A move without its number, in signs of a sentence, may be the last of its words.
                let before = source.slice(Span::new(0, from as usize));
                let is_word = !word.is_ascii() && before.trim_end().ends_with('}');
                // Where another move cannot be played, what there is to take may be missing because
                // of that.
                let is_taking = written.contains('x') != right.contains('x');
                // `Bc4` is a bishop's move in English and a pawn's in German: the tag may be wrong.
                let piece = written.chars().next().filter(|it| "KQRBN".contains(*it));
                let is_other = is_lettered && piece.is_some_and(|it| !right.starts_with(it));
                is_word
                    || is_other
                    || is_dash && (is_off || is_soon)
                    || is_taking && !bad.is_empty()
            }
            _ => false,
        };
        if is_doubted {
            finding.fix = None;
        }
    }
}

/// Whether a comment to the end of its line holds the end of one in braces: then the beginning of that
/// is missing, and what is after it on the line is hidden.
fn hides_signs(source: &Source, game: &Game) -> bool {
    let mut items = game.lines.iter().flat_map(|line| &line.items);
    items.any(|item| {
        let words = source.slice(item.span);
        item.kind == ItemKind::Comment && words.starts_with(';') && words.contains('}')
    })
}

/// How a number is written in a fix and in the text: one digit apart, as a slip of the hand is, or
/// the next.
fn is_near(written: &str, right: &str) -> bool {
    let digits = |word: &str| word.trim_end_matches(['.', '\u{2026}', ' ']).to_owned();
    let (written, right) = (digits(written), digits(right));
    let differ = written.bytes().zip(right.bytes()).filter(|(a, b)| a != b);
    let is_next = || {
        let value = |word: &str| word.parse::<u32>().ok();
        value(&written)
            .zip(value(&right))
            .is_some_and(|(a, b)| a.abs_diff(b) < 2)
    };
    written.len() == right.len() && differ.count() < 2 || is_next()
}

/// Whether nobody knows where a sign belongs, or whether words are moves.
fn is_loose(source: &Source, finding: &Finding) -> bool {
    match finding.code {
        Code::OpenVariation
        | Code::StrayClose
        | Code::NoMoveBeside
        | Code::OpenComment
        | Code::BraceInside
        | Code::ResultAmid => true,
        Code::NotAMove => finding.fix.is_none() && !names_a_square(source.slice(finding.span)),
        Code::StrayCharacter => source.slice(finding.span).contains('}'),
        _ => false,
    }
}

/// Whether a word has a file and a digit after it, as a move with a slip has.
fn names_a_square(word: &str) -> bool {
    let mut pairs = word.as_bytes().windows(2);
    pairs.any(|pair| matches!(pair, [b'a'..=b'h', b'0'..=b'9']))
}

/// Takes away fixes of what moves and numbers are where a sign is amiss and nobody knows its place:
/// with it in its place they may be right.
pub(super) fn doubted(findings: &mut Findings) {
    for finding in findings.iter_mut() {
        if matches!(
            finding.code,
            Code::WrongNumber | Code::Dots | Code::Spelling | Code::NotAMove
        ) {
            finding.fix = None;
        }
    }
}

/// The findings with the results of the passes: first the better words are put in, then what others
/// explain is left out. In the order of the places.
pub(super) fn settle(mut findings: Findings, told: Vec<Told>) -> Findings {
    for it in &told {
        put(&mut findings, it.finding.clone());
    }
    for it in &told {
        for explained in &it.explains {
            findings.retain(|other| is_same(other, &it.finding) || !explained.covers(other));
        }
    }
    findings.sort();
    findings
}

fn put(findings: &mut Findings, better: Finding) {
    let mut all = findings.iter_mut();
    match all.find(|it| it.code == better.code && it.span.from == better.span.from) {
        Some(found) => *found = better,
        None => findings.push(better),
    }
}

fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.span == other.span
}

impl Explained {
    fn covers(&self, finding: &Finding) -> bool {
        let begins_in = |span: &Span| (span.from..span.to).contains(&finding.span.from);
        match self {
            Explained::Within(span) => begins_in(span),
            Explained::One(code, span) => finding.code == *code && finding.span == *span,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::author::given::checked;

    #[test]
    fn a_letter_that_is_another_piece_in_the_language_of_the_tag_is_not_changed() {
        let fixes = |text: &str| {
            let (_, found) = checked(text);
            let fixes = found
                .iter()
                .filter_map(|it| Some(it.fix.as_ref()?.text.clone()));
            fixes.collect::<Vec<_>>()
        };
        let moves = "1. e4 e5 2. Bc4 Nc6 $10 *";
        let german = fixes(&format!("[Letters \"de\"]\n\n{moves}"));
        assert_eq!(german, ["Sc6"], "the same piece, and no pawn");
        assert_eq!(fixes("1. e4 e5 2. Lc4 Nc6 $10 *"), Vec::<String>::new());
    }

    fn finding(code: Code, from: usize) -> Finding {
        Finding::new(code, Span::new(from, from + 1), String::new())
    }

    fn settled(found: &[(Code, usize)], told: Told) -> Vec<(Code, u32)> {
        let mut findings = Findings::default();
        for &(code, from) in found {
            findings.push(finding(code, from));
        }
        let settled = settle(findings, vec![told]);
        settled.iter().map(|it| (it.code, it.span.from)).collect()
    }

    #[test]
    fn better_words_take_the_place_of_what_was_found_there() {
        let mut better = finding(Code::WrongNumber, 7);
        better.message = "better".to_owned();
        let mut findings = Findings::default();
        findings.push(finding(Code::WrongNumber, 7));
        let settled = settle(findings, vec![Told::alone(better)]);
        let messages: Vec<&str> = settled.iter().map(|it| it.message.as_str()).collect();
        assert_eq!(messages, ["better"]);
    }

    #[test]
    fn what_follows_from_a_finding_is_left_out_and_the_finding_stays() {
        let told = Told {
            finding: finding(Code::OpenVariation, 2),
            explains: vec![
                Explained::Within(Span::new(5, 6)),
                Explained::One(Code::EndsInSilence, Span::new(1, 2)),
            ],
        };
        let found = [
            (Code::EndsInSilence, 1),
            (Code::WrongNumber, 4),
            (Code::WrongNumber, 5),
            (Code::BadTag, 6),
            (Code::WrongNumber, 9),
        ];
        let left = [
            (Code::OpenVariation, 2),
            (Code::WrongNumber, 4),
            (Code::BadTag, 6),
            (Code::WrongNumber, 9),
        ];
        assert_eq!(settled(&found, told), left);
    }

    #[test]
    fn a_finding_that_explains_all_within_its_place_explains_not_itself() {
        let span = Span::new(3, 8);
        let told = Told {
            finding: Finding::new(Code::StrayCharacter, span, String::new()),
            explains: vec![Explained::Within(span)],
        };
        let found = [(Code::StrayCharacter, 3), (Code::NotAMove, 5)];
        assert_eq!(settled(&found, told), [(Code::StrayCharacter, 3)]);
    }
}
