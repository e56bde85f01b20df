//! In which letters baked pages show moves. Letters are those of the PGN standard, section 17.

use super::{bake, baked};

/// A lesson with these attributes, which is written with English letters.
fn drawn_in(attributes: &str) -> String {
    baked(&format!(
        "<ply-line id=\"one\"{attributes}><pre>1. e4 e5 2. Bc4 (2. Nf3) *</pre></ply-line>"
    ))
}

#[test]
fn a_baked_lesson_shows_the_letters_of_its_attribute_else_of_its_tag_else_of_the_language_around_it()
 {
    for (attributes, shown) in [
        ("", "Bc4"),
        (" lang=\"fr\"", "Fc4"),
        (" letters=\"es\"", "Ac4"),
        (" letters=\"es\" lang=\"fr\"", "Ac4"),
        (" letters=\"figurine\"", "\u{2657}c4"),
    ] {
        let page = drawn_in(attributes);
        let (root, plain) = page.split_once("</template>").expect("a root");
        for part in [root, plain.split("<pre>").next().expect("the plain form")] {
            assert!(part.contains(shown), "{attributes}: {part}");
            assert!(
                shown == "Bc4" || !part.contains("Bc4"),
                "{attributes}: {part}"
            );
        }
    }
    let tagged = "<pre>[Letters \"de\"]\n\n1. e4 e5 2. Sf3 *</pre>";
    let page = baked(&format!("<ply-line lang=\"fr\">{tagged}</ply-line>"));
    let (root, _) = page.split_once("</template>").expect("a root");
    assert!(root.contains("Sf3") && !root.contains("Cf3"), "{root}");
}

#[test]
fn an_address_names_moves_in_english_letters_whatever_is_shown() {
    let page = "<html lang=\"fr\"><body><ply-prose><p>Après <a href=\"#one/1.e4_e5_2.Bc4\">2.Fc4</a> on joue.</p></ply-prose>\
        <ply-line id=\"one\"><pre>1. e4 e5 2. Bc4 *</pre></ply-line></body></html>";
    assert!(bake(page).text.contains("#one/1.e4_e5_2.Bc4"));
}
