//! What is said in a recall: where it is, what is kept of it, and what comes back.

use super::moved::move_said;
use super::verdicts::comment;
use super::wording::counted;
use super::{Word, Words};
use crate::ask::open_question::How;
use crate::ask::recall::{Recall, Stage};
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::passage::Paragraph;
use crate::view::reader::recalling::{Keeping, Memory, Note, Recalling};
use crate::view::reader::state::{Notice, State};
use shakmaty::Position;

/// What is said about the state of a recall.
pub(crate) fn said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let Some(Recalling { recall, memory, .. }) = state.recalling() else {
        return String::new();
    };
    let word = match (recall.stage, &state.notice) {
        // The words before were about another position.
        _ if state.is_recalled_again() => {
            let mut place = words.get(Word::Start).to_owned();
            let mut played = String::new();
            if let Some(last) = state.last(lesson) {
                let number = words.numbered(lesson, state.node);
                place = words.fill(Word::After, &[("move", &number)]);
                played = move_said(words, &last) + ". ";
            }
            let text = words.fill(Word::BackAgain, &[("place", &place)]);
            return text + " " + &played + words.get(Word::YourMove);
        }
        (Stage::Asked, Some(Notice::Judged(judged))) if judged.settled.is_none() => Word::OnceMore,
        (Stage::Asked, _) => return line_said(words, lesson, state) + words.get(Word::YourMove),
        (Stage::Ends, _) => {
            let last = last_words(lesson, recall);
            return last + words.get(Word::LastLook);
        }
        (Stage::Told, Some(Notice::Judged(judged)))
            if judged.settled == Some(How::Shown) && !recall.is_back =>
        {
            Word::WillCome
        }
        (Stage::Told, _) => return String::new(),
        _ if recall.walks > 0 => {
            let account = recall.account(lesson);
            let again = account.again.len() as u32; // some nodes
            let (met, all) = (account.met, account.positions);
            let values = [
                ("count", &*met.to_string()),
                ("of", &all.to_string()),
                ("recalled", &account.recalled.to_string()),
                ("later", &account.later.to_string()),
                ("again", &again.to_string()),
            ];
            let text = match account.later {
                0 => words.fill(Word::Account, &values),
                _ => words.fill(Word::AccountLater, &values),
            };
            return match is_last(recall) {
                true => words.get(Word::LastWalk).to_owned() + " " + &text,
                false => text,
            };
        }
        _ => return due(words, memory),
    };
    words.get(word).to_owned()
}

/// The choice with which the walk has begun, where it is one of several.
pub(crate) fn line_said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let Some(id) = state.recalling().and_then(|recalling| recalling.line) else {
        return String::new();
    };
    let node = lesson.node(id);
    let is_one_of = |parent: NodeId| lesson.choices(parent).len() > 1;
    let is_choice = node.parent.is_some_and(is_one_of)
        && state
            .recalling()
            .is_some_and(|it| it.recall.side != node.position.turn());
    if !is_choice {
        return String::new();
    }
    let mut text = words.numbered(lesson, id);
    let condition = node.choice().map(Paragraph::words).unwrap_or_default();
    if !condition.is_empty() {
        text.push_str(", ");
        text.push_str(condition.trim_end_matches('.'));
    }
    words.fill(Word::ThisTime, &[("moves", &text)]) + " "
}

/// What the author says at the end of a line that the page's move has ended; what is said of the
/// reader's own move comes with its verdict.
pub(crate) fn last_words(lesson: &Lesson, recall: &Recall) -> String {
    let is_page = lesson.node(recall.node).position.turn() == recall.side;
    let mut text = comment(lesson, Some(recall.node).filter(|_| is_page));
    if !text.is_empty() {
        text.push(' ');
    }
    text
}

/// Whether every line has been met.
pub(crate) fn is_last(recall: &Recall) -> bool {
    recall.stage == Stage::Over && recall.ends().1 == 0
}

/// What is said about kept progress when no walk goes on, in a sentence of its own: what has just
/// happened to it, how much of the part it is, and when it comes back.
pub(crate) fn kept(words: &Words, memory: &Memory) -> String {
    let mut text = match (memory.keeping, memory.note) {
        (Keeping::Forgetting, _) => words.get(Word::ForgetAsk).to_owned(),
        (_, Some(note)) => note_said(words, note),
        (_, None) => String::new(),
    };
    if !memory.keeping.is_kept() || memory.known == 0 {
        return text;
    }
    let next = match memory.next {
        1 => Word::NextDay,
        _ => Word::NextDays,
    };
    let is_next = memory.next > 0 && memory.due == 0;
    for (word, count, is_said) in [
        (Word::KeptOf, memory.known, true),
        (next, memory.next, is_next),
    ] {
        if is_said {
            text.push_str(if text.is_empty() { "" } else { " " });
            text.push_str(&counted(words, word, [count, memory.positions, 0, 0]));
        }
    }
    text
}

/// What has just happened to the kept progress.
fn note_said(words: &Words, note: Note) -> String {
    let (word, count) = match note {
        Note::Kept => (Word::Kept, 0),
        Note::NotKept => (Word::NotKept, 0),
        Note::StoreNewer => (Word::StoreNewer, 0),
        Note::StoreCorrupt => (Word::StoreCorrupt, 0),
        Note::FileRead(count) => (Word::FileRead, count),
        Note::FileUnread => (Word::FileUnread, 0),
        Note::Forgotten => (Word::Forgotten, 0),
    };
    counted(words, word, [count, 0, 0, 0])
}

/// What is said before a recall about the progress kept from earlier ones.
fn due(words: &Words, memory: &Memory) -> String {
    let mut text = String::new();
    let all = match memory.due_all > memory.due {
        true => memory.due_all,
        false => 0,
    };
    let many = match memory.due {
        1 => Word::DueOne,
        _ => Word::DueMany,
    };
    for (word, count) in [
        (many, memory.due),
        (Word::DueAll, all),
        (Word::Changed, memory.changed),
    ] {
        if count > 0 {
            text.push_str(if text.is_empty() { "" } else { " " });
            text.push_str(&counted(words, word, [count, 0, 0, 0]));
        }
    }
    text
}
