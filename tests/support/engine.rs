//! What differs between the engines that the page tests drive: how each is started.

use serde_json::{Value, json};
use std::path::Path;
use thirtyfour::common::command::{Command, FormatRequestData};
use thirtyfour::{RequestData, SessionId};

/// An engine that can be driven. Another one needs a line in each `match` on this type.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    Chromium,
    Firefox,
}

impl Engine {
    pub const ALL: &[Engine] = &[Engine::Chromium, Engine::Firefox];

    pub fn name(self) -> &'static str {
        match self {
            Engine::Chromium => "chromium",
            Engine::Firefox => "firefox",
        }
    }

    /// The driver's program, its arguments without the port, and what the session asks for.
    pub fn start(self, profile: &Path) -> (&'static str, Vec<&'static str>, Value) {
        match self {
            Engine::Chromium => {
                let mut args: Vec<String> = "--headless --no-sandbox --disable-gpu --disable-quic \
                    --no-first-run --disable-background-networking --disable-component-update \
                    --disable-sync --window-size=1280,900"
                    .split_whitespace()
                    .map(str::to_owned)
                    .collect();
                args.push(format!("--user-data-dir={}", profile.display()));
                let wanted = json!({
                    "browserName": "chrome",
                    "goog:chromeOptions": { "args": args },
                    "goog:loggingPrefs": { "browser": "ALL" },
                });
                ("chromedriver", vec![], wanted)
            }
            Engine::Firefox => {
                let args = ["-headless", "-width", "1280", "-height", "900"];
                let wanted = json!({
                    "browserName": "firefox",
                    "moz:firefoxOptions": { "args": args },
                });
                // System access opens the browser's own console, size and colour scheme to us.
                (
                    "geckodriver",
                    vec!["--allow-system-access", "--log=fatal"],
                    wanted,
                )
            }
        }
    }
}

/// The three levels of all the words for them.
pub fn level(word: &str) -> &'static str {
    match word {
        "SEVERE" | "error" => "error",
        "WARNING" | "warn" | "warning" => "warning",
        _ => "info",
    }
}

/// A command of one engine only.
#[derive(Debug)]
pub struct Post {
    pub path: &'static str,
    pub body: Value,
}

impl FormatRequestData for Post {
    fn format_request(&self, session: &SessionId) -> RequestData {
        // Any command that is a POST: the type of the method belongs to a crate that is not ours.
        let mut request = Command::Refresh.format_request(session);
        request.uri = format!("session/{session}{}", self.path).into();
        request.add_body(self.body.clone())
    }
}
