//! A server for folders of static pages, under the strict policy that the guide names.
//! The demo site and the page tests use it; it is no part of the program.

use std::fs;
use std::io::Write;
use std::ops::Range;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::Duration;
use tiny_http::Server;

/// The policy under which everything must work (www/guide/script.md). A folder
/// that holds a file `policy.txt` is served under the policy in that file instead.
pub const POLICY: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
                          require-trusted-types-for 'script'";

/// Serves the first of these folders that has the file, on loopback, until the program ends.
/// Port 0 takes any free one. Returns the address, without a slash at its end.
pub fn serve(folders: Vec<PathBuf>, port: u16) -> Result<String, String> {
    serve_changed(folders, port, str::to_owned)
}

/// The same, with every page changed on its way.
pub fn serve_changed(
    folders: Vec<PathBuf>,
    port: u16,
    change: fn(&str) -> String,
) -> Result<String, String> {
    let server = Server::http(("127.0.0.1", port)).map_err(|error| error.to_string())?;
    let port = server
        .server_addr()
        .to_ip()
        .map_or(port, |address| address.port());
    let (server, folders) = (Arc::new(server), Arc::new(folders));
    for _ in 0..4 {
        let (server, folders) = (server.clone(), folders.clone());
        thread::spawn(move || {
            while let Ok(request) = server.recv() {
                let path = request
                    .url()
                    .split(['?', '#'])
                    .next()
                    .unwrap_or("/")
                    .to_owned();
                let mut headers = request.headers().iter();
                let range = headers.find(|header| header.field.equiv("Range"));
                let range = range.map(|header| header.value.as_str().to_owned());
                let file = find(&folders, &path);
                // A reader who goes away while the answer is on its way is no error.
                let _ = answer(
                    file.as_deref(),
                    range.as_deref(),
                    change,
                    request.into_writer(),
                );
            }
        });
    }
    Ok(format!("http://127.0.0.1:{port}"))
}

// Written out, because tiny_http keeps every connection and gives each a thread: now and then one
// of several that a browser opens at once gets none until another ends.
fn answer(
    file: Option<&Path>,
    range: Option<&str>,
    change: fn(&str) -> String,
    mut out: impl Write,
) -> std::io::Result<()> {
    let Some(file) = file else {
        write!(
            out,
            "HTTP/1.1 404 Not Found\r\nConnection: close\r\nContent-Type: text/plain\r\n\
             Content-Length: 9\r\n\r\nnot found"
        )?;
        return out.flush();
    };
    let known = match file.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("wav") => "audio/wav",
        Some("wasm") => "application/wasm",
        Some("mp3") => "audio/mpeg",
        Some("vtt") => "text/vtt; charset=utf-8",
        _ => "text/plain; charset=utf-8",
    };
    // A file `x.type` beside the file x says its type instead.
    let kind = fs::read_to_string(format!("{}.type", file.display()));
    let kind = kind.as_deref().map_or(known, str::trim);
    // A file `x.late` beside the file x says by how many milliseconds its answer is late.
    let late = format!("{}.late", file.display());
    if let Ok(milliseconds) = fs::read_to_string(late) {
        let milliseconds = milliseconds.trim().parse().unwrap_or(0);
        thread::sleep(Duration::from_millis(milliseconds));
    }
    let mut bytes = fs::read(file).unwrap_or_default();
    if kind.starts_with("text/html") {
        bytes = change(&String::from_utf8_lossy(&bytes)).into_bytes();
    }
    // What a browser plays it asks for in parts, and without them it seeks in none.
    let whole = bytes.len();
    let is_played = kind.starts_with("audio");
    let part = range.filter(|_| is_played);
    let part = part.and_then(|range| part_of(range, whole));
    let (status, at) = match &part {
        Some(part) => {
            let (from, to) = (part.start, part.end - 1);
            let at = format!("Content-Range: bytes {from}-{to}/{whole}\r\n");
            ("206 Partial Content", at)
        }
        None if is_played => ("200 OK", "Accept-Ranges: bytes\r\n".to_owned()),
        None => ("200 OK", String::new()),
    };
    let sent = &bytes[part.unwrap_or(0..whole)];
    let policy = fs::read_to_string(file.with_file_name("policy.txt"));
    write!(
        out,
        "HTTP/1.1 {status}\r\nConnection: close\r\nContent-Type: {kind}\r\n{at}\
         Content-Security-Policy: {}\r\nCache-Control: no-store\r\nContent-Length: {}\r\n\r\n",
        policy.as_deref().unwrap_or(POLICY).trim(),
        sent.len()
    )?;
    out.write_all(sent)?;
    out.flush()
}

/// The bytes that `bytes=FROM-` or `bytes=FROM-TO` asks for (RFC 9110, section 14.1.2); none where
/// that is anything else, or is not in a file of this length.
fn part_of(range: &str, length: usize) -> Option<Range<usize>> {
    let (from, to) = range.strip_prefix("bytes=")?.split_once('-')?;
    let from: usize = from.parse().ok()?;
    let to = match to {
        "" => length,
        to => to.parse::<usize>().ok()?.saturating_add(1).min(length),
    };
    (from < to).then_some(from..to)
}

/// The file of a path, a folder's `index.html` included; nothing outside the folders.
fn find(folders: &[PathBuf], path: &str) -> Option<PathBuf> {
    let path = Path::new(path.trim_start_matches('/'));
    if !path
        .components()
        .all(|part| matches!(part, Component::Normal(_)))
    {
        return None;
    }
    folders
        .iter()
        .map(|folder| folder.join(path))
        .flat_map(|file| [file.join("index.html"), file])
        .find(|file| file.is_file())
}
