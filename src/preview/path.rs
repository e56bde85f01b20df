//! The path of an address as names below the folder that is served: nothing else can be asked for.

use percent_encoding::percent_decode_str;

/// Names of folders and, last, of a file. None is empty, hidden, or leads upwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    pub names: Vec<String>,
    /// Whether it ends with a slash, and so means a folder.
    pub is_folder: bool,
}

impl Path {
    /// Reads the path of an address; what comes after `?` or `#` is no part of it. It is decoded once. None where a name
    /// could mean anything but one file or folder in the one before it.
    pub fn read(address: &str) -> Option<Path> {
        let path = address.split(['?', '#']).next()?;
        let inner = path.strip_prefix('/')?;
        if inner.is_empty() {
            return Some(Path {
                names: Vec::new(),
                is_folder: true,
            });
        }
        let (inner, is_folder) = match inner.strip_suffix('/') {
            Some(inner) => (inner, true),
            None => (inner, false),
        };
        let names: Option<Vec<String>> = inner.split('/').map(name).collect();
        names.map(|names| Path { names, is_folder })
    }

    /// The last name.
    pub fn last(&self) -> Option<&str> {
        self.names.last().map(String::as_str)
    }
}

fn name(written: &str) -> Option<String> {
    let name = percent_decode_str(written).decode_utf8().ok()?;
    // A name with a colon can be a drive or a second stream of a file there.
    let is_other =
        |it: char| matches!(it, '/' | '\\') || it.is_control() || (cfg!(windows) && it == ':');
    // `.` and `..` are hidden names too.
    let is_bad = name.is_empty() || name.starts_with('.') || name.contains(is_other);
    (!is_bad).then(|| name.into_owned())
}
