//! The calculations of a panel job, as plain functions from job and rulebook to worksheets.
//!
//! - [`worksheet`]: what every calculation returns.

pub mod worksheet;

pub use worksheet::{Line, Quantity, Value, Worksheet};
