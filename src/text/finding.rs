//! What the checker says about a place in a text.

use super::{Code, Span, limits};
use core::ops::Range;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth a look; nothing is wrong.
    Hint,
    /// Readable, but the text disagrees with itself.
    Warning,
    /// Something cannot be read or played.
    Error,
}

impl Severity {
    /// The word that reports use.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Hint => "hint",
            Severity::Warning => "warning",
            Severity::Error => "error",
        }
    }
}

/// A change that certainly mends what the finding names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// The bytes to replace.
    pub span: Span,
    /// What stands there afterwards.
    pub text: String,
}

/// A second place that helps to understand the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// The other place.
    pub span: Span,
    /// What it has to do with the finding.
    pub message: String,
}

/// One message of the checker.
///
/// Boxed, for it is handed on by value from call to call, and moving all of it costs every page
/// a kilobyte of code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding(Box<Message>);

/// What a message says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// Which kind of finding; fixes the severity and the explanation.
    pub code: Code,
    /// The place it is about. For a move: its word, without number, dots and signs.
    pub span: Span,
    /// What is wrong, a sentence in chess terms.
    pub message: String,
    /// A way out, where one is known.
    pub help: Option<String>,
    /// A certain mend, where there is one.
    pub fix: Option<Fix>,
    /// Other places that belong to it.
    pub related: Vec<Related>,
}

impl core::ops::Deref for Finding {
    type Target = Message;
    fn deref(&self) -> &Message {
        &self.0
    }
}

impl core::ops::DerefMut for Finding {
    fn deref_mut(&mut self) -> &mut Message {
        &mut self.0
    }
}

impl Finding {
    /// A finding with no more than its sentence.
    pub fn new(code: Code, span: Span, message: String) -> Finding {
        Finding(Box::new(Message {
            code,
            span,
            message,
            help: None,
            fix: None,
            related: Vec::new(),
        }))
    }

    /// The same with a way out.
    pub fn with_help(mut self, help: String) -> Finding {
        self.help = Some(help);
        self
    }

    /// The same with a certain mend.
    pub fn with_fix(mut self, span: Span, text: String) -> Finding {
        self.fix = Some(Fix { span, text });
        self
    }

    /// The same with another place.
    pub fn with_related(mut self, span: Span, message: String) -> Finding {
        self.related.push(Related { span, message });
        self
    }

    /// How much it matters.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }
}

/// The findings of one text, at most [`limits::FINDINGS`]; one more is a finding of its own.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Findings {
    list: Vec<Finding>,
    full: bool,
    /// Whether an error was among those that are not kept.
    dropped_error: bool,
}

impl Findings {
    /// Adds one, or notes that there were more than are kept.
    pub fn push(&mut self, finding: Finding) {
        if self.full {
            self.dropped_error |= finding.severity() == Severity::Error;
            return;
        }
        if self.list.len() >= limits::FINDINGS {
            self.full = true;
            self.dropped_error |= finding.severity() == Severity::Error;
            self.list.push(Finding::new(
                Code::MoreFindings,
                finding.span,
                "there is more to say about this text than is listed here".to_owned(),
            ));
            return;
        }
        self.list.push(finding);
    }

    /// Adds all of another list.
    pub fn extend(&mut self, others: Findings) {
        self.dropped_error |= others.dropped_error;
        for finding in others.list {
            self.push(finding);
        }
    }

    /// In the order of their places; findings of one place stay in the order they were made.
    pub fn sort(&mut self) {
        // Insertion: stable, small, and the lists that arrive are nearly in order.
        for end in 1..self.list.len() {
            let mut at = end;
            while at > 0 && self.list[at - 1].span.from > self.list[at].span.from {
                self.list.swap(at - 1, at);
                at -= 1;
            }
        }
    }

    /// Those that begin in a range of bytes; they must be in the order of their places.
    pub fn within(&self, bytes: &Range<u32>) -> Findings {
        let first = self
            .list
            .partition_point(|finding| finding.span.from < bytes.start);
        let mut some = Findings::default();
        let behind = self.list.iter().skip(first);
        for finding in behind.take_while(|finding| finding.span.from < bytes.end) {
            some.push(finding.clone());
        }
        some
    }

    /// All of them.
    pub fn iter(&self) -> core::slice::Iter<'_, Finding> {
        self.list.iter()
    }

    /// All of them, to say more of some.
    pub fn iter_mut(&mut self) -> core::slice::IterMut<'_, Finding> {
        self.list.iter_mut()
    }

    /// Leaves out those that others have made needless.
    pub fn retain(&mut self, keep: impl FnMut(&Finding) -> bool) {
        self.list.retain(keep);
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether one of them is an error, or one of those that are not kept was.
    pub fn has_error(&self) -> bool {
        self.dropped_error || self.iter().any(|f| f.severity() == Severity::Error)
    }
}
