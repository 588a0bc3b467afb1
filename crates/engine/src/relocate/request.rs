//! Which board moves, along which walls, at which height, and what may become of its old cabinet?
//! Source: the job's `candidates`, its two pictures, and the handle height of the rulebook. Inches.

use std::borrow::Cow;

use model::Job;
use model::house::{Board, OldCabinet};
use model::scope::Scope;
use model::units::Inches;
use rulebook::tables::{TablesIn, limit};

use super::Way;
use crate::worksheet::Text;

/// Step along a wall when nobody says.
const USUAL_STEP: Inches = Inches(3.0);
/// Most places on the grid of one wall.
const MOST_PLACES: f64 = 20_000.0;

/// What is asked beyond what the job says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Request {
    /// Board that is to move.
    pub board: Option<String>,
    /// Step along a wall.
    pub step: Option<Inches>,
}

/// Why no place can be looked at, each with the entry of the job file it is about.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CannotSweep {
    /// No wall to look at.
    #[error("the job has no walls to put a panel on")]
    NoWalls,
    /// It is not clear which board.
    #[error("the after picture moves {0} boards")]
    WhichBoard(usize, Vec<String>),
    /// There is no such board.
    #[error("`{0}` is not a board of both pictures")]
    NoSuchBoard(String, Vec<String>),
    /// The size of the new cabinet is unknown.
    #[error("width and height of the new cabinet of board `{0}` are unknown")]
    NoCabinetSize(String),
    /// No height is given.
    #[error("nobody says how high the new cabinet of board `{0}` is to hang")]
    NoHeight(String),
    /// The step is too fine, too coarse or none.
    #[error("a step of {0} along a wall")]
    Step(String),
}

impl CannotSweep {
    /// Where in the job file the answer belongs.
    #[must_use]
    pub fn path(&self) -> Vec<&str> {
        match self {
            Self::NoWalls => vec!["before", "walls"],
            Self::WhichBoard(..) | Self::NoSuchBoard(..) => vec!["candidates", "board"],
            Self::NoCabinetSize(board) => vec!["after", "boards", board, "cabinet"],
            Self::NoHeight(board) => vec!["after", "boards", board],
            Self::Step(_) => vec!["candidates", "step"],
        }
    }

    /// What was expected, or what to do.
    #[must_use]
    pub fn expected(&self) -> String {
        match self {
            Self::NoWalls => "`[before.walls.NAME]` with a length and what is on it".to_owned(),
            Self::WhichBoard(_, boards) | Self::NoSuchBoard(_, boards) => {
                format!(
                    "`board` in `[candidates]`, one of: {}",
                    model::nearest::list(boards.iter().map(String::as_str))
                )
            }
            Self::NoCabinetSize(board) => {
                format!("`width` and `height` in `after.boards.{board}.cabinet`")
            }
            Self::NoHeight(board) => format!(
                "`bottom` in `[candidates]`, or `position` of board `{board}` in either picture"
            ),
            Self::Step(_) => "a step from 0.25 to 120 in".to_owned(),
        }
    }
}

/// A request made whole.
pub(super) struct Plan<'j> {
    pub(super) board: &'j str,
    pub(super) old: &'j Board,
    pub(super) new: &'j Board,
    pub(super) walls: Vec<&'j str>,
    pub(super) ways: Vec<Way>,
    pub(super) step: Inches,
    pub(super) width: Inches,
    pub(super) height: Inches,
    /// Lower edge of the cabinet above the floor.
    pub(super) bottom: Inches,
    pub(super) handle: Option<Inches>,
    pub(super) said: Vec<Text>,
}

/// Makes a request whole from what the job says.
pub(super) fn plan<'j>(
    job: &'j Job,
    request: &Request,
    tables: &TablesIn<'_>,
) -> Result<Plan<'j>, CannotSweep> {
    let board = board(job, request)?;
    let (Some(old), Some(new)) = (job.before.boards.get(board), job.after.boards.get(board)) else {
        return Err(CannotSweep::NoSuchBoard(board.to_owned(), in_both(job)));
    };
    let named = &job.candidates.walls;
    let walls: Vec<&str> = job.after.walls.keys().map(String::as_str).collect();
    let walls: Vec<&str> = walls
        .into_iter()
        .filter(|w| named.is_empty() || named.iter().any(|n| n == w))
        .collect();
    if walls.is_empty() {
        return Err(CannotSweep::NoWalls);
    }
    let longest = walls
        .iter()
        .filter_map(|w| job.after.walls.get(*w)?.length())
        .fold(Inches::ZERO, Inches::max);
    let step = request.step.or(job.candidates.step).unwrap_or(USUAL_STEP);
    let fine = model::candidates::FINEST_STEP.0;
    if !(fine..=120.0).contains(&step.0) || longest.0 / step.0 > MOST_PLACES {
        return Err(CannotSweep::Step(step.to_string()));
    }
    let (Some(width), Some(height)) = (new.cabinet.width.get(), new.cabinet.height.get()) else {
        return Err(CannotSweep::NoCabinetSize(board.to_owned()));
    };
    let mut said = Vec::new();
    let (bottom, handle) = heights(job, board, (old, new), height, tables, &mut said)?;
    if job.after.runs.is_unknown() && walls.len() > 1 {
        said.push(Cow::Borrowed(
            "Cables from wall to wall are taken over the ceiling: say `runs = \"below\"` where they go under the floor.",
        ));
    }
    Ok(Plan {
        board,
        old,
        new,
        walls,
        ways: ways(job, new),
        step,
        width,
        height,
        bottom,
        handle,
        said,
    })
}

fn in_both(job: &Job) -> Vec<String> {
    let boards = job.after.boards.keys();
    boards
        .filter(|b| job.before.boards.contains_key(*b))
        .map(ToString::to_string)
        .collect()
}

fn board<'j>(job: &'j Job, request: &Request) -> Result<&'j str, CannotSweep> {
    let asked = request.board.as_deref();
    if let Some(name) = asked.or(job.candidates.board.as_ref().map(|b| b.as_str())) {
        return job
            .after
            .boards
            .get_key_value(name)
            .map(|(id, _)| id.as_str())
            .ok_or_else(|| CannotSweep::NoSuchBoard(name.to_owned(), in_both(job)));
    }
    let scope = Scope::of(job);
    let moved: Vec<&str> = job
        .after
        .boards
        .keys()
        .map(|b| b.as_str())
        .filter(|b| scope.board(b).is_some_and(|c| c.relocated))
        .collect();
    match moved.as_slice() {
        [one] => Ok(one),
        _ => Err(CannotSweep::WhichBoard(moved.len(), in_both(job))),
    }
}

/// What the job says, else what the after picture plans, else both ways.
fn ways(job: &Job, new: &Board) -> Vec<Way> {
    let mut ways: Vec<Way> = job
        .candidates
        .old_cabinet
        .iter()
        .map(|o| Way::from(*o))
        .collect();
    if ways.is_empty() {
        ways = match new.old_cabinet.get() {
            Some(planned) => vec![Way::from(planned)],
            None => vec![
                Way::from(OldCabinet::SpliceBox),
                Way::from(OldCabinet::Removed),
            ],
        };
    }
    ways.sort();
    ways.dedup();
    ways
}

/// Lower edge of the cabinet and its highest handle. A cabinet whose height nobody chose is lowered until its handle is within reach.
fn heights(
    job: &Job,
    name: &str,
    (old, new): (&Board, &Board),
    height: Inches,
    tables: &TablesIn<'_>,
    said: &mut Vec<Text>,
) -> Result<(Inches, Option<Inches>), CannotSweep> {
    let planned = new.position.as_ref().map(|p| p.y);
    let before = old.position.as_ref().map(|p| p.y);
    let chosen = job.candidates.bottom;
    let Some(bottom) = chosen.or(planned).or(before) else {
        return Err(CannotSweep::NoHeight(name.to_owned()));
    };
    let most = tables.limit(limit::HANDLE_HEIGHT_TO).ok().map(|l| l.value);
    let stated = new.working_space.highest_handle.get();
    // How far the highest handle is above the lower edge: as planned, else at most at the upper edge of the cabinet.
    let above = stated.map_or(height, |h| h - planned.unwrap_or(bottom));
    let handle = bottom + above;
    let Some(most) = most.filter(|most| handle > *most) else {
        if stated.is_none() {
            said.push(Cow::Owned(format!(
                "The highest handle is taken at the upper edge of the cabinet, {handle}: it is no higher."
            )));
        }
        return Ok((bottom, Some(handle)));
    };
    let lower = most - above;
    if chosen.is_none() && lower.0 >= 0.0 {
        said.push(Cow::Owned(format!(
            "The cabinet is hung at {lower} instead of {bottom}, so that its highest handle is no higher than {most}."
        )));
        return Ok((lower, Some(most)));
    }
    // Where only the upper edge is known, the handle may still be low enough.
    Ok((bottom, stated.is_some().then_some(handle)))
}
