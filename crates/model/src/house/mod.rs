//! One picture of a house: boards, feeders, circuits, loads, places. A job holds two of them.

mod dwelling;
mod load;

pub use dwelling::{Dwelling, DwellingKind, MeasuredDemand, System};
pub use load::{Load, LoadKind};
