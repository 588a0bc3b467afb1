//! What a panel job is: one house in two pictures, *before* and *after*, and the facts about it.
//!
//! No rules and no I/O live here. From the bottom up:
//! - [`units`] and [`money`]: quantities as types; [`date`]: a calendar day; [`id`]: stable names; [`map`]: things by their names;
//! - [`edition`]: the code editions; [`conductor`]: sizes, metals, insulation, wiring methods; [`raceway`]: trade sizes of raceways;
//! - [`fact`]: a surveyed fact, known with who said so, or unknown;
//! - [`house`]: one picture; [`place`]: where it is; [`job`]: two pictures of it; [`candidates`]: where a panel might go;
//! - [`scope`]: their difference; [`file`]: how a job is read from text.

pub mod candidates;
pub mod conductor;
pub mod date;
pub mod edition;
pub mod fact;
pub mod file;
pub mod house;
pub mod id;
pub mod job;
pub mod map;
pub mod money;
pub mod nearest;
pub mod offer;
pub mod place;
pub mod plan;
pub mod raceway;
pub mod scope;
pub mod units;

pub use candidates::Candidates;
pub use conductor::{Insulation, Material, Wire, WireSize, WiringMethod};
pub use date::{BadDate, Date};
pub use edition::Edition;
pub use fact::{Fact, Said};
pub use file::{JobFile, Mistake, Mistakes};
pub use house::House;
pub use job::Job;
pub use map::Map;
pub use money::Dollars;
pub use offer::Offer;
pub use place::Place;
pub use plan::Plan;
pub use raceway::TradeSize;
