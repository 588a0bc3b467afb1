//! Stable names of the things in a house. The same name in both pictures means the same thing.
//! Source: the job file's own keys. Letters, digits, `-` and `_`, at most 40 characters.

use std::borrow::Borrow;
use std::fmt;

use serde::{Deserialize, Serialize};

/// Longest name accepted.
pub const LONGEST_ID: usize = 40;

fn read(text: String) -> Result<String, String> {
    let fine = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if text.is_empty() || text.len() > LONGEST_ID || !text.chars().all(fine) {
        let shown: String = text.chars().take(LONGEST_ID).collect();
        return Err(format!(
            "`{shown}` cannot be a name here: expected 1 to {LONGEST_ID} letters, digits, `-` or `_`"
        ));
    }
    Ok(text)
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(
            Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema,
        )]
        #[serde(try_from = "String")]
        #[schemars(with = "String")]
        pub struct $name(String);

        impl $name {
            /// The name as written.
            #[must_use]
            pub fn as_str(&self) -> &str { &self.0 }
        }

        impl TryFrom<String> for $name {
            type Error = String;
            fn try_from(text: String) -> Result<Self, String> { read(text).map(Self) }
        }

        impl TryFrom<&str> for $name {
            type Error = String;
            fn try_from(text: &str) -> Result<Self, String> { read(text.to_owned()).map(Self) }
        }

        impl Borrow<str> for $name {
            fn borrow(&self) -> &str { &self.0 }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.write_str(&self.0) }
        }
    )*};
}

ids! {
    /// A panelboard, disconnect or other board.
    BoardId;
    /// A feeder, or the service conductors.
    FeederId;
    /// A branch circuit.
    CircuitId;
    /// A load.
    LoadId;
    /// An outlet.
    OutletId;
    /// A source besides the utility.
    SourceId;
    /// A device in a board that is no circuit.
    DeviceId;
    /// A building or structure.
    BuildingId;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_short_and_plain() {
        assert!(BoardId::try_from("P-1_a").is_ok());
        for bad in ["", "a b", "naïve", &"x".repeat(41)] {
            assert!(BoardId::try_from(bad).is_err(), "{bad}");
        }
    }
}
