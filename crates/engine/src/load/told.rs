//! How far a sum could be told: exactly, or only that it is at least so much, and what is missing.
//! Source: arithmetic. Any unit; a load whose size is unknown is never silently zero.

use std::ops::{Add, AddAssign};

use model::units::VoltAmperes;
use serde::Serialize;

use crate::worksheet::{Line, Text};

/// A value that is exact while nothing is missing, and a lower bound as soon as something is.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Told<T> {
    at_least: T,
    missing: Vec<Text>,
}

impl<T: Copy> Told<T> {
    /// Nothing is missing.
    pub const fn exactly(value: T) -> Self {
        Self {
            at_least: value,
            missing: Vec::new(),
        }
    }

    /// Only a lower bound, because of what is named.
    pub fn at_least(bound: T, missing: impl Into<Text>) -> Self {
        Self {
            at_least: bound,
            missing: vec![missing.into()],
        }
    }

    /// The value, when nothing is missing.
    pub fn exact(&self) -> Option<T> {
        self.missing.is_empty().then_some(self.at_least)
    }

    /// The value, or the least it can be.
    pub const fn lower_bound(&self) -> T {
        self.at_least
    }

    /// What is missing, in words; empty when the value is exact.
    pub fn missing(&self) -> &[Text] {
        &self.missing
    }

    /// The missing things as one sentence part.
    pub fn missing_text(&self) -> String {
        self.missing.join("; ")
    }

    /// The same through a function that never falls when its argument rises.
    pub fn map<U: Copy>(&self, rising: impl FnOnce(T) -> U) -> Told<U> {
        Told {
            at_least: rising(self.at_least),
            missing: self.missing.clone(),
        }
    }

    /// Notes one more thing that is missing.
    pub fn miss(&mut self, what: impl Into<Text>) {
        let what = what.into();
        if !self.missing.contains(&what) {
            self.missing.push(what);
        }
    }

    fn miss_all(&mut self, others: Vec<Text>) {
        for other in others {
            self.miss(other);
        }
    }
}

impl Told<VoltAmperes> {
    /// The larger of two; what is missing from either is missing from both.
    #[must_use]
    pub fn max(mut self, other: Self) -> Self {
        self.at_least = self.at_least.max(other.at_least);
        self.miss_all(other.missing);
        self
    }

    /// The smaller of two; what is missing from either is missing from both.
    #[must_use]
    pub fn min(mut self, other: Self) -> Self {
        self.at_least = self.at_least.min(other.at_least);
        self.miss_all(other.missing);
        self
    }

    /// A share or multiple of it.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        self.map(|va| va * factor)
    }
}

impl Add for Told<VoltAmperes> {
    type Output = Self;
    fn add(mut self, other: Self) -> Self {
        self += other;
        self
    }
}

impl AddAssign for Told<VoltAmperes> {
    fn add_assign(&mut self, other: Self) {
        self.at_least += other.at_least;
        self.miss_all(other.missing);
    }
}

impl std::iter::Sum for Told<VoltAmperes> {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Self::default(), Add::add)
    }
}

/// A line for a value that may be only a lower bound.
pub(super) fn told_line(label: impl Into<Text>, told: &Told<VoltAmperes>) -> Line {
    match told.exact() {
        Some(va) => Line::number(label, va),
        None => Line::cannot_tell(
            label,
            format!(
                "at least {}; needs the {}",
                told.lower_bound(),
                told.missing_text()
            ),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_with_something_missing_is_a_lower_bound_that_names_it_once() {
        let range = || Told::at_least(VoltAmperes::ZERO, "nameplate of the range");
        let sum = Told::exactly(VoltAmperes(5100.0)) + range() + range();
        assert_eq!(sum.exact(), None);
        assert_eq!(sum.lower_bound(), VoltAmperes(5100.0));
        assert_eq!(sum.missing_text(), "nameplate of the range");
    }
}
