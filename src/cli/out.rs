//! The two outputs. A reader that goes away (`plyline check … | head`) is no failure: the rest
//! is swallowed, and the exit code still says what was found.

use std::io::{self, BufWriter, ErrorKind, IsTerminal, Write};

/// Standard output, buffered.
pub struct Out {
    inner: BufWriter<io::StdoutLock<'static>>,
    gone: bool,
}

impl Out {
    /// Standard output. Only one may exist.
    pub fn new() -> Out {
        Out {
            inner: BufWriter::new(io::stdout().lock()),
            gone: false,
        }
    }

    fn unless_gone<T>(&mut self, done: io::Result<T>, instead: T) -> io::Result<T> {
        match done {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.gone = true;
                Ok(instead)
            }
            other => other,
        }
    }
}

impl Write for Out {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.gone {
            return Ok(bytes.len());
        }
        let done = self.inner.write(bytes);
        self.unless_gone(done, bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.gone {
            return Ok(());
        }
        let done = self.inner.flush();
        self.unless_gone(done, ())
    }
}

/// One line to standard error. If even that is closed, nobody can be told.
pub fn say(line: &str) {
    let _ = writeln!(io::stderr(), "plyline: {}", visible(line));
}

/// Whether to colour what goes to this output.
pub fn wants_colour(output: &impl IsTerminal) -> bool {
    let set = |name| std::env::var_os(name).filter(|value| !value.is_empty());
    output.is_terminal()
        && set("NO_COLOR").is_none()
        && set("TERM").is_none_or(|terminal| terminal != "dumb")
}

/// The text with nothing in it that a terminal obeys, or that makes it show letters in
/// another order than they are in: texts and file names may come from anyone.
pub fn visible(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\t' => ' ',
        // Unicode, block Control Pictures: U+2400 is the picture of U+0000, and so on.
        '\0'..='\u{1f}' => char::from_u32(0x2400 + letter as u32).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        _ if letter.is_control() => '\u{fffd}',
        // Line and paragraph separator; the direction marks of Unicode Standard Annex 9.
        '\u{2028}' | '\u{2029}' | '\u{61c}' | '\u{200e}' | '\u{200f}' => '\u{fffd}',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
        _ => letter,
    };
    text.chars().map(shown).collect()
}

/// The text cut to so many characters.
pub fn clip(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}\u{2026}", &text[..end]),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_a_terminal_obeys_is_left() {
        let shown = visible("a\u{1b}[31m\u{9b}31m\r\n\tb\u{202e}\u{7f}");
        assert_eq!(
            shown,
            "a\u{241b}[31m\u{fffd}31m\u{240d}\u{240a} b\u{fffd}\u{2421}"
        );
    }

    #[test]
    fn a_text_is_cut_at_a_whole_character() {
        assert_eq!(clip("äöü", 2), "äö\u{2026}");
        assert_eq!(clip("äöü", 3), "äöü");
    }
}
