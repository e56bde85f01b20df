//! What differs between the engines that the page tests drive: how each is started, and what
//! its driver cannot do.

use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use thirtyfour::common::command::{Command, FormatRequestData};
use thirtyfour::{RequestData, SessionId};

/// An engine that can be driven. Another one needs a line in each `match` on this type.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    Chromium,
    Firefox,
    /// WebKitGTK, in the small browser that comes with its library.
    WebKit,
}

/// What not every driver lets a test do or see.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// What the engine itself says in the console; without it, what a script can overhear.
    Console,
    Print,
    Touch,
    ForcedColors,
    /// Show a page in a medium and a scheme of the test's choice, at any size.
    Medium,
    /// The tree that a screen reader is given.
    AccessibilityTree,
    /// Permission for a page's script to read the clipboard.
    Clipboard,
}

/// The payload of the panic that ends a case in an engine that cannot do what it needs.
pub struct Missing(pub Cap);

impl Engine {
    pub const ALL: &[Engine] = &[Engine::Chromium, Engine::Firefox, Engine::WebKit];

    /// The one place that says what an engine's driver cannot do.
    pub fn can(self, cap: Cap) -> bool {
        match self {
            Engine::Chromium => true,
            Engine::Firefox => {
                !matches!(cap, Cap::Medium | Cap::AccessibilityTree | Cap::Clipboard)
            }
            // Its driver knows neither log nor print, a finger of its arrives as a mouse, and
            // nothing but high contrast of the whole desktop comes near forced colours.
            Engine::WebKit => match cap {
                Cap::Console | Cap::Print | Cap::Touch | Cap::ForcedColors => false,
                Cap::Medium | Cap::AccessibilityTree | Cap::Clipboard => false,
            },
        }
    }

    pub fn name(self) -> &'static str {
        match self {
            Engine::Chromium => "chromium",
            Engine::Firefox => "firefox",
            Engine::WebKit => "webkit",
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
            Engine::WebKit => {
                let options = json!({ "binary": mini_browser(), "args": ["--automation"] });
                let wanted = json!({ "webkitgtk:browserOptions": options });
                ("WebKitWebDriver", vec![], wanted)
            }
        }
    }
}

/// The browser beside WebKitGTK's library, whose folder is named after the machine.
fn mini_browser() -> PathBuf {
    let folders = ["/usr/lib", "/usr/libexec", "/usr/lib64"].map(PathBuf::from);
    let inside = folders
        .iter()
        .filter_map(|folder| fs::read_dir(folder).ok());
    let inside = inside.flatten().flatten().map(|entry| entry.path());
    let mut places = folders.iter().cloned().chain(inside);
    let found = places.find_map(|folder| {
        let file = folder.join("webkit2gtk-4.1/MiniBrowser");
        file.is_file().then_some(file)
    });
    // The driver then says that it cannot start it.
    found.unwrap_or_else(|| "MiniBrowser".into())
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
