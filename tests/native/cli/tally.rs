//! `plyline tally`, `unanswered`, `draft` and `games` on small collections of our own.

use super::run::{Run, run, site};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

const LESSON: &str = "1. e4 e6 (1... c6 2. d4 d5) 2. d4 d5 3. e5 c5 *\n";

/// A game with these moves.
fn game(tags: &str, moves: &str, result: &str) -> String {
    format!("[White \"Ada\"]\n[Black \"Bo\"]\n{tags}[Result \"{result}\"]\n\n{moves} {result}\n\n")
}

/// Four games, one of which comes to the main line by another order.
fn games() -> String {
    [
        game(
            "[Date \"2021.05.01\"]\n",
            "1. e4 e6 2. d4 d5 3. e5 c5 4. c3",
            "1-0",
        ),
        game("[Date \"2022.05.??\"]\n", "1. d4 e6 2. e4 d5 3. Nc3", "0-1"),
        game(
            "[Date \"2022.06.02\"]\n",
            "1. e4 c6 2. d4 d5 3. exd5 cxd5",
            "1/2-1/2",
        ),
        game("", "1. e4 e5", "*"),
    ]
    .concat()
}

/// A folder with the lesson and these games, after they were counted.
fn tallied(name: &str, games: &str) -> (PathBuf, Run) {
    let folder = site(name, &[("l.pgn", LESSON), ("g.pgn", games)]);
    let done = run(&folder, &["tally", "l.pgn", "--games", "g.pgn"]);
    (folder, done)
}

fn counts(folder: &Path, file: &str) -> Value {
    let text = fs::read_to_string(folder.join(file)).expect("a counts file");
    serde_json::from_str(&text).expect("JSON")
}

/// The games and the next moves of each position, as words.
fn told(counts: &Value) -> Vec<String> {
    let positions = counts["positions"].as_array().expect("positions");
    let told = |it: &Value| {
        let next = it["next"].as_array().expect("next moves");
        let next = next
            .iter()
            .map(|it| format!(" {} {}", it["move"].as_str().expect("SAN"), it["games"]));
        format!("{}{}", it["games"], next.collect::<String>())
    };
    positions.iter().map(told).collect()
}

#[test]
fn a_game_counts_at_each_position_of_the_lesson_that_it_comes_to_by_any_order() {
    let (folder, done) = tallied("tally", &games());
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(
        done.err,
        "plyline: l.counts.json: 4 of 4 games come to this lesson; 10 of its 10 positions are met\n"
    );
    let counts = counts(&folder, "l.counts.json");
    assert_eq!(
        told(&counts),
        [
            "4 e4 3 d4 1",
            "3 c6 1 e5 1 e6 1",
            "1 d4 1",
            // The variation comes before the move that goes on.
            "1 d4 1",
            "1 d5 1",
            "1 exd5 1",
            "2 d5 2",
            "2 Nc3 1 e5 1",
            "1 c5 1",
            "1 c3 1",
        ]
    );
    assert_eq!(counts["date"], "2022.06.02");
    assert_eq!(
        counts["results"],
        json!({ "1-0": 1, "1/2-1/2": 1, "0-1": 1, "*": 1 })
    );
}

#[test]
fn a_position_that_comes_twice_counts_at_its_first_visit() {
    let lesson = "1. Nf3 Nf6 2. Ng1 Ng8 3. e4 *\n";
    let games = game("", "1. Nf3 Nf6 2. Ng1 Ng8 3. d4", "1-0");
    let folder = site("tally-twice", &[("l.pgn", lesson), ("g.pgn", &games)]);
    run(&folder, &["tally", "l.pgn", "--games", "g.pgn"]);
    assert_eq!(told(&counts(&folder, "l.counts.json"))[0], "1 Nf3 1");
}

#[test]
fn damaged_games_are_named_with_place_and_reason_and_the_others_count() {
    let games = [
        game("", "1. e4 e6\n2. Ke3", "1-0"),
        games(),
        game("", "1. e4 {Qz9}\n(1. Qz9)\n1... Qz9 2. Ke3", "1-0"),
        game("", "1. e4 e6 2. d4\n0-0 d5", "1-0"),
        game("[FEN \"nothing\"]\n", "1. e4", "1-0"),
        "[White \"Cy\"]\n[Black \"Di\"]\n[Event \"Cup\"]\n\n1. e4 e6 2. d4".to_owned(),
    ];
    let lines = |upto: usize| games[..upto].concat().matches('\n').count();
    let (folder, done) = tallied("tally-damaged", &games.concat());
    let told = [
        (1, 6, "Ada against Bo, ?, ?", "2.Ke3 cannot be played"),
        (
            6,
            lines(2) + 7,
            "Ada against Bo, ?, ?",
            "\u{201c}Qz9\u{201d} is no move",
        ),
        (
            7,
            lines(3) + 6,
            "Ada against Bo, ?, ?",
            "2...O-O cannot be played",
        ),
        (
            8,
            lines(4) + 1,
            "Ada against Bo, ?, ?",
            "the position in its FEN tag cannot be read",
        ),
        (
            9,
            lines(5) + 1,
            "Cy against Di, Cup, ?",
            "the file ends inside it",
        ),
    ];
    let told = told.map(|(game, line, who, why)| {
        format!("plyline: g.pgn:{line}: game {game}, {who}, is damaged and not counted: {why}\n")
    });
    assert!(done.err.starts_with(&told.concat()), "{}", done.err);
    let counts = counts(&folder, "l.counts.json");
    assert_eq!(
        (&counts["games"], &counts["damaged"]),
        (&json!(4), &json!(5))
    );
}

#[test]
fn a_damaged_game_keeps_its_number_and_line_in_a_long_file_and_the_first_twenty_are_named() {
    // Blocks of a quarter of a megabyte are read apart.
    let one = game("", "1. e4 e6 2. d4 d5 3. e5 c5", "1-0");
    let mut long = one.repeat(4_000);
    assert!(long.len() > 1 << 18, "{}", long.len());
    let line = long.matches('\n').count() + 5;
    long += &game("", "1. e4 e6 2. Ke3", "1-0").repeat(23);
    let files = [("l.pgn", LESSON), ("a.pgn", &one), ("g.pgn", &long)];
    let folder = site("tally-damaged-late", &files);
    let done = run(&folder, &["tally", "l.pgn", "--games", "a.pgn", "g.pgn"]);
    let first = format!("plyline: g.pgn:{line}: game 4001, Ada against Bo, ?, ?, is damaged");
    assert!(done.err.starts_with(&first), "{}", done.err);
    assert_eq!(done.err.matches("is damaged and not counted").count(), 20);
    assert!(
        done.err.contains("plyline: and 3 more damaged games\n"),
        "{}",
        done.err
    );
}

#[test]
fn a_comment_that_is_never_closed_ends_the_last_game() {
    let games = format!("{}[White \"Cy\"]\n\n1. e4 e6 {{open\n", games());
    let (folder, done) = tallied("tally-open", &games);
    assert!(
        done.err.contains("game 5, Cy against ?, ?, ?, is damaged"),
        "{}",
        done.err
    );
    let filtered = ["tally", "l.pgn", "--games", "g.pgn", "--since", "2000"];
    assert!(run(&folder, &filtered).err.contains("; 2 games left out\n"));
}

#[test]
fn tags_may_follow_moves_without_an_empty_line() {
    let games = games()
        .replace("\n\n[", "\n[")
        .replace("Ada", "Ada Lovelace-Smith");
    let (folder, done) = tallied("tally-tight", &games);
    assert_eq!(
        counts(&folder, "l.counts.json")["games"],
        json!(4),
        "{}",
        done.err
    );
    let listed = run(
        &folder,
        &["games", "l.pgn", "--at", "start", "--games", "g.pgn"],
    );
    assert_eq!(listed.out.lines().count(), 4, "{}", listed.out);
}

#[test]
fn a_bracket_that_begins_a_line_of_a_comment_begins_no_game() {
    let moves = "1. e4 {\n[%clk 0:03:00]\n} e6 {\n\n[a note]\n} 2. d4 d5";
    let games = game("", moves, "1-0") + &game("", moves, "0-1");
    let (folder, _) = tallied("tally-notes", &games);
    let counts = counts(&folder, "l.counts.json");
    assert_eq!(
        (&counts["games"], &counts["damaged"]),
        (&json!(2), &json!(0))
    );
}

#[test]
fn what_is_no_counts_file_is_not_overwritten() {
    let folder = site("tally-over", &[("l.pgn", LESSON), ("g.pgn", &games())]);
    for out in ["l.pgn", "g.pgn"] {
        let done = run(
            &folder,
            &["tally", "l.pgn", "--games", "g.pgn", "--out", out],
        );
        assert_eq!(done.code, 2);
        assert!(done.err.contains("it is left as it is"), "{}", done.err);
    }
    assert_eq!(
        fs::read_to_string(folder.join("l.pgn")).expect("the lesson"),
        LESSON
    );
}

#[test]
fn filters_leave_games_out_and_a_date_that_is_known_in_part_passes_by_all_of_it() {
    let folder = site("tally-filters", &[("l.pgn", LESSON), ("g.pgn", &games())]);
    let left = |words: &[&str]| {
        let words = [
            &["tally", "l.pgn", "--games", "g.pgn", "--out", "c.json"],
            words,
        ]
        .concat();
        assert_eq!(run(&folder, &words).code, 0);
        let counts = counts(&folder, "c.json");
        (counts["games"].clone(), counts["left"].clone())
    };
    assert_eq!(left(&["--since", "2022"]), (json!(2), json!(2)));
    assert_eq!(left(&["--since", "2022-05-02"]), (json!(1), json!(3)));
    assert_eq!(left(&["--until", "2022.05"]), (json!(2), json!(2)));
    assert_eq!(left(&["--rating", "2000-2400"]), (json!(0), json!(4)));
}

#[test]
fn counts_are_split_by_year_rating_and_time() {
    let rated = "[Date \"2020.01.01\"]\n[WhiteElo \"2390\"]\n[BlackElo \"2411\"]\n[TimeControl \"180+2\"]\n";
    let games = game(rated, "1. e4 e6", "1-0") + &game("", "1. d4 d5", "0-1");
    let folder = site("tally-by", &[("l.pgn", LESSON), ("g.pgn", &games)]);
    let parts = |by: &str| {
        run(&folder, &["tally", "l.pgn", "--games", "g.pgn", "--by", by]);
        let counts = counts(&folder, "l.counts.json");
        let by = counts["positions"][0]["by"][by].as_object().cloned();
        by.expect("a split")
            .into_iter()
            .map(|(name, it)| format!("{name} {}", it["games"]))
            .collect::<Vec<_>>()
    };
    assert_eq!(parts("year"), ["2020 1", "unknown 1"]);
    assert_eq!(parts("rating"), ["2400-2599 1", "unrated 1"]);
    assert_eq!(parts("time"), ["blitz 1", "unknown 1"]);
}

#[test]
fn identical_games_count_once_where_that_is_asked_for() {
    let folder = site(
        "tally-once",
        &[("l.pgn", LESSON), ("g.pgn", &games().repeat(3))],
    );
    let all = |words: &[&str]| {
        run(
            &folder,
            &[&["tally", "l.pgn", "--games", "g.pgn"], words].concat(),
        );
        counts(&folder, "l.counts.json")["games"].clone()
    };
    assert_eq!((all(&[]), all(&["--once"])), (json!(12), json!(4)));
}

#[test]
fn packed_collections_are_read_as_plain_ones() {
    let folder = site("tally-packed", &[("l.pgn", LESSON), ("g.pgn", &games())]);
    let text = games();
    let mut gz = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::default());
    gz.write_all(text.as_bytes()).expect("packed");
    fs::write(folder.join("g.pgn.gz"), gz.finish().expect("packed")).expect("written");
    let zst = zstd::encode_all(text.as_bytes(), 3).expect("packed");
    fs::write(folder.join("g.pgn.zst"), &zst).expect("written");
    fs::write(folder.join("cut.pgn.zst"), &zst[..zst.len() / 2]).expect("written");
    let mut bz = bzip2::write::BzEncoder::new(Vec::new(), bzip2::Compression::default());
    bz.write_all(text.as_bytes()).expect("packed");
    fs::write(folder.join("g.pgn.bz2"), bz.finish().expect("packed")).expect("written");
    let of = |file: &str| {
        let done = run(
            &folder,
            &["tally", "l.pgn", "--games", file, "--out", "c.json"],
        );
        (done.code, told(&counts(&folder, "c.json")))
    };
    let plain = of("g.pgn");
    assert_eq!(plain.0, 0);
    for file in ["g.pgn.gz", "g.pgn.zst", "g.pgn.bz2"] {
        assert_eq!(of(file), plain, "{file}");
    }
    // What is cut off is said, and what was counted before stays.
    let done = run(
        &folder,
        &[
            "tally",
            "l.pgn",
            "--games",
            "cut.pgn.zst",
            "--out",
            "c.json",
        ],
    );
    assert_eq!(done.code, 2);
    assert!(
        done.err
            .contains("cut.pgn.zst: it cannot be read to its end"),
        "{}",
        done.err
    );
    assert_eq!(told(&counts(&folder, "c.json")), plain.1);
}

#[test]
fn parts_of_a_collection_add_up_to_the_whole_in_any_order() {
    let mut all = String::new();
    for at in 0..40 {
        let tags = format!("[Date \"20{:02}.01.01\"]\n", at % 7 + 10);
        let moves = [
            "1. e4 e6 2. d4 d5",
            "1. d4 e6 2. e4",
            "1. e4 c6 2. d4 d5 3. e5",
            "1. c4",
        ][at % 4];
        let result = ["1-0", "0-1", "1/2-1/2"][at % 3];
        write!(all, "{}", game(&tags, moves, result)).expect("a text");
    }
    let cuts = all
        .match_indices("[White")
        .map(|(at, _)| at)
        .collect::<Vec<_>>();
    for cut in [cuts[1], cuts[13], cuts[39]] {
        let files = [
            ("l.pgn", LESSON),
            ("all.pgn", all.as_str()),
            ("a.pgn", &all[..cut]),
            ("b.pgn", &all[cut..]),
        ];
        let folder = site("tally-merge", &files);
        for name in ["all", "a", "b"] {
            let (file, out) = (format!("{name}.pgn"), format!("{name}.json"));
            run(
                &folder,
                &[
                    "tally", "l.pgn", "--by", "year", "--games", &file, "--out", &out,
                ],
            );
        }
        run(
            &folder,
            &["tally", "--merge", "a.json", "b.json", "--out", "ab.json"],
        );
        run(
            &folder,
            &["tally", "--merge", "b.json", "a.json", "--out", "ba.json"],
        );
        let (ab, ba) = (counts(&folder, "ab.json"), counts(&folder, "ba.json"));
        assert_eq!(ab, ba);
        let mut whole = counts(&folder, "all.json");
        whole["source"] = json!(["a.pgn", "b.pgn"]);
        assert_eq!(ab, whole);
    }
}

/// Two games of rated players, whose ratings differ by 100 and by 45, and one with one rating.
fn rated() -> [String; 3] {
    let tags = |white, black| format!("[WhiteElo \"{white}\"]\n[BlackElo \"{black}\"]\n");
    [
        game(&tags("2100", "2000"), "1. e4 e6 2. d4", "0-1"),
        game(&tags("1955", "2000"), "1. e4 c6", "*"),
        game(&tags("2100", "?"), "1. e4 e6", "1-0"),
    ]
}

#[test]
fn what_ratings_would_predict_is_told_at_positions_and_moves() {
    // FIDE Rating Regulations, table 8.1.2: 64 percents at 100 points, 56 at 45, from memory.
    let (folder, done) = tallied("tally-rated", &rated().concat());
    let counts = counts(&folder, "l.counts.json");
    let start = &counts["positions"][0];
    let both = json!({ "games": 2, "sum": 64 + 44 });
    assert_eq!(start["predicted"], both, "{}", done.err);
    assert_eq!(start["next"][0]["predicted"], both);
    let next = counts["positions"][1]["next"].as_array().expect("moves");
    let told: Vec<(&Value, &Value)> = next
        .iter()
        .map(|it| (&it["move"], &it["predicted"]))
        .collect();
    let (e6, c6) = (
        json!({ "games": 1, "sum": 64 }),
        json!({ "games": 1, "sum": 44 }),
    );
    assert_eq!(told, [(&json!("e6"), &e6), (&json!("c6"), &c6)]);
    let (folder, _) = tallied("tally-unrated", &games());
    let text = fs::read_to_string(folder.join("l.counts.json")).expect("a counts file");
    assert!(!text.contains("predicted"), "{text}");
}

#[test]
fn what_is_predicted_adds_up_also_with_a_file_that_does_not_say_it() {
    let [first, second, third] = rated();
    let files = [
        ("l.pgn", LESSON),
        ("a.pgn", &first),
        ("b.pgn", &second),
        ("old.pgn", &third),
    ];
    let folder = site("tally-predicted", &files);
    for name in ["a", "b", "old"] {
        let (file, out) = (format!("{name}.pgn"), format!("{name}.json"));
        run(
            &folder,
            &["tally", "l.pgn", "--games", &file, "--out", &out],
        );
    }
    let old = fs::read_to_string(folder.join("old.json")).expect("a counts file");
    assert!(!old.contains("predicted"), "{old}");
    let merged = [
        "tally", "--merge", "old.json", "b.json", "a.json", "--out", "all.json",
    ];
    assert_eq!(run(&folder, &merged).code, 0);
    let all = counts(&folder, "all.json");
    let start = &all["positions"][0];
    assert_eq!(
        (&start["games"], &start["predicted"]),
        (&json!(3), &json!({ "games": 2, "sum": 108 }))
    );
}

#[test]
fn files_that_do_not_belong_together_are_not_merged() {
    let files = [
        ("l.pgn", LESSON),
        ("m.pgn", "1. d4 *\n"),
        ("g.pgn", &games()),
        ("h.pgn", &games()),
    ];
    let folder = site("tally-apart", &files);
    let count = |words: &str| {
        let words: Vec<&str> = ["tally"].into_iter().chain(words.split(' ')).collect();
        run(&folder, &words)
    };
    count("l.pgn --games g.pgn --out a.json");
    count("m.pgn --games h.pgn --out lesson.json");
    count("l.pgn --games h.pgn --since 2022 --out filter.json");
    count("l.pgn --games h.pgn --once --out once.json");
    let newer = fs::read_to_string(folder.join("a.json")).expect("a file");
    fs::write(
        folder.join("newer.json"),
        newer.replace("counts 1", "counts 9"),
    )
    .expect("written");
    for (other, why) in [
        ("lesson.json", "another lesson"),
        ("filter.json", "other filters"),
        ("once.json", "--once"),
        ("newer.json", "counts 9"),
        ("a.json", "two collections are named g.pgn"),
    ] {
        let done = count(&format!("--merge a.json {other} --out all.json"));
        assert_eq!(done.code, 2, "{other}");
        assert!(done.err.contains(why), "{}", done.err);
    }
    assert!(!folder.join("all.json").exists());
}

/// A collection in which replies to 1.e4 are played so often.
fn many(replies: &[(&str, usize)]) -> String {
    let mut all = String::new();
    for (moves, count) in replies {
        all += &game("", moves, "1-0").repeat(*count);
    }
    all
}

#[test]
fn moves_without_a_reply_are_told_with_their_numbers_those_first_that_are_met_most() {
    let games = many(&[
        ("1. e4 e6 2. d4", 60),
        ("1. e4 c5", 30),
        ("1. e4 c6 2. d4", 9),
        ("1. e4 a6", 1),
    ]);
    let lesson = "1. e4 e6 (1... c6) (1... d5 2. exd5) 2. d4 *\n";
    let folder = site("unanswered", &[("l.pgn", lesson), ("g.pgn", &games)]);
    let done = run(
        &folder,
        &[
            "unanswered",
            "l.pgn",
            "--side",
            "white",
            "--games",
            "g.pgn",
            "--to",
            "2",
        ],
    );
    assert_eq!(done.code, 1, "{}", done.err);
    let wanted = "after 1.e4 no reply to 1...c5: 30 of 100 games here (30 %), 30 % of what you will meet\n\
                  after 1.e4 nobody played 1...d5, in 100 games here\n\
                  Of what you will meet to move 2 as White:\n  0 % is answered\n  \
                  31 % are moves without a reply (those too rare to be listed: 1 %)\n  \
                  for 69 % the lesson stops before\n  for 0 % fewer than 30 games are known\n\
                  Counted in 100 of 100 games: those that come to this lesson.\n";
    assert_eq!(done.out, wanted);
    let all = run(
        &folder,
        &[
            "unanswered",
            "l.pgn",
            "--side",
            "white",
            "--games",
            "g.pgn",
            "--at-least",
            "1%",
            "--to",
            "1",
        ],
    );
    assert!(
        all.out.contains("1...a6: 1 of 100 games here (1 %)"),
        "{}",
        all.out
    );
    assert!(all.out.contains("  60 % is answered\n"), "{}", all.out);
}

#[test]
fn a_place_where_the_lesson_stops_says_how_often_it_is_met() {
    let games = many(&[("1. e4 e6 2. d4 d5", 60), ("1. e4 c5", 40)]);
    let folder = site(
        "unanswered-stop",
        &[("l.pgn", "1. e4 e6 2. d4 *\n"), ("g.pgn", &games)],
    );
    for to in ["1", "2", "9"] {
        let words = [
            "unanswered",
            "l.pgn",
            "--side",
            "white",
            "--games",
            "g.pgn",
            "--to",
            to,
        ];
        let done = run(&folder, &words);
        // However late it comes.
        let wanted =
            "the lesson stops after 2.d4: 60 of 60 games go on, 60 % of what you will meet\n";
        assert!(done.out.contains(wanted), "to move {to}: {}", done.out);
    }
}

#[test]
fn what_counts_nothing_takes_the_place_of_no_counts() {
    let other = "[FEN \"8/8/8/8/8/4k3/4p3/4K3 w - - 0 1\"]\n\n1. -- *\n";
    let files = [
        ("l.pgn", LESSON),
        ("m.pgn", other),
        ("g.pgn", &games()),
        ("none.pgn", ""),
    ];
    let folder = site("tally-nothing", &files);
    run(&folder, &["tally", "l.pgn", "--games", "g.pgn"]);
    let before = counts(&folder, "l.counts.json");
    for (words, why) in [
        (
            "l.pgn --games none.pgn",
            "there is no game in this collection; nothing is written",
        ),
        (
            "l.pgn --games g.pgn --since 2030",
            "the filters leave all games out; nothing is written",
        ),
        (
            "l.pgn --games g.pgn --since 2024 --until 2023",
            "--since comes after --until",
        ),
        ("l.pgn --games g.pgn --since 2023-02-30", "write a date as"),
        (
            "m.pgn --games g.pgn",
            "no game comes to a position of this lesson; nothing is written",
        ),
        (
            "l.pgn --games g.pgn ./g.pgn",
            "two collections are named g.pgn",
        ),
        (
            "l.pgn --games g.pgn --out no/c.json",
            "there is no folder no",
        ),
    ] {
        let words: Vec<&str> = ["tally"].into_iter().chain(words.split(' ')).collect();
        let done = run(&folder, &words);
        assert_eq!(done.code, 2, "{words:?}");
        assert!(done.err.contains(why), "{}", done.err);
    }
    assert_eq!(counts(&folder, "l.counts.json"), before);
    // Part of a collection may have nothing.
    let part = run(
        &folder,
        &["tally", "m.pgn", "--games", "g.pgn", "--out", "part.json"],
    );
    assert_eq!(part.code, 0, "{}", part.err);
    let few = run(&folder, &["unanswered", "l.pgn", "--side", "white"]);
    assert_eq!(few.code, 2);
    let why = "4 games at the start of this lesson: too few to say anything";
    assert!(few.err.contains(why), "{}", few.err);
    assert!(!folder.join("m.counts.json").exists());
}

#[test]
fn counts_of_another_lesson_are_refused() {
    let folder = site(
        "unanswered-other",
        &[
            ("l.pgn", LESSON),
            ("m.pgn", "1. d4 *\n"),
            ("g.pgn", &games()),
        ],
    );
    let missing = run(&folder, &["unanswered", "l.pgn", "--side", "white"]);
    let why = "there is no l.counts.json: run plyline tally first";
    assert!(missing.err.contains(why), "{}", missing.err);
    run(
        &folder,
        &[
            "tally",
            "m.pgn",
            "--games",
            "g.pgn",
            "--out",
            "l.counts.json",
        ],
    );
    let done = run(&folder, &["unanswered", "l.pgn", "--side", "white"]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("counted for another lesson"),
        "{}",
        done.err
    );
}

#[test]
fn a_draft_holds_what_is_played_often_says_transpositions_and_is_a_lesson() {
    let games = many(&[
        ("1. e4 e6 2. d4 d5", 40),
        ("1. d4 e6 2. e4 d5", 35),
        ("1. d4 d5", 20),
        ("1. c4", 5),
    ]);
    let folder = site("draft", &[("g.pgn", &games)]);
    let done = run(
        &folder,
        &[
            "draft", "--games", "g.pgn", "--from", "", "--side", "white", "--share", "10%",
        ],
    );
    assert_eq!(done.code, 0, "{}", done.err);
    let flat = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("1. d4 {55 of 100 games: White won 100 %, drawn 0 %, Black won 0 %.}"),
        "{}",
        done.out
    );
    assert!(!flat.contains("c4"), "{}", done.out);
    assert!(
        flat.contains("By another order this is [the position after 1."),
        "{}",
        done.out
    );
    fs::write(folder.join("d.pgn"), &done.out).expect("written");
    let checked = run(&folder, &["check", "--strict", "d.pgn"]);
    assert_eq!(checked.code, 0, "{}", checked.out);
}

#[test]
fn a_draft_begins_where_it_is_told_and_refuses_what_leads_nowhere() {
    let folder = site("draft-from", &[("g.pgn", &games())]);
    let draft = |from: &str| {
        let words = [
            "draft",
            "--games",
            "g.pgn",
            "--side",
            "black",
            "--games-at-least",
            "1",
            "--from",
            from,
        ];
        run(&folder, &words)
    };
    let fen = "rnbqkbnr/pp1ppppp/2p5/8/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2";
    assert!(draft(fen).out.contains(&format!("[FEN \"{fen}\"]")));
    assert!(draft("1.e4 c6").out.contains("1. e4 c6 2. d4"));
    assert!(draft("1.e4 Kd7").err.contains("Kd7 cannot be played there"));
    assert!(draft("1.e4 hello").err.contains("hello is no move"));
    assert!(draft("1.h4").err.contains("no move is played from there"));
}

#[test]
fn games_that_come_to_a_position_are_listed_in_the_order_asked_for() {
    let folder = site("games", &[("l.pgn", LESSON), ("g.pgn", &games())]);
    let done = run(
        &folder,
        &[
            "games", "l.pgn", "--at", "2.d4 d5", "--games", "g.pgn", "--sort", "year",
        ],
    );
    assert_eq!(done.code, 2, "several places: {}", done.err);
    let list = |words: &[&str]| {
        let words = [
            &["games", "l.pgn", "--at", "1.e4 e6 2.d4", "--games", "g.pgn"],
            words,
        ]
        .concat();
        run(&folder, &words)
    };
    assert_eq!(
        list(&["--sort", "year"]).out,
        "Ada against Bo, ?, 2022.05.??: 0-1, 2...d5\nAda against Bo, ?, 2021.05.01: 1-0, 2...d5\n"
    );
    assert!(
        list(&["--first", "1"])
            .err
            .contains("2 games come to this position; 1 of them is shown")
    );
    let pgn = list(&["--pgn"]).out;
    assert!(pgn.contains("[Date \"2022.05.??\"]"), "{pgn}");
    assert!(pgn.contains("\n1. d4 e6 2. e4 d5 3. Nc3 0-1\n"), "{pgn}");
}

#[test]
fn a_lesson_of_a_post_is_named_by_its_id() {
    let page = format!(
        "# Post\n\n```pgn\n[Id \"french\"]\n\n{LESSON}```\n\n```pgn\n[Id \"other\"]\n\n1. d4 *\n```\n"
    );
    let folder = site("tally-post", &[("p.md", &page), ("g.pgn", &games())]);
    let done = run(&folder, &["tally", "p.md", "--games", "g.pgn"]);
    assert!(
        done.err
            .contains("which lesson? It has p.md#french, p.md#other"),
        "{}",
        done.err
    );
    let done = run(&folder, &["tally", "p.md#other", "--games", "g.pgn"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(
        told(&counts(&folder, "p.other.counts.json")),
        ["4 e4 3 d4 1", "1 e6 1"]
    );
    let none = run(&folder, &["tally", "p.md#third", "--games", "g.pgn"]);
    assert!(
        none.err
            .contains("it has no lesson third; it has p.md#french, p.md#other")
    );
}
