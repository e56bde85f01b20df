//! What a reader types, before its words are read.

/// With small letters and straight apostrophes.
pub(super) fn straight(text: &str) -> String {
    let mut straight = String::new();
    for letter in text.chars() {
        straight.push(match letter {
            '\u{2019}' => '\'',
            other => other.to_ascii_lowercase(),
        });
    }
    straight
}
