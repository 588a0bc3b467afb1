//! Exact amounts of work and of goods: what a book's cells hold.
//! Source: none needed. Minutes of one person and counts, both held in whole hundredths, so that money worked out from them is exact.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign};

use model::Dollars;
use model::units::Hours;

macro_rules! hundredths {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(i64);

        impl $name {
            /// None.
            pub const ZERO: Self = Self(0);
            /// From whole hundredths.
            #[must_use]
            pub const fn from_hundredths(n: i64) -> Self { Self(n) }
            /// From whole ones.
            #[must_use]
            pub const fn whole(n: i64) -> Self { Self(n.saturating_mul(100)) }
            /// Whole hundredths.
            #[must_use]
            pub const fn hundredths(self) -> i64 { self.0 }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.pad(&decimal(self.0)) }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, o: Self) -> Self { Self(self.0.saturating_add(o.0)) }
        }
        impl AddAssign for $name { fn add_assign(&mut self, o: Self) { *self = *self + o; } }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self { all.fold(Self::ZERO, Add::add) }
        }
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.serialize_f64(self.0 as f64 / 100.0)
            }
        }
        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool { true }
            fn schema_name() -> std::borrow::Cow<'static, str> { stringify!($name).into() }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "number" })
            }
        }
    )*};
}

hundredths! {
    /// Time that one person works, in minutes.
    Minutes;
    /// How many of a unit: pieces, or feet of wire.
    Count;
    /// A share, in per cent.
    Share;
}

impl Minutes {
    /// The same in hours.
    #[must_use]
    pub fn hours(self) -> Hours {
        Hours(self.0 as f64 / 6000.0)
    }

    /// So many times as long, rounded to the hundredth of a minute.
    #[must_use]
    pub fn times(self, count: Count) -> Self {
        Self(round_div(i128::from(self.0) * i128::from(count.0), 100))
    }

    /// What this time costs at a rate per hour, rounded to the cent, halves away from zero.
    #[must_use]
    pub fn at(self, per_hour: Dollars) -> Dollars {
        let product = i128::from(self.0) * i128::from(per_hour.cents());
        Dollars::from_cents(round_div(product, 6000))
    }
}

impl Count {
    /// A length or count given as a number, rounded to the hundredth; `None` when not finite, negative or absurdly large.
    #[must_use]
    pub fn of(amount: f64) -> Option<Self> {
        (amount.is_finite() && (0.0..1e6).contains(&amount))
            .then(|| Self((amount * 100.0).round() as i64))
    }

    /// What so many cost, rounded to the cent, halves away from zero.
    #[must_use]
    pub fn at(self, each: Dollars) -> Dollars {
        let product = i128::from(self.0) * i128::from(each.cents());
        Dollars::from_cents(round_div(product, 100))
    }

    /// Larger by a share, for waste; rounded to the hundredth.
    #[must_use]
    pub fn and(self, more: Share) -> Self {
        let added = i128::from(self.0) * i128::from(more.0);
        self + Self(round_div(added, 10_000))
    }

    /// So many of so many.
    #[must_use]
    pub fn times(self, count: Self) -> Self {
        Self(round_div(i128::from(self.0) * i128::from(count.0), 100))
    }
}

impl Share {
    /// This share of an amount, rounded to the cent, halves away from zero.
    #[must_use]
    pub fn of(self, amount: Dollars) -> Dollars {
        amount.share(self.0)
    }

    /// What must be added to a cost so that it is this share of the price: cost x share / (1 - share), rounded to the cent.
    /// A share of the whole or more has no answer; readers refuse it, and nothing is added.
    #[must_use]
    pub fn of_price(self, cost: Dollars) -> Dollars {
        if self.0 >= 10_000 {
            return Dollars::ZERO;
        }
        let product = i128::from(cost.cents()) * i128::from(self.0);
        Dollars::from_cents(round_div(product, i128::from(10_000 - self.0)))
    }
}

/// Nearest whole number, halves away from zero; what does not fit is held at the largest.
fn round_div(product: i128, by: i128) -> i64 {
    let half = if product < 0 { -by / 2 } else { by / 2 };
    let rounded = (product + half) / by;
    i64::try_from(rounded).unwrap_or(if rounded < 0 { i64::MIN } else { i64::MAX })
}

fn decimal(hundredths: i64) -> String {
    let (whole, part) = (hundredths / 100, (hundredths % 100).abs());
    match (part, part % 10) {
        (0, _) => whole.to_string(),
        (_, 0) => format!("{whole}.{}", part / 10),
        _ => format!("{whole}.{part:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_costs_by_the_minute_to_the_cent() {
        // 90 minutes at $42.00 an hour is $63.00; 1.25 minutes at $42.00 is 87.5 cents, rounded up.
        let rate = Dollars::from_cents(4200);
        assert_eq!(Minutes::whole(90).at(rate), Dollars::from_cents(6300));
        assert_eq!(
            Minutes::from_hundredths(125).at(rate),
            Dollars::from_cents(88)
        );
    }

    #[test]
    fn amounts_print_as_they_are_written() {
        let shown = |n| Count::from_hundredths(n).to_string();
        assert_eq!([shown(900), shown(925), shown(950)], ["9", "9.25", "9.5"]);
    }

    /// Markup on cost against margin on price: margin = markup / (1 + markup), plain arithmetic
    /// (20 % is 16.7 %, 25 % is 20 %, 50 % is 33.3 %).
    #[test]
    fn a_margin_is_the_markup_over_one_and_the_markup() {
        let cost = Dollars::from_cents(1_000_000);
        for (markup, margin) in [
            (10, 9.1),
            (15, 13.0),
            (20, 16.7),
            (25, 20.0),
            (30, 23.1),
            (35, 25.9),
            (40, 28.6),
            (50, 33.3),
            (60, 37.5),
        ] {
            let added = Share::from_hundredths(markup * 100).of(cost);
            let of_price = added.cents() as f64 / (cost + added).cents() as f64 * 100.0;
            assert!(
                (of_price - margin).abs() < 0.05,
                "{markup} %: {of_price} {margin}"
            );
        }
        let added = Share::from_hundredths(2000).of_price(cost);
        assert_eq!(added, Dollars::from_cents(250_000));
    }
}
