//! The author's command line: the only folder that touches files. It reads texts, asks the
//! core what is in them, and reports.

mod across;
mod args;
mod assessments;
mod assets;
mod bake;
mod check;
mod each_game;
mod engine;
mod export;
mod files;
mod fix;
mod listen;
mod out;
mod posts;
mod preview;
mod progress;
mod report;
mod tally;
mod tree;
mod weigh;
mod writing;
mod written;

pub use bake::{og_image, png};

use args::Command;
use clap::Parser;
use std::process::ExitCode;

/// How a run ended; the numbers are public (design, section 8).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// No error was found; there may be warnings and hints.
    Clean = 0,
    /// At least one error was found.
    Errors = 1,
    /// Something could not be done: bad arguments, a file that cannot be read or written.
    Failed = 2,
}

impl Outcome {
    /// The exit code for findings with or without an error.
    fn of(has_error: bool) -> Outcome {
        match has_error {
            true => Outcome::Errors,
            false => Outcome::Clean,
        }
    }
}

/// Runs the program with the arguments that it was started with.
pub fn main() -> ExitCode {
    let args = match args::Args::try_parse() {
        Ok(args) => args,
        Err(said) => {
            // Help and version come here too. A closed output is no reason to complain.
            let _ = said.print();
            return ExitCode::from(if said.use_stderr() { 2 } else { 0 });
        }
    };
    let done = match args.command {
        Command::Check(wanted) => check::run(&wanted),
        Command::Tree(wanted) => tree::run(&wanted),
        Command::Export(wanted) => export::run(&wanted),
        Command::Bake(wanted) => bake::run(&wanted),
        Command::Tally(wanted) => tally::run(&wanted),
        Command::Draft(wanted) => tally::draft::run(&wanted),
        Command::Games(wanted) => tally::games::run(&wanted),
        Command::Unanswered(wanted) => tally::unanswered::run(&wanted),
        Command::Weigh(wanted) => weigh::run(&wanted),
        Command::Listen(wanted) => listen::run(&wanted),
        Command::New(wanted) => writing::new::run(&wanted),
        Command::Merge(wanted) => writing::merge::run(&wanted),
        Command::Compare(wanted) => writing::compare::run(&wanted),
        Command::Preview(wanted) => preview::run(&wanted),
        Command::Assets(wanted) => assets::run(&wanted),
    };
    let outcome = done.unwrap_or_else(|error| {
        out::say(&format!("cannot write to standard output: {error}"));
        Outcome::Failed
    });
    ExitCode::from(outcome as u8)
}
