//! What does the rulebook ask of this job, what is met, and what cannot be told?
//! Source: every requirement of the rulebook, judged by the bound facts. Costs in US dollars.
//!
//! A requirement is judged at the job first, then, as long as finer facts can still change the answer, at each board, circuit, source and
//! outlet. So a finding stands exactly where it is decided: a torque record at the panel, an arc-fault breaker at the circuit.

mod judged;
mod why;

use model::Dollars;
use rulebook::FactSet;
use rulebook::requirement::{BoundRequirement, Kind, Verdict};

use crate::facts::Place;

pub use judged::judge;
pub use why::{FactUsed, Part, Why, explain, facts_used};

/// Everything the rulebook says about a job.
#[derive(Clone, Debug)]
pub struct Findings<'a> {
    /// Requirements that the job touches, one entry per requirement and verdict: what is required first, then what cannot be told, then
    /// what is met; the more dangerous first.
    pub findings: Vec<Finding<'a>>,
    /// How many instances came to each verdict.
    pub counts: Counts,
}

/// How many instances came to each verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
pub struct Counts {
    /// Applies and is not met.
    pub required: usize,
    /// Applies and is met.
    pub met: usize,
    /// Applies; nobody can tell if it is met.
    pub cannot_tell_if_met: usize,
    /// Nobody can tell if it applies.
    pub cannot_tell_if_applies: usize,
    /// Does not apply.
    pub not_required: usize,
    /// Nobody could tell, but the job does not work there.
    pub left_alone: usize,
}

/// One requirement with the instances that share a verdict.
#[derive(Clone, Debug)]
pub struct Finding<'a> {
    /// The requirement, with its section in force.
    pub requirement: &'a BoundRequirement,
    /// The verdict.
    pub verdict: Verdict,
    /// Where, in order of the job: boards, sources, circuits, outlets by name.
    pub instances: Vec<Instance<'a>>,
}

/// One place of a finding.
#[derive(Clone, Copy, Debug)]
pub struct Instance<'a> {
    /// What it is about.
    pub place: Place<'a>,
    /// Row of the bound facts it was judged by.
    pub row: usize,
    /// Facts that would have to be known to tell.
    pub missing: FactSet,
    /// Facts that were looked at.
    pub read: FactSet,
}

impl Finding<'_> {
    /// Id of the requirement.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.requirement.requirement().id
    }

    /// It only says something, and asks for nothing: a note, or a common belief put right.
    #[must_use]
    pub fn is_note(&self) -> bool {
        let kind = self.requirement.requirement().kind;
        matches!(kind, Kind::NotTriggered | Kind::Note)
    }

    /// Required, and the job as told does not meet it.
    #[must_use]
    pub fn is_missing(&self) -> bool {
        self.verdict == Verdict::Required && self.has_test() && !self.is_note()
    }

    /// Required, and only a person on site can tell that it was done: work to do, not something the job lacks.
    #[must_use]
    pub fn is_work(&self) -> bool {
        self.verdict == Verdict::Required && !self.has_test() && !self.is_note()
    }

    fn has_test(&self) -> bool {
        self.requirement.requirement().satisfied.is_some()
    }

    /// Nobody can tell yet.
    #[must_use]
    pub fn is_open(&self) -> bool {
        is_open(self.verdict)
    }

    /// Material cost of the usual remedy over all its instances, lowest and highest; `None` when nobody gave a figure.
    #[must_use]
    pub fn cost(&self) -> Option<(Dollars, Dollars)> {
        let cost = self.requirement.requirement().cost.as_ref()?;
        let count = self.instances.len() as i64;
        Some((cost.low.times(count), cost.high.times(count)))
    }
}

impl<'a> Findings<'a> {
    /// Everything required that the job does not bring yet.
    pub fn missing(&self) -> impl Iterator<Item = &Finding<'a>> {
        self.findings.iter().filter(|f| f.is_missing())
    }

    /// Everything required that only a person can see done.
    pub fn work(&self) -> impl Iterator<Item = &Finding<'a>> {
        self.findings.iter().filter(|f| f.is_work())
    }

    /// Everything that cannot be told.
    pub fn open(&self) -> impl Iterator<Item = &Finding<'a>> {
        self.findings.iter().filter(|f| f.is_open())
    }

    /// Findings of one requirement.
    pub fn of<'s>(&'s self, id: &'s str) -> impl Iterator<Item = &'s Finding<'a>> {
        self.findings.iter().filter(move |f| f.id() == id)
    }

    /// The verdict at a place, if the requirement touches it.
    #[must_use]
    pub fn verdict(&self, id: &str, place: Place<'_>) -> Option<Verdict> {
        self.of(id)
            .find(|f| f.instances.iter().any(|i| i.place == place))
            .map(|f| f.verdict)
    }
}

pub(crate) const fn is_open(verdict: Verdict) -> bool {
    matches!(
        verdict,
        Verdict::CannotTellIfMet | Verdict::CannotTellIfApplies
    )
}
