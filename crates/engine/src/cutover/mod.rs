//! In which order is the panel changed over, so that the household is dark as little as can be, weighed circuit by circuit?
//! Sources: the difference of the two pictures, the shop's labour table, the plan of the job; docs/cutover.md. Times in whole seconds, counted from the crew's arrival.
//!
//! - `work`: what is opened, landed, dark; `locks`: where it is made dead; [`weight`]: what darkness weighs;
//! - `in_place`, `new_first`: the two approaches, written into a diary; [`ways`]: what would keep a limit that is broken;
//! - [`customer`]: rooms and hours for the household;
//! - [`order`], [`share`], [`split`]: the three questions of order, each with its proof; [`sheet`]: the worksheet.

mod clock;
pub mod customer;
mod dead;
mod diary;
mod in_place;
pub mod locks;
mod lots;
mod new_first;
pub mod order;
mod score;
pub mod share;
pub mod sheet;
pub mod split;
pub mod time;
mod told;
pub mod ways;
mod weigh;
pub mod weight;
mod words;
mod work;

pub use clock::Clock;
pub use diary::{Dark, Gate, GateKind, Step, Task};
pub use locks::Lock;
use model::plan::{Approach, Plan, Transfer};
use model::units::Hours;
use model::{Fact, Job};
pub use score::{Proof, Score};
pub use time::{ITEMS, Seconds, Times};
pub use ways::Way;
pub use words::ALL as SAYINGS;
pub use work::FeederLanding;

use dead::Shutdown;
use diary::Diary;
use score::Slack;
use work::Work;

use crate::saying::Saying;

/// The plan of a cut-over.
#[derive(Clone, Debug)]
pub struct CutOver<'j> {
    /// The plan it keeps to.
    pub plan: Plan,
    /// Every task, by begin.
    pub tasks: Vec<Task<'j>>,
    /// What nobody goes past unsigned, by moment.
    pub gates: Vec<Gate>,
    /// Every circuit that goes dark.
    pub circuits: Vec<DarkCircuit<'j>>,
    /// New circuits that come on for the first time.
    pub new_circuits: Vec<&'j str>,
    /// Circuits that do not come back.
    pub left_off: Vec<&'j str>,
    /// Ends of feeders that are landed.
    pub feeders: Vec<FeederLanding<'j>>,
    /// Where the work is made dead.
    pub locks: Vec<Lock<'j>>,
    /// The utility must disconnect.
    pub needs_utility: bool,
    /// Weighted dark time, and what it cannot be below.
    pub score: Score,
    /// What a reader must know.
    pub notices: Vec<Saying>,
    /// What goes wrong with this plan.
    pub warnings: Vec<Saying>,
    /// What would keep the limits that are broken.
    pub ways: Vec<Way>,
    /// When the crew leaves.
    pub end: Seconds,
}

/// A circuit that goes dark.
#[derive(Clone, Debug, PartialEq)]
pub struct DarkCircuit<'j> {
    /// Name.
    pub id: &'j str,
    /// What it serves.
    pub serves: &'j str,
    /// Its rooms.
    pub rooms: &'j Fact<Vec<String>>,
    /// Kind in the table of weights.
    pub kind: &'static str,
    /// What an hour weighs.
    pub weight: u64,
    /// Its loads have temporary power.
    pub temporary: bool,
    /// Spans of darkness, in order.
    pub dark: Vec<Dark>,
    /// Why it is critical, where it is.
    pub critical: Option<&'j str>,
    /// Whether its limit is kept.
    pub limit: Limit,
}

impl DarkCircuit<'_> {
    /// All of its dark time.
    #[must_use]
    pub fn total(&self) -> Seconds {
        self.dark.iter().map(|d| d.length()).sum()
    }

    /// Its longest span of darkness.
    #[must_use]
    pub fn longest(&self) -> Seconds {
        self.dark
            .iter()
            .map(|d| d.length())
            .max()
            .unwrap_or_default()
    }
}

/// Is the longest dark time that a circuit can bear kept?
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// Nobody named it critical.
    None,
    /// Critical, but nobody knows for how long it can be dark.
    Unknown,
    /// Kept.
    Kept(Hours),
    /// Broken.
    Broken(Hours),
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CannotPlan {
    /// The two pictures ask for nothing that darkens a circuit.
    #[error("nothing goes dark: the difference of the two pictures opens no board")]
    Nothing,
    /// The job cannot be done new panel first.
    #[error("it cannot be done new panel first: {0}")]
    NewPanelFirst(Saying),
}

/// Plans the cut-over as the job says.
///
/// # Errors
/// Nothing to do, or the approach does not suit the job.
pub fn plan<'j>(job: &'j Job, times: &Times) -> Result<CutOver<'j>, CannotPlan> {
    plan_as(job, &job.plan, times)
}

/// Plans the cut-over by another plan than the job's own.
///
/// # Errors
/// Nothing to do, or the approach does not suit the job.
pub fn plan_as<'j>(job: &'j Job, plan: &Plan, times: &Times) -> Result<CutOver<'j>, CannotPlan> {
    let mut cut = draft(job, plan, times)?;
    cut.ways = ways::of(job, &cut, times);
    Ok(cut)
}

/// The plan without what would better it.
fn draft<'j>(job: &'j Job, plan: &Plan, times: &Times) -> Result<CutOver<'j>, CannotPlan> {
    let mut plan = plan.clone();
    plan.workers = plan.workers.clamp(1, model::plan::MOST_WORKERS);
    let mut work = Work::of(job, &plan, times);
    if work.is_nothing() {
        return Err(CannotPlan::Nothing);
    }
    let transfer = plan.transfer.get();
    let mut notices = std::mem::take(&mut work.notices);
    let panel = match plan.approach {
        Approach::InPlace => None,
        Approach::NewPanelFirst => {
            let panel = new_first::panel(job, &work, plan.second_feeder.get(), transfer)?.clone();
            new_first::open_above(job, &mut work, panel.id);
            Some(panel)
        }
    };
    let shutdown = Shutdown {
        work: &work,
        plan: &plan,
        times,
        identity: words::identity(job),
    };
    let (diary, Slack(slack, proof)) = match &panel {
        None => shutdown.run(),
        Some(panel) => {
            if transfer.is_none() {
                notices.push(words::TRANSFER_UNKNOWN.into());
            }
            notices.push(words::TWO_FREE.into());
            shutdown.new_panel_first(panel, transfer == Some(Transfer::OwnBox))
        }
    };
    if plan.workers > 2 {
        notices.push(words::THREE_CROWD.into());
    }
    if !work.needs_utility() && plan.utility_window.is_some() {
        notices.push(words::UTILITY_NOT_NEEDED.into());
    }
    let dark = weighted(&diary, &work, |_| true);
    let score = Score {
        dark,
        least: dark.saturating_sub(slack),
        proof,
    };
    let circuits = told::dark_circuits(job, &work, &diary, &plan);
    let warnings = told::warnings(&plan, &work, &diary, &circuits);
    let mut tasks = diary.tasks.clone();
    tasks.sort_by_key(|t| (t.start, t.worker, t.end));
    let mut gates = diary.gates.clone();
    gates.sort_by_key(|g| g.at);
    Ok(CutOver {
        end: diary.now(),
        tasks,
        gates,
        circuits,
        new_circuits: work
            .lots
            .iter()
            .filter(|l| !l.live_before)
            .flat_map(|l| l.circuits.iter().copied())
            .collect(),
        needs_utility: work.needs_utility(),
        feeders: work.landings(job),
        left_off: work.left_off,
        locks: work.locks_above.into_iter().chain(work.locks).collect(),
        score,
        notices,
        warnings,
        ways: Vec::new(),
        plan,
    })
}

/// Weighted seconds of the circuits that are asked for.
fn weighted(diary: &Diary<'_>, work: &Work<'_>, of: impl Fn(&str) -> bool) -> u64 {
    let each = diary
        .dark
        .iter()
        .filter(|(id, _)| of(id))
        .map(|(id, dark)| {
            let seconds: Seconds = dark.iter().map(|d| d.length()).sum();
            work.weights.get(id).copied().unwrap_or(0) * seconds.0
        });
    each.sum()
}
