//! Unknown values of tags and of the attributes of the same names: they count as if
//! they were not there, and the author is told what was meant.

use super::attributes::{ATTRIBUTES, Value};
use crate::lesson::nearest;
use crate::notation::Game;
use crate::text::{Code, Finding, Findings, Source, Span, is_letter_or_digit, join, quote};

/// The findings about the values of a game's tags; of a repeated name the first counts.
pub(super) fn of_tags(source: &Source, game: &Game) -> Findings {
    let mut findings = Findings::default();
    let get = |name: &str| {
        let mut tags = game.tags.iter();
        tags.find(|tag| source.slice(tag.name) == name)
    };
    for row in ATTRIBUTES {
        if !matches!(row.value, Value::Word(_) | Value::Id) {
            continue;
        }
        let Some(tag) = get(row.tag) else {
            continue;
        };
        let found = match row.value {
            Value::Word(known) => {
                let whose = join(&["the tag ", row.tag], "");
                unknown(&whose, known, &tag.value, tag.value_span)
            }
            _ => id_amiss(&tag.value, tag.value_span),
        };
        found.into_iter().for_each(|it| findings.push(it));
    }
    findings
}

/// The finding about an unknown value; none if it is known. `whose` says what it is a value of,
/// such as `the tag Side`. The fix is for a tag, between quotes.
pub fn unknown(whose: &str, known: &[&str], written: &str, span: Span) -> Option<Finding> {
    if known.contains(&written) {
        return None;
    }
    let quoted = quote(written);
    let message = join(
        &["\u{201c}", &quoted, "\u{201d} is no value of ", whose],
        "",
    );
    let finding = Finding::new(Code::TagAmiss, span, message);
    let all = join(known, " and ");
    let Some(near) = nearest(written, known) else {
        return Some(finding.with_help(join(&["its values are ", &all], "")));
    };
    let help = join(&["did you mean ", near, "; its values are ", &all], "");
    let finding = finding.with_help(help);
    let is_certain = written.trim().eq_ignore_ascii_case(near) && span != Span::default();
    Some(match is_certain {
        true => finding.with_fix(span, join(&["\"", near, "\""], "")),
        false => finding,
    })
}

/// The finding about an id that addresses would encode, so that they could not be typed.
pub fn id_amiss(written: &str, span: Span) -> Option<Finding> {
    let fits = |sign: char| is_letter_or_digit(sign) || matches!(sign, '-' | '_' | '.' | ':');
    if !written.is_empty() && written.chars().all(fits) {
        return None;
    }
    let mut near = String::new();
    let mut is_apart = false;
    for sign in written.chars() {
        if !fits(sign) {
            is_apart = true;
            continue;
        }
        if is_apart && !near.is_empty() {
            near.push('-');
        }
        is_apart = false;
        near.push(sign);
    }
    let near = match near.is_empty() {
        true => "my-lesson".to_owned(),
        false => quote(&near),
    };
    let quoted = quote(written);
    let message = join(
        &["\u{201c}", &quoted, "\u{201d} is no id for addresses"],
        "",
    );
    let help = join(
        &[
            "write letters, digits, - and _ alone, such as ",
            &near,
            "; then page.html#",
            &near,
            "/1.e4 is an address",
        ],
        "",
    );
    Some(Finding::new(Code::TagAmiss, span, message).with_help(help))
}

#[cfg(test)]
mod tests {
    use super::super::attributes::SIDES;
    use super::*;

    fn told(written: &str, span: Span) -> Option<(String, Option<String>)> {
        let found = unknown("the attribute side", SIDES, written, span)?;
        let fix = found.fix.as_ref().map(|fix| fix.text.clone());
        Some((found.help.clone().unwrap_or_default(), fix))
    }

    #[test]
    fn a_value_is_known_as_it_is_written_and_no_otherwise() {
        let all = "its values are white and black";
        let near = format!("did you mean black; {all}");
        let here = Span { from: 6, to: 13 };
        assert_eq!(told("black", here), None);
        let mend = Some("\"black\"".to_owned());
        assert_eq!(told("Black", here), Some((near.clone(), mend)));
        assert_eq!(told("Blak", here), Some((near.clone(), None)));
        assert_eq!(told("left", here), Some((all.to_owned(), None)));
        assert_eq!(told("", here), Some((all.to_owned(), None)));
        // An attribute has no place in the text.
        assert_eq!(told("Black", Span::default()), Some((near, None)));
    }

    #[test]
    fn an_id_is_made_of_what_addresses_show_as_it_is() {
        let near = |id| {
            let found = id_amiss(id, Span::default())?;
            let help = found.help.clone().unwrap_or_default();
            Some(help.split_once("such as ")?.1.split_once(';')?.0.to_owned())
        };
        assert_eq!(near("a-b_1.c:d"), None);
        assert_eq!(near(" the  open games "), Some("the-open-games".to_owned()));
        assert_eq!(near("/"), Some("my-lesson".to_owned()));
        assert_eq!(near(""), Some("my-lesson".to_owned()));
    }
}
