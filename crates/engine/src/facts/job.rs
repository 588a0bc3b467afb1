//! What the two pictures tell about the job, the service and the electrodes, by the names of the dictionary.
//! Source: the difference of the pictures, the place, the supply tree. Amperes.

use model::house::{Board, DwellingKind, ElectrodeKind, House, MainKind, System, UTILITY};
use model::scope::{BoardChange, Change, Scope};
use model::units::Amperes;
use model::{Date, Fact, Job};

use super::calculated::{Calculated, Standing};
use super::told::{Told, Value, and, any, has, is, maybe, number, or, quantity, with, word};

/// The whole job.
pub(super) struct View<'j> {
    pub(super) job: &'j Job,
    pub(super) scope: &'j Scope,
    pub(super) numbers: &'j Calculated<'j>,
}

/// How one fact is told, and the field that answers it, from the top of a picture.
pub(super) type Rule = super::Rule<for<'v> fn(&'v View<'v>) -> Told<'v>>;

const fn rule(
    fact: &'static str,
    field: &'static str,
    tell: for<'v> fn(&'v View<'v>) -> Told<'v>,
) -> Rule {
    Rule { fact, field, tell }
}

/// Every fact about job, service and electrodes that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("job.dwelling", "dwelling.kind", |v| {
        let kind = &v.job.after.dwelling.kind;
        with(kind, |k| Value::Bool(*k != DwellingKind::Other))
    }),
    rule("job.dwelling_kind", "dwelling.kind", |v| {
        with(&v.job.after.dwelling.kind, |k| {
            Value::Word(dwelling_kind(*k))
        })
    }),
    rule("job.system", "dwelling.system", |v| {
        with(&v.job.after.dwelling.system, |s| Value::Word(system(*s)))
    }),
    rule("job.service_equipment_replaced", "", |v| {
        maybe(v.service_equipment_replaced())
    }),
    rule("job.service_equipment_new", "", |v| {
        maybe(v.service_equipment_new())
    }),
    rule("job.only_meter_socket_conductors_or_fittings", "", |v| {
        // The meter socket is in neither picture, so only a change of the equipment itself can answer, and only with no.
        let more = v.service_equipment_replaced() == Some(true);
        maybe(more.then_some(false))
    }),
    rule("job.service_conductors_replaced", "", |v| {
        is(v.service_conductors_replaced())
    }),
    rule("job.service_amps_after", "", |v| {
        let mut service = v.service_boards();
        match (service.next(), service.next()) {
            (Some(id), None) => {
                let board = v.numbers.boards.get(id);
                board.and_then(|b| quantity(&b.supply_device))
            }
            _ => None,
        }
    }),
    rule("job.loads_added", "", |v| maybe(v.loads_added())),
    rule("job.rating_reduced", "", |v| maybe(v.rating_reduced())),
    rule("job.energized_other_sources", "sources", |v| {
        is(!v.job.after.sources.is_empty())
    }),
    rule("job.new_circuits", "", |v| is(v.new_circuits())),
    rule("job.after_2026_09_01", "place.permit_date", |v| {
        let day = Date::new(2026, 9, 1);
        maybe(v.job.place.permit_date.zip(day).map(|(on, day)| on > day))
    }),
    rule("service.afc_a", "supply.fault_current", |v| {
        number(v.numbers.service.fault_current.map(|a| a.0))
    }),
    rule("service.disconnect_throws", "", |v| {
        number(v.numbers.service.throws.map(f64::from))
    }),
    rule("service.disconnect_in_bathroom", "", |v| {
        maybe(v.at_service(|b| has(&b.location, "bathroom")))
    }),
    rule("service.disconnect_location", "", |v| {
        let outside = v.at_service(|b| has(&b.location, "outdoors"));
        word((outside == Some(true)).then_some("outside"))
    }),
    rule("service.conductors_ocpd_ok", "", |v| {
        maybe(v.service_conductors_suit())
    }),
    rule("ground.water_pipe_electrode", "grounding.electrodes", |v| {
        let in_use = v.electrodes(|kind| kind == ElectrodeKind::WaterPipe);
        maybe(in_use.filter(|n| *n > 0).map(|_| true))
    }),
    rule("ground.supplement_present", "grounding.electrodes", |v| {
        let others = v.electrodes(|kind| kind != ElectrodeKind::WaterPipe);
        maybe(others.map(|n| n > 0))
    }),
    rule("ground.single_rod_only", "grounding.electrodes", |v| {
        let made = v.electrodes(|k| matches!(k, ElectrodeKind::Rod | ElectrodeKind::Plate));
        let all = v.electrodes(|_| true);
        maybe(made.zip(all).map(|(made, all)| made == 1 && all == 1))
    }),
    rule("ground.gec_size_ok", "grounding.electrodes", |v| {
        maybe(v.numbers.service.electrode_conductors)
    }),
];

fn dwelling_kind(kind: DwellingKind) -> &'static str {
    match kind {
        DwellingKind::OneFamily => "one_family",
        DwellingKind::TwoFamily => "two_family",
        DwellingKind::Multifamily => "multifamily",
        DwellingKind::Other => "other",
    }
}

fn system(system: System) -> &'static str {
    match system {
        System::SinglePhase120_240 => "v120_240_1ph",
        System::TwoLegs208Y120 => "v208Y120_1ph_3wire",
    }
}

impl View<'_> {
    fn standings(&self) -> impl Iterator<Item = (&str, Option<Standing>)> {
        self.numbers.boards.iter().map(|(id, b)| (*id, b.standing))
    }

    fn service_boards(&self) -> impl Iterator<Item = &str> {
        self.standings()
            .filter(|(_, s)| *s == Some(Standing::Service))
            .map(|(id, _)| id)
    }

    fn changed(&self, id: &str) -> Option<BoardChange> {
        self.scope.board(id)
    }

    /// Service equipment is new, replaced or moved: some board that is or may be it.
    fn service_equipment_replaced(&self) -> Option<bool> {
        any(self.standings().map(|(id, standing)| {
            let change = self.changed(id);
            let other = change.is_some_and(|c| c.change != Change::Kept || c.relocated);
            let before = self.numbers.boards.get(id).and_then(|b| b.before);
            // Another disconnect first in line makes another board the service equipment.
            and(
                standing.map(|s| s == Standing::Service),
                or(Some(other), before.map(|b| b != Standing::Service)),
            )
        }))
    }

    /// No service was there before: true. Same place and rating as before: false. Else it is for the authority to say.
    fn service_equipment_new(&self) -> Option<bool> {
        let fed_before = self.job.before.feeders.values().any(|f| f.from == UTILITY);
        let fed_after = self.job.after.feeders.values().any(|f| f.from == UTILITY);
        if !fed_before {
            return fed_after.then_some(true);
        }
        if self.service_equipment_replaced() == Some(false) {
            return Some(false);
        }
        let same = self.service_boards().all(|id| {
            let boards = (
                self.job.before.boards.get(id),
                self.job.after.boards.get(id),
            );
            let (Some(before), Some(after)) = boards else {
                return false;
            };
            let moved = self.changed(id).is_none_or(|c| c.relocated);
            let rating = |b: &Board| b.main_amps.get().zip(b.bus.get());
            !moved && rating(before).is_some() && rating(before) == rating(after)
        });
        same.then_some(false)
    }

    fn service_conductors_replaced(&self) -> bool {
        self.scope.feeders.iter().any(|(id, change)| {
            let feeder = self.job.after.feeders.get(id);
            feeder.is_some_and(|f| f.from == UTILITY)
                && matches!(change, Change::New | Change::Replaced)
        })
    }

    fn new_circuits(&self) -> bool {
        let circuits = self.scope.circuits.iter();
        circuits.into_iter().any(|(_, c)| c.change == Change::New)
    }

    fn loads_added(&self) -> Option<bool> {
        let wished = |id| self.job.after.loads.get(id).is_some_and(|l| l.future);
        let loads = self.scope.loads_added.iter().any(|id| !wished(id));
        or(Some(loads || self.new_circuits()), self.rating_reduced())
    }

    /// A board or feeder of both pictures that ends up smaller. One that is kept keeps its rating, known or not.
    fn rating_reduced(&self) -> Option<bool> {
        let (before, after) = (&self.job.before, &self.job.after);
        let boards = self.scope.boards.iter().map(|(id, change)| {
            let (Some(b), Some(a)) = (before.boards.get(id), after.boards.get(id)) else {
                return Some(false);
            };
            let bus = match change.change {
                Change::Replaced => less(&a.bus, &b.bus),
                _ => Some(false),
            };
            let id = id.as_str();
            or(bus, less(&device(after, id), &device(before, id)))
        });
        let feeders = self.scope.feeders.iter().map(|(id, _)| {
            match (before.feeders.get(id), after.feeders.get(id)) {
                (Some(b), Some(a)) => less(&a.breaker, &b.breaker),
                _ => Some(false),
            }
        });
        any(boards.chain(feeders))
    }

    /// What is so at the one board that is service equipment; nothing where there are several.
    fn at_service(&self, so: impl Fn(&Board) -> Option<bool>) -> Option<bool> {
        let mut service = self.service_boards();
        match (service.next(), service.next()) {
            (Some(id), None) => so(self.job.after.boards.get(id)?),
            _ => None,
        }
    }

    fn service_conductors_suit(&self) -> Option<bool> {
        let mut suit = self
            .job
            .after
            .feeders
            .iter()
            .filter(|(_, f)| f.from == UTILITY);
        let first = suit.next()?;
        let of = |id: &str| self.numbers.feeders.get(id).and_then(|f| f.device);
        suit.map(|(id, _)| of(id.as_str()))
            .fold(of(first.0.as_str()), and)
    }

    /// How many electrodes of a kind are in use.
    fn electrodes(&self, kind: impl Fn(ElectrodeKind) -> bool) -> Option<u32> {
        let all = self.job.after.grounding.electrodes.known()?;
        Some(
            all.iter()
                .filter(|e| kind(e.kind))
                .map(|e| u32::from(e.count))
                .sum(),
        )
    }
}

/// The device that protects a board's bus: its own main, else the one at the supply end of its feeder.
fn device(house: &House, board: &str) -> Fact<Amperes> {
    let own = house.boards.get(board);
    match own.and_then(|b| b.main.get()) {
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker) => {
            own.map_or(Fact::Unknown, |b| b.main_amps.clone())
        }
        _ => {
            let mut feeders = house.feeders.values();
            let feeder = feeders.find(|f| f.to == board);
            feeder.map_or(Fact::Unknown, |f| f.breaker.clone())
        }
    }
}

/// Smaller than before; where neither is known, the one that stands is taken to be the one that stood.
fn less<T: PartialOrd>(after: &Fact<T>, before: &Fact<T>) -> Option<bool> {
    match (after.known(), before.known()) {
        (Some(after), Some(before)) => Some(after < before),
        (None, None) => Some(false),
        _ => None,
    }
}
