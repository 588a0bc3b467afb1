//! What is written beside each part of a one-line diagram. What nobody knows is written as not known.
//! Source: the job and the worksheets. Units stand beside every number.

use engine::check::Report;
use engine::tree::{Node, Role};
use model::Fact;
use model::conductor::Wire;
use model::house::{
    Electrode, ElectrodeKind, Feeder, MainKind, Source, SourceKind, System, UTILITY,
};
use model::scope::Change;

/// The word for something that nobody knows.
pub(super) const UNKNOWN: &str = "not known";

/// A fact in words, or that it is not known.
pub(super) fn told<T: std::fmt::Display>(fact: &Fact<T>) -> String {
    fact.known().map_or(UNKNOWN.to_owned(), T::to_string)
}

/// What becomes of a board, in capitals, for its frame.
pub(super) fn board_mark(report: &Report<'_>, id: &str) -> String {
    let Some(board) = report.scope.board(id) else {
        return change(Change::Kept).to_owned();
    };
    let word = match board.change {
        Change::Replaced if board.interior_only => "NEW INTERIOR",
        other => change(other),
    };
    match (board.relocated, board.change) {
        (true, Change::Kept) => "MOVED".to_owned(),
        (true, _) => format!("{word}, MOVED"),
        (false, _) => word.to_owned(),
    }
}

/// The word of a change.
pub(super) const fn change(change: Change) -> &'static str {
    match change {
        Change::Kept => "KEPT",
        Change::Replaced => "REPLACED",
        Change::New => "NEW",
        Change::Removed => "TAKEN OUT",
    }
}

/// The utility's side.
pub(super) fn supply(report: &Report<'_>) -> Vec<String> {
    let job = report.job;
    let house = &job.after;
    let utility = if job.place.utility.is_empty() {
        format!("Utility: {UNKNOWN}")
    } else {
        format!("Utility: {}", job.place.utility)
    };
    let system = match house.dwelling.system.get() {
        Some(System::SinglePhase120_240) => "120/240 V, single phase, 3 wires",
        Some(System::TwoLegs208Y120) => "208Y/120 V, two legs and neutral, 3 wires",
        None => UNKNOWN,
    };
    let transformer = match &house.supply.transformer {
        Some(t) => format!("{}, impedance {}", t.kva, told(&t.impedance)),
        None => UNKNOWN.to_owned(),
    };
    let current = match &house.supply.fault_current {
        known @ Fact::Known { .. } => told(known),
        Fact::Unknown => format!("{UNKNOWN} from the utility"),
    };
    vec![
        utility,
        format!("System: {system}"),
        format!("Transformer: {transformer}"),
        format!("Fault current at the service point: {current}"),
        "Meter: its make and place are not in the job; show on site".to_owned(),
    ]
}

/// A feeder or the service conductors: device, conductors, way of running. Where its device sits, the schedule tells, which may be laid out anew.
pub(super) fn feeder(report: &Report<'_>, id: &str, feeder: &Feeder) -> Vec<String> {
    let mark = report.scope.feeder(id).map_or("KEPT", change);
    let device = if feeder.from == UTILITY {
        format!("Service conductors {id}: no overcurrent device of their own at the supply end")
    } else {
        let breaker = told(&feeder.breaker);
        format!("Feeder {id}: {breaker} device in {}", feeder.from)
    };
    let sets = match feeder.sets {
        0 | 1 => String::new(),
        n => format!("{n} sets in parallel of "),
    };
    let insulation = feeder
        .insulation
        .known()
        .map_or("insulation not known", |i| i.name());
    let neutral = match (feeder.neutral.known(), feeder.wire.known()) {
        (Some(neutral), _) => neutral.to_string(),
        (None, Some(wire)) => format!("{wire}, as the legs"),
        (None, None) => UNKNOWN.to_owned(),
    };
    let ground = match (
        feeder.from == UTILITY,
        feeder.ground.known(),
        feeder.wires.get(),
    ) {
        (true, None, _) => "no equipment ground: the neutral is bonded at the service".to_owned(),
        (_, Some(ground), _) => format!("equipment ground {ground}"),
        (_, None, Some(3)) => "no equipment ground: three wires".to_owned(),
        _ => format!("equipment ground {UNKNOWN}"),
    };
    let legs = told::<Wire>(&feeder.wire);
    let size = told(&feeder.raceway_size);
    let method = match feeder.method.known() {
        Some(m) if m.is_raceway() => format!("in {}, trade size {size}", m.name()),
        Some(m) => format!("{}, no raceway", m.name()),
        None => format!("cable or raceway {UNKNOWN}"),
    };
    vec![
        format!("{device} ({mark})"),
        format!("{sets}legs {legs} {insulation}; neutral {neutral}; {ground}"),
        format!("{method}; length {}", told(&feeder.length)),
    ]
}

/// A board.
pub(super) fn board(report: &Report<'_>, node: &Node<'_>) -> Vec<String> {
    let b = node.board;
    let name = if b.name.is_empty() {
        node.id.to_owned()
    } else {
        format!("{}: {}", node.id, b.name)
    };
    let main = match b.main.get() {
        Some(MainKind::MainBreaker) => format!("main breaker {}", told(&b.main_amps)),
        Some(MainKind::BackfedBreaker) => format!("back-fed main breaker {}", told(&b.main_amps)),
        Some(MainKind::MainLugs) => "main lugs only".to_owned(),
        Some(MainKind::FeedThrough) => "feed-through lugs".to_owned(),
        None => format!("main {UNKNOWN}"),
    };
    let role = match node.role {
        Role::Service => "service disconnect",
        Role::FeederFed => "fed by a feeder",
        Role::Unfed => "NOT FED",
    };
    let bonded = match (b.neutral_bonded.get(), node.role) {
        (Some(true), Role::Service) => "neutral bonded here: main bonding jumper",
        (Some(true), _) => "NEUTRAL BONDED HERE",
        (Some(false), _) => "neutral kept apart from ground",
        (None, _) => "neutral bonded or not: not known",
    };
    let bar = match b.ground_bar.get() {
        Some(true) => "ground bar bonded to the cabinet",
        Some(false) => "no ground bar",
        None => "ground bar not known",
    };
    let sheet = report.sheets.fault(node.id).map(|f| &f.fault.highest);
    let fault = match sheet.map(|f| (f.high, f.missing.is_empty())) {
        Some((Some(high), true)) => format!("{high:.0}"),
        Some((Some(high), false)) => format!("at most {high:.0}"),
        _ => UNKNOWN.to_owned(),
    };
    let load = report.sheets.load(node.id).and_then(|l| l.amperes());
    let load = load.map_or(UNKNOWN.to_owned(), |a| a.to_string());
    vec![
        name,
        format!("{}; {role}", board_mark(report, node.id)),
        format!("bus {}; {main}; {} spaces", told(&b.bus), told(&b.spaces)),
        format!("{bonded}; {bar}"),
        format!(
            "short-circuit rating {}; fault current there {fault}",
            told(&b.short_circuit_rating)
        ),
        format!("calculated load {load}"),
    ]
}

/// Another source.
pub(super) fn source(report: &Report<'_>, id: &str, source: &Source) -> Vec<String> {
    let known = report.job.before.sources.keys().any(|s| s.as_str() == id);
    let mark = if known { "KEPT" } else { "NEW" };
    let kind = match source.kind {
        SourceKind::Photovoltaic => "photovoltaic inverter",
        SourceKind::Battery => "battery inverter",
        SourceKind::Generator => "generator or generator inlet",
    };
    let end = match source.opposite_end.get() {
        Some(true) => "at the end of the bus away from the main",
        Some(false) => "not at the end of the bus away from the main",
        None => "place on the bus not known",
    };
    vec![
        format!("Source {id}: {kind} ({mark})"),
        format!(
            "breaker {}, {end}; output {}",
            told(&source.breaker),
            told(&source.output)
        ),
    ]
}

/// An electrode with its conductor.
pub(super) fn electrode(electrode: &Electrode) -> String {
    let kind = match electrode.kind {
        ElectrodeKind::WaterPipe => "metal water pipe",
        ElectrodeKind::Rod => "ground rod",
        ElectrodeKind::Plate => "ground plate",
        ElectrodeKind::ConcreteEncased => "concrete-encased electrode",
        ElectrodeKind::GroundRing => "ground ring",
        ElectrodeKind::BuildingSteel => "metal in-ground structure",
    };
    let count = match electrode.count {
        0 | 1 => String::new(),
        n => format!(", {n} of them"),
    };
    format!(
        "{kind}{count}: electrode conductor {}",
        told(&electrode.conductor)
    )
}

/// Branch circuits of a board, counted.
pub(super) fn branches(report: &Report<'_>, board: &str) -> String {
    let circuits = report.job.after.circuits.values();
    let on = circuits.filter(|c| c.board == board && !c.gone).count();
    match on {
        0 => "no branch circuits".to_owned(),
        1 => "1 branch circuit, see the schedule".to_owned(),
        n => format!("{n} branch circuits, see the schedule"),
    }
}
