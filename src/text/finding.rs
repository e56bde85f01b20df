//! What the checker says about a place in a text.

use super::code::Code;
use super::severity::Severity;
use super::{Span, limits};
use core::ops::Range;

/// A change that certainly fixes what the finding names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// The bytes to replace.
    pub span: Span,
    /// The text that replaces them.
    pub text: String,
}

/// A second place that helps to understand the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// The other place.
    pub span: Span,
    /// How it is related to the finding.
    pub message: String,
    /// Where it is if it is in another text; then it has no span here.
    #[cfg(not(target_family = "wasm"))]
    pub elsewhere: Option<Elsewhere>,
}

/// A place in another text, which need not be kept for it.
#[cfg(not(target_family = "wasm"))]
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elsewhere {
    /// The name of the text.
    pub file: String,
    /// Line and column where it begins, both from 1.
    pub from: (u32, u32),
    /// Those where it ends.
    pub to: (u32, u32),
}

/// One message of the checker.
///
/// Boxed, because it is handed on by value from call to call, and moving all of it costs every page
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
    /// How to fix it, where that is known.
    pub help: Option<String>,
    /// A certain fix, where there is one.
    pub fix: Option<Fix>,
    /// Other places that belong to it.
    pub related: Vec<Related>,
    /// The attribute that it is about, which has no place in the text; empty if it is about the
    /// text.
    pub attribute: &'static str,
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
            attribute: "",
        }))
    }

    /// The same about an attribute.
    pub fn of_attribute(mut self, name: &'static str) -> Finding {
        self.attribute = name;
        self
    }

    /// The same with help.
    pub fn with_help(mut self, help: String) -> Finding {
        self.help = Some(help);
        self
    }

    /// The same with a certain fix.
    pub fn with_fix(mut self, span: Span, text: String) -> Finding {
        self.fix = Some(Fix { span, text });
        self
    }

    /// The same with another place.
    pub fn with_related(mut self, span: Span, message: String) -> Finding {
        self.related.push(Related {
            span,
            message,
            #[cfg(not(target_family = "wasm"))]
            elsewhere: None,
        });
        self
    }

    /// The same with a place in another text.
    #[cfg(not(target_family = "wasm"))]
    pub fn with_elsewhere(mut self, elsewhere: Elsewhere, message: String) -> Finding {
        self.related.push(Related {
            span: Span::default(),
            message,
            elsewhere: Some(elsewhere),
        });
        self
    }

    /// How much it matters.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }
}

/// The findings of one text: at most [`limits::FINDINGS`] errors and as many others. Where there
/// were more, one more finding says so.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Findings {
    list: Vec<Finding>,
    /// How many of them are no errors, and how many are.
    kept: [usize; 2],
    /// Whether one of them says that there were more.
    is_cut: bool,
    /// From the first to the last of the errors that are not kept.
    lost: Option<Span>,
}

impl Findings {
    /// Adds one, or notes that there were more than are kept. Errors are never dropped for others.
    pub fn push(&mut self, finding: Finding) {
        if finding.code == Code::MoreFindings {
            return self.cut(finding.span);
        }
        let is_error = finding.severity() == Severity::Error;
        let kept = &mut self.kept[usize::from(is_error)];
        if *kept < limits::FINDINGS {
            *kept += 1;
            self.list.push(finding);
        } else if is_error {
            self.lose(finding.span);
        } else {
            self.cut(finding.span);
        }
    }

    /// Adds the finding, once, that there were more.
    fn cut(&mut self, span: Span) {
        if !core::mem::replace(&mut self.is_cut, true) {
            let message = "this text has more findings than are listed here".to_owned();
            self.list
                .push(Finding::new(Code::MoreFindings, span, message));
        }
    }

    /// Notes an error that is not kept.
    fn lose(&mut self, span: Span) {
        self.lost = Some(self.lost.map_or(span, |lost| lost.join(span)));
        self.cut(span);
    }

    /// Adds all of another list.
    pub fn extend(&mut self, others: Findings) {
        for finding in others.list {
            self.push(finding);
        }
        if let Some(lost) = others.lost {
            self.lose(lost);
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

    /// Those that begin in a range of bytes; they must be in the order of their places. An error
    /// that is not kept and may be one of them is noted.
    pub fn within(&self, bytes: &Range<u32>) -> Findings {
        let first = self
            .list
            .partition_point(|finding| finding.span.from < bytes.start);
        let mut some = Findings::default();
        let rest = self.list.iter().skip(first);
        for finding in rest.take_while(|finding| finding.span.from < bytes.end) {
            some.push(finding.clone());
        }
        if let Some(lost) = self.lost
            && lost.from < bytes.end
            && lost.to > bytes.start
        {
            some.lose(lost);
        }
        some
    }

    /// All of them.
    pub fn iter(&self) -> core::slice::Iter<'_, Finding> {
        self.list.iter()
    }

    /// All of them, to be changed.
    pub fn iter_mut(&mut self) -> core::slice::IterMut<'_, Finding> {
        self.list.iter_mut()
    }

    /// Removes those that other findings explain.
    pub fn retain(&mut self, keep: impl FnMut(&Finding) -> bool) {
        self.list.retain(keep);
        self.kept = [0; 2];
        for finding in &self.list {
            self.kept[usize::from(finding.severity() == Severity::Error)] += 1;
        }
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
        self.lost.is_some() || self.iter().any(|f| f.severity() == Severity::Error)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(code: Code, from: usize) -> Finding {
        Finding::new(code, Span::new(from, from + 1), String::new())
    }

    /// A list with as many warnings as are kept and one more.
    fn full_of_warnings() -> Findings {
        let mut findings = Findings::default();
        for at in 0..=limits::FINDINGS {
            findings.push(found(Code::WrongNumber, at));
        }
        findings
    }

    #[test]
    fn an_error_is_kept_after_any_number_of_warnings() {
        let mut findings = full_of_warnings();
        findings.push(found(Code::NotAMove, 5_000));
        let last = findings.iter().next_back().map(|it| it.code);
        assert_eq!(last, Some(Code::NotAMove));
        assert_eq!(
            findings.len(),
            limits::FINDINGS + 2,
            "and that there were more"
        );
    }

    #[test]
    fn that_there_were_more_is_said_once() {
        let mut all = full_of_warnings();
        all.extend(full_of_warnings());
        let more = all.iter().filter(|it| it.code == Code::MoreFindings);
        assert_eq!(more.count(), 1);
        assert!(!all.has_error());
    }

    #[test]
    fn an_error_that_is_not_kept_counts_where_it_may_be() {
        let mut findings = Findings::default();
        for at in 0..=limits::FINDINGS {
            findings.push(found(Code::NotAMove, at * 10));
        }
        assert_eq!(
            findings.len(),
            limits::FINDINGS + 1,
            "and that there were more"
        );
        let last = 10 * limits::FINDINGS as u32;
        assert!(findings.within(&(last..last + 1)).has_error());
        assert!(!findings.within(&(last + 1..last + 9)).has_error());
    }
}
