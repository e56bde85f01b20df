//! Runs the examples of the spec, `tests/spec/*.md`, natively and in wasm: each `pgn` block is
//! read, and the blocks after it must say what was read.
//!
//! `UPDATE_EXPECT=1 cargo test --test native spec` writes those blocks again; read the difference
//! before you keep it.

mod form;
#[cfg(not(target_family = "wasm"))]
mod talk;

use crate::support::{Read, read};
use plyline::lesson::rules::{EnPassantForm, fen};
use plyline::lesson::{Lesson, export};
use plyline::notation::Letters;
use plyline::notation::word::nag;
#[cfg(target_family = "wasm")]
use wasm_bindgen_test::wasm_bindgen_test;

macro_rules! chapters {
    ($($name:ident = $file:literal;)*) => {
        /// Every chapter: its file, its text.
        const CHAPTERS: &[(&str, &str)] = &[$(($file, include_str!(concat!("../../spec/", $file))),)*];
        $(
            #[cfg_attr(not(target_family = "wasm"), test)]
            #[cfg_attr(target_family = "wasm", wasm_bindgen_test)]
            fn $name() {
                run($file);
            }
        )*
    };
}

chapters! {
    how_to_read_holds = "00-how-to-read.md";
    the_standard_holds = "01-standard.md";
    what_people_type_holds = "02-what-people-type.md";
    letters_hold = "03-letters.md";
    comments_hold = "04-comments.md";
    lines_and_labels_hold = "05-lines-and-labels.md";
    locators_hold = "06-locators.md";
    signs_hold = "07-signs.md";
    prose_holds = "08-prose.md";
}

fn chapter(file: &str) -> &'static str {
    let found = CHAPTERS.iter().find(|(name, _)| *name == file);
    found.expect("a chapter of the list above").1
}

/// Checks a chapter's examples, all of them before it fails.
fn run(file: &str) {
    let mut wrong = Vec::new();
    let mut count = 0;
    for example in examples(chapter(file)) {
        for expected in &example.expected {
            count += 1;
            let seen = example.seen(expected);
            if !holds(&seen, &expected.text) {
                let lines = (expected.line, &example.text, &expected.text, seen);
                let (line, text, wanted, seen) = lines;
                wrong.push(format!(
                    "{file}:{line}\n{text}--- the spec says\n{wanted}--- but it is\n{seen}"
                ));
            }
        }
    }
    #[cfg(not(target_family = "wasm"))]
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        return update(file);
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(count > 0, "{file} has no example");
}

/// Whether a block holds: all of it.
#[cfg(not(target_family = "wasm"))]
fn holds(seen: &str, wanted: &str) -> bool {
    seen == wanted
}

/// Whether a block holds in wasm: what was read, and the errors. The blocks say what the program
/// finds. The page leaves the author's checks out, so it has no error of their codes, and has those
/// that one of them explains; it has no error where the program has none.
#[cfg(target_family = "wasm")]
fn holds(seen: &str, wanted: &str) -> bool {
    // Quotes of another kind, and a parenthesis that is one too many.
    const OF_THE_AUTHORS_CHECKS: [&str; 2] = ["P006", "P081"];
    let is_finding = |line: &str| {
        let mut kinds = ["error ", "warning ", "hint "].iter();
        kinds.any(|kind| line.starts_with(kind))
    };
    let read = |block: &str| {
        let lines = block.lines().filter(|line| !is_finding(line));
        lines.collect::<Vec<_>>().join("\n")
    };
    let errors = |block: &str| {
        let lines = block.lines().filter_map(|line| line.strip_prefix("error "));
        let codes = lines.map(|line| line.split(' ').next().unwrap_or(line).to_owned());
        codes.collect::<Vec<_>>()
    };
    let (found, wanted_errors) = (errors(seen), errors(wanted));
    let mut own = wanted_errors
        .iter()
        .filter(|code| !OF_THE_AUTHORS_CHECKS.contains(&code.as_str()));
    read(seen) == read(wanted)
        && own.all(|code| found.contains(code))
        && (found.is_empty() || !wanted_errors.is_empty())
}

/// A `pgn` block and what is said about it.
struct Example {
    /// The notation.
    text: String,
    /// The prose between the block before and this one.
    prose: String,
    expected: Vec<Expected>,
}

/// A block after a `pgn` block.
struct Expected {
    /// What is after its fence: `tree`, `written` and so on.
    kind: String,
    text: String,
    /// The line of its fence, from 1.
    line: usize,
}

/// The examples of a chapter. Panics where it is not written as `00-how-to-read.md` says.
fn examples(markdown: &str) -> Vec<Example> {
    let mut list: Vec<Example> = Vec::new();
    let mut prose = String::new();
    let mut lines = markdown.lines().enumerate();
    while let Some((at, line)) = lines.next() {
        let Some(kind) = line.strip_prefix("```") else {
            prose.push_str(line);
            prose.push('\n');
            continue;
        };
        let inside = lines.by_ref().take_while(|(_, line)| *line != "```");
        let text: String = inside.map(|(_, line)| format!("{line}\n")).collect();
        match kind {
            "pgn" | "pgn escaped" => list.push(Example {
                text: if kind == "pgn" { text } else { unescape(&text) },
                prose: std::mem::take(&mut prose),
                expected: Vec::new(),
            }),
            _ => {
                let example = list.last_mut().expect("a pgn block before it");
                example.expected.push(Expected {
                    kind: kind.to_owned(),
                    text,
                    line: at + 1,
                });
            }
        }
    }
    for example in &list {
        assert!(
            !example.expected.is_empty(),
            "nothing is said about {:?}",
            example.text
        );
    }
    list
}

/// `\t`, `\r` and `\u{…}` replaced by their characters; the line end before a block's fence is no
/// part of it.
fn unescape(text: &str) -> String {
    let text = text
        .strip_suffix('\n')
        .unwrap_or(text)
        .replace("\\r", "\r")
        .replace("\\t", "\t");
    let mut parts = text.split("\\u{");
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (code, rest) = part.split_once('}').expect("the end of \\u{…}");
        let code = u32::from_str_radix(code, 16).expect("hexadecimal digits");
        plain.push(char::from_u32(code).expect("a character"));
        plain += rest;
    }
    plain
}

impl Example {
    fn read(&self) -> Read {
        read(&self.text)
    }

    /// What the block should say.
    fn seen(&self, expected: &Expected) -> String {
        let read = self.read();
        match expected.kind.as_str() {
            "tree" => form::tree(&read, false),
            "tree whole" => form::tree(&read, true),
            "written" => written(one(&read)),
            "fen" => {
                let lesson = one(&read);
                let last = lesson.line_nodes(0).last().expect("node 0 at least");
                format!(
                    "{}\n",
                    fen(&lesson.node(last).position, EnPassantForm::Legal)
                )
            }
            "says" => form::says(one(&read)),
            "prose" => form::prose(one(&read), &expected.text),
            "locators" => form::locators(one(&read), &expected.text),
            other => panic!("line {}: no block is called {other:?}", expected.line),
        }
    }
}

fn one(read: &Read) -> &Lesson {
    read.lessons
        .first()
        .and_then(Option::as_ref)
        .expect("a lesson")
}

/// The export format; without the seven tags where they say nothing but the result.
fn written(lesson: &Lesson) -> String {
    let text = export(lesson, false).expect("a lesson that was read whole");
    let (tags, moves) = text
        .split_once("\n\n")
        .expect("an empty line after the tags");
    let silent = |line: &str| {
        line.contains("\"?\"") || line.contains("\"????.") || line.starts_with("[Result ")
    };
    let text = match tags.lines().all(silent) {
        true => moves,
        false => &text,
    };
    format!("{}\n", text.trim_end())
}

#[cfg(not(target_family = "wasm"))]
fn update(file: &str) {
    let markdown = chapter(file);
    let mut blocks = examples(markdown).into_iter().flat_map(|example| {
        let all = example
            .expected
            .iter()
            .map(|it| (it.line, example.seen(it)));
        all.collect::<Vec<_>>()
    });
    let mut next = blocks.next();
    let mut text = String::new();
    let mut lines = markdown.lines().enumerate();
    while let Some((at, line)) = lines.next() {
        text += &format!("{line}\n");
        if let Some((_, seen)) = next.take_if(|(fence, _)| *fence == at + 1) {
            text += &format!("{seen}```\n");
            let _old = lines
                .by_ref()
                .take_while(|(_, line)| *line != "```")
                .count();
            next = blocks.next();
        }
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/spec/");
    std::fs::write(format!("{path}{file}"), text).expect("the chapter");
}

#[cfg_attr(not(target_family = "wasm"), test)]
#[cfg_attr(target_family = "wasm", wasm_bindgen_test)]
fn each_example_of_the_standard_names_its_section() {
    for example in examples(chapter("01-standard.md")) {
        let names = example.prose.split('(').skip(1).any(|part| {
            let number = part.split(')').next().unwrap_or_default();
            number.starts_with(|digit: char| digit.is_ascii_digit())
        });
        // A second example right after the first belongs to the same sentence.
        let goes_on = example.prose.trim().is_empty();
        assert!(names || goes_on, "no (section) before {:?}", example.text);
    }
}

#[cfg_attr(not(target_family = "wasm"), test)]
#[cfg_attr(target_family = "wasm", wasm_bindgen_test)]
fn each_sign_that_is_typed_has_an_example() {
    let all = examples(chapter("07-signs.md"));
    for &(sign, glyph) in nag::TYPED {
        let types = |example: &Example| {
            let mut words = example.text.split_whitespace();
            words.any(|word| nag::sign_at_end(word) == Some((glyph, sign.len())))
                && example.text.contains(sign)
        };
        assert!(all.iter().any(types), "no example types {sign}");
    }
}

#[cfg_attr(not(target_family = "wasm"), test)]
#[cfg_attr(target_family = "wasm", wasm_bindgen_test)]
fn the_table_of_glyphs_has_each_once_with_the_sign_that_is_drawn() {
    let rows = chapter("07-signs.md").lines().filter_map(|line| {
        let mut cells = line.strip_prefix("| ")?.split(" | ");
        let number: u8 = cells.next()?.parse().ok()?;
        Some((number, cells.next()?.to_owned()))
    });
    let wanted = (0..=139).map(|number| (number, nag::sign(number).to_owned()));
    assert_eq!(rows.collect::<Vec<_>>(), wanted.collect::<Vec<_>>());
}

#[cfg_attr(not(target_family = "wasm"), test)]
#[cfg_attr(target_family = "wasm", wasm_bindgen_test)]
fn each_language_has_an_example_with_the_tag_and_one_without() {
    let all = examples(chapter("03-letters.md"));
    for language in Letters::ALL.iter().flat_map(Letters::languages) {
        let under = |example: &&Example| example.prose.contains(&format!("## {language}\n"));
        let at = all.iter().position(|example| under(&example));
        let at = at.unwrap_or_else(|| panic!("no heading {language}"));
        let english = language == "English";
        let tagged = all[at].read();
        let written = one(&tagged).tag("Letters").and_then(Letters::of);
        let knows = written.is_some_and(|letters| letters.languages().any(|it| it == language));
        assert!(knows, "{language}: the first example has its tag");
        let bare = all.get(at + 1).expect("a second example").read();
        assert!(
            one(&bare).tag("Letters").is_none(),
            "{language}: the second has none"
        );
        let told = bare
            .findings
            .iter()
            .any(|finding| finding.message.contains(language));
        assert!(
            told != english,
            "{language} is named where the tag is missing"
        );
    }
}

#[cfg(not(target_family = "wasm"))]
#[test]
fn every_file_of_the_spec_is_run() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/spec");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .expect("the spec")
        .map(|entry| {
            entry
                .expect("a file")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| name.ends_with(".md"))
        .collect();
    files.sort();
    let run = CHAPTERS.iter().map(|(file, _)| *file);
    let run: Vec<&str> = run.chain([talk::FILE]).collect();
    assert_eq!(files, run);
}
