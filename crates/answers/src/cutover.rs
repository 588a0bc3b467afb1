//! The cut-over. Hours from the crew's arrival on the first day, nights included.

use engine::cutover::customer::{advice, rooms};
use engine::cutover::{
    CutOver, Dark, DarkCircuit, GateKind, Limit, Lock, Proof, Seconds, Step, Task, Way,
};
use engine::saying::Saying;
use engine::worksheet::Worksheet;
use model::plan::{Approach, ClockTime};
use model::{Fact, Job};
use schemars::JsonSchema;
use serde::Serialize;

/// The cut-over, or why there is none.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Planned<'r> {
    /// `null` when nothing goes dark.
    cutover: Option<Plan<'r>>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    why: Option<String>,
    /// How the dark time comes about; left out when nothing goes dark.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "[Worksheet; 1]")]
    worksheets: Option<[&'r Worksheet; 1]>,
}

/// The order of work with the least dark time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "CutoverPlan")]
pub struct Plan<'r> {
    approach: Approach,
    workers: u8,
    /// When the crew arrives.
    start: Option<ClockTime>,
    /// Hours that the crew works on one day.
    shift_h: f64,
    /// The utility must disconnect.
    needs_utility: bool,
    /// Where the work is made dead.
    locks: &'r [Lock<'r>],
    /// Hours of darkness, each weighed by what hangs on the circuit.
    weighted_dark_h: f64,
    /// No plan of this approach, crew and day can have less.
    cannot_be_less_than_h: f64,
    /// How far this plan may be from the best, as a share of the best.
    gap: f64,
    proven_least: bool,
    /// Why no order can be better.
    proof: Proof,
    tasks: Vec<TaskOfCrew<'r>>,
    /// What nobody goes past unsigned.
    gates: Vec<GateAt<'r>>,
    /// Circuits that go dark.
    circuits: Vec<CircuitInTheDark<'r>>,
    /// New circuits that come on for the first time.
    new_circuits: &'r [&'r str],
    /// Circuits that do not come back.
    left_off: &'r [&'r str],
    /// Rooms in the dark, the longest first.
    rooms: Vec<RoomInTheDark<'r>>,
    /// What to tell the household.
    advice: Vec<Saying>,
    /// What goes wrong with this plan.
    warnings: &'r [Saying],
    /// What would keep the limits that are broken, each tried.
    ways: Vec<WayTried<'r>>,
    /// What a reader must know.
    notices: &'r [Saying],
    /// When the crew leaves.
    end_h: f64,
}

/// A task of one worker.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TaskOfCrew<'r> {
    step: Step,
    /// Circuits or board it is done to; empty where it is the whole site or panel.
    subject: &'r str,
    what: &'r Saying,
    /// From 1.
    worker: usize,
    from_h: f64,
    to_h: f64,
    /// Circuits it lands or switches on.
    circuits: &'r [&'r str],
}

/// A gate: nobody goes on before it is signed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct GateAt<'r> {
    gate: GateKind,
    at_h: f64,
    what: &'r Saying,
}

/// A span of darkness.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DarkSpan {
    from_h: f64,
    to_h: f64,
}

/// A circuit that goes dark.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CircuitInTheDark<'r> {
    id: &'r str,
    serves: &'r str,
    rooms: &'r Fact<Vec<String>>,
    /// Kind in the table of weights.
    kind: &'static str,
    /// What an hour weighs.
    weight: u64,
    /// Its loads have temporary power.
    temporary_power: bool,
    dark: Vec<DarkSpan>,
    /// All of its dark time.
    dark_h: f64,
    /// Its longest span.
    longest_h: f64,
    /// Why it is critical, where it is.
    critical: Option<&'r str>,
    /// The longest that it can bear; `null` where nobody set a limit or knows it.
    longest_allowed_h: Option<f64>,
    /// Whether that is kept.
    kept: Option<bool>,
}

/// A room in the dark.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RoomInTheDark<'r> {
    /// `null` where nobody knows what a circuit serves.
    room: Option<&'r str>,
    dark: Vec<DarkSpan>,
    circuits: Vec<&'r str>,
}

/// A change of the plan, tried.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WayTried<'r> {
    change: &'r Saying,
    /// Every limit is kept then, and nothing is dark overnight.
    keeps_all: bool,
    longest_h: f64,
    weighted_dark_h: f64,
    end_h: f64,
}

/// The documented form.
#[must_use]
pub fn of<'r>(job: &Job, cut: &'r CutOver<'_>, sheet: &'r Worksheet) -> Planned<'r> {
    let gates = cut.gates.iter().map(|g| GateAt {
        gate: g.kind,
        at_h: h(g.at),
        what: &g.words,
    });
    let rooms = rooms(cut).into_iter().map(|r| RoomInTheDark {
        room: r.room,
        dark: spans(&r.dark),
        circuits: r.circuits,
    });
    let plan = Plan {
        approach: cut.plan.approach,
        workers: cut.plan.workers,
        start: cut.plan.start,
        shift_h: cut.plan.shift.0,
        needs_utility: cut.needs_utility,
        locks: &cut.locks,
        weighted_dark_h: cut.score.dark_hours(),
        cannot_be_less_than_h: cut.score.least_hours(),
        gap: cut.score.gap(),
        proven_least: cut.score.is_optimal(),
        proof: cut.score.proof,
        tasks: cut.tasks.iter().map(task).collect(),
        gates: gates.collect(),
        circuits: cut.circuits.iter().map(circuit).collect(),
        new_circuits: &cut.new_circuits,
        left_off: &cut.left_off,
        rooms: rooms.collect(),
        advice: advice(job, cut),
        warnings: &cut.warnings,
        ways: cut.ways.iter().map(way).collect(),
        notices: &cut.notices,
        end_h: h(cut.end),
    };
    Planned {
        cutover: Some(plan),
        why: None,
        worksheets: Some([sheet]),
    }
}

/// Nothing goes dark, and why.
#[must_use]
pub fn nothing(why: String) -> Planned<'static> {
    Planned {
        cutover: None,
        why: Some(why),
        worksheets: None,
    }
}

fn h(s: Seconds) -> f64 {
    s.hours().0
}

fn spans(dark: &[Dark]) -> Vec<DarkSpan> {
    let one = |d: &Dark| DarkSpan {
        from_h: h(d.from),
        to_h: h(d.to),
    };
    dark.iter().map(one).collect()
}

fn task<'r>(t: &'r Task<'_>) -> TaskOfCrew<'r> {
    TaskOfCrew {
        step: t.step,
        subject: &t.subject,
        what: &t.words,
        worker: t.worker,
        from_h: h(t.start),
        to_h: h(t.end),
        circuits: &t.circuits,
    }
}

fn circuit<'r>(c: &'r DarkCircuit<'_>) -> CircuitInTheDark<'r> {
    let (kept, most) = match c.limit {
        Limit::None | Limit::Unknown => (None, None),
        Limit::Kept(most) => (Some(true), Some(most.0)),
        Limit::Broken(most) => (Some(false), Some(most.0)),
    };
    CircuitInTheDark {
        id: c.id,
        serves: c.serves,
        rooms: c.rooms,
        kind: c.kind,
        weight: c.weight,
        temporary_power: c.temporary,
        dark: spans(&c.dark),
        dark_h: h(c.total()),
        longest_h: h(c.longest()),
        critical: c.critical,
        longest_allowed_h: most,
        kept,
    }
}

fn way(w: &Way) -> WayTried<'_> {
    WayTried {
        change: &w.words,
        keeps_all: w.keeps_all,
        longest_h: h(w.longest),
        weighted_dark_h: w.dark_hours,
        end_h: h(w.end),
    }
}
