//! Whatever the text: an edit is made or refused, and what is made is just what was meant.

use super::given::{change, comment, drop, keep, lift, paste, sign};
use plyline::edit::{Edit, edit, edit_post, spliced};
use plyline::post::Kind;

/// Lessons as some people write them.
const ODD: &[&str] = &[
    "1.e4{wide}e5(1...c5;sharp\n2.Nf3)2.Nf3 $1 $14 Nc6 e.p. *",
    "[Side \"black\"]\r\n; a line\r\n; another\r\n1. e4 e5 ; open\r\n% escape\r\n2. Nf3 (2. f4 {bold} exf4 (2... d5!? {or} 3. exd5) ) Nc6\r\n1/2-1/2\r\n",
    "e4 (d4 (c4 (Nf3 {deep}) e5) d5) c5 (c6 d4) (e6) Nf3 d6 1-0 [Event \"next\"] 1. d4 *",
    "{\u{201c}Start\u{201d}} 1. e4! $14 { } {} e5 (1... Ke5 (1... c5 2. c3)) 2. Ke3 (2. Nf3) {lost} (2. Nc3) Nc6 $999 \u{1f600} *",
    "1. e4 e5 2. Nf3 (2. Bc4 (2. d4 exd4 (2... Nc6) 3. c3) Nf6 (2. Nc3)) 2... Nc6 {one\n\n\ntwo } ;three\n;four\n3. Bb5",
    "[Letters \"de\"]\n\n1. e4 e5 2. Sf3 Sc6 3. Lb5 {\u{fc}ber} a6",
];

/// Edits at all places of the first moves that are in these.
fn edits() -> Vec<Edit> {
    let places = [
        "",
        "e4",
        "d4",
        "c4",
        "e4 e5",
        "e4 c5",
        "e4 e5 Nf3",
        "e4 e5 f4",
        "e4 e5 Bc4",
        "e4 e5 d4",
        "e4 e5 Nf3 Nc6",
        "e4 e6",
    ];
    let mut list = Vec::new();
    for at in places {
        list.extend([
            keep(at, "a3 a6"),
            keep(at, "a6 a3"),
            change(at, "h4"),
            change(at, "h5"),
            comment(at, "", "% new } words"),
            comment(at, "", "two\n\nparagraphs"),
            sign(at, &[4, 18]),
            sign(at, &[]),
            drop(at),
            lift(at),
            paste(at, "h4 {x} (h3) h5 (h6 $2) *"),
            paste(at, "h5 Ke9"),
        ]);
        for was in [
            "wide",
            "sharp",
            "open",
            "bold",
            "deep",
            "one\n\ntwo",
            "three four",
            "a line another",
        ] {
            list.push(comment(at, was, "other } words"));
            list.push(comment(at, was, ""));
        }
    }
    list
}

#[test]
fn odd_lessons_cut_anywhere_are_edited_or_left_as_they_are() {
    let edits = edits();
    let (mut made, mut refused) = (0, 0);
    for text in ODD {
        for cut in (0..=text.len())
            .rev()
            .step_by(31)
            .filter(|&at| text.is_char_boundary(at))
        {
            let text = &text[..cut];
            for wanted in &edits {
                match edit(text, 0, wanted) {
                    Ok(changed) => {
                        made += 1;
                        assert_eq!(
                            spliced(text, &changed.splices),
                            changed.text,
                            "{wanted:?} of {text:?}"
                        );
                        let most = if matches!(wanted, Edit::Lift { .. }) {
                            2
                        } else {
                            1
                        };
                        assert!(changed.splices.len() <= most, "{wanted:?} of {text:?}");
                    }
                    Err(_) => refused += 1,
                }
            }
        }
    }
    assert!(
        made > 500 && refused > 5_000,
        "{made} made, {refused} refused"
    );
}

#[test]
fn of_whole_odd_lessons_nothing_is_refused_because_it_would_be_misread() {
    let mut told = Vec::new();
    for text in ODD {
        for wanted in edits() {
            if let Err(refused) = edit(text, 0, &wanted)
                && refused.why == plyline::edit::Why::OtherMeaning
            {
                told.push(format!("{wanted:?} of {text:?}: {}", refused.reason));
            }
        }
    }
    assert!(told.is_empty(), "{}\n{}", told.len(), told.join("\n"));
}

#[test]
fn odd_lessons_in_pages_are_edited_or_left_as_they_are() {
    let mut made = 0;
    for text in ODD {
        let quoted: String = text.lines().map(|line| format!("> {line}\n")).collect();
        for page in [
            format!("a\n\n```pgn\n{text}\n```\n\nb\n"),
            format!("> ```pgn\n{quoted}> ```\n"),
            format!(
                "<ply-line><pre>{}</pre></ply-line>\n",
                text.replace('<', "&lt;")
            ),
        ] {
            let kind = if page.starts_with('<') {
                Kind::Html
            } else {
                Kind::Markdown
            };
            for wanted in edits().into_iter().step_by(5) {
                if let Ok(changed) = edit_post(&page, kind, 0, &wanted) {
                    made += 1;
                    assert_eq!(spliced(&page, &changed.splices), changed.text);
                }
            }
        }
    }
    assert!(made > 100, "{made}");
}
