//! The facts that conditions may read: their names, kinds and words, values of them, and sets of them.
//! Source: `data/facts.toml`. Units are named by each fact.

mod datum;
mod dictionary;
mod set;

pub use datum::{BadDatum, Datum, FactKind};
pub(crate) use dictionary::load;
pub use dictionary::{AskedOf, FactDictionary, FactEntry};
pub use set::{FactId, FactSet, MAX_FACTS};
