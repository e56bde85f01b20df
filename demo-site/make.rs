//! Makes the demo site, as a generator would: `cargo run --example make -- FOLDER ADDRESS`. Copies the
//! pages, makes a page of each post in Markdown, a feed of all posts, and the guide (`guide.rs`). `plyline bake`
//! comes after it (run.sh).

#[allow(dead_code)] // the tests use all of it
#[cfg(not(target_family = "wasm"))]
mod guide;

#[cfg(not(target_family = "wasm"))]
mod site {
    use plyline::post::Tree;
    use pulldown_cmark::{Options, Parser, html};
    use std::error::Error;
    use std::fs;
    use std::path::Path;

    /// The pages in the repository open from disk, for which a module is not allowed; what is published
    /// loads the module, which waits for its reader.
    const SCRIPTS: [&str; 2] = [
        "<script defer src=\"/plyline.js\"></script>",
        "<script type=\"module\" src=\"/plyline.mjs\"></script>",
    ];

    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];

    pub fn make(out: &Path, address: &str) -> Result<(), Box<dyn Error>> {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-site");
        copy(&demo.join("pages"), out)?;
        let template = fs::read_to_string(demo.join("posts/page.html"))?;
        for entry in fs::read_dir(demo.join("posts"))? {
            let path = entry?.path();
            if path.extension().is_some_and(|it| it == "md") {
                let folder = out.join(path.file_stem().unwrap_or_default());
                fs::create_dir_all(&folder)?;
                let page = post(&fs::read_to_string(&path)?, &template)?;
                fs::write(folder.join("index.html"), page)?;
            }
        }
        fs::write(out.join("feed.xml"), feed(out, address)?)?;
        crate::guide::write(&out.join("guide"))?;
        Ok(())
    }

    fn copy(from: &Path, to: &Path) -> Result<(), Box<dyn Error>> {
        fs::create_dir_all(to)?;
        for entry in fs::read_dir(from)? {
            let (path, target) = {
                let entry = entry?;
                (entry.path(), to.join(entry.file_name()))
            };
            if path.is_dir() {
                copy(&path, &target)?;
            } else if path.extension().is_some_and(|it| it == "html") {
                let page = fs::read_to_string(&path)?.replace(SCRIPTS[0], SCRIPTS[1]);
                fs::write(target, page)?;
            } else {
                fs::copy(&path, target)?;
            }
        }
        Ok(())
    }

    /// The page of a post.
    fn post(text: &str, template: &str) -> Result<String, Box<dyn Error>> {
        let (front, body) = text
            .strip_prefix("---\n")
            .and_then(|rest| rest.split_once("\n---\n"))
            .ok_or("a post begins with its front matter")?;
        let mut made = String::new();
        html::push_html(&mut made, Parser::new_ext(body, Options::empty()));
        let mut page = template.replace("{{text}}", made.trim());
        for line in front.lines() {
            let (name, value) = line
                .split_once(": ")
                .ok_or("front matter has names and values")?;
            page = page.replace(&format!("{{{{{name}}}}}"), value);
            if name == "date" {
                page = page.replace("{{day}}", &day(value));
            }
        }
        Ok(page)
    }

    /// A date in words.
    fn day(date: &str) -> String {
        let mut parts = date.splitn(3, '-');
        let mut part = || parts.next().unwrap_or_default();
        let (year, month, day) = (part(), part(), part());
        let month = month.parse::<usize>().unwrap_or_default();
        let month = MONTHS
            .get(month.wrapping_sub(1))
            .copied()
            .unwrap_or_default();
        format!("{} {month} {year}", day.trim_start_matches('0'))
    }

    /// An Atom feed (RFC 4287) of the pages that are posts, the latest first.
    fn feed(out: &Path, address: &str) -> Result<String, Box<dyn Error>> {
        let mut posts = Vec::new();
        for entry in fs::read_dir(out)? {
            let path = entry?.path();
            let Ok(page) = fs::read_to_string(path.join("index.html")) else {
                continue;
            };
            let tree = Tree::of_html(&page);
            let named = |name: &str| (0..tree.nodes.len()).find(|&it| tree.nodes[it].name == name);
            let (Some(article), Some(heading), Some(time)) =
                (named("article"), named("h1"), named("time"))
            else {
                continue;
            };
            let node = &tree.nodes[article];
            let end = node.close.ok_or("an article has an end")?.from;
            let text = page[node.tag.to as usize..end as usize].trim().to_owned();
            let date = tree.value(time, "datetime").unwrap_or_default().to_owned();
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            posts.push((date, name, tree.text(heading).text, text));
        }
        posts.sort_by(|a, b| b.cmp(a));
        let escape = |text: &str| text.replace('&', "&amp;").replace('<', "&lt;");
        let latest = posts.first().map_or("", |(date, ..)| date);
        let mut feed = format!(
            "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"en\">\n\
             <title>The Thursday Board</title>\n<id>{address}/</id>\n<link href=\"{address}/\"/>\n\
             <link rel=\"self\" href=\"{address}/feed.xml\"/>\n<updated>{latest}T18:00:00Z</updated>\n\
             <author><name>The reading room</name></author>\n"
        );
        for (date, name, title, text) in &posts {
            feed += &format!(
                "<entry>\n<title>{}</title>\n<id>{address}/{name}/</id>\n<link href=\"{address}/{name}/\"/>\n\
                 <updated>{date}T18:00:00Z</updated>\n<content type=\"html\">{}</content>\n</entry>\n",
                escape(title),
                escape(text)
            );
        }
        Ok(feed + "</feed>\n")
    }
}

#[cfg(not(target_family = "wasm"))]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(folder), Some(address)) = (arguments.next(), arguments.next()) else {
        return Err("usage: make FOLDER ADDRESS".into());
    };
    site::make(std::path::Path::new(&folder), address.trim_end_matches('/'))
}

#[cfg(target_family = "wasm")]
fn main() {}
