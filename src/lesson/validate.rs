//! Syntax to lessons: plays every line through and keeps what is legal. A bad move ends its
//! line; everything else is still there.

use super::explain;
use super::rules::{self, Refusal};
use super::start::start;
use super::tree::{Lesson, Line, LineId, Node, NodeId, Unread};
use crate::notation::san::{self, Kind};
use crate::notation::{Game, Item, ItemKind, LineIx, Syntax, comment};
use crate::text::{Code, Finding, Findings, Source, Span, limits};
use shakmaty::{Chess, Move, Position};

/// Every game of a text as a lesson, `None` for one whose start cannot be used, and the
/// findings in the order of their places.
pub fn validate(source: &Source, syntax: &Syntax) -> (Vec<Option<Lesson>>, Findings) {
    let mut findings = Findings::default();
    let lessons = syntax
        .games
        .iter()
        .map(|game| Validation::run(source, game, &mut findings))
        .collect();
    findings.sort();
    (lessons, findings)
}

struct Validation<'a> {
    source: &'a Source,
    game: &'a Game,
    findings: &'a mut Findings,
    lesson: Lesson,
    /// Whether the limit of nodes was told.
    full: bool,
}

/// A line that is being read.
struct Frame {
    ix: LineIx,
    /// The next item.
    item: usize,
    /// Where the next move is played.
    at: NodeId,
    /// Where the last move was played: what stands beside it is read from there.
    before_last: NodeId,
    /// The line in the lesson; none until a variation has its first node.
    line: Option<LineId>,
    parent_line: LineId,
    beside: NodeId,
    /// Text and glyphs that wait for a variation's first move.
    before: Vec<String>,
    before_nags: Vec<u8>,
    /// A move number that waits for its move.
    number: Option<Item>,
    /// How far the numbers written in this line are off, so that a slip is told once.
    off: i64,
    state: Reading,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Reading {
    /// All moves so far were played.
    Fine,
    /// The last move was the bad one: a variation beside it can still be read.
    JustEnded,
    /// Behind the bad move.
    Ended,
}

impl<'a> Validation<'a> {
    fn run(source: &'a Source, game: &'a Game, findings: &'a mut Findings) -> Option<Lesson> {
        let position = start(source, game, findings)?;
        let mut validation = Validation {
            source,
            game,
            findings,
            lesson: empty_lesson(position, game.span),
            full: false,
        };
        validation.tags();
        validation.lines();
        validation.result();
        super::outline::label(&mut validation.lesson);
        Some(validation.lesson)
    }

    fn tags(&mut self) {
        for tag in &self.game.tags {
            let name = self.source.slice(tag.name);
            let earlier = self
                .game
                .tags
                .iter()
                .find(|other| self.source.slice(other.name) == name);
            match earlier {
                Some(first) if first.span != tag.span => self.findings.push(
                    Finding::new(
                        Code::TagTwice,
                        tag.span,
                        format!("the tag {name} was given before; the first one counts"),
                    )
                    .with_related(first.span, "the first one".to_owned()),
                ),
                _ => self.lesson.tags.push((name.to_owned(), tag.value.clone())),
            }
        }
    }

    fn result(&mut self) {
        let (marker, span) = match self.game.result {
            Some((marker, span)) => (marker, Some(span)),
            None => ("*", None),
        };
        self.lesson.result = marker;
        let tag = self
            .game
            .tags
            .iter()
            .find(|tag| self.source.slice(tag.name) == "Result");
        if let (Some(tag), Some(span)) = (tag, span)
            && tag.value != marker
        {
            let message = format!(
                "the tag Result says {}, the moves end with {marker}",
                tag.value
            );
            self.findings.push(
                Finding::new(Code::ResultDisagrees, tag.value_span, message)
                    .with_related(span, "the end of the moves".to_owned()),
            );
        }
    }

    fn lines(&mut self) {
        let mut stack = vec![Frame::new(0, 0, 0, 0)];
        stack[0].line = Some(0);
        while let Some(frame) = stack.last_mut() {
            let Some(&item) = self.game.lines[frame.ix].items.get(frame.item) else {
                stack.pop();
                continue;
            };
            frame.item += 1;
            match item.kind {
                ItemKind::Number { .. } => frame.number = Some(item),
                ItemKind::Variation(ix) if frame.state != Reading::Ended => {
                    let (line, beside) = frame.place();
                    let next = Frame::new(ix, frame.before_last, line, beside);
                    stack.push(next);
                }
                _ if frame.state != Reading::Fine => {
                    if item.kind == ItemKind::Move {
                        frame.state = Reading::Ended;
                    }
                    self.unread(frame, item);
                }
                ItemKind::Move => self.play(frame, item),
                ItemKind::Nag(nag) => self.nag(frame, nag),
                ItemKind::Comment => self.comment(frame, item),
                ItemKind::Variation(_) => {} // behind a bad move; handled as unread above
            }
        }
    }

    fn nag(&mut self, frame: &mut Frame, nag: u8) {
        let list = match frame.line {
            Some(_) => &mut self.node_mut(frame.at).nags,
            None => &mut frame.before_nags,
        };
        if !list.contains(&nag) {
            list.push(nag);
        }
    }

    fn comment(&mut self, frame: &mut Frame, item: Item) {
        let text = comment::fold(self.source.slice(item.span));
        if text.is_empty() {
            return;
        }
        if frame.line.is_none() {
            frame.before.push(text);
            return;
        }
        let choice = text
            .split("\n\n")
            .find_map(comment::choice)
            .map(str::to_owned);
        let ask = comment::ask(&text);
        let node = self.node_mut(frame.at);
        node.choice = node.choice.take().or(choice);
        node.ask = node.ask.take().or(ask);
        node.comments.push(text);
    }

    fn node_mut(&mut self, id: NodeId) -> &mut Node {
        // Ids are made by `add` alone and nodes are never taken away.
        &mut self.lesson.nodes[id as usize]
    }

    fn play(&mut self, frame: &mut Frame, item: Item) {
        let number = frame.number.take();
        let word = self.source.slice(item.span);
        let from = item.span.from as usize;
        let (shape, core) = san::read(word);
        let place = Span::new(from, from + core);
        let position = self.lesson.node(frame.at).position.clone();
        let played = match &shape {
            None => Err(explain::not_a_move(&position, word, place)),
            Some(shape) if shape.kind == Kind::Pass => match rules::pass(&position) {
                Some(after) => Ok((None, after, "--".to_owned())),
                None => Err(explain::pass_in_check(&position, place)),
            },
            Some(shape) => match rules::resolve(&position, shape) {
                Ok((played, candidates)) => {
                    let mut san = rules::san(played, &candidates);
                    let mut after = position.clone();
                    after.play_unchecked(played);
                    san.push_str(rules::check_sign(&after));
                    Ok((Some(played), after, san))
                }
                Err(refusal) => Err(self.refused(&position, shape, &refusal, place)),
            },
        };
        frame.before_last = frame.at;
        match played {
            Ok((played, after, san)) if self.lesson.nodes.len() < limits::NODES => {
                self.check_number(frame, &position, number);
                let nags = shape.map(|shape| shape.nags).unwrap_or_default();
                self.add(frame, played, after, san, nags, item.span);
            }
            other => {
                match other {
                    Err(finding) => self.findings.push(finding),
                    Ok(_) if self.full => {}
                    Ok(_) => {
                        self.full = true;
                        let limit = limits::NODES;
                        let message =
                            format!("a lesson has at most {limit} moves; from here on it is cut");
                        self.findings
                            .push(Finding::new(Code::TooManyNodes, place, message));
                    }
                }
                frame.state = Reading::JustEnded;
                frame.number = number;
                self.unread(frame, item);
            }
        }
    }

    fn refused(
        &self,
        position: &Chess,
        shape: &san::Shape,
        refusal: &Refusal,
        place: Span,
    ) -> Finding {
        explain::refused(position, shape, refusal, self.source.slice(place), place)
    }

    fn add(
        &mut self,
        frame: &mut Frame,
        played: Option<Move>,
        position: Chess,
        san: String,
        mut nags: Vec<u8>,
        span: Span,
    ) {
        let id = self.lesson.nodes.len() as NodeId; // fewer than `limits::NODES`
        let parent = frame.at;
        self.check_twice(parent, &san, span);
        let first_child = self.lesson.node(parent).children.is_empty();
        let line = match frame.line {
            Some(line) => line,
            // The first child of a node continues its line, also where the move that it is
            // written beside could not be read.
            None if first_child => self.lesson.node(parent).line,
            None => {
                self.lesson.lines.push(Line {
                    label: String::new(),
                    parent: Some(frame.parent_line),
                    beside: frame.beside,
                    first: id,
                });
                self.lesson.lines.len() as LineId - 1
            }
        };
        frame.line = Some(line);
        let mut unique = core::mem::take(&mut frame.before_nags);
        unique.append(&mut nags);
        let mut seen = [false; 256];
        unique.retain(|&nag| !core::mem::replace(&mut seen[nag as usize], true));
        let ply = self.lesson.node(parent).ply + 1;
        self.lesson.nodes.push(Node {
            parent: Some(parent),
            children: Vec::new(),
            line,
            ply,
            played,
            san,
            position,
            nags: unique,
            before: core::mem::take(&mut frame.before),
            comments: Vec::new(),
            choice: None,
            ask: None,
            span,
        });
        self.node_mut(parent).children.push(id);
        frame.at = id;
    }

    /// A move given twice at one node. A position has at most 218 legal moves (common practice,
    /// no source), so behind that many children every repetition has been told.
    fn check_twice(&mut self, parent: NodeId, san: &str, span: Span) {
        let children = self.lesson.node(parent).children.iter().take(218);
        let twin = children
            .map(|&child| self.lesson.node(child))
            .find(|node| node.san == san);
        if let Some(twin) = twin {
            let finding = Finding::new(
                Code::MoveTwice,
                span,
                format!("{san} stands at this position already"),
            )
            .with_help("give a move once and write what differs behind it".to_owned())
            .with_related(twin.span, "the first one".to_owned());
            self.findings.push(finding);
        }
    }

    fn check_number(&mut self, frame: &mut Frame, position: &Chess, item: Option<Item>) {
        let Some(Item {
            span,
            kind: ItemKind::Number { number, dots },
        }) = item
        else {
            return;
        };
        let right = position.fullmoves().get();
        let off = i64::from(number) - i64::from(right);
        let white = position.turn().is_white();
        let wrong_side = white && dots > 1;
        if (off != 0 && off != frame.off) || wrong_side {
            let wanted = match white {
                true => format!("{right}."),
                false => format!("{right}..."),
            };
            self.findings.push(
                Finding::new(
                    Code::WrongNumber,
                    span,
                    format!("the move here is number {wanted}"),
                )
                .with_help("the numbers are not used; the order of the moves counts".to_owned())
                .with_fix(span, wanted),
            );
        }
        frame.off = off;
    }

    fn unread(&mut self, frame: &mut Frame, item: Item) {
        let (line, after) = frame.place();
        let span = match item.kind {
            ItemKind::Variation(ix) => self.game.lines[ix].span,
            _ => item.span,
        };
        let span = frame
            .number
            .take()
            .map_or(span, |number| number.span.join(span));
        // Words of one line in a row are one stretch. Where a variation was read between them,
        // its nodes are younger than the stretch, and a new one begins.
        let last = self.lesson.unread.last();
        let joins = last.is_some_and(|last| {
            last.after == after && last.line == line && !self.has_nodes(after, last.span)
        });
        match self.lesson.unread.last_mut().filter(|_| joins) {
            Some(last) => last.span = last.span.join(span),
            None => self.lesson.unread.push(Unread { after, line, span }),
        }
    }

    /// Whether nodes were made behind the stretch that begins at this span.
    fn has_nodes(&self, after: NodeId, span: Span) -> bool {
        let last = self.lesson.nodes.len() as NodeId - 1; // node 0 is always there
        last != after && self.lesson.node(last).span.from > span.from
    }
}

impl Frame {
    /// Where things stand that have no node of their own: the line, and the node of that line
    /// which they follow.
    fn place(&self) -> (LineId, NodeId) {
        match self.line {
            Some(line) => (line, self.at),
            None => (self.parent_line, self.beside),
        }
    }

    fn new(ix: LineIx, at: NodeId, parent_line: LineId, beside: NodeId) -> Frame {
        Frame {
            ix,
            item: 0,
            at,
            before_last: at,
            line: None,
            parent_line,
            beside,
            before: Vec::new(),
            before_nags: Vec::new(),
            number: None,
            off: 0,
            state: Reading::Fine,
        }
    }
}

fn empty_lesson(position: Chess, span: Span) -> Lesson {
    Lesson {
        tags: Vec::new(),
        nodes: vec![Node {
            parent: None,
            children: Vec::new(),
            line: 0,
            ply: 0,
            played: None,
            san: String::new(),
            position,
            nags: Vec::new(),
            before: Vec::new(),
            comments: Vec::new(),
            choice: None,
            ask: None,
            span,
        }],
        lines: vec![Line {
            label: String::new(),
            parent: None,
            beside: 0,
            first: 0,
        }],
        result: "*",
        unread: Vec::new(),
    }
}
