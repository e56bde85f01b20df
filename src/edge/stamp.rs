//! The stamp of a baked element: with it the script knows that the page already holds what it would
//! draw.

/// The format of what is baked. Raise it with every change of the markup.
pub const BAKED_FORMAT: u32 = 3;

/// `FORMAT HASH` of the notation, the attributes that change what is drawn, and the language.
/// White space at the ends and the kind of line end do not count, because HTML changes them.
///
/// The hash is FNV-1a, 64 bits (Fowler, Noll and Vo): it tells an edited text from the one
/// that was baked, and protects against nothing else.
pub fn stamp(notation: &str, attributes: &[(&str, Option<&str>)], language: &str) -> String {
    let mut hash = HASH;
    let mut add = |text: &str| {
        hash = hashed(hash, text.bytes().filter(|&byte| byte != b'\r').chain([0]));
    };
    add(notation.trim());
    for (name, value) in attributes {
        if let Some(value) = value {
            add(name);
            add(value);
        }
    }
    add(language);
    let mut text = format!("{BAKED_FORMAT} ");
    for at in (0..16).rev() {
        let digit = (hash >> (4 * at)) as u32 & 15;
        text.extend(char::from_digit(digit, 16));
    }
    text
}

/// The hash of nothing: FNV-1a, 64 bits.
pub const HASH: u64 = 0xcbf2_9ce4_8422_2325;

/// A hash with these bytes after those before.
pub fn hashed(hash: u64, bytes: impl Iterator<Item = u8>) -> u64 {
    bytes.fold(hash, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edited_text_has_another_stamp() {
        assert_eq!(stamp(" 1. e4\r\n", &[], "en"), stamp("1. e4", &[], "en"));
        assert_ne!(stamp("1. e4", &[], "en"), stamp("1. d4", &[], "en"));
        assert_ne!(
            stamp("1. e4", &[("side", Some("black"))], "en"),
            stamp("1. e4", &[], "en")
        );
    }
}
