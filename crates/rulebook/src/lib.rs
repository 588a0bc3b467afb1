//! Tables and requirements as data, and the code that loads, checks and evaluates them.
//!
//! - [`source`]: where a value comes from and how far it was checked;
//! - [`data`]: the files under `data/`, carried as text;
//! - [`tables`]: published tables and single numbers, looked up by edition.

pub mod data;
pub mod source;
pub mod tables;

pub use source::{Check, Cite, Lookup, NoValue, Sourced};
