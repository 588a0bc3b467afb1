//! The whole report of a job, and how much of it is missing.

use editing::question::Desk;
use engine::check::{Report, Status};
use engine::facts::Place;
use engine::worksheet::Worksheet;
use model::Said;
use rulebook::Datum;
use schemars::JsonSchema;
use serde::Serialize;

use crate::conductors::Conductors;
use crate::fault::FaultAtBoard;
use crate::findings::{Findings, OpenQuestion};
use crate::load::LoadOfBoard;
use crate::scope::ScopeOfWork;
use crate::supply::Supply;

/// Everything that a check works out.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Whole<'r> {
    /// What the work is.
    scope: ScopeOfWork<'r>,
    /// Who feeds whom.
    supply: Supply<'r>,
    /// Load on each board, from the utility outwards.
    load: Vec<LoadOfBoard<'r>>,
    /// What conductors are held to.
    conductors: Conductors<'r>,
    /// Fault current at each board.
    fault_current: Vec<FaultAtBoard<'r>>,
    /// Stated facts that the pictures contradict.
    disagreements: Vec<Disagreement<'r>>,
    /// What is required, met, or cannot be told.
    findings: Findings<'r>,
    /// What to find out, the weightiest first.
    questions: Vec<OpenQuestion<'r>>,
    /// Every worksheet.
    worksheets: Vec<&'r Worksheet>,
}

/// Whether something is missing, and how much.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Standing {
    status: Status,
    /// Findings, counted by place.
    required_and_missing: usize,
    /// Calculations that fail whatever the unknown facts are.
    calculations_that_fail: usize,
}

/// How a job stands, and then more about it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Stands<B> {
    /// Whether something is missing.
    #[serde(flatten)]
    standing: Standing,
    /// The rest.
    #[serde(flatten)]
    body: B,
}

impl<B> Stands<B> {
    /// How the job of a report stands, and then `body`.
    #[must_use]
    pub fn new(report: &Report<'_>, body: B) -> Self {
        Self {
            standing: status(report),
            body,
        }
    }
}

/// A stated fact that the pictures contradict.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Disagreement<'r> {
    /// Name of the fact.
    fact: &'r str,
    place: Place<'r>,
    /// What the job file states, and who said it.
    stated: String,
    /// What the pictures say.
    derived: String,
}

/// Everything that a check works out, without the head.
#[must_use]
pub fn of<'r>(report: &'r Report<'_>, desk: &Desk<'_>) -> Whole<'r> {
    Whole {
        scope: crate::scope::of(&report.scope),
        supply: crate::supply::of(&report.tree),
        load: crate::load::of(&report.sheets, report.job),
        conductors: crate::conductors::of(&report.sheets, report.job),
        fault_current: crate::fault::of(&report.sheets),
        disagreements: disagreements(report),
        findings: crate::findings::of(&report.findings, &report.facts, report.book.facts()),
        questions: crate::findings::questions(&report.questions, desk),
        worksheets: report.sheets.worksheets().collect(),
    }
}

/// Whether something is missing, and how much: what stands after the head.
#[must_use]
pub fn status(report: &Report<'_>) -> Standing {
    let (required_and_missing, calculations_that_fail) = missing(report);
    let status = match (required_and_missing, calculations_that_fail) {
        (0, 0) => Status::NothingMissing,
        _ => Status::SomethingMissing,
    };
    Standing {
        status,
        required_and_missing,
        calculations_that_fail,
    }
}

/// The documented form.
#[must_use]
pub fn disagreements<'r>(report: &'r Report<'_>) -> Vec<Disagreement<'r>> {
    let one = |d: &engine::facts::Disagreement<'r>| Disagreement {
        fact: report.book.facts().name(d.fact),
        place: d.place,
        stated: told(report, d.fact, d.stated),
        derived: told(report, d.fact, d.derived),
    };
    report.disagreements().iter().map(one).collect()
}

/// A value of a fact with who said it, in words.
#[must_use]
pub fn told(report: &Report<'_>, fact: rulebook::FactId, (datum, said): (Datum, Said)) -> String {
    let value = report.book.facts().get(fact).map(|e| e.print(datum));
    format!("{} ({said})", value.unwrap_or_default())
}

/// Required things that are not there: findings by place, and calculations that fail whatever the unknown facts are.
#[must_use]
pub fn missing(report: &Report<'_>) -> (usize, usize) {
    let findings = report.findings.missing().map(|f| f.instances.len()).sum();
    (findings, crate::conductors::failing(&report.sheets))
}
