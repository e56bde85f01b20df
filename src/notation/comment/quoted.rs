//! Figures about games that an author quotes from elsewhere: `Counts: 1906 games, 41 35 24, from SOURCE`.

/// The word with which such a paragraph begins.
pub const WORD: &str = "Counts:";

/// A figure that was quoted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted<'a> {
    /// How many games there were.
    pub games: u64,
    /// How many of a hundred White won, were drawn, Black won.
    pub shares: [u64; 3],
    /// Where the figure comes from.
    pub source: &'a str,
}

/// What a paragraph quotes that begins with the word; none where it is written otherwise.
pub fn quoted(paragraph: &str) -> Option<Quoted<'_>> {
    let rest = paragraph.trim().strip_prefix(WORD)?;
    let mut parts = rest.splitn(3, ", ");
    let games = parts.next()?.trim();
    let games = games.strip_suffix("games").or(games.strip_suffix("game"))?;
    let games = number(&games.replace(',', ""))?;
    let mut shares = [0; 3];
    let mut written = parts.next()?.split_whitespace();
    for share in &mut shares {
        *share = number(written.next()?.trim_end_matches('%'))?;
    }
    let source = parts.next()?.strip_prefix("from ")?.trim();
    let source = source.trim_end_matches('.');
    (written.next().is_none() && !source.is_empty()).then_some(Quoted {
        games,
        shares,
        source,
    })
}

fn number(text: &str) -> Option<u64> {
    let text = text.trim();
    let is_plain = !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
    text.parse().ok().filter(|_| is_plain)
}
