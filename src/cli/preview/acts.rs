//! What is answered to POST.

use super::answer::{Answer, Sort};
use super::held::Held;
use super::protocol::{
    Done, EditAsked, EnterAsked, LessonAsked, Look, Looked, MendAsked, NotDone, Page, PageAsked,
    Place, PlaceAsked, Source, SourceAsked, WaitAsked,
};
use super::sources;
use super::state::Preview;
use crate::edit::Edit;
use crate::preview::{
    Ask, Command, Open, Path as Names, Refused, Stop, Typed, Written, about, looked, typed,
};
use axum::http::StatusCode;
use serde::de::DeserializeOwned;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// How long `wait` waits.
const WAIT: Duration = Duration::from_secs(25);

/// How often it looks at the file itself: not every file system tells of changes.
const LOOK: Duration = Duration::from_secs(2);

/// Does what is asked for. The body is JSON.
pub async fn answer(preview: Arc<Preview>, command: Command, body: Vec<u8>) -> Answer {
    if command == Command::Wait {
        return match read::<WaitAsked>(&body) {
            Ok(asked) => wait(preview, asked).await,
            Err(answer) => answer,
        };
    }
    // Files are read and written, and lessons computed, beside the answering of requests.
    let done = spawn_blocking(move || now(&preview, command, &body)).await;
    done.unwrap_or_else(|_| failed())
}

fn failed() -> Answer {
    Answer::plain(
        Sort::Failed,
        "This could not be done because of a mistake in plyline; the file is as it was.",
    )
}

fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, Answer> {
    serde_json::from_slice(body).map_err(|error| {
        let refused = Refused::new(
            "bad-request",
            format!("the request cannot be read: {error}"),
            "reload the page",
        );
        Answer::json(StatusCode::BAD_REQUEST, &NotDone::from(refused))
    })
}

fn now(preview: &Arc<Preview>, command: Command, body: &[u8]) -> Answer {
    let done = match command {
        Command::Page | Command::Wait => {
            read::<PageAsked>(body).map(|asked| page(preview, &asked.page))
        }
        Command::Place => read::<PlaceAsked>(body).map(|asked| place(preview, &asked)),
        Command::Edit => read::<EditAsked>(body).map(|asked| {
            let edit = Edit::from(asked.edit);
            act(preview, &asked.page, asked.lesson, &mut |_| {
                Ok(Ask::Edit(edit.clone()))
            })
        }),
        Command::Enter => read::<EnterAsked>(body).map(|asked| match asked.look {
            true => look(preview, &asked),
            false => enter(preview, &asked),
        }),
        Command::Undo => read(body).map(|asked| simple(preview, &asked, Ask::Undo)),
        Command::Redo => read(body).map(|asked| simple(preview, &asked, Ask::Redo)),
        Command::Restore => read(body).map(|asked| simple(preview, &asked, Ask::Restore)),
        Command::Mend => read::<MendAsked>(body).map(|asked| {
            let held = held(preview, &asked.page)?;
            let (written, page) = held.mend(asked.version, asked.finding)?;
            Ok(done(written, page, None))
        }),
        Command::Lesson => read::<SourceAsked>(body).map(|asked| {
            let (page, lesson) = sources::find(&preview.folder, &asked.text)?;
            Ok(Answer::json(StatusCode::OK, &Source { page, lesson }))
        }),
    };
    match done {
        Ok(Ok(answer)) => answer,
        Ok(Err(refused)) => Answer::json(StatusCode::CONFLICT, &NotDone::from(refused)),
        Err(answer) => answer,
    }
}

/// The open page of an address.
fn held(preview: &Arc<Preview>, page: &str) -> Result<Arc<Held>, Refused> {
    let nowhere = || {
        Refused::new(
            "no-page",
            "this address leads to no page that can be written",
            "go to the list of pages",
        )
    };
    let names = Names::read(page).ok_or_else(nowhere)?;
    preview.held(&names)?.ok_or_else(nowhere)
}

fn page(preview: &Arc<Preview>, page: &str) -> Result<Answer, Refused> {
    let page = held(preview, page)?.page();
    Ok(Answer::json(StatusCode::OK, &page))
}

fn place(preview: &Arc<Preview>, asked: &PlaceAsked) -> Result<Answer, Refused> {
    let about = held(preview, &asked.page)?.read(|open| {
        let block = open.blocks().get(asked.lesson)?;
        about(&block.text, &asked.at)
    });
    let gone = || {
        Refused::new(
            "place-gone",
            "the file does not hold these moves any more",
            "go back to a move that it holds",
        )
    };
    Ok(Answer::json(
        StatusCode::OK,
        &Place::from(about.ok_or_else(gone)?),
    ))
}

async fn wait(preview: Arc<Preview>, asked: WaitAsked) -> Answer {
    let found = spawn_blocking(move || held(&preview, &asked.page)).await;
    let held = match found {
        Ok(Ok(held)) => held,
        Ok(Err(refused)) => return Answer::json(StatusCode::CONFLICT, &NotDone::from(refused)),
        Err(_) => return failed(),
    };
    let mut changes = held.changes();
    let until = Instant::now() + WAIT;
    loop {
        if *changes.borrow_and_update() != asked.version || Instant::now() >= until {
            break;
        }
        let left = until.saturating_duration_since(Instant::now());
        if timeout(left.min(LOOK), changes.changed()).await.is_err() {
            let held = Arc::clone(&held);
            // What it finds is told by `changes`.
            let _ = spawn_blocking(move || held.refresh()).await;
        }
    }
    match spawn_blocking(move || held.page()).await {
        Ok(page) => Answer::json(StatusCode::OK, &page),
        Err(_) => failed(),
    }
}

fn done(written: Written, page: Page, stop: Option<Stop>) -> Answer {
    let Written {
        lesson,
        at,
        unread,
        told,
    } = written;
    let done = Done {
        page,
        lesson,
        at,
        unread,
        said: told.said,
        prefers: told.prefers,
        stop: stop.map(Into::into),
    };
    Answer::json(StatusCode::OK, &done)
}

fn act(
    preview: &Arc<Preview>,
    page: &str,
    lesson: usize,
    wish: &mut dyn FnMut(&Open) -> Result<Ask, Refused>,
) -> Result<Answer, Refused> {
    let (written, page) = held(preview, page)?.act(lesson, wish)?;
    Ok(done(written, page, None))
}

fn simple(preview: &Arc<Preview>, asked: &LessonAsked, ask: Ask) -> Result<Answer, Refused> {
    act(preview, &asked.page, asked.lesson, &mut |_| Ok(ask.clone()))
}

/// What was typed, read in the lesson as it is.
fn read_typed(open: &Open, asked: &EnterAsked) -> Result<(Typed, Edit, Vec<String>), Refused> {
    let block = open
        .blocks()
        .get(asked.lesson)
        .ok_or_else(Refused::no_lesson)?;
    let typed = typed(&block.text, &asked.at, &asked.text)?;
    let (edit, to) = typed.edit(&asked.at, &asked.text);
    Ok((typed, edit, to))
}

fn enter(preview: &Arc<Preview>, asked: &EnterAsked) -> Result<Answer, Refused> {
    let (mut stop, mut left) = (None, Vec::new());
    let wish = &mut |open: &Open| {
        let (typed, edit, to) = read_typed(open, asked)?;
        (stop, left) = match typed {
            Typed::Moves { stop, unread, .. } => (stop, unread),
            _ => (None, Vec::new()),
        };
        Ok(Ask::Enter(edit, to))
    };
    let (mut written, page) = held(preview, &asked.page)?.act(asked.lesson, wish)?;
    for word in left {
        if !written.unread.contains(&word) {
            written.unread.push(word);
        }
    }
    Ok(done(written, page, stop))
}

fn look(preview: &Arc<Preview>, asked: &EnterAsked) -> Result<Answer, Refused> {
    let look = held(preview, &asked.page)?.read(|open| {
        let (typed, edit, _) = read_typed(open, asked)?;
        let made = open.ask(asked.lesson, &Ask::Edit(edit))?;
        let (moves, named, unread) = match typed {
            Typed::Moves {
                count,
                is_named,
                unread,
                ..
            } => (count, is_named, unread),
            _ => (0, false, Vec::new()),
        };
        let fresh = looked(open, asked.lesson, &made).min(moves);
        Ok::<_, Refused>(Look {
            moves,
            fresh,
            here: moves - fresh,
            named,
            unread,
        })
    })?;
    Ok(Answer::json(StatusCode::OK, &Looked { look }))
}
