//! Paper, forced colours and pictures: what a browser shows of a page in other media.

use super::Browser;
use super::engine::{Cap, Engine};
use serde_json::json;
use std::process::Command;
use thirtyfour::common::print::PrintParameters;

impl Browser<'_> {
    /// Makes the system force its own few colours on all pages, or lets pages have theirs.
    #[track_caller]
    pub fn force_colors(&self, on: bool) {
        self.is_changed.set(true);
        self.needs(Cap::ForcedColors);
        match self.engine {
            Engine::Chromium => {
                let value = if on { "active" } else { "none" };
                let features = json!([{ "name": "forced-colors", "value": value }]);
                self.cdp(
                    "Emulation.setEmulatedMedia",
                    json!({ "features": features }),
                );
            }
            Engine::Firefox => {
                // 2 is always, 1 never, 0 as the system says.
                let script = "Services.prefs.setIntPref('browser.display.document_color_use', \
                              arguments[0]);\narguments[1]()";
                self.chrome(script, json!(if on { 2 } else { 0 }));
            }
            Engine::WebKit => {} // it has none
        }
        let wanted = if on { "active" } else { "none" };
        self.until(&format!("matchMedia('(forced-colors: {wanted})').matches"));
    }

    /// Prints the page as a PDF.
    #[track_caller]
    pub fn pdf(&self) -> Vec<u8> {
        self.needs(Cap::Print);
        let paper = PrintParameters::default();
        self.wait("printing", self.driver().print_page(paper))
    }

    /// What a program that reads PDFs finds on the paper.
    #[track_caller]
    pub fn printed(&self) -> String {
        let name = format!("{}.pdf", self.engine.name());
        let file = self.site.write(&name, self.pdf());
        let output = Command::new("pdftotext")
            .args(["-layout".as_ref(), file.as_os_str(), "-".as_ref()])
            .output()
            .expect("pdftotext runs: tests/run.sh installs it");
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "pdftotext: {said}");
        String::from_utf8(output.stdout).expect("pdftotext writes UTF-8")
    }

    /// The picture of what is in the window, as a PNG.
    #[track_caller]
    pub fn picture(&self) -> Vec<u8> {
        self.wait("a picture", self.driver().screenshot_as_png())
    }

    /// Shows the page as it is printed with `print`, as on the screen with nothing (Chromium);
    /// with the scheme, because one setting replaces all others.
    #[track_caller]
    pub fn medium(&self, medium: &str, scheme: &str, forced: bool) {
        self.is_changed.set(true);
        self.needs(Cap::Medium);
        let features = json!([
            { "name": "prefers-color-scheme", "value": scheme },
            { "name": "forced-colors", "value": if forced { "active" } else { "none" } },
        ]);
        self.cdp(
            "Emulation.setEmulatedMedia",
            json!({ "media": medium, "features": features }),
        );
    }

    /// Types a text where the focus is.
    #[track_caller]
    pub fn type_text(&self, text: &str) {
        let keys = self.driver().action_chain().send_keys(text.to_owned());
        self.wait("typing", keys.perform());
    }

    /// Chromium's window as tall as its page, for a picture of the whole.
    #[track_caller]
    pub fn whole_page(&self, width: u32) {
        self.is_changed.set(true);
        self.needs(Cap::Medium);
        let height = self.js("return document.documentElement.scrollHeight");
        let height = height.as_u64().unwrap_or(900).clamp(300, 6000);
        let size =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.cdp("Emulation.setDeviceMetricsOverride", size);
        self.js("await painted()");
    }
}
