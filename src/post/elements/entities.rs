//! Text of HTML as it is read: `&amp;` is a sign (WHATWG HTML, 13.2.5.72, by crate htmlize).

use crate::text::{Mapping, Span};
use std::borrow::Cow;

/// A text of the file, decoded, and where it is in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Text {
    pub text: String,
    pub mapping: Mapping,
}

impl Text {
    /// Adds another text after this one.
    pub fn append(&mut self, other: &Text) {
        self.text += &other.text;
        self.mapping.append(&other.mapping);
    }

    /// Adds a sign that stands for something in the file.
    pub fn sign(&mut self, sign: char, stands: Span) {
        self.text.push(sign);
        self.mapping.instead(sign.len_utf8() as u32, stands);
    }

    /// Where all of it is in the file.
    pub fn stands(&self) -> Span {
        self.mapping.outer(Span::new(0, self.text.len()))
    }
}

/// Where an entity may be: both differ in what follows one without its semicolon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Within {
    Text,
    Attribute,
    /// Script, style and the like have none.
    Raw,
}

/// What a piece of markup says; `mapping` is that of the piece.
pub fn decode(markup: &str, mapping: &Mapping, within: Within) -> Text {
    let mut found = Text::default();
    let mut from = 0;
    while within != Within::Raw
        && let Some(at) = markup[from..].find('&').map(|at| from + at)
    {
        let end = at + 1 + length(&markup[at + 1..]);
        let written = &markup[at..end];
        let read: Cow<'_, str> = match within {
            Within::Attribute => htmlize::unescape_attribute(written),
            _ => htmlize::unescape(written),
        };
        let upto = if read == written { end } else { at };
        found.text += &markup[from..upto];
        found.mapping.append(&mapping.part(Span::new(from, upto)));
        if read != written {
            let stands = mapping.outer(Span::new(at, end));
            found.text += &read;
            found.mapping.instead(read.len() as u32, stands);
        }
        from = end;
    }
    found.text += &markup[from..];
    let rest = mapping.part(Span::new(from, markup.len()));
    found.mapping.append(&rest);
    found
}

/// How many bytes after `&` may belong to its entity.
fn length(after: &str) -> usize {
    let is_name = |byte: &u8| byte.is_ascii_alphanumeric() || *byte == b'#';
    let name = after.bytes().take_while(|byte| is_name(byte)).count();
    name + usize::from(name > 0 && after.as_bytes().get(name) == Some(&b';'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_part_of_a_decoded_text_is_where_the_file_has_it() {
        let file = "a &amp; b &lt;c&gt; R&D &#101;4";
        let whole = Mapping::cut(Span::new(0, file.len()));
        let read = decode(file, &whole, Within::Text);
        assert_eq!(read.text, "a & b <c> R&D e4");
        for (part, written) in [
            ("&", "&amp;"),
            ("b", "b"),
            ("<c>", "&lt;c&gt;"),
            ("e4", "&#101;4"),
        ] {
            let at = read.text.find(part).expect("a part");
            let outer = read.mapping.outer(Span::new(at, at + part.len()));
            assert_eq!(&file[outer.range()], written);
        }
        assert_eq!(decode(file, &whole, Within::Raw).text, file);
    }
}
