//! Runs the cases: each in every engine, the engines side by side, one session for each.

use crate::support::browser::Browser;
use crate::support::engine::{Engine, Missing};
use crate::support::site::Site;
use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook};
use std::process::ExitCode;
use std::time::Instant;
use std::{env, fs, thread};

/// A named sentence, and what proves it by not panicking.
pub type Case = (&'static str, fn(&Browser));

thread_local! {
    /// Why the running case failed.
    static REASON: RefCell<String> = RefCell::default();
}

/// Runs the cases that the arguments name, all without any, of these files; prints a line for
/// each and the count, and tells by the exit code whether all passed.
pub fn run(files: &[(&str, &[Case])]) -> ExitCode {
    // Arguments that begin with a dash are meant for Rust's own harness.
    let words: Vec<String> = env::args()
        .skip(1)
        .filter(|word| !word.starts_with('-'))
        .collect();
    let named: Vec<Engine> = Engine::ALL
        .iter()
        .copied()
        .filter(|engine| words.iter().any(|word| word == engine.name()))
        .collect();
    let engines = if named.is_empty() {
        Engine::ALL.to_vec()
    } else {
        named
    };
    let is_engine = |word: &&String| Engine::ALL.iter().any(|engine| engine.name() == *word);
    let parts: Vec<&String> = words.iter().filter(|word| !is_engine(word)).collect();
    let is_named = |file: &str, name: &str| {
        let has = |part: &&String| file == part.as_str() || name.contains(part.as_str());
        parts.iter().all(has)
    };
    let chosen: Vec<Case> = files
        .iter()
        .flat_map(|(file, cases)| cases.iter().map(move |case| (*file, *case)))
        .filter(|(file, (name, _))| is_named(file, name))
        .map(|(_, case)| case)
        .collect();

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
    let counts: Vec<[u32; 3]> = thread::scope(|scope| {
        let started: Vec<_> = engines
            .iter()
            .map(|&engine| {
                scope.spawn({
                    let (site, chosen) = (&site, &chosen);
                    move || run_in(engine, site, chosen)
                })
            })
            .collect();
        started
            .into_iter()
            .map(|thread| thread.join().unwrap_or([0, 1, 0]))
            .collect()
    });
    let _ = fs::remove_dir_all(&site.folder);
    let sum = |at: usize| counts.iter().map(|count| count[at]).sum::<u32>();
    let (passed, failed, skipped) = (sum(0), sum(1), sum(2));
    if skipped > 0 {
        println!("pages: {skipped} skipped, neither passed nor failed");
    }
    println!("pages: {passed} passed, {failed} failed");
    // A filter that names nothing must not look like a success.
    if failed == 0 && passed > 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

fn run_in(engine: Engine, site: &Site, cases: &[Case]) -> [u32; 3] {
    let engine_name = engine.name();
    let browser = match Browser::start(engine, site) {
        Ok(browser) => browser,
        Err(reason) => {
            println!("FAILED {engine_name}: {reason}");
            return [0, cases.len().max(1) as u32, 0];
        }
    };
    let (mut passed, mut failed, mut skipped) = (0, 0, 0);
    for (name, case) in cases {
        let began = Instant::now();
        let result = catch_unwind(AssertUnwindSafe(|| {
            browser.begin();
            case(&browser);
            browser.check_console();
        }));
        let seconds = began.elapsed().as_secs_f32();
        match result {
            Ok(()) => {
                println!("ok {engine_name}: {name} ({seconds:.1} s)");
                passed += 1;
            }
            Err(panic) => match panic.downcast_ref() {
                Some(Missing(cap)) => {
                    println!("skipped {engine_name}: {name}: its driver has no {cap:?}");
                    skipped += 1;
                }
                None => {
                    println!("FAILED {engine_name}: {name}: {}", REASON.take());
                    failed += 1;
                }
            },
        }
        // A case may have died in the middle of anything.
        let _ = catch_unwind(AssertUnwindSafe(|| browser.reset()));
    }
    [passed, failed, skipped]
}
