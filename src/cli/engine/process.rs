//! A program that runs beside this one, and talks in lines.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, sync_channel};
use std::thread;
use std::time::{Duration, Instant};

/// What is longer of a line is dropped, in bytes.
const LINE: usize = 64 * 1024;
/// So many lines wait to be read; a program that says more waits too.
const WAITING: usize = 256;
/// So long a program may take to end after it was asked to.
const END: Duration = Duration::from_secs(1);

/// A program that runs. It is ended when this is dropped.
#[derive(Debug)]
pub struct Process {
    child: Child,
    input: Option<ChildStdin>,
    lines: Receiver<String>,
}

/// Why there is no line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Silence {
    /// None came in time.
    Late,
    /// The program has ended, or has closed its output.
    Over,
}

impl Process {
    /// Starts a program with its arguments. What it says to standard error goes nowhere.
    ///
    /// # Errors
    /// Why it cannot be started.
    pub fn start(command: &[String]) -> Result<Process, String> {
        let [program, arguments @ ..] = command else {
            return Err("no program is named".to_owned());
        };
        let mut child = Command::new(program)
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| format!("{program}: {}", crate::cli::files::reason(&error)))?;
        let (send, lines) = sync_channel(WAITING);
        let input = child.stdin.take();
        if let Some(output) = child.stdout.take() {
            // It ends when the program does, or when nobody listens any more.
            thread::spawn(move || {
                let mut output = BufReader::new(output);
                while let Some(line) = line(&mut output) {
                    if send.send(line).is_err() {
                        break;
                    }
                }
            });
        }
        Ok(Process {
            child,
            input,
            lines,
        })
    }

    /// Sends a line; false where the program no longer listens.
    pub fn say(&mut self, line: &str) -> bool {
        let Some(input) = &mut self.input else {
            return false;
        };
        let sent = writeln!(input, "{line}").and_then(|()| input.flush());
        sent.is_ok()
    }

    /// The next line that the program says before a time.
    ///
    /// # Errors
    /// Why there is none.
    pub fn hear(&self, until: Instant) -> Result<String, Silence> {
        let left = until.saturating_duration_since(Instant::now());
        // A program that says more and more is late too.
        if left.is_zero() {
            return Err(Silence::Late);
        }
        self.lines.recv_timeout(left).map_err(|error| match error {
            RecvTimeoutError::Timeout => Silence::Late,
            RecvTimeoutError::Disconnected => Silence::Over,
        })
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        self.say("quit");
        self.input = None;
        let until = Instant::now() + END;
        while Instant::now() < until {
            match self.child.try_wait() {
                Ok(None) => thread::sleep(Duration::from_millis(5)),
                _ => return,
            }
        }
        // If it has ended by itself meanwhile, so much the better.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The next line, cut where it is too long; none at the end.
fn line(output: &mut impl BufRead) -> Option<String> {
    let mut bytes = Vec::new();
    let mut part = output.by_ref().take(LINE as u64);
    if part.read_until(b'\n', &mut bytes).ok()? == 0 {
        return None;
    }
    if bytes.last() != Some(&b'\n') && bytes.len() == LINE {
        drop_rest(output)?;
    }
    Some(String::from_utf8_lossy(&bytes).trim().to_owned())
}

/// Reads on to the end of a line, and keeps nothing of it.
fn drop_rest(output: &mut impl BufRead) -> Option<()> {
    loop {
        let there = output.fill_buf().ok()?;
        if there.is_empty() {
            return Some(());
        }
        let end = there.iter().position(|&it| it == b'\n');
        let used = end.map_or(there.len(), |at| at + 1);
        output.consume(used);
        if end.is_some() {
            return Some(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_is_too_long_is_cut_and_the_next_is_whole() {
        let text = format!("{}\nnext\n", "x".repeat(3 * LINE));
        let mut output = BufReader::with_capacity(1000, text.as_bytes());
        assert_eq!(line(&mut output).map(|it| it.len()), Some(LINE));
        assert_eq!(line(&mut output).as_deref(), Some("next"));
        assert_eq!(line(&mut output), None);
    }
}
