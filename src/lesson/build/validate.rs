//! Syntax to lessons: plays every line through and keeps what is legal. A bad move ends its
//! line; everything else is still there.

use super::language;
use super::start::start;
use crate::lesson::compact::{Few, SanText};
use crate::lesson::links::links;
use crate::lesson::transpose::same_positions;
use crate::lesson::tree::{Lesson, Line, LineId, Node, NodeId, Unread};
use crate::notation::{Comment, Game, Item, ItemKind, Letters, LineIx, Syntax};
use crate::text::{Code, Finding, Findings, Source, Span, limits, quote};
use core::cell::OnceCell;
use shakmaty::{Chess, Move};

/// Every game of a text as a lesson, `None` for one whose start cannot be used, and the
/// findings in the order of their places.
pub fn validate(source: &Source, syntax: &Syntax) -> (Vec<Option<Lesson>>, Findings) {
    validate_written(source, syntax, None)
}

/// The same, where a game that does not name its letters is written with these.
pub fn validate_written(
    source: &Source,
    syntax: &Syntax,
    letters: Option<&'static Letters>,
) -> (Vec<Option<Lesson>>, Findings) {
    let mut findings = Findings::default();
    let lessons = syntax
        .games
        .iter()
        .map(|game| game_of(source, game, letters, &mut findings))
        .collect();
    findings.sort();
    (lessons, findings)
}

/// One game, read with the letters that its tag names, else with the given ones; where neither are named and English
/// fails, with those of the one other language that reads all of it.
fn game_of(
    source: &Source,
    game: &Game,
    given: Option<&'static Letters>,
    findings: &mut Findings,
) -> Option<Lesson> {
    let position = start(source, game, findings)?;
    let tag = game
        .tags
        .iter()
        .find(|tag| source.slice(tag.name) == "Letters");
    let letters = tag.map(|tag| (tag, Letters::of(&tag.value)));
    if let Some((tag, None)) = letters {
        let message = format!(
            "\u{201c}{}\u{201d} is no language whose piece letters are known",
            quote(&tag.value)
        );
        findings.push(
            Finding::new(Code::UnknownLetters, tag.value_span, message)
                .with_help("the game is read with English letters".to_owned()),
        );
    }
    let written = letters.and_then(|(_, letters)| letters).or(given);
    let read = |letters| Validation::run(source, game, position.clone(), letters);
    let (lesson, said) = read(written.unwrap_or(Letters::ENGLISH));
    let other = match tag.is_none() && given.is_none() && !lesson.unread.is_empty() {
        true => language::only_reader(source, game, &read),
        false => None,
    };
    let (mut lesson, said) = match other {
        None => (lesson, said),
        Some((letters, lesson, mut said)) => {
            said.push(language::finding(source, game, letters));
            (lesson, said)
        }
    };
    findings.extend(said);
    lesson.same = same_positions(&lesson);
    lesson.links = links(&lesson);
    Some(lesson)
}

/// One reading of one game. `play` makes its nodes.
pub(crate) struct Validation<'a> {
    pub(crate) source: &'a Source,
    pub(crate) game: &'a Game,
    pub(crate) letters: &'static Letters,
    pub(crate) findings: Findings,
    pub(crate) lesson: Lesson,
    /// Whether the finding about the limit of nodes was made.
    pub(crate) full: bool,
}

/// A line that is being read.
pub(crate) struct Frame {
    pub(crate) ix: LineIx,
    /// The next item.
    pub(crate) item: usize,
    /// Where the next move is played.
    pub(crate) at: NodeId,
    /// Where the last move was played: a variation beside it is read from there.
    pub(crate) before_last: NodeId,
    /// The line in the lesson; none until a variation has its first node.
    line: Option<LineId>,
    parent_line: LineId,
    beside: NodeId,
    /// Text and glyphs that wait for a variation's first move.
    before: Vec<Comment>,
    before_nags: Vec<u8>,
    /// A move number that waits for its move.
    pub(crate) number: Option<Item>,
    /// How far the numbers written in this line are off, so that a slip is reported once.
    pub(crate) off: i64,
    pub(crate) state: Reading,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reading {
    /// All moves so far were played.
    Fine,
    /// The last move was the bad one: a variation beside it can still be read.
    JustEnded,
    /// After the bad move.
    Ended,
}

impl<'a> Validation<'a> {
    fn run(
        source: &'a Source,
        game: &'a Game,
        start: Chess,
        letters: &'static Letters,
    ) -> (Lesson, Findings) {
        let mut validation = Validation {
            source,
            game,
            letters,
            findings: Findings::default(),
            lesson: empty_lesson(start, game),
            full: false,
        };
        validation.tags();
        validation.lines();
        validation.result();
        crate::lesson::outline::label(&mut validation.lesson);
        validation.sayings();
        (validation.lesson, validation.findings)
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
                ItemKind::Variation(_) => {} // after a bad move; handled as unread above
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

    /// A comment. Those of `;` on lines that follow each other are one.
    fn comment(&mut self, frame: &mut Frame, item: Item) {
        let mut span = item.span;
        let items = &self.game.lines[frame.ix].items;
        while let Some(next) = items.get(frame.item)
            && self.goes_on(span, next)
        {
            span = span.join(next.span);
            frame.item += 1;
        }
        let Some(comment) = Comment::read(self.source.slice(span), span) else {
            return;
        };
        match frame.line {
            None => frame.before.push(comment),
            Some(_) => self.node_mut(frame.at).comments.push(comment),
        }
    }

    /// Whether a comment goes on with the next item, on the line below.
    fn goes_on(&self, comment: Span, next: &Item) -> bool {
        let is_line = |span: Span| self.source.slice(span).starts_with(';');
        if next.kind != ItemKind::Comment || !is_line(comment) || !is_line(next.span) {
            return false;
        }
        let (from, to) = (comment.to, next.span.from);
        let gap = self.source.slice(Span { from, to });
        gap.bytes().filter(|&byte| byte == b'\n').count() == 1
    }

    pub(crate) fn node_mut(&mut self, id: NodeId) -> &mut Node {
        // Ids are made by `add` alone and nodes are never taken away.
        &mut self.lesson.nodes[id as usize]
    }

    pub(crate) fn add(
        &mut self,
        frame: &mut Frame,
        played: Option<Move>,
        position: Chess,
        san: SanText,
        mut nags: Vec<u8>,
        span: Span,
    ) {
        let id = self.lesson.nodes.len() as NodeId; // fewer than `limits::NODES`
        let parent = frame.at;
        let before = self.lesson.node(parent);
        let (first_child, its_line, ply) =
            (before.children.is_empty(), before.line, before.ply + 1);
        if !first_child {
            self.check_twice(parent, san, span, self.lesson.node(frame.beside).span);
        }
        let line = match frame.line {
            Some(line) => line,
            // The first child of a node continues its line, also where the move that it is
            // written beside could not be read.
            None if first_child => its_line,
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
        if !frame.before_nags.is_empty() {
            let after = core::mem::replace(&mut nags, core::mem::take(&mut frame.before_nags));
            nags.extend(after);
        }
        if nags.len() > 1 {
            let mut seen = [false; 256];
            nags.retain(|&nag| !core::mem::replace(&mut seen[nag as usize], true));
        }
        self.lesson.nodes.push(Node {
            parent: Some(parent),
            children: Few::default(),
            line,
            ply,
            played,
            san,
            position,
            nags,
            before: core::mem::take(&mut frame.before),
            comments: Few::default(),
            choice: None,
            ask: None,
            span,
        });
        self.node_mut(parent).children.push(id);
        frame.at = id;
    }

    /// A move given twice at one node. A position has at most 218 legal moves (common practice,
    /// no source), so after that many children every repetition has been reported.
    fn check_twice(&mut self, parent: NodeId, san: SanText, span: Span, main: Span) {
        for &child in self.lesson.node(parent).children.iter().take(218) {
            let twin = self.lesson.node(child);
            if twin.san != san {
                continue;
            }
            let (code, message) = match twin.span == main {
                true => (
                    Code::LineRepeats,
                    format!("this variation begins with the move that it replaces, {san}"),
                ),
                false => (
                    Code::MoveTwice,
                    format!("{san} is given at this position already"),
                ),
            };
            let finding = Finding::new(code, span, message)
                .with_help("give a move once and write what differs after it".to_owned())
                .with_related(twin.span, "the first one".to_owned());
            self.findings.push(finding);
            break;
        }
    }

    pub(crate) fn unread(&mut self, frame: &mut Frame, item: Item) {
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

    /// Whether nodes were made after the stretch that begins at this span.
    fn has_nodes(&self, after: NodeId, span: Span) -> bool {
        let last = self.lesson.nodes.len() as NodeId - 1; // node 0 is always there
        last != after && self.lesson.node(last).span.from > span.from
    }
}

impl Frame {
    /// The place of things that have no node of their own: the line, and the node of that line
    /// which they follow.
    fn place(&self) -> (LineId, NodeId) {
        match self.line {
            Some(line) => (line, self.at),
            None => (self.parent_line, self.beside),
        }
    }

    /// The node of the move that the line is beside, where it is a variation without a
    /// move so far and that move was played.
    pub(crate) fn beside_of_first(&self) -> Option<NodeId> {
        // A variation beside a bad move follows the node before, and is read from there.
        (self.line.is_none() && self.beside > 0 && self.beside != self.at).then_some(self.beside)
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

fn empty_lesson(position: Chess, game: &Game) -> Lesson {
    // Room for all of them: to grow by and by would copy every node several times.
    let mut nodes = Vec::with_capacity(limits::NODES.min(game.words + 1));
    nodes.push(Node {
        parent: None,
        children: Few::default(),
        line: 0,
        ply: 0,
        played: None,
        san: SanText::default(),
        position,
        nags: Vec::new(),
        before: Vec::new(),
        comments: Few::default(),
        choice: None,
        ask: None,
        span: game.span,
    });
    Lesson {
        tags: Vec::new(),
        nodes,
        lines: vec![Line {
            label: String::new(),
            parent: None,
            beside: 0,
            first: 0,
        }],
        result: "*",
        unread: Vec::new(),
        same: Vec::new(),
        commented: Vec::new(),
        links: Vec::new(),
        orders: OnceCell::new(),
        passed_over: game.passed_over,
    }
}
