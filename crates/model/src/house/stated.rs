//! Facts stated by their dictionary name, where the model has no field of their own for them.
//! Source: survey. The rulebook's dictionary checks name, type and vocabulary.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::map::Map;

/// Dictionary names to values.
pub type StatedFacts = Map<String, Fact<Stated>>;

/// A value of a dictionary fact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(
    untagged,
    expecting = "true, false, a number, a word or a list of words"
)]
pub enum Stated {
    /// Yes or no.
    Bool(bool),
    /// A number in the dictionary's unit.
    Number(f64),
    /// One word of the vocabulary.
    Word(String),
    /// Several words of the vocabulary.
    Set(Vec<String>),
}
