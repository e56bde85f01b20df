//! The text of a new lesson.

use super::asked::{Edit, Refused, Why};
use super::make::edit;
use crate::lesson::rules::{EnPassantForm, fen};
use crate::lesson::{beginning, sans};
use crate::markup::escape;
use shakmaty::{Chess, Color};

/// What kind of file it is to be in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Pgn,
    Markdown,
    Html,
}

/// A new lesson with a title, for one side if that is said, after some moves or from a FEN.
///
/// # Errors
/// Where these cannot be read or played.
pub fn begun(form: Form, title: &str, side: Option<Color>, from: &str) -> Result<String, Refused> {
    let help = "write moves as in \"1.e4 c5\", or a FEN of six fields";
    let (start, moves) =
        beginning(from).map_err(|reason| Refused::new(Why::NoMove, reason, help))?;
    let mut tags = String::new();
    if form == Form::Pgn {
        // A tag's value has a backslash before quotes and backslashes (PGN standard, section 7).
        let title = title.replace('\\', "\\\\").replace('"', "\\\"");
        tags += &format!("[Event \"{title}\"]\n");
    }
    match side {
        Some(Color::White) => tags += "[Side \"white\"]\n",
        Some(Color::Black) => tags += "[Side \"black\"]\n",
        None => {}
    }
    if start != Chess::default() {
        let fen = fen(&start, EnPassantForm::Legal);
        tags += &format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n");
    }
    let gap = if tags.is_empty() { "" } else { "\n" };
    let keep = Edit::Keep {
        at: Vec::new(),
        moves: sans(&start, &moves),
    };
    let lesson = edit(&format!("{tags}{gap}*\n"), 0, &keep)?.text;
    Ok(match form {
        Form::Pgn => lesson,
        Form::Markdown => format!("# {title}\n\n```pgn\n{lesson}```\n"),
        Form::Html => {
            let (mut title_of, mut notation) = (String::new(), String::new());
            escape(title, &mut title_of);
            escape(lesson.trim_end(), &mut notation);
            // In the text of an element a quotation mark needs no entity, and authors type it.
            let quote = {
                let mut entity = String::new();
                escape("\"", &mut entity);
                entity
            };
            let notation = notation.replace(&quote, "\"");
            format!(
                "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>{title_of}</title>\n\
                 <script src=\"plyline.js\" defer></script>\n<h1>{title_of}</h1>\n<ply-line>\n<pre>\n{notation}\n</pre>\n</ply-line>\n"
            )
        }
    })
}
