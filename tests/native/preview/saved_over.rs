//! An editor saves an older text over edits that were made in the preview.

use super::served::serve;
use crate::cli::run::site;
use serde_json::json;
use std::fs;

const PAGE: &str =
    "Words.\n\n```pgn\n1. e4 c5 2. Nf3 d6 *\n```\n\n```pgn\n1. d4 d5 *\n```\n\nThe end.\n";

#[test]
fn what_was_saved_over_is_counted_for_its_lesson_and_put_back_by_one_word() {
    let folder = site("over", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]);
    served.keep("/a.md", 1, &["d4", "d5"], &["c4"]);
    served.keep("/a.md", 0, &["e4", "c5", "Nc3"], &["Nc6", "g3"]);
    // The author's own words are in the older text, one of them in the lesson.
    let older = PAGE
        .replace("Words", "Other words")
        .replace("2. Nf3 d6", "2. Nf3! d6");
    fs::write(&path, &older).expect("a save");
    let page = served.done("page", &json!({ "page": "/a.md" }));
    let lost = |page: &serde_json::Value| [0, 1].map(|it| page["lessons"][it]["lost"].clone());
    assert_eq!(lost(&page), [json!(2), json!(1)]);
    assert_eq!(page["lessons"][0]["undo"], json!(null));
    let done = served.done("restore", &json!({ "page": "/a.md", "lesson": 0 }));
    assert_eq!(lost(&done["page"]), [json!(0), json!(1)]);
    served.done("restore", &json!({ "page": "/a.md", "lesson": 1 }));
    let now = fs::read_to_string(&path).expect("the page");
    let wanted = older
        .replace("2. Nf3! d6", "2. Nf3! (2. Nc3 Nc6 3. g3) 2... d6")
        .replace("1. d4 d5", "1. d4 d5 2. c4");
    assert_eq!(now, wanted);
    // It is one step.
    served.done("undo", &json!({ "page": "/a.md", "lesson": 0 }));
    served.done("undo", &json!({ "page": "/a.md", "lesson": 1 }));
    assert_eq!(fs::read_to_string(&path).expect("the page"), older);
    assert_eq!(
        served
            .post("restore", &json!({ "page": "/a.md", "lesson": 0 }))
            .0,
        409
    );
}

#[test]
fn a_save_that_has_the_edits_takes_nothing_away() {
    let folder = site("kept", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]);
    let ours = fs::read_to_string(&path).expect("the page");
    let saved = ours
        .replace("Words", "Many other words")
        .replace("The end", "No end");
    fs::write(&path, &saved).expect("a save");
    let page = served.done("page", &json!({ "page": "/a.md" }));
    assert_eq!(page["lessons"][0]["lost"], json!(0));
    assert_eq!(page["lessons"][0]["undo"], json!("2.Nc3"));
    served.done("undo", &json!({ "page": "/a.md", "lesson": 0 }));
    let now = fs::read_to_string(&path).expect("the page");
    assert_eq!(
        now,
        PAGE.replace("Words", "Many other words")
            .replace("The end", "No end")
    );
}

#[test]
fn an_older_text_that_comes_back_with_the_edits_after_all_has_lost_nothing() {
    let folder = site("back", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]);
    let ours = fs::read_to_string(&path).expect("the page");
    fs::write(&path, PAGE).expect("an older text");
    let page = served.done("page", &json!({ "page": "/a.md" }));
    assert_eq!(page["lessons"][0]["lost"], json!(1));
    fs::write(&path, ours).expect("the newer one");
    let page = served.done("page", &json!({ "page": "/a.md" }));
    assert_eq!(page["lessons"][0]["lost"], json!(0));
}
