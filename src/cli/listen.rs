//! `plyline listen`: a draft of a lesson from the captions of a talk.

use super::Outcome;
use super::args::{self, Format, Spoken};
use super::files::{self, Text};
use super::out::{self, Out, say};
use super::report::{Report, json};
use crate::check::author;
use crate::lesson::Lesson;
use crate::talk::{Comments, Doubt, Given, Language, Listened, Wanted, listen};
use crate::text::Source;
use serde::Serialize;
use serde_json::{Value, json};
use std::io::{self, Write};
use std::path::Path;

/// The longest captions that are read, in bytes: a hundred hours have some twenty million.
const CAPTION_BYTES: usize = 256 * 1024 * 1024;

/// Listens to a talk, writes the draft to standard output and what is doubtful to standard error.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Listen) -> io::Result<Outcome> {
    let done = match heard(wanted) {
        Ok(done) => done,
        Err(why) => {
            say(&why);
            return Ok(Outcome::Failed);
        }
    };
    let (source, listened) = done;
    if let Some(draft) = &listened.draft {
        let mut out = Out::new();
        write!(out, "{draft}")?;
        out.flush()?;
    }
    // If standard error is closed, nobody reads what is doubtful.
    let _ = tell(wanted, &source, &listened);
    Ok(Outcome::of(listened.draft.is_none()))
}

fn heard(wanted: &args::Listen) -> Result<(Source, Listened), String> {
    let language = Language::of(&wanted.lang)
        .ok_or_else(|| format!("--lang {}: only en is known so far", wanted.lang))?;
    let path = &wanted.talk;
    let bytes = files::captions(path, CAPTION_BYTES).map_err(|it| it.line())?;
    let name = path.display().to_string();
    if bytes.len() > CAPTION_BYTES {
        return Err(format!(
            "{name}: these captions have more than {CAPTION_BYTES} bytes"
        ));
    }
    let (source, mut findings) = Source::from_bytes(name.as_str(), &bytes);
    let lesson = match &wanted.lesson {
        Some(path) => Some(lesson(path)?),
        None => None,
    };
    let title = path.file_name().map(|it| it.to_string_lossy().into_owned());
    let asked = Wanted {
        given: match &lesson {
            Some(lesson) => Given::Lesson(lesson, &wanted.from),
            None => Given::From(&wanted.from),
        },
        comments: match wanted.comments {
            Spoken::Reasons => Comments::Reasons,
            Spoken::All => Comments::All,
            Spoken::None => Comments::None,
        },
        language,
        title: title.as_deref().unwrap_or_default(),
    };
    let mut listened = listen(&source, &asked).map_err(|why| format!("--from: {why}"))?;
    findings.extend(listened.findings);
    listened.findings = findings;
    Ok((source, listened))
}

/// The one lesson of a file, which must be read whole.
fn lesson(path: &Path) -> Result<Lesson, String> {
    let Text {
        source,
        is_too_long,
        ..
    } = files::load_notation(path).map_err(|it| it.line())?;
    let name = path.display();
    let (lessons, _) = author::lessons(&source);
    let mut list = lessons.into_iter().flatten();
    let (first, more) = (list.next(), list.next());
    match (first, more) {
        (Some(lesson), None) if lesson.unread.is_empty() && !is_too_long => Ok(lesson),
        (Some(_), Some(_)) => Err(format!(
            "{name}: more than one game; a talk is about one lesson"
        )),
        (Some(_), None) => Err(format!(
            "{name}: not all of this can be read, and what is left of it would be lost; plyline check says where"
        )),
        (None, _) => Err(format!("{name}: no game that can be read")),
    }
}

/// What is amiss and what is doubtful, to standard error.
fn tell(wanted: &args::Listen, source: &Source, listened: &Listened) -> io::Result<()> {
    let colour = out::wants_colour(&io::stderr());
    match wanted.format {
        Format::Json => {
            let mut out = io::stderr().lock();
            for finding in listened.findings.iter() {
                serde_json::to_writer(&mut out, &json::Line::new(source, finding))?;
                writeln!(out)?;
            }
            for doubt in &listened.doubts {
                serde_json::to_writer(&mut out, &Line::new(source, doubt))?;
                writeln!(out)?;
            }
            Ok(())
        }
        Format::Text | Format::Github => {
            let mut findings = listened.findings.clone();
            let placed = listened.doubts.iter().filter(|it| it.time.is_some());
            placed.for_each(|it| findings.push(it.finding.clone()));
            let mut report = Report::new(io::stderr(), wanted.format, colour);
            report.add(source, &findings)?;
            let nowhere = listened.doubts.iter().filter(|it| it.time.is_none());
            for doubt in nowhere {
                let kind = doubt.finding.severity().word();
                let (code, message) = (doubt.finding.code.id(), &doubt.finding.message);
                writeln!(report.out(), "{kind}[{code}]: {message}")?;
            }
            Ok(())
        }
    }
}

/// A doubt as a program reads it: a finding, and what else it has.
#[derive(Serialize)]
struct Line<'a> {
    #[serde(flatten)]
    finding: json::Line<'a>,
    /// Seconds from the start of the talk.
    time: Option<f64>,
    said: &'a str,
    candidates: Vec<Value>,
    taken: Option<usize>,
    behind: usize,
}

impl<'a> Line<'a> {
    fn new(source: &'a Source, doubt: &'a Doubt) -> Line<'a> {
        let candidates = doubt.candidates.iter();
        Line {
            finding: json::Line::new(source, &doubt.finding),
            time: doubt.time.map(|it| it as f64 / 1000.0), // a talk has fewer thousandths than a float holds
            said: &doubt.said,
            candidates: candidates
                .map(|it| json!({ "at": it.at, "moves": it.moves }))
                .collect(),
            taken: doubt.taken,
            behind: doubt.behind,
        }
    }
}
