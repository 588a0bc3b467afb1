//! Findings and questions. US dollars.

use editing::question::{Answerable, Desk, Takes};
use engine::facts::{Bound, Place};
use engine::findings::{Counts, FactUsed, Finding, facts_used};
use engine::questions::Question;
use model::Dollars;
use rulebook::requirement::{Bites, BoundRequirement, Verdict};
use rulebook::{AskedOf, Check, Cite, FactDictionary};
use schemars::JsonSchema;
use serde::Serialize;

/// Everything the rulebook says about a job.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Findings<'r> {
    /// How many places came to each verdict.
    counts: Counts,
    /// What is required first, then what cannot be told, then what is met; the more dangerous first.
    findings: Vec<OneFinding<'r>>,
}

/// A requirement with the places that share a verdict.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "Finding")]
pub struct OneFinding<'r> {
    /// Id of the requirement.
    requirement: &'r str,
    title: &'r str,
    verdict: Verdict,
    /// Required, and the facts say it is not there.
    missing: bool,
    /// Required, and only a person can see that it is done.
    work: bool,
    /// It only says something and asks for nothing.
    note: bool,
    /// The moment by which it must have been seen.
    bites: Bites,
    /// 0 none to 3 grave.
    danger: u8,
    /// Section in force.
    section: Option<Cite>,
    check: Check,
    /// What usually helps.
    remedy: &'r str,
    /// What that costs, as published.
    cost: Option<RemedyCost<'r>>,
    places: Vec<PlaceOfFinding<'r>>,
}

/// Cost of the usual remedy.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RemedyCost<'r> {
    low: Dollars,
    high: Dollars,
    /// One of what.
    per: &'r str,
    check: Check,
}

/// One place of a finding.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlaceOfFinding<'r> {
    place: Place<'r>,
    /// The facts that were read.
    facts: Vec<FactUsed<'r>>,
    /// Names of the facts that would have to be known to tell.
    missing: Vec<&'r str>,
}

/// A question: an unknown fact that matters.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "OpenQuestion")]
pub struct OpenQuestion<'r> {
    /// Name of the fact, or the field that a calculation lacks.
    fact: &'r str,
    /// In plain words.
    question: &'r str,
    /// Who can answer.
    #[schemars(with = "AskedOf")]
    asked_of: &'static str,
    /// 0 none to 3 grave.
    danger: u8,
    /// The dearest answers less the cheapest, in material, over all places.
    swing: Dollars,
    places: Vec<PlaceOfQuestion<'r>>,
    /// Requirements that wait for it.
    requirements: &'r [String],
    /// Worksheets that wait for it.
    worksheets: &'r [String],
}

/// A question at one place.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlaceOfQuestion<'r> {
    pub(crate) place: Place<'r>,
    /// Where in the job file the answer goes.
    pub(crate) answer: &'r str,
    /// What hangs on it here.
    pub(crate) swing: Dollars,
    /// Where the answer goes, as the path of an edit; `null` where no single value answers it.
    pub(crate) at: Option<Vec<String>>,
    /// What may stand there.
    pub(crate) choices: Option<Takes>,
}

impl<'r> PlaceOfQuestion<'r> {
    pub(crate) fn new(
        fact: &str,
        (place, answer, swing): (Place<'r>, &'r str, Dollars),
        desk: &Desk<'_>,
    ) -> Self {
        let (at, choices) = match desk.place(fact, place, answer) {
            Some(Answerable { at, choices }) => (Some(at), Some(choices)),
            None => (None, None),
        };
        Self {
            place,
            answer,
            swing,
            at,
            choices,
        }
    }
}

/// The documented form.
#[must_use]
pub fn of<'r>(
    findings: &'r engine::findings::Findings<'_>,
    bound: &'r Bound<'_>,
    facts: &'r FactDictionary,
) -> Findings<'r> {
    let all = findings.findings.iter();
    Findings {
        counts: findings.counts,
        findings: all.map(|f| one(f, bound, facts)).collect(),
    }
}

fn one<'r>(
    finding: &'r Finding<'_>,
    bound: &'r Bound<'_>,
    facts: &'r FactDictionary,
) -> OneFinding<'r> {
    let bound_requirement: &BoundRequirement = finding.requirement;
    let requirement = bound_requirement.requirement();
    let places = finding.instances.iter().map(|i| PlaceOfFinding {
        place: i.place,
        facts: facts_used(bound, i.row, &i.read, facts),
        missing: i.missing.iter().map(|f| facts.name(f)).collect(),
    });
    OneFinding {
        requirement: &requirement.id,
        title: &requirement.title,
        verdict: finding.verdict,
        missing: finding.is_missing(),
        work: finding.is_work(),
        note: finding.is_note(),
        bites: requirement.bites,
        danger: requirement.danger,
        section: bound_requirement.cite(),
        check: requirement.check,
        remedy: &requirement.remedy,
        cost: requirement.cost.as_ref().map(|c| RemedyCost {
            low: c.low,
            high: c.high,
            per: &c.per,
            check: c.check,
        }),
        places: places.collect(),
    }
}

/// The documented form.
#[must_use]
pub fn questions<'r>(questions: &'r [Question<'_>], desk: &Desk<'_>) -> Vec<OpenQuestion<'r>> {
    let one = |q: &'r Question<'_>| OpenQuestion {
        fact: &q.name,
        question: &q.text,
        asked_of: q.asked_of.name(),
        danger: q.danger,
        swing: q.swing,
        places: q
            .places
            .iter()
            .map(|p| PlaceOfQuestion::new(&q.name, (p.place, &p.path, p.swing), desk))
            .collect(),
        requirements: &q.requirements,
        worksheets: &q.worksheets,
    };
    questions.iter().map(one).collect()
}
