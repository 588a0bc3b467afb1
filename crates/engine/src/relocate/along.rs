//! One wall from end to end: the grid, the places where something changes, and what each place brings.
//! Source: the sibling modules. Inches along the wall.

use std::collections::BTreeMap;

use model::house::{Circuit, Feeder, OldCabinet, Point};
use model::units::{Feet, Inches};
use model::{Fact, Job};
use rulebook::Rulebook;

use super::judged::{InPlace, Judged, judge};
use super::limits::{Limits, class};
use super::request::Plan;
use super::runs::{Added, CircuitRun, FeederRun, FeederWork, circuits, feeder_at, feeders};
use super::setting::{Ground, Needs, Refusal, Setting};
use super::sweep::best_of;
use super::words::Old;
use super::work::{Longer, count};
use super::{Beyond, Candidate, Cost, Legality, Pricing, Span, WallSweep, Way, cliff, stage};
use crate::price::circuits::insulated;

/// One wall, with one thing becoming of the old cabinet.
pub(super) struct Along<'a, 'j> {
    pub(super) job: &'j Job,
    pub(super) book: &'a Rulebook,
    pub(super) plan: &'a Plan<'j>,
    pub(super) wall: &'j str,
    pub(super) way: Way,
    pub(super) limits: &'a Limits,
    pub(super) in_place: &'a OldPlace,
    pub(super) staged: Job,
    pub(super) ground: Ground<'j>,
    pub(super) runs: Vec<(CircuitRun<'j>, &'j Circuit)>,
    pub(super) feeders: Vec<(&'j str, &'j Feeder)>,
    /// Places where a verdict on a feeder changes.
    pub(super) flips: Vec<Inches>,
    locations: Vec<Fact<Vec<String>>>,
    known: BTreeMap<Vec<u64>, usize>,
    /// What is asked at each kind of place, priced once.
    asked: BTreeMap<usize, Cost>,
    partners: Vec<Option<(usize, usize)>>,
    conductors: Vec<i64>,
}

/// The new panel at the old place, for comparison.
pub(super) struct OldPlace {
    pub(super) candidate: Candidate,
    pub(super) asks: InPlace,
}

/// A place with what decides its verdicts.
pub(super) struct Seen {
    pub(super) candidate: Candidate,
    pub(super) added: Vec<Added>,
    /// Something changes exactly here.
    pub(super) change: bool,
}

impl<'a, 'j> Along<'a, 'j> {
    pub(super) fn new(
        job: &'j Job,
        book: &'a Rulebook,
        plan: &'a Plan<'j>,
        (wall, way): (&'j str, Way),
        (limits, in_place): (&'a Limits, &'a OldPlace),
    ) -> Option<Self> {
        let keeps = match way {
            Way::SpliceBox => Some(OldCabinet::SpliceBox),
            _ => None,
        };
        let ground = Ground::of(
            &job.after,
            wall,
            (plan.board, plan.old),
            keeps,
            Needs::of(&book.tables()),
            ((plan.width, plan.height), plan.bottom),
        )?;
        let runs: Vec<(CircuitRun<'j>, &'j Circuit)> = circuits(job, plan.board)
            .into_iter()
            .filter_map(|run| Some((job.after.circuits.get(run.id)?, run)))
            .map(|(circuit, run)| (run, circuit))
            .collect();
        let partner = |(me, (_, circuit)): (usize, &(CircuitRun<'j>, &'j Circuit))| {
            let other = circuit.shared_with.as_ref()?;
            let other = runs.iter().position(|(r, _)| r.id == other.as_str())?;
            Some((me, other))
        };
        let partners = runs.iter().enumerate().map(partner).collect();
        let cable = |(run, circuit): &(CircuitRun<'j>, &'j Circuit)| {
            let id = job.after.circuits.get_key_value(run.id);
            id.map_or(2, |(id, _)| insulated(id, circuit, job))
        };
        let conductors = runs.iter().map(cable).collect();
        Some(Self {
            staged: stage::on_wall(job, plan, wall, way),
            feeders: feeders(job, plan.board),
            job,
            book,
            plan,
            wall,
            way,
            limits,
            in_place,
            ground,
            runs,
            partners,
            conductors,
            flips: Vec::new(),
            locations: Vec::new(),
            known: BTreeMap::new(),
            asked: BTreeMap::new(),
        })
    }

    pub(super) fn sweep(
        &mut self,
        price: &dyn Pricing,
        judged: &mut Vec<Judged>,
    ) -> Option<WallSweep> {
        let last = (self.ground.length - self.plan.width).to_the_millionth();
        let mut seen = Vec::new();
        if last.0 >= 0.0 {
            for (x, on_grid, change) in self.places(last) {
                let (candidate, added) = self.look(x, on_grid, price, judged);
                seen.push(Seen {
                    candidate,
                    added,
                    change,
                });
            }
        }
        let old = Old {
            at: self.plan.old.position.as_ref(),
            house: &self.job.after,
        };
        let cliffs = cliff::find(&seen, judged, self.limits, old);
        let places: Vec<Candidate> = seen.into_iter().map(|s| s.candidate).collect();
        let best = best_of(places.iter().enumerate(), self.plan, self.job);
        Some(WallSweep {
            wall: self.wall.to_owned(),
            length: self.ground.length,
            way: self.way,
            places,
            cliffs,
            best,
        })
    }

    pub(super) fn far_from_old(&self) -> Option<Inches> {
        let old = self.plan.old.position.as_ref()?;
        let board = self.staged.after.boards.get(self.plan.board)?;
        self.staged.after.path(old, board.position.as_ref()?)
    }

    pub(super) fn feeder(&self, feeder: (&str, &Feeder)) -> FeederRun {
        feeder_at(self.job, &self.staged, self.plan.board, feeder, self.way)
    }

    pub(super) fn move_to(&mut self, x: Inches) -> Setting {
        let setting = self.ground.at(x);
        stage::put(
            &mut self.staged.after,
            self.plan.board,
            x,
            &setting,
            self.plan,
        );
        setting
    }

    /// Lays the feeders' lengths at the staged place into the picture.
    pub(super) fn lay_feeders(&mut self) -> Vec<FeederRun> {
        let runs: Vec<FeederRun> = self.feeders.iter().map(|f| self.feeder(*f)).collect();
        for run in &runs {
            if let Some(feeder) = self.staged.after.feeders.get_mut(run.feeder.as_str()) {
                feeder.length = run.after.map_or(Fact::Unknown, Fact::derived);
            }
        }
        runs
    }

    fn look(
        &mut self,
        x: Inches,
        on_grid: bool,
        price: &dyn Pricing,
        judged: &mut Vec<Judged>,
    ) -> (Candidate, Vec<Added>) {
        let setting = self.move_to(x);
        if self.is_old_place() && self.way == Way::Removed {
            return self.old_place(on_grid, setting);
        }
        let feeders = self.lay_feeders();
        let added: Vec<Added> = self
            .runs
            .iter()
            .map(|(run, _)| run.added(&self.staged))
            .collect();
        let signature = self.signature(x, &setting, &added);
        let number = match self.known.get(&signature) {
            Some(number) => *number,
            None => {
                judged.push(judge(
                    &self.staged,
                    self.book,
                    self.plan.board,
                    &self.in_place.asks,
                ));
                self.known.insert(signature, judged.len() - 1);
                judged.len() - 1
            }
        };
        let none = Judged::default();
        let here = judged.get(number).unwrap_or(&none);
        let longer: Vec<Longer<'_>> = self
            .runs
            .iter()
            .zip(&added)
            .zip(&self.partners)
            .zip(&self.conductors)
            .map(|((((_, circuit), added), partner), conductors)| Longer {
                circuit,
                added: *added,
                conductors: *conductors,
                partner: *partner,
            })
            .collect();
        let work = count(self.way, &longer, &feeders);
        let asked = self
            .asked
            .entry(number)
            .or_insert_with(|| price.asked(&here.asked));
        let (extended, splices, boxes) = (work.extended, work.splices, work.boxes);
        let cost = price.work(&work) + asked.clone();
        let mut refusals = setting.refusals;
        if let (Some(far), Some(most)) = (self.far_from_old(), self.job.candidates.farthest)
            && far > most
        {
            refusals.push(Refusal {
                why: format!("farther along framing from the old place than {most}"),
                requirement: None,
                section: String::new(),
            });
        }
        let sum = |length: fn(&Added) -> Option<Inches>| {
            let all = added.iter().map(|a| length(a).unwrap_or(Inches::ZERO));
            Feet::from(all.sum::<Inches>().to_the_millionth())
        };
        let total: Option<Vec<Inches>> = added.iter().map(|a| a.total).collect();
        let candidate = Candidate {
            at: Point {
                wall: self.wall.to_owned(),
                x,
                y: self.plan.bottom,
            },
            way: self.way,
            on_grid,
            legality: legality(refusals, here),
            extended,
            splices,
            boxes,
            added_outside: Span {
                low: sum(|a| a.outside),
                high: sum(|a| a.most),
            },
            added_total: total
                .map(|all| Feet::from(all.into_iter().sum::<Inches>().to_the_millionth())),
            beyond: beyond(&added, &self.limits.all),
            asked: here.asked.len(),
            judged: number,
            feeders: feeders
                .into_iter()
                .filter(|f| f.work != FeederWork::Reaches)
                .collect(),
            cost,
        };
        (candidate, added)
    }

    /// The staged place is the old one.
    fn is_old_place(&self) -> bool {
        let board = self.staged.after.boards.get(self.plan.board);
        let here = board.and_then(|b| b.position.as_ref());
        here.is_some() && here == self.plan.old.position.as_ref()
    }

    /// Back at the old place nothing is moved at all.
    fn old_place(&self, on_grid: bool, setting: Setting) -> (Candidate, Vec<Added>) {
        let mut candidate = self.in_place.candidate.clone();
        candidate.on_grid = on_grid;
        if !setting.refusals.is_empty() {
            candidate.legality = match candidate.legality {
                Legality::No(mut known) => {
                    known.extend(setting.refusals);
                    Legality::No(known)
                }
                _ => Legality::No(setting.refusals),
            };
        }
        let nothing = Added {
            outside: Some(Inches::ZERO),
            total: Some(Inches::ZERO),
            most: Some(Inches::ZERO),
        };
        (candidate, vec![nothing; self.runs.len()])
    }

    /// Everything about a place that a requirement can see.
    fn signature(&mut self, x: Inches, setting: &Setting, added: &[Added]) -> Vec<u64> {
        let location = match self.locations.iter().position(|l| *l == setting.location) {
            Some(known) => known,
            None => {
                self.locations.push(setting.location.clone());
                self.locations.len() - 1
            }
        };
        let bits = |f: &Fact<Inches>| f.get().map_or(u64::MAX, |i| i.0.to_bits());
        let mut signature = vec![
            bits(&setting.width),
            bits(&setting.depth),
            bits(&setting.height),
            location as u64,
            u64::from(self.is_old_place()),
            self.flips.iter().filter(|f| **f <= x).count() as u64,
        ];
        for a in added {
            signature.push(class(a.outside, &self.limits.outside));
            signature.push(class(a.total, &self.limits.total));
        }
        signature
    }
}

fn beyond(added: &[Added], limits: &[Inches]) -> Vec<Beyond> {
    let more = |length: Option<Inches>, limit: Inches| length.is_some_and(|l| l > limit);
    limits
        .iter()
        .map(|limit| {
            let low = added.iter().filter(|a| more(a.outside, *limit)).count();
            let may = |a: &&Added| match a.outside {
                Some(outside) => outside > *limit,
                None => a.most.is_none() || more(a.most, *limit),
            };
            Beyond {
                limit: *limit,
                circuits: Span {
                    low: low as u32,
                    high: added.iter().filter(may).count() as u32,
                },
            }
        })
        .collect()
}

pub(super) fn legality(mut refusals: Vec<Refusal>, here: &Judged) -> Legality {
    refusals.extend(here.refused.iter().cloned());
    if !refusals.is_empty() {
        Legality::No(refusals)
    } else if !here.open.is_empty() {
        Legality::Open(here.open.clone())
    } else {
        Legality::Legal
    }
}
