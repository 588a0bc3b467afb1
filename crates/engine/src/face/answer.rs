//! The whole answer for one board: layout or reasons, balance before and after, size of the box, worksheet.
//! Source: [`super::build`], [`super::solve`], [`super::size`], [`super::remedy`]. VA, inches, spaces.

use model::house::Leg;
use model::units::{Inches, VoltAmperes};
use rulebook::Check;
use serde::Serialize;

use super::build::{Prepared, Unfit, leg_before, number, prepare};
use super::problem::{LEVEL_UNITS, Problem, Seat};
use super::remedy::{Change, changes_in};
use super::score::{poles, spaces_of};
use super::size::{Size, recommend};
use super::solve::{Layout, Unsolved, solve_within, usual_effort};
use super::stands::{Held, stands};
use crate::check::Report;
use crate::worksheet::{Line, Quantity, Worksheet};

/// Loads of both legs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Legs {
    /// Load on leg A and on leg B, VA.
    pub load: [i64; 2],
    /// Continuous load on each, VA.
    pub continuous: [i64; 2],
}

impl Legs {
    fn add(&mut self, leg: Leg, load: i64, continuous: i64) {
        let i = usize::from(leg == Leg::B);
        self.load[i] += load;
        self.continuous[i] += continuous;
    }

    /// Difference between the legs' loads.
    #[must_use]
    pub fn imbalance(&self) -> VoltAmperes {
        VoltAmperes((self.load[0] - self.load[1]).abs() as f64)
    }
}

/// What sits in a space.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Occupant {
    /// Circuit, feeder, source or device.
    pub name: String,
    /// What it serves.
    pub serves: String,
    /// The whole breaker: both circuits of a tied pair.
    pub breaker: String,
    /// The space as a job file writes it, `19A` for half of one.
    pub space: String,
    /// The breaker begins in this space and takes so many.
    pub width: Option<u8>,
    /// It is half of a tandem breaker.
    pub half: bool,
    /// Spaces it had before, on this board.
    pub old: Vec<u32>,
    /// It has the same spaces as before; `None` when it is new on the board.
    pub stays: Option<bool>,
}

/// Everything there is to say about the face of a board.
#[derive(Clone, Debug)]
pub struct Face {
    /// The problem, with what was taken for granted.
    pub prepared: Prepared,
    /// The layout, or why there is none.
    pub layout: Result<Layout, Unsolved>,
    /// When there is none: what would help, each tried out.
    pub changes: Vec<Change>,
    /// Spaces of the board before the work; none where it is new.
    pub spaces_before: Vec<Held>,
    /// Legs before the work, where positions and legs are known, with the circuits that are left out.
    pub before: Option<(Legs, Vec<String>)>,
    /// Legs of the layout.
    pub after: Option<Legs>,
    /// Spaces counted.
    pub size: Size,
    /// Steps.
    pub worksheet: Worksheet,
}

impl Face {
    /// What sits in each space, in the order of the problem's spaces; empty lists when there is no layout.
    #[must_use]
    pub fn occupants(&self) -> Vec<Vec<Occupant>> {
        let problem = &self.prepared.problem;
        let mut all = vec![Vec::new(); problem.spaces.len()];
        let Ok(layout) = &self.layout else {
            return all;
        };
        for (item, seat) in problem.items.iter().zip(&layout.seats) {
            let spaces = spaces_of(problem, item, *seat).unwrap_or_default();
            let poles = poles(item, *seat, &spaces);
            for (at, space) in spaces.iter().enumerate() {
                let pole = poles.iter().find(|(_, s)| s == space).map(|(p, _)| *p);
                let name = pole.map_or(&item.id, |p| &item.poles[p].circuit);
                let cable = match item.cables.as_slice() {
                    [one] => Some(one),
                    many => pole.and_then(|p| many.get(p)),
                };
                let old = cable.map(|c| c.old.clone()).unwrap_or_default();
                let tied = item.cables.len() == 2;
                let mine: Vec<u32> = spaces
                    .iter()
                    .filter(|s| !tied || *s == space)
                    .map(|s| problem.spaces[*s].number)
                    .collect();
                let number = problem.spaces[*space].number;
                // Halves of one tandem breaker: the first is A, the second B.
                let letter = if all[*space].is_empty() { 'A' } else { 'B' };
                let stays = (!old.is_empty())
                    .then(|| old.len() == mine.len() && mine.iter().all(|n| old.contains(n)));
                all[*space].push(Occupant {
                    name: name.clone(),
                    serves: self.prepared.serves.get(name).cloned().unwrap_or_default(),
                    breaker: item.id.clone(),
                    space: if seat.half {
                        format!("{number}{letter}")
                    } else {
                        number.to_string()
                    },
                    width: (at == 0).then_some(item.width),
                    half: seat.half,
                    old,
                    stays,
                });
            }
        }
        all
    }
}

/// Lays out a board of a checked job.
///
/// # Errors
///
/// When the board is not there or what everything rests on is unknown.
pub fn face(report: &Report<'_>, board: &str) -> Result<Face, Unfit> {
    face_within(report, board, None)
}

/// The same with this many steps of search at most, for who wants the proof of a large board and can wait.
///
/// # Errors
///
/// When the board is not there or what everything rests on is unknown.
pub fn face_within(report: &Report<'_>, board: &str, effort: Option<usize>) -> Result<Face, Unfit> {
    let prepared = prepare(report, board)?;
    let effort = effort.unwrap_or_else(|| usual_effort(&prepared.problem));
    let layout = solve_within(&prepared.problem, effort);
    let changes = match &layout {
        Ok(_) => Vec::new(),
        Err(_) => changes_in(report, &prepared.problem),
    };
    let after = layout
        .as_ref()
        .ok()
        .map(|l| legs(&prepared.problem, &l.seats));
    let size = recommend(report, &prepared);
    let was = stands(&report.job.before, board);
    let mut face = Face {
        spaces_before: was.map(|s| s.spaces).unwrap_or_default(),
        before: before(report, &prepared),
        after,
        worksheet: Worksheet::new(
            format!("face.{board}"),
            format!("Places of the breakers in `{board}`"),
            report.book.edition(),
        ),
        prepared,
        layout,
        changes,
        size,
    };
    write(&mut face);
    Ok(face)
}

/// The board that a face is most wanted for: the one that is replaced or moved, else the one with the most circuits.
#[must_use]
pub fn usual_board<'r>(report: &'r Report<'_>) -> Option<&'r str> {
    let house = &report.job.after;
    let circuits = |id: &str| house.circuits.values().filter(|c| c.board == id).count();
    let touched = |id: &str| {
        let board = house.boards.get(id);
        let is_new = !report.job.before.boards.contains_key(id);
        is_new
            || board.is_some_and(|b| b.replaced)
            || report.scope.board(id).is_some_and(|b| b.relocated)
    };
    house
        .boards
        .keys()
        .map(|id| id.as_str())
        .filter(|id| circuits(id) > 0)
        .max_by_key(|id| (touched(id), circuits(id), std::cmp::Reverse(*id)))
}

/// Loads on the legs of a layout.
#[must_use]
pub fn legs(problem: &Problem, seats: &[Seat]) -> Legs {
    let mut legs = Legs::default();
    for (item, seat) in problem.items.iter().zip(seats) {
        for (pole, space) in poles(
            item,
            *seat,
            &spaces_of(problem, item, *seat).unwrap_or_default(),
        ) {
            let pole = &item.poles[pole];
            legs.add(problem.spaces[space].leg, pole.load.0, pole.continuous.0);
        }
    }
    legs
}

/// Legs before the work, with the same loads.
fn before(report: &Report<'_>, prepared: &Prepared) -> Option<(Legs, Vec<String>)> {
    let name = prepared.problem.board.as_str();
    let house = &report.job.before;
    let board = house.boards.get(name)?;
    let loads = super::loads::of_house(house, &report.book.tables());
    let (mut legs, mut left_out) = (Legs::default(), Vec::new());
    let mut any = false;
    for (id, circuit) in house.circuits.iter().filter(|(_, c)| c.board == name) {
        let found: Option<Vec<Leg>> = circuit.spaces.known().and_then(|spaces| {
            let each = spaces.iter().map(|s| leg_before(board, number(s)?));
            each.collect()
        });
        let (Some(found), Some(load)) = (found.filter(|f| !f.is_empty()), loads.get(id.as_str()))
        else {
            left_out.push(id.as_str().to_owned());
            continue;
        };
        let parts = found.len() as i64;
        any = true;
        for leg in found {
            legs.add(
                leg,
                (load.load.0 + parts - 1) / parts,
                (load.continuous.0 + parts - 1) / parts,
            );
        }
    }
    for item in &prepared.problem.items {
        let feeder = house
            .feeders
            .get(item.id.as_str())
            .filter(|f| f.from == name);
        let numbers = feeder.and_then(|f| f.spaces.known());
        for (number, pole) in numbers.into_iter().flatten().zip(&item.poles) {
            if let Some(leg) = leg_before(board, *number) {
                legs.add(leg, pole.load.0, pole.continuous.0);
            }
        }
    }
    any.then_some((legs, left_out))
}

fn write(face: &mut Face) {
    let problem = &face.prepared.problem;
    let sheet = &mut face.worksheet;
    let count = |label: &'static str, n: u32| Line::number(label, Quantity::number(f64::from(n)));
    sheet.push(count("Spaces of the board", problem.spaces.len() as u32));
    sheet.push(
        count("Spaces needed with breakers of full width", problem.width())
            .how("1 for a single pole, 2 for two poles or a tied pair, and the devices"),
    );
    let size = &face.size;
    sheet.push(count("Spaces in use before the work", size.used_before));
    sheet.push(count(
        "More spaces as tandem halves become breakers of full width",
        size.freed_tandems,
    ));
    sheet.push(count("Spaces for what is new on the board", size.added));
    sheet.push(count(
        "Circuits that still need arc-fault or ground-fault protection",
        size.protection_to_add,
    ));
    sheet.push(count("Spaces for loads named for later", size.future));
    sheet.push(
        count("Spare spaces to leave", size.spare)
            .how("a fifth of what is needed, at least 6")
            .checked(Check::Memory)
            .note("common practice, no source"),
    );
    let recommended = match size.recommended {
        Some(n) => count("Box to choose", n),
        None => Line::cannot_tell("Box to choose", "no common box holds this: a second board"),
    };
    sheet.push(
        recommended
            .how("the smallest common box with needed + later + spare spaces")
            .checked(Check::Memory)
            .note("sizes of boxes: common practice, no source"),
    );
    let (Ok(layout), Some(after)) = (&face.layout, face.after) else {
        let why = face
            .layout
            .as_ref()
            .err()
            .map(ToString::to_string)
            .unwrap_or_default();
        sheet.push(Line::cannot_tell("Layout", why));
        return;
    };
    let va = |label: &'static str, va: i64| Line::number(label, VoltAmperes(va as f64));
    sheet.push(va("Load on leg A", after.load[0]));
    sheet.push(va("Load on leg B", after.load[1]));
    sheet.push(va("Continuous load on leg A", after.continuous[0]));
    sheet.push(va("Continuous load on leg B", after.continuous[1]));
    for (proof, unit) in layout.proofs.iter().zip(LEVEL_UNITS) {
        let number = |n: i64| match unit {
            "VA" => Quantity::from(VoltAmperes(n as f64)),
            "in" => Quantity::from(Inches(n as f64)),
            _ => Quantity::number(n as f64),
        };
        let line = Line::number(proof.level, number(proof.value));
        sheet.push(if proof.proven {
            line.how("proven least, given the levels above")
        } else {
            line.how("best found; not proven")
                .input("no layout has less than", number(proof.bound))
        });
    }
    sheet.push(count("Steps of the search", layout.steps as u32).note("the same on every machine"));
}
