//! What a panel job is: one house in two pictures, *before* and *after*, and the facts about it.
//!
//! No rules and no I/O live here. From the bottom up:
//! - [`units`] and [`money`]: quantities as types;
//! - [`edition`]: the code editions; [`conductor`]: sizes, metals, insulation, wiring methods; [`raceway`]: trade sizes of raceways;
//! - [`fact`]: a surveyed fact, known with who said so, or unknown;
//! - [`house`]: one picture of a house.

pub mod conductor;
pub mod edition;
pub mod fact;
pub mod house;
pub mod money;
pub mod raceway;
pub mod units;

pub use conductor::{Insulation, Material, Wire, WireSize, WiringMethod};
pub use edition::Edition;
pub use fact::{Fact, Said};
pub use money::Dollars;
pub use raceway::TradeSize;
