//! The element tree. It holds no adjacent and no empty text, so that what is written as HTML
//! is read back as the same nodes.

use std::borrow::Cow;

/// A node of the tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Markup {
    /// An element.
    Element(Element),
    /// Text, not empty.
    Text(String),
}

/// An element. Inside `svg` everything is SVG, elsewhere HTML.
///
/// Boxed, because it is handed on by value from call to call, and moving all of it costs every page
/// several kilobytes of code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Element(Box<Inner>);

/// What an element is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inner {
    /// Its name.
    pub tag: &'static str,
    /// Its attributes; each name once.
    pub attributes: Vec<(&'static str, Cow<'static, str>)>,
    /// What it holds.
    pub children: Vec<Markup>,
}

/// An empty element.
pub fn el(tag: &'static str) -> Element {
    Element(Box::new(Inner {
        tag,
        attributes: Vec::new(),
        children: Vec::new(),
    }))
}

impl core::ops::Deref for Element {
    type Target = Inner;
    fn deref(&self) -> &Inner {
        &self.0
    }
}

impl core::ops::DerefMut for Element {
    fn deref_mut(&mut self) -> &mut Inner {
        &mut self.0
    }
}

impl Element {
    /// Stands for the element that is there: nothing of it is changed.
    pub fn kept() -> Element {
        el("")
    }

    /// Whether it stands for the element that is there.
    pub fn is_kept(&self) -> bool {
        self.tag.is_empty()
    }

    /// The same with an attribute. A name given twice keeps its last value.
    pub fn with(mut self, name: &'static str, value: impl Into<Cow<'static, str>>) -> Element {
        self.set(name, value.into());
        self
    }

    // Apart, so that it is there once and not for each kind of value.
    fn set(&mut self, name: &'static str, value: Cow<'static, str>) {
        match self.attributes.iter_mut().find(|(known, _)| *known == name) {
            Some((_, old)) => *old = value,
            None => {
                self.attributes.reserve_exact(1);
                self.attributes.push((name, value));
            }
        }
    }

    /// The same with an attribute, if the condition holds.
    pub fn with_if(self, condition: bool, name: &'static str, value: &'static str) -> Element {
        if condition {
            self.with(name, value)
        } else {
            self
        }
    }

    /// The same with a child at the end.
    pub fn child(mut self, child: Element) -> Element {
        self.push(Markup::Element(child));
        self
    }

    // With room for no more: most elements have one child, and a long lesson has many thousand elements.
    fn push(&mut self, child: Markup) {
        if self.children.len() < 3 {
            self.children.reserve_exact(1);
        }
        self.children.push(child);
    }

    /// The same with a child at the end, if there is one.
    pub fn maybe(self, child: Option<Element>) -> Element {
        match child {
            Some(child) => self.child(child),
            None => self,
        }
    }

    /// The same with text at the end: joined to text that is there, nothing where it is empty.
    pub fn text(mut self, text: &str) -> Element {
        if text.is_empty() {
            return self;
        }
        match self.children.last_mut() {
            Some(Markup::Text(last)) => last.push_str(text),
            _ => self.push(Markup::Text(text.to_owned())),
        }
        self
    }

    /// The same with these children at the end.
    pub fn children(mut self, children: impl IntoIterator<Item = Element>) -> Element {
        // A loop, because each `extend` has machinery of its own.
        for child in children {
            self.push(Markup::Element(child));
        }
        self
    }
}
