//! The words of assessments in English, by the names that a language's file uses too.

use crate::text::table;

table! {
    Title "engine" "engine";
    For "engineFor" "{score} for {side}";
    Level "engineLevel" "0.0";
    Mate "engineMate" "mate in {count} for {side}";
    Mated "engineMated" "mate";
    Least "engineLeast" "at least {score}";
    Most "engineMost" "at most {score}";
    Depth "engineDepth" ", depth {depth}";
    White "engineWhite" "White";
    Black "engineBlack" "Black";
    Source "engineSource" "source";
    By "engineBy" "{name}; {limit}; {date}.";
    Nodes "engineNodes" "{n} positions searched for each";
    Half "engineHalf" "depth {n} for each";
    Seconds "engineSeconds" "{n} s for each";
    Line "engineLine" "Its line: {line}.";
    Only "engineOnly" "Computed, not written by your teacher.";
}
