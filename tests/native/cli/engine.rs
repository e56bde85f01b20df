//! `plyline weigh --engine`: what is asked, kept and told.

use super::run::{Run, json_lines, run, site};
use serde_json::Value;
use std::fs;
use std::path::Path;

const HEAD: &str = "[SetUp \"1\"]\n[FEN \"4k3/7p/8/8/8/8/P7/4K3 w - - 0 1\"]\n\n";

/// An engine that finds for the side to move what is written in the file `score`, and can always play its king; it notes
/// each position that it is asked about.
const ENGINE: &str = "while read -r line; do case \"$line\" in
uci) echo id name Steady 1; echo id author Nobody; echo uciok ;;
isready) echo readyok ;;
quit) exit ;;
position*) echo \"$line\" >>asked; case \"$line\" in *' w '*) move=e1e2; side=w ;; *) move=e8e7; side=b ;; esac ;;
go*) echo info depth 5 score $(cat score-$side) nodes 100 pv $move; echo bestmove $move ;;
esac; done
";

fn folder(name: &str, moves: &str, white: &str, black: &str) -> std::path::PathBuf {
    let text = format!("{HEAD}{moves} *\n");
    site(
        name,
        &[
            ("a.pgn", &text),
            ("engine.sh", ENGINE),
            ("score-w", white),
            ("score-b", black),
        ],
    )
}

fn weigh(folder: &Path, words: &[&str]) -> Run {
    let own = [
        "weigh",
        "--budget",
        "20000",
        "--engine",
        "sh engine.sh",
        "--format",
        "json",
    ];
    run(folder, &[&own, words].concat())
}

fn codes(done: &Run) -> Vec<(String, String)> {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let lines = json_lines(&done.out).into_iter();
    lines
        .map(|it| (text(&it["code"]), text(&it["message"])))
        .collect()
}

#[test]
fn what_an_engine_says_is_kept_for_white_and_only_what_is_new_is_asked_again() {
    let folder = folder("engine-kept", "1. a3 h6 {Even.}", "cp 30", "cp 30");
    let done = weigh(&folder, &["a.pgn"]);
    assert_eq!(
        (done.code, done.out.as_str(), done.err.as_str()),
        (0, "", "")
    );
    let kept = fs::read_to_string(folder.join("a.assessments.json")).expect("the file");
    let kept: Value = serde_json::from_str(&kept).expect("JSON");
    assert_eq!(kept["plyline"], "assessments 1");
    assert_eq!(kept["engine"]["name"], "Steady 1");
    assert_eq!(kept["limit"]["nodes"], 1_000_000);
    let positions = kept["positions"].as_array().expect("positions");
    let scores: Vec<&Value> = positions.iter().map(|it| &it["score"]["pawns"]).collect();
    assert_eq!(scores, [0.3, -0.3, 0.3]);
    assert_eq!(positions[1]["fen"], "4k3/7p/8/8/8/P7/8/4K3 b - -");
    assert_eq!(positions[1]["line"], Value::from(vec!["Ke7"]));
    let asked = || {
        fs::read_to_string(folder.join("asked"))
            .expect("the notes")
            .lines()
            .count()
    };
    assert_eq!(asked(), 3);
    fs::write(
        folder.join("a.pgn"),
        format!("{HEAD}1. a3 h6 2. a4 {{Even.}} *\n"),
    )
    .expect("the file");
    assert_eq!(weigh(&folder, &["a.pgn"]).code, 0);
    assert_eq!(asked(), 4);
}

#[test]
fn a_sign_far_from_the_score_a_choice_and_a_swing_are_disputed() {
    for (moves, white, black, wanted) in [
        (
            "1. a3 $18 h6 {Even.}",
            "cp 0",
            "cp 250",
            vec!["P210", "P212"],
        ),
        ("1. a3 $18 {So.} h6 {Even.}", "cp 0", "cp -180", vec![]),
        ("1. a3 $10 {So.} h6 {Even.}", "cp 0", "cp 90", vec![]),
        ("1. a3 $10 {So.} h6 {Even.}", "cp 0", "cp 110", vec!["P210"]),
        (
            "1. a3 $10 {So.} h6 {Even.}",
            "cp 0",
            "cp 300 upperbound",
            vec![],
        ),
        ("1. a3 $13 {So.} h6 {Even.}", "cp 0", "mate 3", vec![]),
        (
            "1. a3 {Choose: always} h6 {Even.}",
            "cp 60",
            "cp 60",
            vec!["P211"],
        ),
        (
            "1. a3 {Choose: always} h6 {Even.}",
            "cp 60",
            "cp 40",
            vec![],
        ),
        ("1. a3 {Bold.} h6 {Even.}", "cp 200", "cp 200", vec![]),
        (
            "1. a3 $18 {So.\n\nWeighed: I am sure.} h6 {Even.}",
            "cp 0",
            "cp 250",
            vec![],
        ),
    ] {
        let folder = folder("engine-disputed", moves, white, black);
        let done = weigh(&folder, &["a.pgn"]);
        let found = codes(&done);
        let of_a3: Vec<&str> = found
            .iter()
            .map(|(code, _)| code.as_str())
            .filter(|it| *it != "P000")
            .collect();
        let is_first = |it: &&(String, String)| it.1.contains("1.a3");
        let first: Vec<&str> = found
            .iter()
            .filter(is_first)
            .map(|(code, _)| code.as_str())
            .collect();
        let wanted: Vec<&str> = wanted
            .into_iter()
            .filter(|it| *it != "P212" || first.contains(it))
            .collect();
        assert_eq!(
            first, wanted,
            "{moves} {white} {black}: {of_a3:?} {found:?} {}",
            done.err
        );
    }
}

#[test]
fn an_engine_that_cannot_be_used_and_a_file_that_is_not_its_own_are_said_and_nothing_is_lost() {
    let folder = folder("engine-amiss", "1. a3 h6 {Even.}", "cp 0", "cp 0");
    let none = run(
        &folder,
        &["weigh", "--budget", "20000", "--engine", "./none", "a.pgn"],
    );
    assert_eq!(none.code, 2);
    assert!(
        none.err.contains("the engine cannot be used: it ./none: "),
        "{}",
        none.err
    );
    assert!(!folder.join("a.assessments.json").exists());
    let open = run(&folder, &["weigh", "--engine", "sh 'engine.sh", "a.pgn"]);
    assert_eq!(
        (open.code, open.err.contains("is not closed")),
        (2, true),
        "{}",
        open.err
    );
    assert_eq!(weigh(&folder, &["a.pgn"]).code, 0);
    let kept = fs::read(folder.join("a.assessments.json")).expect("the file");
    for words in [["--depth", "5", "a.pgn"], ["--nodes", "9", "a.pgn"]] {
        let other = weigh(&folder, &words);
        assert_eq!(other.code, 2);
        assert!(
            other.err.contains("made with another limit"),
            "{}",
            other.err
        );
    }
    assert_eq!(
        fs::read(folder.join("a.assessments.json")).expect("the file"),
        kept
    );
    let newer = String::from_utf8_lossy(&kept).replace("assessments 1", "assessments 2");
    fs::write(folder.join("a.assessments.json"), newer).expect("the file");
    let done = weigh(&folder, &["a.pgn"]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("written as assessments 2"),
        "{}",
        done.err
    );
}
