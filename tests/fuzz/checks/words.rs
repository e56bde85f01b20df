//! Move words and comments.

use plyline::lesson::rules::{self, resolve};
use plyline::notation::comment::mark;
use plyline::notation::word::san;
use plyline::notation::{Letters, comment};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess};

/// Positions in which a word can mean something: castling, promotion, en passant, several
/// knights, checks.
const POSITIONS: &[&str] = &[
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 3 7",
    "8/PPP1k3/8/8/8/8/3Kppp1/8 w - - 0 60",
    "rnbqkbnr/ppp1p1pp/8/3pPp2/8/8/PPPP1PPP/RNBQKBNR w KQkq f6 0 3",
    "4k3/8/8/2N5/4N3/2N5/8/4K3 w - - 99 120",
    "4k3/8/8/8/8/8/4q3/4K2R w K - 0 1",
];

/// A word is taken apart without a loss, and what it means is written in a way that means the
/// same.
pub fn san(bytes: &[u8]) {
    let Ok(text) = core::str::from_utf8(bytes) else {
        return;
    };
    for letters in Letters::ALL {
        let word = san::read(text, letters);
        assert_eq!(word.whole, text);
        assert!(text.starts_with(word.core), "{word:?}");
        assert!(text.contains(word.check), "{word:?}");
        assert!(
            word.core.len() + word.check.len() + word.signs.len() <= text.len(),
            "{word:?}"
        );
        let Some(shape) = word.shape else {
            continue;
        };
        for fen in POSITIONS {
            let fen: Fen = fen.parse().expect("a FEN");
            let position: Chess = fen
                .into_position(CastlingMode::Standard)
                .expect("a position");
            let Ok((played, _)) = resolve(&position, &shape) else {
                continue;
            };
            let standard = letters.write(&rules::san_of(&position, played));
            let again = san::read(&standard, letters).shape.expect("a move");
            let again = resolve(&position, &again).expect("what was just legal").0;
            assert_eq!(again, played, "{text} is written {standard}");
        }
    }
}

/// What a comment says, and where; folding twice is folding once.
pub fn marks(bytes: &[u8]) {
    let Ok(text) = core::str::from_utf8(bytes) else {
        return;
    };
    for token in [text.to_owned(), format!("{{{text}}}"), format!(";{text}")] {
        let folded = comment::fold(&token);
        assert_eq!(comment::fold(&format!("{{{folded}}}")), folded, "{token:?}");
        let paragraphs = comment::paragraphs(&folded);
        let marks = comment::marks(&folded);
        let pieces = paragraphs.iter().flat_map(|paragraph| &paragraph.pieces);
        let mut shown = 0;
        for piece in pieces {
            assert!(!piece.text.is_empty(), "an empty piece of {folded:?}");
            if let Some(link) = &piece.link {
                let safe = ["http://", "https://", "#"]
                    .iter()
                    .any(|it| link.starts_with(it));
                assert!(safe, "a link to {link}");
            }
            shown += usize::from(piece.mark.is_some());
        }
        assert_eq!(marks.len(), shown);
        assert!(marks.iter().all(|mark| !mark.squares.is_empty()));
        for (slip, range) in comment::slips(&token) {
            assert!(
                token.get(range).is_some_and(|it| !it.is_empty()),
                "{slip:?}"
            );
        }
        if let Some(ask) = comment::ask(&folded) {
            for part in [Some(ask.prompt), ask.hint, ask.because]
                .into_iter()
                .flatten()
            {
                assert!(folded.contains(&part), "{part:?} is no part of {folded:?}");
            }
        }
    }
    for (at, _) in text.match_indices('@') {
        let before = text[..at].chars().next_back();
        if let Some((mark, length)) = mark::read(before, &text[at..]) {
            assert!(text.get(at..at + length).is_some() && !mark.text().is_empty());
        }
    }
}
