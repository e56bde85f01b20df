//! Posts as files: what addresses in them mean on the disk.

use super::assessments::Assessments;
use super::each_game::Read;
use super::files::{self, Text};
use super::tally::format::Counts;
use crate::assessments;
use crate::check::author::Chosen;
use crate::counts::Collection;
use crate::post::{self, Around, Kind, Link, Neighbour, Other};
use crate::text::Finding;
use percent_encoding::percent_decode_str;
use std::fs;
use std::path::{Component, Path, PathBuf};

/// A post that was read.
pub struct Post {
    pub read: Read,
    /// All that was found, also what is more than is kept.
    pub findings: Vec<Finding>,
    pub links: Vec<Link>,
    /// The files of notation that it names and that can be read.
    pub sources: Vec<PathBuf>,
    /// What its lessons recommend.
    pub chosen: Vec<Chosen>,
}

/// Reads a post. `root` is the folder that `/` means in its addresses; none where that is unknown.
pub fn read(text: Text, kind: Kind, path: &Path, root: Option<&Path>) -> Post {
    let mut all = text.findings;
    let around = Beside::new(path, root);
    let checked = match text.is_too_long {
        true => post::Checked::default(),
        false => post::check(&text.source, kind, &around),
    };
    for finding in &checked.findings {
        all.push(finding.clone());
    }
    let sources = checked.sources.iter();
    Post {
        read: Read::of_post(text.source, all),
        sources: sources.filter_map(|it| file(path, root, it)).collect(),
        findings: checked.findings,
        links: checked.links,
        chosen: checked.chosen,
    }
}

/// The files beside a post.
pub struct Beside<'a> {
    post: PathBuf,
    root: Option<&'a Path>,
}

impl<'a> Beside<'a> {
    /// Those beside this post. `root` is the folder that `/` means in addresses.
    pub fn new(post: &Path, root: Option<&'a Path>) -> Beside<'a> {
        let post = post.to_owned();
        Beside { post, root }
    }
}

impl Around for Beside<'_> {
    fn notation(&self, address: &str) -> Option<Result<String, String>> {
        let path = file(&self.post, self.root, address)?;
        Some(notation(&path))
    }

    fn counts(&self, address: &str) -> Option<Result<Collection, String>> {
        let path = file(&self.post, self.root, address)?;
        Some(text_of(&path).and_then(|it| Ok(Counts::read(&it)?.collection())))
    }

    fn assessments(&self, address: &str) -> Option<Result<assessments::Collection, String>> {
        let path = file(&self.post, self.root, address)?;
        Some(text_of(&path).and_then(|it| Ok(Assessments::read(&it)?.collection())))
    }

    fn post(&self, address: &str) -> Neighbour<'_> {
        let Some(file) = file(&self.post, self.root, address) else {
            return Neighbour::Unknown;
        };
        let Some(path) = source_of(&file, address.ends_with('/')) else {
            return Neighbour::Missing;
        };
        let text = files::load(&path).ok().filter(|it| !it.is_too_long);
        match text.zip(files::kind(&path)) {
            Some((text, kind)) => Neighbour::Post(Other {
                source: text.source,
                kind,
                around: Box::new(Beside::new(&path, self.root)),
            }),
            // It is told where it is read itself.
            None => Neighbour::Unknown,
        }
    }
}

/// The file of which a generator makes the page at an address: `x.html`, `x/` and `x` may be made of
/// `x.md`.
fn source_of(file: &Path, is_folder: bool) -> Option<PathBuf> {
    let beside = |ending: &str| {
        let mut name = file.as_os_str().to_owned();
        name.push(ending);
        PathBuf::from(name)
    };
    let mut may_be = Vec::new();
    if !is_folder && files::kind(file).is_some() {
        may_be = vec![file.to_owned(), file.with_extension("md")];
    } else {
        may_be.extend(["index.html", "index.md"].map(|name| file.join(name)));
        may_be.extend([".html", ".md"].map(beside));
    }
    may_be.into_iter().find(|path| path.is_file())
}

/// The text of a file that a lesson names.
fn text_of(path: &Path) -> Result<String, String> {
    match path.is_file() {
        true => fs::read_to_string(path).map_err(|error| files::reason(&error)),
        false => Err("there is no such file".to_owned()),
    }
}

/// The notation in a file.
fn notation(path: &Path) -> Result<String, String> {
    let is_file = fs::metadata(path).is_ok_and(|it| it.is_file());
    let text = match is_file {
        true => files::load(path).map_err(|error| error.reason)?,
        false => return Err("there is no such file".to_owned()),
    };
    match text.is_too_long {
        true => Err("it is too long".to_owned()),
        false => Ok(text.source.text().to_owned()),
    }
}

/// The file that an address in a post means; none if it is elsewhere in the net, or begins with `/`
/// and the root is unknown.
pub fn file(post: &Path, root: Option<&Path>, address: &str) -> Option<PathBuf> {
    let path = address.split(['?', '#']).next().unwrap_or_default();
    let scheme = path.split(['/', '.']).next().unwrap_or_default();
    if path.is_empty() || path.starts_with("//") || scheme.contains(':') {
        return None;
    }
    let path = percent_decode_str(path).decode_utf8().ok()?;
    let (mut found, below) = match path.strip_prefix('/') {
        Some(below) => (root?.to_owned(), below),
        None => (post.parent().unwrap_or(Path::new("")).to_owned(), &*path),
    };
    // Addresses go up by their own words (RFC 3986, 5.2.4), whatever links to folders there are.
    for part in Path::new(below).components() {
        let is_named = matches!(found.components().next_back(), Some(Component::Normal(_)));
        match part {
            Component::ParentDir if is_named => {
                found.pop();
            }
            other => found.push(other),
        }
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_files_beside_the_post_or_below_the_root() {
        let post = Path::new("posts/a.md");
        let found = |address, root: Option<&str>| {
            let file = file(post, root.map(Path::new), address)?;
            Some(file.display().to_string())
        };
        assert_eq!(found("b.pgn?v=2", None).as_deref(), Some("posts/b.pgn"));
        assert_eq!(
            found("../my%20lines.pgn", None).as_deref(),
            Some("my lines.pgn")
        );
        assert_eq!(found("../../b.pgn", None).as_deref(), Some("../b.pgn"));
        assert_eq!(
            found("/lines/b.pgn", Some("site")).as_deref(),
            Some("site/lines/b.pgn")
        );
        assert_eq!(found("/lines/b.pgn", None), None);
        for elsewhere in [
            "https://example.org/b.pgn",
            "//example.org/b.pgn",
            "data:,1.e4",
            "",
        ] {
            assert_eq!(found(elsewhere, Some("site")), None, "{elsewhere}");
        }
    }
}
