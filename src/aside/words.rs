//! The words of answers to asides in English, by the names that a language's file uses too.

use crate::text::table;

table! {
    White "asideWhite" "White";
    Black "asideBlack" "Black";
    Mated "asideMated" "{side} is mated in {count}: {line}.";
    Loses "asideLoses" "Loses {men} by force: {line}.";
    Wins "asideWins" "Wins {men} by force: {line}.";
    Nothing "asideNothing" "Nothing is lost by force: every reply was tried {depth} half-moves deep, captures to their end. Whether the move is good, that cannot say.";
    Stays "asideStays" "What was taken before is not won back: {men}. Nothing more is lost by force: every reply was tried {depth} half-moves deep, captures to their end. Whether the move is good, that cannot say.";
    Only "asideOnly" "Only {depth} half-moves were searched.";
    Own "asideOwn" "This is the lesson\u{2019}s own position after {move}, by another order of moves.";
    There "asideThere" "go there";
    Looks "asideLooks" "searching\u{2026}";
    Depth "asideDepth" "Every reply was tried {depth} half-moves deep.";
    Source "asideSource" "Searched by this page, not written by your teacher.";
    And "asideAnd" "{men} and {more}";
    For "asideFor" "{men} for {taken}";
    Exchange "asideExchange" "the exchange";
    Queen "asideQueen" "the queen";
    Rook "asideRook" "a rook";
    Bishop "asideBishop" "a bishop";
    Knight "asideKnight" "a knight";
    Pawn "asidePawn" "a pawn";
    Queens "asideQueens" "{count} queens";
    Rooks "asideRooks" "{count} rooks";
    Bishops "asideBishops" "{count} bishops";
    Knights "asideKnights" "{count} knights";
    Pawns "asidePawns" "{count} pawns";
    Much "asideMuch" "as much as {count} pawns";
}
