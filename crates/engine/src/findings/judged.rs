//! Judges every requirement at the coarsest instance that decides it, and groups equal verdicts.
//! Source: the rulebook's requirements; Kleene's logic makes the descent sound: more facts never overturn a decided verdict.

use rulebook::requirement::{BoundRequirement, Judgement, Kind, Verdict};
use rulebook::{FactId, FactSet, Rulebook};

use super::{Counts, Finding, Findings, Instance, is_open};
use crate::facts::{Bound, Place, Subject};

/// Order in which verdicts are reported.
const ORDER: [Verdict; 4] = [
    Verdict::Required,
    Verdict::CannotTellIfMet,
    Verdict::CannotTellIfApplies,
    Verdict::Met,
];

/// Judges all requirements of the rulebook by the bound facts of a job.
#[must_use]
pub fn judge<'a>(bound: &Bound<'a>, book: &'a Rulebook) -> Findings<'a> {
    let mut judge = Judge::new(bound);
    let mut findings = Vec::new();
    for requirement in book.requirements() {
        judge.job(requirement);
        for (verdict, instances) in ORDER.into_iter().zip(&mut judge.found) {
            if !instances.is_empty() {
                findings.push(Finding {
                    requirement,
                    verdict,
                    instances: std::mem::take(instances),
                });
            }
        }
    }
    let rank = |verdict| ORDER.iter().position(|v| *v == verdict);
    findings.sort_by_key(|f| {
        let danger = f.requirement.requirement().danger;
        let kind = (f.is_note(), f.is_work());
        (rank(f.verdict), kind, std::cmp::Reverse(danger))
    });
    Findings {
        findings,
        counts: judge.counts,
    }
}

/// Facts that rows of each sort can know.
struct Known {
    job: FactSet,
    board: FactSet,
    old: FactSet,
    feeder: FactSet,
    building: FactSet,
    source: FactSet,
    circuit: FactSet,
}

struct Judge<'b, 'j> {
    bound: &'b Bound<'j>,
    known: Known,
    boards: Vec<usize>,
    cabinets: Vec<usize>,
    /// Rows that hang on each row, by sort.
    sources: Vec<Vec<usize>>,
    circuits: Vec<Vec<usize>>,
    outlets: Vec<Vec<usize>>,
    found: [Vec<Instance<'j>>; 4],
    counts: Counts,
    /// Facts that the last judgement of a circuit looked at; kept for its room.
    read: Vec<usize>,
}

impl<'b, 'j> Judge<'b, 'j> {
    fn new(bound: &'b Bound<'j>) -> Self {
        let subjects = bound.subjects();
        let job = subjects.facts(Subject::OF_JOB);
        let with = |more: &[Subject]| job.union(&subjects.facts(more));
        let board = with(Subject::OF_BOARD);
        let none = || vec![Vec::new(); bound.len()];
        let mut judge = Self {
            bound,
            known: Known {
                board,
                old: with(&[Subject::Old]),
                feeder: with(&[Subject::Feeder]),
                building: with(&[Subject::Building]),
                source: board.union(&subjects.facts(&[Subject::Source])),
                circuit: board.union(&subjects.facts(&[Subject::Circuit, Subject::Ev])),
                job,
            },
            boards: Vec::new(),
            cabinets: Vec::new(),
            sources: none(),
            circuits: none(),
            outlets: none(),
            found: Default::default(),
            counts: Counts::default(),
            read: Vec::new(),
        };
        for (i, row) in bound.rows().iter().enumerate() {
            match row.place {
                Place::Board(_) => judge.boards.push(i),
                Place::OldCabinet(_) => judge.cabinets.push(i),
                Place::Source(_) => judge.sources[row.parent].push(i),
                Place::Circuit(_) => judge.circuits[row.parent].push(i),
                Place::Outlet(_) => judge.outlets[row.parent].push(i),
                Place::Job | Place::Feeder(_) | Place::Building(_) => {}
            }
        }
        judge
    }

    fn job(&mut self, requirement: &BoundRequirement) {
        let judgement = requirement.judge(self.bound.slots(0));
        if settled(&judgement, &self.known.job) {
            self.keep(requirement, 0, Place::Job, judgement);
            return;
        }
        for i in 0..self.boards.len() {
            self.board(requirement, self.boards[i]);
        }
        if self.is_about_old_cabinets(requirement) {
            for i in 0..self.cabinets.len() {
                let row = self.cabinets[i];
                let judgement = requirement.judge(self.bound.slots(row));
                self.keep(requirement, row, self.bound.place(row), judgement);
            }
        }
    }

    fn board(&mut self, requirement: &BoundRequirement, row: usize) {
        let judgement = requirement.judge(self.bound.slots(row));
        if self.asks_of_what_is_not_there(row, &judgement) {
            self.counts.not_required += 1;
            return;
        }
        if settled(&judgement, &self.known.board) {
            let place = self.within_board(requirement, row, &judgement);
            self.keep(requirement, row, place, judgement);
            return;
        }
        // Facts of sources and of circuits never meet in one requirement; were they to, circuits would go first.
        if judgement.missing.is_subset(&self.known.source) {
            for i in 0..self.sources[row].len() {
                let row = self.sources[row][i];
                let judgement = requirement.judge(self.bound.slots(row));
                self.keep(requirement, row, self.bound.place(row), judgement);
            }
            return;
        }
        // A circuit that tells the requirement just what the circuit before it told needs no second thought.
        let mut last: Option<(usize, Judgement)> = None;
        let mut read = std::mem::take(&mut self.read);
        for i in 0..self.circuits[row].len() {
            let row = self.circuits[row][i];
            let here = self.bound.slots(row);
            let known = last.filter(|(before, _)| {
                let there = self.bound.slots(*before);
                read.iter().all(|fact| here.get(*fact) == there.get(*fact))
            });
            let judgement = match known {
                Some((_, judgement)) => judgement,
                None => {
                    let judgement = requirement.judge(here);
                    read.clear();
                    read.extend(judgement.read.iter().map(FactId::index));
                    judgement
                }
            };
            self.circuit(requirement, row, judgement);
            last = Some((row, judgement));
        }
        self.read = read;
    }

    fn circuit(&mut self, requirement: &BoundRequirement, row: usize, judgement: Judgement) {
        if settled(&judgement, &self.known.circuit) {
            self.keep(requirement, row, self.bound.place(row), judgement);
            return;
        }
        for i in 0..self.outlets[row].len() {
            let row = self.outlets[row][i];
            let judgement = requirement.judge(self.bound.slots(row));
            self.keep(requirement, row, self.bound.place(row), judgement);
        }
    }

    /// It applies by what becomes of an old cabinet, and by nothing of the board.
    fn is_about_old_cabinets(&self, requirement: &BoundRequirement) -> bool {
        let subject = |fact| self.bound.subjects().subject(fact);
        requirement
            .facts()
            .iter()
            .any(|f| subject(f) == Subject::Old)
            && requirement
                .requirement()
                .applies
                .facts()
                .is_subset(&self.known.old)
    }

    /// It misses facts about a feeder or a building that the board does not have.
    fn asks_of_what_is_not_there(&self, row: usize, judgement: &Judgement) -> bool {
        let Some(here) = self.bound.rows().get(row) else {
            return false;
        };
        let about = |subject| {
            let mut missing = judgement.missing.iter();
            missing.any(|f| self.bound.subjects().subject(f) == subject)
        };
        (here.feeder.is_none() && about(Subject::Feeder))
            || (here.building.is_none() && about(Subject::Building))
    }

    /// The part of a board that the known and missing facts are about: its feeder, its old cabinet, its building, or the board.
    fn within_board(
        &self,
        requirement: &BoundRequirement,
        row: usize,
        judgement: &Judgement,
    ) -> Place<'j> {
        let slots = self.bound.slots(row);
        let mut about = judgement.missing;
        for fact in judgement.read.iter() {
            if slots.get(fact.index()).is_some_and(Option::is_some) {
                about.insert(fact);
            }
        }
        let here = self.bound.rows().get(row);
        let part = here.and_then(|r| {
            if about.is_subset(&self.known.feeder) {
                r.feeder
            } else if about.is_subset(&self.known.old) || self.is_about_old_cabinets(requirement) {
                r.old
            } else if about.is_subset(&self.known.building) {
                r.building
            } else {
                None
            }
        });
        part.unwrap_or_else(|| self.bound.place(row))
    }

    fn keep(
        &mut self,
        requirement: &BoundRequirement,
        row: usize,
        place: Place<'j>,
        judgement: Judgement,
    ) {
        let verdict = judgement.verdict;
        let touched = self.bound.rows().get(row).is_some_and(|r| r.touched);
        let hazard = requirement.requirement().kind == Kind::ExistingHazard;
        if verdict == Verdict::CannotTellIfApplies && !touched && !hazard {
            self.counts.left_alone += 1;
            return;
        }
        let count = match verdict {
            Verdict::Required => &mut self.counts.required,
            Verdict::Met => &mut self.counts.met,
            Verdict::CannotTellIfMet => &mut self.counts.cannot_tell_if_met,
            Verdict::CannotTellIfApplies => &mut self.counts.cannot_tell_if_applies,
            Verdict::NotRequired => &mut self.counts.not_required,
        };
        *count += 1;
        let group = ORDER.iter().position(|v| *v == verdict);
        if let Some(group) = group.and_then(|g| self.found.get_mut(g)) {
            group.push(Instance {
                place,
                row,
                missing: judgement.missing,
                read: judgement.read,
            });
        }
    }
}

/// No finer fact can change the verdict.
fn settled(judgement: &Judgement, known: &FactSet) -> bool {
    !is_open(judgement.verdict) || judgement.missing.is_subset(known)
}
