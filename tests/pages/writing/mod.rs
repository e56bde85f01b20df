//! Pages that `plyline preview` serves: what an author plays, types and points at stands in their file.

pub mod others;
pub mod plays;
pub mod says;

use crate::harness::File;
use crate::support::browser::Browser;
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

pub const FILES: &[File] = &[
    ("others", others::CASES),
    ("plays", plays::CASES),
    ("says", says::CASES),
];

/// Put before each script. `desk` is what is at the board, `word` one of its words, `file` the field.
const NAMES: &str = "const host = () => line()?.querySelector('[slot=writing]');
    const desk = () => host()?.shadowRoot;
    const words = () => [...desk().querySelectorAll('button')];
    const word = (name) => words().find((it) => it.checkVisibility() && it.textContent.split(':')[0].startsWith(name));
    const field = () => desk().querySelector('input');
    const said = () => desk()?.querySelector('.said').textContent;
    const comment = () => desk().querySelector('textarea');
    const at = () => line().current?.moves.join(' ') ?? '';";

/// A page that is served while it is written, and the program that serves it.
pub struct Author<'b, 'a> {
    browser: &'b Browser<'a>,
    folder: PathBuf,
    name: &'static str,
    program: Child,
    /// Without the key.
    pub address: String,
    key: String,
}

impl<'b, 'a> Author<'b, 'a> {
    /// Begins with a file of that name and opens its page.
    #[track_caller]
    pub fn open(browser: &'b Browser<'a>, name: &'static str, text: &str) -> Author<'b, 'a> {
        // A place that is not there yet is refused, and the program's own pages have no icon.
        browser.allow("409");
        browser.allow("404");
        // What Firefox says of a page that is left while it asks for something.
        browser.allow("Script terminated by timeout");
        let id = format!(
            "{}-{:?}",
            browser.engine.name(),
            std::thread::current().id()
        );
        let id: String = id.chars().filter(char::is_ascii_alphanumeric).collect();
        let folder =
            std::env::temp_dir().join(format!("plyline-writing-{}-{id}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join(name), text).expect("a file");
        let mut program = Command::new(env!("CARGO_BIN_EXE_plyline"))
            .arg("preview")
            .arg(&folder)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program");
        let mut first = String::new();
        let out = program.stdout.take().expect("its output");
        BufReader::new(out)
            .read_line(&mut first)
            .expect("its first line");
        let (address, key) = first
            .trim()
            .split_once("/#")
            .expect("an address with a key");
        let author = Author {
            browser,
            folder,
            name,
            program,
            address: address.to_owned(),
            key: key.to_owned(),
        };
        browser.open(&format!("{address}/{name}#{key}"));
        author.begin(browser);
        author
    }

    /// The same, and then writes.
    #[track_caller]
    pub fn writing(browser: &'b Browser<'a>, name: &'static str, text: &str) -> Author<'b, 'a> {
        let author = Author::open(browser, name, text);
        author.press(browser, "write");
        author
    }

    /// Waits until the board can be written at.
    #[track_caller]
    pub fn begin(&self, browser: &Browser) {
        browser.js(
            "for (let turn = 0; turn < 500 && !line()?.querySelector('[slot=writing]'); turn += 1) await pause(20);
             line().scrollIntoView({ behavior: 'instant' });
             for (let turn = 0; turn < 100 && !line().shadowRoot?.querySelector('.board'); turn += 1) await pause(20);",
        );
        self.until(browser, "host() && desk().querySelector('.state button')");
    }

    /// The file as it is now.
    pub fn text(&self) -> String {
        fs::read_to_string(self.folder.join(self.name)).expect("the file")
    }

    /// The file's lesson, one word after another.
    pub fn lesson(&self) -> String {
        let text = self.text();
        let inner = text.split("```").nth(1).unwrap_or(&text);
        let inner = inner.trim_start_matches("pgn");
        inner.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Another program saves the file.
    pub fn save(&self, text: &str) {
        let beside = self.folder.join(".saved");
        fs::write(&beside, text).expect("a file");
        fs::rename(&beside, self.folder.join(self.name)).expect("a file");
    }

    /// Waits until the file's lesson is this.
    #[track_caller]
    pub fn until_lesson(&self, browser: &Browser, wanted: &str) {
        for _ in 0..150 {
            if self.lesson() == wanted {
                return;
            }
            browser.js("await pause(20)");
        }
        assert_eq!(self.lesson(), wanted);
    }

    /// Runs a script in the page.
    #[track_caller]
    pub fn js(&self, browser: &Browser, script: &str) -> serde_json::Value {
        browser.js(&format!("{NAMES} {script}"))
    }

    #[track_caller]
    pub fn until(&self, browser: &Browser, expression: &str) {
        let script = format!(
            "for (let times = 0; times < 150; times += 1) {{ if ({expression}) return true; await pause(20); }} return said()"
        );
        assert_eq!(self.js(browser, &script), true, "never: {expression}");
    }

    /// Presses a word at the board.
    #[track_caller]
    pub fn press(&self, browser: &Browser, name: &str) {
        self.until(browser, &format!("word('{name}')"));
        browser.click(&format!("{NAMES} await pause(60); const it = word('{name}'); it.scrollIntoView({{ block: 'center', behavior: 'instant' }}); return it"));
    }

    /// Plays a move with the pointer, and waits until the file has it.
    #[track_caller]
    pub fn play(&self, browser: &Browser, from: &str, to: &str) {
        let before = self.js(browser, "return at()");
        for square in [from, to] {
            browser.click(&format!("return inside('[data-square={square}]')"));
        }
        self.until(
            browser,
            &format!("at() !== {before} && !line().current.aside.length"),
        );
    }

    /// Types a line into the field and enters it.
    #[track_caller]
    pub fn enter(&self, browser: &Browser, text: &str) {
        self.js(browser, "field().focus()");
        browser.write_keys(text);
        browser.press(crate::support::browser::keys::ENTER);
    }

    /// Pastes a text into the field. Firefox makes no such event with a text of a script's own.
    #[track_caller]
    pub fn paste(&self, browser: &Browser, text: &str) {
        let script = format!(
            "const event = new Event('paste', {{ bubbles: true, cancelable: true }});
             Object.defineProperty(event, 'clipboardData', {{ value: {{ getData: () => {text:?} }} }});
             field().dispatchEvent(event)"
        );
        self.js(browser, &script);
    }

    /// The page of the file, a post in Markdown, as a generator makes it and `plyline bake` completes it.
    #[track_caller]
    pub fn baked(&self) -> String {
        let site = self.folder.join("site");
        fs::create_dir_all(&site).expect("a folder");
        let text = self.text();
        let mut page = "<!doctype html><html lang=en><title>A page</title><main>".to_owned();
        pulldown_cmark::html::push_html(&mut page, pulldown_cmark::Parser::new(&text));
        fs::write(site.join("index.html"), page).expect("a page");
        let done = Command::new(env!("CARGO_BIN_EXE_plyline"))
            .arg("bake")
            .arg(&site)
            .args(["--in-place", "--base-url", "https://a-site.example/"])
            .output()
            .expect("the program");
        assert!(done.status.success(), "{done:?}");
        fs::read_to_string(site.join("index.html")).expect("the page")
    }

    /// Runs another command of the program on the folder; whether it found nothing amiss, and what it said.
    pub fn program(&self, words: &[&str]) -> (bool, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_plyline"));
        let done = command
            .args(words)
            .arg(&self.folder)
            .output()
            .expect("the program");
        let said = [done.stdout, done.stderr].concat();
        (
            done.status.success(),
            String::from_utf8_lossy(&said).into_owned(),
        )
    }

    /// The program ends.
    pub fn end(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }

    /// The address with the key.
    pub fn with_key(&self) -> String {
        format!("{}/{}#{}", self.address, self.name, self.key)
    }
}

impl Drop for Author<'_, '_> {
    fn drop(&mut self) {
        // Else the page would say that nothing answers any more.
        if !std::thread::panicking() {
            self.browser.open("about:blank");
        }
        self.end();
        let _ = fs::remove_dir_all(&self.folder);
    }
}
