//! How much longer does each circuit and feeder get at a place, and where along a wall does that change its course?
//! Source: [`model::scope`] for circuits; for feeders the same paths. Inches along framing, feet of feeder.

use model::Job;
use model::house::{Board, Feeder, House, Point, UTILITY, Wall};
use model::scope::{added_lengths, extra_route};
use model::units::{Feet, Inches};
use serde::Serialize;

use super::Way;

/// What happens to a feeder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FeederWork {
    /// It reaches.
    Reaches,
    /// It is spliced in the old cabinet and runs on.
    SplicedInOldCabinet,
    /// It does not reach, and a longer one takes its place.
    TooShort,
    /// The plan has a new one anyway.
    NewAnyway,
}

/// A feeder to or from the board.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct FeederRun {
    /// The feeder.
    pub feeder: String,
    /// Length before.
    pub before: Option<Feet>,
    /// Length afterwards.
    pub after: Option<Feet>,
    /// Change of its path, spare length not counted; nothing where it is unknown.
    pub extra: Option<Inches>,
    /// The change is the most it can be: nobody said where the feeder comes from.
    pub at_most: bool,
    /// What happens to it.
    pub work: FeederWork,
}

/// A circuit of the board, in both pictures.
pub(super) struct CircuitRun<'j> {
    pub(super) id: &'j str,
    home: Option<&'j Point>,
    slack: Option<Inches>,
}

/// Lengths of a circuit at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Added {
    pub(super) outside: Option<Inches>,
    pub(super) total: Option<Inches>,
    /// The most the length outside can be, where it is unknown only for want of its spare length.
    pub(super) most: Option<Inches>,
}

/// Circuits that keep their board.
pub(super) fn circuits<'j>(job: &'j Job, board: &str) -> Vec<CircuitRun<'j>> {
    let stays = |id: &str| {
        job.after
            .circuits
            .get(id)
            .is_some_and(|after| after.board == board)
    };
    job.before
        .circuits
        .iter()
        .filter(|(id, c)| c.board == board && stays(id.as_str()))
        .map(|(id, c)| CircuitRun {
            id: id.as_str(),
            home: c.home_run.as_ref(),
            slack: c.slack.get(),
        })
        .collect()
}

impl CircuitRun<'_> {
    /// Length that a limit is held against, not cut off at zero, so that the place where it begins can be found.
    pub(super) fn signed(&self, staged: &Job, way: Way) -> Option<Inches> {
        let route = extra_route(staged, self.id)?;
        let slack = match way {
            Way::SpliceBox => Inches::ZERO,
            _ => self.slack.unwrap_or(Inches::ZERO),
        };
        Some((route - slack).to_the_millionth())
    }

    /// Lengths at the staged place, as the scope has them.
    pub(super) fn added(&self, staged: &Job) -> Added {
        let Some((outside, total)) = added_lengths(staged, self.id) else {
            return Added {
                outside: None,
                total: None,
                most: None,
            };
        };
        let most = match outside.get() {
            None => extra_route(staged, self.id).map(|r| r.max(Inches::ZERO)),
            known => known,
        };
        Added {
            outside: outside.get(),
            total: total.get(),
            most,
        }
    }
}

/// Feeders to and from the board, as they will be.
pub(super) fn feeders<'j>(job: &'j Job, board: &str) -> Vec<(&'j str, &'j Feeder)> {
    job.after
        .feeders
        .iter()
        .filter(|(_, f)| f.to == board || f.from == board)
        .map(|(id, f)| (id.as_str(), f))
        .collect()
}

/// A feeder at the staged place.
pub(super) fn feeder_at(
    job: &Job,
    staged: &Job,
    board: &str,
    (id, feeder): (&str, &Feeder),
    way: Way,
) -> FeederRun {
    let was = job.before.feeders.get(id);
    let place = |house: &House| house.boards.get(board).and_then(|b| b.position.clone());
    // A feeder that is only planned has the length of the plan's place.
    let (before, from_place) = match was {
        Some(was) => (was.length.get(), place(&job.before)),
        None => (feeder.length.get(), place(&job.after)),
    };
    let new_anyway = was.is_none() || feeder.replaced;
    let same = way == Way::InPlace;
    let (extra, at_most) = match (from_place, place(&staged.after)) {
        _ if same && was.is_some() => (Some(Inches::ZERO), false),
        (Some(old), Some(new)) => extra(&staged.after, board, feeder, way, new_anyway, &old, &new),
        _ => (None, false),
    };
    let slack = was.and_then(|w| w.slack.get()).unwrap_or(Inches::ZERO);
    let (work, longer) = match extra {
        _ if new_anyway => (FeederWork::NewAnyway, extra),
        Some(more) if more > slack => match way {
            Way::SpliceBox => (FeederWork::SplicedInOldCabinet, extra),
            _ => (FeederWork::TooShort, extra),
        },
        Some(_) => (FeederWork::Reaches, Some(Inches::ZERO)),
        None => (FeederWork::TooShort, None),
    };
    let after = before
        .zip(longer)
        .map(|(length, more)| (length + Feet::from(more)).max(Feet::ZERO));
    FeederRun {
        feeder: id.to_owned(),
        before,
        after,
        extra,
        at_most,
        work,
    }
}

fn extra(
    house: &House,
    board: &str,
    feeder: &Feeder,
    way: Way,
    new_anyway: bool,
    old: &Point,
    new: &Point,
) -> (Option<Inches>, bool) {
    if way == Way::SpliceBox && !new_anyway {
        return (house.path(old, new), false);
    }
    match reference(house, board, feeder) {
        Some(from) => {
            let both = house.path(from, new).zip(house.path(from, old));
            (both.map(|(a, b)| (a - b).to_the_millionth()), false)
        }
        None => (house.path(old, new), true),
    }
}

/// Where the feeder comes from: its own point on a wall, else the board at its other end.
fn reference<'h>(house: &'h House, board: &str, feeder: &'h Feeder) -> Option<&'h Point> {
    let other = if feeder.to == board {
        &feeder.from
    } else {
        &feeder.to
    };
    let far_end = || match other.as_str() {
        UTILITY => None,
        other => house
            .boards
            .get(other)
            .and_then(|b: &Board| b.position.as_ref()),
    };
    feeder.home_run.as_ref().or_else(far_end)
}

/// Places along a wall where some path changes its course: right below or above where a cable comes from, on the wall or across the plan.
pub(super) fn turns(
    job: &Job,
    staged: &House,
    board: &str,
    wall: (&str, &Wall),
    runs: &[CircuitRun<'_>],
    feeders: &[(&str, &Feeder)],
) -> Vec<Inches> {
    let mut points: Vec<&Point> = runs.iter().filter_map(|r| r.home).collect();
    points.extend(
        feeders
            .iter()
            .filter_map(|(_, f)| reference(staged, board, f)),
    );
    points.extend(
        job.before
            .boards
            .get(board)
            .and_then(|b| b.position.as_ref()),
    );
    points.extend(
        job.after
            .boards
            .get(board)
            .and_then(|b| b.position.as_ref()),
    );
    let mut turns = Vec::new();
    for point in points {
        if point.wall == wall.0 {
            turns.push(point.x);
            continue;
        }
        let there = staged
            .walls
            .get(&point.wall)
            .and_then(|w| w.on_plan(point.x));
        let (Some(there), Some(from), Some(to), Some(length)) =
            (there, wall.1.from, wall.1.to, wall.1.length())
        else {
            continue;
        };
        for (at, start, end) in [(there.x, from.x, to.x), (there.y, from.y, to.y)] {
            if end != start {
                turns.push((length * ((at - start) / (end - start))).to_the_millionth());
            }
        }
    }
    turns
}

/// Where a length that is linear from `a` to `b` meets each limit strictly in between.
pub(super) fn crossings(
    (a, at_a): (Inches, Inches),
    (b, at_b): (Inches, Inches),
    limits: &[Inches],
    into: &mut Vec<Inches>,
) {
    for limit in limits {
        if (at_a < *limit && *limit < at_b) || (at_b < *limit && *limit < at_a) {
            let share = (*limit - at_a) / (at_b - at_a);
            into.push((a + (b - a) * share).to_the_millionth());
        }
    }
}
