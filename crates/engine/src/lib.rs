//! The calculations of a panel job, as plain functions from job and rulebook to worksheets.
//!
//! - [`load`]: what load a dwelling puts on its service or feeder;
//! - [`conductor`]: ampacity, devices, the dwelling rule, neutral, grounding, voltage drop;
//! - [`worksheet`]: what every calculation returns.

pub mod conductor;
pub mod load;
pub mod worksheet;

pub use worksheet::{Line, Quantity, Value, Worksheet};
