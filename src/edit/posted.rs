//! An edit of a lesson within a page: the change of its notation becomes one of the file.

use super::asked::{Changed, Edit, Refused, Splice, Why, smallest, spliced};
use super::make::edit;
use crate::post::{self, Kind, Unfit};
use crate::text::Source;

/// Makes an edit of the lesson of that number, from 0, of a file of Markdown or HTML. What comes of it is about the
/// file: the places of the splices, and the text.
///
/// # Errors
/// Where it cannot be made, or the lesson or the rest of the file would then not mean what it is to mean.
pub fn edit_post(text: &str, kind: Kind, lesson: usize, wanted: &Edit) -> Result<Changed, Refused> {
    let source = Source::new("page", text);
    let own = post::own(&source, kind, lesson).map_err(unfit)?;
    let made = edit(&own.text, 0, wanted)?;
    let changes = made.splices.iter().map(|it| (it.span, it.text.clone()));
    let changes: Vec<_> = changes.collect();
    let changes = own
        .changes(&source, kind, &changes, &made.text)
        .map_err(unfit)?;
    let splices = changes
        .into_iter()
        .map(|(span, text)| Splice { span, text });
    let splices: Vec<Splice> = splices.map(|it| smallest(source.text(), it)).collect();
    Ok(Changed {
        text: spliced(text, &splices),
        splices,
        ..made
    })
}

/// Why a lesson of a page cannot be changed, for people.
pub fn unfit(unfit: Unfit) -> Refused {
    let (why, reason, help) = match unfit {
        Unfit::Missing => (
            Why::NotInFile,
            "this lesson is not in the file any more".to_owned(),
            "read the page again",
        ),
        Unfit::Elsewhere(address) => {
            let reason = format!("the notation of this lesson is in a file of its own, {address}");
            (Why::NotInFile, reason, "open that file")
        }
        Unfit::Open => {
            let reason = "this lesson is not closed, so nobody knows where it ends".to_owned();
            (
                Why::NotInFile,
                reason,
                "close its fence or its element first",
            )
        }
        Unfit::Empty => {
            let reason = "this element has no notation, so there is no place for a move".to_owned();
            (Why::NotInFile, reason, "write <pre>*</pre> into it")
        }
        Unfit::Template(mark) => {
            let reason = format!(
                "with this there would be {mark} in the page, which template languages read as their own"
            );
            (Why::SpoilsPage, reason, "put a space between the two signs")
        }
        Unfit::Spoils => {
            let reason =
                "with this the rest of the page would not mean what it does now".to_owned();
            (
                Why::SpoilsPage,
                reason,
                "leave out empty lines and lines of backticks, or move the lesson into a fence",
            )
        }
    };
    Refused::new(why, reason, help)
}
