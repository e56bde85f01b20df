//! Invents games for the demo's numbers: `cargo run --example games -- LESSON.pgn` writes 4,000 of them as PGN, the
//! same on every run. Nobody has played them: the names are invented, the moves are walks through the lesson that
//! leave it now and then, and who wins is drawn by lot, as the ratings and the moves let expect. See run.sh.

#[cfg(not(target_family = "wasm"))]
mod invented {
    use plyline::lesson::{self, Lesson, NodeId};
    use plyline::{notation, text::Source};
    use shakmaty::san::SanPlus;
    use shakmaty::{Chess, Color, Move, Position, Role, Square};
    use std::error::Error;
    use std::io::{self, Write};

    const GAMES: u64 = 4_000;
    /// The first of so many years.
    const FIRST_YEAR: u64 = 2016;
    const YEARS: u64 = 10;
    /// The move that nearly nobody played in the first year, and many in the last.
    const FASHION: &str = "5.Bf4";
    /// What having the first move is worth, as a difference of ratings: common practice, no source.
    const FIRST_MOVE: i64 = 35;
    /// No one plays in real life under these names and ratings.
    const PLAYERS: [(&str, i64); 24] = [
        ("Arkwell", 1712),
        ("Bramsett", 1745),
        ("Cotterlay", 1790),
        ("Dunmarrow", 1818),
        ("Elsinby", 1856),
        ("Farthole", 1889),
        ("Gorsewick", 1913),
        ("Hallowmere", 1944),
        ("Isterley", 1967),
        ("Jessamay", 1992),
        ("Ketterwell", 2015),
        ("Lorrimoor", 2041),
        ("Marshgate", 2063),
        ("Netherlow", 2088),
        ("Orrinshaw", 2112),
        ("Pellowick", 2139),
        ("Quenderby", 2160),
        ("Rushmarsh", 2195),
        ("Saltonby", 2224),
        ("Thistlewade", 2251),
        ("Underfell", 2287),
        ("Vexcombe", 2330),
        ("Wyndlesea", 2378),
        ("Yarrowby", 2431),
    ];

    /// A splitmix64 generator (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
    struct Luck(u64);

    impl Luck {
        fn next(&mut self) -> u64 {
            self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut it = self.0;
            it = (it ^ (it >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            it = (it ^ (it >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            it ^ (it >> 31)
        }

        /// A number from 0 to one less than this.
        fn below(&mut self, count: u64) -> u64 {
            self.next() % count
        }

        /// The place of one of these, as likely as its weight says.
        fn pick(&mut self, weights: &[u64]) -> usize {
            let mut left = self.below(weights.iter().sum::<u64>().max(1));
            for (at, &weight) in weights.iter().enumerate() {
                if left < weight {
                    return at;
                }
                left -= weight;
            }
            0
        }
    }

    /// The moves of a game, and what they are worth to White as a difference of ratings.
    struct Played {
        start: Chess,
        moves: Vec<Move>,
        worth: i64,
    }

    /// A walk through the lesson, which leaves it now and then.
    fn walk(lesson: &Lesson, luck: &mut Luck, since_first: u64) -> Played {
        let mut game = Played {
            start: lesson.node(0).position.clone(),
            moves: Vec::new(),
            worth: 0,
        };
        let mut at = 0;
        loop {
            let position = &lesson.node(at).position;
            let known: Vec<NodeId> = lesson.moves(at).collect();
            // Whoever teaches an opening is seldom left at its first moves, and often later.
            let leave = 25 + 4 * u64::from(lesson.node(at).ply);
            let leaves = known.is_empty() || luck.below(1_000) < leave;
            if leaves || luck.below(1_000) < 8 {
                let left = if leaves { 1 + luck.below(3) } else { 0 };
                go_on(position.clone(), left, luck, &mut game);
                return game;
            }
            let weight = |(nth, &it): (usize, &NodeId)| match nth {
                _ if lesson.numbered(it) == FASHION => 2 + 7 * since_first,
                _ if lesson.is_weak(it) => 5,
                0 => 60,
                _ => 22,
            };
            let weights: Vec<u64> = known.iter().enumerate().map(weight).collect();
            at = known[luck.pick(&weights)];
            let worth = worth(lesson, at);
            game.worth += if position.turn() == Color::White {
                worth
            } else {
                -worth
            };
            game.moves.extend(lesson.node(at).played);
        }
    }

    /// What a move of the lesson is worth to its player: the same in every game.
    fn worth(lesson: &Lesson, node: NodeId) -> i64 {
        match lesson.is_weak(node) {
            true => -150,
            false => Luck(u64::from(node)).below(61) as i64 - 30,
        }
    }

    /// Some moves that the lesson need not have.
    fn go_on(mut position: Chess, count: u64, luck: &mut Luck, game: &mut Played) {
        for _ in 0..count {
            let mut moves: Vec<(u64, String, Move)> = position
                .legal_moves()
                .into_iter()
                .map(|it| (likely(&position, it), it.to_string(), it))
                .filter(|(likely, ..)| *likely > 0)
                .collect();
            moves.sort_by(|a, b| (b.0, &a.1).cmp(&(a.0, &b.1)));
            moves.truncate(3);
            if moves.is_empty() {
                return;
            }
            let weights: Vec<u64> = moves.iter().map(|(likely, ..)| *likely).collect();
            let played = moves[luck.pick(&weights)].2;
            game.moves.push(played);
            position.play_unchecked(played);
        }
    }

    /// How likely a move looks that nobody has thought about: pieces come out, kings castle, and nothing goes where
    /// it can be taken, but to take back.
    fn likely(position: &Chess, played: Move) -> u64 {
        let (side, to) = (position.turn(), played.to());
        let mut after = position.clone();
        after.play_unchecked(played);
        if played.is_castle() {
            return 6;
        }
        let is_attacked = !lesson::attackers(&after, to, side.other()).is_empty();
        let is_central = (2..=5).contains(&(to.file() as u32));
        let is_home = played.from().is_some_and(|it: Square| {
            it.rank() == side.fold_wb(shakmaty::Rank::First, shakmaty::Rank::Eighth)
        });
        match played.role() {
            Role::Pawn if played.is_capture() => 5,
            _ if is_attacked => 0,
            Role::Knight | Role::Bishop if is_home && is_central => 4,
            Role::Bishop if is_home => 2,
            Role::Pawn if is_central && position.fullmoves().get() == 1 => 6,
            Role::Pawn if is_central => 2,
            Role::Pawn | Role::Rook | Role::Queen => 1,
            _ => 0,
        }
    }

    /// How a game ends, by lot: `edge` is what White is better by, as a difference of ratings.
    fn ended(edge: i64, luck: &mut Luck) -> &'static str {
        // In thousandths. A straight line is near enough to what ratings let expect.
        let expected = (500 + edge * 5 / 4).clamp(60, 940) as u64;
        let drawn = 72 * expected.min(1_000 - expected) / 100;
        let won = expected - drawn / 2;
        match luck.below(1_000) {
            it if it < won => "1-0",
            it if it < won + drawn => "1/2-1/2",
            _ => "0-1",
        }
    }

    fn game(lesson: &Lesson, number: u64, luck: &mut Luck) -> String {
        let days = number * YEARS * 336 / GAMES; // months of 28 days
        let (year, month, day) = (days / 336, days / 28 % 12 + 1, days % 28 + 1);
        let one = luck.below(PLAYERS.len() as u64) as usize;
        let other = (one + 1 + luck.below(7) as usize) % PLAYERS.len();
        let [white, black] = match luck.below(2) {
            0 => [PLAYERS[one], PLAYERS[other]],
            _ => [PLAYERS[other], PLAYERS[one]],
        };
        let form = |luck: &mut Luck| luck.below(61) as i64 - 30;
        let (white_rating, black_rating) = (white.1 + form(luck), black.1 + form(luck));
        let played = walk(lesson, luck, year);
        let edge = white_rating - black_rating + FIRST_MOVE + played.worth;
        let result = ended(edge, luck);
        let tags = [
            ("Event", "Invented games".to_owned()),
            ("Site", "?".to_owned()),
            ("Date", format!("{}.{month:02}.{day:02}", FIRST_YEAR + year)),
            ("Round", "?".to_owned()),
            ("White", white.0.to_owned()),
            ("Black", black.0.to_owned()),
            ("Result", result.to_owned()),
            ("WhiteElo", white_rating.to_string()),
            ("BlackElo", black_rating.to_string()),
        ];
        let mut text = String::new();
        for (name, value) in tags {
            text += &format!("[{name} \"{value}\"]\n");
        }
        text + "\n" + &movetext(played, result) + "\n"
    }

    /// The moves as the PGN standard writes them, in lines of fewer than 80 letters.
    fn movetext(played: Played, result: &str) -> String {
        let (mut text, mut length) = (String::new(), 0);
        let mut put = |word: String| {
            if length + word.len() + 1 > 79 {
                text.push('\n');
                length = 0;
            } else if length > 0 {
                text.push(' ');
                length += 1;
            }
            length += word.len();
            text += &word;
        };
        let mut position = played.start;
        for it in played.moves {
            if position.turn() == Color::White {
                put(format!("{}.", position.fullmoves()));
            }
            put(SanPlus::from_move_and_play_unchecked(&mut position, it).to_string());
        }
        put(result.to_owned());
        text + "\n"
    }

    /// # Errors
    /// Where there is no lesson, or nobody to write to.
    pub fn write(path: &str) -> Result<(), Box<dyn Error>> {
        let source = Source::new(path, &std::fs::read_to_string(path)?);
        let (syntax, _) = notation::parse(&source);
        let (lessons, _) = lesson::validate(&source, &syntax);
        let lesson = lessons.first().and_then(Option::as_ref);
        let lesson = lesson.ok_or("this file holds no lesson")?;
        let fashion = lesson.ids().any(|it| lesson.numbered(it) == FASHION);
        if !fashion {
            return Err(format!("this lesson does not have {FASHION}").into());
        }
        let mut luck = Luck(1);
        let mut out = io::BufWriter::new(io::stdout().lock());
        for number in 0..GAMES {
            out.write_all(game(lesson, number, &mut luck).as_bytes())?;
        }
        Ok(out.flush()?)
    }
}

#[cfg(not(target_family = "wasm"))]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let Some(lesson) = std::env::args().nth(1) else {
        return Err("usage: games LESSON.pgn".into());
    };
    invented::write(&lesson)
}

#[cfg(target_family = "wasm")]
fn main() {}
