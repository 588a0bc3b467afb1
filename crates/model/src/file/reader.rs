//! Hands a parsed table to the types of the house. Source: TOML as `toml` parses it.
//!
//! The reader that `toml` brings along builds every type in several times over, which made up a quarter of the engine in the browser; this
//! one builds each in once. A table is never read from a list, and a date is a text here.

use std::fmt;
use std::ops::Range;

use serde::Deserialize;
use serde::de::{
    self, DeserializeSeed, EnumAccess, IntoDeserializer, MapAccess, SeqAccess, Unexpected,
    VariantAccess, Visitor,
};
use toml::Spanned;
use toml::de::{DeInteger, DeTable, DeValue};

/// What is wrong, in the words of the type that was read, and where.
#[derive(Debug)]
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) span: Option<Range<usize>>,
}

impl Wrong {
    /// At this place, when nothing inside of it was to blame.
    fn or_at(mut self, span: &Range<usize>) -> Self {
        self.span.get_or_insert_with(|| span.clone());
        self
    }
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Wrong {}

impl de::Error for Wrong {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self {
            message: message.to_string(),
            span: None,
        }
    }
}

/// Reads a table.
pub(super) fn read<T: for<'d> Deserialize<'d>>(table: &DeTable<'_>) -> Result<T, Wrong> {
    T::deserialize(Whole(table))
}

/// A table that is no value of another one.
struct Whole<'a, 't>(&'a DeTable<'t>);

impl<'de> de::Deserializer<'de> for Whole<'_, '_> {
    type Error = Wrong;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_map(Entries::of(self.0))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string
        bytes byte_buf option unit unit_struct newtype_struct seq tuple tuple_struct
        map struct enum identifier ignored_any
    }
}

const LARGE: Unexpected<'static> = Unexpected::Other("a number that is too large");

fn whole(number: &DeInteger<'_>) -> Option<i64> {
    i64::from_str_radix(number.as_str(), number.radix()).ok()
}

#[derive(Clone, Copy)]
struct Reader<'a, 't>(&'a Spanned<DeValue<'t>>);

impl Reader<'_, '_> {
    /// What the value is, for those who wanted something else.
    fn refused<'d, V: Visitor<'d>>(&self, visitor: &V) -> Wrong {
        let what = match self.0.get_ref() {
            DeValue::String(text) => Unexpected::Str(text),
            DeValue::Array(_) => Unexpected::Seq,
            DeValue::Table(_) => Unexpected::Map,
            DeValue::Boolean(truth) => Unexpected::Bool(*truth),
            DeValue::Datetime(_) => Unexpected::Other("a date that is not in quotes"),
            DeValue::Integer(number) => whole(number).map_or(LARGE, Unexpected::Signed),
            DeValue::Float(number) => number.as_str().parse().map_or(LARGE, Unexpected::Float),
        };
        de::Error::invalid_type(what, visitor)
    }
}

impl<'de> de::Deserializer<'de> for Reader<'_, '_> {
    type Error = Wrong;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        let value = match self.0.get_ref() {
            DeValue::String(text) => visitor.visit_str(text),
            DeValue::Boolean(truth) => visitor.visit_bool(*truth),
            DeValue::Integer(number) => match whole(number) {
                Some(number) => visitor.visit_i64(number),
                None => Err(de::Error::invalid_value(LARGE, &visitor)),
            },
            DeValue::Float(number) => match number.as_str().parse() {
                Ok(number) => visitor.visit_f64(number),
                Err(_) => Err(de::Error::invalid_value(LARGE, &visitor)),
            },
            DeValue::Array(items) => visitor.visit_seq(Items(items.iter())),
            DeValue::Table(table) => visitor.visit_map(Entries::of(table)),
            DeValue::Datetime(_) => Err(self.refused(&visitor)),
        };
        value.map_err(|wrong| wrong.or_at(&span))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        visitor.visit_some(self).map_err(|wrong| wrong.or_at(&span))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        visitor
            .visit_newtype_struct(self)
            .map_err(|wrong| wrong.or_at(&span))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        let value = match self.0.get_ref() {
            DeValue::Table(table) => visitor.visit_map(Entries::of(table)),
            _ => Err(self.refused(&visitor)),
        };
        value.map_err(|wrong| wrong.or_at(&span))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        let value = match self.0.get_ref() {
            DeValue::String(_) | DeValue::Table(_) => visitor.visit_enum(Choice(self)),
            _ => Err(self.refused(&visitor)),
        };
        value.map_err(|wrong| wrong.or_at(&span))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string
        bytes byte_buf unit unit_struct seq tuple tuple_struct map identifier ignored_any
    }
}

struct Items<'a, 't>(std::slice::Iter<'a, Spanned<DeValue<'t>>>);

impl<'d> SeqAccess<'d> for Items<'_, '_> {
    type Error = Wrong;

    fn next_element_seed<S: DeserializeSeed<'d>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Wrong> {
        self.0
            .next()
            .map(|item| seed.deserialize(Reader(item)))
            .transpose()
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len())
    }
}

struct Entries<'a, 't> {
    rest: <&'a DeTable<'t> as IntoIterator>::IntoIter,
    value: Option<&'a Spanned<DeValue<'t>>>,
}

impl<'a, 't> Entries<'a, 't> {
    fn of(table: &'a DeTable<'t>) -> Self {
        Self {
            rest: table.into_iter(),
            value: None,
        }
    }
}

impl<'d> MapAccess<'d> for Entries<'_, '_> {
    type Error = Wrong;

    fn next_key_seed<S: DeserializeSeed<'d>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Wrong> {
        let Some((key, value)) = self.rest.next() else {
            return Ok(None);
        };
        self.value = Some(value);
        let span = key.span();
        let name: &str = key.get_ref();
        seed.deserialize(IntoDeserializer::<Wrong>::into_deserializer(name))
            .map(Some)
            .map_err(|wrong| wrong.or_at(&span))
    }

    fn next_value_seed<S: DeserializeSeed<'d>>(&mut self, seed: S) -> Result<S::Value, Wrong> {
        let value = self.value.take();
        let value = value.ok_or_else(|| <Wrong as de::Error>::custom("a name without a value"))?;
        seed.deserialize(Reader(value))
    }
}

/// One of several forms: its name alone, or a table of one entry, name and content.
struct Choice<'a, 't>(Reader<'a, 't>);

impl<'a, 't, 'd> EnumAccess<'d> for Choice<'a, 't> {
    type Error = Wrong;
    type Variant = Content<'a, 't>;

    fn variant_seed<S: DeserializeSeed<'d>>(
        self,
        seed: S,
    ) -> Result<(S::Value, Content<'a, 't>), Wrong> {
        let one = "a word, or a table of one entry";
        let (name, span, content): (&str, _, _) = match self.0.0.get_ref() {
            DeValue::Table(table) => {
                let mut entries = table.into_iter();
                match (entries.next(), entries.next()) {
                    (Some((key, value)), None) => (key.get_ref(), Some(key.span()), Some(value)),
                    _ => return Err(de::Error::invalid_type(Unexpected::Map, &one)),
                }
            }
            DeValue::String(name) => (name, None, None),
            _ => return Err(de::Error::invalid_type(Unexpected::Other("a value"), &one)),
        };
        let variant = seed
            .deserialize(IntoDeserializer::<Wrong>::into_deserializer(name))
            .map_err(|wrong| match &span {
                Some(span) => wrong.or_at(span),
                None => wrong,
            })?;
        Ok((variant, Content(content.map(Reader))))
    }
}

struct Content<'a, 't>(Option<Reader<'a, 't>>);

impl<'a, 't> Content<'a, 't> {
    fn get(self) -> Result<Reader<'a, 't>, Wrong> {
        self.0
            .ok_or_else(|| de::Error::custom("a word without its content"))
    }
}

impl<'d> VariantAccess<'d> for Content<'_, '_> {
    type Error = Wrong;

    fn unit_variant(self) -> Result<(), Wrong> {
        match self.0 {
            None => Ok(()),
            Some(_) => Err(de::Error::custom("a word that takes no content")),
        }
    }

    fn newtype_variant_seed<S: DeserializeSeed<'d>>(self, seed: S) -> Result<S::Value, Wrong> {
        seed.deserialize(self.get()?)
    }

    fn tuple_variant<V: Visitor<'d>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        de::Deserializer::deserialize_any(self.get()?, visitor)
    }

    fn struct_variant<V: Visitor<'d>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        de::Deserializer::deserialize_any(self.get()?, visitor)
    }
}
