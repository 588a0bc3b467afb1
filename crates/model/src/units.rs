//! Quantities of the trade, each a type of its own so that amperes never meet feet by accident.
//! Source: plain physics; no code section. Every unit holds one finite `f64` in the unit it is named for.

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// A quantity that knows its unit, for worksheets and messages.
pub trait Unit: Copy {
    /// Symbol as printed after a number, for example `A`.
    const SYMBOL: &'static str;
    /// The bare number, in the unit the type is named for.
    fn get(self) -> f64;
}

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident $symbol:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(pub f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            /// The larger of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            /// The size without its sign.
            #[must_use]
            pub fn abs(self) -> Self { Self(self.0.abs()) }
        }

        impl Unit for $name {
            const SYMBOL: &'static str = $symbol;
            fn get(self) -> f64 { self.0 }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let precision = f.precision().unwrap_or(if self.0.fract() == 0.0 { 0 } else { 2 });
                write!(f, "{:.*} {}", precision, self.0, $symbol)
            }
        }

        impl Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl AddAssign for $name { fn add_assign(&mut self, o: Self) { self.0 += o.0; } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl Mul<$name> for f64 { type Output = $name; fn mul(self, q: $name) -> $name { $name(self * q.0) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self { items.fold(Self::ZERO, Add::add) }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.serialize_f64(self.0)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                finite(d, $symbol).map(Self)
            }
        }

        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool { true }
            fn schema_name() -> std::borrow::Cow<'static, str> { stringify!($name).into() }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "number", "description": concat!("in ", $symbol) })
            }
        }
    )*};
}

units! {
    /// Electric current.
    Amperes "A";
    /// Electric potential difference.
    Volts "V";
    /// Apparent power; the unit of every load calculation.
    VoltAmperes "VA";
    /// Impedance or resistance.
    Ohms "ohm";
    /// Impedance or resistance per length, as the conductor tables print it.
    OhmsPerKft "ohm/kft";
    /// Length of runs.
    Feet "ft";
    /// Length on walls, in boxes and in clearances.
    Inches "in";
    /// Cross-section of raceways and conductors with insulation.
    SquareInches "in2";
    /// Volume of boxes.
    CubicInches "in3";
    /// Floor area.
    SquareFeet "ft2";
    /// Load per floor area.
    VoltAmperesPerSquareFoot "VA/ft2";
    /// Resistivity as the trade writes it: ohms of one circular mil over one foot.
    OhmCircularMilsPerFoot "ohm-cmil/ft";
    /// Conductor cross-section.
    CircularMils "cmil";
    /// Temperature.
    Celsius "C";
    /// Share of a whole, in hundredths.
    Percent "%";
    /// Transformer size.
    KilovoltAmperes "kVA";
    /// Real power averaged over an interval, as meters record it.
    Kilowatts "kW";
    /// Tightening torque.
    PoundInches "lbf-in";
    /// Time of work.
    Hours "h";
}

/// Reads a number and refuses what is not finite.
fn finite<'de, D: serde::Deserializer<'de>>(d: D, symbol: &str) -> Result<f64, D::Error> {
    struct Number<'a>(&'a str);
    impl serde::de::Visitor<'_> for Number<'_> {
        type Value = f64;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            write!(f, "a number (in {})", self.0)
        }
        fn visit_f64<E: serde::de::Error>(self, v: f64) -> Result<f64, E> {
            if v.is_finite() {
                Ok(v)
            } else {
                Err(E::custom("a number must be finite"))
            }
        }
        fn visit_i64<E: serde::de::Error>(self, v: i64) -> Result<f64, E> {
            self.visit_f64(v as f64)
        }
        fn visit_u64<E: serde::de::Error>(self, v: u64) -> Result<f64, E> {
            self.visit_f64(v as f64)
        }
    }
    d.deserialize_any(Number(symbol))
}

impl Div<Volts> for VoltAmperes {
    type Output = Amperes;
    fn div(self, v: Volts) -> Amperes {
        Amperes(self.0 / v.0)
    }
}

impl Mul<Amperes> for Volts {
    type Output = VoltAmperes;
    fn mul(self, i: Amperes) -> VoltAmperes {
        VoltAmperes(self.0 * i.0)
    }
}

impl Mul<SquareFeet> for VoltAmperesPerSquareFoot {
    type Output = VoltAmperes;
    fn mul(self, area: SquareFeet) -> VoltAmperes {
        VoltAmperes(self.0 * area.0)
    }
}

impl Mul<Ohms> for Amperes {
    type Output = Volts;
    fn mul(self, z: Ohms) -> Volts {
        Volts(self.0 * z.0)
    }
}

impl Div<Ohms> for Volts {
    type Output = Amperes;
    fn div(self, z: Ohms) -> Amperes {
        Amperes(self.0 / z.0)
    }
}

impl Mul<Feet> for OhmsPerKft {
    type Output = Ohms;
    fn mul(self, length: Feet) -> Ohms {
        Ohms(self.0 * length.0 / 1000.0)
    }
}

impl From<Feet> for Inches {
    fn from(ft: Feet) -> Self {
        Self(ft.0 * 12.0)
    }
}

impl From<Inches> for Feet {
    fn from(inches: Inches) -> Self {
        Self(inches.0 / 12.0)
    }
}

impl Percent {
    /// As a factor: 83 % is 0.83.
    #[must_use]
    pub fn factor(self) -> f64 {
        self.0 / 100.0
    }
}

impl Amperes {
    /// Nearest whole ampere; a fraction of one half counts up.
    /// NFPA 70 220.5(B): fractions under 0.5 may be dropped.
    #[must_use]
    pub fn rounded(self) -> Self {
        Self(self.0.round())
    }
}

impl Inches {
    /// Rounded to a millionth of an inch, so that a sum of surveyed decimals meets a limit exactly.
    #[must_use]
    pub fn to_the_millionth(self) -> Self {
        let rounded = (self.0 * 1e6).round() / 1e6;
        Self(if rounded.is_finite() { rounded } else { self.0 })
    }

    /// Feet and inches as a tape reads them, for example `5 ft 10 in`.
    #[must_use]
    pub fn as_tape(self) -> String {
        let sign = if self.0 < 0.0 { "-" } else { "" };
        let tenths = (self.0.abs() * 10.0).round() / 10.0;
        let (feet, inches) = ((tenths / 12.0).floor(), tenths % 12.0);
        match (feet > 0.0, inches > 0.0) {
            (true, true) => format!(
                "{sign}{feet} ft {inches:.*} in",
                usize::from(inches.fract() != 0.0)
            ),
            (true, false) => format!("{sign}{feet} ft"),
            _ => format!("{sign}{inches:.*} in", usize::from(inches.fract() != 0.0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn power_over_voltage_is_current() {
        assert_eq!(VoltAmperes(18_600.0) / Volts(240.0), Amperes(77.5));
    }

    #[test]
    fn half_an_ampere_counts_up() {
        assert_eq!(Amperes(77.5).rounded(), Amperes(78.0));
        assert_eq!(Amperes(77.49).rounded(), Amperes(77.0));
    }

    #[test]
    fn a_tape_reads_feet_and_inches() {
        assert_eq!(Inches(70.0).as_tape(), "5 ft 10 in");
        assert_eq!(Inches(72.0).as_tape(), "6 ft");
        assert_eq!(Inches(14.5).as_tape(), "1 ft 2.5 in");
        assert_eq!(Inches(0.0).as_tape(), "0 in");
    }

    #[test]
    fn quantities_print_with_their_unit() {
        assert_eq!(Amperes(90.0).to_string(), "90 A");
        assert_eq!(format!("{:.1}", Volts(2.345)), "2.3 V");
    }
}
