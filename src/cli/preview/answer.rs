//! Answers, each with the headers that keep other sites out.

use crate::preview::address;
use axum::body::Body;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{Response, StatusCode};
use serde::Serialize;

/// How an answer that is a sentence is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    Missing,
    Forbidden,
    Failed,
    /// The server that is asked instead gives no answer.
    Absent,
}

/// An answer before it is sent.
#[derive(Debug)]
pub struct Answer {
    status: StatusCode,
    kind: String,
    bytes: Vec<u8>,
    /// Headers of this one alone.
    more: Vec<(HeaderName, String)>,
    is_page: bool,
}

/// Headers of every answer.
const ALWAYS: [(HeaderName, &str); 5] = [
    (header::CACHE_CONTROL, "no-store"),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::REFERRER_POLICY, "same-origin"),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
];

const POLICY: &str = "frame-ancestors 'none'";
const POLICY_OF_PAGES: &str =
    "frame-ancestors 'none'; script-src 'self' 'unsafe-inline' 'wasm-unsafe-eval'";

impl Answer {
    fn new(status: StatusCode, kind: &str, bytes: Vec<u8>) -> Answer {
        Answer {
            status,
            kind: kind.to_owned(),
            bytes,
            more: Vec::new(),
            is_page: false,
        }
    }

    /// A page in UTF-8.
    pub fn page(bytes: Vec<u8>) -> Answer {
        Answer::html(bytes, "utf-8")
    }

    pub fn html(bytes: Vec<u8>, charset: &str) -> Answer {
        Answer {
            is_page: true,
            ..Answer::new(
                StatusCode::OK,
                &format!("text/html; charset={charset}"),
                bytes,
            )
        }
    }

    /// A file of a name, whose ending says what it is.
    pub fn of(name: &str, bytes: Vec<u8>) -> Answer {
        let kind = kind(name);
        Answer {
            // A picture can be opened as a page, and may then run what it holds.
            is_page: kind.starts_with("image/svg"),
            ..Answer::new(StatusCode::OK, kind, bytes)
        }
    }

    /// That the bytes are a part of a file of this length.
    pub fn part(mut self, from: u64, length: u64) -> Answer {
        let last = from + self.bytes.len() as u64 - 1;
        self.status = StatusCode::PARTIAL_CONTENT;
        self.more.push((
            header::CONTENT_RANGE,
            format!("bytes {from}-{last}/{length}"),
        ));
        self
    }

    /// That a folder is at the same address with a slash.
    pub fn see(names: &[String]) -> Answer {
        let mut answer = Answer::new(StatusCode::FOUND, "text/plain; charset=utf-8", Vec::new());
        answer
            .more
            .push((header::LOCATION, format!("{}/", address(names))));
        answer
    }

    pub fn missing() -> Answer {
        Answer::plain(Sort::Missing, "There is no such page or file here.")
    }

    /// A sentence.
    pub fn plain(sort: Sort, sentence: &str) -> Answer {
        let status = match sort {
            Sort::Missing => StatusCode::NOT_FOUND,
            Sort::Forbidden => StatusCode::FORBIDDEN,
            Sort::Failed => StatusCode::INTERNAL_SERVER_ERROR,
            Sort::Absent => StatusCode::BAD_GATEWAY,
        };
        Answer::new(
            status,
            "text/plain; charset=utf-8",
            format!("{sentence}\n").into_bytes(),
        )
    }

    /// One whose body comes from another server.
    pub fn through(status: StatusCode, is_page: bool) -> Answer {
        Answer {
            is_page,
            ..Answer::new(status, "application/octet-stream", Vec::new())
        }
    }

    /// A value as JSON.
    pub fn json(status: StatusCode, value: &impl Serialize) -> Answer {
        match serde_json::to_vec(value) {
            Ok(bytes) => Answer::new(status, "application/json", bytes),
            Err(error) => Answer::plain(Sort::Failed, &error.to_string()),
        }
    }

    /// As it is sent.
    pub fn sent(self) -> Response<Body> {
        let mut response = Response::new(Body::from(self.bytes));
        *response.status_mut() = self.status;
        let headers = response.headers_mut();
        for (name, value) in ALWAYS {
            headers.insert(name, HeaderValue::from_static(value));
        }
        let policy = if self.is_page {
            POLICY_OF_PAGES
        } else {
            POLICY
        };
        headers.insert(
            header::CONTENT_SECURITY_POLICY,
            HeaderValue::from_static(policy),
        );
        let mut more = self.more;
        more.push((header::CONTENT_TYPE, self.kind));
        more.push((header::ACCEPT_RANGES, "bytes".to_owned()));
        for (name, value) in more {
            if let Ok(value) = HeaderValue::from_str(&value) {
                headers.insert(name, value);
            }
        }
        response
    }
}

/// The media type of a file (IANA's list), as far as pages load such files.
fn kind(name: &str) -> &'static str {
    let ending = name
        .rsplit('.')
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase();
    match ending.as_str() {
        "css" => "text/css; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "json" | "map" => "application/json",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "gif" => "image/gif",
        "webp" => "image/webp",
        "avif" => "image/avif",
        "ico" => "image/x-icon",
        "woff" => "font/woff",
        "woff2" => "font/woff2",
        "ttf" => "font/ttf",
        "otf" => "font/otf",
        "mp3" => "audio/mpeg",
        "m4a" => "audio/mp4",
        "ogg" | "opus" => "audio/ogg",
        "wav" => "audio/wav",
        "mp4" => "video/mp4",
        "webm" => "video/webm",
        "vtt" => "text/vtt; charset=utf-8",
        "pdf" => "application/pdf",
        "xml" => "application/xml",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
