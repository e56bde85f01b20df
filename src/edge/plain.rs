//! The one shape in which all data leaves the core: a page then carries a serializer for this and
//! none for each kind of data, which saves it kilobytes.

use serde::{Serialize, Serializer};

/// A value as JSON knows it.
#[derive(Debug)]
pub enum Plain<'a> {
    /// Nothing.
    Null,
    /// A whole number.
    Number(u32),
    /// A text.
    Text(&'a str),
    /// A list.
    List(Vec<Plain<'a>>),
    /// An object, its fields in order.
    Object(Vec<(&'a str, Plain<'a>)>),
}

impl<'a> Plain<'a> {
    /// An object of these fields. They are taken by reference, so a field costs one call.
    pub(super) fn object(fields: &[(&'a str, &'a dyn ToPlain)]) -> Plain<'a> {
        let mut list = Vec::with_capacity(fields.len());
        for (name, value) in fields {
            list.push((*name, value.to_plain()));
        }
        Plain::Object(list)
    }
}

impl Serialize for Plain<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Plain::Null => serializer.serialize_unit(),
            Plain::Number(number) => serializer.serialize_u32(*number),
            Plain::Text(text) => serializer.serialize_str(text),
            Plain::List(list) => serializer.collect_seq(list),
            Plain::Object(fields) => {
                serializer.collect_map(fields.iter().map(|(name, value)| (name, value)))
            }
        }
    }
}

/// What can leave the core.
pub trait ToPlain {
    /// It as plain data.
    fn to_plain(&self) -> Plain<'_>;
}

impl ToPlain for u8 {
    fn to_plain(&self) -> Plain<'_> {
        Plain::Number((*self).into())
    }
}

impl ToPlain for u32 {
    fn to_plain(&self) -> Plain<'_> {
        Plain::Number(*self)
    }
}

impl ToPlain for &str {
    fn to_plain(&self) -> Plain<'_> {
        Plain::Text(self)
    }
}

impl ToPlain for String {
    fn to_plain(&self) -> Plain<'_> {
        Plain::Text(self)
    }
}

impl<T: ToPlain> ToPlain for Option<T> {
    fn to_plain(&self) -> Plain<'_> {
        match self {
            Some(value) => value.to_plain(),
            None => Plain::Null,
        }
    }
}

impl<T: ToPlain> ToPlain for Vec<T> {
    fn to_plain(&self) -> Plain<'_> {
        let mut list = Vec::with_capacity(self.len());
        for value in self {
            list.push(value.to_plain());
        }
        Plain::List(list)
    }
}

/// How a struct leaves the core: an object of the fields named, as one name or as another.
macro_rules! leaves_as {
    ($data:ty, $($name:literal: $field:ident),* $(,)?) => {
        impl $crate::edge::ToPlain for $data {
            fn to_plain(&self) -> $crate::edge::Plain<'_> {
                $crate::edge::Plain::object(&[$(($name, &self.$field)),*])
            }
        }
    };
}
pub(super) use leaves_as;
