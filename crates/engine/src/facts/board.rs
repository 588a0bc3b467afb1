//! What the two pictures tell about a board, its old cabinet and its building, by the names of the dictionary.
//! Source: board, the circuits and feeders on it, supply tree. Amperes, inches, degrees Celsius.

use model::house::{Board, Building, Circuit, DwellingKind, House, MainKind, Mounting, OldCabinet};
use model::house::{Feeder, Purpose};
use model::scope::{BoardChange, Change};

use super::calculated::{OfBoard, Standing};
use super::told::{Told, Value, and, count, is, maybe, number, quantity, tags, with, word, yes};

/// One board of the after picture with what stands on it.
pub(super) struct View<'j> {
    pub(super) id: &'j str,
    pub(super) board: &'j Board,
    pub(super) building: Option<&'j Building>,
    pub(super) change: BoardChange,
    pub(super) after: &'j House,
    pub(super) numbers: &'j OfBoard<'j>,
}

/// How one fact is told, and the field that answers it.
pub(super) type Rule = super::Rule<for<'v> fn(&'v View<'v>) -> Told<'v>>;

const fn rule(
    fact: &'static str,
    field: &'static str,
    tell: for<'v> fn(&'v View<'v>) -> Told<'v>,
) -> Rule {
    Rule { fact, field, tell }
}

/// Every fact about a board that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("panel.role", "", |v| {
        word(v.numbers.standing.and_then(role))
    }),
    rule("panel.role_before", "", |v| {
        word(v.numbers.before.map(|s| role(s).unwrap_or("none")))
    }),
    rule("panel.new_or_replaced", "", |v| is(v.new_or_replaced())),
    rule("panel.interior_only_replaced", "", |v| {
        is(v.change.interior_only)
    }),
    rule("panel.relocated", "position", |v| is(v.change.relocated)),
    rule("panel.in_other_building", "building", |v| {
        is(v.board.building.is_some())
    }),
    rule("panel.other_building_is_dwelling_unit", "", |v| {
        v.building.map_or(is(false), |b| yes(&b.dwelling_unit))
    }),
    rule("panel.supplies_dwelling_loads", "", |v| {
        maybe(v.supplies_dwelling_loads())
    }),
    rule("panel.feeder_carries_whole_dwelling", "area_served", |v| {
        maybe(v.numbers.entire_dwelling)
    }),
    rule("panel.main_kind", "main", |v| {
        with(&v.board.main, |m| Value::Word(main_kind(*m)))
    }),
    rule("panel.bus_a", "bus", |v| quantity(&v.board.bus)),
    rule("panel.supply_ocpd_a", "main_amps", |v| {
        quantity(&v.numbers.supply_device)
    }),
    rule("panel.load_a", "", |v| number(v.numbers.load.map(|a| a.0))),
    rule("panel.sccr_a", "short_circuit_rating", |v| {
        quantity(&v.board.short_circuit_rating)
    }),
    rule("panel.afc_a", "", |v| {
        number(v.numbers.fault_current.map(|a| a.0))
    }),
    rule("panel.neutral_bonded", "neutral_bonded", |v| {
        yes(&v.board.neutral_bonded)
    }),
    rule("panel.egc_bar_present", "ground_bar", |v| {
        yes(&v.board.ground_bar)
    }),
    rule("panel.poles_used", "", |v| number(Some(v.poles_used()))),
    rule("panel.poles_listed", "poles_listed", |v| {
        count(&v.board.poles_listed)
    }),
    rule("panel.tandem_in_wrong_slot", "tandem_spaces", |v| {
        maybe(v.tandem_in_wrong_slot())
    }),
    rule(
        "panel.highest_handle_in",
        "working_space.highest_handle",
        |v| quantity(&v.board.working_space.highest_handle),
    ),
    rule("panel.location", "location", |v| tags(&v.board.location)),
    rule("panel.ws_depth_in", "working_space.depth", |v| {
        quantity(&v.board.working_space.depth)
    }),
    rule("panel.ws_width_in", "working_space.width", |v| {
        quantity(&v.board.working_space.width)
    }),
    rule("panel.ws_height_in", "working_space.height", |v| {
        quantity(&v.board.working_space.height)
    }),
    rule("panel.equipment_width_in", "cabinet.width", |v| {
        quantity(&v.board.cabinet.width)
    }),
    rule("panel.wire_bend_space_ok", "cabinet.lug_space", |v| {
        maybe(v.numbers.bending_space)
    }),
    rule("panel.splice_fill_ok", "", |v| maybe(v.numbers.splice_fill)),
    rule(
        "panel.flush_in_combustible",
        "cabinet.combustible_wall",
        |v| {
            let flush = v.board.cabinet.mounting.get();
            maybe(and(
                flush.map(|m| m == Mounting::Flush),
                v.board.cabinet.combustible_wall.get(),
            ))
        },
    ),
    rule("panel.terminal_temp_c", "terminals", |v| {
        quantity(&v.board.terminals)
    }),
    rule("old.left_as_junction_box", "old_cabinet", |v| {
        if v.change.relocated {
            with(&v.board.old_cabinet, |o| {
                Value::Bool(*o == OldCabinet::SpliceBox)
            })
        } else {
            is(false)
        }
    }),
    rule("building.branch_circuits", "", |v| {
        number(v.circuits_in_building())
    }),
    rule("building.single_branch_circuit_with_egc", "", |v| {
        maybe((v.building.is_some() && v.numbers.feeder.is_some()).then_some(false))
    }),
];

/// The feeder facts of a board that no feeder supplies.
pub(super) fn feeder_exists(numbers: &OfBoard<'_>) -> Option<bool> {
    match numbers.standing {
        Some(Standing::FeederFed) => Some(true),
        Some(Standing::Service | Standing::None) => Some(false),
        None => None,
    }
}

fn role(standing: Standing) -> Option<&'static str> {
    match standing {
        Standing::Service => Some("service"),
        Standing::FeederFed => Some("feeder_fed"),
        Standing::None => None,
    }
}

fn main_kind(kind: MainKind) -> &'static str {
    match kind {
        MainKind::MainBreaker => "main_breaker",
        MainKind::MainLugs => "main_lugs",
        MainKind::BackfedBreaker => "backfed_breaker",
        MainKind::FeedThrough => "feed_through",
    }
}

impl View<'_> {
    fn circuits(&self) -> impl Iterator<Item = &Circuit> {
        let on_board = |c: &&Circuit| c.board == self.id;
        self.after.circuits.values().filter(on_board)
    }

    /// A whole board that was not at this place before: new, replaced, or carried here.
    fn new_or_replaced(&self) -> bool {
        let exchanged = matches!(self.change.change, Change::New | Change::Replaced);
        (exchanged && !self.change.interior_only) || self.change.relocated
    }

    fn supplies_dwelling_loads(&self) -> Option<bool> {
        let branches = self.circuits().any(|c| c.purpose != Purpose::Spare);
        let dwelling = self.after.dwelling.kind.get();
        let dwelling = dwelling.map(|k| k != DwellingKind::Other);
        let here = match self.building {
            None => Some(true),
            Some(building) => building.dwelling_unit.get().filter(|unit| *unit),
        };
        and(Some(branches), and(dwelling, here))
    }

    /// Poles of branch breakers, of feeder and source breakers, and of a main that is fed backwards.
    fn poles_used(&self) -> f64 {
        let branches: u32 = self.circuits().map(|c| u32::from(c.poles)).sum();
        let out = |f: &&Feeder| f.from == self.id;
        let feeders = self.after.feeders.values().filter(out).count();
        let sources = self.after.sources.values();
        let sources = sources.filter(|s| s.board == self.id).count();
        let backfed = self.board.main.get() == Some(MainKind::BackfedBreaker);
        f64::from(branches) + 2.0 * (feeders + sources + usize::from(backfed)) as f64
    }

    fn tandem_in_wrong_slot(&self) -> Option<bool> {
        let allowed = self.board.tandem_spaces.known();
        super::told::any(self.circuits().map(|c| {
            let spaces = c.spaces.known()?;
            super::told::any(spaces.iter().map(|space| {
                let number = space.trim_end_matches(|l: char| l.is_ascii_alphabetic());
                if number.len() == space.len() {
                    return Some(false);
                }
                let number = number.parse::<u32>().ok()?;
                allowed.map(|spaces| !spaces.contains(&number))
            }))
        }))
    }

    fn circuits_in_building(&self) -> Option<f64> {
        let building = self.board.building.as_ref()?;
        let boards = &self.after.boards;
        let there = |c: &&Circuit| {
            let board = boards.get(c.board.as_str());
            board.and_then(|b| b.building.as_ref()) == Some(building) && c.purpose != Purpose::Spare
        };
        Some(self.after.circuits.values().filter(there).count() as f64)
    }
}
