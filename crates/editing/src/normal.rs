//! Every fact of a picture in one form, so that a screen need not know the four ways in which a job file writes one.
//! Source: the model's own serialization, with the text beside it to tell what was asked from what was left out. No units of its own.
//!
//! Known: `{ "known": true, "is": .., "by": .. }`. Unknown: `{ "known": false, "asked": .. }`, asked when the text says `"unknown"`.

use serde::ser::{
    Error as _, Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant,
    SerializeTuple, SerializeTupleStruct, SerializeTupleVariant, Serializer,
};
use serde_json::{Error, Map, Value, json};

use model::fact::{FACT, SPELLED};

/// The value with its facts in normal form; `raw` is the same as the text spells it.
pub(crate) fn of<T: Serialize>(value: &T, raw: Option<&Value>) -> Value {
    let normal = Normal {
        raw,
        in_fact: false,
    };
    value.serialize(normal).unwrap_or(Value::Null)
}

#[derive(Clone, Copy)]
struct Normal<'a> {
    raw: Option<&'a Value>,
    in_fact: bool,
}

impl<'a> Normal<'a> {
    /// A whole value: inside of a fact it is what somebody saw.
    fn whole(self, value: Value) -> Value {
        match self.in_fact {
            true => json!({ "known": true, "is": value, "by": "seen" }),
            false => value,
        }
    }

    fn plain<T: Serialize>(self, value: T) -> Result<Value, Error> {
        Ok(self.whole(serde_json::to_value(value)?))
    }

    /// What the text has below a spelled fact, or here.
    fn bare(self) -> Option<&'a Value> {
        let raw = self.raw?;
        Some(self.in_fact.then(|| raw.get("is")).flatten().unwrap_or(raw))
    }

    fn list(self) -> List<'a> {
        List {
            at: self,
            items: Vec::new(),
        }
    }

    fn table(self, is_spelled: bool) -> Table<'a> {
        Table {
            at: self,
            is_spelled,
            key: String::new(),
            entries: Map::new(),
        }
    }
}

macro_rules! plain {
    ($($name:ident: $type:ty),*) => {$(
        fn $name(self, v: $type) -> Result<Value, Error> { self.plain(v) }
    )*};
}

impl<'a> Serializer for Normal<'a> {
    type Ok = Value;
    type Error = Error;
    type SerializeSeq = List<'a>;
    type SerializeTuple = List<'a>;
    type SerializeTupleStruct = List<'a>;
    type SerializeTupleVariant = List<'a>;
    type SerializeMap = Table<'a>;
    type SerializeStruct = Table<'a>;
    type SerializeStructVariant = Table<'a>;

    plain! {
        serialize_bool: bool, serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_f32: f32, serialize_f64: f64, serialize_char: char, serialize_str: &str, serialize_bytes: &[u8]
    }

    fn serialize_none(self) -> Result<Value, Error> {
        Ok(Value::Null)
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<Value, Error> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<Value, Error> {
        Ok(Value::Null)
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<Value, Error> {
        Ok(Value::Null)
    }

    fn serialize_unit_variant(
        self,
        name: &'static str,
        _: u32,
        variant: &'static str,
    ) -> Result<Value, Error> {
        match name {
            SPELLED => Ok(json!({ "known": false, "asked": self.raw.is_some() })),
            _ => Ok(self.whole(Value::from(variant))),
        }
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        name: &'static str,
        value: &T,
    ) -> Result<Value, Error> {
        let in_fact = self.in_fact || name == FACT;
        value.serialize(Self { in_fact, ..self })
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<Value, Error> {
        let inner = value.serialize(Self {
            in_fact: false,
            ..self
        })?;
        Ok(self.whole(json!({ variant: inner })))
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<List<'a>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple(self, _: usize) -> Result<List<'a>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<List<'a>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<List<'a>, Error> {
        Ok(self.list())
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Table<'a>, Error> {
        Ok(self.table(false))
    }

    fn serialize_struct(self, name: &'static str, _: usize) -> Result<Table<'a>, Error> {
        Ok(self.table(name == SPELLED))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Table<'a>, Error> {
        Ok(self.table(false))
    }
}

/// A list in the making.
struct List<'a> {
    at: Normal<'a>,
    items: Vec<Value>,
}

impl List<'_> {
    fn add<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> {
        let raw = self.at.bare().and_then(|raw| raw.get(self.items.len()));
        self.items.push(value.serialize(Normal {
            raw,
            in_fact: false,
        })?);
        Ok(())
    }

    fn finish(self) -> Result<Value, Error> {
        Ok(self.at.whole(Value::Array(self.items)))
    }
}

/// A table in the making.
struct Table<'a> {
    at: Normal<'a>,
    is_spelled: bool,
    key: String,
    entries: Map<String, Value>,
}

impl Table<'_> {
    fn add<T: Serialize + ?Sized>(&mut self, key: &str, value: &T) -> Result<(), Error> {
        // The parts of a spelled fact stand where the fact stands.
        let raw = match self.is_spelled {
            true => self.at.raw,
            false => self.at.bare().and_then(|raw| raw.get(key)),
        };
        let value = value.serialize(Normal {
            raw,
            in_fact: false,
        })?;
        self.entries.insert(key.to_owned(), value);
        Ok(())
    }

    fn finish(mut self) -> Result<Value, Error> {
        if self.is_spelled {
            self.entries
                .shift_insert(0, "known".to_owned(), Value::Bool(true));
            return Ok(Value::Object(self.entries));
        }
        Ok(self.at.whole(Value::Object(self.entries)))
    }
}

macro_rules! lists {
    ($($trait:ident: $method:ident),*) => {$(
        impl $trait for List<'_> {
            type Ok = Value;
            type Error = Error;
            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> { self.add(value) }
            fn end(self) -> Result<Value, Error> { self.finish() }
        }
    )*};
}

lists! {
    SerializeSeq: serialize_element, SerializeTuple: serialize_element,
    SerializeTupleStruct: serialize_field, SerializeTupleVariant: serialize_field
}

macro_rules! tables {
    ($($trait:ident),*) => {$(
        impl $trait for Table<'_> {
            type Ok = Value;
            type Error = Error;
            fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), Error> {
                self.add(key, value)
            }
            fn end(self) -> Result<Value, Error> { self.finish() }
        }
    )*};
}

tables! { SerializeStruct, SerializeStructVariant }

impl SerializeMap for Table<'_> {
    type Ok = Value;
    type Error = Error;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Error> {
        match serde_json::to_value(key)? {
            Value::String(key) => self.key = key,
            other => return Err(Error::custom(format!("`{other}` is no name"))),
        }
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> {
        let key = std::mem::take(&mut self.key);
        self.add(&key, value)
    }

    fn end(self) -> Result<Value, Error> {
        self.finish()
    }
}
