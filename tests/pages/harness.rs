//! Runs the cases: the engines side by side, one session for each.

use crate::support::browser::Browser;
use crate::support::browser::engine::{Engine, Missing};
use crate::support::site::Site;
use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook};
use std::process::ExitCode;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};
use std::{env, fs, thread};

/// What proves a sentence by not panicking.
type Proof = fn(&Browser);

/// A named sentence with its proof, and where it runs.
#[derive(Clone, Copy)]
pub enum Case {
    /// In every engine: what engines may do differently, such as layout, events, focus, history,
    /// storage, loading, and what happens to a page's own markup and style.
    Everywhere(&'static str, Proof),
    /// In one engine, whichever has time: what our own code makes of data, such as words, rows
    /// and findings. It is the same code in every engine, and that it runs in each is proved by
    /// the cases that run everywhere.
    InOne(&'static str, Proof),
}

/// A file's name, and its cases.
pub type File = (&'static str, &'static [Case]);

impl Case {
    fn name(&self) -> &'static str {
        match self {
            Case::Everywhere(name, _) | Case::InOne(name, _) => name,
        }
    }

    fn proof(&self) -> Proof {
        match self {
            Case::Everywhere(_, proof) | Case::InOne(_, proof) => *proof,
        }
    }
}

/// The outcome of a case in one engine.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Passed,
    Failed,
    /// The engine's driver cannot do what the case needs.
    Skipped,
}

/// An engine that is not there, or whose thread has died, is a failure whatever was asked of it.
const NO_ENGINE: (usize, Outcome) = (usize::MAX, Outcome::Failed);

thread_local! {
    /// Why the running case failed.
    static REASON: RefCell<String> = RefCell::default();
}

/// Runs the cases that the arguments name, all without any, of these rooms; prints a line for
/// each and the count, and tells by the exit code whether all passed.
pub fn run(rooms: &[(&str, &[File])]) -> ExitCode {
    // Arguments that begin with a dash are meant for Rust's own harness.
    let words: Vec<String> = env::args()
        .skip(1)
        .filter(|word| !word.starts_with('-'))
        .collect();
    let (named, words): (Vec<_>, Vec<_>) = words
        .iter()
        .partition(|word| Engine::ALL.iter().any(|engine| engine.name() == *word));
    let is_wanted =
        |engine: &Engine| named.is_empty() || named.iter().any(|word| *word == engine.name());
    let engines: Vec<Engine> = Engine::ALL.iter().copied().filter(is_wanted).collect();
    let mut cases = Vec::new();
    for (room, files) in rooms {
        for (file, list) in *files {
            let is_named = |case: &&Case| {
                let has = |word: &&String| {
                    *room == word.as_str() || *file == word.as_str() || case.name().contains(*word)
                };
                words.iter().all(has)
            };
            cases.extend(list.iter().filter(is_named).copied());
        }
    }

    // A filter that matches nothing must not look like a success.
    if cases.is_empty() {
        eprintln!("no page test holds all of these words: {words:?}");
        return ExitCode::FAILURE;
    }

    let site = match Site::open() {
        Ok(site) => site,
        Err(reason) => {
            eprintln!("the page tests cannot run: {reason}");
            return ExitCode::FAILURE;
        }
    };
    set_hook(Box::new(|info| {
        let place = info
            .location()
            .map(|place| format!("{}:{}: ", place.file(), place.line()));
        let message = info.payload_as_str().unwrap_or("a panic without words");
        REASON.set(format!("{}{message}", place.unwrap_or_default()));
    }));
    let shared = Shared::new(&cases);
    let lists: Vec<Vec<(usize, Outcome)>> = thread::scope(|scope| {
        let run = |engine| {
            let (site, cases, shared) = (&site, &cases, &shared);
            scope.spawn(move || run_in(engine, site, cases, shared))
        };
        let started: Vec<_> = engines.iter().copied().map(run).collect();
        let ended = started.into_iter().map(|thread| thread.join());
        let died = |_| vec![NO_ENGINE];
        ended.map(|list| list.unwrap_or_else(died)).collect()
    });
    let _ = fs::remove_dir_all(&site.folder);

    let all: Vec<(usize, Outcome)> = lists.concat();
    let count = |wanted| all.iter().filter(|(_, outcome)| *outcome == wanted).count();
    let mut failed = count(Outcome::Failed);
    for (at, case) in cases.iter().enumerate() {
        let has_run = |(of, outcome): &(usize, Outcome)| *of == at && *outcome != Outcome::Skipped;
        // Of the engines that were asked for by name none may be able to.
        if named.is_empty() && !all.iter().any(has_run) {
            println!("FAILED everywhere: {}: no engine has run it", case.name());
            failed += 1;
        }
    }
    let (passed, skipped) = (count(Outcome::Passed), count(Outcome::Skipped));
    if skipped > 0 {
        println!("pages: {skipped} skipped, neither passed nor failed");
    }
    println!("pages: {passed} passed, {failed} failed");
    // An engine may be able to run none of the cases that were named.
    if failed == 0 && passed > 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// The cases that one engine is to run, for whichever is free. So the load spreads by itself, and
/// the slowest engine gets the fewest.
struct Shared(Mutex<Waiting>);

struct Waiting {
    /// Each with the engines that cannot run it.
    cases: Vec<(usize, Vec<Engine>)>,
    /// How many are running, and may come back.
    running: u32,
}

/// What an engine does next.
enum Turn {
    Run(usize, Vec<Engine>),
    /// A case that runs elsewhere may come back.
    Wait,
    End,
}

impl Shared {
    fn new(cases: &[Case]) -> Shared {
        let is_shared = |at: &usize| matches!(cases[*at], Case::InOne(..));
        let waiting = (0..cases.len()).filter(is_shared);
        Shared(Mutex::new(Waiting {
            cases: waiting.map(|at| (at, Vec::new())).collect(),
            running: 0,
        }))
    }

    fn take(&self, engine: Engine) -> Turn {
        let mut waiting = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let is_open = |(_, unable): &(usize, Vec<Engine>)| !unable.contains(&engine);
        match waiting.cases.iter().position(is_open) {
            Some(at) => {
                waiting.running += 1;
                let (case, unable) = waiting.cases.remove(at);
                Turn::Run(case, unable)
            }
            None if waiting.running > 0 => Turn::Wait,
            None => Turn::End,
        }
    }

    /// Notes the outcome of a case that was taken.
    fn end(&self, engine: Engine, case: usize, mut unable: Vec<Engine>, outcome: Outcome) {
        let mut waiting = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        waiting.running -= 1;
        if outcome == Outcome::Skipped {
            unable.push(engine);
            waiting.cases.push((case, unable));
        }
    }
}

fn run_in(engine: Engine, site: &Site, cases: &[Case], shared: &Shared) -> Vec<(usize, Outcome)> {
    let mut outcomes = Vec::new();
    let began = Instant::now();
    let everywhere = (0..cases.len()).filter(|at| matches!(cases[*at], Case::Everywhere(..)));
    let mut driven = match Browser::start(engine, site) {
        Ok(browser) => Driven {
            browser,
            restarts: 0,
            tries: 0,
        },
        Err(reason) => {
            println!("FAILED {}: {reason}", engine.name());
            outcomes.push(NO_ENGINE);
            outcomes.extend(everywhere.map(|at| (at, Outcome::Failed)));
            return outcomes;
        }
    };
    for at in everywhere {
        outcomes.push((at, driven.run(&cases[at])));
    }
    loop {
        match shared.take(engine) {
            Turn::Run(at, unable) => {
                let outcome = driven.run(&cases[at]);
                shared.end(engine, at, unable, outcome);
                outcomes.push((at, outcome));
            }
            Turn::Wait => thread::sleep(Duration::from_millis(20)),
            Turn::End => break,
        }
    }
    let seconds = began.elapsed().as_secs();
    println!(
        "{}: {} cases in {seconds} s, {} of them tried twice",
        engine.name(),
        outcomes.len(),
        driven.tries
    );
    outcomes
}

/// The most that one engine is started again in a run: more is no accident.
const MOST_RESTARTS: u32 = 5;

/// The most cases that get a second try in one engine and run. Three browsers on two cores are late
/// now and then, in one of about 800 cases; what fails twice at once, or more often, is a failure.
const MOST_TRIES: u32 = 2;

/// An engine at work. Where its program ends by itself, all cases after it would fail for a reason
/// that is not theirs: it is started again, and the case in which it ended gets one more try.
struct Driven<'a> {
    browser: Browser<'a>,
    restarts: u32,
    /// Second tries of cases that failed.
    tries: u32,
}

impl Driven<'_> {
    fn run(&mut self, case: &Case) -> Outcome {
        let outcome = run_case(&self.browser, case);
        if self.start_again() {
            println!(
                "{}: ended in this case and was started again",
                self.browser.engine.name()
            );
            let again = run_case(&self.browser, case);
            self.start_again();
            return again;
        }
        if outcome == Outcome::Failed && self.tries < MOST_TRIES {
            self.tries += 1;
            println!("{}: a second try", self.browser.engine.name());
            return run_case(&self.browser, case);
        }
        outcome
    }

    /// Starts the engine again if it has ended; false if it is still there or cannot be started.
    fn start_again(&mut self) -> bool {
        if self.restarts == MOST_RESTARTS || self.browser.is_alive() {
            return false;
        }
        self.restarts += 1;
        let (engine, site) = (self.browser.engine, self.browser.site);
        self.browser.end();
        match Browser::start(engine, site) {
            Ok(browser) => self.browser = browser,
            Err(reason) => println!("{}: {reason}", engine.name()),
        }
        true
    }
}

fn run_case(browser: &Browser, case: &Case) -> Outcome {
    let (engine_name, name) = (browser.engine.name(), case.name());
    let began = Instant::now();
    let result = catch_unwind(AssertUnwindSafe(|| {
        browser.begin();
        case.proof()(browser);
        browser.check_console();
    }));
    let seconds = began.elapsed().as_secs_f32();
    let outcome = match result {
        Ok(()) => {
            println!("ok {engine_name}: {name} ({seconds:.1} s)");
            Outcome::Passed
        }
        Err(panic) => match panic.downcast_ref() {
            Some(Missing(cap)) => {
                println!("skipped {engine_name}: {name}: its driver has no {cap:?}");
                Outcome::Skipped
            }
            None => {
                println!("FAILED {engine_name}: {name}: {}", REASON.take());
                Outcome::Failed
            }
        },
    };
    // A case may have died in the middle of anything.
    let _ = catch_unwind(AssertUnwindSafe(|| browser.reset()));
    outcome
}
