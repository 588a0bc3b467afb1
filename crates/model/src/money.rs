//! Money in exact cents.
//! Source: none needed. US dollars; a product with a share is rounded to the nearest cent, halves away from zero.

use std::fmt;
use std::ops::{Add, AddAssign, Neg, Sub};

/// An amount of US dollars, held in whole cents so that sums of printed lines are exact.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dollars(i64);

impl Dollars {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// From whole cents.
    #[must_use]
    pub const fn from_cents(cents: i64) -> Self {
        Self(cents)
    }

    /// From an amount in dollars, rounded to the cent. `None` when not finite or beyond a quadrillion.
    #[must_use]
    pub fn from_amount(dollars: f64) -> Option<Self> {
        let cents = (dollars * 100.0).round();
        (cents.is_finite() && cents.abs() < 1e17).then_some(Self(cents as i64))
    }

    /// Whole cents.
    #[must_use]
    pub const fn cents(self) -> i64 {
        self.0
    }

    /// A share in basis points (1 % is 100), rounded to the cent, halves away from zero.
    #[must_use]
    pub fn share(self, basis_points: i64) -> Self {
        let product = i128::from(self.0) * i128::from(basis_points);
        let half = if product < 0 { -5_000 } else { 5_000 };
        Self(((product + half) / 10_000) as i64)
    }

    /// Whole-number multiple.
    #[must_use]
    pub fn times(self, count: i64) -> Self {
        Self(self.0 * count)
    }
}

impl fmt::Display for Dollars {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let cents = self.0.unsigned_abs();
        let whole = (cents / 100).to_string();
        let grouped = whole
            .as_bytes()
            .rchunks(3)
            .rev()
            .map(String::from_utf8_lossy)
            .collect::<Vec<_>>();
        let sign = if self.0 < 0 { "-" } else { "" };
        let text = match cents % 100 {
            0 => format!("{sign}${}", grouped.join(",")),
            part => format!("{sign}${}.{part:02}", grouped.join(",")),
        };
        f.pad(&text)
    }
}

impl Add for Dollars {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Dollars {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Dollars {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl AddAssign for Dollars {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl std::iter::Sum for Dollars {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Self::ZERO, Add::add)
    }
}

impl serde::Serialize for Dollars {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_f64(self.0 as f64 / 100.0)
    }
}

impl<'de> serde::Deserialize<'de> for Dollars {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let amount = f64::deserialize(d)?;
        Self::from_amount(amount)
            .ok_or_else(|| serde::de::Error::custom("an amount of dollars must be finite"))
    }
}

impl schemars::JsonSchema for Dollars {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Dollars".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "number", "description": "US dollars" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dollars_print_with_groups_and_cents_only_where_there_are_some() {
        assert_eq!(Dollars::from_cents(123_456_700).to_string(), "$1,234,567");
        assert_eq!(Dollars::from_cents(-105).to_string(), "-$1.05");
        assert_eq!(Dollars::ZERO.to_string(), "$0");
    }

    #[test]
    fn a_share_rounds_halves_away_from_zero() {
        assert_eq!(Dollars::from_cents(50).share(100), Dollars::from_cents(1));
        assert_eq!(Dollars::from_cents(-50).share(100), Dollars::from_cents(-1));
        assert_eq!(Dollars::from_cents(49).share(100), Dollars::ZERO);
    }
}
