//! The plain text in which the examples of the spec say what was read; `00-how-to-read.md`
//! explains it.

use crate::support::Read;
use plyline::lesson::place::address::address;
use plyline::lesson::prose::{Context, named};
use plyline::lesson::{Lesson, LineId, LocateError, NodeId, locate};
use plyline::notation::Comment;
use plyline::notation::Letters;
use plyline::notation::comment::passage::{Does, Link, Paragraph, Passage, Style};
use plyline::text::Code;
use shakmaty::Position;

/// Every game with its tags, lines and comments, then what was found.
pub fn tree(read: &Read, with_silence: bool) -> String {
    let mut games: Vec<String> = Vec::new();
    for lesson in &read.lessons {
        games.push(match lesson {
            Some(lesson) => game(read, lesson),
            None => "no lesson\n".to_owned(),
        });
    }
    if games.is_empty() {
        games.push("no game\n".to_owned());
    }
    let mut text = games.join("\n");
    for finding in read.findings.iter() {
        if finding.code == Code::EndsInSilence && !with_silence {
            continue;
        }
        let place = read.source.slice(finding.span).replace('\n', " ");
        let word = finding.severity().word();
        let at = match place.is_empty() {
            true => String::new(),
            false => format!(" at {place}"),
        };
        text += &format!("{word} {}{at}\n", finding.code.id());
    }
    text
}

fn game(read: &Read, lesson: &Lesson) -> String {
    let mut text = String::new();
    for (name, value) in &lesson.tags {
        text += &format!("{name} = {value}\n");
    }
    for (ix, line) in lesson.lines.iter().enumerate() {
        if ix > 0 {
            let beside = numbered(lesson, line.beside);
            text += &format!("{} beside {beside}: ", line.label);
        }
        text += &words(read, lesson, ix as LineId).join(" ");
        text.push('\n');
    }
    text
}

/// What is in a line, in the order of the text.
fn words(read: &Read, lesson: &Lesson, line: LineId) -> Vec<String> {
    let mut words = Vec::new();
    for id in lesson.line_nodes(line) {
        let node = lesson.node(id);
        words.extend(node.before.iter().map(said));
        if let Some(before) = node.parent.map(|parent| &lesson.node(parent).position) {
            let number = before.fullmoves();
            let is_first = lesson.line(line).first == id || node.parent == Some(0);
            if before.turn().is_white() {
                words.push(format!("{number}."));
            } else if is_first {
                words.push(format!("{number}..."));
            }
            words.push(node.san.to_string());
        }
        words.extend(node.nags.iter().map(|nag| format!("${nag}")));
        words.extend(node.comments.iter().map(said));
        let unread = lesson.unread.iter();
        let unread = unread.filter(|unread| unread.after == id && unread.line == line);
        words.extend(unread.map(|unread| {
            let text = read.source.slice(unread.span);
            format!(
                "<{}>",
                text.split_whitespace().collect::<Vec<_>>().join(" ")
            )
        }));
    }
    if line == 0 {
        words.push(lesson.result.to_owned());
    }
    words
}

fn said(said: &Comment) -> String {
    format!("{{{}}}", said.text().replace("\n\n", " ¶ "))
}

/// `1. e4`, `1... e5`, or `the start`.
fn numbered(lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    let Some(before) = node.parent.map(|parent| &lesson.node(parent).position) else {
        return "the start".to_owned();
    };
    let dots = if before.turn().is_white() { "." } else { "..." };
    format!("{}{dots} {}", before.fullmoves(), node.san)
}

/// What the comments say, move by move: text, marks, links, choices, questions.
pub fn says(lesson: &Lesson) -> String {
    let mut text = String::new();
    for id in lesson.ids() {
        let node = lesson.node(id);
        let mut lines = Vec::new();
        match node.ask() {
            Some(ask) => {
                lines.push(format!("asks: {}", ask.prompt.text()));
                lines.extend(ask.hint().map(|hint| format!("hint: {}", hint.text())));
                lines.extend(ask.because().map(|why| format!("because: {}", why.text())));
            }
            None => {
                let texts = node.before.iter().chain(&node.comments);
                let all = texts
                    .flat_map(Comment::passages)
                    .flat_map(Passage::paragraphs);
                lines.extend(all.filter(|paragraph| paragraph.lead.is_none()).map(pieces));
            }
        }
        if let Some(condition) = node.choice().map(Paragraph::text) {
            lines.push(format!("choice: {condition}").trim_end().to_owned());
        }
        for line in lines {
            text += &format!("{} | {line}\n", numbered(lesson, id));
        }
    }
    text
}

fn pieces(paragraph: Paragraph) -> String {
    let shown = paragraph.pieces().map(|piece| {
        let stars = match piece.style {
            Style::Plain => "",
            Style::Emphasis => "*",
            Style::Strong => "**",
        };
        let words = match &piece.does {
            Does::Marks(mark) => format!("<{} {}>", mark.kind.word(), piece.text),
            Does::Links(Link::Web(address)) => format!("<{} -> {address}>", piece.text),
            Does::Links(Link::Locator { run, .. }) => format!("<{} -> #{run}>", piece.text),
            Does::Says | Does::MarksNothing | Does::LinksNowhere { .. } => piece.text.to_string(),
        };
        format!("{stars}{words}{stars}")
    });
    shown.collect()
}

/// Each line's locator, up to ` -> `, with the place that it names.
pub fn locators(lesson: &Lesson, lines: &str) -> String {
    let line = |line: &str| {
        let locator = line.split(" -> ").next().unwrap_or(line);
        let place = match locate(lesson, locator) {
            Ok(id) => place(lesson, id),
            Err(LocateError::None) => "nothing".to_owned(),
            Err(LocateError::Several(ids)) => {
                let all: Vec<String> = ids.iter().map(|&id| place(lesson, id)).collect();
                format!("several: {}", all.join(", "))
            }
        };
        format!("{locator} -> {place}\n")
    };
    lines.lines().map(line).collect()
}

/// A node with the label of its line: `A 1... Nf6`.
fn place(lesson: &Lesson, id: NodeId) -> String {
    let label = lesson.label(id);
    let name = numbered(lesson, id);
    match label.is_empty() {
        true => name,
        false => format!("{label} {name}"),
    }
}

/// Each sentence, and below it the moves that it names with the addresses of their places. The
/// sentences are paragraphs of one article.
pub fn prose(lesson: &Lesson, lines: &str) -> String {
    let mut context = Context::default();
    let mut shown = String::new();
    for sentence in lines.lines().filter(|line| !line.starts_with("- ")) {
        shown.push_str(sentence);
        shown.push('\n');
        for one in named(lesson, Letters::ENGLISH, &mut context, sentence) {
            let place = match &one.place {
                Ok(place) => address(lesson, place),
                Err(_) => "cannot be played there".to_owned(),
            };
            shown.push_str(&format!("- {} -> {place}\n", &sentence[one.range]));
        }
    }
    shown
}
