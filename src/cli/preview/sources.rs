//! Which file a lesson of a generator's page comes from: the one in which a lesson has the same text.

use super::folder::Folder;
use crate::cli::files;
use crate::edit::Form;
use crate::preview::{Refused, address, blocks};
use std::path::Path;

/// The address of the page and the number of the lesson in it.
///
/// # Errors
/// Where there is none, or several.
pub fn find(folder: &Folder, text: &str) -> Result<(String, usize), Refused> {
    let wanted = bare(text);
    let mut found = Vec::new();
    for path in folder.pages() {
        for (number, own) in texts(&path).into_iter().enumerate() {
            if bare(&own) == wanted {
                found.push((path.clone(), number));
            }
        }
    }
    match found.as_slice() {
        [(path, number)] => {
            let below = path.strip_prefix(&folder.root).unwrap_or(path);
            let names: Vec<String> = below
                .iter()
                .map(|it| it.to_string_lossy().into_owned())
                .collect();
            Ok((address(&names), *number))
        }
        [] => Err(Refused::new(
            "none",
            "no file of the folder has a lesson with this text, so it can only be read",
            "give the folder of the sources, or write the lesson as it is shown",
        )),
        several => {
            let mut names: Vec<String> = several
                .iter()
                .map(|(path, _)| super::held::name(path))
                .collect();
            names.dedup();
            let reason = format!(
                "several lessons have this text, in {}, so it can only be read",
                names.join(" and ")
            );
            Err(Refused::new(
                "several",
                reason,
                "change one of them in your editor",
            ))
        }
    }
}

/// The lessons of a file; none of one that cannot be read, which is told where it is opened.
fn texts(path: &Path) -> Vec<String> {
    let form = path
        .file_name()
        .and_then(|it| Form::named(&it.to_string_lossy()));
    let text = files::load(path).ok().filter(|it| !it.is_too_long);
    let Some((form, text)) = form.zip(text) else {
        return Vec::new();
    };
    blocks(&text.source, form)
        .into_iter()
        .map(|it| it.text)
        .collect()
}

/// A text without what generators change: line ends, and white space at the ends of lines and around all.
fn bare(text: &str) -> String {
    let lines: Vec<&str> = text.trim().lines().map(str::trim_end).collect();
    lines.join("\n")
}
