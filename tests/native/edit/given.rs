//! What the tests of edits share.

use plyline::edit::{Changed, Edit, Refused, edit, spliced};

/// Moves as they are written in a row.
pub fn run(moves: &str) -> Vec<String> {
    moves.split_whitespace().map(str::to_owned).collect()
}

pub fn keep(at: &str, moves: &str) -> Edit {
    Edit::Keep {
        at: run(at),
        moves: run(moves),
    }
}

pub fn change(at: &str, word: &str) -> Edit {
    Edit::Change {
        at: run(at),
        moves: run(word),
    }
}

pub fn comment(at: &str, was: &str, text: &str) -> Edit {
    Edit::Comment {
        at: run(at),
        nth: 0,
        was: was.to_owned(),
        text: text.to_owned(),
    }
}

pub fn sign(at: &str, nags: &[u8]) -> Edit {
    Edit::Sign {
        at: run(at),
        nags: nags.to_vec(),
    }
}

pub fn drop(at: &str) -> Edit {
    Edit::Drop { at: run(at) }
}

pub fn lift(at: &str) -> Edit {
    Edit::Lift { at: run(at) }
}

pub fn paste(at: &str, text: &str) -> Edit {
    Edit::Paste {
        at: run(at),
        text: text.to_owned(),
    }
}

#[track_caller]
pub fn made(text: &str, wanted: &Edit) -> Changed {
    match edit(text, 0, wanted) {
        Ok(changed) => {
            assert_eq!(spliced(text, &changed.splices), changed.text);
            changed
        }
        Err(refused) => panic!("{wanted:?} of {text:?}: {refused:?}"),
    }
}

/// Asserts what a text is after an edit, and that it is changed in one stretch.
#[track_caller]
pub fn becomes(text: &str, wanted: &Edit, after: &str) {
    let changed = made(text, wanted);
    assert_eq!(changed.text, after);
    assert!(changed.splices.len() <= 1, "{:?}", changed.splices);
}

#[track_caller]
pub fn refused(text: &str, wanted: &Edit) -> Refused {
    edit(text, 0, wanted).expect_err("a reason")
}
