//! So many of something, in English.

/// `1 move`, `2 moves`.
pub fn number_of(count: usize, one: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {one}s"),
    }
}
