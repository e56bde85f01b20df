//! Talks as a whole: two small ones of ours in every form of captions, bad captions, and how long listening takes.

mod chapters;
mod forms;

use forms::{spoken, stamped, subrip, twice, with_times};
use plyline::talk::{Comments, Given, Language, Listened, Wanted, listen};
use plyline::text::{Code, Source};
use std::time::Instant;

const SCOTCH: &str = include_str!("../../talks/small-scotch.vtt");
const CARO: &str = include_str!("../../talks/small-caro.vtt");

fn heard_from(text: &str, from: &str) -> Listened {
    let wanted = Wanted {
        given: Given::From(from),
        comments: Comments::None,
        language: Language::of("en").expect("English"),
        title: "talk",
    };
    listen(&Source::new("talk", text), &wanted).expect("a beginning that can be played")
}

fn heard(text: &str) -> Listened {
    heard_from(text, "")
}

/// The moves of a draft without its comments.
fn moves(listened: &Listened) -> String {
    let draft = listened.draft.as_deref().unwrap_or_default();
    let (_, text) = draft.split_once("\n\n").unwrap_or_default();
    let mut plain = String::new();
    let mut depth = 0;
    for letter in text.chars() {
        depth += i32::from(letter == '{');
        if depth == 0 {
            plain.push(letter);
        }
        depth -= i32::from(letter == '}');
    }
    let words: Vec<&str> = plain.split_whitespace().collect();
    words.join(" ").replace("( ", "(").replace(" )", ")")
}

fn codes(listened: &Listened) -> Vec<Code> {
    let findings = listened.findings.iter().map(|it| it.code);
    let doubts = listened.doubts.iter().map(|it| it.finding.code);
    findings.chain(doubts).collect()
}

#[test]
fn a_small_talk_becomes_the_tree_that_was_meant() {
    assert_eq!(
        moves(&heard(SCOTCH)),
        "1. e4 1... e5 2. Nf3 2... Nc6 3. d4 3... exd4 4. Nxd4 4... Bc5 (4... Nf6 5. Nxc6 5... bxc6 6. e5 6... Qe7 7. Qe2 7... Nd5 \
         8. c4 8... Ba6) 5. Be3 5... Qf6 6. c3 6... Nge7 7. Bc4 *"
    );
    assert_eq!(
        moves(&heard(CARO)),
        "1. e4 1... c6 2. d4 2... d5 3. exd5 3... cxd5 4. c4 4... Nf6 5. Nc3 5... e6 (5... g6 6. Qb3 6... Bg7 7. cxd5 \
         7... O-O 8. Be2 8... Nbd7 9. Bf3) 6. Nf3 6... Bb4 7. cxd5 7... Nxd5 8. Bd2 8... O-O 9. Bd3 *"
    );
}

#[test]
fn every_form_of_captions_gives_the_same_tree() {
    for talk in [SCOTCH, CARO] {
        let words = spoken(talk);
        let plain = moves(&heard(talk));
        for (name, captions) in [
            ("a time at every word", with_times(&words)),
            ("every line twice", twice(&words)),
            ("SubRip", subrip(&words)),
            ("stamps", stamped(&words)),
        ] {
            assert_eq!(moves(&heard(&captions)), plain, "{name}");
        }
    }
}

#[test]
fn a_move_has_the_time_at_which_it_is_said() {
    let draft = heard(SCOTCH).draft.expect("a draft");
    assert!(draft.contains("1... e5 {Hear: 0:05}"), "{draft}");
    assert!(draft.contains("8... Ba6 {Hear: 0:54}"), "{draft}");
}

#[test]
fn a_draft_is_read_back_without_an_error() {
    for talk in [SCOTCH, CARO] {
        let draft = heard(talk).draft.expect("a draft");
        let (_, findings) = plyline::check::author::lessons(&Source::new("draft", draft.as_str()));
        assert!(!findings.has_error(), "{draft}");
    }
}

#[test]
fn a_talk_without_moves_or_captions_gives_no_draft_and_says_why() {
    for text in [
        "",
        "WEBVTT\n",
        "only words and no time",
        "WEBVTT\n\n00:01.000 --> 00:02.000\nhello everybody\n",
        "[0:01] der Springer geht nach vorn und alle sind froh",
        "[0:01] queen h8 check, rook takes h7",
    ] {
        let listened = heard(text);
        assert_eq!(listened.draft, None, "{text:?}");
        assert!(codes(&listened).contains(&Code::NothingHeard), "{text:?}");
    }
}

#[test]
fn a_beginning_that_does_not_fit_is_told_with_its_sayings() {
    let listened = heard_from(SCOTCH, "4k3/8/8/8/8/8/8/4K3 w - - 0 1");
    let found = listened
        .doubts
        .iter()
        .find(|it| it.finding.code == Code::BeginsElsewhere);
    let found = found.expect("P302");
    assert!(
        found.finding.message.contains("e5"),
        "{}",
        found.finding.message
    );
    assert!(
        found
            .finding
            .help
            .as_deref()
            .is_some_and(|it| it.contains("--from"))
    );
}

#[test]
fn a_beginning_that_cannot_be_played_is_refused() {
    let wanted = Wanted {
        given: Given::From("1.e4 Ke4"),
        comments: Comments::None,
        language: Language::of("en").expect("English"),
        title: "talk",
    };
    assert!(listen(&Source::new("talk", SCOTCH), &wanted).is_err());
}

#[test]
fn cues_that_overlap_are_empty_or_go_back_are_read_in_the_order_of_their_times() {
    let text = "WEBVTT\n\n00:05.000 --> 00:09.000\nknight f3, knight c6\n\n00:01.000 --> 00:06.000\ne4 e5\n\n00:03.000 --> 00:02.000\n\n\n00:10.000 --> 00:11.000\n\n";
    let listened = heard(text);
    assert_eq!(moves(&listened), "1. e4 1... e5 2. Nf3 2... Nc6 *");
    assert!(listened.findings.iter().all(|it| it.code == Code::BadCue));
    assert_eq!(listened.findings.len(), 1);
}

#[test]
fn there_is_one_doubt_for_four_moves_at_the_most_and_the_gravest_comes_first() {
    for talk in [SCOTCH, CARO] {
        let listened = heard(talk);
        let count = moves(&listened)
            .split(' ')
            .filter(|it| it.ends_with('.'))
            .count();
        assert!(listened.doubts.len() * 4 <= count, "{count}");
        let behind: Vec<usize> = listened.doubts.iter().map(|it| it.behind).collect();
        assert!(behind.is_sorted_by(|one, other| one >= other), "{behind:?}");
    }
}

/// A talk of so many times the small one, an hour after each other.
fn long(times: usize) -> String {
    let mut text = String::new();
    for hour in 0..times {
        let words = spoken(SCOTCH);
        for (at, line) in words.chunks(8).enumerate() {
            text += &format!("[{hour}:{:02}:{:02}] ", at / 60, at % 60);
            text += &line
                .iter()
                .map(|it| it.0.as_str())
                .collect::<Vec<_>>()
                .join(" ");
            text.push('\n');
        }
    }
    text
}

#[test]
fn listening_takes_as_long_as_the_talk_and_no_longer() {
    let time = |text: &str| {
        let start = Instant::now();
        let listened = heard(text);
        assert!(listened.draft.is_some());
        start.elapsed().as_secs_f64()
    };
    let (short, whole) = (long(3), long(12));
    time(&short); // once, to be warm
    let (one, four) = (time(&short), time(&whole));
    // Four times as long; seven leaves room for a machine that is shared.
    assert!(four < one * 7.0 + 0.5, "{one} s, {four} s");
}
