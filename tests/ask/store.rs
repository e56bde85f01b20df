//! Kept recall as text.

use super::chance::Chance;
use super::each;
use plyline::ask::again::{FARTHEST_DAY, Outcome, Progress};
use plyline::ask::store::{Unreadable, VERSION, read, write};
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
        assert_eq!(json["version"], VERSION);
        let list = json["positions"].as_array().expect("a list");
        assert_eq!(list.len(), progress.all().len());
        for (entry, kept) in list.iter().zip(progress.all()) {
            assert_eq!(entry["position"], kept.position);
            assert_eq!(entry["day"], kept.day);
            assert_eq!(entry["missed"], kept.missed);
        }
        // Another program may set it anew, with other white space and names in another order.
        let anew = serde_json::to_string_pretty(&json)
            .expect("JSON")
            .replace('/', "\\/");
        assert_eq!(read(&anew), Ok(progress));
    }
    assert!(some().all().len() > 200);
}

#[test]
fn a_newer_version_is_told_whatever_is_in_it() {
    for body in [
        "\"positions\":[]",
        "\"more\":{\"a\":[1.5e3,null,true,\"\\\"]}\"]},\"positions\":{}",
        "\"positions\":[{\"position\":\"x\",\"new\":false}]",
    ] {
        let text = format!("{{\"plyline\":\"progress\",{body},\"version\":7}}");
        assert_eq!(read(&text), Err(Unreadable::Newer(7)), "{text}");
    }
}

#[test]
fn what_is_not_progress_is_told_with_the_place() {
    let entry = "{\"position\":\"8/8 w - -\",\"choice\":\"e2e4\",\"step\":1,\"day\":2,\"asked\":3,\"missed\":true}";
    let whole =
        |entry: &str| format!("{{\"plyline\":\"progress\",\"version\":1,\"positions\":[{entry}]}}");
    assert!(read(&whole(entry)).is_ok());
    for (from, to) in [
        ("\"step\":1", "\"step\":6"),
        ("\"step\":1", "\"step\":-1"),
        ("\"step\":1", "\"step\":1.5"),
        ("\"day\":2", "\"day\":10000001"),
        ("\"day\":2", "\"day\":99999999999999999999"),
        ("\"day\":2", "\"day\":"),
        ("\"asked\":3", "\"asked\":4294967296"),
        ("\"missed\":true", "\"missed\":1"),
        ("\"missed\":true", "\"mist\":true"),
        (",\"missed\":true", ""),
        ("8/8 w - -", "<b>"),
        ("8/8 w - -", "\\u0041"),
        ("8/8 w - -", "\u{e9}"),
        ("e2e4\",", "e2e4\""),
        ("\"choice\":", "\"choice\""),
    ] {
        let text = whole(&entry.replace(from, to));
        let Err(Unreadable::Corrupt { at, wanted }) = read(&text) else {
            panic!("{text} is read as {:?}", read(&text));
        };
        assert!(at <= text.len() && !wanted.is_empty());
    }
    let long = whole(&entry.replace("8/8 w - -", &"8".repeat(101)));
    assert!(matches!(read(&long), Err(Unreadable::Corrupt { .. })));
    for text in [
        "",
        "null",
        "[]",
        "{}",
        "{\"version\":1,\"positions\":[]}",
        "{\"plyline\":\"counts\",\"version\":1,\"positions\":[]}",
        "{\"plyline\":\"progress\",\"positions\":[]}",
        "{\"plyline\":\"progress\",\"version\":0,\"positions\":[]}",
        "{\"plyline\":\"progress\",\"version\":1}",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[],\"more\":1}",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[]} x",
        "{\"plyline\":\"progress\",\"version\":1,\"positions\":[],}",
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
    let text: String = text.split_inclusive('\n').take(6).collect::<String>();
    let text = text.trim_end().trim_end_matches(',').to_owned() + "]}";
    let whole = read(&text).expect("progress");
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
            // Another digit is another number, and nothing tells; but no position goes missing.
            assert!(progress.all().len() + 1 >= whole.all().len());
            assert_eq!(read(&write(&progress)), Ok(progress));
        }
    }
}

#[test]
fn brackets_without_end_are_no_stack_without_end() {
    for open in [
        "[",
        "{\"a\":",
        "{\"plyline\":\"progress\",\"version\":9,\"a\":[",
    ] {
        assert!(matches!(
            read(&open.repeat(100_000)),
            Err(Unreadable::Corrupt { .. })
        ));
    }
    let deep = format!("{{\"a\":{}{}}}", "[".repeat(100_000), "]".repeat(100_000));
    assert!(matches!(read(&deep), Err(Unreadable::Corrupt { .. })));
}

#[test]
fn a_text_as_long_as_the_limit_is_read_and_the_longest_that_is_written_is_shorter() {
    let text = write(&Progress::default());
    let filled = |length: usize| text.clone() + &" ".repeat(length - text.len());
    assert!(read(&filled(limits::PROGRESS_BYTES)).is_ok());
    assert_eq!(
        read(&filled(limits::PROGRESS_BYTES + 1)),
        Err(Unreadable::TooLong)
    );
    let entries = (0..limits::POSITIONS).map(|at| {
        format!(
            "{{\"position\":\"{at:0>100}\",\"choice\":\"{}\",\"step\":5,\"day\":-10000000,\
             \"asked\":4294967295,\"missed\":false}}",
            "x".repeat(100)
        )
    });
    let entries = entries.collect::<Vec<_>>().join(",");
    let longest = |more: &str| {
        read(&format!(
            "{{\"plyline\":\"progress\",\"version\":1,\"positions\":[{entries}{more}]}}"
        ))
    };
    let most = longest("").expect("as many as the limit");
    assert!(write(&most).len() <= limits::PROGRESS_BYTES);
    let more =
        ",{\"position\":\"-\",\"choice\":\"\",\"step\":0,\"day\":0,\"asked\":0,\"missed\":true}";
    assert_eq!(longest(more), Err(Unreadable::TooLong));
}
