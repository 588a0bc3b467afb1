//! Trade sizes of raceways, from 3/8 to 6.
//! Source: NFPA 70 Chapter 9 Table 4; designators in inches, which are names, not measures.

use std::fmt;
use std::str::FromStr;

/// A raceway trade size. Ordered from small to large.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TradeSize(u8);

const NAMES: [&str; 13] = [
    "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6",
];

impl TradeSize {
    /// Every trade size, smallest first.
    pub fn all() -> impl DoubleEndedIterator<Item = Self> + Clone {
        (0..NAMES.len() as u8).map(Self)
    }

    /// The size as the trade writes it, for example `1-1/4`.
    #[must_use]
    pub fn name(self) -> &'static str {
        NAMES[usize::from(self.0)]
    }

    /// Place in the list of sizes, for tables indexed by size.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

impl fmt::Display for TradeSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// The text names no trade size.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a raceway trade size: expected for example 1/2, 1-1/4, 2")]
pub struct UnknownTradeSize(pub String);

impl FromStr for TradeSize {
    type Err = UnknownTradeSize;
    fn from_str(text: &str) -> Result<Self, UnknownTradeSize> {
        NAMES
            .iter()
            .position(|name| *name == text.trim())
            .map(|i| Self(i as u8))
            .ok_or_else(|| UnknownTradeSize(text.to_owned()))
    }
}

impl serde::Serialize for TradeSize {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.name())
    }
}

impl<'de> serde::Deserialize<'de> for TradeSize {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

impl schemars::JsonSchema for TradeSize {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "TradeSize".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "enum": NAMES })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_trade_size_reads_back_as_it_is_written() {
        for size in TradeSize::all() {
            assert_eq!(size.name().parse(), Ok(size));
        }
        assert!("1.25".parse::<TradeSize>().is_err());
    }
}
