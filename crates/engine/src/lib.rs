//! The calculations of a panel job, as plain functions from job and rulebook to worksheets.
//!
//! - [`load`]: what load a dwelling puts on its service or feeder;
//! - [`worksheet`]: what every calculation returns.

pub mod load;
pub mod worksheet;

pub use worksheet::{Line, Quantity, Value, Worksheet};
