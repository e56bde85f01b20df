//! An author by chance: writes a lesson as text, and knows what it holds.

use super::chance::Chance;
use plyline::lesson::rules;
use shakmaty::fen::Fen;
use shakmaty::san::SanPlus;
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, Chess, EnPassantMode, Position};

/// A text, and what should be read from it.
pub struct Written {
    pub text: String,
    /// In the order of the text; the first is the start.
    pub nodes: Vec<Node>,
    pub result: &'static str,
}

/// One node as it was meant.
#[derive(Default)]
pub struct Node {
    pub parent: Option<usize>,
    pub san: String,
    pub nags: Vec<u8>,
    pub before: Vec<String>,
    pub comments: Vec<String>,
}

/// Nodes of one lesson, and how deep its variations are nested.
const NODES: usize = 45;
const DEEPEST: usize = 5;

/// Words for comments: all that means something somewhere, and letters of many scripts.
const WORDS: &[&str] = &[
    "a",
    "word",
    "}",
    "{",
    "};",
    "%",
    "%x",
    ";",
    ";;",
    "@c5",
    "@!b4-b5",
    "@?f3-d2-c4",
    "@",
    "@@",
    "@i9",
    "me@c5",
    "[",
    "]",
    "[%cmd 1]",
    "[%",
    "(",
    ")",
    "((",
    "*",
    "**",
    "*em*",
    "**strong**",
    "\"",
    "\\",
    "\\\"",
    "$3",
    "$",
    "1.",
    "e4",
    "Nf3",
    "1-0",
    "1/2-1/2",
    "--",
    "!",
    "?!",
    "Choose:",
    "Ask:",
    "Hint:",
    "Because:",
    "#",
    "<b>",
    "&amp;",
    "\u{e9}t\u{e9}",
    "\u{65e5}\u{672c}",
    "\u{1f600}",
    "\u{200b}",
    "\u{fe0f}",
    "e\u{301}",
    "\u{5e9}",
    "\u{2014}",
    "\u{1}",
    "[a](https://example.org/x)",
    "[b](#start)",
    "[c](#9.Kd1)",
    "[d](javascript:x)",
    "Event",
    "[Event",
    "\"x\"]",
    "aVeryLongWordThatIsNearlyAsLongAsALineAndMustStandOnALineOfItsOwnSoThatTheLineBreaks",
    "anotherLongWord%thatBreaksTheLineBecauseItIsFarLongerThanAnyLineOfTheExportFormatMayEverBe,AndThenGoesOn",
];

/// Starts that the rules know something special about: castling, promotion, en passant, and
/// Black to move.
const STARTS: &[&str] = &[
    "r3k2r/pppppppp/8/8/8/8/PPPPPPPP/R3K2R w KQkq - 0 1",
    "r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 3 7",
    "8/PPP1k3/8/8/8/8/3Kppp1/8 w - - 0 60",
    "rnbqkbnr/ppp1p1pp/8/3pPp2/8/8/PPPP1PPP/RNBQKBNR w KQkq f6 0 3",
    "4k3/8/8/2N5/4N3/2N5/8/4K3 w - - 99 120",
    "6k1/8/8/8/Q2Q4/8/8/QK6 w - - 0 1",
];

struct Author<'a> {
    chance: &'a mut Chance,
    text: String,
    nodes: Vec<Node>,
    /// Whether a line comment ended right before: another one on the next line would belong to it.
    after_line_comment: bool,
}

/// A lesson by chance.
pub fn write(chance: &mut Chance) -> Written {
    let mut author = Author {
        chance,
        text: String::new(),
        nodes: vec![Node::default()],
        after_line_comment: false,
    };
    let start = author.tags();
    author.sayings(0);
    author.line(0, &start, 0);
    let result = author.chance.pick(&["*", "1-0", "0-1", "1/2-1/2"]);
    author.space();
    author.text += result;
    Written {
        text: author.text,
        nodes: author.nodes,
        result,
    }
}

impl Author<'_> {
    fn tags(&mut self) -> Chess {
        let values = [
            "",
            "?",
            "Someone",
            "a \"b\" \\ c",
            "]",
            "{x}",
            "%y",
            ";z",
            "\u{e9} \u{65e5}",
            "One:Two",
        ];
        for name in ["White", "Zebra", "Annotator", "my_tag", "Date"] {
            if self.chance.one_in(3) {
                let value = self
                    .chance
                    .pick(&values)
                    .replace('\\', "\\\\")
                    .replace('"', "\\\"");
                self.text += &format!("[{name} \"{value}\"]\n");
            }
        }
        if !self.chance.one_in(3) {
            return Chess::default();
        }
        let fen: Fen = self.chance.pick(STARTS).parse().expect("a FEN");
        let start: Chess = fen.into_position(CastlingMode::Standard).expect("a start");
        let fen = Fen::from_position(&start, EnPassantMode::Legal);
        self.text += &format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n");
        start
    }

    /// Moves from a position, with all that is between them.
    fn line(&mut self, from: usize, start: &Chess, depth: usize) {
        let mut at = from;
        let mut position = start.clone();
        let mut waiting = (Vec::new(), Vec::new());
        if depth > 0 {
            // Text and signs between the parenthesis and the first move.
            while self.chance.one_in(4) {
                let said = self.comment();
                waiting.0.push(said);
            }
            if self.chance.one_in(8) {
                waiting.1.push(self.glyph());
            }
        }
        let mut is_first = true;
        for _ in 0..1 + self.chance.below(9) {
            if self.nodes.len() >= NODES && !is_first {
                return;
            }
            let Some((after, san)) = self.play(&position) else {
                return;
            };
            is_first = false;
            let (before, nags) = std::mem::take(&mut waiting);
            let parent = Some(at);
            let id = self.nodes.len();
            let comments = Vec::new();
            self.nodes.push(Node {
                parent,
                san,
                nags,
                before,
                comments,
            });
            if self.chance.one_in(4) {
                let (sign, nag) = self.chance.pick(&[
                    ("!", 1),
                    ("??", 4),
                    ("!?", 5),
                    ("+-", 18),
                    ("\u{221e}", 13),
                    ("=", 10),
                ]);
                // `Qc4+=` is the sign `+=` and no check (common practice, no source).
                if sign == "=" && self.text.ends_with('+') {
                    self.text.push(' ');
                }
                self.text += sign;
                self.add_nag(id, nag);
            }
            self.sayings(id);
            while depth < DEEPEST && self.nodes.len() < NODES && self.chance.one_in(4) {
                // Only where there is another move to begin with.
                if position.legal_moves().is_empty() {
                    break;
                }
                self.space();
                self.text.push('(');
                self.after_line_comment = false;
                self.line(at, &position, depth + 1);
                self.text.push(')');
                self.after_line_comment = false;
                self.sayings(id);
            }
            at = id;
            position = after;
        }
    }

    /// Writes a legal move, or a pass, in one of the forms that are read; none if the game
    /// is over. What it leads to, and the move as the standard writes it.
    fn play(&mut self, position: &Chess) -> Option<(Chess, String)> {
        let passed = if self.chance.one_in(15) {
            rules::pass(position)
        } else {
            None
        };
        let moves = position.legal_moves();
        if moves.is_empty() {
            return None;
        }
        self.number(position);
        if let Some(after) = passed {
            self.text += "--";
            return Some((after, "--".to_owned()));
        }
        let played = self.chance.pick(&moves);
        let san = SanPlus::from_move(position.clone(), played).to_string();
        let bare = san.trim_end_matches(['+', '#']);
        self.text += &match self.chance.below(8) {
            0 => UciMove::from_standard(played).to_string(),
            1 => bare.to_owned(),
            2 => bare.replace('O', "0"),
            3 => bare.replace('=', ""),
            4 => bare.replace('x', ":"),
            _ => san.clone(),
        };
        let mut after = position.clone();
        after.play_unchecked(played);
        Some((after, san))
    }

    fn number(&mut self, position: &Chess) {
        let number = position.fullmoves();
        let dots = if position.turn().is_white() {
            "."
        } else {
            "..."
        };
        // Right after a parenthesis a space may be missing.
        if !self.text.ends_with('(') || self.chance.one_in(2) {
            self.space();
        }
        match self.chance.below(4) {
            0 => {}
            1 => self.text += &format!("{number}{dots}"),
            2 => self.text += &format!("{number} {dots} "),
            _ => self.text += &format!("{number}{dots} "),
        }
        self.after_line_comment = false;
    }

    /// Comments and glyphs about a node.
    fn sayings(&mut self, id: usize) {
        while self.chance.one_in(3) {
            if self.chance.one_in(3) {
                let nag = self.glyph();
                self.add_nag(id, nag);
            } else {
                let said = self.comment();
                self.nodes[id].comments.push(said);
            }
        }
    }

    fn glyph(&mut self) -> u8 {
        let nag = self.chance.below(256) as u8;
        self.space();
        self.text += &format!("${nag}");
        self.after_line_comment = false;
        nag
    }

    fn add_nag(&mut self, id: usize, nag: u8) {
        let nags = &mut self.nodes[id].nags;
        if !nags.contains(&nag) {
            nags.push(nag);
        }
    }

    /// Writes a comment; its text as it should be read.
    fn comment(&mut self) -> String {
        let mut paragraphs = Vec::new();
        for _ in 0..1 + self.chance.below(3) {
            let words = (0..1 + self.chance.below(12)).map(|_| self.chance.pick(WORDS));
            paragraphs.push(words.collect::<Vec<_>>());
        }
        let has_brace = paragraphs.iter().flatten().any(|word| word.contains('}'));
        if has_brace || self.chance.one_in(5) {
            return self.line_comment(&paragraphs.concat());
        }
        self.space();
        self.text.push('{');
        for (at, words) in paragraphs.iter().enumerate() {
            if at > 0 {
                self.text += self
                    .chance
                    .pick(&["\n\n", "\n \n", "\r\n\r\n", " \n\t\n\n "]);
            }
            for (at, word) in words.iter().enumerate() {
                if at > 0 {
                    self.text += self.chance.pick(&[" ", " ", " ", "  ", "\n", "\t"]);
                }
                self.text += word;
            }
        }
        self.text.push('}');
        self.after_line_comment = false;
        let texts: Vec<String> = paragraphs.iter().map(|words| words.join(" ")).collect();
        texts.join("\n\n")
    }

    fn line_comment(&mut self, words: &[&str]) -> String {
        // A blank line keeps it from the line comment before it.
        self.text += if self.after_line_comment { "\n" } else { " " };
        for (at, word) in words.iter().enumerate() {
            self.text += match at {
                0 => self.chance.pick(&[";", "; "]),
                _ => self.chance.pick(&[" ", " ", " ", "\n;", "\n  ; "]),
            };
            self.text += word;
        }
        self.text.push('\n');
        self.after_line_comment = true;
        words.join(" ")
    }

    fn space(&mut self) {
        let space = self.chance.pick(&[" ", " ", "\n", "  "]);
        self.text += space;
    }
}
