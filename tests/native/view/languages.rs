//! What the files of languages make the core say and understand; tests/languages.mjs looks at the files themselves, and
//! hearing.rs asks in English and German.

use super::hearing::{START, answer_in};
use plyline::view::Words;

/// The other languages, by code.
const FILES: [(&str, &str); 6] = [
    ("es", include_str!("../../../www/words/es.js")),
    ("fr", include_str!("../../../www/words/fr.js")),
    ("it", include_str!("../../../www/words/it.js")),
    ("nl", include_str!("../../../www/words/nl.js")),
    ("pl", include_str!("../../../www/words/pl.js")),
    ("pt", include_str!("../../../www/words/pt.js")),
];

/// The texts of a file.
fn texts(file: &str) -> Vec<(String, String)> {
    let lines = file.lines().filter_map(|line| line.strip_prefix("  "));
    let pairs = lines.filter_map(|line| line.trim_end_matches(',').split_once(": \""));
    let text = |text: &str| serde_json::from_str(&format!("\"{text}")).expect("a text");
    pairs
        .map(|(name, rest)| (name.to_owned(), text(rest)))
        .collect()
}

fn words(code: &str) -> Words {
    let file = FILES.iter().find(|(known, _)| *known == code);
    Words::with(texts(file.expect("a file").1))
}

#[test]
fn what_the_help_of_a_language_gives_as_an_example_is_understood() {
    for (code, file) in FILES {
        let texts = texts(file);
        let get = |name: &str| {
            let found = texts.iter().find(|(key, _)| key == name);
            found.map_or("", |(_, text)| text.as_str())
        };
        let help = get("helpSaid").replace('\u{a0}', " ");
        let (_, after) = help.split_once(": ").expect("examples");
        let (examples, _) = after.split_once(". ").expect("an end");
        let (_, other) = get("notUnderstood").split_once("{text}").expect("a place");
        let other = other.split('{').next().unwrap_or_default();
        let examples: Vec<&str> = examples.split(", ").collect();
        assert_eq!(examples.len(), 7, "{code}: {examples:?}");
        for text in examples {
            let said = answer_in(&words(code), START, text);
            assert!(!said.contains(other), "{code}: {text}: {said}");
        }
    }
}

#[test]
fn questions_get_their_answers_in_the_language_that_asks() {
    for (code, text, said) in [
        ("fr", "où est la dame blanche ?", "Blancs\u{a0}: dame d1."),
        (
            "fr",
            "qui défend f1",
            "f1 est défendue par\u{a0}: roi blanc e1.",
        ),
        (
            "es",
            "¿Qué piezas atacan d3?",
            "d3 está atacada por: peón blanco c2 y peón blanco e2.",
        ),
        (
            "es",
            "jugadas del caballo en g1",
            "g1, caballo blanco. Casillas posibles: f3 y h3.",
        ),
        ("it", "dov\u{2019}è il re nero", "Nero: re e8."),
        ("it", "cosa c'è in e4", "e4, vuota."),
        (
            "nl",
            "is het witte paard gepend",
            "Wit paard b1 is niet gepend. Wit paard g1 is niet gepend.",
        ),
        ("pt", "o que está em d8?", "d8, dama preta."),
        ("pt", "o que está cravado", "Nada está cravado."),
        (
            "pl",
            "gdzie są czarne skoczki",
            "Czarne: skoczek b8, skoczek g8.",
        ),
        (
            "pl",
            "ruchy skoczka z g1",
            "g1, biały skoczek. Możliwe pola: f3 i h3.",
        ),
    ] {
        assert_eq!(answer_in(&words(code), START, text), said, "{code}: {text}");
    }
}

#[test]
fn what_could_ask_either_way_is_not_answered() {
    for (code, text) in [
        ("fr", "quelle pièce attaque la dame"),
        ("fr", "qu\u{2019}est-ce que défend le cavalier"),
        ("es", "qué ataca la dama"),
        ("it", "cosa difende l\u{2019}alfiere"),
        ("nl", "wat valt de dame aan"),
        ("pt", "o que ataca a dama"),
        ("pl", "co atakuje hetman"),
    ] {
        let said = answer_in(&words(code), START, text);
        assert!(said.contains(text), "{code}: {text}: {said}");
    }
}

#[test]
fn material_is_counted_in_forms_that_fit_each_number() {
    for (code, text, begins, ends) in [
        (
            "fr",
            "matériel",
            "Blancs\u{a0}: dame, 2 tours, 2 fous, 2 cavaliers, 8 pions; Noirs\u{a0}: dame",
            "les Blancs ont 39 et les Noirs 39\u{a0}: égalité.",
        ),
        (
            "pl",
            "materiał",
            "Białe: hetman, 2 ×\u{a0}wieża, 2 ×\u{a0}goniec, 2 ×\u{a0}skoczek, 8 ×\u{a0}pionek; Czarne: hetman",
            "białe mają 39, a czarne 39: po równo.",
        ),
    ] {
        let said = answer_in(&words(code), START, text);
        assert!(said.starts_with(begins) && said.ends_with(ends), "{said}");
    }
}
