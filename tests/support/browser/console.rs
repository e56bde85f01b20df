//! What a browser's console says, which must be nothing that a case does not expect.

use super::Browser;
use super::engine::{Engine, level};
use serde_json::Value;

/// What a browser's console holds.
#[derive(Clone, Debug)]
pub struct Message {
    /// `error`, `warning` or `info`.
    pub level: &'static str,
    pub text: String,
}

impl Browser<'_> {
    /// Takes what the console holds.
    #[track_caller]
    pub(super) fn collect(&self) {
        let found: Vec<Message> = match self.engine {
            Engine::Chromium => {
                let entries = self.wait("the console", self.driver().browser_log());
                let message = |entry: thirtyfour::BrowserLogEntry| Message {
                    level: level(&entry.level),
                    text: entry.message,
                };
                entries.into_iter().map(message).collect()
            }
            Engine::Firefox => {
                let entries = self.chrome(include_str!("firefox-console.js"), Value::Null);
                let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
                let message = |entry: &Value| Message {
                    level: level(&text(&entry["level"])),
                    text: text(&entry["text"]),
                };
                entries
                    .as_array()
                    .into_iter()
                    .flatten()
                    .map(message)
                    .collect()
            }
            Engine::WebKit => {
                let entries = self.js("return globalThis.plylineSaid?.splice(0) ?? []");
                let message = |entry: &Value| Message {
                    level: level(entry[0].as_str().unwrap_or_default()),
                    text: entry[1].as_str().unwrap_or_default().to_owned(),
                };
                entries
                    .as_array()
                    .into_iter()
                    .flatten()
                    .map(message)
                    .collect()
            }
        };
        self.messages.borrow_mut().extend(found);
    }

    /// All that the console has said since the case began.
    #[track_caller]
    pub fn console(&self) -> Vec<Message> {
        self.collect();
        self.messages.borrow().clone()
    }

    /// The case fails unless an error or a warning holds these words.
    pub fn expect(&self, words: &'static str) {
        self.expected.borrow_mut().push((words, true));
    }

    /// An error or a warning with these words is no failure; not every engine gives it.
    pub fn allow(&self, words: &'static str) {
        self.expected.borrow_mut().push((words, false));
    }

    /// Forgets what the last case said and expected.
    pub fn begin(&self) {
        self.collect();
        self.messages.borrow_mut().clear();
        self.expected.borrow_mut().clear();
    }

    /// Panics where the console holds an error or a warning that the case does not expect.
    pub fn check_console(&self) {
        let said = self.console();
        let said: Vec<&Message> = said
            .iter()
            .filter(|message| message.level != "info")
            .collect();
        let expected = self.expected.borrow();
        for message in &said {
            let known = expected
                .iter()
                .any(|(words, _)| message.text.contains(words));
            assert!(
                known,
                "the console holds an {}: {}",
                message.level, message.text
            );
        }
        for (words, needed) in expected.iter() {
            let heard = said.iter().any(|message| message.text.contains(words));
            assert!(heard || !needed, "the console does not say {words:?}");
        }
    }
}
