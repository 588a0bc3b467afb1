//! What a calculation can say when some of its facts are unknown: a value, a range, or nothing yet.
//! Source: none; logic only. A range is sound: the true value lies in it whatever the unknown facts turn out to be.

use serde::Serialize;

use crate::worksheet::{Quantity, Text, Value};

/// The answer to "is it enough?".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "CheckVerdict")]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Holds whatever the unknown facts are.
    Pass,
    /// Fails whatever the unknown facts are.
    Fail,
    /// Depends on what is unknown.
    CannotTell,
}

impl Verdict {
    /// From a plain answer.
    #[must_use]
    pub const fn from_bool(passes: bool) -> Self {
        if passes { Self::Pass } else { Self::Fail }
    }

    /// Both must hold.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Fail, _) | (_, Self::Fail) => Self::Fail,
            (Self::Pass, Self::Pass) => Self::Pass,
            _ => Self::CannotTell,
        }
    }

    /// One of the two is enough.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        match (self, other) {
            (Self::Pass, _) | (_, Self::Pass) => Self::Pass,
            (Self::Fail, Self::Fail) => Self::Fail,
            _ => Self::CannotTell,
        }
    }

    /// As a worksheet value; `why` is printed when nothing can be told.
    #[must_use]
    pub fn value(self, why: impl Into<Text>) -> Value {
        match self {
            Self::Pass => Value::Passes(true),
            Self::Fail => Value::Passes(false),
            Self::CannotTell => Value::CannotTell(why.into()),
        }
    }
}

/// A value with its bounds and the facts that would narrow them. Equal bounds are an exact value.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "Found{T}")]
pub struct Found<T> {
    /// Not below this, when that can be told.
    pub low: Option<T>,
    /// Not above this, when that can be told.
    pub high: Option<T>,
    /// What is not known, in words.
    pub missing: Vec<Text>,
}

impl<T: Copy + PartialOrd> Found<T> {
    /// One value.
    pub const fn exactly(value: T) -> Self {
        Self {
            low: Some(value),
            high: Some(value),
            missing: Vec::new(),
        }
    }

    /// Nothing can be told until `missing` is known.
    pub fn nothing(missing: impl Into<Text>) -> Self {
        Self {
            low: None,
            high: None,
            missing: vec![missing.into()],
        }
    }

    /// The value, when there is only one it can be.
    #[must_use]
    pub fn exact(&self) -> Option<T> {
        if self.low == self.high {
            self.low
        } else {
            None
        }
    }

    /// Is the value at least `needed`?
    #[must_use]
    pub fn at_least(&self, needed: T) -> Verdict {
        match (self.low, self.high) {
            (Some(low), _) if low >= needed => Verdict::Pass,
            (_, Some(high)) if high < needed => Verdict::Fail,
            _ => Verdict::CannotTell,
        }
    }

    /// Is the value at most `limit`?
    #[must_use]
    pub fn at_most(&self, limit: T) -> Verdict {
        match (self.low, self.high) {
            (_, Some(high)) if high <= limit => Verdict::Pass,
            (Some(low), _) if low > limit => Verdict::Fail,
            _ => Verdict::CannotTell,
        }
    }

    /// What is missing, as one text.
    #[must_use]
    pub fn why(&self) -> String {
        self.missing.join("; ")
    }

    /// As a worksheet value: the exact number, or what is missing and the bounds that hold until then.
    #[must_use]
    pub fn value(&self) -> Value
    where
        T: Into<Quantity>,
    {
        if let Some(value) = self.exact() {
            return Value::Number(value.into());
        }
        let words = |bound: Option<T>| {
            bound.map(|b| {
                let q: Quantity = b.into();
                format!("{} {}", (q.value * 100.0).round() / 100.0, q.unit)
            })
        };
        let range = match (words(self.low), words(self.high)) {
            (Some(low), Some(high)) => format!(" (between {low} and {high})"),
            (Some(low), None) => format!(" (at least {low})"),
            (None, Some(high)) => format!(" (at most {high})"),
            (None, None) => String::new(),
        };
        Value::CannotTell(format!("{}{range}", self.why()).into())
    }
}

#[cfg(test)]
mod tests {
    use model::units::Amperes;

    use super::*;

    fn check(low: Option<f64>, high: Option<f64>, needed: f64, expected: Verdict) {
        let found = Found {
            low: low.map(Amperes),
            high: high.map(Amperes),
            missing: vec![],
        };
        assert_eq!(found.at_least(Amperes(needed)), expected);
    }

    #[test]
    fn a_range_answers_only_when_both_ends_agree() {
        check(Some(90.0), Some(90.0), 90.0, Verdict::Pass);
        check(Some(75.0), Some(90.0), 70.0, Verdict::Pass);
        check(Some(75.0), Some(90.0), 80.0, Verdict::CannotTell);
        check(Some(75.0), Some(90.0), 100.0, Verdict::Fail);
        check(None, Some(90.0), 100.0, Verdict::Fail);
        check(None, Some(90.0), 50.0, Verdict::CannotTell);
        check(None, None, 1.0, Verdict::CannotTell);
    }
}
