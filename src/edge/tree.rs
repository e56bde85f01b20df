//! A lesson and its nodes as data.

use super::plain::leaves_as;
use super::{Plain, ToPlain};
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{self, Lesson, NodeId};
use crate::notation::Comment;
use crate::notation::comment::passage::Passage;
use crate::text::{KeptText, Listed};
use serde::{Serialize, Serializer};

/// A whole lesson.
#[derive(Debug)]
pub struct LessonData {
    /// The tags in the order written, the first of a repeated name.
    pub tags: Tags,
    /// The start as FEN.
    pub start: String,
    /// The termination marker, `*` where there is none.
    pub result: &'static str,
    /// Every node, in the order of the text.
    pub nodes: Vec<NodeData>,
}

leaves_as!(
    LessonData,
    "tags": tags,
    "start": start,
    "result": result,
    "nodes": nodes,
);

impl Serialize for LessonData {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.to_plain().serialize(serializer)
    }
}

/// Tags as an object whose names keep their order.
#[derive(Debug)]
pub struct Tags(pub Vec<(KeptText, KeptText)>);

impl ToPlain for Tags {
    fn to_plain(&self) -> Plain<'_> {
        let tags = self.0.iter();
        Plain::Object(
            tags.map(|(name, value)| (name.as_str(), Plain::Text(value)))
                .listed(),
        )
    }
}

/// One node. Absent values are null.
#[derive(Debug)]
pub struct NodeData {
    /// Its number, 0 for the start.
    pub id: NodeId,
    /// The node before.
    pub parent: Option<NodeId>,
    /// The nodes after, in the order of the text.
    pub children: Vec<NodeId>,
    /// Half-moves from the start.
    pub ply: u32,
    /// English SAN with `+` or `#`; `--` for a pass.
    pub san: Option<String>,
    /// Two squares and a promotion; castling is the king's two squares, a pass `0000`.
    pub uci: Option<String>,
    /// The position, six fields.
    pub fen: String,
    /// Numeric annotation glyphs.
    pub nags: Vec<u8>,
    /// Text before a variation's first move.
    pub before: Option<String>,
    /// Text after the move.
    pub comment: Option<String>,
    /// What the comment marks on the board.
    pub marks: Vec<MarkData>,
    /// The condition with which the author recommends the move, possibly empty.
    pub choice: Option<String>,
    /// The question asked here.
    pub ask: Option<AskData>,
    /// The label of its variation; null on the main line.
    pub line: Option<String>,
}

leaves_as!(
    NodeData,
    "id": id,
    "parent": parent,
    "children": children,
    "ply": ply,
    "san": san,
    "uci": uci,
    "fen": fen,
    "nags": nags,
    "before": before,
    "comment": comment,
    "marks": marks,
    "choice": choice,
    "ask": ask,
    "line": line,
);

/// A mark of a comment.
#[derive(Debug)]
pub struct MarkData {
    /// `plain`, `strong` or `weak`.
    pub kind: &'static str,
    /// One square, two for an arrow, more for a route.
    pub squares: Vec<String>,
}

leaves_as!(
    MarkData,
    "kind": kind,
    "squares": squares,
);

/// A question of a comment.
#[derive(Debug)]
pub struct AskData {
    /// What is asked.
    pub prompt: String,
    /// Help on request.
    pub hint: Option<String>,
    /// Why the answer is right.
    pub because: Option<String>,
}

leaves_as!(
    AskData,
    "prompt": prompt,
    "hint": hint,
    "because": because,
);

/// One variation of the outline.
#[derive(Debug)]
pub struct OutlineData {
    /// Its label.
    pub line: String,
    /// Its first node.
    pub node: NodeId,
    /// 1 for a variation of the main line, 2 for one of those, and so on.
    pub depth: u32,
    /// The SANs of its own moves.
    pub moves: Vec<String>,
}

leaves_as!(
    OutlineData,
    "line": line,
    "node": node,
    "depth": depth,
    "moves": moves,
);

/// The tags of a lesson.
pub fn tags(lesson: &Lesson) -> Tags {
    Tags(lesson.tags.clone())
}

/// The start of a lesson as FEN.
pub fn start(lesson: &Lesson) -> String {
    rules::fen(&lesson.node(0).position, EnPassantForm::Legal)
}

/// The whole lesson.
pub fn lesson(lesson: &Lesson) -> LessonData {
    LessonData {
        tags: tags(lesson),
        start: start(lesson),
        result: lesson.result,
        nodes: lesson.ids().filter_map(|id| node(lesson, id)).listed(),
    }
}

/// One node; `None` for a number that the lesson does not have.
pub fn node(lesson: &Lesson, id: NodeId) -> Option<NodeData> {
    let node = lesson.get(id)?;
    let moved = node.parent.is_some();
    let mut marks = Vec::new();
    for passage in node.comments.iter().flat_map(Comment::passages) {
        for mark in passage.marks() {
            marks.push(MarkData {
                kind: mark.kind.word(),
                squares: mark.squares.into_iter().map(rules::square_name).listed(),
            });
        }
    }
    Some(NodeData {
        id,
        parent: node.parent,
        children: node.children.to_vec(),
        ply: node.ply,
        san: moved.then(|| node.san.to_string()),
        uci: moved.then(|| rules::uci(node.played)),
        fen: rules::fen(&node.position, EnPassantForm::Legal),
        nags: node.nags.clone(),
        before: Comment::join(&node.before),
        comment: Comment::join(&node.comments),
        marks,
        choice: node.choice().map(|choice| choice.text().to_owned()),
        ask: node.ask().map(|ask| AskData {
            prompt: written(&ask.prompt),
            hint: ask.hint().map(written),
            because: ask.because().map(written),
        }),
        line: label(lesson, id),
    })
}

fn written(passage: &Passage) -> String {
    passage.text().to_owned()
}

/// The label of a node's variation; none on the main line.
pub(super) fn label(lesson: &Lesson, id: NodeId) -> Option<String> {
    Some(lesson.label(id))
        .filter(|label| !label.is_empty())
        .map(str::to_owned)
}

/// The outline.
pub fn outline(lesson: &Lesson) -> Vec<OutlineData> {
    let entries = lesson::outline(lesson);
    entries
        .iter()
        .map(|entry| OutlineData {
            line: lesson.line(entry.line).label.clone(),
            node: entry.node,
            depth: entry.depth,
            moves: lesson
                .line_nodes(entry.line)
                .map(|id| lesson.node(id).san.to_string())
                .listed(),
        })
        .listed()
}
