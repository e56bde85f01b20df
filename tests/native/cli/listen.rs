//! `plyline listen`: what goes where, what programs read, and listening again.

use super::run::{Run, json_lines, run, site};
use std::path::Path;

const TALK: &str =
    "[0:01] e4 e5, knight f3, knight e6, bishop b5, a6, bishop a4, knight f6, castles.\n";

fn listen(folder: &Path, words: &[&str]) -> Run {
    run(folder, &[&["listen", "talk.txt"], words].concat())
}

/// A text without its line ends.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_draft_goes_to_standard_output_and_doubts_to_standard_error() {
    let folder = site("listen", &[("talk.txt", TALK)]);
    let done = listen(&folder, &[]);
    assert_eq!(done.code, 0);
    assert!(
        done.out
            .starts_with("[Event \"Draft, heard in talk.txt\"]\n"),
        "{}",
        done.out
    );
    assert!(done.out.contains("2... Nc6"), "{}", done.out);
    assert!(done.err.contains("P306"), "{}", done.err);
    assert!(done.err.contains("talk.txt:1:"), "{}", done.err);
}

#[test]
fn a_program_reads_each_doubt_with_its_time_and_what_it_may_mean() {
    let folder = site("listen-json", &[("talk.txt", TALK)]);
    let done = listen(&folder, &["--format", "json"]);
    let doubts = json_lines(&done.err);
    let doubt = doubts
        .iter()
        .find(|it| it["code"] == "P306")
        .expect("a doubt");
    assert!(
        doubt["time"]
            .as_f64()
            .is_some_and(|time| (1.0..6.0).contains(&time))
    );
    assert!(
        doubt["said"]
            .as_str()
            .is_some_and(|said| said.contains("knight e6"))
    );
    let taken = doubt["taken"].as_u64().expect("what is in the draft") as usize;
    let candidate = &doubt["candidates"][taken];
    assert_eq!(candidate["at"], serde_json::json!(["e4", "e5", "Nf3"]));
    assert_eq!(candidate["moves"], serde_json::json!(["Nc6"]));
    assert_eq!(doubt["behind"], 6);
    assert_eq!(
        (doubt["file"].as_str(), doubt["line"].as_u64()),
        (Some("talk.txt"), Some(1))
    );
}

#[test]
fn a_talk_of_which_nothing_is_understood_fails_and_prints_no_draft() {
    let folder = site("listen-nothing", &[("talk.txt", "[0:01] good evening\n")]);
    let done = listen(&folder, &[]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.contains("P301"), "{}", done.err);
}

#[test]
fn what_cannot_be_done_is_said_and_fails() {
    let folder = site(
        "listen-refused",
        &[("talk.txt", TALK), ("bad.pgn", "1. e4 e9 *\n")],
    );
    for (words, why) in [
        (&["--from", "1.e4 Ke4"][..], "Ke4 cannot be played there"),
        (&["--lang", "xx"], "only en is known"),
        (&["--lesson", "none.pgn"], "none.pgn"),
        (&["--lesson", "bad.pgn"], "not all of this can be read"),
    ] {
        let done = listen(&folder, words);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{words:?}");
        assert!(done.err.contains(why), "{}", done.err);
    }
}

#[test]
fn a_mended_draft_is_right_and_what_was_deleted_stays_deleted() {
    let folder = site("listen-again", &[("talk.txt", TALK)]);
    let first = listen(&folder, &[]).out;
    let mended = first
        .replace("7. O-O", "")
        .replace("2... Nc6 {", "2... Nc6 {A comment of the author's.\n\n");
    std::fs::write(folder.join("draft.pgn"), &mended).expect("the draft");
    let again = listen(&folder, &["--lesson", "draft.pgn"]);
    assert_eq!(again.code, 0, "{}", again.err);
    assert!(
        plain(&again.out).contains("A comment of the author's."),
        "{}",
        again.out
    );
    assert_eq!(
        again.out.matches("Hear:").count(),
        first.matches("Hear:").count()
    );
    let cut = first.split(" 4. Ba4").next().expect("a start").to_owned() + " *\n";
    std::fs::write(folder.join("cut.pgn"), cut).expect("the draft");
    let cut = listen(&folder, &["--lesson", "cut.pgn"]);
    assert!(!cut.out.contains("Ba4"), "{}", cut.out);
}

#[test]
fn a_lesson_without_times_gets_them_and_what_is_missing_on_either_side_is_listed() {
    let lesson = "[Event \"Spanish\"]\n\n1. e4 e5 2. Nf3 Nc6 (2... d6 {solid}) 3. Bb5 a6 4. Ba4 {the main line} *\n";
    let folder = site(
        "listen-lesson",
        &[("talk.txt", TALK), ("lesson.pgn", lesson)],
    );
    let done = listen(&folder, &["--lesson", "lesson.pgn", "--format", "json"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.out.contains("[Event \"Spanish\"]"), "{}", done.out);
    assert!(
        plain(&done.out).contains("the main line") && done.out.contains("{solid}"),
        "{}",
        done.out
    );
    assert!(!done.out.contains("Nf6"), "nothing is added: {}", done.out);
    assert!(done.out.contains("Hear: 0:01"), "{}", done.out);
    let told = json_lines(&done.err);
    let of = |code: &str| {
        told.iter()
            .find(|it| it["code"] == code)
            .expect("told")
            .clone()
    };
    assert_eq!(
        of("P310")["candidates"][0]["moves"],
        serde_json::json!(["Nf6"])
    );
    assert_eq!(
        of("P311")["candidates"][0]["moves"],
        serde_json::json!(["d6"])
    );
}

/// The demo's talk and the page about it.
const DEMO: &str = "demo-site/pages/told-by-the-tide-machine";

/// What a page writes with these three.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[test]
fn the_demo_shows_the_draft_that_is_written_of_its_talk() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = std::fs::read_to_string(root.join(DEMO).join("index.html")).expect("a page");
    let done = run(root, &["listen", &format!("{DEMO}/talk.vtt")]);
    let draft = escaped(done.out.trim());
    assert!(
        page.contains(&format!("\n<pre class=\"draft\">\n{draft}\n</pre>\n")),
        "the page shows another; does it still say what was mended?\n{draft}"
    );
}

#[test]
fn the_demo_speaks_captions_and_prints_the_same_words() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let read = |path: &str| std::fs::read_to_string(root.join(path)).expect("a file");
    let spoken = plain(&read("demo-site/talk/talk.txt"));
    let captions = read(&format!("{DEMO}/talk.vtt"));
    let captions = captions.lines().skip(1).filter(|it| !it.contains("-->"));
    assert_eq!(plain(&captions.collect::<Vec<_>>().join("\n")), spoken);
    let page = read(&format!("{DEMO}/index.html"));
    let (_, words) = page.split_once("<h2 id=\"words\">").expect("its words");
    let (words, _) = words.split_once("<p class=\"note\">").expect("their end");
    let (_, words) = words.split_once("</h2>").expect("a heading");
    let words = words.replace("<p>", " ").replace("</p>", " ");
    assert_eq!(plain(&words), escaped(&spoken));
}
