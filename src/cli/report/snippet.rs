//! One finding as text for a terminal: the source line, carets under the place, related places,
//! help and fix. Whatever the length of the source's lines, some twenty lines at most.

use crate::cli::out::{clip, visible};
use crate::text::{Elsewhere, Finding, Severity, Source, Span};
use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use std::ops::Range;

/// A line up to this many bytes is shown whole; of a longer one only what is around the
/// place. PGN's own lines have at most 80 (standard, 4.3).
const LINE: usize = 120;

/// What is shown of a long line to the left and to the right of the place, in characters.
const AROUND: usize = 32;

/// The most that is shown of a place itself, in characters.
const PLACE: usize = 40;

/// Places that are no more than this many bytes apart, on lines that are shown whole, are
/// shown in one picture.
const TOGETHER: usize = 1_000;

/// The most that is shown of a sentence, in characters: it may quote the text.
const SENTENCE: usize = 400;

/// What a file is called until its heading is known; see [`with_headings`].
const STAND_IN: &str = "\0";

/// Findings to text, with or without colour.
pub struct Painter {
    renderer: Renderer,
}

type Place = (AnnotationKind, Span, Option<String>);

impl Painter {
    /// A painter.
    pub fn new(colour: bool) -> Painter {
        let renderer = match colour {
            true => Renderer::styled().hyperlink(false),
            false => Renderer::plain(),
        };
        Painter {
            // Lines are cut here, where the places are known, and not by the renderer.
            renderer: renderer
                .decor_style(DecorStyle::Ascii)
                .term_width(usize::MAX / 4),
        }
    }

    /// The text of a finding, without a line end after it.
    pub fn paint(&self, source: &Source, finding: &Finding) -> String {
        let title = level(finding)
            .primary_title(sentence(&finding.message))
            .id(finding.code.id());
        let mut group = Group::with_title(title);
        let mut headings = Vec::new();
        for places in pictures(source, finding) {
            headings.push(heading(source, places[0].1)); // a picture has at least one place
            group = picture(group, source, places);
        }
        if let Some(help) = &finding.help {
            // A help may be several sentences, each on a line of its own.
            let lines = sentence(help).replace("; ", "\n");
            group = group.element(Level::HELP.message(lines));
        }
        for related in &finding.related {
            if let Some(Elsewhere { file, from, .. }) = &related.elsewhere {
                let place = format!("{}:{}:{}", visible(file), from.0, from.1);
                let words = format!("{}: {place}", sentence(&related.message));
                group = group.element(Level::NOTE.message(words));
            }
        }
        if let Some(words) = mend(source, finding) {
            group = group.element(Level::HELP.with_name("fix").message(words));
        }
        with_headings(&self.renderer.render(&[group]), &headings)
    }

    /// The finding on one line: severity, code, sentence, place.
    pub fn line(&self, source: &Source, finding: &Finding) -> String {
        let title = level(finding)
            .primary_title(format!(
                "{} ({})",
                sentence(&finding.message),
                heading(source, finding.span)
            ))
            .id(finding.code.id());
        self.renderer.render(&[Group::with_title(title)])
    }
}

fn level(finding: &Finding) -> Level<'static> {
    match finding.severity() {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Hint => Level::NOTE.with_name("hint"),
    }
}

/// File, line and column of a place.
fn heading(source: &Source, span: Span) -> String {
    let place = source.place(span.from);
    format!("{}:{}:{}", visible(source.name()), place.line, place.column)
}

/// The renderer counts columns in what it is given, which may be a piece of a line. So each
/// picture's file is called [`STAND_IN`], which no shown text holds, and here it and the
/// numbers after it give way to the true heading.
fn with_headings(painted: &str, headings: &[String]) -> String {
    let mut parts = painted.split(STAND_IN);
    let mut text = parts.next().unwrap_or_default().to_owned();
    for (ix, part) in parts.enumerate() {
        text += headings.get(ix).map_or("", String::as_str);
        text += part.trim_start_matches(|letter: char| letter == ':' || letter.is_ascii_digit());
    }
    text
}

/// A sentence of the core, which may quote the text.
fn sentence(text: &str) -> String {
    visible(&clip(text, SENTENCE))
}

/// The places of a finding, in one picture where they are near each other, else in one each.
fn pictures(source: &Source, finding: &Finding) -> Vec<Vec<Place>> {
    let mut places = vec![(AnnotationKind::Primary, finding.span, None)];
    for related in finding.related.iter().filter(|it| it.elsewhere.is_none()) {
        let label = Some(sentence(&related.message));
        places.push((AnnotationKind::Context, related.span, label));
    }
    let spans: Vec<Span> = places.iter().map(|place| place.1).collect();
    match Excerpt::holds_all(source.text(), &spans) {
        true => vec![places],
        false => places.into_iter().map(|place| vec![place]).collect(),
    }
}

/// Adds a picture: where it is, and the source there with its marks.
fn picture<'a>(group: Group<'a>, source: &Source, places: Vec<Place>) -> Group<'a> {
    let spans: Vec<Span> = places.iter().map(|place| place.1).collect();
    let excerpt = Excerpt::of(source.text(), &spans);
    // Findings about a text as a whole have no place in it, and a blank line shows nothing.
    if spans[0] == Span::default() || excerpt.text.trim().is_empty() {
        return group.element(Origin::path(STAND_IN));
    }
    let marks = places
        .into_iter()
        .map(|(kind, span, label)| kind.span(excerpt.shown(span)).label(label));
    let marks: Vec<_> = marks.collect();
    let line = source.place(excerpt.bytes.start as u32).line as usize;
    let snippet = Snippet::source(excerpt.text)
        .path(STAND_IN)
        .line_start(line);
    group.element(snippet.annotations(marks))
}

/// What a fix does, in words: the picture shows the line already. Nothing where the help has
/// said it.
fn mend(source: &Source, finding: &Finding) -> Option<String> {
    let fix = finding.fix.as_ref()?;
    let text = fix.text.trim_end();
    let help = finding.help.as_deref().unwrap_or_default();
    if help.contains(&format!("`{text}`")) {
        return None;
    }
    let text = sentence(text);
    let old = source.slice(fix.span);
    let is_here = fix.span.from <= finding.span.to && finding.span.from <= fix.span.to;
    let place = source.place(fix.span.from);
    let at = match is_here {
        true => String::new(),
        false => format!(" at {}:{}", place.line, place.column),
    };
    Some(match (old.is_empty(), text.is_empty()) {
        (true, _) => format!("put in `{text}`{at}"),
        (_, true) => format!("take out `{}`{at}", sentence(old)),
        _ => format!("write `{text}`{at}"),
    })
}

/// What is shown of the source.
struct Excerpt {
    /// Which bytes of the source.
    bytes: Range<usize>,
    /// They as they are shown.
    text: String,
    /// For each of those bytes and the end: where in `text` it is shown.
    at: Vec<usize>,
}

impl Excerpt {
    /// The lines of these places; where they are long, what is around the places.
    fn of(text: &str, spans: &[Span]) -> Excerpt {
        let all = extent(text, spans);
        match whole_lines(text, &all) {
            Some(bytes) => Excerpt::shown_as(text, bytes, "", ""),
            None => Excerpt::around(text, all),
        }
    }

    /// Whether one excerpt shows all of these places.
    fn holds_all(text: &str, spans: &[Span]) -> bool {
        let all = extent(text, spans);
        let is_short = all.len() <= PLACE && !text[all.clone()].contains('\n');
        is_short || whole_lines(text, &all).is_some()
    }

    /// What is around a place on a long line.
    fn around(text: &str, place: Range<usize>) -> Excerpt {
        let first = place.start;
        let on = |from: usize, count: usize| {
            text[from..]
                .char_indices()
                .nth(count)
                .map_or(text.len(), |it| from + it.0)
        };
        let from = text[..first]
            .char_indices()
            .rev()
            .nth(AROUND - 1)
            .map_or(0, |it| it.0);
        let to = on(place.end.min(on(first, PLACE)), AROUND);
        let (from, left) = match text[from..first].rfind('\n') {
            Some(end) => (from + end + 1, ""),
            None if from == 0 => (0, ""),
            None => (from, "\u{2026}"),
        };
        let (to, right) = match text[first..to].find('\n') {
            Some(end) => (first + end, ""),
            None if to == text.len() => (to, ""),
            None => (to, "\u{2026}"),
        };
        Excerpt::shown_as(text, from..to, left, right)
    }

    fn shown_as(text: &str, bytes: Range<usize>, left: &str, right: &str) -> Excerpt {
        let mut shown = left.to_owned();
        let mut at = Vec::with_capacity(bytes.len() + 1);
        let part = &text[bytes.clone()];
        for (ix, letter) in part.char_indices() {
            at.resize(ix + letter.len_utf8(), shown.len());
            match letter {
                '\n' => shown.push('\n'),
                '\r' if text[bytes.start + ix + 1..].starts_with('\n') => {}
                _ => shown.push_str(&visible(letter.encode_utf8(&mut [0; 4]))),
            }
        }
        at.push(shown.len());
        shown.push_str(right);
        Excerpt {
            bytes,
            text: shown,
            at,
        }
    }

    /// Where a place is shown, as far as it is, on its first line.
    fn shown(&self, span: Span) -> Range<usize> {
        let at = |byte: u32| {
            let ix = (byte as usize).saturating_sub(self.bytes.start);
            self.at[ix.min(self.at.len() - 1)]
        };
        let from = at(span.from);
        let line = self.text[from..]
            .find('\n')
            .map_or(self.text.len(), |end| from + end);
        from..at(span.to).clamp(from, line)
    }
}

/// From the first of these places to the end of the last, of each only its first line.
fn extent(text: &str, spans: &[Span]) -> Range<usize> {
    let (mut first, mut last) = (text.len(), 0);
    for span in spans {
        let from = text.floor_char_boundary(span.from as usize);
        let to = text.floor_char_boundary(span.to as usize).max(from);
        let to = text[from..to].find('\n').map_or(to, |end| from + end);
        (first, last) = (first.min(from), last.max(to));
    }
    first..last.max(first)
}

/// The bytes of the lines of a stretch; none if they are too long or too many.
fn whole_lines(text: &str, stretch: &Range<usize>) -> Option<Range<usize>> {
    if stretch.len() > TOGETHER {
        return None;
    }
    let bytes = line_start(text, stretch.start, LINE)?..line_end(text, stretch.end, LINE)?;
    text[bytes.clone()]
        .split('\n')
        .all(|line| line.len() <= LINE)
        .then_some(bytes)
}

/// The start of the line of a byte, if it is no more than `most` bytes away.
fn line_start(text: &str, byte: usize, most: usize) -> Option<usize> {
    let near = text.floor_char_boundary(byte.saturating_sub(most));
    match text[near..byte].rfind('\n') {
        Some(end) => Some(near + end + 1),
        None => (near == 0).then_some(0),
    }
}

/// The end of the line of a byte, if it is no more than `most` bytes away.
fn line_end(text: &str, byte: usize, most: usize) -> Option<usize> {
    let near = text.floor_char_boundary(byte + most);
    match text[byte..near].find('\n') {
        Some(end) => Some(byte + end),
        None => (near == text.len()).then_some(near),
    }
}
