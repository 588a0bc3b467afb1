//! Grounding and bonding conductors: equipment ground, electrode conductor and its limits, bonding jumpers.
//! Source: NFPA 70 Tables 250.122, 250.66, 250.102(C)(1) and 250.66(A) to (C) (`equipment_grounding.csv`, `grounding_electrode.csv`,
//! `bonding_jumpers.csv`, `electrode_caps.csv`). Device ratings in amperes, service conductors in circular mils.

use std::sync::Arc;

use model::units::{Amperes, CircularMils, Percent};
use model::{Edition, Material, WireSize};

use super::TablesIn;
use super::entry::{Entry, Steps, found};
use super::limits::yes_or_no;
use super::reader::{Reader, Row};
use super::subject::Subject;
use crate::source::Lookup;

/// Kind of grounding electrode, where it is the only one the conductor goes on to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Electrode {
    /// Rod, pipe or plate.
    RodPipePlate,
    /// Concrete-encased.
    ConcreteEncased,
    /// Ground ring.
    GroundRing,
}

impl Electrode {
    const ALL: [(Self, &'static str); 3] = [
        (Self::RodPipePlate, "rod-pipe-plate"),
        (Self::ConcreteEncased, "concrete-encased"),
        (Self::GroundRing, "ground-ring"),
    ];
}

/// Largest electrode conductor that an electrode can demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ElectrodeCap {
    /// Never larger than this.
    Size(WireSize),
    /// Never larger than the conductor the electrode is made of.
    SameAsElectrode,
}

/// A bonding jumper or grounded service conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BondingJumper {
    /// Smallest trade size that is large enough.
    pub size: WireSize,
    /// Least area, where it comes from a share of the service conductors' area and not from a printed size.
    pub least_area: Option<CircularMils>,
}

#[derive(Clone, Copy, Debug)]
enum Jumper {
    Sizes([Option<WireSize>; 2]),
    Share(Percent),
}

type Sizes = [Option<WireSize>; 2];

#[derive(Clone, Debug, Default)]
pub(crate) struct Grounding {
    equipment: Steps<Sizes>,
    /// By metal of the service conductors: copper, aluminum.
    electrode: [Steps<Sizes>; 2],
    jumpers: [Steps<Jumper>; 2],
    caps: [Option<Entry<[Option<ElectrodeCap>; 2]>>; 3],
}

type ServiceRow<T> = Row<([f64; 2], T)>;
type Cap = (Electrode, [Option<ElectrodeCap>; 2], Arc<str>);

pub(crate) fn load(reader: &mut Reader<'_>) -> [Grounding; 5] {
    const EQUIPMENT: &str = "tables/equipment_grounding.csv";
    let equipment = reader.rows(
        EQUIPMENT,
        &["device_to_A", "cu_size", "al_size"],
        1,
        |cells| {
            let to = cells.number("device_to_A", |n| n);
            let sizes = ["cu_size", "al_size"].map(|c| cells.parsed(c, "a conductor size"));
            Some((cells.needed("device_to_A", to)?, sizes))
        },
    );
    const ELECTRODE: &str = "tables/grounding_electrode.csv";
    let header = &["service_cu_to", "service_al_to", "cu_size", "al_size"];
    let electrode: Vec<ServiceRow<Sizes>> = reader.rows(ELECTRODE, header, 2, |cells| {
        let to =
            ["service_cu_to", "service_al_to"].map(|c| up_to(cells.parsed(c, "a conductor size")));
        let sizes = ["cu_size", "al_size"].map(|c| cells.parsed(c, "a conductor size"));
        Some((to, sizes))
    });
    const JUMPERS: &str = "tables/bonding_jumpers.csv";
    let header = &[
        "service_cu_to",
        "service_al_to",
        "cu_size",
        "al_size",
        "area_percent",
    ];
    let jumpers: Vec<ServiceRow<Jumper>> = reader.rows(JUMPERS, header, 2, |cells| {
        let to =
            ["service_cu_to", "service_al_to"].map(|c| up_to(cells.parsed(c, "a conductor size")));
        let sizes = ["cu_size", "al_size"].map(|c| cells.parsed(c, "a conductor size"));
        let share = cells.number("area_percent", Percent);
        Some((to, share.map_or(Jumper::Sizes(sizes), Jumper::Share)))
    });
    let caps = cap_rows(reader);

    Edition::ALL.map(|edition| Grounding {
        equipment: Steps::read(
            &equipment,
            edition,
            (EQUIPMENT, "device_to_A"),
            reader,
            |r| Some((r.value.0, Some(r.value.1))),
        ),
        electrode: [0, 1].map(|metal| {
            let place = (ELECTRODE, ["service_cu_to", "service_al_to"][metal]);
            Steps::read(&electrode, edition, place, reader, |r| {
                Some((r.value.0[metal], Some(r.value.1)))
            })
        }),
        jumpers: [0, 1].map(|metal| {
            let place = (JUMPERS, ["service_cu_to", "service_al_to"][metal]);
            Steps::read(&jumpers, edition, place, reader, |r| {
                Some((r.value.0[metal], Some(r.value.1)))
            })
        }),
        caps: Electrode::ALL.map(|(kind, _)| {
            caps.iter()
                .find(|r| r.holds_in(edition) && r.value.0 == kind)
                .map(|r| Entry {
                    value: Some(r.value.1),
                    check: r.check,
                    section: Some(r.value.2.clone()),
                })
        }),
    })
}

/// Area of the largest service conductor a row reaches to; an empty cell reaches to any.
fn up_to(size: Option<WireSize>) -> f64 {
    size.map_or(f64::INFINITY, |s| s.area().0)
}

fn cap_rows(reader: &mut Reader<'_>) -> Vec<Row<Cap>> {
    let header = &[
        "electrode",
        "cu_size",
        "al_size",
        "same_as_electrode",
        "section",
    ];
    reader.rows("tables/electrode_caps.csv", header, 1, |cells| {
        let text = cells.text("electrode").to_owned();
        let Some((kind, _)) = Electrode::ALL.into_iter().find(|(_, name)| *name == text) else {
            let expected = "rod-pipe-plate, concrete-encased or ground-ring";
            cells.wrong(
                "electrode",
                expected,
                format!("`{text}`"),
                "correct the cell",
            );
            return None;
        };
        let sizes = ["cu_size", "al_size"].map(|c| cells.parsed(c, "a conductor size"));
        let caps = match yes_or_no(cells, "same_as_electrode")? {
            true => [Some(ElectrodeCap::SameAsElectrode); 2],
            false => sizes.map(|s| s.map(ElectrodeCap::Size)),
        };
        Some((kind, caps, Arc::from(cells.text("section"))))
    })
}

impl TablesIn<'_> {
    /// Equipment grounding conductor for the rating of the device ahead of it.
    pub fn egc(&self, device: Amperes, material: Material) -> Lookup<WireSize> {
        let entry = self.tables.grounding.equipment.at(device.0);
        let of = usize::from(material.is_aluminum_column());
        found(
            entry.map(|e| e.map(|s| s[of])),
            self.cite(Subject::Egc),
            || format!("a device of {device}, conductor of {material}"),
        )
    }

    /// Grounding electrode conductor for the largest ungrounded service conductor, or the summed area of its parallel set.
    pub fn grounding_electrode_conductor(
        &self,
        service: CircularMils,
        service_material: Material,
        material: Material,
    ) -> Lookup<WireSize> {
        let steps =
            &self.tables.grounding.electrode[usize::from(service_material.is_aluminum_column())];
        let of = usize::from(material.is_aluminum_column());
        found(
            steps.at(service.0).map(|e| e.map(|s| s[of])),
            self.cite(Subject::Gec),
            || format!("service conductors of {service} {service_material}"),
        )
    }

    /// Largest electrode conductor that one kind of electrode can demand.
    pub fn electrode_cap(&self, electrode: Electrode, material: Material) -> Lookup<ElectrodeCap> {
        let entry = self.tables.grounding.caps[electrode as usize].as_ref();
        let of = usize::from(material.is_aluminum_column());
        found(
            entry.map(|e| e.map(|c| c[of])),
            self.cite(Subject::ElectrodeCaps),
            || format!("a {material} conductor to that electrode"),
        )
    }

    /// Bonding jumper on the supply side, or grounded service conductor. Above the last printed row a share of the area counts, which the
    /// table gives for jumper and service conductors of one metal only: `NoEntry` otherwise.
    pub fn bonding_jumper(
        &self,
        service: CircularMils,
        service_material: Material,
        material: Material,
    ) -> Lookup<BondingJumper> {
        let steps =
            &self.tables.grounding.jumpers[usize::from(service_material.is_aluminum_column())];
        let of = usize::from(material.is_aluminum_column());
        let same_metal = service_material.is_aluminum_column() == material.is_aluminum_column();
        let jumper = |jumper: Jumper| match jumper {
            Jumper::Sizes(sizes) => sizes[of].map(|size| BondingJumper {
                size,
                least_area: None,
            }),
            Jumper::Share(share) if same_metal => {
                let area = service * share.factor();
                WireSize::at_least(area).map(|size| BondingJumper {
                    size,
                    least_area: Some(area),
                })
            }
            Jumper::Share(_) => None,
        };
        found(
            steps.at(service.0).map(|e| e.map(jumper)),
            self.cite(Subject::BondingJumper),
            || format!("service conductors of {service} {service_material}, jumper of {material}"),
        )
    }
}
