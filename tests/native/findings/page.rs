//! The explanations, and the page that is made of them and of the fixtures.

use super::fixtures::{all, command, expect};
use crate::cli::run::{codes, json_lines, run, run_on};
use plyline::text::Code;
use std::fs;
use std::path::Path;

/// Codes whose example is given in words, because a small text cannot have them.
const TOLD: &[&str] = &[
    "P002", "P003", "P004", "P009", "P010", "P029", "P040", "P043", "P063", "P064", "P065", "P075",
    "P066", "P110", "P111", "P112", "P113", "P115", "P210", "P211", "P212", "P300", "P301", "P302",
    "P303", "P304", "P305", "P306", "P307", "P308", "P309", "P310", "P311",
];

/// One section of `src/cli/report/explanations.md`.
struct Section {
    code: String,
    title: String,
    paragraph: String,
    example: String,
}

fn sections() -> Vec<Section> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli/report/explanations.md");
    let text = fs::read_to_string(path).expect("the explanations");
    let sections = text.split("\n## ").skip(1);
    let section = |text: &str| {
        let (heading, body) = text.split_once("\n\n").expect("a section with a body");
        let (code, title) = heading.split_once(' ').expect("a code and a title");
        let (paragraph, example) = body.split_once("\n\n    ").expect("an example");
        let lines = example.trim_end().lines();
        let lines: Vec<&str> = lines
            .map(|line| line.strip_prefix("    ").unwrap_or(line))
            .collect();
        Section {
            code: code.to_owned(),
            title: title.to_owned(),
            paragraph: paragraph.replace('\n', " "),
            example: lines.join("\n"),
        }
    };
    sections.map(section).collect()
}

#[test]
fn each_code_has_one_section_in_the_order_of_the_codes() {
    let told: Vec<String> = sections().into_iter().map(|section| section.code).collect();
    let wanted: Vec<&str> = Code::all().iter().map(|code| code.id()).collect();
    assert_eq!(told, wanted);
}

#[test]
fn a_section_says_enough_in_one_paragraph() {
    for section in sections() {
        let words = section.paragraph.split_whitespace().count();
        assert!(
            (25..=110).contains(&words),
            "{}: {words} words",
            section.code
        );
        assert!(!section.paragraph.contains("\n\n"), "{}", section.code);
        assert!(section.paragraph.ends_with(['.', '?']), "{}", section.code);
        assert!(!section.title.ends_with('.'), "{}", section.code);
    }
}

#[test]
fn the_example_of_a_section_has_its_finding() {
    for section in sections() {
        if TOLD.contains(&section.code.as_str()) {
            continue;
        }
        let mut words = command(&section.code, "1000000");
        words.extend(["--format", "json", "a.pgn"]);
        let done = run_on("findings-example", &section.example, &words);
        let found = json_lines(&done.out);
        let found = codes(&found);
        let is_own = found.iter().all(|code| *code == section.code);
        assert!(
            is_own && !found.is_empty(),
            "{} has {found:?}",
            section.code
        );
    }
}

#[test]
fn the_page_of_findings_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/findings.md");
    expect(&path, &page());
}

/// The whole page.
fn page() -> String {
    let mut text = "\
<!-- Made of src/cli/report/explanations.md and tests/findings/ by `UPDATE_EXPECT=1 cargo test --test native findings`. -->

# What plyline finds in a lesson

`plyline check` says what is wrong, where, why, and the way out. Each kind of finding has a code \
that never changes its meaning. An **error** cannot be read or played; a **warning** is a text \
that disagrees with itself or its readers; a **hint** is worth a look. Errors alone make `check` \
fail, with `--strict` warnings do too. What it says of a position is that moves are legal, not \
that they are good. Codes from P200 on are of `plyline weigh`, which computes what is won or lost by force.

| code | | |
| --- | --- | --- |
"
    .to_owned();
    let sections = sections();
    for (section, code) in sections.iter().zip(Code::all()) {
        let id = section.code.to_lowercase();
        let severity = code.severity().word();
        text += &format!(
            "| [{}](#{id}) | {severity} | {} |\n",
            section.code, section.title
        );
    }
    let fixtures = all();
    for (section, code) in sections.iter().zip(Code::all()) {
        let severity = code.severity().word();
        text += &format!("\n## {}\n\n", section.code);
        text += &format!(
            "**{}** ({severity})\n\n{}\n",
            section.title, section.paragraph
        );
        let own = fixtures.iter().filter(|it| it.code() == section.code);
        let reports: Vec<String> = own.map(|it| it.report()).collect();
        match reports.first() {
            None => text += &format!("\nFor example: {}\n", inline(&section.example)),
            // The first finding of the first fixture as it is printed.
            Some(report) => {
                let first = report.split("\n\n").next().unwrap_or_default();
                text += &format!("\n```text\n{first}\n```\n");
            }
        }
        text += &others(&reports);
    }
    text
}

/// An example that is given in words, or is not PGN and so is shown unchanged.
fn inline(example: &str) -> String {
    match example.contains('<') || example.starts_with("plyline") {
        true => format!("`{example}`"),
        false => format!("{example}."),
    }
}

/// What else findings of a code say: the first sentence of each other fixture, each once.
fn others(reports: &[String]) -> String {
    let mut said: Vec<&str> = Vec::new();
    for report in reports {
        let title = report.lines().next().unwrap_or_default();
        let sentence = title.split_once("]: ").map_or("", |(_, sentence)| sentence);
        if !said.contains(&sentence) {
            said.push(sentence);
        }
    }
    match said.len() {
        0 | 1 => String::new(),
        _ => format!("\nAlso:\n\n- {}\n", said[1..].join("\n- ")),
    }
}

#[test]
fn the_page_shows_every_code_with_its_anchor() {
    let page = page();
    for code in Code::all() {
        let heading = format!("\n## {}\n", code.id());
        assert_eq!(page.matches(&heading).count(), 1, "{}", code.id());
    }
    let done = run(&super::fixtures::folder(), &["check", "--explain", "P013"]);
    let title = page
        .split("\n## P013\n")
        .nth(1)
        .and_then(|section| section.split("**").nth(1))
        .expect("a title");
    assert!(
        done.out.contains(title),
        "page and program say the same: {title}"
    );
}
