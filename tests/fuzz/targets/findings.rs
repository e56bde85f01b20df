//! The fuzz target `findings`: every finding of any text as the program prints it, in all three
//! forms.
#![no_main]

#[path = "../checks/mod.rs"]
#[allow(dead_code)]
mod checks;
#[path = "../program.rs"]
#[allow(dead_code)]
mod cli;

use plyline::text; // where the program's files look for it
use cli::{github, json, snippet::Painter};

/// A picture has some twenty lines; several related places have one each.
const LINES: usize = 120;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let (source, findings) = checks::read(bytes);
    let painter = Painter::new(false);
    for finding in findings.iter() {
        let text = painter.paint(&source, finding);
        assert!(text.lines().count() <= LINES, "{text}");
        assert!(text.contains(finding.code.id()), "{text}");
        let obeyed = |letter: char| letter.is_control() && letter != '\n';
        assert!(!text.contains(obeyed), "{text:?}");
        let line = painter.line(&source, finding);
        assert!(!line.contains(char::is_control), "{line:?}");
        let line = serde_json::to_string(&json::Line::new(&source, finding)).expect("plain data");
        assert!(!line.contains('\n'));
        let line = github::command(&source, finding);
        assert!(line.starts_with("::") && !line.contains(['\n', '\r']), "{line:?}");
    }
});
