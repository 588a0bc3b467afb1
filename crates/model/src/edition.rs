//! The five editions of the National Electrical Code (NFPA 70) that the tool knows.
//! Source: the publication years themselves. An edition is always named by the user, never assumed.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// An edition of NFPA 70. Ordered by year.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
pub enum Edition {
    /// 2014
    #[serde(rename = "2014")]
    Y2014,
    /// 2017
    #[serde(rename = "2017")]
    Y2017,
    /// 2020
    #[serde(rename = "2020")]
    Y2020,
    /// 2023
    #[serde(rename = "2023")]
    Y2023,
    /// 2026
    #[serde(rename = "2026")]
    Y2026,
}

impl Edition {
    /// All of them, oldest first.
    pub const ALL: [Self; 5] = [
        Self::Y2014,
        Self::Y2017,
        Self::Y2020,
        Self::Y2023,
        Self::Y2026,
    ];

    /// The year on the cover.
    #[must_use]
    pub const fn year(self) -> u16 {
        match self {
            Self::Y2014 => 2014,
            Self::Y2017 => 2017,
            Self::Y2020 => 2020,
            Self::Y2023 => 2023,
            Self::Y2026 => 2026,
        }
    }

    /// Position in [`Edition::ALL`], for tables that hold one value per edition.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }
}

impl fmt::Display for Edition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.year())
    }
}

/// The text names no edition that the tool knows.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a known edition: expected one of 2014, 2017, 2020, 2023, 2026")]
pub struct UnknownEdition(pub String);

impl FromStr for Edition {
    type Err = UnknownEdition;
    fn from_str(text: &str) -> Result<Self, UnknownEdition> {
        Self::ALL
            .into_iter()
            .find(|e| e.to_string() == text.trim())
            .ok_or_else(|| UnknownEdition(text.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unlisted_year_is_an_error_not_a_default() {
        assert_eq!(
            "2019".parse::<Edition>(),
            Err(UnknownEdition("2019".into()))
        );
        assert_eq!("2023".parse(), Ok(Edition::Y2023));
    }

    #[test]
    fn index_is_the_place_in_all() {
        for (i, e) in Edition::ALL.into_iter().enumerate() {
            assert_eq!(e.index(), i);
        }
    }
}
