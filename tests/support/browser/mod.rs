//! A browser that the page tests drive by WebDriver: one session for many pages, the pages'
//! temporary folder, and the console, which must stay silent.
//!
//! Everything here panics with a sentence: the harness of the page tests turns a panic into a
//! failed case.

mod console;
mod desk;
pub mod engine;
mod hands;
pub mod keys;
mod media;

use super::site::{Site, find_program, page};
use console::Message;
use desk::Desk;
use engine::{Cap, Engine, Missing, Post};
use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::net::{TcpListener, TcpStream};
use std::panic::panic_any;
use std::path::PathBuf;
use std::process::{Child, Command as Program, Stdio};
use std::time::{Duration, Instant};
use std::{fs, thread};
use thirtyfour::{Capabilities, WebDriver, WebElement, error::WebDriverResult};
use tokio::runtime::Runtime;

/// Put before every script that runs in a page.
const PRELUDE: &str = include_str!("prelude.js");
/// The longest that a script or a page may take.
const PATIENCE: Duration = Duration::from_secs(30);
/// The key under which WebDriver hands over an element.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// A session in one engine.
pub struct Browser<'a> {
    pub engine: Engine,
    pub site: &'a Site,
    driver: Option<WebDriver>,
    runtime: Runtime,
    process: Child,
    /// The display of an engine that needs one; ends after the driver.
    desk: Option<Desk>,
    profile: PathBuf,
    pages: Cell<u32>,
    /// Whether the window or what the reader prefers may be other than at first.
    is_changed: Cell<bool>,
    messages: RefCell<Vec<Message>>,
    expected: RefCell<Vec<(&'static str, bool)>>,
}

impl<'a> Browser<'a> {
    pub fn start(engine: Engine, site: &'a Site) -> Result<Browser<'a>, String> {
        let profile = site.folder.join(format!("profile-{}", engine.name()));
        let (program, args, wanted) = engine.start(&profile);
        let port = free_port(engine)?;
        let desk = match engine {
            Engine::WebKit => Some(Desk::open(&profile)?),
            Engine::Chromium | Engine::Firefox => None,
        };
        let mut process = Program::new(find_program(program));
        if let Some(desk) = &desk {
            desk.seat(&mut process);
        }
        let mut process = process
            .arg(format!("--port={port}"))
            .args(args)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| {
                format!("{program} cannot be started ({error}); tests/run.sh installs it")
            })?;
        let runtime = Runtime::new().map_err(|error| error.to_string())?;
        let driver = runtime.block_on(async {
            let until = Instant::now() + PATIENCE;
            while TcpStream::connect(("127.0.0.1", port)).is_err() && Instant::now() < until {
                tokio::time::sleep(Duration::from_millis(50)).await;
            }
            let wanted: Capabilities = serde_json::from_value(wanted)?;
            let driver = WebDriver::new(format!("http://127.0.0.1:{port}"), wanted).await?;
            driver.set_script_timeout(PATIENCE).await?;
            driver.set_page_load_timeout(PATIENCE).await?;
            Ok(driver)
        });
        let driver = driver.map_err(|error: thirtyfour::error::WebDriverError| {
            let _ = process.kill();
            format!("no session with {program}: {error}")
        })?;
        let browser = Browser {
            engine,
            site,
            driver: Some(driver),
            runtime,
            process,
            desk,
            profile,
            pages: Cell::new(0),
            is_changed: Cell::new(true),
            messages: RefCell::default(),
            expected: RefCell::default(),
        };
        if engine == Engine::WebKit {
            browser.width(None); // no argument of its own says how large it opens
        }
        Ok(browser)
    }

    /// False once the engine's program, or its session, has ended.
    pub fn is_alive(&self) -> bool {
        let answers = |driver: &WebDriver| self.runtime.block_on(driver.current_url()).is_ok();
        self.driver.as_ref().is_some_and(answers)
    }

    /// Ends the session and its programs, once.
    pub fn end(&mut self) {
        let Some(driver) = self.driver.take() else {
            return;
        };
        let _ = self.runtime.block_on(driver.quit());
        let _ = self.process.kill();
        let _ = self.process.wait();
        // Chromium may still be writing.
        thread::sleep(Duration::from_millis(100));
        let _ = fs::remove_dir_all(&self.profile);
    }

    /// Ends the case here, neither passed nor failed, in an engine that cannot do this.
    #[track_caller]
    pub fn needs(&self, cap: Cap) {
        if !self.engine.can(cap) {
            panic_any(Missing(cap));
        }
    }

    fn desk(&self) -> &Desk {
        self.desk.as_ref().expect("an engine that needs a display")
    }

    fn driver(&self) -> &WebDriver {
        self.driver
            .as_ref()
            .expect("a session lasts until the browser is dropped")
    }

    #[track_caller]
    fn wait<T>(&self, doing: &str, what: impl Future<Output = WebDriverResult<T>>) -> T {
        match self.runtime.block_on(what) {
            Ok(value) => value,
            Err(error) => panic!("{doing}: {error}"),
        }
    }

    // Pages

    /// Opens a path of the site, or a whole address.
    #[track_caller]
    pub fn open(&self, path: &str) {
        // The console of a page that is left is lost.
        self.collect();
        let address = match path.starts_with('/') {
            true => format!("{}{path}", self.site.address(self.engine)),
            false => path.to_owned(),
        };
        self.wait(&address, self.driver().goto(address.as_str()));
    }

    /// Opens a page of the site and waits until its lessons are drawn.
    #[track_caller]
    pub fn visit(&self, path: &str) {
        self.open(path);
        self.js("await settled()");
    }

    /// Writes a page, opens it and waits until its lessons are drawn.
    #[track_caller]
    pub fn show(&self, head: &str, body: &str) {
        let path = self.write(head, body);
        self.visit(&path);
    }

    /// Writes a page whose events are recorded; returns its path.
    #[track_caller]
    pub fn write(&self, head: &str, body: &str) -> String {
        self.pages.set(self.pages.get() + 1);
        let path = format!("{}-{}.html", self.engine.name(), self.pages.get());
        let head = format!("<script src=\"/record.js\"></script>\n{head}");
        self.site.write(&path, page(&head, body));
        format!("/{path}")
    }

    // Scripts, clicks, keys

    /// Runs the body of an async function in the page. Not bound by the page's policy.
    #[track_caller]
    pub fn js(&self, script: &str) -> Value {
        self.js_with(script, Value::Null)
    }

    /// The same; the script sees the value as `given`.
    #[track_caller]
    pub fn js_with(&self, script: &str, given: Value) -> Value {
        let whole = format!(
            "const [given, done] = arguments;\n{PRELUDE}\n(async () => {{\n{script}\n}})().then(\
             (value) => done({{ value }}),\n(error) => done({{ error: `${{error}}\\n${{error?.stack}}` }}));"
        );
        let given = vec![given];
        let answer = self.wait("a script", self.driver().execute_async(whole, given));
        match &answer.json()["error"] {
            Value::Null => answer.json()["value"].clone(),
            error => panic!("a script threw {}", error.as_str().unwrap_or_default()),
        }
    }

    /// What the script returns, as text.
    #[track_caller]
    pub fn text(&self, script: &str) -> String {
        match self.js(script) {
            Value::String(text) => text,
            other => panic!("{script} is no text but {other}"),
        }
    }

    /// Clicks with the pointer on the element that the script returns.
    #[track_caller]
    pub fn click(&self, script: &str) {
        let found = self.js(script);
        assert!(found.get(ELEMENT).is_some(), "{script} finds no element");
        self.wait(script, async {
            let element = WebElement::from_json(found, self.driver().handle().clone())?;
            element.click().await
        });
    }

    /// Presses and releases a key, where the focus is.
    #[track_caller]
    pub fn press(&self, key: char) {
        let keys = self.driver().action_chain().send_keys(key.to_string());
        self.wait("a key", keys.perform());
    }

    /// The same with another key held.
    #[track_caller]
    pub fn press_with(&self, held: char, key: char) {
        let keys = self.driver().action_chain();
        let keys = keys.key_down(held).key_down(key).key_up(key).key_up(held);
        self.wait("keys", keys.perform());
    }

    // The window

    /// Makes the page as wide as a phone's, or as this engine's window can be.
    #[track_caller]
    pub fn phone(&self) {
        self.width(Some(match self.engine {
            Engine::WebKit => 460,
            _ => 390,
        }));
    }

    /// Makes the page this wide in CSS pixels; `None` is the window as it was opened.
    #[track_caller]
    pub fn width(&self, width: Option<u32>) {
        self.is_changed.set(true);
        match self.engine {
            Engine::Chromium => match width {
                Some(width) => self.cdp(
                    "Emulation.setDeviceMetricsOverride",
                    json!({ "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false }),
                ),
                None => self.cdp("Emulation.clearDeviceMetricsOverride", json!({})),
            },
            Engine::Firefox => {
                let width = width.map_or(String::new(), |width| format!("{width}px"));
                let script = "const { style } = gBrowser.selectedBrowser;\n\
                              style.minWidth = style.maxWidth = arguments[0];\narguments[1]()";
                self.chrome(script, json!(width));
            }
            Engine::WebKit => {
                let width = width.unwrap_or(1280);
                let (x, y) = self.desk().place(width);
                let window = self.driver().set_window_rect(x, y, width, 900);
                self.wait("the window", window);
            }
        }
        if let Some(width) = width {
            self.until(&format!("innerWidth === {width}"));
        }
    }

    /// Makes readers prefer dark pages, or light ones.
    #[track_caller]
    pub fn dark(&self, dark: bool) {
        self.is_changed.set(true);
        let scheme = if dark { "dark" } else { "light" };
        match self.engine {
            Engine::Chromium => {
                let feature = json!({ "name": "prefers-color-scheme", "value": scheme });
                self.cdp(
                    "Emulation.setEmulatedMedia",
                    json!({ "features": [feature] }),
                );
            }
            Engine::Firefox => {
                // 0 is dark and 1 is light.
                let script = "Services.prefs.setIntPref('layout.css.prefers-color-scheme.content-override', \
                              arguments[0]);\narguments[1]()";
                self.chrome(script, json!(u8::from(!dark)));
            }
            Engine::WebKit => self.desk().prefer_dark(dark),
        }
        self.until(&format!(
            "matchMedia('(prefers-color-scheme: {scheme})').matches"
        ));
    }

    /// Waits until the expression is true in the page.
    #[track_caller]
    pub fn until(&self, expression: &str) {
        let script = format!(
            "for (let times = 0; times < 150; times += 1) {{ if ({expression}) return true; await pause(20); }}"
        );
        assert_eq!(self.js(&script), true, "never: {expression}");
    }

    /// An empty page in the window as it was opened, for the next case.
    #[track_caller]
    pub fn reset(&self) {
        self.open("about:blank");
        if self.is_changed.get() {
            self.width(None);
            self.dark(false);
            self.any_motion();
            self.is_changed.set(false);
        }
    }

    /// Has the engine free what the page no longer reaches; it may take more than one call.
    #[track_caller]
    pub fn sweep(&self) {
        match self.engine {
            Engine::Chromium => self.cdp("HeapProfiler.collectGarbage", json!({})),
            Engine::Firefox => {
                let script = "Services.obs.notifyObservers(null, 'child-mmu-request');
                              arguments[arguments.length - 1](null)";
                self.chrome(script, Value::Null);
            }
            // Only much memory to be freed starts it.
            Engine::WebKit => {
                self.js("for (let turn = 0; turn < 20; turn += 1) {
                           globalThis.litter = Array.from({ length: 300 }, () => new Array(5000).fill(turn));
                           await pause(5);
                         }");
            }
        }
        self.js("await pause(50)");
    }

    #[track_caller]
    fn cdp(&self, command: &str, params: Value) {
        let body = json!({ "cmd": command, "params": params });
        self.post("/goog/cdp/execute", body);
    }

    /// Runs a script with the rights of the browser itself (Firefox).
    #[track_caller]
    fn chrome(&self, script: &str, given: Value) -> Value {
        self.post("/moz/context", json!({ "context": "chrome" }));
        let given = vec![given];
        let answer = self.wait(
            "a chrome script",
            self.driver().execute_async(script, given),
        );
        self.post("/moz/context", json!({ "context": "content" }));
        answer.json().clone()
    }

    #[track_caller]
    fn post(&self, path: &'static str, body: Value) -> Value {
        let answer = self.wait(path, self.driver().cmd(Post { path, body }));
        answer.value_json().unwrap_or_default()
    }
}

/// A free port below those that the system gives to outgoing connections: trying to connect to one
/// of those until the driver listens can connect the socket to itself.
fn free_port(engine: Engine) -> Result<u16, String> {
    let first = 20_000 + (std::process::id() % 5_000) as u16 * 2 + engine as u16;
    let is_free = |port: &u16| TcpListener::bind(("127.0.0.1", *port)).is_ok();
    let mut ports = (first..32_000).step_by(Engine::ALL.len());
    ports.find(is_free).ok_or_else(|| "no free port".to_owned())
}

impl Drop for Browser<'_> {
    fn drop(&mut self) {
        self.end();
    }
}
