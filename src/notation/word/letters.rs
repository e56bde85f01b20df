//! Piece letters by language: PGN standard (1994-03-12), section 17.

use crate::text::{run, split};
use shakmaty::Role;

/// The piece letters that one or more languages share.
///
/// A row of words: pawn, knight, bishop, rook, queen, king, in the order of the standard's table, and then for each
/// language that writes so its ISO 639-1 code and its English name. One text costs a page half of what lists in lists do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letters(&'static str);

/// Section 17, its 17 languages grouped by their letters; English first.
const TABLE: &[Letters] = &[
    Letters("PNBRQK en English"),
    Letters("PJSVDK cs Czech"),
    Letters("BSLTDK de German da Danish no Norwegian sv Swedish"),
    Letters("OPLTDK nl Dutch"),
    Letters("PROVLK et Estonian"),
    Letters("PRLTDK fi Finnish"),
    Letters("PCFTDR fr French"),
    Letters("GHFBVK hu Hungarian"),
    Letters("PRBHDK is Icelandic"),
    Letters("PCATDR es Spanish it Italian"),
    Letters("PSGWHK pl Polish"),
    Letters("PCBTDR pt Portuguese"),
    Letters("PCNTDR ro Romanian"),
];

/// Pictures in place of letters, the same for all languages: the signs of White's pieces (Unicode, Miscellaneous Symbols,
/// U+2654 to U+2659).
const FIGURINE: &Letters =
    &Letters("\u{2659}\u{2658}\u{2657}\u{2656}\u{2655}\u{2654} figurine figurines");

impl Letters {
    /// The letters that PGN is written with.
    pub const ENGLISH: &'static Letters = &TABLE[0];

    /// Every set of letters, English first.
    pub const ALL: &'static [Letters] = TABLE;

    /// The letters of a language, by its ISO 639-1 code; what follows a hyphen does not count. `figurine` names pictures.
    pub fn of(code: &str) -> Option<&'static Letters> {
        let code = code[..run(code, |byte| byte != b'-')].trim();
        // Norwegian has two written forms with codes of their own.
        let code = if code == "nb" || code == "nn" {
            "no"
        } else {
            code
        };
        let mut sets = TABLE.iter().chain([FIGURINE]);
        sets.find(|set| set.named().any(|(known, _)| known == code))
    }

    /// Those that the first of these codes names that names any; English where none does.
    pub fn first<'a>(codes: impl IntoIterator<Item = &'a str>) -> &'static Letters {
        let mut named = codes.into_iter().filter_map(Letters::of);
        named.next().unwrap_or(Letters::ENGLISH)
    }

    /// The piece that a letter names.
    pub fn role(&self, letter: char) -> Option<Role> {
        let mut letters = self.0.chars().take(Role::ALL.len());
        let at = letters.position(|known| known == letter)?;
        Role::ALL.get(at).copied()
    }

    /// The letter of a piece.
    pub fn letter(&self, role: Role) -> char {
        // Roles are counted from 1, and there are six letters for six pieces.
        let at = usize::from(role).saturating_sub(1);
        self.0.chars().nth(at).unwrap_or('P')
    }

    /// The code that a tag gives these letters.
    pub fn code(&self) -> &'static str {
        self.named().next().map_or("en", |(code, _)| code)
    }

    /// Whether these are the letters of PGN itself.
    pub fn is_english(&self) -> bool {
        self.code() == "en"
    }

    /// The languages that write so.
    pub fn languages(&self) -> impl Iterator<Item = &'static str> {
        self.named().map(|(_, name)| name)
    }

    /// The languages that write so, each with its code and its name.
    fn named(&self) -> impl Iterator<Item = (&'static str, &'static str)> {
        let mut words = split(self.0, b' ').skip(1);
        core::iter::from_fn(move || Some((words.next()?, words.next()?)))
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
                Letters::of(code).map(|set| &set.0[..6]),
                Some(letters),
                "{code}"
            );
        }
        let languages: usize = Letters::ALL.iter().map(|set| set.languages().count()).sum();
        assert_eq!(languages, 17);
    }

    #[test]
    fn a_move_is_written_in_other_letters() {
        let german = Letters::of("de-AT").expect("German");
        assert_eq!(german.write("Nbd7"), "Sbd7");
        assert_eq!(german.write("exd8=Q+"), "exd8=D+");
        assert_eq!(german.write("O-O-O"), "O-O-O");
        let figurine = Letters::of("figurine").expect("figurines");
        assert_eq!(figurine.write("exd8=Q+"), "exd8=\u{2655}+");
        assert_eq!(figurine.role('\u{2658}'), Some(Role::Knight));
        assert_eq!(figurine.role('N'), None);
    }
}
