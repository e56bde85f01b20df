//! The program serving a folder, and requests to it byte by byte.

use crate::cli::run::plyline;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};
use std::time::Duration;

/// A program that serves; it is ended with the value.
pub struct Served {
    child: Child,
    pub port: u16,
    pub key: String,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// The value of a header.
    pub fn header(&self, name: &str) -> Option<&str> {
        let mut lines = self.head.lines().filter_map(|line| line.split_once(':'));
        let found = lines.find(|(known, _)| known.eq_ignore_ascii_case(name));
        found.map(|(_, value)| value.trim())
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Serves what a path in a folder means.
pub fn serve(folder: &Path, words: &[&str]) -> Served {
    let words: Vec<&str> = ["preview"].iter().chain(words).copied().collect();
    let mut child = plyline(folder, &words)
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let out = child.stdout.take().expect("its output");
    let mut line = String::new();
    BufReader::new(out)
        .read_line(&mut line)
        .expect("its first line");
    let address = line
        .trim()
        .strip_prefix("http://127.0.0.1:")
        .expect("an address");
    let (port, key) = address.split_once("/#").expect("a key");
    Served {
        child,
        port: port.parse().expect("a port"),
        key: key.to_owned(),
    }
}

impl Served {
    /// Sends bytes as they are.
    pub fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("a connection");
        stream
            .set_read_timeout(Some(Duration::from_secs(60)))
            .expect("a timeout");
        // The server may answer, and close, before it has read all.
        let _ = stream.write_all(request);
        let mut bytes = Vec::new();
        let _ = stream.read_to_end(&mut bytes);
        answer(&bytes)
    }

    /// A request with these lines after the first; `Host` and `Connection` are added.
    pub fn ask(&self, first: &str, lines: &[&str], body: &[u8]) -> Answer {
        let mut request = format!(
            "{first} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n",
            self.port
        );
        for line in lines {
            request += line;
            request += "\r\n";
        }
        if !body.is_empty() {
            request += &format!("Content-Length: {}\r\n", body.len());
        }
        request += "\r\n";
        self.raw(&[request.as_bytes(), body].concat())
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask(&format!("GET {path}"), &[], b"")
    }

    /// Asks for something to be done, as the script of a page does.
    pub fn post(&self, name: &str, body: &Value) -> (u16, Value) {
        let key = format!("Plyline-Key: {}", self.key);
        let lines = [key.as_str(), "Content-Type: application/json"];
        let answer = self.ask(
            &format!("POST /.plyline/{name}"),
            &lines,
            body.to_string().as_bytes(),
        );
        let value = serde_json::from_slice(&answer.body).unwrap_or(Value::Null);
        (answer.status, value)
    }

    /// The same, and it is done.
    pub fn done(&self, name: &str, body: &Value) -> Value {
        let (status, value) = self.post(name, body);
        assert_eq!(status, 200, "{name} {body}: {value}");
        value
    }

    /// Keeps moves in a lesson.
    pub fn keep(&self, page: &str, lesson: usize, at: &[&str], moves: &[&str]) -> (u16, Value) {
        let edit = json!({ "keep": { "at": at, "moves": moves } });
        self.post(
            "edit",
            &json!({ "page": page, "lesson": lesson, "edit": edit }),
        )
    }
}

pub fn answer(bytes: &[u8]) -> Answer {
    let end = bytes
        .windows(4)
        .position(|it| it == b"\r\n\r\n")
        .unwrap_or(bytes.len());
    let head = String::from_utf8_lossy(&bytes[..end]).into_owned();
    let body = bytes.get(end + 4..).unwrap_or_default().to_vec();
    let status = head
        .split(' ')
        .nth(1)
        .and_then(|it| it.parse().ok())
        .unwrap_or(0);
    let mut answer = Answer { status, head, body };
    if answer
        .header("transfer-encoding")
        .is_some_and(|it| it.contains("chunked"))
    {
        answer.body = whole(&answer.body);
    }
    answer
}

/// A body that came in chunks (RFC 9112, section 7.1).
fn whole(mut chunks: &[u8]) -> Vec<u8> {
    let mut body = Vec::new();
    while let Some(end) = chunks.windows(2).position(|it| it == b"\r\n") {
        let length = String::from_utf8_lossy(&chunks[..end]).into_owned();
        let length = usize::from_str_radix(length.trim(), 16).unwrap_or(0);
        let (from, to) = (end + 2, end + 2 + length);
        if length == 0 || to > chunks.len() {
            break;
        }
        body.extend_from_slice(&chunks[from..to]);
        chunks = chunks.get(to + 2..).unwrap_or_default();
    }
    body
}
