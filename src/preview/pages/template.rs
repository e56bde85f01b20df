//! The one plain page that Markdown and files of notation are shown in.

use crate::edit::Form;
use crate::markup::escape;
use crate::post::{Kind, MARKDOWN, Markup, Tree, in_element};
use crate::preview::form::Block;
use crate::text::Source;
use pulldown_cmark::{Event, MetadataBlockKind, Parser, Tag, TagEnd, html};

/// The look of that page and of the lists: room around the text and nothing else.
pub const LOOK: &str = "\
:root { color-scheme: light dark }
body { font: 1.0625rem/1.6 Georgia, \"Times New Roman\", serif; margin: 0 auto; max-width: 62rem; padding: 1.5rem }
img, video { max-width: 100% }
pre { overflow: auto }
table { border-collapse: collapse }
th, td { padding: .2em .8em .2em 0; text-align: start; vertical-align: top }
";

/// A page of Markdown.
pub fn markdown(source: &Source, name: &str) -> String {
    let mut body = String::new();
    html::push_html(&mut body, Parser::new_ext(source.text(), MARKDOWN));
    let lang = Markup::of(source, Kind::Markdown).lang;
    let lang = lang.unwrap_or_else(|| "en".to_owned());
    let title = title(Form::Markdown, source, name);
    page(
        &title,
        &lang,
        &format!("<main><article>\n{body}</article></main>"),
    )
}

/// A page of a file of notation: a lesson for each game.
pub fn notation(blocks: &[Block], name: &str) -> String {
    let mut body = format!("<main><article>\n<h1>{}</h1>\n", escaped(name));
    for block in blocks {
        // A line end right after the tag is no part of the text, so there is none.
        body += &format!(
            "<ply-line><pre>{}</pre></ply-line>\n",
            in_element(&block.shown())
        );
    }
    page(name, "en", &(body + "</article></main>"))
}

/// A page with the script of writing before all others.
pub fn page(title: &str, lang: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"{}\"><head><script src=\"/.plyline/first.js\"></script>\n\
         <meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\n<title>{}</title>\n\
         <link rel=\"stylesheet\" href=\"/.plyline/page.css\">\n\
         <link rel=\"stylesheet\" href=\"/.plyline/dist/plyline.css\">\n\
         <script defer src=\"/.plyline/dist/plyline.js\"></script></head>\n<body>{body}</body></html>\n",
        escaped(lang),
        escaped(title),
    )
}

/// Text as content or in a quoted attribute.
pub fn escaped(text: &str) -> String {
    let mut made = String::new();
    escape(text, &mut made);
    made
}

/// What a page is called: by itself, else by the name of its file.
pub fn title(form: Form, source: &Source, name: &str) -> String {
    let own = match form {
        Form::Markdown => heading(source.text()),
        Form::Html => {
            let tree = Tree::of(&Markup::of(source, Kind::Html));
            let title = (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == "title");
            title.map(|it| tree.text(it).text.trim().to_owned())
        }
        Form::Pgn => None,
    };
    own.filter(|it| !it.is_empty())
        .unwrap_or_else(|| name.to_owned())
}

/// The title of a page of Markdown: that of its front matter, else its first heading.
fn heading(text: &str) -> Option<String> {
    let (mut is_front, mut heading) = (false, None::<String>);
    for event in Parser::new_ext(text, MARKDOWN) {
        match event {
            Event::Start(Tag::MetadataBlock(MetadataBlockKind::YamlStyle)) => is_front = true,
            Event::End(TagEnd::MetadataBlock(_)) => is_front = false,
            Event::Text(words) if is_front => {
                let line = words
                    .lines()
                    .find_map(|line| line.strip_prefix("title:").map(str::to_owned));
                let title = line.map(|it| it.trim().trim_matches(['"', '\'']).to_owned());
                if let Some(title) = title.filter(|it| !it.is_empty()) {
                    return Some(title);
                }
            }
            Event::Start(Tag::Heading { .. }) => heading = Some(String::new()),
            Event::End(TagEnd::Heading(_)) => return heading.filter(|it| !it.trim().is_empty()),
            Event::Text(words) | Event::Code(words) => {
                if let Some(heading) = &mut heading {
                    *heading += &words;
                }
            }
            _ => {}
        }
    }
    None
}
