//! Several engines of one kind beside each other, which share the positions.

use super::talk::{About, Assessed, Setup, Talk};
use shakmaty::Chess;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::thread;

/// A position that is asked about, and its number.
pub type Asked<'a> = (usize, &'a Chess);

/// How it ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ended {
    /// All positions were asked about.
    Whole,
    /// The engine was given up, or what it said could not be kept.
    Early(String),
}

/// A position is tried so often.
const TRIES: usize = 2;
/// After so many positions in a row without an answer an engine is given up.
const IN_A_ROW: usize = 3;

enum News {
    Begun(About),
    Found(usize, Assessed),
    Lost(usize, String),
    /// The engine cannot be used at all.
    Useless(String),
}

/// Asks about all positions, on so many engines at once; `keep` gets what is found as it is found, with the number of
/// its position, and what an engine says of itself. What is not found is told by `lose`.
///
/// # Errors
/// Where the engine cannot be used at all.
pub fn ask_all(
    setup: &Setup,
    asked: &[Asked<'_>],
    engines: usize,
    keep: &mut dyn FnMut(&About, usize, Assessed) -> Result<(), String>,
    lose: &mut dyn FnMut(usize, &str),
) -> Result<Ended, String> {
    let next = AtomicUsize::new(0);
    let is_over = AtomicBool::new(false);
    let (send, news) = channel();
    thread::scope(|scope| {
        for _ in 0..engines.clamp(1, asked.len().max(1)) {
            let send = send.clone();
            scope.spawn(|| work(setup, asked, &next, &is_over, send));
        }
        drop(send);
        let mut about = About::default();
        let (mut lost, mut ended) = (0, Ok(Ended::Whole));
        for news in news {
            match news {
                News::Begun(it) => about = it,
                News::Found(at, found) => {
                    lost = 0;
                    if let Err(why) = keep(&about, at, found) {
                        ended = Ok(Ended::Early(why));
                        is_over.store(true, Ordering::Relaxed);
                    }
                }
                News::Lost(at, why) => {
                    lost += 1;
                    lose(at, &why);
                    if lost >= IN_A_ROW && ended == Ok(Ended::Whole) {
                        let why = format!(
                            "the engine is given up after {IN_A_ROW} positions in a row without an answer"
                        );
                        ended = Ok(Ended::Early(why));
                        is_over.store(true, Ordering::Relaxed);
                    }
                }
                News::Useless(why) => {
                    ended = Err(why);
                    is_over.store(true, Ordering::Relaxed);
                }
            }
        }
        ended
    })
}

/// One engine's part: it takes the next position until none is left, and is started again where it fails.
fn work(
    setup: &Setup,
    asked: &[Asked<'_>],
    next: &AtomicUsize,
    is_over: &AtomicBool,
    send: Sender<News>,
) {
    let mut talk: Option<Talk> = None;
    let mut has_begun = false;
    while let Some(&(number, position)) = asked.get(next.fetch_add(1, Ordering::Relaxed)) {
        let mut why = String::new();
        let mut found = None;
        for _ in 0..TRIES {
            if is_over.load(Ordering::Relaxed) {
                return;
            }
            if talk.is_none() {
                match Talk::begin(setup) {
                    Ok((begun, about)) => {
                        talk = Some(begun);
                        has_begun = true;
                        let _ = send.send(News::Begun(about));
                    }
                    Err(reason) if has_begun => why = reason,
                    Err(reason) => {
                        let _ = send.send(News::Useless(reason));
                        return;
                    }
                }
            }
            match talk.as_mut().map(|it| it.ask(position)) {
                Some(Ok(assessed)) => {
                    found = Some(assessed);
                    break;
                }
                Some(Err(reason)) => {
                    why = reason;
                    talk = None;
                }
                None => {}
            }
        }
        // If nobody listens any more, nothing is lost.
        let _ = send.send(match found {
            Some(found) => News::Found(number, found),
            None => News::Lost(number, why),
        });
    }
}
