//! One file of a site: a page or a feed.

use super::languages::Languages;
use super::png::{og_image, png};
use crate::bake::{self, Meetings, Member, Newer, Posted, Script, Setting};
use crate::cli::each_game::Read;
use crate::cli::files::{Unreadable, is_utf_16};
use crate::cli::posts::Beside;
use crate::post::{Kind, Other, Tree};
use crate::text::{Findings, Source, limits};
use std::fs;
use std::path::Path;

/// The folder of the pictures, in that of the site.
pub const PICTURES: &str = "plyline-pictures";

/// Pixels of the side of a picture in a feed: twice as many as it is shown with, for fine screens.
const FEED_WIDTH: u32 = 720;

/// What all files of a site share.
pub struct Site<'a> {
    pub folder: &'a Path,
    pub languages: &'a Languages,
    /// The address of the folder with the style sheet.
    pub assets: Option<&'a str>,
    /// The address of the site.
    pub base: Option<&'a str>,
    /// The posts of all series.
    pub series: &'a [Member],
    /// Where their lessons meet.
    pub meetings: &'a Meetings,
}

/// What has become of a file.
pub struct Done {
    /// None if it stays as it is.
    pub bytes: Option<Vec<u8>>,
    /// The pictures that it shows, and their names.
    pub pictures: Vec<(String, Drawing)>,
    /// The names of all that it shows when it is written, also those of an earlier run.
    pub shown: Vec<String>,
    /// How it loads the script, if it is a page.
    pub script: Option<Script>,
    /// How many elements were baked.
    pub count: usize,
    /// What could not be made, and why.
    pub said: Vec<String>,
    pub read: Read,
}

/// A picture that is to be written.
#[derive(Clone, Debug)]
pub enum Drawing {
    /// SVG, as it is.
    Svg(String),
    /// SVG of which a PNG is drawn.
    Png(String),
    /// SVG of which a preview is drawn.
    Preview(String),
}

impl Drawing {
    /// The bytes of its file.
    ///
    /// # Errors
    /// Why it cannot be drawn.
    pub fn bytes(self) -> Result<Vec<u8>, String> {
        match self {
            Drawing::Svg(text) => Ok(text.into_bytes()),
            Drawing::Png(text) => png(&text, FEED_WIDTH),
            Drawing::Preview(text) => og_image(&text),
        }
    }
}

impl Done {
    /// A file in which there is nothing to bake.
    pub fn nothing(path: &Path) -> Done {
        Done {
            bytes: None,
            pictures: Vec::new(),
            shown: Vec::new(),
            script: None,
            count: 0,
            said: Vec::new(),
            read: Read::of_post(
                Source::new(path.display().to_string(), ""),
                Findings::default(),
            ),
        }
    }
}

/// The byte order mark of UTF-8, which stays.
const MARK: &str = "\u{feff}";

/// Bakes a page. `path` is seen from the site's folder.
///
/// # Errors
/// Where it cannot be read, and why.
pub fn page(site: &Site<'_>, path: &Path, bytes: &[u8]) -> Result<Done, Unreadable> {
    let from = site.folder.join(path);
    if !is_ours(bytes) {
        return Ok(Done::nothing(&from));
    }
    let text = text(&from, bytes)?;
    let (mark, text) = match text.strip_prefix(MARK) {
        Some(rest) => (MARK, rest),
        None => ("", text),
    };
    let clean = bake::clean(text).map_err(|Newer| {
        Unreadable::new(
            &from,
            "a newer plyline baked this page, and it is left as it is",
        )
    })?;
    let source = Source::new(from.display().to_string(), clean);
    let around = Beside::new(&from, Some(site.folder));
    let words = |tree: &Tree, language: &str| match Script::of(tree) {
        // No script will draw it in another language.
        Script::None => Languages::known(language),
        _ => site.languages.words(&from, site.folder, tree, language),
    };
    let numbers = |tree: &Tree, language: &str| match Script::of(tree) {
        Script::None => Languages::known_numbers(language),
        _ => site.languages.numbers(&from, site.folder, tree, language),
    };
    let up = "../".repeat(path.components().count().saturating_sub(1));
    let pictures = format!("{up}{PICTURES}/");
    let absolute = |name: &str| of_site(site.base.unwrap_or_default(), name);
    let setting = Setting {
        around: &around,
        words: &words,
        numbers: &numbers,
        pictures: &pictures,
        assets: site.assets,
        path: &address(path),
        series: site.series,
        meetings: site.meetings,
        site: site.base.map(|_| &absolute as &dyn Fn(&str) -> String),
    };
    let baked = bake::page(&source, &setting);
    let mut pictures: Vec<(String, Drawing)> = Vec::new();
    for picture in baked.pictures {
        if baked.shared.as_deref() == Some(&picture.name.replace(".svg", ".png")) {
            let name = picture.name.replace(".svg", ".png");
            pictures.push((name, Drawing::Preview(picture.text.clone())));
        }
        pictures.push((picture.name, Drawing::Svg(picture.text)));
    }
    let mut findings = Findings::default();
    for finding in baked.checked.findings {
        findings.push(finding);
    }
    Ok(Done {
        bytes: Some(format!("{mark}{}", baked.text).into_bytes()),
        pictures,
        shown: Vec::new(),
        script: Some(baked.script),
        count: baked.count,
        said: baked.said,
        read: Read::of_post(source, findings),
    })
}

/// The series that a page belongs to, and the lessons on it that are of one.
pub fn member(folder: &Path, path: &Path) -> (Option<Member>, Vec<Posted>) {
    let from = folder.join(path);
    let text = fs::read(&from)
        .ok()
        .and_then(|it| String::from_utf8(it).ok());
    let text = text.filter(|it| it.contains(bake::OF) && it.len() <= limits::TEXT_BYTES);
    // What cannot be read is told as the page is baked.
    let clean = text.and_then(|it| bake::clean(it.trim_start_matches(MARK)).ok());
    let Some(text) = clean else {
        return (None, Vec::new());
    };
    let other = Other {
        source: Source::new("", text),
        kind: Kind::Html,
        around: Box::new(Beside::new(&from, Some(folder))),
    };
    bake::posted(&other, &address(path))
}

/// The address of a page, seen from the site's folder.
fn address(path: &Path) -> String {
    let parts: Vec<_> = path.iter().map(|part| part.to_string_lossy()).collect();
    let address = parts.join("/");
    match address.strip_suffix("index.html") {
        Some(folder) if folder.is_empty() || folder.ends_with('/') => folder.to_owned(),
        _ => address,
    }
}

/// The address of a picture, with that of the site.
fn of_site(base: &str, name: &str) -> String {
    format!("{}/{PICTURES}/{name}", base.trim_end_matches('/'))
}

/// Whether there may be something of ours in a file.
fn is_ours(bytes: &[u8]) -> bool {
    let utf_16 = is_utf_16(bytes);
    // In UTF-16 the letters of our names have zeros between them.
    let plain: Vec<u8> = match utf_16 {
        true => bytes.iter().copied().filter(|&it| it != 0).collect(),
        false => Vec::new(),
    };
    let bytes = if utf_16 { &plain } else { bytes };
    let has = |word: &[u8]| bytes.windows(word.len()).any(|it| it == word);
    [&b"ply-"[..], b"lang-", b"language-", b"data-plyline"]
        .iter()
        .any(|word| has(word))
}

/// The text of a file.
fn text<'a>(from: &Path, bytes: &'a [u8]) -> Result<&'a str, Unreadable> {
    if bytes.len() > limits::TEXT_BYTES {
        let why = format!(
            "this file has more than {} bytes and is left as it is",
            limits::TEXT_BYTES
        );
        return Err(Unreadable::new(from, why));
    }
    str::from_utf8(bytes).map_err(|_| {
        let why = match is_utf_16(bytes) {
            true => "this file is UTF-16 and is left as it is; save it as UTF-8",
            false => "this file is not UTF-8 and is left as it is; save it as UTF-8",
        };
        Unreadable::new(from, why)
    })
}

/// Bakes a feed; a file that is none stays as it is.
///
/// # Errors
/// Where it cannot be read, and why.
pub fn feed(site: &Site<'_>, path: &Path, bytes: &[u8]) -> Result<Done, Unreadable> {
    let from = site.folder.join(path);
    if !is_ours(bytes) {
        return Ok(Done::nothing(&from));
    }
    let xml = text(&from, bytes)?;
    let parts = bake::parts(xml).map_err(|error| {
        let place = Source::new("", xml).place(error.at.from);
        let at = format!("{}:{}:{}", from.display(), place.line, place.column);
        Unreadable::new(Path::new(&at), error)
    })?;
    let folder = of_site(site.base.unwrap_or_default(), "");
    let mut done = Done::nothing(&from);
    let made = bake::rewritten(xml, &parts, &mut |html, part| {
        let link = part.link.as_deref().unwrap_or_default();
        let page = page_of(link, site.base);
        let beside = site.folder.join(folder_of(&page)).join("index.html");
        let around = Beside::new(&beside, Some(site.folder));
        let language = language_of_page(&site.folder.join(&page));
        let language = language.as_deref().unwrap_or(language_of(xml));
        let words = Languages::known(language);
        let numbers = Languages::known_numbers(language);
        let setting = Setting {
            around: &around,
            words: &|_, _| words.clone(),
            numbers: &|_, _| numbers.clone(),
            pictures: &folder,
            assets: None,
            path: "",
            series: &[],
            meetings: &Meetings::default(),
            site: None,
        };
        let (html, pictures) = bake::entry(html, link, &words, &setting)?;
        done.count += 1;
        let named = pictures
            .into_iter()
            .map(|it| (it.name, Drawing::Png(it.text)));
        done.pictures.extend(named);
        Some(html)
    });
    done.bytes = Some(made.into_bytes());
    Ok(done)
}

/// The language that a page names for all of it.
fn language_of_page(path: &Path) -> Option<String> {
    let path = match path.is_dir() {
        true => path.join("index.html"),
        false => path.to_owned(),
    };
    let tree = Tree::of_html(&fs::read_to_string(path).ok()?);
    let html = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == "html")?;
    tree.value(html, "lang").map(str::to_owned)
}

/// The place of a page in the site, by its address.
fn page_of(link: &str, base: Option<&str>) -> String {
    let below = base.and_then(|base| link.strip_prefix(base));
    let below = below.or_else(|| {
        let (_, after) = link.split_once("://")?;
        Some(after.split_once('/').map_or("", |(_, path)| path))
    });
    let path = below.unwrap_or(link).split(['?', '#']).next();
    path.unwrap_or_default().trim_matches('/').to_owned()
}

/// The folder of a page.
fn folder_of(page: &str) -> &str {
    match page.rsplit_once('/') {
        Some((folder, name)) if name.contains('.') => folder,
        None if page.contains('.') => "",
        _ => page,
    }
}

/// The language that a feed names; empty if it names none.
fn language_of(xml: &str) -> &str {
    let after = |from: &str| xml.split_once(from).map(|(_, after)| after);
    let value = after("<language>").or_else(|| after("xml:lang=\""));
    let end = value.and_then(|it| it.split(['<', '"']).next());
    end.unwrap_or_default().trim()
}
