//! Tables and requirements as data, and the code that loads, checks and evaluates them.
//!
//! Data goes one way: [`data`] carries the files; [`library`] reads and checks them all, in all editions; [`rulebook`] binds them to one
//! edition with the [`amendment`]s in force; a job's facts are judged by each [`requirement`].
//! - [`source`]: where a value comes from and how far it was checked; [`publication`]: the published pages themselves;
//! - [`tables`]: published tables and single numbers, looked up by edition;
//! - [`facts`]: what conditions may read; [`condition`]: the language they are written in;
//! - [`adoption`]: which state uses which edition, as advice; [`date`]: calendar days.

pub mod adoption;
pub mod amendment;
pub mod condition;
pub mod data;
pub mod date;
mod editions;
pub mod facts;
pub mod library;
mod load_error;
mod nearest;
pub mod publication;
mod reader;
pub mod requirement;
pub mod rulebook;
pub mod source;
pub mod tables;

pub use adoption::{Adoption, StateAdoption, UnknownState};
pub use amendment::{Amendment, Standing, StandingOf};
pub use condition::{Condition, ConditionError, Constants, Evaluation, Explanation, Kleene};
pub use date::{BadDate, Date};
pub use facts::{AskedOf, Datum, FactDictionary, FactEntry, FactId, FactKind, FactSet};
pub use library::{Cascade, Library};
pub use load_error::LoadError;
pub use publication::Publication;
pub use requirement::{
    Bites, CostRange, InForce, Judgement, Kind, Outcome, Remedy, Requirement,
    RequirementExplanation, Topic, Verdict,
};
pub use rulebook::{Rulebook, SwitchedOff};
pub use source::{Check, Cite, Lookup, NoValue, Sourced};
