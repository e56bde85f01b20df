//! Slips around the notation of a post: names, tags and ends that are nearly right.

use super::{html, markdown, one, read};
use plyline::post::Kind;

/// A lesson that the posts below are about.
const LESSON: &str = "```pgn\n[Id \"open\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n\n";

fn after(rest: &str) -> Vec<(&'static str, String)> {
    markdown(&format!("{LESSON}{rest}\n"))
}

#[test]
fn a_language_that_is_nearly_ours_is_told_at_its_word() {
    let moves = "1. e4 e5 $10 *";
    let fen = "8/5k2/8/8/3P4/8/4K3/8";
    for (language, text) in [
        ("ply-quizz", "What now?"),
        ("ply-diagramm", "[At \"2.Nf3\"]"),
        ("plydiagram", "[At \"2.Nf3\"]"),
        ("Ply-Recap", ""),
        ("pgm", moves),
        ("png", moves),
        ("PGN", moves),
        ("fenn", fen),
    ] {
        let fence = format!("> ``` {language} x\n> {text}\n> ```");
        assert_eq!(after(&fence), one("P110", language), "{language}");
        let block = format!("<pre><code class=\"a language-{language}\">{text}</code></pre>");
        assert_eq!(html(&block), one("P110", language), "{language}");
    }
}

#[test]
fn a_language_of_others_is_not_told() {
    let page = "<p>so</p> {\"a\": 1.5} usr/bin/env/x/y";
    for language in [
        "html", "json", "js", "php", "png", "pgm", "gn", "text", "pgsql",
    ] {
        assert_eq!(after(&format!("```{language}\n{page}\n```")), []);
    }
    // Two slips of the hand in a short name, or none of ours at all.
    for language in ["html", "php", "json"] {
        assert_eq!(after(&format!("```{language}\n1. e4 e5 *\n```")), []);
    }
    let off = "<div data-plyline=\"off\"><pre class=\"language-pgm\">1. e4</pre></div>";
    assert_eq!(html(off), []);
}

#[test]
fn an_element_that_is_not_closed_is_told_at_its_tag() {
    let line = "<ply-line><pre>1. e4 e5 $10 *</pre></ply-line>";
    assert_eq!(html(line), []);
    assert_eq!(html(&line.to_uppercase().replace("E4 E5", "e4 e5")), []);
    for end in ["", "</ply-lin>"] {
        let page = format!("<div>{}</div><p>so</p>", line.replace("</ply-line>", end));
        assert_eq!(html(&page), one("P112", "<ply-line>"), "{end}");
    }
    assert_eq!(
        html(&line.replace("</pre>", "</prre>")),
        one("P112", "<pre>"),
        "what is in it is not read as moves"
    );
    let ours = "<ply-ref at=\"2.Nf3\">so</ply-ref>, <ply-diagram at=\"2.Nf3\"></ply-diagram>";
    assert_eq!(after(ours), []);
    assert_eq!(
        after("A <ply-ref at=\"2.Nf3\">knight</ply-rf> here.\n\nMore."),
        one("P112", "<ply-ref at=\"2.Nf3\">")
    );
    assert_eq!(
        after("<ply-prose>\n\nAfter 2.Nf3 so.\n\n</ply-pros>"),
        one("P112", "<ply-prose>")
    );
    assert_eq!(after("<ply-prose>\n\nAfter 2.Nf3 so.\n\n</ply-prose>"), []);
}

#[test]
fn how_far_an_element_reaches_that_is_not_closed_is_said() {
    let said = |text: &str| {
        let (_, checked) = read(&format!("{LESSON}{text}\n"), Kind::Markdown);
        let first = checked.findings.into_iter().next().expect("a finding");
        let help = first.help.clone().unwrap_or_default();
        (first.message.clone(), help)
    };
    let (message, help) = said("<ply-prose>After 2.Nf3 so.\n\nMore.</ply-prose>");
    assert!(
        message.contains("so the rest of its paragraph"),
        "{message}"
    );
    assert!(help.contains("in the same paragraph"), "{help}");
    let (message, help) = said("<ply-prose>\n\nAfter 2.Nf3 so.");
    assert!(message.contains("all that comes after it"), "{message}");
    assert_eq!(help, "write </ply-prose> where it ends");
    let (message, _) = said("- a\n- <b>A</b> <ply-ref at=\"2.Nf3\">b\n\nMore.");
    assert!(message.contains("the rest of its <li>"), "{message}");
    let (_, help) = said("<ply-diagram at=\"2.Nf3\" />\n\nMore.");
    assert!(help.contains("/> closes nothing"), "{help}");
}

#[test]
fn a_fence_that_is_not_closed_is_told_alone_at_its_first_line() {
    let open = "```pgn\n1. d4 d5 $10 *\n\nThe rest of the page (and so on.\n\n- one";
    assert_eq!(after(open), one("P112", "```pgn"));
    assert_eq!(after(&format!("{open}\n``\n~~~")), one("P112", "```pgn"));
    assert_eq!(
        after("> - ~~~ pgn\n>   1. d4 d5\n>   what\n\nMore."),
        one("P112", "~~~ pgn")
    );
    assert_eq!(
        after("````ply-quiz\n[At \"1.e4\"]\nWhat?\n```"),
        one("P112", "````ply-quiz")
    );
    assert_eq!(after("```js\n1. d4 d5"), []);
    assert_eq!(
        after("> - ~~~ pgn\n>   1. d4 d5 $10 *\n>   ~~~~ \n\nMore."),
        []
    );
}

#[test]
fn a_tag_of_a_fence_that_cannot_be_read_is_told() {
    for (tag, place) in [
        ("[At 2.Nf3]", "[At 2.Nf3]"),
        ("[at 2.Nf3]", "[at 2.Nf3]"),
        ("[For open]", "[For open]"),
        ("[For \"open]", "[For \"open]"),
        (
            "[Sied \u{201c}black\u{201d}]",
            "[Sied \u{201c}black\u{201d}]",
        ),
        ("[Side \"black\"", "[Side \"black\""),
        ("[For \"open\"] [Side black] ", "[Side black]"),
    ] {
        for fence in ["ply-quiz", "ply-recall", "ply-recap"] {
            let own = if tag.contains("t ") && fence == "ply-recap" {
                continue;
            } else {
                fence
            };
            let said = after(&format!("```{own}\n{tag}\nWhat now?\n```"));
            assert!(
                said.contains(&("P006", place.to_owned())),
                "{tag} {own}: {said:?}"
            );
        }
    }
}

#[test]
fn words_in_brackets_of_a_prompt_are_no_tags() {
    for prompt in [
        "[for example] What now?",
        "[Side note: this comes up often]",
        "[At move 2 White is better]",
        "[White to play]",
        "[]",
        "What does White play [at move 2]?",
        "[a hint: the side] what now?",
        "[at move two, White is better]",
        "[the knight](https://example.org) or [2]",
    ] {
        let fence = format!("```ply-quiz\n[At \"1.e4 e5\"]\n{prompt}\n```");
        assert_eq!(after(&fence), [], "{prompt}");
    }
}

#[test]
fn a_tag_of_a_fence_with_a_name_nearly_ours_is_told() {
    for (tag, name) in [
        ("[Att \"2.Nf3\"]", "Att"),
        ("[Mark \"@e4\"]", "Mark"),
        ("[Markss \"@e4\"]", "Markss"),
        ("[Sides \"black\"]", "Sides"),
    ] {
        assert_eq!(
            after(&format!("```ply-diagram\n[For \"open\"]\n{tag}\n```")),
            one("P110", name)
        );
    }
    let others = "[Event \"?\"] [Alt \"a board\"] [At \"2.Nf3\"]";
    assert_eq!(after(&format!("```ply-diagram\n{others}\n```")), []);
}

#[test]
fn a_link_to_a_lesson_with_a_slip_in_its_name_is_told() {
    let link = |href: &str| after(&format!("See [the knight]({href})."));
    assert_eq!(link("#opne/2.Nf3"), one("P064", "#opne/2.Nf3"));
    for right in ["#opne", "#other/2.Nf3", "#opne/above", "b.html#opne/2.Nf3"] {
        assert_eq!(link(right), [], "{right}");
    }
    assert_eq!(after("<p id=\"opne\">See [it](#opne/2.Nf3).</p>"), []);
}

#[test]
fn letters_of_an_unknown_language_are_told_at_the_attribute() {
    let quiz = |letters: &str| {
        after(&format!(
            "<ply-quiz at=\"1.e4 e5\" letters=\"{letters}\">What now?</ply-quiz>"
        ))
    };
    assert_eq!(quiz("xx"), one("P055", "xx"));
    assert_eq!(quiz("de"), []);
    assert_eq!(
        html("<ply-line letters=\"xx\"><pre>1. e4 e5 $10 *</pre></ply-line>"),
        one("P055", "xx")
    );
}
