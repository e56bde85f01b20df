//! Long runs: how many files are read at once, and how far the run is.

use std::io::{self, IsTerminal, Write};

/// How many files are read side by side, on all cores, before their findings are printed. The same on
/// every machine, so that the findings are printed in the same order.
pub const AT_ONCE: usize = 64;

/// How far a long run is, for somebody who waits at a terminal.
#[derive(Default)]
pub struct Progress {
    pub done: usize,
    line: Line,
}

impl Progress {
    /// Says how many files are left.
    pub fn tell(&mut self, left: usize) {
        if left > AT_ONCE {
            let (done, all) = (self.done, self.done + left);
            self.line.say(&format!("{done} of {all} files"));
        }
    }

    /// Takes back what was said.
    pub fn clear(&mut self) {
        self.line.clear();
    }
}

/// A line at a terminal that is said again and again, each time in the place of the last.
#[derive(Default)]
pub struct Line {
    is_shown: bool,
}

impl Line {
    /// Says it, if standard error is a terminal.
    pub fn say(&mut self, text: &str) {
        let mut out = io::stderr();
        if out.is_terminal() {
            // If standard error is closed, nobody waits. The rest of a longer line before it goes.
            self.is_shown = write!(out, "\r{text}\x1b[K").and(out.flush()).is_ok();
        }
    }

    /// Takes back what was said.
    pub fn clear(&mut self) {
        if std::mem::take(&mut self.is_shown) {
            let _ = write!(io::stderr(), "\r\x1b[K");
        }
    }
}
