//! The guide as pages of the demo site: the Markdown of `www/guide/`, with each snippet that is said to be `live` in its
//! fence shown as it is written and, after it, as readers see it. `make.rs` writes them, and the tests read them.

use plyline::markup::escape;
use pulldown_cmark::{CodeBlockKind, CowStr, Event, Options, Parser, Tag, TagEnd, html};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A fenced block.
pub struct Snippet {
    /// The first word after the fence; empty where there is none.
    pub language: String,
    /// Whether the second is `live`: readers of the demo site see what it makes.
    pub is_live: bool,
    pub text: String,
    /// Where its text begins, counted from 1.
    pub line: usize,
}

/// A page, made of its Markdown.
pub struct Page {
    /// Its first heading, as text.
    pub title: String,
    /// Its first paragraph, as text.
    about: String,
    /// HTML for an `article`.
    pub body: String,
}

/// The root of the repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The names of the pages, sorted, with their files: those of `www/guide/`, and the two pages beside it.
pub fn pages() -> io::Result<Vec<(String, PathBuf)>> {
    let mut found = ["styling", "findings"]
        .map(|name| (name.to_owned(), root().join(format!("www/{name}.md"))))
        .to_vec();
    for entry in fs::read_dir(root().join("www/guide"))? {
        let path = entry?.path();
        if path.extension().is_some_and(|it| it == "md") {
            let name = path.file_stem().unwrap_or_default();
            found.push((name.to_string_lossy().into_owned(), path));
        }
    }
    found.sort();
    Ok(found)
}

/// Writes a folder with an `index.html` for each page, and the contents of README as the first.
pub fn write(out: &Path) -> io::Result<()> {
    let template = fs::read_to_string(root().join("demo-site/guide/page.html"))?;
    let index = page(&contents(), "README.md");
    put(out, &template, &index)?;
    for (name, path) in pages()? {
        let text = fs::read_to_string(&path)?;
        let from = path.strip_prefix(root()).unwrap_or(&path);
        let folder = out.join(name);
        put(&folder, &template, &page(&text, &from.to_string_lossy()))?;
        for file in files(&text)? {
            fs::copy(&file, folder.join(file.file_name().unwrap_or_default()))?;
        }
    }
    Ok(())
}

fn put(folder: &Path, template: &str, page: &Page) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let text = template
        .replace("{{title}}", &escaped(&page.title))
        .replace("{{about}}", &escaped(&page.about))
        .replace("{{text}}", page.body.trim());
    fs::write(folder.join("index.html"), text)
}

/// README's list of the pages, under a heading of its own.
fn contents() -> String {
    let readme = fs::read_to_string(root().join("README.md")).unwrap_or_default();
    let (_, after) = readme.split_once("\n## The guide\n\n").unwrap_or_default();
    let (section, _) = after.split_once("\n## ").unwrap_or_default();
    let (_, list) = section.split_once("\n\n").unwrap_or_default();
    format!(
        "# Contents\n\nWhat an author of lessons can write, and what readers see of it. Each example is shown as it \
         is written and, after it, as plyline draws it.\n\n{list}"
    )
}

/// The files that the live snippets of a page name: those beside the guide, and the demo's recording.
fn files(text: &str) -> io::Result<Vec<PathBuf>> {
    let live: String = snippets(text)
        .into_iter()
        .filter(|it| it.is_live)
        .map(|it| it.text)
        .collect();
    let mut found = Vec::new();
    for folder in ["www/guide", "demo-site/pages/told-by-the-tide-machine"] {
        for entry in fs::read_dir(root().join(folder))? {
            let path = entry?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            if live.contains(&format!("\"{name}")) {
                found.push(path);
            }
        }
    }
    Ok(found)
}

/// The fenced blocks of a page, in their order.
pub fn snippets(text: &str) -> Vec<Snippet> {
    let mut found = Vec::new();
    let mut events = Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter();
    while let Some((event, _)) = events.next() {
        let Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) = event else {
            continue;
        };
        let (mut inside, mut from) = (String::new(), 0);
        for (event, range) in events.by_ref() {
            let Event::Text(part) = event else { break };
            if inside.is_empty() {
                from = range.start;
            }
            inside += &part;
        }
        found.push(snippet(&info, inside, text[..from].lines().count() + 1));
    }
    found
}

fn snippet(info: &str, text: String, line: usize) -> Snippet {
    let mut words = info.split_whitespace();
    Snippet {
        language: words.next().unwrap_or_default().to_owned(),
        is_live: words.any(|it| it == "live"),
        text,
        line,
    }
}

/// What a heading is called in an address, as repositories on the web name it: small letters, digits and `_`, with hyphens
/// for spaces.
pub fn slug(heading: &str) -> String {
    let small = heading.to_lowercase();
    let named = small
        .chars()
        .filter(|it| it.is_alphanumeric() || matches!(it, ' ' | '-' | '_'));
    named.map(|it| if it == ' ' { '-' } else { it }).collect()
}

/// The page of a text. `from` is the file that it is in, seen from the root of the repository: links are seen from there.
pub fn page(text: &str, from: &str) -> Page {
    let events: Vec<Event> = Parser::new_ext(text, Options::ENABLE_TABLES).collect();
    let first = |is_wanted: fn(&Tag) -> bool| {
        let at = events
            .iter()
            .position(|event| matches!(event, Event::Start(tag) if is_wanted(tag)));
        at.map(|at| words(&events[at + 1..])).unwrap_or_default()
    };
    let title = first(|tag| matches!(tag, Tag::Heading { .. }));
    let about = first(|tag| matches!(tag, Tag::Paragraph));
    let mut made = Vec::new();
    let mut is_linked = true;
    let mut rest = events.iter().enumerate();
    while let Some((at, event)) = rest.next() {
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                let mut inside = String::new();
                for (_, event) in rest.by_ref() {
                    let Event::Text(part) = event else { break };
                    inside += part;
                }
                made.push(raw(shown(&snippet(info, inside, 0))));
            }
            Event::Start(Tag::Heading { level, .. }) => {
                let id = slug(&words(&events[at + 1..]));
                made.push(raw(format!("<{level} id=\"{}\">", escaped(&id))));
            }
            Event::Start(Tag::Link { dest_url, .. }) => {
                let address = leads(from, dest_url);
                is_linked = address.is_some();
                if let Some(address) = address {
                    made.push(raw(format!("<a href=\"{}\">", escaped(&address))));
                }
            }
            Event::End(TagEnd::Link) if !is_linked => {}
            Event::Start(Tag::Table(_)) => {
                made.push(raw("<div class=\"table\">".to_owned()));
                made.push(event.clone());
            }
            Event::End(TagEnd::Table) => {
                made.push(event.clone());
                made.push(raw("</div>\n".to_owned()));
            }
            _ => made.push(event.clone()),
        }
    }
    let mut body = String::new();
    html::push_html(&mut body, made.into_iter());
    Page { title, about, body }
}

fn raw(text: String) -> Event<'static> {
    Event::Html(CowStr::from(text))
}

/// The text of a heading or a paragraph, of which the first event is given.
fn words(events: &[Event]) -> String {
    let inside = events
        .iter()
        .take_while(|it| !matches!(it, Event::End(TagEnd::Heading(_) | TagEnd::Paragraph)));
    let text = inside.filter_map(|it| match it {
        Event::Text(text) | Event::Code(text) => Some(text.as_ref()),
        Event::SoftBreak => Some(" "),
        _ => None,
    });
    text.collect()
}

/// A snippet as it is written, and after it what it makes.
fn shown(snippet: &Snippet) -> String {
    let text = escaped(&snippet.text);
    let code = format!("<pre class=\"code\" data-plyline=\"off\"><code>{text}</code></pre>\n");
    if !snippet.is_live {
        return code;
    }
    let made = match snippet.language.as_str() {
        "html" => snippet.text.clone(),
        "markdown" => {
            let mut made = String::new();
            html::push_html(&mut made, Parser::new(&snippet.text));
            made
        }
        language => {
            format!("<pre><code class=\"language-{language}\">{text}</code></pre>\n")
        }
    };
    format!("{code}<div class=\"live\">\n<p class=\"label\">As readers see it</p>\n{made}</div>\n")
}

fn escaped(text: &str) -> String {
    let mut made = String::new();
    escape(text, &mut made);
    made
}

/// Where a link leads on the demo site; none if the site does not have what it means.
fn leads(from: &str, address: &str) -> Option<String> {
    if address.starts_with('#') || address.contains("://") {
        return Some(address.to_owned());
    }
    let (path, place) = target(from, address);
    let place = place.map_or(String::new(), |it| format!("#{it}"));
    let name = path.strip_suffix(".md")?.rsplit('/').next()?;
    match path.as_str() {
        "README.md" => Some("/guide/".to_owned()),
        "www/styling.md" | "www/findings.md" => Some(format!("/guide/{name}/{place}")),
        _ if path.starts_with("www/guide/") => Some(format!("/guide/{name}/{place}")),
        _ => None,
    }
}

/// The file that a relative address means, seen from the root of the repository, and the place in it.
pub fn target<'a>(from: &str, address: &'a str) -> (String, Option<&'a str>) {
    let (path, place) = match address.split_once('#') {
        Some((path, place)) => (path, Some(place)),
        None => (address, None),
    };
    if path.is_empty() {
        return (from.to_owned(), place);
    }
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in path.split('/') {
        match part {
            ".." => drop(parts.pop()),
            "." | "" => {}
            part => parts.push(part),
        }
    }
    (parts.join("/"), place)
}
