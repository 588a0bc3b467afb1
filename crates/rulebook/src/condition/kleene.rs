//! True, false, or cannot tell: the one home of three-valued logic.
//! Source: Kleene's strong logic of indeterminacy. No units.

use std::ops::Not;

/// Truth when some facts are unknown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kleene {
    /// True whatever the unknown facts turn out to be.
    True,
    /// False whatever the unknown facts turn out to be.
    False,
    /// It depends on facts that nobody knows yet.
    Unknown,
}

impl Kleene {
    /// False when either is false, true when both are.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::False, _) | (_, Self::False) => Self::False,
            (Self::True, Self::True) => Self::True,
            _ => Self::Unknown,
        }
    }

    /// True when either is true, false when both are false.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        match (self, other) {
            (Self::True, _) | (_, Self::True) => Self::True,
            (Self::False, Self::False) => Self::False,
            _ => Self::Unknown,
        }
    }

    /// Can it be told?
    #[must_use]
    pub const fn is_decided(self) -> bool {
        !matches!(self, Self::Unknown)
    }
}

impl Not for Kleene {
    type Output = Self;
    fn not(self) -> Self {
        match self {
            Self::True => Self::False,
            Self::False => Self::True,
            Self::Unknown => Self::Unknown,
        }
    }
}

impl From<bool> for Kleene {
    fn from(truth: bool) -> Self {
        if truth { Self::True } else { Self::False }
    }
}

impl From<Option<bool>> for Kleene {
    fn from(truth: Option<bool>) -> Self {
        truth.map_or(Self::Unknown, Self::from)
    }
}

#[cfg(test)]
mod tests {
    use super::Kleene::{False, True, Unknown};
    use super::*;

    fn check(a: Kleene, b: Kleene, and: Kleene, or: Kleene) {
        for (x, y) in [(a, b), (b, a)] {
            assert_eq!(x.and(y), and, "{x:?} and {y:?}");
            assert_eq!(x.or(y), or, "{x:?} or {y:?}");
        }
    }

    #[test]
    fn the_tables_are_kleenes() {
        check(True, True, True, True);
        check(True, False, False, True);
        check(True, Unknown, Unknown, True);
        check(False, False, False, False);
        check(False, Unknown, False, Unknown);
        check(Unknown, Unknown, Unknown, Unknown);
    }

    #[test]
    fn not_swaps_true_and_false_and_leaves_unknown() {
        assert_eq!([!True, !False, !Unknown], [False, True, Unknown]);
    }
}
