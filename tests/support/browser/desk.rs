//! A display in memory for an engine that has no mode without one, and the desktop's settings
//! on it, which that engine follows as they change: this is how readers of WebKitGTK come to
//! prefer dark pages or less motion.

use std::cell::Cell;
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// Makes the window's own controls as small as can be: a window is never narrower than they
/// are, and phones are narrower than their usual size. Pages are not styled by it.
const SMALL: &str = "* { font-size: 1px; min-width: 0; padding: 0; margin: 0; border-width: 0; }";

/// The screen, whose pointer stays in its middle. Without a window manager the window under the
/// pointer has the focus, so every window must lie there, and with a bar of its own rather than
/// with the page, which would otherwise be hovered over.
const SCREEN: &str = "1600x2000x24";
const POINTER: (u32, u32) = (800, 1000);

/// Ends its programs when it is dropped.
pub struct Desk {
    display: String,
    folder: PathBuf,
    screen: Child,
    settings: Option<Child>,
    is_dark: Cell<bool>,
    has_motion: Cell<bool>,
}

impl Desk {
    /// Opens a display under a free number. The folder takes what its programs keep.
    pub fn open(folder: &Path) -> Result<Desk, String> {
        let config = folder.join("config/gtk-3.0");
        let made =
            fs::create_dir_all(&config).and_then(|()| fs::write(config.join("gtk.css"), SMALL));
        made.map_err(|error| error.to_string())?;
        // It finds the free number itself, and writes it once it can be reached.
        let screen = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", SCREEN])
            .args(["-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| missing("Xvfb", &error))?;
        let mut desk = Desk {
            display: String::new(),
            folder: folder.to_owned(),
            screen,
            settings: None,
            is_dark: Cell::new(false),
            has_motion: Cell::new(true),
        };
        let mut number = String::new();
        if let Some(output) = desk.screen.stdout.take() {
            let read = BufReader::new(output).read_line(&mut number);
            read.map_err(|error| error.to_string())?;
        }
        if number.trim().is_empty() {
            return Err("Xvfb opens no display".to_owned());
        }
        desk.display = format!(":{}", number.trim());
        desk.write_settings();
        let settings = Command::new("xsettingsd")
            .arg("-c")
            .arg(desk.settings_file())
            .env("DISPLAY", &desk.display)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        desk.settings = Some(settings.map_err(|error| missing("xsettingsd", &error))?);
        Ok(desk)
    }

    /// Lets a program show itself here, with nothing of the user's own desktop.
    pub fn seat(&self, program: &mut Command) {
        program
            .env("DISPLAY", &self.display)
            .env("GDK_BACKEND", "x11")
            .env("XDG_CONFIG_HOME", self.folder.join("config"))
            .env("XDG_CACHE_HOME", self.folder.join("cache"))
            .env("XDG_DATA_HOME", self.folder.join("data"))
            .env_remove("GTK_THEME"); // it would be stronger than the settings
    }

    /// Where a window of this width has to lie: left and top.
    pub fn place(&self, width: u32) -> (i64, i64) {
        let (x, y) = POINTER;
        (i64::from(x.saturating_sub(width / 2)), i64::from(y) - 10)
    }

    pub fn prefer_dark(&self, is_dark: bool) {
        self.is_dark.set(is_dark);
        self.change();
    }

    pub fn prefer_motion(&self, has_motion: bool) {
        self.has_motion.set(has_motion);
        self.change();
    }

    fn settings_file(&self) -> PathBuf {
        self.folder.join("settings")
    }

    fn write_settings(&self) {
        let theme = if self.is_dark.get() {
            "Adwaita-dark"
        } else {
            "Adwaita"
        };
        let motion = u8::from(self.has_motion.get());
        let text = format!("Net/ThemeName \"{theme}\"\nGtk/EnableAnimations {motion}\n");
        fs::write(self.settings_file(), text).expect("a temporary file can be written");
    }

    /// Tells the programs on the display; they follow a moment later.
    fn change(&self) {
        self.write_settings();
        let settings = self.settings.as_ref().expect("it runs until the end");
        let told = Command::new("kill")
            .args(["-HUP", &settings.id().to_string()])
            .status();
        assert!(
            told.is_ok_and(|status| status.success()),
            "xsettingsd has ended"
        );
    }
}

fn missing(program: &str, error: &std::io::Error) -> String {
    format!("{program} cannot be started ({error}); tests/run.sh installs it")
}

impl Drop for Desk {
    fn drop(&mut self) {
        for program in self.settings.iter_mut().chain([&mut self.screen]) {
            let _ = program.kill();
            let _ = program.wait();
        }
    }
}
