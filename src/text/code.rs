//! The closed list of finding codes. A code never changes its meaning and is never reused.

use super::Severity;

macro_rules! codes {
    (
        page { $($(#[$doc:meta])* $name:ident = $code:literal, $severity:ident;)* }
        program { $($(#[$other_doc:meta])* $other:ident = $other_code:literal, $other_severity:ident;)* }
    ) => {
        /// Which kind of finding.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Code {
            $($(#[$doc])* $name,)*
            $($(#[$other_doc])* #[cfg(not(target_family = "wasm"))] $other,)*
        }

        impl Code {
            /// Every code, in the order of their numbers.
            #[cfg(not(target_family = "wasm"))]
            pub fn all() -> Vec<Code> {
                let mut all = vec![$(Code::$name,)* $(Code::$other,)*];
                all.sort_by_key(|code| code.id());
                all
            }

            /// `P` and three digits.
            pub fn id(self) -> &'static str {
                // One text, because in the page each of a table costs its place too.
                #[cfg(target_family = "wasm")]
                const ALL: &str = concat!($($code),*);
                #[cfg(not(target_family = "wasm"))]
                const ALL: &str = concat!($($code,)* $($other_code),*);
                let at = self as usize * 4;
                ALL.get(at..at + 4).unwrap_or_default()
            }

            /// How much findings of this kind matter.
            pub fn severity(self) -> Severity {
                match self {
                    $(Code::$name => Severity::$severity,)*
                    $(#[cfg(not(target_family = "wasm"))] Code::$other => Severity::$other_severity,)*
                }
            }
        }
    };
}

codes! {
    page {
        /// The text holds no game: no tag, no move, no termination marker.
        NoGame = "P001", Error;
        /// The text is longer than the limit and is not read.
        TextTooLong = "P002", Error;
        /// There were more findings than are kept.
        MoreFindings = "P003", Warning;
        /// The bytes are not UTF-8 and were read as Latin-1.
        NotUtf8 = "P004", Warning;
        /// A character that PGN has no use for outside comments and strings.
        StrayCharacter = "P005", Error;
        /// A tag that is not `[Name "value"]`.
        BadTag = "P006", Error;
        /// A comment without its closing brace.
        OpenComment = "P007", Error;
        /// A variation without its closing parenthesis.
        OpenVariation = "P008", Error;
        /// Variations nested deeper than the limit.
        TooDeep = "P009", Error;
        /// More moves than the limit.
        TooManyNodes = "P010", Error;
        /// A word that is no move in any notation that plyline reads.
        NotAMove = "P011", Error;
        /// No piece of that kind reaches the square.
        CannotReach = "P012", Error;
        /// A move that more than one piece can make.
        Ambiguous = "P013", Error;
        /// A variation that is beside no move.
        NoMoveBeside = "P014", Error;
        /// A closing parenthesis that closes nothing.
        StrayClose = "P015", Error;
        /// A variation without a move.
        EmptyVariation = "P016", Warning;
        /// A numeric annotation glyph that is no number from 0 to 255.
        BadNag = "P017", Warning;
        /// A pass while the king is in check.
        PassInCheck = "P018", Error;
        /// A FEN that cannot be read.
        BadFen = "P019", Error;
        /// A FEN whose position cannot occur.
        ImpossiblePosition = "P020", Error;
        /// A game of another kind of chess.
        OtherChess = "P021", Error;
        /// A move number that disagrees with the game.
        WrongNumber = "P022", Warning;
        /// The `Result` tag and the termination marker disagree.
        ResultDisagrees = "P023", Warning;
        /// The same move is given twice at one position.
        MoveTwice = "P024", Warning;
        /// A tag name that was given before.
        TagTwice = "P025", Warning;
        /// A start position without the `SetUp` tag.
        SetUpMissing = "P026", Hint;
        /// A castling right of the FEN that no king and rook can have.
        CastlingRight = "P028", Warning;
        /// More tags than the limit.
        TooManyTags = "P029", Error;
        /// A move or a result that is written otherwise than the standard writes it.
        Spelling = "P030", Hint;
        /// The side to move has no such piece, or none if the word says.
        NoSuchPiece = "P031", Error;
        /// The way to the square is blocked.
        Blocked = "P032", Error;
        /// The piece is pinned to the king.
        Pinned = "P033", Error;
        /// The king is or would be in check after the move.
        CheckStays = "P034", Error;
        /// The king would go to an attacked square.
        KingAttacked = "P035", Error;
        /// A piece of the same side stands on the square.
        OwnPiece = "P036", Error;
        /// Castling is not possible.
        CannotCastle = "P037", Error;
        /// The word does not say what the pawn becomes.
        PromotionMissing = "P038", Error;
        /// A pawn has nothing to take there, and en passant is not possible.
        NothingToTake = "P039", Error;
        /// An id that an earlier element of the page has.
        IdTaken = "P040", Warning;
        /// A locator that names no node.
        LocatorNone = "P041", Error;
        /// A locator that names several nodes.
        LocatorSeveral = "P042", Error;
        /// The source has no game of that number.
        NoSuchGame = "P043", Error;
        /// A move of the side that is not to move.
        WrongSide = "P044", Error;
        /// Dots after a move number that mean the other side, or are missing.
        Dots = "P045", Hint;
        /// A variation that begins with the move it is beside.
        LineRepeats = "P046", Warning;
        /// One position with choices that contradict each other.
        ChoicesContradict = "P047", Warning;
        /// A question without an answer.
        NoAnswer = "P048", Warning;
        /// A question whose prompt gives its answer.
        PromptTells = "P049", Warning;
        /// A choice that is marked weak.
        WeakChoice = "P050", Warning;
        /// A mark that names no square of the board.
        NoSuchSquare = "P051", Warning;
        /// An arrow from a square to itself.
        ArrowToItself = "P052", Warning;
        /// A link that is neither to a web page nor to a position of the lesson.
        RefusedLink = "P053", Warning;
        /// Piece letters of another language.
        OtherLetters = "P054", Warning;
        /// A language whose piece letters are not known.
        UnknownLetters = "P055", Warning;
        /// A move after mate or stalemate.
        GameOver = "P056", Error;
        /// A line that ends without a word or an assessment.
        EndsInSilence = "P060", Hint;
        /// A transposition that is not said.
        Unsaid = "P061", Hint;
        /// A locator that names a line by its label.
        LocatorByLabel = "P062", Hint;
        /// More links than are checked.
        TooManyLinks = "P063", Warning;
        /// An element that names a lesson which the page does not have.
        NoSuchLesson = "P064", Error;
        /// A recap with more rows than the limit.
        RecapTooLong = "P065", Warning;
        /// No valid number of moves to find in a row.
        BadMoves = "P066", Error;
        /// A tag that does nothing as it is written.
        TagAmiss = "P070", Warning;
        /// A diagram of a position that an open question hides.
        BehindQuestion = "P075", Hint;
        /// A move named without its number that fits several places of the lesson equally.
        NamedSeveral = "P092", Hint;
    }
    // Only the program finds these, so no page carries them.
    program {
        /// A move that a comment names and that cannot be played where its number puts it.
        NamedAmiss = "P067", Warning;
        /// A word such as `Choose:` in a place where it does nothing.
        WordAmiss = "P068", Warning;
        /// A comment that holds another brace, and so ends where the next one ends.
        BraceInside = "P069", Warning;
        /// A question for more moves in a row than the lesson has.
        MovesBeyond = "P071", Hint;
        /// A question whose answers leave out the lesson's own next move.
        MainLeftOut = "P072", Hint;
        /// A result that is followed by more moves of its game.
        ResultAmid = "P073", Warning;
        /// Signs in a comment that have no meaning there and are shown as written.
        AsWritten = "P074", Hint;
        /// A variation or a comment without its opening sign.
        NotOpened = "P080", Error;
        /// A parenthesis or brace in the wrong place, or one too many.
        SignAmiss = "P081", Error;
        /// Moves that are written twice, one after the other.
        WrittenTwice = "P082", Error;
        /// Two moves in each other's place.
        WrongOrder = "P083", Error;
        /// A question about one side at a position where the other is to move.
        AsksOther = "P084", Warning;
        /// Signs at one position that contradict each other.
        SignsContradict = "P085", Warning;
        /// An arrow from a square on which nothing stands.
        ArrowFromEmpty = "P086", Warning;
        /// A blank line among the moves.
        BlankLine = "P087", Hint;
        /// A legal move after which several lines cannot be played, and could with another in its place.
        NotMeant = "P088", Error;
        /// A FEN with the wrong side to move.
        WrongTurn = "P089", Error;
        /// A wrong answer that a question names and that is no legal move there, or is right.
        NotAmiss = "P090", Warning;
        /// A question that hides most of its lesson until it is answered.
        HidesMuch = "P091", Hint;
        /// A move in a run of a comment that cannot be played after the one before it.
        NamedNowhere = "P093", Hint;
        /// A word such as `Choose` at the head of a comment that has lost its colon.
        NoColon = "P094", Hint;
        /// A move that a comment names as a threat or an idea and that neither side can play.
        NoThreat = "P095", Hint;
        /// A link that leads to a position after a question that is still open.
        LinksAhead = "P096", Hint;
        /// A word such as `Diagram:` within a paragraph, where it does nothing.
        WordWithin = "P097", Hint;
        /// Two choices at one position that readers cannot tell apart.
        ChoicesAlike = "P098", Hint;
        /// A link that has lost a bracket, or has a space in the middle.
        LinkBroken = "P099", Warning;
        /// A numeric glyph without a meaning, or with a sign close to it.
        OddGlyph = "P100", Hint;
        /// A game whose result is in its tag and not after its moves.
        NoResult = "P101", Hint;
        /// The name of an element, an attribute, a fence or its tag in a post that is nearly one of ours.
        NameAmiss = "P110", Warning;
        /// A paragraph of Markdown whose first move's number becomes that of a list.
        NumberLost = "P111", Hint;
        /// An element or a fence of a post that is not closed.
        NotClosed = "P112", Warning;
        /// Counts that a lesson names and that cannot be shown.
        NoSuchCounts = "P113", Warning;
        /// A quoted figure that readers see as it is written, or whose shares do not add to 100.
        FigureAmiss = "P114", Warning;
        /// Assessments that a lesson names and that cannot be shown.
        NoSuchAssessments = "P115", Warning;
        /// Times of a talk that readers see as they are written.
        TimesAmiss = "P116", Warning;
        /// Times of a talk that run backwards along a line.
        TimesBackwards = "P117", Warning;
        /// A move that loses a piece or more by force, or is mated, which the lesson does not show.
        LosesByForce = "P200", Warning;
        /// A move that loses two pawns or more by force, which the lesson does not show.
        LosesSome = "P201", Hint;
        /// A move in whose place another wins a piece or mates, which the lesson does not have.
        ChancePassed = "P202", Warning;
        /// A move that is marked as a mistake, and that nothing refutes.
        NotRefuted = "P203", Warning;
        /// A sign that says that a side is winning, where the other is ahead by a rook or mates.
        SignAgainst = "P204", Warning;
        /// Signs of one position, reached by two orders of moves, that cannot both be meant.
        SignsApart = "P205", Warning;
        /// Words that claim what a search or the board contradicts.
        ClaimAgainst = "P206", Warning;
        /// A sign whose meaning an engine's score lies far outside of.
        SignDisputed = "P210", Warning;
        /// A choice that an engine ranks far below another move.
        ChoiceDisputed = "P211", Warning;
        /// A move without a word by which an engine's score falls.
        Swing = "P212", Hint;
        /// Cues of captions that cannot be read, or come in the wrong order.
        BadCue = "P300", Warning;
        /// A talk of which nothing was understood.
        NothingHeard = "P301", Error;
        /// A talk whose first moves cannot be played where it is taken to begin.
        BeginsElsewhere = "P302", Warning;
        /// A move of a talk that may have been meant elsewhere.
        OtherPlace = "P303", Warning;
        /// A move of a talk that may be no move.
        MaybeTalk = "P304", Warning;
        /// Talk that may be a move.
        MaybeMove = "P305", Hint;
        /// A move that was heard otherwise.
        Misheard = "P306", Warning;
        /// Moves that nobody says, and without which the talk cannot go on.
        Supplied = "P307", Warning;
        /// A move of a talk that can be played nowhere.
        Unplaced = "P308", Hint;
        /// A talk that is too long to be heard to its end.
        HeardInPart = "P309", Warning;
        /// A move that is said and that the lesson does not hold.
        NotWritten = "P310", Hint;
        /// A move of the lesson that the talk does not say.
        NotSaid = "P311", Hint;
    }
}
