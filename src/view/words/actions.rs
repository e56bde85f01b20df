//! All that can be done by a button or a word, a row each: its word on the button, its name in the
//! page, whether it can be typed, and what it means.

use super::{Word, Words, english};
use crate::lesson::Lesson;
use crate::notation::Letters;
use crate::text::join;
use crate::view::reader::command::read;
use crate::view::reader::intent::{Command, Intent, Switch};
use crate::view::reader::state::State;
use crate::view::reader::update::update;

/// What can be done, in one row.
#[derive(Debug)]
pub struct Row {
    /// What it is.
    pub action: Action,
    /// The word on its button, which is also typed if it can be typed.
    pub word: Word,
    /// Its name in the page. Two with one name mean the same.
    pub name: &'static str,
    /// Whether the word can be typed.
    pub typed: Typed,
    /// What a reader means by it; none if the page's script does it.
    pub intent: Option<Intent>,
}

/// Whether the word on a button can be typed in place of a move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    /// It can.
    Yes,
    /// It can, and is listed only where there is a question.
    AtQuestion,
    /// It can in a recall.
    InRecall,
    /// It cannot.
    No,
}

macro_rules! actions {
    ($($action:ident $word:ident $name:literal $typed:ident $intent:expr;)*) => {
        /// What can be done by a button.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Action { $($action,)* }

        /// One row for each, in their order; what can be typed is listed in this order too.
        pub const ACTIONS: &[Row] = &[$(Row {
            action: Action::$action,
            word: Word::$word,
            name: $name,
            typed: Typed::$typed,
            intent: $intent,
        },)*];
    };
}

actions! {
    // action, word on the button, name, whether it can be typed, intent
    ToQuestion ToQuestion "home" AtQuestion Some(Intent::Home);
    Hint GiveHint "hint" AtQuestion Some(Intent::Hint);
    Show ShowMe "show" AtQuestion Some(Intent::Show(None));
    Again Again "again" AtQuestion Some(Intent::Again);
    Back Back "back" Yes Some(Intent::Back);
    Next Next "next" Yes Some(Intent::Next(None));
    Top Top "top" Yes Some(Intent::Top);
    Home Home "home" Yes Some(Intent::Home);
    Turn Turn "turn" Yes Some(Intent::Turn);
    Map Map "map" Yes Some(Intent::Map);
    Desk Ask "desk" Yes Some(Intent::Desk);
    Fold Fold "shut" Yes Some(Intent::Shut);
    Unfold Unfold "shut" Yes Some(Intent::Shut);
    MainOnly MainOnly "alone" Yes Some(Intent::Alone);
    AllLines AllLines "alone" Yes Some(Intent::Alone);
    Aloud Aloud "aloud" Yes Some(Intent::Aloud(true));
    Quiet Quiet "quiet" Yes Some(Intent::Aloud(false));
    Describe Describe "describe" Yes Some(Intent::Ask(Command::Describe));
    Comment Comment "comment" Yes Some(Intent::Ask(Command::Comment));
    LastMove LastMove "last" Yes Some(Intent::Ask(Command::LastMove));
    MovesHere MovesHere "moves" Yes Some(Intent::Ask(Command::Moves));
    Where Where "where" Yes Some(Intent::Ask(Command::Where));
    Help Help "help" Yes Some(Intent::Ask(Command::Help));
    OpenAll OpenAll "open" No Some(Intent::OpenAll);
    Close Close "close" No Some(Intent::Release);
    // With what is in the field.
    Enter Enter "enter" No Some(Intent::Typed(String::new()));
    // In a recall.
    GoOn GoOn "next" InRecall Some(Intent::Next(None));
    NextWalk NextWalk "next" InRecall Some(Intent::Next(None));
    Stop Stop "stop" InRecall Some(Intent::Stop);
    Begin Begin "begin" No None;
    BeginAgain Again "begin" No None;
    Remember Remember "keep" No None;
    Remembered Remembered "keep" No None;
    SaveFile SaveFile "file" No None;
    LoadFile LoadFile "load" No None;
    Forget Forget "forget" No None;
    // Shown in its place when it was pressed, so that a second press at once keeps the progress.
    KeepIt KeepIt "spare" No None;
    ForgetIt ForgetIt "erase" No None;
    // The board that follows the reader's eye: back to its place, with the reader or without.
    InText InText "text" No None;
    Leave Close "leave" No None;
    // What can be taken along.
    CopyLink CopyLink "link" No None;
    CopyFen CopyFen "fen" No None;
    CopyPgn CopyPgn "pgn" No None;
    SavePgn SavePgn "save" No None;
}

impl Action {
    /// Its row.
    pub fn row(self) -> &'static Row {
        &ACTIONS[self as usize] // one row for each
    }
}

/// The questions about the position that need no square.
pub const QUESTIONS: [Action; 5] = [
    Action::Describe,
    Action::Comment,
    Action::LastMove,
    Action::MovesHere,
    Action::Where,
];

/// The intent of this name; none for an unknown name, or if the page does it.
pub fn named(name: &str) -> Option<Intent> {
    let row = ACTIONS.iter().find(|row| row.name == name)?;
    row.intent.clone()
}

/// What a reader means who types this: a step or a question, in the page's language or in
/// English; else it is a move to try.
pub fn meant(words: &Words, text: &str) -> Intent {
    let plain = text.trim().trim_end_matches(['?', '.', '!']).trim_end();
    for row in ACTIONS {
        let english = english(row.word);
        let is_meant = [words.get(row.word), english]
            .iter()
            .any(|word| word.eq_ignore_ascii_case(plain));
        if let Some(intent) = &row.intent
            && row.typed != Typed::No
            && is_meant
        {
            let to = matches!(row.action, Action::Fold | Action::MainOnly);
            return match intent {
                Intent::Map => Intent::Switch(Switch::Map, None),
                Intent::Shut => Intent::Switch(Switch::Shut, Some(to)),
                Intent::Alone => Intent::Switch(Switch::Alone, Some(to)),
                other => other.clone(),
            };
        }
    }
    match read(plain, words.get(Word::Vocabulary)) {
        // What ends with a question mark is no move.
        Some(Command::Named(_, square)) if text.trim_end().ends_with('?') => {
            Intent::Ask(Command::On(square))
        }
        Some(command) => Intent::Ask(command),
        None => Intent::Typed(text.to_owned()),
    }
}

/// The same, if it can be done; otherwise the reader would get no answer.
pub fn meant_at(words: &Words, lesson: &Lesson, state: &State, text: &str) -> Intent {
    match meant(words, text) {
        intent if works(lesson, state, &intent) => intent,
        _ => Intent::Typed(text.to_owned()),
    }
}

/// Whether what a button does can be done. In a lesson all can, some time; a quiz and a recall have
/// no map, keep their board, and may have no way on or back.
fn works(lesson: &Lesson, state: &State, intent: &Intent) -> bool {
    if !state.is_apart() {
        return *intent != Intent::Stop;
    }
    let led_to = || update(lesson, state, intent.clone(), Letters::ENGLISH).1;
    let is_seen = matches!(intent, Intent::Map | Intent::Shut | Intent::Switch(..));
    !is_seen && !led_to().is_empty()
}

/// All that can be typed here besides moves and questions about the pieces, in the page's language;
/// at a question what is its own too.
pub fn names(words: &Words, lesson: &Lesson, state: &State) -> String {
    let has_question = state.is_apart() || state.asking().is_some();
    // Of two names for one way only the one on its button, and of a switch the other state.
    let other = match state.waits() {
        true => Action::Home,
        false => Action::ToQuestion,
    };
    let aloud = match state.aloud {
        true => Action::Aloud,
        false => Action::Quiet,
    };
    let mut list = Vec::new();
    for row in ACTIONS {
        let is_listed = match row.typed {
            Typed::Yes => true,
            Typed::AtQuestion => has_question,
            Typed::InRecall => state.recalling().is_some(),
            Typed::No => false,
        };
        if let Some(intent) = &row.intent
            && is_listed
            && row.action != other
            && row.action != aloud
            && works(lesson, state, intent)
        {
            list.push(words.get(row.word).to_owned());
        }
    }
    join(&list, ", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::{Asked, Pieces};
    use shakmaty::Square;

    #[test]
    fn each_action_has_its_row_and_one_name_means_one_thing() {
        for (at, row) in ACTIONS.iter().enumerate() {
            assert_eq!(row.action as usize, at);
            assert_eq!(row.action.row().name, row.name);
            assert_eq!(named(row.name), row.intent, "{}", row.name);
        }
    }

    #[test]
    fn an_unknown_name_means_nothing() {
        for name in ["", "nonsense", "Again", "keep"] {
            assert_eq!(named(name), None, "{name}");
        }
    }

    #[test]
    fn the_name_of_a_question_asks_it_when_it_is_typed_too() {
        for action in QUESTIONS {
            let row = action.row();
            assert_eq!(read(row.name, "").map(Intent::Ask), row.intent);
        }
    }

    #[test]
    fn what_stands_on_a_button_can_be_typed_in_the_language_of_the_page_or_in_english() {
        let german = |(key, text): (&str, &str)| (key.to_owned(), text.to_owned());
        let words = Words::with(
            [
                ("back", "zur\u{fc}ck"),
                ("describe", "die Stellung beschreiben"),
                ("vocabulary", "- an auf steht;A greift;T was"),
            ]
            .map(german),
        );
        let attacks = Intent::Ask(Command::About(Asked::Attackers, Pieces::on(Square::F5)));
        let cases = [
            ("Zur\u{fc}ck", Intent::Back),
            ("back", Intent::Back),
            ("die Stellung beschreiben.", Intent::Ask(Command::Describe)),
            ("describe", Intent::Ask(Command::Describe)),
            ("Was steht auf e4?", Intent::Ask(Command::On(Square::E4))),
            ("was greift Felix 5 an?", attacks.clone()),
            ("what attacks f5", attacks),
            ("Nf3", Intent::Typed("Nf3".to_owned())),
            ("", Intent::Typed(String::new())),
        ];
        for (text, intent) in cases {
            assert_eq!(meant(&words, text), intent, "{text}");
        }
    }
}
