//! Conductors and their devices: may they carry this load, how small may they be, and what would make them pass?
//! Source: NFPA 70 Articles 110, 215, 240, 250, 310 and Chapter 9, by edition, all values from the rulebook's tables.
//! Amperes, feet and degrees C in; worksheets with typed results out.
//!
//! - [`found`]: a value, a range or nothing, and the verdicts that follow;
//! - [`insulation`], [`bundle`], [`cable`], [`ampacity`], [`settle`]: what a conductor may carry;
//! - [`load`], [`overcurrent`], [`dwelling`]: what it must carry, and under which device;
//! - [`feeder`]: the check of a feeder; [`remedy`]: the smallest changes that make it pass;
//! - [`neutral`], [`grounding`]: the conductors beside the legs;
//! - [`run`], [`voltage_drop`]: impedance and what is lost on it.

pub mod ampacity;
pub mod bundle;
pub mod cable;
pub mod dwelling;
pub mod feeder;
pub mod found;
pub mod grounding;
pub mod insulation;
pub mod load;
pub mod neutral;
pub mod overcurrent;
pub(crate) mod phasor;
pub mod remedy;
pub mod run;
mod settle;
pub mod voltage_drop;

pub use ampacity::{Ampacity, Installation, Terminals, ampacity};
pub use dwelling::Place;
pub use feeder::{Feeder, FeederCheck, check};
pub use found::{Found, Verdict};
pub use load::Load;
pub use overcurrent::Feeds;
pub use remedy::{Change, smallest_changes, smallest_conductor};
pub use run::Run;
pub use voltage_drop::{Loading, voltage_drop};
