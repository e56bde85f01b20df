//! Where the lines of a text begin and how they end, next to a place.

/// The byte at which the line of a place begins.
pub fn line_start(text: &str, place: usize) -> usize {
    let before = text.get(..place).unwrap_or_default();
    before.rfind('\n').map_or(0, |at| at + 1)
}

/// The line end that the text has next to a place.
pub fn line_end(text: &str, place: usize) -> &'static str {
    let (before, after) = text.split_at(text.floor_char_boundary(place));
    let line = match after.find('\n') {
        Some(end) => Some(&after[..end]),
        None => before.rfind('\n').map(|end| &before[..end]),
    };
    match line.is_some_and(|line| line.ends_with('\r')) {
        true => "\r\n",
        false => "\n",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_put_in_ends_its_lines_as_the_lines_beside_it_do() {
        let text = "one\r\ntwo\nthree";
        let ends = [0, 3, 5, 8, 9, 14].map(|place| line_end(text, place));
        assert_eq!(ends, ["\r\n", "\r\n", "\n", "\n", "\n", "\n"]);
        assert_eq!(line_end("no line end", 3), "\n");
    }
}
