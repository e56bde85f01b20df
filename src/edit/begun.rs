//! The text of a new lesson.

use super::asked::{Edit, Refused, Why};
use super::form::Form;
use super::make::edit;
use crate::lesson::rules::{EnPassantForm, fen};
use crate::lesson::{beginning, sans};
use crate::markup::escape;
use crate::notation::printer::Printer;
use crate::post::in_element;
use shakmaty::{Chess, Color};

/// A new lesson with a title, for one side if that is said, after some moves or from a FEN.
///
/// # Errors
/// Where these cannot be read or played.
pub fn begun(form: Form, title: &str, side: Option<Color>, from: &str) -> Result<String, Refused> {
    let help = "write moves as in \"1.e4 c5\", or a FEN of six fields";
    let (start, moves) =
        beginning(from).map_err(|reason| Refused::new(Why::NoMove, reason, help))?;
    let mut head = Printer::default();
    if form == Form::Pgn {
        head.tag("Event", title);
    }
    match side {
        Some(Color::White) => head.tag("Side", "white"),
        Some(Color::Black) => head.tag("Side", "black"),
        None => {}
    }
    if start != Chess::default() {
        head.tag("SetUp", "1");
        head.tag("FEN", &fen(&start, EnPassantForm::Legal));
    }
    let tags = head.finish();
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
            let notation = in_element(lesson.trim_end());
            let mut title_of = String::new();
            escape(title, &mut title_of);
            format!(
                "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>{title_of}</title>\n\
                 <script src=\"plyline.js\" defer></script>\n<h1>{title_of}</h1>\n<ply-line>\n<pre>\n{notation}\n</pre>\n</ply-line>\n"
            )
        }
    })
}
