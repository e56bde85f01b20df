//! Data for the page as JSON text, which the browser turns into objects faster than calls that
//! make them one by one, and with fewer bytes of code than a serializer that makes those calls.

use core::fmt;
use serde::Serialize;
use serde::ser::{self, Impossible, Serializer};
use wasm_bindgen::JsValue;

/// Plain data for the page: objects, arrays, null. What cannot be turned into it (nothing that
/// `edge` holds) is null.
pub(super) fn to_page(value: &impl Serialize) -> JsValue {
    let mut json = Json(String::new());
    match value.serialize(&mut json) {
        Ok(()) => js_sys::JSON::parse(&json.0).unwrap_or(JsValue::NULL),
        Err(fmt::Error) => JsValue::NULL,
    }
}

/// JSON (RFC 8259) that is being written.
struct Json(String);

type Written = Result<(), fmt::Error>;

impl Json {
    /// A comma, unless the object or array has just begun.
    fn next(&mut self) {
        if !matches!(self.0.as_bytes().last(), Some(b'[' | b'{')) {
            self.0.push(',');
        }
    }

    fn string(&mut self, value: &str) {
        self.0.push('"');
        for letter in value.chars() {
            match letter {
                '"' | '\\' => {
                    self.0.push('\\');
                    self.0.push(letter);
                }
                // RFC 8259, section 7: not as they are.
                '\0'..' ' => {
                    let code = letter as u32;
                    self.0.push_str(if code < 16 { "\\u000" } else { "\\u001" });
                    self.0.extend(char::from_digit(code % 16, 16));
                }
                _ => self.0.push(letter),
            }
        }
        self.0.push('"');
    }

    fn named(&mut self, name: &str, value: &(impl Serialize + ?Sized)) -> Written {
        self.next();
        self.string(name);
        self.0.push(':');
        value.serialize(self)
    }
}

/// An object or an array; the sign is what ends it.
struct Open<'a>(&'a mut Json, char);

impl Open<'_> {
    fn close(self) -> Written {
        self.0.0.push(self.1);
        Ok(())
    }
}

/// What no shape of `edge` holds.
macro_rules! refused {
    ($($method:ident($($kind:ty),*) -> $done:ty;)*) => {
        $(fn $method(self, $(_: $kind),*) -> Result<$done, fmt::Error> {
            Err(fmt::Error)
        })*
    };
}

impl<'a> Serializer for &'a mut Json {
    type Ok = ();
    type Error = fmt::Error;
    type SerializeSeq = Open<'a>;
    type SerializeMap = Open<'a>;
    type SerializeStruct = Open<'a>;
    type SerializeTuple = Impossible<(), fmt::Error>;
    type SerializeTupleStruct = Impossible<(), fmt::Error>;
    type SerializeTupleVariant = Impossible<(), fmt::Error>;
    type SerializeStructVariant = Impossible<(), fmt::Error>;

    fn serialize_bool(self, value: bool) -> Written {
        self.0.push_str(if value { "true" } else { "false" });
        Ok(())
    }

    fn serialize_u8(self, value: u8) -> Written {
        self.serialize_u32(value.into())
    }

    fn serialize_u32(self, value: u32) -> Written {
        self.0.push_str(&value.to_string());
        Ok(())
    }

    fn serialize_str(self, value: &str) -> Written {
        self.string(value);
        Ok(())
    }

    fn serialize_none(self) -> Written {
        self.0.push_str("null");
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Written {
        value.serialize(self)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Open<'a>, fmt::Error> {
        self.0.push('[');
        Ok(Open(self, ']'))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Open<'a>, fmt::Error> {
        self.0.push('{');
        Ok(Open(self, '}'))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Open<'a>, fmt::Error> {
        self.serialize_map(None)
    }

    refused! {
        serialize_i8(i8) -> ();
        serialize_i16(i16) -> ();
        serialize_i32(i32) -> ();
        serialize_i64(i64) -> ();
        serialize_u16(u16) -> ();
        serialize_u64(u64) -> ();
        serialize_f32(f32) -> ();
        serialize_f64(f64) -> ();
        serialize_char(char) -> ();
        serialize_bytes(&[u8]) -> ();
        serialize_unit() -> ();
        serialize_unit_struct(&'static str) -> ();
        serialize_unit_variant(&'static str, u32, &'static str) -> ();
        serialize_tuple(usize) -> Self::SerializeTuple;
        serialize_tuple_struct(&'static str, usize) -> Self::SerializeTupleStruct;
        serialize_tuple_variant(&'static str, u32, &'static str, usize) -> Self::SerializeTupleVariant;
        serialize_struct_variant(&'static str, u32, &'static str, usize) -> Self::SerializeStructVariant;
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, _: &T) -> Written {
        Err(fmt::Error)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Written {
        Err(fmt::Error)
    }
}

impl ser::SerializeSeq for Open<'_> {
    type Ok = ();
    type Error = fmt::Error;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Written {
        self.0.next();
        value.serialize(&mut *self.0)
    }

    fn end(self) -> Written {
        self.close()
    }
}

impl ser::SerializeMap for Open<'_> {
    type Ok = ();
    type Error = fmt::Error;

    /// A name must be text; every other kind of one is written as it is and is no JSON.
    fn serialize_key<T: Serialize + ?Sized>(&mut self, name: &T) -> Written {
        self.0.next();
        name.serialize(&mut *self.0)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Written {
        self.0.0.push(':');
        value.serialize(&mut *self.0)
    }

    fn end(self) -> Written {
        self.close()
    }
}

impl ser::SerializeStruct for Open<'_> {
    type Ok = ();
    type Error = fmt::Error;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, name: &'static str, value: &T) -> Written {
        self.0.named(name, value)
    }

    fn end(self) -> Written {
        self.close()
    }
}
