//! The load on each board: the whole dwelling where the board carries it, else its own share by the standard method.
//! Source: the job's dwelling, loads and circuits; methods in [`crate::load`]. VA and amperes.

use std::collections::BTreeSet;

use model::Fact;
use model::house::{House, Purpose, System};
use model::id::LoadId;
use model::units::{Amperes, VoltAmperes};
use rulebook::tables::TablesIn;

use super::larger::device_ahead;
use super::remedy::Remedy;
use crate::conductor::Verdict;
use crate::load::{Comparison, Dwelling, Outcome, Share, Units, all_methods, all_methods_of};
use crate::tree::{Node, Role, SupplyTree};

/// Load on one board.
#[derive(Clone, Debug)]
pub struct BoardLoad<'j> {
    /// The board.
    pub board: &'j str,
    /// What its supply carries.
    pub share: Share,
    /// Every method that was run.
    pub comparison: Comparison,
    /// What holds it: the device that protects its bus, and the device of its feeder where that is smaller.
    pub held_to: Fact<Amperes>,
    /// What would make it fit where it does not, each tried out; empty when it fits or they were not sought.
    pub remedies: Vec<Remedy>,
    /// Choices made where the survey left a gap, each on the safe side.
    pub said: Vec<String>,
}

impl BoardLoad<'_> {
    /// The outcome to build on: the recommended method.
    #[must_use]
    pub fn outcome(&self) -> Option<&Outcome> {
        self.comparison.outcome(self.comparison.recommended)
    }

    /// Calculated load in amperes, when it can be told.
    #[must_use]
    pub fn amperes(&self) -> Option<Amperes> {
        self.outcome().and_then(|o| o.rounded.exact())
    }

    /// Whether what holds the load is enough for it.
    #[must_use]
    pub fn fits(&self) -> Verdict {
        let (Some(outcome), Some(held_to)) = (self.outcome(), self.held_to.get()) else {
            return Verdict::CannotTell;
        };
        match outcome.rounded.exact() {
            _ if outcome.rounded.lower_bound() > held_to => Verdict::Fail,
            Some(_) => Verdict::Pass,
            None => Verdict::CannotTell,
        }
    }
}

/// What the device that protects a board could still carry above its calculated load, in VA at the voltage between the legs;
/// `None` where either cannot be told. It may be below zero.
#[must_use]
pub fn spare(
    load: &BoardLoad<'_>,
    protected_by: &Fact<Amperes>,
    system: &Fact<System>,
) -> Option<VoltAmperes> {
    let demand = load.outcome()?.demand.exact()?;
    Some(system.get()?.line_to_line() * protected_by.get()? - demand)
}

/// Load on every board that something feeds, in the order of the tree.
pub(super) fn of_boards<'j>(
    house: &'j House,
    before: Option<&House>,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> Vec<BoardLoad<'j>> {
    let fed = tree
        .nodes
        .iter()
        .enumerate()
        .filter(|(_, n)| n.role != Role::Unfed);
    fed.map(|(place, _)| of_board(place, house, before, tree, book))
        .collect()
}

/// Load on one board; none when nothing feeds it.
pub(super) fn of_one<'j>(
    board: &str,
    house: &'j House,
    before: Option<&House>,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> Option<BoardLoad<'j>> {
    let fed = |n: &Node<'_>| n.id == board && n.role != Role::Unfed;
    let place = tree.nodes.iter().position(fed)?;
    Some(of_board(place, house, before, tree, book))
}

fn held_to(node: &Node<'_>) -> Fact<Amperes> {
    let ahead = node.feeder.and_then(|(_, f)| device_ahead(f));
    match (node.protected_by.get(), ahead) {
        (Some(own), Some(ahead)) if ahead < own => Fact::derived(ahead),
        _ => node.protected_by.clone(),
    }
}

fn of_board<'j>(
    place: usize,
    house: &'j House,
    before: Option<&House>,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> BoardLoad<'j> {
    let node = &tree.nodes[place];
    let mut said = Vec::new();
    let whole = node.carries_entire_dwelling.get() == Some(true) || node.role == Role::Service;
    let share = match (node.role, whole) {
        (Role::Service, _) => Share::Service,
        (_, true) => Share::WholeFeeder,
        (_, false) => Share::PartFeeder,
    };
    let mut dwelling = Dwelling::from(&house.dwelling);
    dwelling.share = share;
    dwelling.ampacity = node.protected_by.clone();
    if !whole {
        narrow(&mut dwelling, place, house, tree, &mut said);
    }
    let here = if whole {
        None
    } else {
        Some(loads_below(place, house, tree))
    };
    for (id, load) in &house.loads {
        if here.as_ref().is_some_and(|here| !here.contains(id)) {
            continue;
        }
        let is_new = before.is_some_and(|b| b.loads.get(id) != Some(load));
        if is_new {
            &mut dwelling.new
        } else {
            &mut dwelling.existing
        }
        .push(load.clone());
    }
    let record = house
        .dwelling
        .measured_demand
        .as_ref()
        .filter(|_| node.role == Role::Service);
    let units = house.dwelling.units.get().unwrap_or(1);
    let mut comparison = if units > 1 && node.role == Role::Service {
        said.push(format!("all {units} dwelling units are taken as alike"));
        all_methods_of(
            &[Units {
                count: units,
                unit: &dwelling,
            }],
            &[],
            book,
        )
    } else {
        all_methods(&dwelling, record, book)
    };
    let name = node.id;
    for outcome in &mut comparison.outcomes {
        let method = outcome.worksheet.id.trim_start_matches("load.").to_owned();
        outcome.worksheet.id = format!("load.{name}.{method}");
    }
    BoardLoad {
        board: name,
        share,
        comparison,
        held_to: held_to(node),
        remedies: Vec::new(),
        said,
    }
}

/// What of the dwelling a board that carries a part of it serves.
fn narrow(
    dwelling: &mut Dwelling,
    place: usize,
    house: &House,
    tree: &SupplyTree<'_>,
    said: &mut Vec<String>,
) {
    let node = &tree.nodes[place];
    let count = |purpose: Purpose| {
        let below = house
            .circuits
            .values()
            .filter(|c| tree.is_at_or_below(&c.board, node.id));
        below.filter(|c| c.purpose == purpose).count() as u32
    };
    dwelling.small_appliance_circuits = Fact::derived(count(Purpose::SmallAppliance));
    dwelling.laundry_circuits = Fact::derived(count(Purpose::Laundry));
    let has_general = count(Purpose::General) > 0;
    dwelling.area = if !node.board.area_served.is_unknown() {
        node.board.area_served.clone()
    } else if has_general {
        said.push(format!(
            "floor area served by `{}` is not told (`boards.{}.area_served`): the whole dwelling's area is taken, the most it can be",
            node.id, node.id
        ));
        house.dwelling.area.clone()
    } else {
        Fact::derived(model::units::SquareFeet::ZERO)
    };
}

/// Loads on circuits of a board and the boards below it.
fn loads_below(place: usize, house: &House, tree: &SupplyTree<'_>) -> BTreeSet<LoadId> {
    let id = tree.nodes[place].id;
    let circuits = house
        .circuits
        .values()
        .filter(|c| tree.is_at_or_below(&c.board, id));
    circuits.flat_map(|c| c.loads.iter().cloned()).collect()
}
