//! Runs the examples of `tests/spec/09-talk.md`: what is written of what is heard.
//!
//! `UPDATE_EXPECT=1 cargo test --test native spec::talk` writes the blocks again; read the difference before you
//! keep it.

use crate::support::read;
use plyline::talk::chapters::{chapters, list};
use plyline::talk::{Comments, Given, Language, Wanted, listen};
use plyline::text::Source;

/// The chapter's file.
pub const FILE: &str = "09-talk.md";
const CHAPTER: &str = include_str!("../../spec/09-talk.md");

/// What is said of a talk: its draft without tags, and the codes and words of what is doubtful; of a lesson its chapters.
fn seen(fence: &str, text: &str, kind: &str) -> String {
    if kind == "chapters" {
        let read = read(text);
        let lesson = read.lessons.first().and_then(Option::as_ref);
        return list(&chapters(lesson.expect("a lesson")));
    }
    let from = fence.strip_prefix("talk from ").unwrap_or_default();
    let source = Source::new("talk.txt", text);
    let wanted = Wanted {
        given: Given::From(from),
        comments: Comments::Reasons,
        language: Language::of("en").expect("English"),
        title: "talk.txt",
    };
    let listened = listen(&source, &wanted).expect("moves that can be played");
    match kind {
        "draft" => {
            let draft = listened.draft.expect("something is understood");
            let (_, moves) = draft.split_once("\n\n").expect("tags");
            format!("{}\n", moves.trim_end())
        }
        "doubts" => {
            let all = listened.doubts.iter();
            all.map(|it| format!("{} {}\n", it.finding.code.id(), it.finding.message))
                .collect()
        }
        other => panic!("no block is called {other:?}"),
    }
}

#[test]
fn a_talk_becomes_what_the_spec_says() {
    let (mut talk, mut count) = ((String::new(), String::new()), 0);
    let (mut wrong, mut whole) = (Vec::new(), String::new());
    let mut lines = CHAPTER.lines();
    while let Some(line) = lines.next() {
        whole += &format!("{line}\n");
        let Some(fence) = line.strip_prefix("```") else {
            continue;
        };
        let inside = lines.by_ref().take_while(|line| *line != "```");
        let text: String = inside.map(|line| format!("{line}\n")).collect();
        if fence.starts_with("talk") || fence == "lesson" {
            whole += &text;
            talk = (fence.to_owned(), text);
        } else {
            count += 1;
            let seen = seen(&talk.0, &talk.1, fence);
            if seen != text {
                wrong.push(format!(
                    "{}--- the spec says\n{text}--- but it is\n{seen}",
                    talk.1
                ));
            }
            whole += &seen;
        }
        whole += "```\n";
    }
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/spec/09-talk.md");
        std::fs::write(path, whole).expect("the chapter");
        return;
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(count > 12, "only {count} examples");
}
