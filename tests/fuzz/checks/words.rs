//! Move words and comments.

use plyline::lesson::rules::{self, resolve};
use plyline::notation::Comment;
use plyline::notation::Letters;
use plyline::notation::comment::mark;
use plyline::notation::comment::passage::{Does, Link, Paragraph, Passage};
use plyline::notation::word::san;
use plyline::text::Span;
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
        let Some(comment) = Comment::read(&token, Span::new(0, token.len())) else {
            continue;
        };
        let folded = comment.text();
        let braced = format!("{{{folded}}}");
        let again = Comment::read(&braced, Span::new(0, braced.len()));
        let again = again.map(|it| it.text().to_owned());
        assert_eq!(again.as_deref(), Some(folded), "{token:?}");
        for passage in comment.passages() {
            assert!(folded.contains(passage.text()), "{passage:?} of {folded:?}");
            let mut shown = 0;
            let mut last = 0;
            for piece in passage.paragraphs().flat_map(Paragraph::pieces) {
                assert!(!piece.text.is_empty(), "an empty piece of {folded:?}");
                let there = token.get(piece.span.range());
                assert!(there.is_some_and(|it| !it.is_empty()), "{piece:?}");
                assert!(last <= piece.span.from, "{piece:?} of {token:?}");
                last = piece.span.to;
                match piece.does {
                    Does::Links(Link::Web(to)) => {
                        // No scheme begins with a full stop (RFC 3986, 3.1).
                        let known = ["http://", "https://", "."];
                        let safe = known.iter().any(|it| to.starts_with(it));
                        assert!(safe, "a link to {to}");
                    }
                    Does::Links(Link::Locator { span, .. })
                    | Does::LinksNowhere { target: span } => {
                        assert!(token.get(span.range()).is_some_and(|it| !it.is_empty()));
                    }
                    Does::Marks(_) => shown += 1,
                    Does::Says | Does::MarksNothing => {}
                }
            }
            let marks = passage.marks();
            assert_eq!(marks.len(), shown);
            assert!(marks.iter().all(|mark| !mark.squares.is_empty()));
            for (command, span) in passage.commands() {
                assert!(command.starts_with("[%") && command.ends_with(']'));
                assert!(
                    token
                        .get(span.range())
                        .is_some_and(|it| it.starts_with("[%"))
                );
            }
        }
        let shown: Vec<_> = comment.passages().flat_map(Passage::paragraphs).collect();
        assert!(shown.iter().all(|it| folded.contains(it.text())));
    }
    for (at, _) in text.match_indices('@') {
        let before = text[..at].chars().next_back();
        if let Some((mark, length)) = mark::read(before, &text[at..]) {
            assert!(text.get(at..at + length).is_some() && !mark.text().is_empty());
        }
    }
}
