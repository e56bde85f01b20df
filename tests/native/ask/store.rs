//! Kept recall as text.

use super::each;
use crate::support::chance::Chance;
use plyline::ask::progress_json::{Unreadable, VERSION, read, write};
use plyline::ask::schedule::{FARTHEST_DAY, Outcome, Progress};
use plyline::text::limits;

/// Progress with positions of lessons by chance.
fn some() -> Progress {
    let mut progress = Progress::default();
    each(|lesson, chance| {
        for id in lesson.ids() {
            let outcome = chance.pick(&[Outcome::Recalled, Outcome::Fair, Outcome::Missed]);
            let day = chance.below(9) as i32 * FARTHEST_DAY / 4 - FARTHEST_DAY;
            progress.record(lesson, id, outcome, day).expect("room");
        }
    });
    progress
}

#[test]
fn what_is_written_is_read_again_and_is_json() {
    for progress in [Progress::default(), some()] {
        let text = write(&progress);
        assert_eq!(read(&text), Ok(progress.clone()));
        let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        assert_eq!(
            (&json["plyline"], &json["version"]),
            (&"progress".into(), &VERSION.into())
        );
        let list = json["positions"].as_array().expect("a list");
        assert_eq!(list.len(), progress.all().len());
        for (entry, kept) in list.iter().zip(progress.all()) {
            let wanted = serde_json::json!([
                kept.position,
                kept.choice,
                kept.day,
                kept.asked,
                kept.step,
                u8::from(kept.missed),
            ]);
            assert_eq!(*entry, wanted);
        }
        // Another program may write it with other white space.
        let spaced = text
            .replace(['\n'], "\r\n\t ")
            .replace(',', " , ")
            .replace(':', " : ");
        assert_eq!(read(&spaced), Ok(progress));
    }
    assert!(some().all().len() > 200);
    assert!(some().all().iter().any(|kept| kept.day < 0));
}

#[test]
fn what_is_read_is_json() {
    let text = "{\"plyline\":\"progress\",\"version\":1,\"positions\":[\n\
                [\"8/8/8/8/8/8/8/K1k5 w - -\",\"Kb1\",-12,10,3,1],\n[\"8/8/8/8/8/8/8/K1k5 b - -\",\"Kc2 Kd1\",0,1,0,0]]}";
    let mut chance = Chance::new(7);
    let (mut accepted, mut refused) = (0, 0);
    for _ in 0..40_000 {
        let mut changed = text.to_owned();
        let at = chance.below(text.len()); // ASCII
        let signs = [
            " ", "0", "-", "1", "\"", ",", "[", "]", "}", "e", ".", "+", "\n",
        ];
        let sign = chance.pick(&signs);
        match chance.below(3) {
            0 => changed.insert_str(at, sign),
            1 => changed.replace_range(at..=at, sign),
            _ => changed.replace_range(at..=at, ""),
        }
        if read(&changed).is_ok() {
            let json = serde_json::from_str::<serde_json::Value>(&changed);
            assert!(json.is_ok(), "{changed}");
            accepted += 1;
        } else {
            refused += 1;
        }
    }
    assert!(accepted > 1000 && refused > 1000, "{accepted} {refused}");
}

#[test]
fn a_newer_version_is_told_whatever_is_in_it() {
    for body in [
        "]}",
        ",\"more\":{\"a\":[1.5e3,null]},\"positions\":{}}",
        ",\"positions\":[[1]]}",
        "",
    ] {
        let text = format!("{{\"plyline\":\"progress\",\"version\":7{body}");
        assert_eq!(read(&text), Err(Unreadable::Newer(7)), "{text}");
    }
}

const HEAD: &str = "{\"plyline\":\"progress\",\"version\":1,\"positions\":[";

#[test]
fn what_is_not_progress_is_told_with_the_place() {
    let entry = "[\"8/8 w - -\",\"e2e4\",20,3,1,0]";
    let whole = |entry: &str| format!("{HEAD}{entry}]}}");
    assert!(read(&whole(entry)).is_ok());
    for (from, to) in [
        ("3,1,0", "3,6,0"),
        ("3,1,0", "3,-1,0"),
        ("3,1,0", "3,1.5,0"),
        ("3,1,0", "3,1,2"),
        ("3,1,0", "3,1,true"),
        ("3,1,0", "3,1"),
        ("3,1,0", "3,1,0,0"),
        ("3,1,0", "3,,0"),
        ("3,1,0", "4294967296,1,0"),
        ("20,", "10000001,"),
        ("20,", "--20,"),
        ("20,", "99999999999999999999999999,"),
        ("20,", "null,"),
        ("8/8 w - -", "<b>"),
        ("8/8 w - -", "\\u0041"),
        ("8/8 w - -", "\u{e9}"),
        ("e2e4\",", "e2e4\""),
        ("\"e2e4\",", ""),
    ] {
        let text = whole(&entry.replace(from, to));
        let Err(Unreadable::Corrupt { at, wanted }) = read(&text) else {
            panic!("{text} is read as {:?}", read(&text));
        };
        assert!(
            (HEAD.len()..text.len()).contains(&at) && !wanted.is_empty(),
            "{text}"
        );
    }
    let long = whole(&entry.replace("8/8 w - -", &"8".repeat(101)));
    assert!(matches!(read(&long), Err(Unreadable::Corrupt { .. })));
    for text in [
        "",
        "\u{e9}",
        "null",
        "[]",
        "{}",
        "{\"version\":1,\"positions\":[]}",
        "{\"plyline\":\"counts\",\"version\":1,\"positions\":[]}",
        "{\"plyline\":\"progress\",\"positions\":[]}",
        "{\"plyline\":\"progress\",\"version\":0,\"positions\":[]}",
        "{\"plyline\":\"progress\",\"version\":-1,\"positions\":[]}",
        "{\"plyline\":\"progress\",\"version\":1}",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[],\"more\":1}",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[]} x",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[,]}",
    ] {
        assert!(
            matches!(read(text), Err(Unreadable::Corrupt { .. })),
            "{text}"
        );
    }
}

#[test]
fn a_text_that_is_cut_or_garbled_anywhere_is_never_half_read() {
    let text = write(&some());
    let lines: Vec<&str> = text.lines().take(6).collect();
    let text = lines.join("\n").trim_end_matches(',').to_owned() + "]}";
    let whole = read(&text).expect("progress");
    assert_eq!(whole.all().len(), 5);
    for end in 0..text.len() {
        assert!(
            matches!(read(&text[..end]), Err(Unreadable::Corrupt { .. })),
            "cut at {end}"
        );
    }
    let mut chance = Chance::new(5);
    for _ in 0..20_000 {
        let mut bytes = text.clone().into_bytes();
        let at = chance.below(bytes.len());
        bytes[at] = chance.pick(b"\"\\{}[]:,019-aZ \n\0/");
        let garbled = String::from_utf8(bytes).expect("ASCII");
        if let Ok(progress) = read(&garbled) {
            // A changed digit is another number, which cannot be noticed; but no position is lost,
            // unless one has become equal to another.
            assert!(progress.all().len() + 1 >= whole.all().len());
            assert_eq!(read(&write(&progress)), Ok(progress));
        }
    }
}

#[test]
fn a_position_that_stands_twice_is_read_once_and_the_later_stays() {
    let text =
        format!("{HEAD}[\"b\",\"e2e4\",5,2,1,0],[\"a\",\"\",1,1,0,1],[\"b\",\"e2e4\",4,3,2,0]]}}");
    let progress = read(&text).expect("progress");
    let kept: Vec<_> = progress
        .all()
        .iter()
        .map(|it| (it.position.as_str(), it.asked))
        .collect();
    assert_eq!(kept, [("a", 1), ("b", 3)]);
}

#[test]
fn a_text_as_long_as_the_limit_is_read_and_the_longest_that_is_written_is_shorter() {
    let text = write(&Progress::default());
    let filled = |length: usize| format!("{text}{}", " ".repeat(length - text.len()));
    assert!(read(&filled(limits::PROGRESS_BYTES)).is_ok());
    assert_eq!(
        read(&filled(limits::PROGRESS_BYTES + 1)),
        Err(Unreadable::TooLong)
    );
    let entries = (0..limits::POSITIONS).map(|at| {
        format!(
            "[\"{at:0>100}\",\"{}\",-10000000,4294967295,5,0]",
            "x".repeat(100)
        )
    });
    let entries = entries.collect::<Vec<_>>().join(",");
    let longest = |more: &str| read(&format!("{HEAD}{entries}{more}]}}"));
    let most = longest("").expect("as many as the limit");
    assert!(write(&most).len() <= limits::PROGRESS_BYTES);
    assert_eq!(longest(",[\"-\",\"\",0,0,0,0]"), Err(Unreadable::TooLong));
}
