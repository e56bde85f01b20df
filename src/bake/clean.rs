//! Takes out of a page what an earlier run wrote, so that it is read as its author and its generator
//! made it.

use super::{ALSO, BAKED, FROM, MARK};
use crate::edge::BAKED_FORMAT;
use crate::post::{Attribute, Node, Tree};
use crate::text::Edits;

/// A page that a newer program baked: what that wrote is not known here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Newer;

/// The page without what was written by an earlier run; the same text if there is nothing.
///
/// # Errors
/// Where a newer program baked it.
pub fn clean(text: &str) -> Result<String, Newer> {
    if !text.contains(MARK) {
        return Ok(text.to_owned());
    }
    let tree = Tree::of_html(text);
    let mut edits = Edits::default();
    for (at, node) in tree.nodes.iter().enumerate() {
        if let Some(also) = tree.attribute(at, ALSO) {
            unsay(text, also, &mut edits);
        }
        if let Some(stamp) = tree.attribute(at, BAKED) {
            let format = stamp.value.text.split(' ').next();
            let format = format
                .and_then(|it| it.parse().ok())
                .unwrap_or(BAKED_FORMAT);
            if format > BAKED_FORMAT {
                return Err(Newer);
            }
            unsay(text, stamp, &mut edits);
        }
        if tree.value(at, MARK) == Some("") || tree.attribute(at, FROM).is_some() {
            take_out(text, node, &mut edits);
        }
    }
    Ok(match edits.is_empty() {
        true => text.to_owned(),
        false => edits.apply(text),
    })
}

/// Takes out an attribute, with the space before it.
fn unsay(text: &str, attribute: &Attribute, edits: &mut Edits) {
    let end = attribute.stands().to as usize;
    let quoted = text.as_bytes().get(end) == Some(&b'"');
    let from = (attribute.named.from as usize).saturating_sub(1);
    edits.replace(from..end + usize::from(quoted), "");
}

fn take_out(text: &str, node: &Node, edits: &mut Edits) {
    let tag = node.tag.range();
    match (node.name.as_str(), node.close) {
        // Around words that stay.
        ("a", Some(close)) => {
            edits.replace(tag, "");
            edits.replace(close.range(), "");
        }
        // In a line of its own.
        ("link" | "meta", _) => {
            let is_line = text.as_bytes().get(tag.end) == Some(&b'\n');
            edits.replace(tag.start..tag.end + usize::from(is_line), "");
        }
        (_, Some(close)) => edits.replace(tag.start..close.to as usize, ""),
        (_, None) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_is_taken_out_and_nothing_else() {
        let page = "<head><title>x</title></head><p data-plyline=\"off\">a &amp; b</p>\
                    <ply-line id=\"a\"><pre>1. e4</pre></ply-line><p>see 1.e4</p>";
        let baked = "<head><title>x</title><link rel=\"stylesheet\" href=\"a.css\" data-plyline=\"\">\n</head>\
                     <p data-plyline=\"off\">a &amp; b</p>\
                     <ply-line id=\"a\" data-plyline-also=\"7\n2 x\" data-plyline-baked=\"1 ab\"><template shadowrootmode=\"open\" data-plyline=\"\">\
                     <p>x</p></template><div data-plyline=\"\"><p>y</p></div><pre>1. e4</pre></ply-line>\
                     <p>see <a data-plyline=\"\" href=\"#a/1.e4\">1.e4</a></p>";
        assert_eq!(clean(baked).as_deref(), Ok(page));
        assert_eq!(clean(page).as_deref(), Ok(page));
    }

    #[test]
    fn a_page_of_a_newer_program_is_left_alone() {
        let page = "<ply-line data-plyline-baked=\"99 ab\"></ply-line>";
        assert_eq!(clean(page), Err(Newer));
    }
}
