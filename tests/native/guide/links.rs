//! Where the links of the repository's texts lead.

use super::pages;
use super::{Text, text, texts};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use std::collections::BTreeSet;
use std::fs;

/// The addresses of a text that are no other site's.
fn addresses(text: &str) -> Vec<String> {
    let events = Parser::new_ext(text, Options::ENABLE_TABLES);
    let found = events.filter_map(|event| match event {
        Event::Start(Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. }) => {
            Some(dest_url.into_string())
        }
        _ => None,
    });
    found.filter(|it| !it.contains("://")).collect()
}

/// The places of a text that an address may name: its headings.
fn places(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut heading = None;
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::Heading { .. }) => heading = Some(String::new()),
            Event::End(TagEnd::Heading(_)) => {
                found.extend(heading.take().map(|it| pages::slug(&it)));
            }
            Event::Text(part) | Event::Code(part) => {
                if let Some(heading) = &mut heading {
                    *heading += &part;
                }
            }
            _ => {}
        }
    }
    found
}

/// The links of a text that lead nowhere.
fn lost(of: &Text) -> Vec<String> {
    let mut lost = Vec::new();
    for address in addresses(&of.text) {
        let (path, place) = pages::target(&of.path, &address);
        let file = pages::root().join(&path);
        let is_there = match place {
            None => file.exists(),
            Some(place) => {
                fs::read_to_string(&file).is_ok_and(|text| places(&text).contains(place))
            }
        };
        // It is built before it can be looked at.
        if !is_there && path != "www/dist" {
            lost.push(format!("{}: {address}", of.path));
        }
    }
    lost
}

#[test]
fn every_link_of_readme_and_the_guide_leads_to_a_file_and_a_heading_in_it() {
    let found: Vec<String> = texts()
        .iter()
        .chain([&text("DEVELOPERS.md")])
        .flat_map(lost)
        .collect();
    assert_eq!(found, Vec::<String>::new());
    let spoiled = Text {
        path: "www/guide/talk.md".to_owned(),
        text: "[a](lesson.md#no-such-heading) [b](nothing.md) [c](lesson.md#look) [d](#here)"
            .to_owned(),
    };
    assert_eq!(lost(&spoiled).len(), 3);
}

#[test]
fn readme_lists_every_page_of_the_guide_and_stays_short() {
    let readme = text("README.md").text;
    let listed: BTreeSet<String> = addresses(&readme).into_iter().collect();
    for (name, path) in pages::pages().expect("the guide") {
        let path = path
            .strip_prefix(pages::root())
            .expect("a file of the repository");
        assert!(
            listed.contains(&*path.to_string_lossy()),
            "{name} is not listed"
        );
    }
    // README leads; reference goes to pages of its own.
    assert!(readme.lines().count() <= 150);
}
