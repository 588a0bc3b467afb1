//! What is to be done at the cut-over? From the difference of the two pictures: which cabinets are opened, what goes dark, which circuits are landed.
//! Source: the job and its scope. Times come from the shop's labour table, in seconds of one person.

use std::collections::{BTreeMap, BTreeSet};

use model::Job;
use model::house::{Board, OldCabinet, UTILITY};
use model::plan::Plan;
use model::scope::{BoardChange, Change, Scope};
use model::units::Inches;

use super::locks::{self, By, Lock};
use super::lots::{Look, Lot};
use super::time::{Seconds, Times};
use super::weight::weight;
use super::words;
use crate::saying::Saying;
use crate::tree::{Role, SupplyTree};

/// Everything to be done.
#[derive(Clone, Debug)]
pub(super) struct Work<'j> {
    /// Boards that get new hardware or go.
    pub(super) panels: Vec<Panel<'j>>,
    /// What is landed or merely goes dark, in order of names.
    pub(super) lots: Vec<Lot<'j>>,
    /// Circuits that are dark only while a feeder is landed in the board above.
    pub(super) above: Vec<&'j str>,
    /// Boards that are opened for a feeder's supply end, and stay.
    pub(super) supply_boards: Vec<&'j str>,
    /// Ends of feeders landed in panels.
    pub(super) feeder_ends: Vec<FeederEnd<'j>>,
    /// Where the panels are made dead.
    pub(super) locks: Vec<Lock<'j>>,
    /// Where the boards above are made dead.
    pub(super) locks_above: Vec<Lock<'j>>,
    /// Weight of every circuit of the before picture.
    pub(super) weights: BTreeMap<&'j str, u64>,
    /// Boards of the before picture in which hands are at work.
    pub(super) opened: BTreeSet<&'j str>,
    /// Circuits that do not come back.
    pub(super) left_off: Vec<&'j str>,
    /// What a reader must know.
    pub(super) notices: Vec<Saying>,
}

/// A board with new hardware, or one that goes.
#[derive(Clone, Debug)]
pub(super) struct Panel<'j> {
    pub(super) id: &'j str,
    pub(super) name: &'j str,
    pub(super) change: BoardChange,
    /// It stands in the after picture.
    pub(super) stays: bool,
    /// It stood in the before picture.
    pub(super) stood: bool,
    /// The new cabinet can be mounted while the old one is in use.
    pub(super) apart: bool,
    pub(super) splice_box: bool,
    pub(super) role: Role,
}

/// One end of a feeder.
#[derive(Clone, Debug)]
pub(super) struct FeederEnd<'j> {
    pub(super) feeder: &'j str,
    pub(super) board: &'j str,
    pub(super) time: Seconds,
    pub(super) is_supply_end: bool,
}

/// An end of a feeder that is landed, and torqued.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub struct FeederLanding<'j> {
    /// The feeder.
    pub feeder: &'j str,
    /// The board it is landed in.
    pub board: &'j str,
    /// It is landed on its device there, not on the board's main or lugs.
    pub is_supply_end: bool,
}

impl<'j> Work<'j> {
    /// Every end of a feeder that is landed, those in boards above included.
    pub(super) fn landings(&self, job: &'j Job) -> Vec<FeederLanding<'j>> {
        let within = self.feeder_ends.iter().map(|end| FeederLanding {
            feeder: end.feeder,
            board: end.board,
            is_supply_end: end.is_supply_end,
        });
        let mut all: Vec<FeederLanding<'j>> = within.collect();
        let above = job.after.feeders.iter().filter(|(id, f)| {
            let lands = self.feeder_ends.iter().any(|e| e.feeder == id.as_str());
            lands && self.supply_boards.contains(&f.from.as_str())
        });
        all.extend(above.map(|(id, f)| FeederLanding {
            feeder: id.as_str(),
            board: &f.from,
            is_supply_end: true,
        }));
        all.sort_unstable();
        all.dedup();
        all
    }

    pub(super) fn of(job: &'j Job, plan: &Plan, times: &Times) -> Self {
        let scope = Scope::of(job);
        let (before, after) = (SupplyTree::of(&job.before), SupplyTree::of(&job.after));
        let mut notices = Vec::new();
        let panels = panels(job, &scope, &after, &mut notices);
        let touched: BTreeSet<&str> = touched(job, &scope, &panels);
        let opened = opened(job, &scope, &panels, &touched);
        let at_or_below =
            |board: &str, any: &BTreeSet<&str>| any.iter().any(|b| before.is_at_or_below(board, b));
        let (supply_boards, feeder_ends) = feeders(job, &scope, &panels, &opened, times);
        let look = Look {
            job,
            plan,
            times,
            scope: &scope,
            panels: &panels,
            opened: &opened,
            tree: &before,
        };
        let lots = look.lots(&touched, &mut notices);
        let above = job.before.circuits.iter().filter(|(_, c)| {
            at_or_below(&c.board, &supply_boards) && !at_or_below(&c.board, &opened)
        });
        let new_wire: Vec<&str> = scope
            .circuits
            .iter()
            .filter(|(_, c)| matches!(c.change, Change::New | Change::Replaced))
            .map(|(id, _)| id.as_str())
            .collect();
        if !new_wire.is_empty() {
            notices.push(words::NEW_CABLE_APART.with("circuits", new_wire.join(", ")));
        }
        let kept = |f: &str| scope.feeder(f) == Some(Change::Kept);
        if feeder_ends.iter().any(|end| !kept(end.feeder)) {
            notices.push(words::NEW_FEEDER_APART.into());
        }
        Self {
            lots,
            above: above.map(|(id, _)| id.as_str()).collect(),
            locks: locks::of(job, &scope, &before, &opened, &panels),
            locks_above: locks::of(job, &scope, &before, &supply_boards, &panels),
            supply_boards: supply_boards.into_iter().collect(),
            feeder_ends,
            left_off: scope
                .circuits
                .iter()
                .filter(|(_, c)| c.change == Change::Removed)
                .filter_map(|(id, _)| job.before.circuits.get_key_value(id.as_str()))
                .map(|(id, _)| id.as_str())
                .collect(),
            weights: job
                .before
                .circuits
                .iter()
                .map(|(id, c)| (id.as_str(), weight(id.as_str(), c, &job.before, plan)))
                .collect(),
            panels,
            opened,
            notices,
        }
    }

    /// The utility must disconnect.
    pub(super) fn needs_utility(&self) -> bool {
        let all = self.locks.iter().chain(&self.locks_above);
        all.into_iter().any(|l| l.by == By::Utility)
    }

    /// Nothing is opened.
    pub(super) fn is_nothing(&self) -> bool {
        self.panels.is_empty() && self.lots.is_empty() && self.above.is_empty()
    }
}

/// A board of either picture.
fn board<'j>(job: &'j Job, id: &str) -> Option<(&'j str, &'j Board)> {
    let pictures = [&job.after, &job.before];
    let found = pictures.iter().find_map(|h| h.boards.get_key_value(id));
    found.map(|(id, b)| (id.as_str(), b))
}

fn panels<'j>(
    job: &'j Job,
    scope: &Scope,
    after: &SupplyTree<'j>,
    notices: &mut Vec<Saying>,
) -> Vec<Panel<'j>> {
    let mut panels = Vec::new();
    for (id, change) in &scope.boards {
        if change.change == Change::Kept && !change.relocated {
            continue;
        }
        let Some((id, board)) = board(job, id.as_str()) else {
            continue;
        };
        let (old, new) = (job.before.boards.get(id), job.after.boards.get(id));
        let apart = match (old, new) {
            (Some(old), Some(new)) if change.relocated => stands_apart(old, new),
            (None, Some(_)) => Some(true),
            _ => Some(false),
        };
        if apart.is_none() {
            notices.push(words::APART_UNKNOWN.with("board", id));
        }
        panels.push(Panel {
            id,
            name: &board.name,
            change: *change,
            stays: new.is_some(),
            stood: old.is_some(),
            apart: apart == Some(true),
            splice_box: new.is_some_and(|b| b.old_cabinet.get() == Some(OldCabinet::SpliceBox)),
            role: after.node(id).map_or(Role::Unfed, |n| n.role),
        });
    }
    panels
}

/// The two cabinets do not overlap. A route longer than any cabinet is wide settles it too.
fn stands_apart(old: &Board, new: &Board) -> Option<bool> {
    const WIDER_THAN_ANY: Inches = Inches(36.0);
    if new
        .route_from_old
        .get()
        .is_some_and(|r| r >= WIDER_THAN_ANY)
    {
        return Some(true);
    }
    let (from, to) = (old.position.as_ref()?, new.position.as_ref()?);
    if from.wall != to.wall {
        return Some(true);
    }
    // The left one's width, the lower one's height.
    let left = if from.x <= to.x { old } else { new };
    let low = if from.y <= to.y { old } else { new };
    let clear = |gap: Inches, size: Option<Inches>| size.map(|s| gap >= s);
    let beside = clear((from.x - to.x).abs(), left.cabinet.width.get());
    let over = clear((from.y - to.y).abs(), low.cabinet.height.get());
    match (beside, over) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        (Some(false), None) if from.y == to.y => Some(false),
        (None, Some(false)) if from.x == to.x => Some(false),
        _ => None,
    }
}

/// Circuits that are lifted or landed.
fn touched<'j>(job: &'j Job, scope: &Scope, panels: &[Panel<'_>]) -> BTreeSet<&'j str> {
    let renewed = |b: &str| panels.iter().any(|p| p.id == b);
    let mut touched = BTreeSet::new();
    for (id, change) in &scope.circuits {
        let (old, new) = (
            job.before.circuits.get_key_value(id.as_str()),
            job.after.circuits.get_key_value(id.as_str()),
        );
        let moved = change.change != Change::Kept
            || change.other_board
            || change.extended.get() == Some(true)
            || change.cut_shorter.get() == Some(true)
            || [old, new].iter().flatten().any(|(_, c)| renewed(&c.board));
        if let Some((id, _)) = old.or(new).filter(|_| moved) {
            touched.insert(id.as_str());
        }
    }
    touched
}

/// Cabinets of the before picture in which hands are at work.
fn opened<'j>(
    job: &'j Job,
    scope: &Scope,
    panels: &[Panel<'j>],
    touched: &BTreeSet<&str>,
) -> BTreeSet<&'j str> {
    let stands = |b: &str| {
        job.before
            .boards
            .get_key_value(b)
            .map(|(id, _)| id.as_str())
    };
    let mut opened: BTreeSet<&str> = panels.iter().filter_map(|p| stands(p.id)).collect();
    for id in touched {
        let pictures = [&job.before, &job.after];
        let circuits = pictures.iter().filter_map(|h| h.circuits.get(*id));
        opened.extend(circuits.filter_map(|c| stands(&c.board)));
    }
    for (id, change) in &scope.feeders {
        let feeder = job.after.feeders.get(id.as_str());
        if *change != Change::Kept
            && let Some(feeder) = feeder
        {
            opened.extend(stands(&feeder.to));
        }
    }
    opened
}

/// Boards that stay and are opened for a feeder's supply end, and every end that is landed.
fn feeders<'j>(
    job: &'j Job,
    scope: &Scope,
    panels: &[Panel<'_>],
    opened: &BTreeSet<&str>,
    times: &Times,
) -> (BTreeSet<&'j str>, Vec<FeederEnd<'j>>) {
    let (mut boards, mut ends) = (BTreeSet::new(), Vec::new());
    let renewed = |b: &str| panels.iter().any(|p| p.stays && p.id == b);
    for (id, feeder) in &job.after.feeders {
        let kept = scope.feeder(id.as_str()) == Some(Change::Kept);
        let end = |board: &'j str, time, is_supply_end| FeederEnd {
            feeder: id.as_str(),
            board,
            time,
            is_supply_end,
        };
        if renewed(&feeder.to) || !kept {
            ends.push(end(&feeder.to, times.feeder, false));
        }
        if feeder.from == UTILITY {
            continue;
        }
        if renewed(&feeder.from) || (!kept && opened.contains(feeder.from.as_str())) {
            ends.push(end(&feeder.from, times.supply_end, true));
        } else if !kept && job.before.boards.contains_key(feeder.from.as_str()) {
            boards.insert(feeder.from.as_str());
        }
    }
    (boards, ends)
}
