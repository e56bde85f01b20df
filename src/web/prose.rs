//! What the page says of places of a lesson: the moves that its sentences name, and
//! single references.

use super::mounted::Mounted;
use super::to_page;
use crate::edge;
use crate::lesson::place::address;
use crate::lesson::prose::misplaced;
use crate::lesson::{Place, prose};
use crate::text::{Findings, Source, join};
use crate::view::{self, Mode, wording};
use core::ops::Range;
use js_sys::Array;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
impl Mounted {
    /// Reads one paragraph of an article, the `first` or the one after that read before. Returns
    /// what was found, and then of each move that can be played three things: where it begins and
    /// ends, in UTF-16 units, and the run of its address.
    pub fn prose(&mut self, text: String, first: bool) -> Array {
        let mut findings = Findings::default();
        let list = Array::of1(&JsValue::NULL);
        let source = Source::new("", text);
        let text = source.text();
        if first {
            self.article = prose::Context::default();
        }
        let mut context = core::mem::take(&mut self.article);
        if let Some(lesson) = self.lesson_or(&mut findings) {
            let mut at = Utf16::default();
            for named in prose::named(lesson, self.words.letters(), &mut context, text) {
                let Range { start, end } = named.range;
                match named.place {
                    Ok(place) => {
                        list.push(&at.go(text, start).into());
                        list.push(&at.go(text, end).into());
                        list.push(&address::address(lesson, &place).into());
                    }
                    Err(missed) => {
                        let mut finding = misplaced::finding(
                            lesson,
                            self.words.letters(),
                            text,
                            start..end,
                            &missed,
                        );
                        let words = text.get(start..end).unwrap_or_default();
                        finding.message =
                            join(&["\u{201c}", words, "\u{201d}: ", &finding.message], "");
                        findings.push(finding);
                    }
                }
            }
        }
        self.article = context;
        for finding in findings.iter() {
            self.said_of_prose.push(wording::note(&source, finding));
        }
        list.set(0, to_page(&edge::findings(&source, &findings)));
        list
    }

    /// What is found about a reference to a place, and the run of its address, if it names one.
    pub fn refer(&self, at: &str) -> Array {
        let mut findings = Findings::default();
        let list = Array::of1(&JsValue::NULL);
        if let Some(lesson) = self.lesson_or(&mut findings) {
            let at = at.to_owned();
            let element = view::Element::Reference { at };
            let (state, found) = view::open(lesson, &element, self.words.letters());
            findings.extend(found);
            if !matches!(state.mode, Mode::Missing) {
                let (node, aside) = (state.node, state.aside);
                let run = address::address(lesson, &Place { node, aside });
                list.push(&run.into());
            }
        }
        list.set(0, to_page(&edge::findings(&Source::new("", ""), &findings)));
        list
    }
}

/// Counts UTF-16 units along a text, each sign once.
#[derive(Default)]
struct Utf16 {
    byte: usize,
    units: u32,
}

impl Utf16 {
    /// The place of a byte that is not before the last one asked for.
    fn go(&mut self, text: &str, byte: usize) -> u32 {
        let between = text.get(self.byte..byte).unwrap_or_default();
        self.units += between
            .chars()
            .map(|sign| sign.len_utf16() as u32)
            .sum::<u32>();
        self.byte = byte;
        self.units
    }
}
