//! The HTML of a feed's entry: each element becomes its plain form, because readers of feeds keep
//! neither scripts nor elements that they do not know.

use super::page::Setting;
use super::pictures::{Form, Picture, Pictures};
use super::plain::Plain;
use super::{MARK, drawn};
use crate::check::attributes::Kind;
use crate::markup::{el, html};
use crate::post::{self, Post, Shown};
use crate::text::Edits;
use crate::text::Source;
use crate::view::Words;

/// An entry with plain forms, and the pictures that it shows; none where there is nothing of ours in
/// it. `page` is the address of the entry's own page, `words` are those of the feed.
pub fn entry(
    text: &str,
    page: &str,
    words: &Words,
    setting: &Setting<'_>,
) -> Option<(String, Vec<Picture>)> {
    let source = Source::new("", text);
    let post = post::read(&source, post::Kind::Html, setting.around);
    let pictures = Pictures::of(Form::Png);
    let tree = &post.tree;
    let numbers = (setting.numbers)(tree, "");
    let plain = Plain {
        words,
        numbers: &numbers,
        pictures: &pictures,
        folder: setting.pictures,
        is_drawn: true,
    };
    let mut edits = Edits::default();
    for shown in &post.shown {
        replace(&post, shown, page, &plain, &mut edits);
    }
    // Of what stands around words the words stay.
    for found in &post.found {
        let node = &post.tree.nodes[found.node];
        if let (Kind::Reference | Kind::Prose, Some(close)) = (found.kind, node.close) {
            edits.replace(node.tag.range(), "");
            edits.replace(close.range(), "");
        }
    }
    (!edits.is_empty()).then(|| (edits.apply(text), pictures.take()))
}

/// Puts the plain form of an element in its place.
fn replace(post: &Post, shown: &Shown, page: &str, plain: &Plain<'_>, edits: &mut Edits) {
    let found = &post.found[shown.at]; // its own index
    let start = shown.of.as_ref().map_or("", |it| it.address.as_str());
    let start = match start.starts_with('#') {
        true => format!("{page}{start}"),
        // Beside the entry's page.
        false if !start.is_empty() && !start.contains("://") && !start.starts_with('/') => {
            let folder = page.rfind('/').map_or("", |at| &page[..=at]); // a byte of its own
            format!("{folder}{start}")
        }
        false => start.to_owned(),
    };
    let words = &plain.words.clone().lettered(shown.letters);
    let plain = &Plain { words, ..*plain };
    if !drawn::is_shown(words, found.kind, shown) {
        return;
    }
    let node = match found.is_fence {
        true => post::wrapper(&post.tree, found.node),
        false => found.node,
    };
    let node = &post.tree.nodes[node];
    let Some(close) = node.close else {
        return;
    };
    let made = el("div").with(MARK, "");
    let is_lesson = found.kind == Kind::Lesson;
    let form = plain.of(found, shown, is_lesson, &start);
    let said = (!found.prompt.is_empty()).then(|| el("p").text(&found.prompt));
    let made = match found.kind {
        Kind::Diagram => made.children(form).maybe(said),
        // What a question holds is in its form; elsewhere it is shown where nothing else can be.
        _ => made.children(form),
    };
    edits.replace(node.tag.from as usize..close.to as usize, html(&[made]));
}
