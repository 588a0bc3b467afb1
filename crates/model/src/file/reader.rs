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
pub(super) fn read<T: for<'d> Deserialize<'d>>(table: Spanned<DeTable<'_>>) -> Result<T, Wrong> {
    let span = table.span();
    T::deserialize(Reader(Spanned::new(
        span,
        DeValue::Table(table.into_inner()),
    )))
}

const LARGE: Unexpected<'static> = Unexpected::Other("a number that is too large");

fn whole(number: &DeInteger<'_>) -> Option<i64> {
    i64::from_str_radix(number.as_str(), number.radix()).ok()
}

struct Reader<'t>(Spanned<DeValue<'t>>);

impl Reader<'_> {
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

impl<'de> de::Deserializer<'de> for Reader<'_> {
    type Error = Wrong;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Wrong> {
        let span = self.0.span();
        let value = match self.0.get_ref() {
            DeValue::Datetime(_) => Err(self.refused(&visitor)),
            _ => match self.0.into_inner() {
                DeValue::String(text) => visitor.visit_str(&text),
                DeValue::Boolean(truth) => visitor.visit_bool(truth),
                DeValue::Integer(number) => match whole(&number) {
                    Some(number) => visitor.visit_i64(number),
                    None => Err(de::Error::invalid_value(LARGE, &visitor)),
                },
                DeValue::Float(number) => match number.as_str().parse() {
                    Ok(number) => visitor.visit_f64(number),
                    Err(_) => Err(de::Error::invalid_value(LARGE, &visitor)),
                },
                DeValue::Array(items) => visitor.visit_seq(Items(items.into_iter())),
                DeValue::Table(table) => visitor.visit_map(Entries {
                    rest: table.into_iter(),
                    value: None,
                }),
                DeValue::Datetime(_) => Err(de::Error::custom("a date that is not in quotes")),
            },
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
        let refused = self.refused(&visitor);
        let value = match self.0.into_inner() {
            DeValue::Table(table) => visitor.visit_map(Entries {
                rest: table.into_iter(),
                value: None,
            }),
            _ => Err(refused),
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

struct Items<'t>(std::vec::IntoIter<Spanned<DeValue<'t>>>);

impl<'d> SeqAccess<'d> for Items<'_> {
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

struct Entries<'t> {
    rest: <DeTable<'t> as IntoIterator>::IntoIter,
    value: Option<Spanned<DeValue<'t>>>,
}

impl<'d> MapAccess<'d> for Entries<'_> {
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
struct Choice<'t>(Reader<'t>);

impl<'t, 'd> EnumAccess<'d> for Choice<'t> {
    type Error = Wrong;
    type Variant = Content<'t>;

    fn variant_seed<S: DeserializeSeed<'d>>(
        self,
        seed: S,
    ) -> Result<(S::Value, Content<'t>), Wrong> {
        let one = "a word, or a table of one entry";
        let (name, span, content) = match self.0.0.into_inner() {
            DeValue::Table(table) => {
                let mut entries = table.into_iter();
                match (entries.next(), entries.next()) {
                    (Some((key, value)), None) => {
                        let span = key.span();
                        (key.into_inner(), Some(span), Some(value))
                    }
                    _ => return Err(de::Error::invalid_type(Unexpected::Map, &one)),
                }
            }
            DeValue::String(name) => (name, None, None),
            _ => return Err(de::Error::invalid_type(Unexpected::Other("a value"), &one)),
        };
        let name: &str = &name;
        let variant = seed
            .deserialize(IntoDeserializer::<Wrong>::into_deserializer(name))
            .map_err(|wrong| match &span {
                Some(span) => wrong.or_at(span),
                None => wrong,
            })?;
        Ok((variant, Content(content.map(Reader))))
    }
}

struct Content<'t>(Option<Reader<'t>>);

impl<'t> Content<'t> {
    fn get(self) -> Result<Reader<'t>, Wrong> {
        self.0
            .ok_or_else(|| de::Error::custom("a word without its content"))
    }
}

impl<'d> VariantAccess<'d> for Content<'_> {
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
