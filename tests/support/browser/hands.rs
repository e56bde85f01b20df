//! What a reader does with pointer and keys, prefers, and hears.

use super::Browser;
use super::engine::{Cap, Engine};
use serde_json::{Value, json};

impl Browser<'_> {
    /// Types a text, where the focus is.
    #[track_caller]
    pub fn write_keys(&self, text: &str) {
        let keys = self.driver().action_chain().send_keys(text);
        self.wait("a text", keys.perform());
    }

    /// Lets a pointer act: `mouse` or `touch`, and the actions of the WebDriver standard.
    #[track_caller]
    pub fn point(&self, kind: &str, actions: &[Value]) {
        if kind == "touch" {
            self.needs(Cap::Touch);
        }
        let pointer = json!({
            "type": "pointer", "id": kind, "parameters": { "pointerType": kind }, "actions": actions,
        });
        self.post("/actions", json!({ "actions": [pointer] }));
    }

    /// Makes readers prefer less motion, until the next case.
    #[track_caller]
    pub fn less_motion(&self) {
        self.is_changed.set(true);
        match self.engine {
            Engine::Chromium => {
                let feature = json!({ "name": "prefers-reduced-motion", "value": "reduce" });
                self.cdp(
                    "Emulation.setEmulatedMedia",
                    json!({ "features": [feature] }),
                );
            }
            Engine::Firefox => self.reduced_motion(1),
            Engine::WebKit => self.desk().prefer_motion(false),
        }
        self.until("matchMedia('(prefers-reduced-motion: reduce)').matches");
        // The page is told of it with the next picture, not before.
        self.js("await painted()");
    }

    /// Undoes [`Browser::less_motion`]; in Chromium the colour scheme is set with it.
    #[track_caller]
    pub fn any_motion(&self) {
        match self.engine {
            Engine::Chromium => {}
            Engine::Firefox => self.reduced_motion(0),
            Engine::WebKit => self.desk().prefer_motion(true),
        }
    }

    fn reduced_motion(&self, value: u8) {
        let script =
            "Services.prefs.setIntPref('ui.prefersReducedMotion', arguments[0]);\narguments[1]()";
        self.chrome(script, json!(value));
    }

    /// Makes the processor so many times as slow as it is (Chromium).
    #[allow(dead_code)] // for tests/bench/slow.rs
    #[track_caller]
    pub fn throttle(&self, rate: u32) {
        self.is_changed.set(true);
        self.cdp("Emulation.setCPUThrottlingRate", json!({ "rate": rate }));
    }

    /// Gives the page a window of this width and height in CSS pixels (Chromium); `None` is the
    /// window as it was opened.
    #[allow(dead_code)] // for tests/bench/slow.rs
    #[track_caller]
    pub fn size(&self, size: Option<[u32; 2]>) {
        self.needs(Cap::Medium);
        self.is_changed.set(true);
        match size {
            Some([width, height]) => self.cdp(
                "Emulation.setDeviceMetricsOverride",
                json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
            ),
            None => self.cdp("Emulation.clearDeviceMetricsOverride", json!({})),
        }
    }

    /// Lets the page's script use the clipboard (Chromium).
    #[track_caller]
    pub fn allow_clipboard(&self) {
        self.needs(Cap::Clipboard);
        let may = json!({ "permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"] });
        self.cdp("Browser.grantPermissions", may);
    }

    /// What a screen reader is given of the page; Chromium alone can be asked.
    #[track_caller]
    pub fn accessibility_tree(&self) -> Value {
        self.needs(Cap::AccessibilityTree);
        self.cdp("Accessibility.enable", json!({}));
        let body = json!({ "cmd": "Accessibility.getFullAXTree", "params": {} });
        self.post("/goog/cdp/execute", body)
    }
}
