//! The whole job in one call: scope, facts, findings, open questions; and what another edition would say of it.
//! Source: job and rulebook; no I/O, no clock. Units as the parts have them.

use model::Job;
use model::scope::Scope;
use rulebook::Cite;
use rulebook::Rulebook;
use rulebook::requirement::Verdict;
use serde::Serialize;

use crate::facts::{Bound, Calculated, Disagreement, Place, bind};
use crate::findings::{Counts, Findings, judge};
use crate::questions::{Question, rank};
use crate::sheets::{self, Depth, Sheets};
use crate::tree::SupplyTree;

/// Everything about a job under one rulebook.
#[derive(Clone, Debug)]
pub struct Report<'a> {
    /// The job.
    pub job: &'a Job,
    /// The rulebook it was checked by.
    pub book: &'a Rulebook,
    /// What the work is.
    pub scope: Scope,
    /// Who feeds whom, as it stands.
    pub tree_before: SupplyTree<'a>,
    /// Who feeds whom, as it will stand.
    pub tree: SupplyTree<'a>,
    /// Every calculation, as it will stand. Changes that would make a feeder pass stand with the feeder.
    pub sheets: Sheets<'a>,
    /// Every fact, with who said it.
    pub facts: Bound<'a>,
    /// What is required, met, or cannot be told.
    pub findings: Findings<'a>,
    /// What to find out, the weightiest first.
    pub questions: Vec<Question<'a>>,
}

/// The end of a check, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Nothing required is missing, as far as can be told.
    NothingMissing,
    /// Something required is missing.
    SomethingMissing,
}

/// Checks a job.
#[must_use]
pub fn check<'a>(job: &'a Job, book: &'a Rulebook) -> Report<'a> {
    let Calculation {
        scope,
        tree_before,
        tree,
        sheets,
        mut facts,
    } = calculate(job, book, Depth::Remedies);
    let findings = judge(&facts, book);
    let questions = rank(&mut facts, &findings, &sheets, book);
    Report {
        job,
        book,
        scope,
        tree_before,
        tree,
        sheets,
        facts,
        findings,
        questions,
    }
}

/// What a job comes to under a rulebook, without the ranking of its questions: for going through many jobs at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recheck {
    /// Whether something required is missing.
    pub status: Status,
    /// How many verdicts of each sort.
    pub counts: Counts,
    /// Requirements that are missing, by id.
    pub missing: Vec<String>,
}

/// Checks a job as [`check`] does, for its verdicts alone.
#[must_use]
pub fn recheck(job: &Job, book: &Rulebook) -> Recheck {
    let Calculation { facts, .. } = calculate(job, book, Depth::Verdicts);
    let findings = judge(&facts, book);
    let missing: Vec<String> = findings.missing().map(|f| f.id().to_owned()).collect();
    let status = if missing.is_empty() {
        Status::NothingMissing
    } else {
        Status::SomethingMissing
    };
    Recheck {
        status,
        counts: findings.counts,
        missing,
    }
}

/// Checks a job as [`check`] does, and looks at its verdicts and worksheets without ranking questions.
pub(crate) fn verdicts<T>(
    job: &Job,
    book: &Rulebook,
    look: impl FnOnce(&Findings<'_>, &Sheets<'_>) -> T,
) -> T {
    let Calculation { facts, sheets, .. } = calculate(job, book, Depth::Verdicts);
    look(&judge(&facts, book), &sheets)
}

/// Everything that comes before the requirements.
struct Calculation<'a> {
    scope: Scope,
    tree_before: SupplyTree<'a>,
    tree: SupplyTree<'a>,
    sheets: Sheets<'a>,
    facts: Bound<'a>,
}

fn calculate<'a>(job: &'a Job, book: &Rulebook, depth: Depth) -> Calculation<'a> {
    let tables = book.tables();
    let scope = Scope::of(job);
    let tree_before = SupplyTree::of(&job.before);
    let tree = SupplyTree::of(&job.after);
    let sheets = sheets::all(&job.after, Some(&job.before), &tree, depth, &tables);
    let numbers = Calculated::of(&tree_before, &tree, &sheets, &job.after, &tables);
    let facts = bind(job, &scope, &numbers, book.facts());
    Calculation {
        scope,
        tree_before,
        tree,
        sheets,
        facts,
    }
}

impl<'a> Report<'a> {
    /// Whether something required is missing.
    #[must_use]
    pub fn status(&self) -> Status {
        if self.findings.missing().next().is_some() {
            Status::SomethingMissing
        } else {
            Status::NothingMissing
        }
    }

    /// Facts that the job file states and the pictures contradict.
    #[must_use]
    pub fn disagreements(&self) -> &[Disagreement<'a>] {
        &self.facts.disagreements
    }
}

/// A requirement that two rulebooks judge differently.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Difference<'a> {
    /// Id of the requirement.
    pub requirement: String,
    /// Its title.
    pub title: String,
    /// Section by the first rulebook.
    pub first_cite: Option<Cite>,
    /// Section by the second rulebook.
    pub second_cite: Option<Cite>,
    /// Verdict by the first rulebook.
    pub first: Verdict,
    /// Verdict by the second rulebook.
    pub second: Verdict,
    /// Where.
    pub places: Vec<Place<'a>>,
}

/// Checks a job by two rulebooks, for example two editions, and tells which verdicts differ.
#[must_use]
pub fn compare<'a>(job: &'a Job, first: &'a Rulebook, second: &'a Rulebook) -> Vec<Difference<'a>> {
    let facts = |book| calculate(job, book, Depth::Verdicts).facts;
    let (one, two) = (facts(first), facts(second));
    let (found_one, found_two) = (judge(&one, first), judge(&two, second));
    let mut differences: Vec<Difference<'a>> = Vec::new();
    let both = found_one.findings.iter().chain(&found_two.findings);
    for finding in both {
        for instance in &finding.instances {
            let id = finding.id();
            let verdicts = (
                verdict_at(&found_one, &one, id, instance.row),
                verdict_at(&found_two, &two, id, instance.row),
            );
            if verdicts.0 == verdicts.1 {
                continue;
            }
            let same =
                |d: &&mut Difference<'a>| d.requirement == id && (d.first, d.second) == verdicts;
            match differences.iter_mut().find(same) {
                Some(known) if known.places.contains(&instance.place) => {}
                Some(known) => known.places.push(instance.place),
                None => differences.push(Difference {
                    requirement: id.to_owned(),
                    title: finding.requirement.requirement().title.clone(),
                    first_cite: first.requirement(id).and_then(|r| r.cite()),
                    second_cite: second.requirement(id).and_then(|r| r.cite()),
                    first: verdicts.0,
                    second: verdicts.1,
                    places: vec![instance.place],
                }),
            }
        }
    }
    differences
}

/// The verdict at an instance: its own, or that of what it hangs on; not required where there is none.
fn verdict_at(findings: &Findings<'_>, bound: &Bound<'_>, id: &str, row: usize) -> Verdict {
    let mut at = row;
    loop {
        let here = findings
            .of(id)
            .find(|f| f.instances.iter().any(|i| i.row == at));
        if let Some(finding) = here {
            return finding.verdict;
        }
        match bound.parent(at) {
            Some(parent) => at = parent,
            None => return Verdict::NotRequired,
        }
    }
}
