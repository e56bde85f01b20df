//! The server: every request passes the gate first, whatever it asks for.

use super::acts;
use super::answer::{Answer, Sort};
use super::protocol::NotDone;
use super::served;
use super::state::Preview;
use super::through;
use crate::preview::{Denied, Headers, Refused, Wanted};
use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::State;
use axum::http::{HeaderMap, Request, Response, StatusCode};
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::task::spawn_blocking;

/// Most bytes of a request's body.
const BODY: usize = 1 << 20;

/// Answers until the program ends.
///
/// # Errors
/// Those of the listener.
pub async fn serve(preview: Preview, listener: std::net::TcpListener) -> std::io::Result<()> {
    listener.set_nonblocking(true)?;
    let listener = TcpListener::from_std(listener)?;
    let router = Router::new().fallback(answer).with_state(Arc::new(preview));
    axum::serve(listener, router).await
}

async fn answer(State(preview): State<Arc<Preview>>, request: Request<Body>) -> Response<Body> {
    let (head, body) = request.into_parts();
    // An address with a host in the first line would go past the header.
    let target = match head.uri.authority().is_none() && head.uri.scheme().is_none() {
        true => head.uri.path_and_query().map_or("", |it| it.as_str()),
        false => "",
    };
    let headers = named(&head.headers);
    let wanted = match preview.gate.pass(head.method.as_str(), target, &headers) {
        Ok(wanted) => wanted,
        Err(Denied(sentence)) => return Answer::plain(Sort::Forbidden, sentence).sent(),
    };
    let range = values(&head.headers, "range")
        .first()
        .map(|it| (*it).to_owned());
    if let (Wanted::File(_), Some(other)) = (&wanted, &preview.through) {
        return through::answer(other, &head.method, target, &head.headers).await;
    }
    let answer = match wanted {
        Wanted::Command(command) => match to_bytes(body, BODY).await {
            Ok(body) => acts::answer(preview, command, body.to_vec()).await,
            Err(_) => too_much(),
        },
        Wanted::Own(names) => served::own(&names),
        Wanted::File(names) => {
            let made =
                spawn_blocking(move || served::file(&preview, &names, range.as_deref())).await;
            made.unwrap_or_else(|_| {
                Answer::plain(
                    Sort::Failed,
                    "This page cannot be shown because of a mistake in plyline.",
                )
            })
        }
    };
    answer.sent()
}

fn too_much() -> Answer {
    let reason = "this is more than 1 MB, which is too much at once";
    let refused = Refused::new(
        "too-long",
        reason,
        "use plyline merge for whole collections",
    );
    Answer::json(StatusCode::PAYLOAD_TOO_LARGE, &NotDone::from(refused))
}

fn named(headers: &HeaderMap) -> Headers<'_> {
    Headers {
        host: values(headers, "host"),
        origin: values(headers, "origin"),
        site: values(headers, "sec-fetch-site"),
        key: values(headers, "plyline-key"),
        kind: values(headers, "content-type"),
    }
}

/// The values of a header; one that is no text is none of those that are asked for.
fn values<'a>(headers: &'a HeaderMap, name: &str) -> Vec<&'a str> {
    let all = headers.get_all(name).into_iter();
    all.map(|it| it.to_str().unwrap_or("\u{fffd}")).collect()
}
