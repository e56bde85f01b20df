//! What the browsers of the page tests open: the demo site, the built page files, the small
//! pages beside the tests, and a temporary folder of pages that the tests write.

use super::browser::engine::{Cap, Engine};
use super::server;
use std::path::{Path, PathBuf};
use std::{env, fs};

/// The element's own script, as a site embeds it.
pub const SCRIPT: &str = "<script defer src=\"/plyline.js\"></script>";

/// What the pages are served from.
pub struct Site {
    /// `http://127.0.0.1:PORT`.
    address: String,
    /// The same pages, each with a script before all others that overhears the console.
    overheard: String,
    /// The built page files: `www/dist`, or the folder that PLYLINE_DIST names.
    pub dist: PathBuf,
    /// Pages that tests write; the first folder of the server.
    pub folder: PathBuf,
}

impl Site {
    /// Serves the demo site, the built page files and the test pages under the strict policy.
    pub fn open() -> Result<Site, String> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let built = || root.join("www/dist");
        let dist = env::var_os("PLYLINE_DIST").map_or_else(built, PathBuf::from);
        if !dist.join("plyline.js").is_file() {
            let file = dist.join("plyline.js");
            return Err(format!(
                "{} is missing: run `sh www/build.sh` first",
                file.display()
            ));
        }
        let folder = env::temp_dir().join(format!("plyline-pages-{}", std::process::id()));
        fs::create_dir_all(&folder).map_err(|error| error.to_string())?;
        let demo = root.join("demo-site/pages");
        let folders = vec![
            folder.clone(),
            demo,
            dist.clone(),
            root.join("tests/pages/site"),
            root.to_owned(), // for examples/, which name the script as it lies beside them
        ];
        Ok(Site {
            address: server::serve(folders.clone(), 0)?,
            overheard: server::serve_changed(folders, 0, overhear)?,
            dist,
            folder,
        })
    }

    /// Where an engine finds the pages.
    pub fn address(&self, engine: Engine) -> &str {
        match engine.can(Cap::Console) {
            true => &self.address,
            false => &self.overheard,
        }
    }

    /// Writes a file that is served, or opened from disk.
    #[track_caller]
    pub fn write(&self, path: &str, content: impl AsRef<[u8]>) -> PathBuf {
        let file = self.folder.join(path);
        let folder = file.parent().expect("a file inside the folder");
        fs::create_dir_all(folder).expect("a temporary folder can be made");
        fs::write(&file, content).expect("a temporary file can be written");
        file
    }
}

/// A page that records the console, for an engine whose driver does not give it.
pub fn overhear(page: &str) -> String {
    let script = "<script src=\"/overhear.js\"></script>";
    match page.split_once("<head>") {
        Some((before, after)) => format!("{before}<head>{script}{after}"),
        None => page.to_owned(),
    }
}

/// A page around some content. `head` holds the scripts, in order.
pub fn page(head: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>A test page</title>\n<link rel=\"icon\" href=\"/icon.svg\">\n{head}\n</head>\n\
         <body>\n<main>\n<h1>A test page</h1>\n{body}\n</main>\n</body>\n</html>\n"
    )
}

/// The folder that www/pack/tools.sh and tests/run.sh install into.
pub fn tools() -> PathBuf {
    let home = || PathBuf::from(env::var_os("HOME").unwrap_or_default()).join(".cache");
    let cache = || env::var_os("XDG_CACHE_HOME").map_or_else(home, PathBuf::from);
    env::var_os("PLYLINE_TOOLS").map_or_else(|| cache().join("plyline"), PathBuf::from)
}

/// A program of the tools folder, else of `PATH`.
pub fn find_program(name: &str) -> PathBuf {
    let installed = tools().join("bin").join(name);
    if installed.is_file() {
        installed
    } else {
        name.into()
    }
}
