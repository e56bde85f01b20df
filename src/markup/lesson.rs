//! The whole of a lesson: outline, figure, and the line list of `lines.rs`; and as it is printed.

#[cfg(not(target_family = "wasm"))]
use super::diagram::Pictures;
use super::figure::{figure, panel};
use super::lines::Text;
use super::parts::{button, key, named, shown};
use super::picture::map::map_place;
use super::{Element, el};
use crate::lesson::LineId;
#[cfg(not(target_family = "wasm"))]
use crate::notation::comment::passage::Passage;
#[cfg(not(target_family = "wasm"))]
use crate::view;
use crate::view::{Action, LineView, Page, Paragraph, Signs, Word, Words};

/// On narrow pages an outline of more rows opens on request: board and text come first.
const OUTLINE_ROWS: usize = 6;

/// The id of a line's row in the outline.
pub fn row_id(line: LineId) -> String {
    format!("o{line}")
}

/// What is in the shadow root of a lesson.
pub fn lesson(page: &Page) -> Vec<Element> {
    let words = &page.words;
    let text = Text::new(words, page.at, false);
    let which = match page.is_alone {
        true => Action::AllLines,
        false => Action::MainOnly,
    };
    let which = button(words, which);
    let which = (!page.outline.is_empty()).then(|| el("p").with("class", "which").child(which));
    let main = el("div").with("class", "lines").with("part", "lines");
    let main = main.maybe(which);
    let drawn = page.map.as_ref().map(|(drawn, way)| (drawn, way.clone()));
    let mut body = el("div")
        .with("class", "lesson")
        .maybe(games(words, &page.games))
        .maybe(outline(page))
        .child(
            margin(page).child(
                el("div")
                    .with("class", "under")
                    .child(panel(words, &page.figure))
                    .child(map_place(words, drawn, Word::MapKey)),
            ),
        )
        .child(
            main.children(text.main_blocks(&page.lines))
                .maybe(signs(words, &page.signs)),
        );
    if !page.notes.is_empty() {
        body = body.child(notes(words, &page.notes));
    }
    vec![body, paper(None)]
}

/// What the signs in the text say, on request.
fn signs(words: &Words, signs: &Signs) -> Option<Element> {
    let summary = el("summary").text(words.get(Word::Signs));
    (!signs.is_empty()).then(|| el("details").child(summary).child(key(signs)))
}

/// The board and its buttons to step with.
fn margin(page: &Page) -> Element {
    el("div")
        .with("class", "margin")
        // It may scroll, and Firefox would make that a tab stop without a name.
        .with("tabindex", "-1")
        .child(figure(&page.words, &page.figure))
}

/// What is in the shadow root of a question or a recall: what its element holds, or else a prompt,
/// and the board.
pub fn quiz(page: &Page, prompt: &[Paragraph]) -> Vec<Element> {
    let words = &page.words;
    let text = Text::new(words, 0, true);
    let mut body = el("div")
        .with(
            "class",
            match page.figure.recall {
                Some(_) => "lesson quiz recall",
                None => "lesson quiz",
            },
        )
        .child(
            el("div").with("class", "lines").child(el("slot")).children(
                prompt
                    .iter()
                    .map(|words| text.push_pieces(el("p"), &words.pieces)),
            ),
        )
        .child(margin(page))
        .child(panel(words, &page.figure));
    if !page.notes.is_empty() {
        body = body.child(notes(words, &page.notes));
    }
    let slot = el("slot").with("name", "paper");
    vec![body, el("div").with("class", "paper").child(slot)]
}

/// The place of the printed form, which the script puts there while it prints. Without the script
/// it is what the element holds: on a baked page the plain form.
pub fn paper(printed: Option<Element>) -> Element {
    let form = printed.unwrap_or_else(|| el("slot"));
    el("div").with("class", "paper").child(form)
}

/// The lesson as it is printed: all text, diagrams, nothing to act on.
pub fn plain(words: &Words, lines: &LineView, signs: &Signs) -> Element {
    let text = Text::new(words, 0, true);
    el("div")
        .with("class", "plain")
        .children(text.main_blocks(lines))
        .maybe((!signs.is_empty()).then(|| key(signs)))
}

/// The same for a file that has no style sheet of ours: the pictures of boards are files of their own.
#[cfg(not(target_family = "wasm"))]
pub fn listed(words: &Words, lines: &LineView, pictures: Pictures<'_>) -> Vec<Element> {
    let mut text = Text::new(words, 0, true);
    text.pictures = Some(pictures);
    text.main_blocks(lines)
}

/// An author's prompt, as text alone.
#[cfg(not(target_family = "wasm"))]
pub fn prompted(words: &Words, prompt: &Passage) -> Vec<Element> {
    let text = Text::new(words, 0, true);
    let paragraphs = view::prompt(prompt);
    let paragraph = |words: &Paragraph| text.push_pieces(el("p"), &words.pieces);
    paragraphs.iter().map(paragraph).collect()
}

/// What is shown instead if nothing can be drawn: a sentence, what the checker says, and
/// the element's own content.
pub fn failure(words: &Words, has_content: bool, findings: &[String]) -> Vec<Element> {
    let message = words.get(if has_content {
        Word::Failed
    } else {
        Word::FailedBare
    });
    let mut body = el("div")
        .with("class", "failed")
        .child(el("p").with("role", "status").text(message));
    if !findings.is_empty() {
        body = body.child(notes(words, findings));
    }
    vec![body, el("slot")]
}

/// The findings for the author of a page, shown in it.
pub fn notes(words: &Words, notes: &[String]) -> Element {
    el("div")
        .with("class", "notes")
        .with("role", "group")
        .with("aria-label", words.get(Word::Notes).to_owned())
        .child(el("p").child(el("b").text(words.get(Word::Notes))))
        .child(
            el("ul")
                .with("role", "list")
                .children(notes.iter().map(|note| el("li").text(note))),
        )
}

/// The lessons of a text that holds several.
fn games(words: &Words, games: &[(String, bool)]) -> Option<Element> {
    let rows = games.iter().enumerate().map(|(at, (name, is_current))| {
        let number = (at + 1).to_string();
        let name = match name.is_empty() {
            true => words.fill(Word::Game, &[("number", &number)]),
            false => name.clone(),
        };
        let button = el("button")
            .with("type", "button")
            .with("data-game", number);
        el("li").child(
            button
                .with_if(*is_current, "aria-current", "true")
                .text(&name),
        )
    });
    (!games.is_empty()).then(|| {
        el("nav")
            .with("class", "games")
            .with("aria-label", words.get(Word::Games).to_owned())
            .child(el("ol").with("role", "list").children(rows))
    })
}

fn outline(page: &Page) -> Option<Element> {
    let (words, rows) = (&page.words, &page.outline);
    if rows.is_empty() && !page.has_questions {
        return None;
    }
    let open = page.has_questions.then(|| {
        let open = button(words, Action::OpenAll).with("class", "to");
        el("p").child(open)
    });
    let rows = rows.iter().map(|row| {
        let label = named(el("span").with("class", "label"), words, &row.label);
        let button = el("button")
            .with("type", "button")
            .with("id", row_id(row.line))
            .with("data-go", row.first.node.to_string())
            .with_if(row.is_current, "aria-current", "true")
            .child(label)
            .text(" ")
            .child(shown(&row.first));
        let item = el("li").with("class", depth(row.depth)).child(button);
        match row.words.is_empty() {
            true => item,
            false => item
                .text(" ")
                .child(el("span").with("class", "words").text(&row.words)),
        }
    });
    let count = rows.len();
    let mut list = el("ol").with("role", "list").children(rows);
    if page.is_narrow && count > OUTLINE_ROWS {
        let summary = el("summary").text(words.get(Word::Outline));
        let summary = summary.text(" (").text(&count.to_string()).text(")");
        list = el("details").child(summary).child(list);
    }
    Some(
        el("div")
            .with("class", "outline")
            .with("role", "group")
            .with("part", "outline")
            .with("aria-label", words.get(Word::Outline).to_owned())
            .maybe((count > 0).then_some(list))
            .maybe(open),
    )
}

/// Indentation by class, because a style attribute is forbidden under a strict policy. Deeper than
/// four the indentation stays, because the label tells the rest.
fn depth(depth: u32) -> &'static str {
    match depth {
        0 | 1 => "d1",
        2 => "d2",
        3 => "d3",
        _ => "d4",
    }
}
