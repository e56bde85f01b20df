//! What is doubtful in a draft: findings P300 to P399, with what else each saying may be.

use super::draft::Draft;
use super::reading::{Act, Manner, Places, Read};
use super::words::{Said, Saying};
use super::written::{path, run_of_last};
use crate::lesson::rules::san_of;
use crate::notation::comment::clock::{Millis, written};
use crate::text::{Code, Finding, Span};

/// What a doubt is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// Where, and what it is.
    pub finding: Finding,
    /// When it is said.
    pub time: Option<Millis>,
    /// The words.
    pub said: String,
    /// What they may mean, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// Which of those is in the draft.
    pub taken: Option<usize>,
    /// How many moves of the draft hang on it.
    pub behind: usize,
}

/// What words may mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// The moves to the position, in SAN.
    pub at: Vec<String>,
    /// The moves that are meant there.
    pub moves: Vec<String>,
}

/// Another reading counts as a doubt where it is less likely by no more than this, as a logarithm.
const CLOSE: f32 = -2.5;
/// One doubt for so many moves of the draft, at the most.
const MOVES_FOR_ONE: usize = 4;
/// A saying that is surely a move, and fits nowhere, is told where its log-odds are at least this.
const SURE: f32 = 1.0;
/// The most candidates of a doubt.
const CANDIDATES: usize = 4;
/// Words before and after a saying that are shown with it.
const ABOUT: usize = 4;

/// From when on a talk was not heard, because it is too long.
pub fn in_part(said: &Said, read: &Read) -> Option<Finding> {
    let rest = said.sayings.get(read.acts.len())?;
    let span = said.words.get(rest.words.start).map(|it| it.span);
    let message = format!(
        "the talk is too long: it is heard up to {}, and not from here on",
        written(rest.at)
    );
    let help = "cut the captions here, and listen to the rest by itself".to_owned();
    let finding = Finding::new(Code::HeardInPart, span.unwrap_or_default(), message);
    Some(finding.with_help(help))
}

/// A talk, how it was read, and the draft.
pub struct Heard<'a> {
    /// The sayings.
    pub said: &'a Said,
    /// What each is taken for.
    pub read: &'a Read,
    /// All places.
    pub places: &'a Places,
    /// What was made of them.
    pub draft: &'a Draft,
}

impl Heard<'_> {
    /// The doubts, the gravest first.
    pub fn doubts(&self) -> Vec<Doubt> {
        let behind = self.draft.behind();
        let mut list: Vec<(f32, Doubt)> = Vec::new();
        for (at, (act, others)) in self.read.acts.iter().zip(&self.read.others).enumerate() {
            let Some(saying) = self.said.sayings.get(at) else {
                continue;
            };
            let found = match act {
                Act::Talk => self.of_talk(saying, others),
                Act::Play { .. } => self.of_move(at, saying, *act, others, &behind),
            };
            list.extend(found);
        }
        list.extend(self.unplaced().into_iter().map(|it| (f32::MIN, it)));
        list.sort_by(|(one, a), (other, b)| b.behind.cmp(&a.behind).then(other.total_cmp(one)));
        let moves = self.draft.nodes.iter().filter(|it| !it.given).count();
        list.truncate(moves / MOVES_FOR_ONE);
        list.into_iter().map(|it| it.1).collect()
    }

    /// Whether anything was understood.
    pub fn understood(&self) -> bool {
        self.draft.nodes.iter().any(|it| !it.heard.is_empty())
    }

    fn of_talk(&self, saying: &Saying, others: &[(Act, f32)]) -> Option<(f32, Doubt)> {
        let (close, margin) = others.iter().copied().find(|it| self.is_open(it.0))?;
        if margin < CLOSE {
            return None;
        }
        let candidates: Vec<Candidate> = self.candidates(&[close]);
        let [only] = candidates.as_slice() else {
            return None;
        };
        let message = format!(
            "\u{201c}{}\u{201d} is taken for talk; it may be {}",
            self.words(saying),
            self.named(only)
        );
        let finding = Finding::new(Code::MaybeMove, self.span(saying), message);
        Some((margin, self.doubt(saying, finding, candidates, None, 0)))
    }

    fn of_move(
        &self,
        at: usize,
        saying: &Saying,
        act: Act,
        others: &[(Act, f32)],
        behind: &[usize],
    ) -> Option<(f32, Doubt)> {
        let Act::Play { to, manner, .. } = act else {
            return None;
        };
        let node = self.draft.find(to)?;
        let is_first = self.draft.nodes.get(node)?.sayings.first() == Some(&at);
        let close: Vec<(Act, f32)> = others
            .iter()
            .copied()
            .filter(|it| it.1 >= CLOSE && self.is_open(it.0))
            .collect();
        let margin = close.first().map_or(f32::MIN, |it| it.1);
        let own = self.candidates(&[act]).pop()?;
        let words = self.words(saying);
        let what = self.named(&own);
        let (code, message, help) = match manner {
            Manner::Misheard => (
                Code::Misheard,
                format!(
                    "\u{201c}{words}\u{201d} cannot be played there and is taken for {what}, which sounds like it"
                ),
                None,
            ),
            Manner::Supplied(count) => {
                let moves = own.moves.iter().take(count.into()).cloned().collect();
                let moves = crate::lesson::enumerate(moves, "and");
                (
                    Code::Supplied,
                    format!(
                        "before \u{201c}{words}\u{201d} nobody says {moves}, which alone lets the talk go on"
                    ),
                    None,
                )
            }
            Manner::Plain if margin < CLOSE || !is_first => return None,
            Manner::Plain => match close.iter().find(|it| it.0 != Act::Talk) {
                Some(other) => (
                    Code::OtherPlace,
                    format!("\u{201c}{words}\u{201d} is taken for {what}"),
                    self.candidates(&[other.0])
                        .pop()
                        .map(|it| format!("it may be {}", self.named(&it))),
                ),
                None => (
                    Code::MaybeTalk,
                    format!(
                        "\u{201c}{words}\u{201d} is taken for {what}; it may be no move at all"
                    ),
                    None,
                ),
            },
        };
        let mut finding = Finding::new(code, self.span(saying), message);
        if let Some(help) = help {
            finding = finding.with_help(help);
        }
        let mut acts = vec![act];
        acts.extend(close.iter().map(|it| it.0).take(CANDIDATES - 1));
        let candidates = self.candidates(&acts);
        let count = if is_first {
            behind.get(node).copied().unwrap_or(1)
        } else {
            1
        };
        Some((
            margin,
            self.doubt(saying, finding, candidates, Some(0), count),
        ))
    }

    /// Whether the draft has the place at which it would be played: else it hangs on another doubt.
    fn is_open(&self, act: Act) -> bool {
        match act {
            Act::Talk => true,
            Act::Play { at, .. } => self.draft.find(at).is_some(),
        }
    }

    fn doubt(
        &self,
        saying: &Saying,
        finding: Finding,
        candidates: Vec<Candidate>,
        taken: Option<usize>,
        behind: usize,
    ) -> Doubt {
        Doubt {
            finding,
            time: Some(saying.at),
            said: self.about(saying),
            candidates,
            taken,
            behind,
        }
    }

    /// The moves that sayings may be; talk is none.
    fn candidates(&self, acts: &[Act]) -> Vec<Candidate> {
        let mut list = Vec::new();
        for act in acts {
            let Act::Play { at, to, .. } = act else {
                continue;
            };
            let path = self.places.path(*to);
            let count = self.places.ply(*at) as usize;
            let mut words: Vec<String> = path
                .windows(2)
                .filter_map(|pair| {
                    let played = self.places.played(pair[1])?; // windows of two
                    let san = san_of(self.places.position(pair[0]), played);
                    Some(san.trim_end_matches(['+', '#']).to_owned())
                })
                .collect();
            let moves = words.split_off(count.min(words.len()));
            list.push(Candidate { at: words, moves });
        }
        list
    }

    /// A candidate in words: `5...c5 after 5.O-O`.
    fn named(&self, candidate: &Candidate) -> String {
        let all: Vec<String> = candidate
            .at
            .iter()
            .chain(&candidate.moves)
            .cloned()
            .collect();
        let start = self.places.position(0);
        let last = |moves: &[String]| {
            let run = run_of_last(start, moves);
            run.unwrap_or_else(|| "the start".to_owned())
        };
        format!("{} after {}", last(&all), last(&candidate.at))
    }

    /// The words of a saying.
    pub(super) fn words(&self, saying: &Saying) -> String {
        let text = self.text(saying.words.start, saying.words.end);
        text.trim_end_matches([',', '.', ';', ':', '?', '!'])
            .to_owned()
    }

    /// The words of a saying with some about it.
    pub(super) fn about(&self, saying: &Saying) -> String {
        self.text(
            saying.words.start.saturating_sub(ABOUT),
            saying.words.end + ABOUT,
        )
    }

    fn text(&self, from: usize, to: usize) -> String {
        let words = self.said.words.iter().take(to).skip(from);
        words
            .map(|it| it.text.as_str())
            .collect::<Vec<_>>()
            .join(" ")
    }

    pub(super) fn span(&self, saying: &Saying) -> Span {
        let word = |at: usize| self.said.words.get(at).map(|it| it.span);
        let first = word(saying.words.start).unwrap_or_default();
        let last = word(saying.words.end.saturating_sub(1)).unwrap_or(first);
        first.join(last)
    }

    /// A saying that is surely a move and that no reading has a place for.
    fn unplaced(&self) -> Vec<Doubt> {
        let all = self.said.sayings.iter().enumerate();
        let lost = all.filter(|(at, saying)| {
            let others = self.read.others.get(*at);
            saying.lean >= SURE
                && self.read.acts.get(*at) == Some(&Act::Talk)
                && others.is_none_or(Vec::is_empty)
        });
        lost.map(|(_, saying)| {
            let message = format!(
                "\u{201c}{}\u{201d} can be played nowhere in what was told so far",
                self.words(saying)
            );
            let finding = Finding::new(Code::Unplaced, self.span(saying), message);
            self.doubt(saying, finding, Vec::new(), None, 0)
        })
        .collect()
    }

    /// What was said and is not in a lesson, the first move of each line.
    pub fn not_written(&self) -> Vec<Doubt> {
        let behind = self.draft.behind();
        let mut list = Vec::new();
        for (at, node) in self.draft.nodes.iter().enumerate() {
            let parent = node.parent.and_then(|it| self.draft.nodes.get(it));
            let Some(saying) = node
                .sayings
                .first()
                .and_then(|it| self.said.sayings.get(*it))
            else {
                continue;
            };
            if node.given || parent.is_none_or(|it| !it.given) {
                continue;
            }
            let run =
                run_of_last(self.places.position(0), &path(self.draft, at)).unwrap_or_default();
            let message = format!("{run} is said and is not in the lesson");
            let finding = Finding::new(Code::NotWritten, self.span(saying), message);
            let act = Act::Play {
                at: parent.map_or(0, |it| it.place),
                to: node.place,
                manner: Manner::Plain,
                instead: None,
            };
            let behind = behind.get(at).copied().unwrap_or(1);
            list.push(self.doubt(saying, finding, self.candidates(&[act]), None, behind));
        }
        list
    }

    /// What a lesson holds and nobody says, the first move of each line. Moves before the first that is said are
    /// known to all.
    pub fn not_said(&self) -> Vec<Doubt> {
        let mut list = Vec::new();
        let nodes = &self.draft.nodes;
        let mut told: Vec<bool> = nodes.iter().map(|it| !it.heard.is_empty()).collect();
        for at in (1..nodes.len()).rev() {
            if told[at]
                && let Some(parent) = nodes[at].parent
            {
                told[parent] = true; // a parent comes before its children
            }
        }
        for (at, node) in nodes.iter().enumerate().filter(|it| it.1.given) {
            let Some(parent) = node.parent.filter(|parent| !told[at] && told[*parent]) else {
                continue;
            };
            let moves = path(self.draft, at);
            let run = run_of_last(self.places.position(0), &moves).unwrap_or_default();
            let message = format!("{run} is in the lesson and is not said");
            let (at_parent, moves) = moves.split_at(path(self.draft, parent).len());
            list.push(Doubt {
                finding: Finding::new(Code::NotSaid, Span::default(), message),
                time: None,
                said: String::new(),
                candidates: vec![Candidate {
                    at: at_parent.to_vec(),
                    moves: moves.to_vec(),
                }],
                taken: None,
                behind: self.draft.behind().get(at).copied().unwrap_or(1),
            });
        }
        list
    }
}
