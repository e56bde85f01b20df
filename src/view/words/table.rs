//! Every word in English, by its key; the page's languages name the same keys.

use crate::text::split;

macro_rules! words {
    ($($name:ident $key:literal $english:literal;)* @program $($more:ident $named:literal $text:literal;)*) => {
        /// The key of a text.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Word {
            $($name,)*
            $(#[cfg(not(target_family = "wasm"))] $more,)*
        }

        /// Every key by its name in a language's file, and its English text.
        pub const TEXTS: &[(&str, &str)] = &[
            $(($key, $english),)*
            $(#[cfg(not(target_family = "wasm"))] ($named, $text),)*
        ];

        // In the page each text of a table costs its place too, and the names cost a kilobyte: so
        // the texts are one, and the names are numbers.
        #[cfg(target_family = "wasm")]
        pub(super) const ENGLISH: &str = concat!($($english, "\0"),*);
        #[cfg(not(target_family = "wasm"))]
        pub(super) const ENGLISH: &str = concat!($($english, "\0",)* $($text, "\0"),*);
        static NAMES: [u16; TEXTS.len()] = [
            $(number($key),)*
            $(#[cfg(not(target_family = "wasm"))] number($named),)*
        ];
    };
}

/// A number for a name: FNV-1a, folded to 16 bits.
const fn number(name: &str) -> u16 {
    let bytes = name.as_bytes();
    let (mut hash, mut at) = (0x811c_9dc5_u32, 0);
    while at < bytes.len() {
        hash = (hash ^ bytes[at] as u32).wrapping_mul(0x0100_0193);
        at += 1;
    }
    (hash ^ (hash >> 16)) as u16
}

/// Where a name is among all of them.
pub(super) fn index(name: &str) -> Option<usize> {
    let wanted = number(name);
    NAMES.iter().position(|&known| known == wanted)
}

/// The English text of a word.
pub(super) fn english(word: Word) -> &'static str {
    let mut texts = split(ENGLISH, b'\0');
    texts.nth(word as usize).unwrap_or_default()
}

words! {
    // Buttons and names of parts.
    Main "main" "main";
    Back "back" "back";
    Next "next" "next";
    Top "top" "start";
    Turn "turn" "flip";
    Map "map" "map";
    Fold "fold" "hide board";
    Unfold "unfold" "show board";
    MainOnly "mainOnly" "main line only";
    AllLines "allLines" "all lines";
    Aloud "aloud" "read comments";
    Quiet "quiet" "comments on request";
    OneLine "oneLine" "1 line: ";
    Lines "lines" "{count} lines: ";
    Home "home" "to the lesson";
    Close "close" "close";
    BackTo "backTo" "back to";
    Rejoin "rejoin" "where line {label} began";
    MainEnds "mainEnds" "the main line ends here";
    Outline "outline" "Variations";
    NextMoves "nextMoves" "Next moves";
    Controls "controls" "Step through the line";
    Board "board" "Board";
    Line "line" "line {label}";
    Choose "choose" "Recommended";
    Choice "choice" "The choice";
    Unread "unread" "This part of the notation could not be read";
    Notes "notes" "For the author";
    Failed "failed" "The board cannot be shown here; the moves are below as they were written.";
    FailedBare "failedBare" "The board cannot be shown here.";
    Ask "ask" "ask";
    Desk "desk" "Nf3, or: what attacks f5";
    Field "field" "A move such as Nf3, or a question such as \u{201c}what attacks f5\u{201d}";
    Enter "enter" "enter";
    Questions "questions" "Questions about the position";
    Promotion "promotion" "The pawn becomes a";
    Take "take" "Take it along";
    CopyFen "copyFen" "copy the position (FEN)";
    CopyPgn "copyPgn" "copy the lesson (PGN)";
    SavePgn "savePgn" "save the lesson (PGN)";
    Copied "copied" "Copied.";
    NotCopied "notCopied" "The browser did not allow copying. This is the position: {fen}";
    CopyLink "copyLink" "link";
    LinkHere "linkHere" "copy the link to this position";
    NotLinked "notLinked" "The browser did not allow copying. This is the link: {link}";
    NoPlace "noPlace" "The address names \u{201c}{run}\u{201d}, which is no place in this lesson.";
    InText "inText" "in the lesson";
    ByHand "byHand" "Tap a piece and then its square, or hold it and drag it.";
    Games "games" "Lessons in this file";
    Game "game" "Lesson {number}";
    // Questions.
    Question "question" "Question";
    YourMove "yourMove" "Your move.";
    GiveHint "giveHint" "hint";
    ShowMe "showMe" "show me";
    Again "again" "again";
    OpenAll "openAll" "open all answers";
    Answers "answers" "Answers";
    RightSaid "rightSaid" "Right: {move}.";
    AlsoRight "alsoRight" "Also right: {moves}.";
    ReplySaid "replySaid" "The reply is {move}.";
    JoinsSaid "joinsSaid" "The lesson reaches this position by {move}.";
    FoundSaid "foundSaid" "{count} of {of} found.";
    FairSaid "fairSaid" "Sound: {move} is in the lesson too.";
    PrefersSaid "prefersSaid" "The lesson prefers {moves}.";
    WeakerSaid "weakerSaid" "Weaker: {move}.";
    AgainstSaid "againstSaid" "\u{201c}next\u{201d} shows how it goes on.";
    BackSaid "backSaid" "Back at the question.";
    OtherSaid "otherSaid" "{move} is not an answer of this lesson.";
    NotSaid "notSaid" "No: {move}{words}";
    StandsSaid "standsSaid" "It leads to the position after {move}.";
    AnswerIs "answerIs" "The answer: {moves}.";
    IdeaMate "ideaMate" "There is a mate.";
    IdeaUnguarded "ideaUnguarded" "Something can be taken, and nothing takes back.";
    IdeaAttacksTwo "ideaAttacksTwo" "One move attacks two pieces.";
    IdeaCheck "ideaCheck" "A check is possible.";
    IdeaPinned "ideaPinned" "A piece is pinned, and can be attacked.";
    IdeaGuards "ideaGuards" "Something is attacked and has no guard.";
    HintPiece "hintPiece" "The {piece} on {square} moves.";
    HintSquare "hintSquare" "It goes to {square}.";
    HintMove "hintMove" "The move is {move}.";
    AgainstAfter "againstAfter" "weaker: after {move}";
    ToQuestion "toQuestion" "to the question";
    // Recall.
    RecallWhite "recallWhite" "White from memory; the page plays Black.";
    RecallBlack "recallBlack" "Black from memory; the page plays White.";
    Begin "begin" "begin";
    GoOn "goOn" "go on";
    NextWalk "nextWalk" "next walk";
    Stop "stop" "stop";
    OnceMore "onceMore" "Try once more.";
    LastLook "lastLook" "The line ends here. What was missed comes back now.";
    ThisTime "thisTime" "This time: {moves}.";
    BackAgain "backAgain" "Now back to one that was missed: {place}.";
    WillCome "willCome" "This position comes back before the walk ends.";
    NotAwaited "notAwaited" "No move is expected now: \u{201c}{word}\u{201d} leads on.";
    LastWalk "lastWalk" "That was the last walk.";
    Account "account" "Positions met: {count} of {of}; recalled: {recalled}; to come again: {again}.";
    AccountLater "accountLater" "Positions met: {count} of {of}; recalled: {recalled}; recalled later: {later}; to come again: {again}.";
    HeldSaid "heldSaid" "{count} of {of} recalled";
    NotMet "notMet" "not met";
    ToCome "toCome" "to come again: your move after ";
    HeldKey "heldKey" "\u{25cf} met; \u{25cb} not met; \u{25cc} to come again; after each line: positions recalled";
    DueOne "dueOne" "1 position to come back to today.";
    DueMany "dueMany" "{count} positions to come back to today.";
    DueAll "dueAll" "In all lessons together: {count}.";
    Changed "changed" "The author has changed the choice at {count} of them: they start again.";
    KeptOf "keptOf" "Remembered: {count} of {of} positions.";
    NextDay "nextDay" "The next ones come back tomorrow.";
    NextDays "nextDays" "The next ones come back in {count} days.";
    Remember "remember" "Remember my progress on this device";
    Remembered "remembered" "Remembered on this device";
    SaveFile "saveFile" "save progress as a file";
    LoadFile "loadFile" "read a file";
    Forget "forget" "forget my progress";
    ForgetAsk "forgetAsk" "Forget all that is kept here, of other lessons too? Only a file that you have saved can bring it back.";
    KeepIt "keepIt" "keep it";
    ForgetIt "forgetIt" "forget it";
    Kept "kept" "Kept only in this browser, until you forget it here. Some browsers delete it after a week without a visit: a saved file stays.";
    NotKept "notKept" "This browser cannot keep it: your progress lasts while this page is open.";
    StoreNewer "storeNewer" "Progress of a newer plyline is stored here and not changed: yours lasts while this page is open.";
    StoreCorrupt "storeCorrupt" "What was kept here could not be read. It is set aside, and you start again.";
    FileRead "fileRead" "Positions read: {count}. Nothing was lost.";
    FileUnread "fileUnread" "This file holds no progress that can be read here.";
    Forgotten "forgotten" "Forgotten.";
    // Captions.
    After "after" "after {move}";
    AsideAfter "asideAfter" "not in the lesson: after {move}";
    ToldAfter "toldAfter" "from the comment on {at}: after {move}";
    Start "start" "the start";
    WhiteToMove "whiteToMove" ", White to move";
    BlackToMove "blackToMove" ", Black to move";
    Checkmated "checkmated" ", checkmate";
    Stalemated "stalemated" ", stalemate";
    // Pieces.
    King "king" "king";
    Queen "queen" "queen";
    Rook "rook" "rook";
    Bishop "bishop" "bishop";
    Knight "knight" "knight";
    Pawn "pawn" "pawn";
    WhiteKing "whiteKing" "white king";
    WhiteQueen "whiteQueen" "white queen";
    WhiteRook "whiteRook" "white rook";
    WhiteBishop "whiteBishop" "white bishop";
    WhiteKnight "whiteKnight" "white knight";
    WhitePawn "whitePawn" "white pawn";
    BlackKing "blackKing" "black king";
    BlackQueen "blackQueen" "black queen";
    BlackRook "blackRook" "black rook";
    BlackBishop "blackBishop" "black bishop";
    BlackKnight "blackKnight" "black knight";
    BlackPawn "blackPawn" "black pawn";
    // Said of a still diagram, and the marks of a comment too.
    EmptyBoard "emptyBoard" "an empty board";
    Marked "marked" ". Marked: ";
    Missing "missing" "What belongs here cannot be shown.";
    // Said of a square.
    Cell "cell" "{square}, {what}";
    Empty "empty" "empty";
    Held "held" ", in hand";
    CanGo "canGo" ", can be reached";
    // Said of moves.
    Moves "moves" "{piece} from {from} to {to}";
    Takes "takes" "{piece} from {from} takes on {to}";
    WhiteCastlesShort "whiteCastlesShort" "White castles on the king\u{2019}s side";
    WhiteCastlesLong "whiteCastlesLong" "White castles on the queen\u{2019}s side";
    BlackCastlesShort "blackCastlesShort" "Black castles on the king\u{2019}s side";
    BlackCastlesLong "blackCastlesLong" "Black castles on the queen\u{2019}s side";
    WhitePasses "whitePasses" "White passes";
    BlackPasses "blackPasses" "Black passes";
    Becomes "becomes" ", becomes a {piece}";
    Check "check" ", check";
    Mate "mate" ", checkmate";
    HasComment "hasComment" ", with a comment.";
    AloudSaid "aloudSaid" "Comments are read after each move, until \u{201c}{word}\u{201d}.";
    QuietSaid "quietSaid" "Comments are read on request.";
    SameAs "sameAs" "The same position as after {move}";
    LineEnds "lineEnds" "The line ends here.";
    Several "several" "{count} moves go on from here: {moves}.";
    AsideSaid "asideSaid" "Not in the lesson.";
    ToldSaid "toldSaid" "From a comment.";
    AtStart "atStart" "The start of the lesson.";
    And "and" "and";
    WhiteBelow "whiteBelow" "White is below.";
    BlackBelow "blackBelow" "Black is below.";
    // Answers.
    Describe "describe" "describe the position";
    Comment "comment" "read the comment";
    LastMove "lastMove" "the last move";
    MovesHere "movesHere" "the moves from here";
    Where "where" "where this is";
    White "white" "White: ";
    Black "black" "; Black: ";
    NoComment "noComment" "There is no comment here.";
    NoMoves "noMoves" "No move of the lesson goes on from here.";
    OnMain "onMain" "On the main line, after {move}.";
    OnLine "onLine" "On line {label}, after {move}.";
    SinceThen "sinceThen" "Moves since then, not in the lesson: {count}.";
    NothingAttacks "nothingAttacks" "Nothing attacks {square}.";
    Attacks "attacks" "{square} is attacked by {pieces}.";
    NothingGuards "nothingGuards" "Nothing guards {square}.";
    Guards "guards" "{square} is guarded by {pieces}.";
    NotUnderstood "notUnderstood" "\u{201c}{text}\u{201d} is no move, and no question that can be answered here. \u{201c}{word}\u{201d} says what is.";
    Help "help" "help";
    HelpSaid "helpSaid" "Ask for example: what is on e4, what attacks f5, what guards d4, where is the white queen, what is pinned, moves of the knight on f3, material. Type a move such as Nf3, or: {list}.";
    MapSaid "mapSaid" "The map is open.";
    NoMapSaid "noMapSaid" "The map is closed.";
    FoldSaid "foldSaid" "The board is hidden.";
    UnfoldSaid "unfoldSaid" "The board is shown.";
    // What a language's questions are made of, as the English list in view/reader/command.rs.
    Vocabulary "vocabulary" "";
    NotThere "notThere" "Not on the board: {piece}.";
    PinnedBy "pinnedBy" "{piece} is pinned to the {to} by {by}.";
    NotPinned "notPinned" "{piece} is not pinned.";
    NothingPinned "nothingPinned" "Nothing is pinned.";
    IsPinned "isPinned" " (pinned to the {to})";
    NotTurn "notTurn" "The other side is to move.";
    NoneMoves "noneMoves" "No move is legal.";
    Plurals "plurals" "pawns knights bishops rooks queens";
    InPawns "inPawns" "Counted 1, 3, 3, 5 and 9, White has {white} and Black {black}: ";
    WhiteAhead "whiteAhead" "White is {count} ahead.";
    BlackAhead "blackAhead" "Black is {count} ahead.";
    NoneAhead "noneAhead" "level.";
    MoveMeans "moveMeans" "{move}: {said}.";
    ReachSaid "reachSaid" "It can go to {squares}.";
    NoReachSaid "noReachSaid" "It cannot move.";
    // Marks.
    Arrow "arrow" "the arrow from {from} to {to}";
    Route "route" "the way from {from} through {by} to {to}";
    Strong "strong" ", a strong square";
    Weak "weak" ", a weak square";
    ToPlay "toPlay" ", a plan to play";
    ToStop "toStop" ", a plan to stop";
    // Signs after a move, and the list of those that a lesson uses.
    Signs "signs" "Signs";
    Good "good" ", a good move";
    Mistake "mistake" ", a mistake";
    VeryGood "veryGood" ", a very good move";
    Blunder "blunder" ", a blunder";
    Thought "thought" ", worth a thought";
    Doubtful "doubtful" ", a doubtful move";
    Only "only" ", the only move";
    Level "level" ", about level";
    Unclear "unclear" ", unclear";
    WhiteLittle "whiteLittle" ", White stands a little better";
    BlackLittle "blackLittle" ", Black stands a little better";
    WhiteBetter "whiteBetter" ", White stands better";
    BlackBetter "blackBetter" ", Black stands better";
    WhiteWins "whiteWins" ", White stands to win";
    BlackWins "blackWins" ", Black stands to win";
    // The map.
    MapSays "mapSays" "Map of the lines. Everything it shows is in the list of variations too.";
    MapKey "mapKey" "large: here; thick: the way to it; full: read; open: not yet; dotted: the same position";
    // The recap.
    RecapWhite "recapWhite" "Recap for White";
    RecapBlack "recapBlack" "Recap for Black";
    RecapAfter "recapAfter" "after";
    WhitePlays "whitePlays" "White plays";
    BlackPlays "blackPlays" "Black plays";
    QuestionHere "questionHere" "There is a question here.";
    // Why a try is refused. English says more: the checker's own sentence.
    CannotReach "P012" "";
    Ambiguous "P013" "";
    PassInCheck "P018" "";
    NoSuchPiece "P031" "";
    Blocked "P032" "";
    Pinned "P033" "";
    CheckStays "P034" "";
    KingAttacked "P035" "";
    OwnPiece "P036" "";
    CannotCastle "P037" "";
    PromotionMissing "P038" "Say what the pawn becomes: write =Q, =R, =B or =N after the move.";
    NothingToTake "P039" "";
    WrongSide "P044" "";
    GameOver "P056" "";

    // Words that only the program writes.
    @program
    AlsoIn "alsoIn" "Also in {post}";
}
