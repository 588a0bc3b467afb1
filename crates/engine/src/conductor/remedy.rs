//! What is the smallest change that makes a feeder pass?
//! Source: [`super::feeder`] itself: every change is tried by the same check, and only those that pass are named.

use model::units::Amperes;
use model::{Fact, Material, Wire, WireSize};
use rulebook::tables::{Column, TablesIn};
use serde::Serialize;

use super::ampacity::Terminals;
use super::feeder::{Feeder, judge};
use super::found::Verdict;

/// One change to a feeder.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "FeederChange")]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// Smallest size of the same metal.
    NextSize(Wire),
    /// Smallest size in copper.
    Copper(Wire),
    /// Largest smaller device.
    SmallerDevice(Amperes),
    /// Arrange the boards so that this feeder carries the entire load of the dwelling.
    CarryWholeDwelling,
    /// Terminals marked 75 C at both ends.
    Terminals75,
}

impl Change {
    /// In words.
    #[must_use]
    pub fn describe(&self) -> String {
        match self {
            Self::NextSize(wire) | Self::Copper(wire) => format!("conductors of {wire}"),
            Self::SmallerDevice(amperes) => format!("a {amperes} overcurrent device"),
            Self::CarryWholeDwelling => {
                "an arrangement in which these conductors carry the entire load of the dwelling"
                    .into()
            }
            Self::Terminals75 => "terminals marked 75 C at both ends".into(),
        }
    }

    /// The feeder with this change made.
    #[must_use]
    pub fn applied(&self, feeder: &Feeder) -> Feeder {
        let mut changed = feeder.clone();
        match self {
            Self::NextSize(wire) | Self::Copper(wire) => {
                changed.installation.wire = Fact::derived(*wire);
            }
            Self::SmallerDevice(amperes) => changed.device = Fact::derived(*amperes),
            Self::CarryWholeDwelling => changed.place.carries_entire_dwelling = Fact::derived(true),
            Self::Terminals75 => changed.installation.terminals = Fact::derived(Terminals::C75),
        }
        changed
    }
}

/// Changes that make `feeder` pass, each tried by the same check. Empty when it passes as it is, or when no single change is enough.
#[must_use]
pub fn smallest_changes(feeder: &Feeder, book: &TablesIn<'_>) -> Vec<Change> {
    if passes(feeder, book) {
        return Vec::new();
    }
    let mut changes = Vec::new();
    if let Some(wire) = feeder.installation.wire.get() {
        let larger = |size: &WireSize| *size > wire.size;
        changes.extend(smallest_passing(feeder, wire.material, larger, book).map(Change::NextSize));
        if wire.material.is_aluminum_column() {
            changes.extend(
                smallest_passing(feeder, Material::Copper, |_| true, book).map(Change::Copper),
            );
        }
    }
    if let Some(device) = feeder.device.get() {
        let smaller = book
            .standard_ratings()
            .filter(|rating| *rating < device)
            .map(Change::SmallerDevice);
        changes.extend(
            smaller
                .collect::<Vec<_>>()
                .into_iter()
                .rev()
                .find(|c| passes(&c.applied(feeder), book)),
        );
    }
    if feeder.place.carries_entire_dwelling.get() != Some(true)
        && passes(&Change::CarryWholeDwelling.applied(feeder), book)
    {
        changes.push(Change::CarryWholeDwelling);
    }
    if feeder.installation.terminals.get() != Some(Terminals::C75)
        && passes(&Change::Terminals75.applied(feeder), book)
    {
        changes.push(Change::Terminals75);
    }
    changes
}

/// Smallest conductor of `material` with which the feeder passes.
#[must_use]
pub fn smallest_conductor(
    feeder: &Feeder,
    material: Material,
    book: &TablesIn<'_>,
) -> Option<Wire> {
    smallest_passing(feeder, material, |_| true, book)
}

/// Smallest conductor that can carry `amperes` in this installation, by ampacity alone.
#[must_use]
pub fn smallest_for_ampacity(
    installation: &super::ampacity::Installation,
    material: Material,
    amperes: Amperes,
    rating: Option<Amperes>,
    book: &TablesIn<'_>,
) -> Option<Wire> {
    // Terminals cap every ampacity below the 90 C column: what that column does not carry, nothing does.
    let at_most = |wire: &Wire| {
        let highest = book.ampacity(wire.size, wire.material, Column::C90);
        highest.is_ok_and(|a| a.value * f64::from(installation.sets.max(1)) >= amperes)
    };
    WireSize::all()
        .map(|size| Wire { size, material })
        .filter(at_most)
        .find(|wire| {
            let ampacity = super::ampacity::ampacity(&installation.with_wire(*wire), rating, book);
            ampacity.value.at_least(amperes) == Verdict::Pass
        })
}

fn smallest_passing(
    feeder: &Feeder,
    material: Material,
    among: impl Fn(&WireSize) -> bool,
    book: &TablesIn<'_>,
) -> Option<Wire> {
    WireSize::all()
        .filter(among)
        .map(|size| Wire { size, material })
        .find(|wire| {
            let mut tried = feeder.clone();
            tried.installation.wire = Fact::derived(*wire);
            passes(&tried, book)
        })
}

fn passes(feeder: &Feeder, book: &TablesIn<'_>) -> bool {
    judge(feeder, book).is_ok_and(|judged| judged.verdict == Verdict::Pass)
}
