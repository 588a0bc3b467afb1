//! Each feeder and the service conductors as surveyed: may they carry the load, under which device, and what beside the legs?
//! Source: the job's feeders, the supply tree and [`crate::conductor`]. Amperes, feet.

use model::conductor::{Insulation, Wire};
use model::house::{ElectrodeKind, Feeder, House, System};
use model::units::{Amperes, Celsius, Inches};
use model::{Fact, Said, TradeSize, WiringMethod};
use rulebook::tables::{Electrode, TablesIn, limit};

use super::load::BoardLoad;
use super::system;
use crate::conductor::grounding::{
    ServiceConductors, bonding_jumper, electrode_conductor, enlarged, equipment_ground,
};
use crate::conductor::neutral::{Floor, smallest_neutral};
use crate::conductor::voltage_drop::Drops;
use crate::conductor::{
    Change, FeederCheck, Feeds, Installation, Load, Loading, Place, Run, Terminals, Verdict, check,
    smallest_changes, voltage_drop,
};
use crate::fill::raceway::{Conductor, Use, raceway_fill};
use crate::tree::{Node, Role, SupplyTree};
use crate::worksheet::Worksheet;

/// Everything about one feeder.
#[derive(Clone, Debug)]
pub struct FeederSheet<'j> {
    /// The feeder.
    pub id: &'j str,
    /// The board it feeds.
    pub board: &'j str,
    /// As the conductor calculations took it.
    pub input: crate::conductor::Feeder,
    /// Conductors against load and device.
    pub check: FeederCheck,
    /// What was taken where the survey left a gap, in words.
    pub said: Vec<String>,
    /// Smallest changes that make it pass, each verified by the same check; empty when it passes or they were not sought.
    pub changes: Vec<Change>,
    /// Smallest neutral, and whether the one there is large enough.
    pub neutral: Option<SizeSheet>,
    /// Smallest equipment ground, and whether the one there is large enough.
    pub ground: Option<SizeSheet>,
    /// Voltage drop under the calculated load, where length and conductors are known.
    pub drop: Option<(Worksheet, Option<Drops>)>,
    /// Fill of its raceway, where there is one and its size is known.
    pub raceway: Option<(Worksheet, Verdict)>,
}

/// A conductor that must have at least a size.
#[derive(Clone, Debug)]
pub struct SizeSheet {
    /// Steps.
    pub worksheet: Worksheet,
    /// Smallest size, when it can be told.
    pub smallest: Option<Wire>,
    /// Whether the one there is large enough.
    pub verdict: Verdict,
}

/// Electrode conductor or bonding jumper of a service.
#[derive(Clone, Debug)]
pub struct GroundingSheet {
    /// Steps.
    pub worksheet: Worksheet,
    /// Whether the conductor there is large enough.
    pub verdict: Verdict,
}

impl FeederSheet<'_> {
    /// Fills in [`FeederSheet::changes`].
    pub(super) fn seek_changes(&mut self, book: &TablesIn<'_>) {
        if self.check.verdict == Verdict::Fail {
            self.changes = smallest_changes(&self.input, book);
        }
    }

    /// Its worksheets in order.
    pub fn worksheets(&self) -> impl Iterator<Item = &Worksheet> {
        std::iter::once(&self.check.worksheet)
            .chain(self.neutral.iter().map(|n| &n.worksheet))
            .chain(self.ground.iter().map(|g| &g.worksheet))
            .chain(self.drop.iter().map(|d| &d.0))
            .chain(self.raceway.iter().map(|r| &r.0))
    }
}

/// Every feeder that feeds a board of the tree.
pub(super) fn of_tree<'j>(
    house: &'j House,
    tree: &SupplyTree<'j>,
    loads: &[BoardLoad<'j>],
    book: &TablesIn<'_>,
) -> Vec<FeederSheet<'j>> {
    let fed = tree
        .nodes
        .iter()
        .filter_map(|node| node.feeder.map(|(id, f)| (node, id, f)));
    fed.map(|(node, id, feeder)| one(house, tree, node, id, feeder, loads, book))
        .collect()
}

fn one<'j>(
    house: &'j House,
    tree: &SupplyTree<'j>,
    node: &Node<'j>,
    id: &'j str,
    feeder: &'j Feeder,
    loads: &[BoardLoad<'j>],
    book: &TablesIn<'_>,
) -> FeederSheet<'j> {
    let load = loads.iter().find(|l| l.board == node.id);
    let (input, said) = input(house, tree, node, id, feeder, load, book);
    let check = check(&input, book);
    let amperes = load.and_then(BoardLoad::amperes);
    FeederSheet {
        id,
        board: node.id,
        changes: Vec::new(),
        neutral: load.and_then(|l| neutral(feeder, node, l, &input, book)),
        ground: ground(feeder, node, &input, book),
        drop: amperes.and_then(|a| drop(house, id, feeder, a, book)),
        raceway: raceway(id, feeder, book),
        check,
        said,
        input,
    }
}

fn input(
    house: &House,
    tree: &SupplyTree<'_>,
    node: &Node<'_>,
    id: &str,
    feeder: &Feeder,
    load: Option<&BoardLoad<'_>>,
    book: &TablesIn<'_>,
) -> (crate::conductor::Feeder, Vec<String>) {
    let mut said = Vec::new();
    if house.dwelling.system.is_unknown() {
        said.push(
            "system taken as 120/240 V: say `dwelling.system` where two legs of 208Y/120 V come in"
                .to_owned(),
        );
    }
    let is_service = node.role == Role::Service;
    let device = if is_service {
        node.protected_by.clone()
    } else {
        feeder.breaker.clone()
    };
    let from = tree.node(&feeder.from).map(|n| &n.board.terminals);
    let amperes = load.and_then(BoardLoad::amperes);
    let input = crate::conductor::Feeder {
        id: format!("feeder.{id}"),
        installation: Installation {
            wire: feeder.wire.clone(),
            sets: u32::from(feeder.sets),
            insulation: feeder.insulation.clone(),
            method: feeder.method.clone(),
            ambient: ambient(id, feeder, book, &mut said),
            current_carrying: current_carrying(id, feeder, system(house), &mut said),
            terminals: terminals(from, &node.board.terminals),
            in_thermal_insulation: feeder.in_thermal_insulation.clone(),
            wet: feeder.outside.clone(),
        },
        device,
        load: amperes.map_or(Fact::Unknown, |a| Fact::derived(Load::noncontinuous(a))),
        feeds: Feeds::Feeder,
        place: Place {
            system: system(house),
            carries_entire_dwelling: node.carries_entire_dwelling.clone(),
            is_service,
            service_rating: tree
                .services()
                .next()
                .map_or(Fact::Unknown, |s| s.protected_by.clone()),
        },
    };
    (input, said)
}

/// The surroundings; left out, those the ampacity table is printed for are taken and said.
fn ambient(
    id: &str,
    feeder: &Feeder,
    book: &TablesIn<'_>,
    said: &mut Vec<String>,
) -> Fact<Celsius> {
    let base = book
        .limit(limit::AMPACITY_TABLE_AMBIENT)
        .ok()
        .map(|b| b.value);
    match (feeder.ambient.get(), base) {
        (None, Some(base)) => {
            said.push(format!(
                "surroundings taken as {base}: say `feeders.{id}.ambient` for an attic or a roof"
            ));
            Fact::Known {
                is: base,
                by: Said::Assumed,
            }
        }
        _ => feeder.ambient.clone(),
    }
}

/// Current-carrying conductors; left out, the feeder is taken to lie alone, and that is said.
/// The neutral of two legs of a wye system counts, that of a 120/240 V system does not (310.15(E), earlier 310.15(B)(5)).
fn current_carrying(
    id: &str,
    feeder: &Feeder,
    system: System,
    said: &mut Vec<String>,
) -> Fact<u32> {
    if !feeder.current_carrying.is_unknown() {
        return feeder.current_carrying.clone();
    }
    said.push(format!(
        "taken to lie alone, not bundled: say `feeders.{id}.current_carrying` otherwise"
    ));
    let own = match system {
        System::SinglePhase120_240 => 2,
        System::TwoLegs208Y120 => 3,
    };
    Fact::Known {
        is: own,
        by: Said::Assumed,
    }
}

/// The lower marking of both ends; unknown as soon as one end is unknown and the other is not already the lowest.
fn terminals(from: Option<&Fact<Celsius>>, to: &Fact<Celsius>) -> Fact<Terminals> {
    let class = |f: &Fact<Celsius>| {
        f.map(|c| {
            if c.0 < 75.0 {
                Terminals::C60
            } else {
                Terminals::C75
            }
        })
    };
    let to = class(to);
    let Some(from) = from.map(class) else {
        return to;
    };
    match (from.get(), to.get()) {
        (Some(Terminals::C60), _) => from,
        (_, Some(Terminals::C60)) => to,
        (Some(_), Some(_)) => to,
        _ => Fact::Unknown,
    }
}

fn neutral(
    feeder: &Feeder,
    node: &Node<'_>,
    load: &BoardLoad<'_>,
    input: &crate::conductor::Feeder,
    book: &TablesIn<'_>,
) -> Option<SizeSheet> {
    let there = feeder.neutral.get().or_else(|| feeder.wire.get())?;
    let amperes = load.outcome()?.neutral.exact()?;
    let floor = match node.role {
        Role::Service => Floor::Service(ServiceConductors {
            leg: feeder.wire.get()?,
            sets: u32::from(feeder.sets),
        }),
        _ => Floor::Feeder {
            device: feeder.breaker.get()?,
        },
    };
    let (worksheet, smallest) = smallest_neutral(
        &input.id,
        amperes,
        &input.installation,
        there.material,
        floor,
        book,
    );
    Some(SizeSheet {
        verdict: large_enough(there, smallest),
        worksheet,
        smallest,
    })
}

fn ground(
    feeder: &Feeder,
    node: &Node<'_>,
    input: &crate::conductor::Feeder,
    book: &TablesIn<'_>,
) -> Option<SizeSheet> {
    if node.role == Role::Service || feeder.wires.get() == Some(3) {
        return None;
    }
    let device = feeder.breaker.get()?;
    let material = feeder.ground.get().or_else(|| feeder.wire.get())?.material;
    let base = enlarged(input, book);
    let (worksheet, smallest) = equipment_ground(&input.id, device, material, base.as_ref(), book);
    let verdict = feeder
        .ground
        .get()
        .map_or(Verdict::CannotTell, |there| large_enough(there, smallest));
    Some(SizeSheet {
        worksheet,
        smallest,
        verdict,
    })
}

fn large_enough(there: Wire, smallest: Option<Wire>) -> Verdict {
    smallest.map_or(Verdict::CannotTell, |s| {
        Verdict::from_bool(there.size >= s.size)
    })
}

/// The run of a feeder, where all of it is known.
pub(super) fn run(feeder: &Feeder) -> Option<Run> {
    Some(Run {
        leg: feeder.wire.get()?,
        neutral: feeder.neutral.get().or_else(|| feeder.wire.get()),
        sets: u32::from(feeder.sets),
        method: feeder.method.get()?,
        length: feeder.length.get()?,
    })
}

fn drop(
    house: &House,
    id: &str,
    feeder: &Feeder,
    amperes: Amperes,
    book: &TablesIn<'_>,
) -> Option<(Worksheet, Option<Drops>)> {
    let power_factor = book.limit(limit::DROP_POWER_FACTOR).ok()?.value;
    let loading = Loading {
        line_to_line: amperes,
        leg_a: Amperes::ZERO,
        leg_b: Amperes::ZERO,
        power_factor,
    };
    Some(voltage_drop(
        &format!("feeder.{id}"),
        system(house),
        &run(feeder)?,
        &loading,
        book,
    ))
}

fn raceway(id: &str, feeder: &Feeder, book: &TablesIn<'_>) -> Option<(Worksheet, Verdict)> {
    let method = feeder
        .method
        .get()
        .filter(|m: &WiringMethod| m.is_raceway())?;
    let size: TradeSize = feeder.raceway_size.known()?.parse().ok()?;
    let insulation: Insulation = feeder.insulation.get()?;
    let kind = |wire: Wire, count: u32| Conductor {
        size: wire.size,
        insulation,
        compact: wire.material.is_aluminum_column(),
        count,
    };
    let leg = feeder.wire.get()?;
    let mut conductors = vec![kind(leg, 2), kind(feeder.neutral.get().unwrap_or(leg), 1)];
    conductors.extend(feeder.ground.get().map(|g| kind(g, 1)));
    let longest = book.limit(limit::NIPPLE_LENGTH_TO).ok()?.value;
    let nipple = feeder
        .length
        .get()
        .is_some_and(|l| Inches::from(l) <= longest);
    let used = if nipple { Use::Nipple } else { Use::Run };
    Some(raceway_fill(
        &format!("feeder.{id}"),
        method,
        size,
        &conductors,
        used,
        book,
    ))
}

/// Electrode conductors and bonding jumper of the first service.
pub(super) fn grounding(
    house: &House,
    tree: &SupplyTree<'_>,
    book: &TablesIn<'_>,
) -> Vec<GroundingSheet> {
    let Some(feeder) = tree
        .services()
        .next()
        .and_then(|n| n.feeder)
        .map(|(_, f)| f)
    else {
        return Vec::new();
    };
    let Some(leg) = feeder.wire.get() else {
        return Vec::new();
    };
    let service = ServiceConductors {
        leg,
        sets: u32::from(feeder.sets),
    };
    let mut sheets = Vec::new();
    for (number, electrode) in house
        .grounding
        .electrodes
        .known()
        .into_iter()
        .flatten()
        .enumerate()
    {
        let material = electrode
            .conductor
            .get()
            .map_or(model::Material::Copper, |w| w.material);
        let sole = match electrode.kind {
            ElectrodeKind::Rod | ElectrodeKind::Plate => Some((Electrode::RodPipePlate, None)),
            ElectrodeKind::ConcreteEncased => Some((Electrode::ConcreteEncased, None)),
            ElectrodeKind::GroundRing => electrode
                .conductor
                .get()
                .map(|w| (Electrode::GroundRing, Some(w.size))),
            ElectrodeKind::WaterPipe | ElectrodeKind::BuildingSteel => None,
        };
        let (worksheet, smallest) = electrode_conductor(
            &format!("electrode.{}", number + 1),
            service,
            material,
            sole,
            book,
        );
        let verdict = electrode
            .conductor
            .get()
            .map_or(Verdict::CannotTell, |there| large_enough(there, smallest));
        sheets.push(GroundingSheet { worksheet, verdict });
    }
    let (worksheet, smallest) = bonding_jumper("service", service, model::Material::Copper, book);
    let verdict = if smallest.is_some() {
        Verdict::Pass
    } else {
        Verdict::CannotTell
    };
    sheets.push(GroundingSheet { worksheet, verdict });
    sheets
}
