//! From markup to its tags and texts, in the order in which they stand (crate lol_html, which says
//! of each where it is).

use lol_html::html_content::TextType;
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
        let attributes = element.attributes().iter().filter_map(|it| {
            let named = it.name_source_location()?.bytes();
            let value = it.value_source_location()?.bytes();
            let name = it.name();
            Some(Attribute { name, named, value })
        });
        let attributes = attributes.collect();
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
            tag: element.source_location().bytes(),
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
        let told = shown("<P>a<br>b <ply-ref at='4.d4' for=x>d4</ply-ref></p>c");
        assert_eq!(
            told,
            [
                "<p",
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
