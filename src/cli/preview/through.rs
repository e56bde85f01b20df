//! Pages of a generator's own server, on this machine and nowhere else, with our script first.

use super::answer::{Answer, Sort};
use crate::preview::with_script;
use axum::body::{Body, to_bytes};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, Request, Response};
use hyper::client::conn::http1::handshake;
use hyper_util::rt::TokioIo;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr};
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::time::timeout;

/// Most bytes of a page.
const PAGE: usize = 64 << 20;

/// How long the other server may take to begin its answer; a generator may build the page first.
const PATIENCE: Duration = Duration::from_secs(60);

/// What is handed on of a request. Nothing of it says who asks.
const ASKED: [HeaderName; 4] = [
    header::ACCEPT,
    header::ACCEPT_LANGUAGE,
    header::RANGE,
    header::USER_AGENT,
];

/// What is handed on of an answer. Its own policies are not: the headers of the preview are stricter.
const ANSWERED: [HeaderName; 5] = [
    header::CONTENT_TYPE,
    header::CONTENT_RANGE,
    header::CONTENT_LANGUAGE,
    header::CONTENT_ENCODING,
    header::LAST_MODIFIED,
];

/// The server that an address names.
///
/// # Errors
/// Where it is not on this machine, or is more than a host and a port.
pub fn server(address: &str) -> Result<SocketAddr, String> {
    let wrong = || {
        format!(
            "{address}: only the address of a server on this machine, like http://127.0.0.1:4000"
        )
    };
    let rest = address.strip_prefix("http://").ok_or_else(wrong)?;
    let rest = rest.strip_suffix('/').unwrap_or(rest);
    let (host, port) = match rest.rsplit_once(':') {
        Some((host, port)) if !port.ends_with(']') => (host, port.parse().map_err(|_| wrong())?),
        _ => (rest, 80),
    };
    let ip: IpAddr = match host {
        "localhost" | "127.0.0.1" => Ipv4Addr::LOCALHOST.into(),
        "[::1]" => Ipv6Addr::LOCALHOST.into(),
        _ => return Err(wrong()),
    };
    Ok(SocketAddr::new(ip, port))
}

/// The answer of the other server, for a request that has passed the gate.
pub async fn answer(
    server: &SocketAddr,
    method: &Method,
    target: &str,
    headers: &HeaderMap,
) -> Response<Body> {
    match timeout(PATIENCE, asked(server, method, target, headers)).await {
        Ok(Ok(response)) => handed_on(server, response).await,
        Ok(Err(reason)) => absent(server, &reason),
        Err(_) => absent(server, "it does not answer"),
    }
}

fn absent(server: &SocketAddr, reason: &str) -> Response<Body> {
    let sentence =
        format!("The server at http://{server} gives no page: {reason}. Start it and reload.");
    Answer::plain(Sort::Absent, &sentence).sent()
}

async fn asked(
    server: &SocketAddr,
    method: &Method,
    target: &str,
    headers: &HeaderMap,
) -> Result<Response<Body>, String> {
    let stream = TcpStream::connect(server)
        .await
        .map_err(|error| crate::cli::files::reason(&error))?;
    let said = |error: hyper::Error| error.to_string();
    let (mut sender, connection) = handshake(TokioIo::new(stream)).await.map_err(said)?;
    // It ends with the answer; what is amiss shows there.
    tokio::spawn(async move { drop(connection.await) });
    let request = Request::builder()
        .method(method)
        .uri(target)
        .header(header::HOST, server.to_string());
    let mut request = request
        .body(Body::empty())
        .map_err(|error| error.to_string())?;
    for name in ASKED {
        if let Some(value) = headers.get(&name) {
            request.headers_mut().insert(name, value.clone());
        }
    }
    let plain = HeaderValue::from_static("identity");
    request.headers_mut().insert(header::ACCEPT_ENCODING, plain);
    let response = sender.send_request(request).await.map_err(said)?;
    Ok(response.map(Body::new))
}

async fn handed_on(server: &SocketAddr, response: Response<Body>) -> Response<Body> {
    let (head, body) = response.into_parts();
    let kind = head
        .headers
        .get(header::CONTENT_TYPE)
        .and_then(|it| it.to_str().ok())
        .unwrap_or_default();
    let kind = kind
        .split(';')
        .next()
        .unwrap_or_default()
        .trim()
        .to_ascii_lowercase();
    let is_page = matches!(kind.as_str(), "text/html" | "application/xhtml+xml");
    let is_plain = !head.headers.contains_key(header::CONTENT_ENCODING);
    let body = match is_page && is_plain {
        true => match to_bytes(body, PAGE).await {
            // A redirection has no page, and the answer to HEAD none either.
            Ok(bytes) if bytes.is_empty() => Body::empty(),
            Ok(bytes) => Body::from(with_script(&bytes)),
            Err(error) => return absent(server, &error.to_string()),
        },
        false => body,
    };
    let mut sent = Answer::through(head.status, is_page || kind == "image/svg+xml").sent();
    *sent.body_mut() = body;
    for name in ANSWERED {
        match head.headers.get(&name) {
            Some(value) => sent.headers_mut().insert(name, value.clone()),
            None => sent.headers_mut().remove(name),
        };
    }
    let place = head
        .headers
        .get(header::LOCATION)
        .and_then(|it| it.to_str().ok());
    if let Some(place) = place {
        // Its own addresses are those of the preview.
        let own = format!("http://{server}");
        let place = place.strip_prefix(own.as_str()).unwrap_or(place);
        if let Ok(value) = HeaderValue::from_str(if place.is_empty() { "/" } else { place }) {
            sent.headers_mut().insert(header::LOCATION, value);
        }
    }
    sent
}
