//! Tables and requirements as data, and the code that loads, checks and evaluates them.
//!
//! Data goes one way: [`data`] carries the files; [`library`] reads and checks them all, in all editions; [`rulebook`] binds them to one
//! edition with the [`amendment`]s in force; a job's facts are judged by each [`requirement`].
//! - [`source`]: where a value comes from and how far it was checked; [`publication`]: the published pages themselves;
//! - [`tables`]: published tables and single numbers, looked up by edition;
//! - [`facts`]: what conditions may read; [`condition`]: the language they are written in;
//! - [`adoption`]: which state uses which edition, as advice.

pub mod adoption;
pub mod amendment;
pub mod condition;
pub mod data;
mod editions;
pub mod facts;
pub mod library;
mod load_error;
pub mod publication;
mod reader;
pub mod requirement;
pub mod rulebook;
pub mod source;
pub mod tables;

pub use adoption::{Adoption, StateAdoption, UnknownState};
pub use amendment::{Amendment, Standing, StandingOf};
pub use condition::{
    Compiled, Condition, ConditionError, Constants, Evaluation, Explanation, Kleene,
};
pub use facts::{AskedOf, BadDatum, Datum, FactDictionary, FactEntry, FactId, FactKind, FactSet};
pub use library::{Cascade, Library};
pub use load_error::LoadError;
pub use publication::Publication;
pub use requirement::{
    Bites, BoundRequirement, Cost, Judgement, Kind, Outcome, Reasons, Requirement, Topic, Verdict,
};
pub use rulebook::{Rulebook, SwitchedOff};
pub use source::{Check, Cite, Lookup, NoValue, Sourced};
