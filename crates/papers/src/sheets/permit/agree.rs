//! Do the sheets of the permit set agree? Schedules against load calculation, devices against feeder sheets, lines against totals.
//! Source: what the sheets print, number by number; published lists name such contradictions as what plan reviewers send back. VA, amperes.
//!
//! What can be told to contradict is told with both numbers and both places, and nothing is printed; what cannot be told is listed.

use std::collections::BTreeMap;

use engine::face::{Basis, CircuitLoad};
use engine::schedule::{Schedule, What};
use model::house::{Load, Purpose};

use super::{lighting, panels};
use crate::material::Material;
use crate::words::say;

/// Outcome of the cross-checks.
#[derive(Debug, Default)]
pub(super) struct Agreed {
    /// Numbers that contradict each other; with any of them nothing is printed.
    pub(super) against: Vec<String>,
    /// What was compared and agrees.
    pub(super) sure: Vec<String>,
    /// What could not be compared, and why.
    pub(super) open: Vec<String>,
}

impl Agreed {
    /// Keeps a pair of numbers that must be the same within `slack`.
    pub(super) fn same(
        &mut self,
        material: &Material<'_>,
        what: &str,
        here: (&str, f64),
        there: (&str, f64),
        slack: f64,
    ) {
        let (a, b) = (number(here.1), number(there.1));
        let values = [
            ("what", what),
            ("a", &a),
            ("here", here.0),
            ("b", &b),
            ("there", there.0),
        ];
        let language = material.setting.language;
        if (here.1 - there.1).abs() > slack {
            self.against
                .push(say(language, "permit-disagrees", &values));
        } else {
            self.sure.push(say(language, "permit-agrees", &values));
        }
    }

    pub(super) fn open(&mut self, material: &Material<'_>, name: &str, values: &[(&str, &str)]) {
        self.open.push(say(material.setting.language, name, values));
    }
}

/// What all checks look at.
pub(super) struct Compared<'m> {
    pub(super) material: &'m Material<'m>,
    pub(super) schedules: Vec<Schedule<'m>>,
    pub(super) loads: BTreeMap<String, CircuitLoad>,
}

impl Compared<'_> {
    /// What the schedules print for a circuit; `None` when it has no place on any.
    pub(super) fn printed(&self, circuit: &str) -> Option<f64> {
        let mine = |w: &What<'_>| matches!(w, What::Circuit(id, _) if *id == circuit);
        let rows = self.schedules.iter().flat_map(|s| &s.rows);
        let rows: Vec<i64> = rows.filter(|r| mine(&r.what)).map(|r| r.load.0).collect();
        (!rows.is_empty()).then(|| rows.iter().sum::<i64>() as f64)
    }
}

/// Compares everything that stands on two sheets.
pub(super) fn check(material: &Material<'_>) -> Agreed {
    let report = material.report;
    let nodes = report.tree.nodes.iter();
    let compared = Compared {
        material,
        schedules: nodes
            .filter_map(|n| material.schedule_after(n.id))
            .collect(),
        loads: engine::schedule::loads(&report.job.after, &report.book.tables()),
    };
    let mut agreed = Agreed::default();
    appliances(&compared, &mut agreed);
    fixed_circuits(&compared, &mut agreed);
    lighting::check(&compared, &mut agreed);
    panels::devices(&compared, &mut agreed);
    panels::totals(&compared, &mut agreed);
    panels::places(&compared, &mut agreed);
    agreed
}

/// Every load that is counted stands on one circuit, with its own volt-amperes.
fn appliances(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let house = &material.report.job.after;
    let word = |name: &str| say(material.setting.language, name, &[]);
    let (calculation, schedules) = (word("permit-in-calculation"), word("permit-in-schedules"));
    let counts = |l: &Load| !l.future && !l.gone && l.count > 0;
    let plate = |l: &Load| l.nameplate().get().map(|va| va.0 * f64::from(l.count));
    for (id, load) in house.loads.iter().filter(|(_, l)| counts(l)) {
        let on: Vec<&str> = house
            .circuits
            .iter()
            .filter(|(_, c)| !c.gone && c.loads.contains(id))
            .map(|(c, _)| c.as_str())
            .collect();
        let what = say(
            material.setting.language,
            "permit-load-named",
            &[("load", id.as_str())],
        );
        match (on.as_slice(), plate(load)) {
            ([_], Some(_)) => {}
            (many, Some(va)) => {
                let found = va * many.len() as f64;
                let there = match many {
                    [] => word("permit-on-no-circuit"),
                    many => say(
                        material.setting.language,
                        "permit-on-circuits",
                        &[("circuits", &many.join(", "))],
                    ),
                };
                agreed.same(material, &what, (&calculation, va), (&there, found), 0.0);
            }
            (_, None) => agreed.open(material, "permit-load-unknown", &[("load", id.as_str())]),
        }
    }
    let mut sum = (0.0, 0.0);
    for (id, circuit) in house
        .circuits
        .iter()
        .filter(|(_, c)| !c.gone && !c.loads.is_empty())
    {
        let mine = circuit.loads.iter().filter_map(|l| house.loads.get(l));
        let plates: Option<Vec<f64>> = mine.filter(|l| counts(l)).map(plate).collect();
        let (Some(plates), Some(printed)) = (plates, all.printed(id.as_str())) else {
            continue;
        };
        let plates: f64 = plates.iter().sum();
        sum = (sum.0 + plates, sum.1 + printed);
        // Each pole is printed in whole volt-amperes.
        let slack = f64::from(circuit.poles) * 0.5 + 0.5;
        if (plates - printed).abs() > slack {
            let what = say(
                material.setting.language,
                "permit-circuit-named",
                &[("circuit", id.as_str())],
            );
            agreed.same(
                material,
                &what,
                (&calculation, plates),
                (&schedules, printed),
                slack,
            );
        }
    }
    let what = word("permit-appliances-together");
    let slack = house
        .circuits
        .values()
        .map(|c| f64::from(c.poles) * 0.5 + 0.5)
        .sum();
    agreed.same(
        material,
        &what,
        (&calculation, sum.0),
        (&schedules, sum.1),
        slack,
    );
    let silent = all.loads.iter().filter(|(_, l)| l.basis == Basis::Unknown);
    let silent = silent.filter(|(id, _)| {
        let circuit = house.circuits.get(id.as_str());
        circuit.is_some_and(|c| c.purpose != Purpose::Spare && !c.gone)
    });
    let silent: Vec<&str> = silent.map(|(id, _)| id.as_str()).collect();
    if !silent.is_empty() {
        agreed.open(
            material,
            "permit-no-load",
            &[("circuits", &silent.join(", "))],
        );
    }
}

/// Small-appliance and laundry circuits: as many in the calculation as on the schedules.
fn fixed_circuits(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let house = &material.report.job.after;
    let word = |name: &str| say(material.setting.language, name, &[]);
    let several = house.dwelling.units.get().is_some_and(|n| n > 1);
    for (purpose, counted, name) in [
        (
            Purpose::SmallAppliance,
            &house.dwelling.small_appliance_circuits,
            "permit-small-appliance",
        ),
        (
            Purpose::Laundry,
            &house.dwelling.laundry_circuits,
            "permit-laundry",
        ),
    ] {
        let what = word(name);
        if several {
            agreed.open(material, "permit-several-units", &[("what", &what)]);
            continue;
        }
        let circuits = all.schedules.iter().flat_map(|s| {
            let placed = s
                .rows
                .iter()
                .filter(|r| r.pole == 1)
                .filter_map(|r| r.what.id());
            placed.chain(s.unplaced.iter().copied())
        });
        let purpose_of = |id: &str| house.circuits.get(id).map(|c| c.purpose);
        let found = circuits
            .filter(|id| purpose_of(id) == Some(purpose))
            .count() as f64;
        match counted.get() {
            Some(count) => agreed.same(
                material,
                &what,
                (&word("permit-in-calculation"), f64::from(count)),
                (&word("permit-in-schedules"), found),
                0.0,
            ),
            None => agreed.open(material, "permit-count-unknown", &[("what", &what)]),
        }
    }
}

fn number(value: f64) -> String {
    engine::Quantity::number(value).to_string()
}
