//! How a lesson is written: numbers, spaces, signs, line ends, and where its lines are broken. What is new is written
//! in the same way.

use super::laid::Laid;
use crate::notation::word::{nag, san};
use crate::notation::{Item, ItemKind, Letters};
use crate::text::{Span, line_end, line_start};
use shakmaty::Color;
use std::collections::HashMap;

/// Columns of a line where the lesson does not say: fewer than 80 (PGN standard, 8.2.1).
const COLUMNS: usize = 79;

/// The shortest line at which a lesson is taken to be wrapped; shorter ones are broken by hand.
const SHORTEST: usize = 60;

pub struct Style {
    /// The end of a line.
    pub end: &'static str,
    /// Most columns of a line.
    pub columns: usize,
    /// Whether moves have numbers.
    pub numbers: bool,
    /// What comes after the number of a white move, and of a black one: dots and space.
    pub white: String,
    pub black: String,
    /// Whether a black move has its number after a comment or a variation.
    pub repeats: bool,
    /// Whether a comment has spaces inside its braces.
    pub padded: bool,
    /// Whether `!`, `?` and what is made of them are typed, and not `$1`; and whether other signs are, `=`.
    typed: bool,
    typed_apart: bool,
    /// How each sign is typed here.
    signs: HashMap<u8, String>,
    /// Whether each white move of the main line begins a line of the text.
    pub rows: bool,
    pub letters: &'static Letters,
}

impl Style {
    pub fn of(laid: &Laid<'_>, letters: &'static Letters) -> Style {
        let mut seen = Seen::default();
        for (line, items) in laid.game.lines.iter().map(|it| &it.items).enumerate() {
            for (at, item) in items.iter().enumerate() {
                let next = items.get(at + 1);
                let before = at.checked_sub(1).and_then(|at| items.get(at));
                seen.item(laid, item, before, next, line == 0);
            }
        }
        let numbered = seen
            .white
            .values()
            .chain(seen.black.values())
            .sum::<usize>();
        let white = most(&seen.white);
        let black = most(&seen.black);
        let of_white = |white: &String| white.replacen('.', "...", 1);
        let of_black = |black: &String| black.replace("...", ".").replace('\u{2026}', ".");
        Style {
            end: line_end(laid.text(), laid.game.span.from as usize),
            columns: columns(laid.text(), laid.game.span),
            numbers: numbered > 0 || laid.game.words == 0,
            white: white
                .clone()
                .or(black.as_ref().map(of_black))
                .unwrap_or_else(|| ". ".to_owned()),
            black: black
                .or(white.as_ref().map(of_white))
                .unwrap_or_else(|| "... ".to_owned()),
            repeats: seen.bare <= seen.repeated,
            padded: seen.padded > seen.close,
            typed: seen.typed > seen.glyphs || seen.glyphs + seen.glyphs_apart == 0,
            typed_apart: seen.typed_apart > seen.glyphs_apart,
            signs: seen.signs,
            rows: seen.rows > 1 && seen.inside == 0,
            letters,
        }
    }

    /// That of the PGN standard's export format, with signs by their numbers.
    pub fn standard() -> Style {
        Style {
            end: "\n",
            columns: usize::MAX,
            numbers: true,
            white: ". ".to_owned(),
            black: "... ".to_owned(),
            repeats: true,
            padded: false,
            typed: false,
            typed_apart: false,
            signs: HashMap::new(),
            rows: false,
            letters: Letters::ENGLISH,
        }
    }

    /// A move with its number, if it has one.
    pub fn number(&self, number: u32, turn: Color) -> String {
        let after = if turn.is_white() {
            &self.white
        } else {
            &self.black
        };
        match self.numbers {
            true => format!("{number}{after}"),
            false => String::new(),
        }
    }

    /// The sign of a glyph as it is typed after a move; none where it is written by its number.
    pub fn sign(&self, glyph: u8) -> Option<String> {
        let is_typed = match is_plain(glyph) {
            true => self.typed,
            false => self.typed_apart,
        };
        if !is_typed {
            return None;
        }
        if let Some(sign) = self.signs.get(&glyph) {
            return Some(sign.clone());
        }
        let typed = nag::TYPED.iter().find(|(_, it)| *it == glyph);
        typed.map(|(sign, _)| (*sign).to_owned())
    }
}

/// Whether a glyph is one of the six that PGN allows to be typed (section 8.2.3.8); the others are our readers' own.
pub fn is_plain(glyph: u8) -> bool {
    (1..=6).contains(&glyph)
}

/// What is counted.
#[derive(Default)]
struct Seen {
    white: HashMap<String, usize>,
    black: HashMap<String, usize>,
    repeated: usize,
    bare: usize,
    padded: usize,
    close: usize,
    typed: usize,
    glyphs: usize,
    typed_apart: usize,
    glyphs_apart: usize,
    signs: HashMap<u8, String>,
    rows: usize,
    inside: usize,
}

impl Seen {
    fn item(
        &mut self,
        laid: &Laid<'_>,
        item: &Item,
        before: Option<&Item>,
        next: Option<&Item>,
        is_main: bool,
    ) {
        let written = laid.source.slice(item.span);
        match item.kind {
            ItemKind::Number { dots, .. } => {
                let end = next.map_or(item.span.to, |next| next.span.from);
                let gap = laid.slice(item.span.to, end);
                let gap = if gap.contains('\n') { " " } else { gap };
                let after = written.trim_start_matches(|it: char| it.is_ascii_digit());
                let after = format!("{}{gap}", after.trim());
                let list = if dots < 2 {
                    &mut self.white
                } else {
                    &mut self.black
                };
                *list.entry(after).or_default() += 1;
                self.repeated += usize::from(dots > 1 && before.is_some());
                if is_main && dots < 2 {
                    let start = laid
                        .text()
                        .get(..item.span.from as usize)
                        .unwrap_or_default();
                    let is_first = start.trim_end_matches([' ', '\t']).ends_with(['\n', ']'])
                        || start.trim().is_empty();
                    self.rows += usize::from(is_first);
                    self.inside += usize::from(!is_first);
                }
            }
            ItemKind::Move => {
                let is_apart =
                    |it: &&Item| matches!(it.kind, ItemKind::Comment | ItemKind::Variation(_));
                self.bare += usize::from(before.filter(is_apart).is_some());
                let word = san::read(written, laid.lesson.letters());
                let glyphs = word.shape.map(|it| it.nags).unwrap_or_default();
                let own = glyphs.iter().filter(|it| is_plain(**it)).count();
                self.typed += own;
                self.typed_apart += glyphs.len() - own;
            }
            ItemKind::Nag(glyph) => {
                let is_own = is_plain(glyph);
                match (written.starts_with('$'), is_own) {
                    (true, true) => self.glyphs += 1,
                    (true, false) => self.glyphs_apart += 1,
                    (false, true) => self.typed += 1,
                    (false, false) => self.typed_apart += 1,
                }
                if !written.starts_with('$') {
                    self.signs.insert(glyph, written.to_owned());
                }
            }
            ItemKind::Comment if written.starts_with('{') => {
                let inner = written.get(1..).unwrap_or_default();
                match inner.starts_with(' ') {
                    true => self.padded += 1,
                    false => self.close += 1,
                }
            }
            _ => {}
        }
    }
}

/// The one that was seen most; of several the first in the alphabet.
fn most(seen: &HashMap<String, usize>) -> Option<String> {
    let best = seen
        .iter()
        .max_by_key(|(text, count)| (**count, std::cmp::Reverse(text.as_str())));
    best.map(|(text, _)| text.clone())
}

/// How long the lines of some moves are at most. One long line is not broken at all.
fn columns(text: &str, game: Span) -> usize {
    let text = text.get(game.range()).unwrap_or_default();
    let moves = text
        .lines()
        .filter(|line| !line.trim_start().starts_with('['));
    let lengths: Vec<usize> = moves.map(|line| line.trim_end().chars().count()).collect();
    let longest = lengths.iter().max().copied().unwrap_or(0);
    match (lengths.len(), longest) {
        (_, ..SHORTEST) => COLUMNS,
        (1, ..=COLUMNS) => COLUMNS,
        (1, _) => usize::MAX,
        (_, longest) => longest,
    }
}

/// The columns before a byte of the text, on its line.
pub fn column(text: &str, byte: u32) -> usize {
    let line = text.get(line_start(text, byte as usize)..byte as usize);
    line.unwrap_or_default().chars().count()
}

/// The white space at the beginning of the line of a byte.
pub fn indent(text: &str, byte: u32) -> &str {
    let line = text.get(line_start(text, byte as usize)..);
    let line = line.unwrap_or_default();
    let length = line.len() - line.trim_start_matches([' ', '\t']).len();
    &line[..length]
}
