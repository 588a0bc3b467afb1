//! What load a dwelling, or part of one, puts on its service or feeder.
//! NFPA 70 Article 220 (2014-2023) and Article 120 (2026); every number of the code comes from the tables of the edition.
//!
//! From a [`Dwelling`] (floor area, circuits, loads, readings) through one module for each method to an [`Outcome`]
//! with its worksheet; [`all_methods`] runs them all and says which to build on:
//! - [`standard`]: step by step, each group in a module of its own ([`lighting`], [`appliances`], [`dryers`], [`cooking`],
//!   [`climate`], [`chargers`]; [`cooking_circuit`] for a single branch circuit); the only one for a feeder to part of a dwelling;
//! - [`optional`] and [`existing`] (with their [`pot`] and [`selection`]), [`measured`] (with [`interval`] data): one
//!   dwelling unit; [`multifamily`]: several; [`three_phase`]: on a wye;
//! - [`managed`]: under an energy management system; [`neutral`] and [`totals`]: the same under every method.
//!
//! What nobody knows stays unknown: a sum with a gap is [`Told`] as a lower bound with the gap named.
//!
//! ```
//! use engine::load::{Dwelling, Method, all_methods};
//! use model::house::{DwellingKind, Load, LoadKind, System};
//! use model::units::{Amperes, SquareFeet, VoltAmperes};
//! use model::{Edition, Fact};
//! use rulebook::tables::Tables;
//!
//! let dwelling = Dwelling {
//!     kind: Fact::seen(DwellingKind::OneFamily),
//!     area: Fact::seen(SquareFeet(1500.0)),
//!     small_appliance_circuits: Fact::seen(2),
//!     laundry_circuits: Fact::seen(1),
//!     system: Fact::seen(System::SinglePhase120_240),
//!     existing: vec![
//!         Load::new(LoadKind::Range, VoltAmperes(12_000.0)),
//!         Load::new(LoadKind::Dryer, VoltAmperes(5_500.0)),
//!     ],
//!     ..Dwelling::default()
//! };
//! let tables = Tables::built_in().map_err(|errors| errors[0].clone())?;
//! let methods = all_methods(&dwelling, None, &tables.edition(Edition::Y2023));
//! let standard = methods.outcome(Method::Standard).ok_or("not run")?;
//! assert_eq!(standard.demand.exact(), Some(VoltAmperes(18_600.0)));
//! assert_eq!(standard.rounded.exact(), Some(Amperes(78.0)));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod appliances;
pub mod chargers;
pub mod climate;
pub mod cooking;
pub mod cooking_circuit;
mod cooking_columns;
pub mod dryers;
pub mod existing;
mod input;
pub mod interval;
pub mod lighting;
pub mod managed;
pub mod measured;
mod methods;
pub mod multifamily;
mod nameplate;
pub mod neutral;
pub mod optional;
mod outcome;
mod parts;
mod parts_fixed;
pub mod pot;
pub mod selection;
pub mod standard;
pub mod three_phase;
mod told;
pub mod totals;

pub use input::{
    ChargerOptionalReading, ChargerStandardReading, CookingReading, Dwelling,
    ExistingClimateReading, NoncoincidentReading, Occasion, Readings, Share, Units,
};
pub use methods::{Comparison, all_methods, all_methods_of};
pub use outcome::{Alike, Method, Outcome, Standing, Step};
pub use told::Told;
