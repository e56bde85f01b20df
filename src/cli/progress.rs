//! Long runs: how many files are read at once, and how far the run is.

use std::io::{self, IsTerminal, Write};

/// How many files are read side by side, on all cores, before their findings are printed. The same on
/// every machine, so that the findings are printed in the same order.
pub const AT_ONCE: usize = 64;

/// How far a long run is, for somebody who waits at a terminal.
#[derive(Default)]
pub struct Progress {
    pub done: usize,
    is_shown: bool,
}

impl Progress {
    /// Says how many files are left.
    pub fn tell(&mut self, left: usize) {
        let mut out = io::stderr();
        if left > AT_ONCE && out.is_terminal() {
            let (done, all) = (self.done, self.done + left);
            // If standard error is closed, nobody waits.
            self.is_shown = write!(out, "\r{done} of {all} files")
                .and(out.flush())
                .is_ok();
        }
    }

    /// Takes back what was said.
    pub fn clear(&mut self) {
        if std::mem::take(&mut self.is_shown) {
            let _ = write!(io::stderr(), "\r\x1b[K");
        }
    }
}
