//! A surveyed fact is known, with who said so, or unknown. Nothing in between, and never a silent default.
//! Source: the survey itself. Written in a job file as a plain value, as `{ is = .., by = .. }`, or as `"unknown"`.

use std::fmt;
use std::marker::PhantomData;

use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer, StrDeserializer};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Who or what stands behind a known fact.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Said {
    /// Seen on site by the contractor. What a plain value in a job file means.
    #[default]
    Seen,
    /// Read off an instrument or a tape.
    Measured,
    /// Read off a label or a nameplate.
    Label,
    /// Told by the customer.
    Customer,
    /// Told by the utility.
    Utility,
    /// Told by the authority having jurisdiction.
    Authority,
    /// From the plan for the work: what will be installed.
    Planned,
    /// Taken for granted; a reminder to look.
    Assumed,
    /// Worked out by the engine from other facts.
    Derived,
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Seen => "seen",
            Self::Measured => "measured",
            Self::Label => "label",
            Self::Customer => "customer",
            Self::Utility => "utility",
            Self::Authority => "authority",
            Self::Planned => "planned",
            Self::Assumed => "assumed",
            Self::Derived => "derived",
        })
    }
}

/// A fact about the house.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Fact<T> {
    /// Somebody knows.
    Known {
        /// What is so.
        is: T,
        /// Who says so.
        by: Said,
    },
    /// Nobody knows yet.
    #[default]
    Unknown,
}

impl<T> Fact<T> {
    /// Known by sight.
    pub const fn seen(is: T) -> Self {
        Self::Known { is, by: Said::Seen }
    }

    /// Worked out from other facts.
    pub const fn derived(is: T) -> Self {
        Self::Known {
            is,
            by: Said::Derived,
        }
    }

    /// The value, when known.
    pub const fn known(&self) -> Option<&T> {
        match self {
            Self::Known { is, .. } => Some(is),
            Self::Unknown => None,
        }
    }

    /// Who said it, when known.
    pub const fn said(&self) -> Option<Said> {
        match self {
            Self::Known { by, .. } => Some(*by),
            Self::Unknown => None,
        }
    }

    /// True when nobody knows.
    pub const fn is_unknown(&self) -> bool {
        matches!(self, Self::Unknown)
    }

    /// The same fact seen through `f`; unknown stays unknown.
    pub fn map<U>(&self, f: impl FnOnce(&T) -> U) -> Fact<U> {
        match self {
            Self::Known { is, by } => Fact::Known { is: f(is), by: *by },
            Self::Unknown => Fact::Unknown,
        }
    }

    /// This fact when known, else the other.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        if self.is_unknown() { other } else { self }
    }
}

impl<T: Copy> Fact<T> {
    /// The value, when known.
    pub fn get(&self) -> Option<T> {
        self.known().copied()
    }
}

/// Name under which a fact is serialized, so that a serializer of our own can tell facts from other values.
pub const FACT: &str = "Fact";
/// Name of the spelled forms, `{ is, by }` and `"unknown"`.
pub const SPELLED: &str = "SpelledFact";

impl<T: Serialize> Serialize for Fact<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_newtype_struct(FACT, &Form(self))
    }
}

/// A fact as a job file writes it.
struct Form<'f, T>(&'f Fact<T>);

impl<T: Serialize> Serialize for Form<'_, T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        match self.0 {
            Fact::Unknown => s.serialize_unit_variant(SPELLED, 0, "unknown"),
            Fact::Known { is, by: Said::Seen } => is.serialize(s),
            Fact::Known { is, by } => {
                let mut map = s.serialize_struct(SPELLED, 2)?;
                map.serialize_field("is", is)?;
                map.serialize_field("by", by)?;
                map.end()
            }
        }
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Fact<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(FactVisitor(PhantomData))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Spelled<T> {
    is: T,
    #[serde(default)]
    by: Said,
}

struct FactVisitor<T>(PhantomData<T>);

/// Everything but `"unknown"` and `{ is, by }` is handed on to the value's own reader, so its messages survive.
impl<'de, T: Deserialize<'de>> serde::de::Visitor<'de> for FactVisitor<T> {
    type Value = Fact<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value, `{ is = .., by = .. }` or \"unknown\"")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Fact<T>, E> {
        if text == "unknown" {
            return Ok(Fact::Unknown);
        }
        T::deserialize(StrDeserializer::new(text)).map(Fact::seen)
    }

    fn visit_bool<E: serde::de::Error>(self, v: bool) -> Result<Fact<T>, E> {
        T::deserialize(serde::de::value::BoolDeserializer::new(v)).map(Fact::seen)
    }

    fn visit_i64<E: serde::de::Error>(self, v: i64) -> Result<Fact<T>, E> {
        T::deserialize(serde::de::value::I64Deserializer::new(v)).map(Fact::seen)
    }

    fn visit_u64<E: serde::de::Error>(self, v: u64) -> Result<Fact<T>, E> {
        T::deserialize(serde::de::value::U64Deserializer::new(v)).map(Fact::seen)
    }

    fn visit_f64<E: serde::de::Error>(self, v: f64) -> Result<Fact<T>, E> {
        T::deserialize(serde::de::value::F64Deserializer::new(v)).map(Fact::seen)
    }

    fn visit_seq<A: serde::de::SeqAccess<'de>>(self, seq: A) -> Result<Fact<T>, A::Error> {
        T::deserialize(SeqAccessDeserializer::new(seq)).map(Fact::seen)
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Fact<T>, A::Error> {
        let Spelled { is, by } = Spelled::deserialize(MapAccessDeserializer::new(map))?;
        Ok(Fact::Known { is, by })
    }
}

impl<T: schemars::JsonSchema> schemars::JsonSchema for Fact<T> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("Fact_{}", T::schema_name()).into()
    }

    fn json_schema(g: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let value = g.subschema_for::<T>();
        let by = g.subschema_for::<Said>();
        schemars::json_schema!({
            "anyOf": [
                value,
                { "const": "unknown" },
                {
                    "type": "object",
                    "properties": { "is": value, "by": by },
                    "required": ["is"],
                    "additionalProperties": false
                }
            ]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, Deserialize, PartialEq)]
    struct Row {
        #[serde(default)]
        amps: Fact<f64>,
        #[serde(default)]
        tags: Fact<Vec<String>>,
    }

    fn check(text: &str, amps: Fact<f64>) {
        assert_eq!(toml::from_str::<Row>(text).unwrap().amps, amps, "{text}");
    }

    #[test]
    fn a_fact_is_plain_or_spelled_or_unknown_or_left_out() {
        check("amps = 15", Fact::seen(15.0));
        check(
            "amps = { is = 15.5, by = 'label' }",
            Fact::Known {
                is: 15.5,
                by: Said::Label,
            },
        );
        check("amps = 'unknown'", Fact::Unknown);
        check("", Fact::Unknown);
    }

    #[test]
    fn a_wrong_type_is_named_as_such() {
        let error = toml::from_str::<Row>("amps = true")
            .unwrap_err()
            .to_string();
        assert!(error.contains("invalid type"), "{error}");
    }

    #[test]
    fn a_set_is_a_fact_too() {
        let row: Row = toml::from_str("tags = ['a', 'b']").unwrap();
        assert_eq!(row.tags.known().unwrap().len(), 2);
    }
}
