//! Piece letters by language: PGN standard (1994-03-12), section 17.

use crate::text::run;
use shakmaty::Role;

/// The piece letters that one or more languages share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letters {
    /// Pawn, knight, bishop, rook, queen, king, in the order of the standard's table.
    letters: &'static str,
    /// The languages that write so: ISO 639-1 code and English name.
    languages: &'static [(&'static str, &'static str)],
}

/// Section 17, its 17 languages grouped by their letters; English first.
const TABLE: &[Letters] = &[
    set("PNBRQK", &[("en", "English")]),
    set("PJSVDK", &[("cs", "Czech")]),
    set(
        "BSLTDK",
        &[
            ("de", "German"),
            ("da", "Danish"),
            ("no", "Norwegian"),
            ("sv", "Swedish"),
        ],
    ),
    set("OPLTDK", &[("nl", "Dutch")]),
    set("PROVLK", &[("et", "Estonian")]),
    set("PRLTDK", &[("fi", "Finnish")]),
    set("PCFTDR", &[("fr", "French")]),
    set("GHFBVK", &[("hu", "Hungarian")]),
    set("PRBHDK", &[("is", "Icelandic")]),
    set("PCATDR", &[("es", "Spanish"), ("it", "Italian")]),
    set("PSGWHK", &[("pl", "Polish")]),
    set("PCBTDR", &[("pt", "Portuguese")]),
    set("PCNTDR", &[("ro", "Romanian")]),
];

const fn set(letters: &'static str, languages: &'static [(&'static str, &'static str)]) -> Letters {
    Letters { letters, languages }
}

const ROLES: [Role; 6] = [
    Role::Pawn,
    Role::Knight,
    Role::Bishop,
    Role::Rook,
    Role::Queen,
    Role::King,
];

impl Letters {
    /// The letters that PGN is written with.
    pub const ENGLISH: &'static Letters = &TABLE[0];

    /// Every set of letters, English first.
    pub const ALL: &'static [Letters] = TABLE;

    /// The letters of a language, by its ISO 639-1 code; what follows a hyphen does not count.
    pub fn of(code: &str) -> Option<&'static Letters> {
        let code = code[..run(code, |byte| byte != b'-')].trim();
        // Norwegian has two written forms with codes of their own.
        let code = if code == "nb" || code == "nn" {
            "no"
        } else {
            code
        };
        TABLE
            .iter()
            .find(|set| set.languages.iter().any(|(known, _)| *known == code))
    }

    /// The piece that a letter names.
    pub fn role(&self, letter: char) -> Option<Role> {
        // Each is a capital of ASCII.
        let letter = u8::try_from(letter).ok()?;
        let at = self.letters.bytes().position(|known| known == letter)?;
        ROLES.get(at).copied()
    }

    /// The letter of a piece.
    pub fn letter(&self, role: Role) -> char {
        let at = ROLES.iter().position(|known| *known == role).unwrap_or(0);
        let letter = self.letters.as_bytes().get(at).copied();
        char::from(letter.unwrap_or(b'P')) // six letters for six pieces
    }

    /// The code that a tag gives these letters.
    pub fn code(&self) -> &'static str {
        self.languages[0].0 // each set of the table has a language
    }

    /// Whether these are the letters of PGN itself.
    pub fn is_english(&self) -> bool {
        self.code() == "en"
    }

    /// The languages that write so.
    pub fn languages(&self) -> impl Iterator<Item = &'static str> {
        self.languages.iter().map(|(_, name)| *name)
    }

    /// A move in English SAN, written with these letters.
    pub fn write(&self, san: &str) -> String {
        let english = |letter| Letters::ENGLISH.role(letter);
        // Only piece letters are capitals in SAN, but for the two of castling.
        san.chars()
            .map(|letter| english(letter).map_or(letter, |role| self.letter(role)))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_language_of_the_standard_has_its_letters() {
        // PGN standard, section 17, in its order.
        let table = [
            ("cs", "PJSVDK"),
            ("da", "BSLTDK"),
            ("nl", "OPLTDK"),
            ("en", "PNBRQK"),
            ("et", "PROVLK"),
            ("fi", "PRLTDK"),
            ("fr", "PCFTDR"),
            ("de", "BSLTDK"),
            ("hu", "GHFBVK"),
            ("is", "PRBHDK"),
            ("it", "PCATDR"),
            ("no", "BSLTDK"),
            ("pl", "PSGWHK"),
            ("pt", "PCBTDR"),
            ("ro", "PCNTDR"),
            ("es", "PCATDR"),
            ("sv", "BSLTDK"),
        ];
        for (code, letters) in table {
            assert_eq!(
                Letters::of(code).map(|set| set.letters),
                Some(letters),
                "{code}"
            );
        }
        let languages: usize = Letters::ALL.iter().map(|set| set.languages.len()).sum();
        assert_eq!(languages, 17);
    }

    #[test]
    fn a_move_is_written_in_other_letters() {
        let german = Letters::of("de-AT").expect("German");
        assert_eq!(german.write("Nbd7"), "Sbd7");
        assert_eq!(german.write("exd8=Q+"), "exd8=D+");
        assert_eq!(german.write("O-O-O"), "O-O-O");
    }
}
