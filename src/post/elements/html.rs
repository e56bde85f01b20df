//! From markup to its tags and texts, in the order in which they stand (crate lol_html, which says
//! of each where it is).

use lol_html::html_content::{Element, TextType};
use lol_html::{HtmlRewriter, Settings, doc_text, element, end_tag};
use std::cell::RefCell;
use std::ops::Range;
use std::rc::Rc;

/// A tag or a text. Places are bytes of the markup.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// The beginning of an element.
    Open {
        /// In small letters.
        name: String,
        tag: Range<usize>,
        attributes: Vec<Attribute>,
        /// Whether nothing can be in it, as in `<br>`.
        is_empty: bool,
    },
    /// The end tag of the element that this event of the list opened.
    Close { opened: usize, tag: Range<usize> },
    /// A text, not yet decoded.
    Text { at: Range<usize>, is_raw: bool },
}

/// An attribute, not yet decoded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attribute {
    /// In small letters.
    pub name: String,
    pub named: Range<usize>,
    /// Without its quotes.
    pub value: Range<usize>,
}

/// The tags and texts of some markup. What cannot be read as such, such as a tag that never ends,
/// is left out.
pub fn events(html: &str) -> Vec<Event> {
    let events = Rc::new(RefCell::new(Vec::new()));
    let (opening, reading) = (Rc::clone(&events), Rc::clone(&events));
    let open = element!("*", move |element| {
        let tag = element.source_location().bytes();
        let attributes = attributes(html, tag.start + 1 + element.tag_name().len(), element);
        let opened = opening.borrow().len();
        let handlers = element.end_tag_handlers();
        let is_empty = handlers.is_none();
        if let Some(handlers) = handlers {
            let closing = Rc::clone(&opening);
            handlers.push(end_tag!(move |end| {
                let tag = end.source_location().bytes();
                closing.borrow_mut().push(Event::Close { opened, tag });
                Ok(())
            }));
        }
        opening.borrow_mut().push(Event::Open {
            name: element.tag_name(),
            tag,
            attributes,
            is_empty,
        });
        Ok(())
    });
    let read = doc_text!(move |text| {
        let at = text.source_location().bytes();
        let is_raw = !matches!(text.text_type(), TextType::Data | TextType::RCData);
        let mut events = reading.borrow_mut();
        match events.last_mut() {
            // A long text comes in pieces.
            Some(Event::Text {
                at: before,
                is_raw: was,
            }) if before.end == at.start && *was == is_raw => {
                before.end = at.end;
            }
            _ if at.is_empty() => {}
            _ => events.push(Event::Text { at, is_raw }),
        }
        Ok(())
    });
    let settings = Settings {
        element_content_handlers: vec![open],
        document_content_handlers: vec![read],
        strict: false,
        ..Settings::new()
    };
    let mut rewriter = HtmlRewriter::new(settings, |_: &[u8]| {});
    // It fails where memory ends, for which there is no limit here; what was read until then counts.
    if rewriter.write(html.as_bytes()).is_ok() {
        let _ = rewriter.end();
    }
    events.take()
}

/// The attributes of a tag, the first of which comes after `from`. Of one without a value lol_html does
/// not say where it is: after the one before it. It has an empty value at its end.
fn attributes(html: &str, mut from: usize, element: &Element) -> Vec<Attribute> {
    let mut list = Vec::new();
    for it in element.attributes() {
        let name = it.name();
        let places = it.name_source_location().zip(it.value_source_location());
        let (named, value) = match places {
            Some((named, value)) => (named.bytes(), value.bytes()),
            None => {
                let rest = html.get(from..).unwrap_or_default();
                let gap = |sign: char| sign.is_ascii_whitespace() || "\"'/=".contains(sign);
                let start = html.len().min(from) + rest.len() - rest.trim_start_matches(gap).len();
                let end = start + name.len();
                (start..end, end..end)
            }
        };
        let stands = html.get(named.clone());
        if stands.is_some_and(|it| it.eq_ignore_ascii_case(&name)) {
            from = value.end;
            list.push(Attribute { name, named, value });
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(html: &str) -> Vec<String> {
        let show = |event: Event| match event {
            Event::Open {
                name,
                attributes,
                is_empty,
                ..
            } => {
                let values = attributes
                    .iter()
                    .map(|it| format!(" {}={}", it.name, &html[it.value.clone()]));
                format!(
                    "<{name}{}{}",
                    values.collect::<String>(),
                    if is_empty { "/" } else { "" }
                )
            }
            Event::Close { opened, .. } => format!(">{opened}"),
            Event::Text { at, .. } => html[at].to_owned(),
        };
        events(html).into_iter().map(show).collect()
    }

    #[test]
    fn tags_attributes_and_texts_come_in_their_order_with_their_places() {
        let told = shown("<P hidden>a<br>b <ply-ref at='4.d4' for=x>d4</ply-ref></p>c");
        assert_eq!(
            told,
            [
                "<p hidden=",
                "a",
                "<br/",
                "b ",
                "<ply-ref at=4.d4 for=x",
                "d4",
                ">4",
                ">0",
                "c"
            ]
        );
    }

    #[test]
    fn attributes_without_a_value_have_an_empty_one_at_their_end() {
        let html = "<a  Hidden x='1' y /z=\"\" hidden Q>";
        let Some(Event::Open { attributes, .. }) = events(html).into_iter().next() else {
            panic!("an element");
        };
        let told = attributes.iter().map(|it| {
            let [named, value] = [&it.named, &it.value].map(|at| &html[at.clone()]);
            (
                it.name.as_str(),
                named,
                value,
                it.value.start - it.named.end,
            )
        });
        assert_eq!(
            told.collect::<Vec<_>>(),
            [
                ("hidden", "Hidden", "", 0),
                ("x", "x", "1", 2),
                ("y", "y", "", 0),
                ("z", "z", "", 2),
                ("hidden", "hidden", "", 0),
                ("q", "Q", "", 0)
            ]
        );
    }

    #[test]
    fn what_is_not_closed_or_is_no_markup_ends_nothing() {
        assert_eq!(shown("<p>a<p>b</div>"), ["<p", "a", "<p", "b"]);
        assert_eq!(shown("1 < 2 <!-- <p> --> 3"), ["1 < 2 ", " 3"]);
        assert_eq!(
            shown("<script>if (a<b) \"</p>\"</script>x"),
            ["<script", "if (a<b) \"</p>\"", ">0", "x"]
        );
        assert_eq!(shown("a <p class="), ["a "]);
    }
}
