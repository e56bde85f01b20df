//! What baking makes of a page, and what it leaves alone.

mod also;
mod amiss;
mod assessed;
mod counted;
mod feed;
mod heard;
mod lettered;
mod places;
mod plain;

use plyline::bake::{self, Baked, Meetings, Setting, clean};
use plyline::post::Around;
use plyline::text::Source;
use plyline::view::Words;

/// A page that loads the script as a module.
pub const HEAD: &str = "<!doctype html><html lang=\"en\"><head><title>A post</title><script type=\"module\" src=\"/p/plyline.mjs\"></script></head>";

/// The notation that every `src` of these tests names.
pub const NOTATION: &str = "1. e4 e5 {The file.} 2. Nf3 *\n\n1. d4 d5 *\n";

/// A page as it is baked.
pub fn bake(page: &str) -> Baked {
    bake_beside(page, &|_: &str| Some(Ok(NOTATION.to_owned())))
}

/// The same with other files beside it.
pub fn bake_beside(page: &str, around: &dyn Around) -> Baked {
    bake_in(page, around, &bake::Numbers::default())
}

/// The text of a baked page that has this body, with other words of what the script loads apart.
fn bake_with_numbers(body: &str, numbers: &bake::Numbers) -> String {
    let page = format!("{HEAD}<body>{body}</body></html>");
    bake_in(&page, &|_: &str| Some(Ok(NOTATION.to_owned())), numbers).text
}

fn bake_in(page: &str, around: &dyn Around, numbers: &bake::Numbers) -> Baked {
    let source = Source::new("page.html", page);
    let setting = Setting {
        around,
        words: &|_, _| Words::default(),
        numbers: &|_, _| numbers.clone(),
        pictures: "pictures/",
        assets: None,
        path: "page.html",
        series: &[],
        meetings: &Meetings::default(),
        site: None,
    };
    bake::page(&source, &setting)
}

/// The text of a baked page that has this body.
pub fn baked(body: &str) -> String {
    bake(&format!("{HEAD}<body>{body}</body></html>")).text
}

/// A lesson with this tag, baked with numbers beside it: the page, and what there is to say of it.
#[track_caller]
fn baked_with(tag: &str, around: &dyn Around) -> (String, Vec<String>) {
    let body = format!("{tag}<pre>1. e4 (1. d4 d5) e5 *</pre></ply-line>");
    let page = format!("{HEAD}<body>{body}</body></html>");
    let made = bake_beside(&page, around);
    let said = made.checked.findings.iter();
    let said = said.map(|it| it.message.clone()).collect();
    assert_eq!(clean(&made.text).expect("our own format"), page);
    (made.text, said)
}

/// A page that is baked twice is as it was after the first time.
#[track_caller]
pub fn assert_settles(name: &str, page: &str) -> String {
    let once = bake(page).text;
    let twice = bake(&clean(&once).expect("our own format")).text;
    assert_eq!(twice, once, "{name} changes when it is baked again");
    once
}
