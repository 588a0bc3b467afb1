//! Which unknown facts matter, and in which order are they worth asking?
//! Source: the requirements that cannot be told, judged again under every answer that could matter. Money in US dollars of material.
//!
//! Weight: what may be gravely dangerous comes before any money; then the swing, the difference between the dearest and the cheapest
//! answer; then lesser danger; then how much hangs on it. A fact that no answer could turn into work is not asked for.

mod answers;
mod sheets;
mod swing;

use std::cmp::Reverse;

use model::Dollars;
use rulebook::requirement::BoundRequirement;
use rulebook::{AskedOf, FactId, Rulebook};

use crate::facts::{Bound, Place};
use crate::findings::Findings;
use crate::sheets::Sheets;

/// An open question.
#[derive(Clone, Debug, PartialEq)]
pub struct Question<'a> {
    /// The fact asked for; `None` when only a calculation asks, and no requirement.
    pub fact: Option<FactId>,
    /// Dictionary name of the fact, or the field that a calculation lacks.
    pub name: String,
    /// The question in plain words.
    pub text: String,
    /// Who can answer.
    pub asked_of: AskedOf,
    /// Where it is asked, each place once.
    pub places: Vec<Asked<'a>>,
    /// Swing over all places.
    pub swing: Dollars,
    /// Highest danger among the requirements that depend on it: 0 none to 3 grave.
    pub danger: u8,
    /// Ids of the requirements that depend on it, in order of ids.
    pub requirements: Vec<String>,
    /// Ids of the worksheets that depend on it, in order of ids.
    pub worksheets: Vec<String>,
    /// What those worksheets lack, in their own words.
    pub needs: Vec<String>,
}

/// A question at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked<'a> {
    /// What it is asked about.
    pub place: Place<'a>,
    /// Where in the job file the answer goes, for example `boards.P.working_space.depth`.
    pub path: String,
    /// Remedies under the dearest answer less those under the cheapest.
    pub swing: Dollars,
}

/// A verdict that a fact could settle.
#[derive(Clone, Copy)]
struct Open<'a> {
    fact: FactId,
    owner: Place<'a>,
    row: usize,
    requirement: &'a BoundRequirement,
}

/// Danger that no money outweighs.
const GRAVE: u8 = 3;

/// Every open question of a job, the weightiest first. Slots are changed while answers are tried, and put back.
#[must_use]
pub fn rank<'a>(
    bound: &mut Bound<'a>,
    findings: &Findings<'a>,
    calculated: &Sheets<'a>,
    book: &Rulebook,
) -> Vec<Question<'a>> {
    let mut open = open_facts(bound, findings);
    open.retain(|one| {
        let entry = book.facts().get(one.fact);
        entry.is_some_and(|entry| swing::matters(bound, entry, one))
    });
    let mut questions: Vec<Question<'a>> = Vec::new();
    for group in open.chunk_by(|a, b| a.fact == b.fact) {
        let Some(entry) = book.facts().get(group[0].fact) else {
            continue;
        };
        let mut question = Question {
            fact: Some(group[0].fact),
            name: entry.name.clone(),
            text: entry.question.clone(),
            asked_of: entry.asked_of,
            places: Vec::new(),
            swing: Dollars::ZERO,
            danger: 0,
            requirements: Vec::new(),
            worksheets: Vec::new(),
            needs: Vec::new(),
        };
        for asked in group.chunk_by(|a, b| a.owner == b.owner) {
            let swing = swing::of(bound, entry, asked);
            question.swing += swing;
            question.places.push(Asked {
                place: asked[0].owner,
                path: bound.answer_path(asked[0].row, asked[0].fact, book.facts()),
                swing,
            });
        }
        for one in group {
            let requirement = one.requirement.requirement();
            question.danger = question.danger.max(requirement.danger);
            question.requirements.push(requirement.id.clone());
        }
        question.requirements.sort();
        question.requirements.dedup();
        questions.push(question);
    }
    sheets::lay_on(&mut questions, calculated);
    order(&mut questions);
    questions
}

/// Puts the weightiest first; equal weights stand by name, so that the order never depends on chance.
fn order(questions: &mut [Question<'_>]) {
    questions.sort_by(|a, b| {
        let weight = |q: &Question<'_>| {
            Reverse((
                q.danger >= GRAVE,
                q.swing,
                q.danger,
                q.requirements.len() + q.worksheets.len(),
            ))
        };
        weight(a).cmp(&weight(b)).then_with(|| a.name.cmp(&b.name))
    });
}

/// Every fact that some verdict misses, by fact and by what it is about.
fn open_facts<'a>(bound: &Bound<'a>, findings: &Findings<'a>) -> Vec<Open<'a>> {
    let mut open = Vec::new();
    for finding in findings.open() {
        for instance in &finding.instances {
            for fact in instance.missing.iter() {
                open.push(Open {
                    fact,
                    owner: bound.owner(instance.row, fact),
                    row: instance.row,
                    requirement: finding.requirement,
                });
            }
        }
    }
    open.sort_by(|a, b| (a.fact, a.owner).cmp(&(b.fact, b.owner)));
    open
}
