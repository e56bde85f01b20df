//! The plain form: which picture stands for a lesson, and what is beside it.

use super::baked;

/// The alternative text of the first picture, and what is said below it.
fn picture(lesson: &str) -> (String, String) {
    let html = baked(&format!("<ply-line><pre>{lesson}</pre></ply-line>"));
    let (_, plain) = html.split_once("</template>").expect("a root");
    let between = |from: &str, to: &str| {
        let (_, rest) = plain.split_once(from).expect("it is there");
        rest.split_once(to).expect("it ends").0.to_owned()
    };
    (
        between("alt=\"", "\""),
        between("<figcaption>", "</figcaption>"),
    )
}

fn caption(lesson: &str) -> String {
    let (_, caption) = picture(lesson);
    let mut words = String::new();
    let mut is_tag = false;
    for sign in caption.chars() {
        match sign {
            '<' => is_tag = true,
            '>' => is_tag = false,
            _ if !is_tag => words.push(sign),
            _ => {}
        }
    }
    words
}

#[test]
fn the_picture_is_where_the_reader_begins_or_where_there_is_first_something_to_say() {
    for (lesson, said) in [
        (
            "[At \"2.Nf3\"]\n\n1. e4 e5 2. Nf3 Nc6 {Here.} *",
            "after 2.Nf3, Black to move",
        ),
        (
            "{Welcome.} 1. e4 e5 2. Nf3 Nc6 {Here.} *",
            "after 2\u{2026}Nc6, White to move",
        ),
        ("1. e4 e5 (1... c5) 2. Nf3 *", "after 1.e4, Black to move"),
        (
            "1. e4 e5 2. Nf3 {Ask: What now?} Nc6 3. Bb5 {Here.} *",
            "after 2.Nf3, Black to move",
        ),
        ("1. e4 e5 *", "after 1\u{2026}e5, White to move"),
        (
            "[FEN \"8/5k2/8/8/3P4/8/4K3/8 w - - 0 1\"]\n\n{A pawn.} 1. d5 *",
            "the start, White to move",
        ),
    ] {
        assert_eq!(caption(lesson), said, "{lesson}");
    }
}

#[test]
fn the_alternative_text_names_each_piece() {
    let (text, _) = picture("[FEN \"8/5k2/8/8/3P4/8/4K3/8 w - - 0 1\"]\n\n{A pawn.} 1. d5 *");
    assert_eq!(text, "White: king e2, pawn d4; Black: king f7");
}

#[test]
fn a_lesson_from_a_file_of_its_own_brings_its_notation() {
    let html = baked("<ply-line src=\"a.pgn\"></ply-line>");
    let pre = "<pre>\n1. e4 e5 {The file.} 2. Nf3 *\n\n1. d4 d5 *</pre></div></ply-line>";
    assert!(html.contains(pre), "{html}");
}

#[test]
fn a_recap_is_an_ordinary_table() {
    let html = baked(
        "<ply-line id=\"a\"><pre>1. e4 e5 (1... c5) 2. Nf3 *</pre></ply-line>\
         <ply-recap for=\"a\" side=\"black\"></ply-recap>",
    );
    let (_, plain) = html.rsplit_once("</template>").expect("a root");
    assert!(plain.contains("<table class=\"card\"><caption>"), "{plain}");
    assert!(
        !plain.contains("role=") && !plain.contains("part="),
        "{plain}"
    );
}

#[test]
fn answers_name_the_line_of_their_question_where_that_is_a_variation() {
    let html = baked(
        "<ply-line><pre>1. e4 e5 (1... c5 2. Nf3 {Ask: What now?} d6) 2. Nf3 {Ask: And here?} Nc6 *</pre></ply-line>",
    );
    let (_, answers) = html.split_once("Answers</p>").expect("the answers");
    let move_2 = "<p>after <b><bdi dir=\"ltr\">2.Nf3</bdi></b>";
    assert!(
        answers.starts_with(&format!("{move_2}, line A:</p>")),
        "{answers}"
    );
    assert!(answers.contains(&format!("{move_2}:</p>")), "{answers}");
}
