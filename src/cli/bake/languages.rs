//! The words of other languages, from the same files that a page's script loads: in a page that loads
//! none, the script speaks English, and so does what is baked.

use crate::assessments;
use crate::bake::{Heard, Numbers};
use crate::cli::posts;
use crate::counts;
use crate::post::Tree;
use crate::view::Words;
use std::collections::HashMap;
use std::fs;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

/// Names and texts.
type Texts = Vec<(String, String)>;

/// What the files of a site say, each read once.
#[derive(Default)]
pub struct Languages(Mutex<HashMap<String, Option<(String, Texts)>>>);

/// The languages that come with the program beside English: code and file.
const CARRIED: [(&str, &str); 7] = [
    ("de", include_str!("../../../www/words/de.js")),
    ("es", include_str!("../../../www/words/es.js")),
    ("fr", include_str!("../../../www/words/fr.js")),
    ("it", include_str!("../../../www/words/it.js")),
    ("nl", include_str!("../../../www/words/nl.js")),
    ("pl", include_str!("../../../www/words/pl.js")),
    ("pt", include_str!("../../../www/words/pt.js")),
];

impl Languages {
    /// The words of a language in a page: those of the files that it loads.
    pub fn words(&self, page: &Path, root: &Path, tree: &Tree, language: &str) -> Words {
        Words::with(self.texts(page, root, tree, language))
    }

    /// The same of counts and assessments.
    pub fn numbers(&self, page: &Path, root: &Path, tree: &Tree, language: &str) -> Numbers {
        of_numbers(&self.texts(page, root, tree, language))
    }

    fn texts(&self, page: &Path, root: &Path, tree: &Tree, language: &str) -> Texts {
        let wanted = language.to_lowercase();
        if wanted.is_empty() {
            return Texts::new();
        }
        let short = wanted.split('-').next().unwrap_or_default();
        let scripts = (0..tree.nodes.len()).filter(|&it| tree.nodes[it].name == "script");
        let all: Vec<_> = scripts
            .filter_map(|it| self.load(page, root, tree.value(it, "src")?))
            .collect();
        let of = |name: &str| all.iter().find(|(language, _)| language == name);
        let texts = of(&wanted).or_else(|| of(short));
        texts.map_or_else(Texts::new, |(_, texts)| texts.clone())
    }

    /// The words of a language where no page says which files it loads.
    pub fn known(language: &str) -> Words {
        Words::with(known(language))
    }

    /// The same of counts and assessments.
    pub fn known_numbers(language: &str) -> Numbers {
        of_numbers(&known(language))
    }

    /// The language that is in a script; none if there is none in it.
    fn load(&self, page: &Path, root: &Path, src: &str) -> Option<(String, Texts)> {
        let is_of = |code: &str| src.ends_with(&format!("words/{code}.js"));
        let file = posts::file(page, Some(root), src);
        let key = file
            .as_ref()
            .map_or(src.to_owned(), |it| it.display().to_string());
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let make = || {
            let text = file.and_then(|it| fs::read_to_string(it).ok());
            match text {
                Some(text) => read(&text),
                // Of a page whose files come from elsewhere.
                None => CARRIED
                    .iter()
                    .find(|(code, _)| is_of(code))
                    .and_then(|(_, text)| read(text)),
            }
        };
        known.entry(key).or_insert_with(make).clone()
    }
}

fn known(language: &str) -> Texts {
    let language = language.to_lowercase();
    let short = language.split('-').next().unwrap_or_default();
    let file = CARRIED.iter().find(|(code, _)| *code == short);
    let texts = file.and_then(|(_, text)| read(text));
    texts.map_or_else(Texts::new, |(_, texts)| texts)
}

fn of_numbers(texts: &Texts) -> Numbers {
    let both = || texts.iter().flat_map(|(name, text)| [name.as_str(), text]);
    Numbers {
        counts: counts::Words::with(both()),
        assessments: assessments::Words::with(both()),
        heard: Heard::with(texts.iter().map(|(name, text)| [name.as_str(), text])),
    }
}

/// The language of a file, and its texts: `(globalThis.plylineWords ??= {}).de = { key: "text", … }`,
/// with texts as JSON writes them.
fn read(text: &str) -> Option<(String, Texts)> {
    let (_, after) = text.split_once("plylineWords")?;
    let is_table = |&(at, _): &(usize, &str)| {
        let before = after[..at].trim_end();
        before.ends_with('=') && !before.ends_with("??=")
    };
    let (open, _) = after.match_indices('{').find(is_table)?;
    let name = after[..open].trim_end_matches([' ', '=']);
    let name = name.rsplit(['.', '[']).next()?;
    let name = name.trim_matches([']', '"', '\'']).to_lowercase();
    let mut rest = &after[open + 1..];
    let mut texts = Texts::new();
    while let Some((before, after)) = rest.split_once(':') {
        let key = before.trim_matches([' ', '\n', '\r', '\t', ',', '"']);
        let mut value = serde_json::Deserializer::from_str(after).into_iter::<String>();
        match value.next() {
            Some(Ok(text)) => texts.push((key.to_owned(), text)),
            _ => break,
        }
        rest = after.get(value.byte_offset()..)?;
    }
    Some((name, texts))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::words::TEXTS;

    #[test]
    fn the_file_of_each_language_is_read_as_the_script_reads_it() {
        for (code, file) in CARRIED {
            let (name, texts) = read(file).expect("a language");
            assert_eq!(name, code);
            let is_there = |key: &&str| texts.iter().any(|(name, _)| name == key);
            let all = TEXTS
                .iter()
                .chain(counts::TEXTS)
                .chain(crate::assessments::TEXTS)
                .chain(crate::aside::TEXTS);
            let missing: Vec<_> = all
                .map(|(key, _)| *key)
                .filter(|key| !is_there(key))
                .collect();
            assert!(missing.is_empty(), "{code}: {missing:?}");
        }
        let main = |code| {
            let main = known(code).into_iter().find(|(key, _)| key == "main");
            main.map(|(_, text)| text)
        };
        assert_eq!(main("de-AT").as_deref(), Some("Hauptzug"));
        assert_eq!(main("pt-BR").as_deref(), Some("principal"));
        assert_eq!(main("cs"), None);
    }

    #[test]
    fn every_file_of_a_language_comes_with_the_program() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/words");
        let files = fs::read_dir(folder).expect("www/words");
        let mut codes: Vec<String> = files
            .map(|it| {
                it.expect("a file")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .collect();
        codes.sort();
        assert_eq!(codes, CARRIED.map(|(code, _)| format!("{code}.js")));
    }
}
