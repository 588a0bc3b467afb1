//! When nothing fits: the smallest changes that make it fit, each tried out.
//! Source: the same solver on the changed board. Sizes of boxes: common practice, no source.

use model::Job;
use model::house::{Leg, Numbering};
use serde::Serialize;

use super::build::{place_of, prepare};
use super::fields::{Field, fields};
use super::problem::{Form, Item, Problem, Space};
use super::solve::solve_within;
use crate::check::Report;

/// Spaces of the boxes that the trade commonly has. Common practice, no source.
pub const BOX_SIZES: [u32; 12] = [6, 8, 12, 16, 20, 24, 30, 40, 42, 54, 60, 66];

/// Steps spent on trying a change.
const TRIAL: usize = 1_500;

/// A change that makes everything fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What sort of change.
    pub sort: Sort,
    /// What to change, in words.
    pub what: String,
    /// How much is changed: spaces, circuits or facts.
    pub amount: u32,
}

/// Sorts of change.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "FaceChangeSort")]
#[serde(rename_all = "snake_case")]
pub enum Sort {
    /// Fewer spaces are left free: so many.
    FewerSpares(u32),
    /// These, one breaker, may leave their fixed place.
    Unpinned(Vec<String>),
    /// Tandem breakers are allowed in these spaces too.
    Tandems(Vec<u32>),
    /// A box with so many spaces.
    LargerBox(u32),
    /// These circuits go to a second board.
    SecondBoard(Vec<String>),
}

/// The changes that hold when they are made in the job and the board is looked at anew. What is no matter of a field was tried on the
/// board alone, and stays.
pub(super) fn changes_in(report: &Report<'_>, problem: &Problem) -> Vec<Change> {
    let holds = |change: &Change| {
        let fields = fields(report.job, &problem.board, &change.sort);
        fields.is_empty() || fits_with(report, &problem.board, &fields)
    };
    let mut found = changes(problem);
    found.retain(holds);
    found
}

fn fits_with(report: &Report<'_>, board: &str, fields: &[Field]) -> bool {
    let mut job = Job::clone(report.job);
    fields.iter().for_each(|f| f.write(board, &mut job.after));
    let changed = crate::check(&job, report.book);
    prepare(&changed, board).is_ok_and(|prepared| fits(&prepared.problem))
}

/// Changes of each sort, the smallest of its sort that was tried out and fits.
#[must_use]
pub fn changes(problem: &Problem) -> Vec<Change> {
    let mut found = Vec::new();
    found.extend(fewer_spares(problem));
    found.extend(unpinned(problem));
    found.extend(tandems(problem));
    found.extend(larger_box(problem));
    found.extend(second_board(problem));
    found
}

fn fits(problem: &Problem) -> bool {
    solve_within(problem, TRIAL).is_ok()
}

fn fewer_spares(problem: &Problem) -> Option<Change> {
    let spare = (0..problem.spare).rev().find(|spare| {
        let mut changed = problem.clone();
        changed.spare = *spare;
        fits(&changed)
    })?;
    Some(Change {
        sort: Sort::FewerSpares(spare),
        what: format!("leave {spare} spaces free instead of {}", problem.spare),
        amount: problem.spare - spare,
    })
}

/// Each thing with a fixed place that would fit if it were free.
fn unpinned(problem: &Problem) -> Vec<Change> {
    let fixed = (0..problem.items.len()).filter(|i| problem.items[*i].allowed.is_some());
    fixed
        .filter_map(|i| {
            let mut changed = problem.clone();
            changed.items[i].allowed = None;
            fits(&changed).then(|| Change {
                sort: Sort::Unpinned(names(&problem.items[i])),
                what: format!("let `{}` leave its fixed place", problem.items[i].id),
                amount: 1,
            })
        })
        .collect()
}

/// What is on one breaker.
fn names(item: &Item) -> Vec<String> {
    let mut names: Vec<String> = item.poles.iter().map(|p| p.circuit.clone()).collect();
    names.dedup();
    if names.is_empty() {
        names.push(item.id.clone());
    }
    names
}

fn tandems(problem: &Problem) -> Option<Change> {
    let could = problem
        .items
        .iter()
        .filter(|i| i.form == Form::Half)
        .count()
        / 2;
    let closed: Vec<usize> = (0..problem.spaces.len())
        .rev()
        .filter(|s| !problem.spaces[*s].tandem)
        .collect();
    let most = could.min(closed.len());
    let open = |count: usize| {
        let mut changed = problem.clone();
        for s in &closed[..count] {
            changed.spaces[*s].tandem = true;
        }
        fits(&changed)
    };
    let over = (problem.width() + problem.spare).saturating_sub(problem.spaces.len() as u32);
    let count = (over as usize..=most).find(|count| *count > 0 && open(*count))?;
    let mut spaces: Vec<u32> = closed[..count]
        .iter()
        .map(|s| problem.spaces[*s].number)
        .collect();
    spaces.sort_unstable();
    Some(Change {
        sort: Sort::Tandems(spaces),
        what: format!(
            "a board whose label allows tandem breakers in {count} more {}, for plain breakers only",
            if count == 1 { "space" } else { "spaces" }
        ),
        amount: count as u32,
    })
}

fn larger_box(problem: &Problem) -> Option<Change> {
    let now = problem.spaces.len() as u32;
    let size = BOX_SIZES
        .into_iter()
        .filter(|s| *s > now)
        .find(|s| fits(&grown(problem, *s)))?;
    Some(Change {
        sort: Sort::LargerBox(size),
        what: format!("the next size of box that fits: {size} spaces"),
        amount: size - now,
    })
}

/// The same board with more rows at its foot, counted as it is and with legs going on as they do.
fn grown(problem: &Problem, size: u32) -> Problem {
    let mut changed = problem.clone();
    let second = problem.spaces.iter().find(|s| s.number == 2);
    let numbering = match second {
        Some(second) if second.column == 0 => Numbering::Down,
        _ => Numbering::Across,
    };
    let legs = legs_of_rows(problem);
    let tandem = |number: u32| {
        problem
            .spaces
            .iter()
            .any(|s| s.number == number && s.tandem)
    };
    changed.spaces = (1..=size)
        .map(|number| {
            let (column, row) = place_of(number, size, numbering);
            Space {
                number,
                column,
                row,
                leg: legs[usize::from(row) % legs.len()],
                tandem: tandem(number),
            }
        })
        .collect();
    changed.spaces.sort_by_key(|s| (s.column, s.row));
    // Lengths to the new spaces are not known; they play no part in whether it fits.
    for cable in changed.items.iter_mut().flat_map(|i| &mut i.cables) {
        cable.distance.clear();
    }
    changed
}

/// The shortest run of rows that repeats itself down the board.
fn legs_of_rows(problem: &Problem) -> Vec<Leg> {
    let mut rows: Vec<(u16, Leg)> = problem.spaces.iter().map(|s| (s.row, s.leg)).collect();
    rows.sort_by_key(|(row, _)| *row);
    rows.dedup_by_key(|(row, _)| *row);
    let legs: Vec<Leg> = rows.into_iter().map(|(_, leg)| leg).collect();
    let repeats = |run: usize| legs.iter().zip(&legs[run..]).all(|(a, b)| a == b);
    let run = (1..legs.len()).find(|run| repeats(*run));
    match legs.as_slice() {
        [] => vec![Leg::A, Leg::B],
        // One row repeats nothing yet: legs change from row to row.
        [one] => vec![*one, if *one == Leg::A { Leg::B } else { Leg::A }],
        all => all[..run.unwrap_or(all.len())].to_vec(),
    }
}

/// The fewest single-pole circuits without a fixed place that a second board would have to take.
fn second_board(problem: &Problem) -> Option<Change> {
    let can_go: Vec<usize> = (0..problem.items.len())
        .rev()
        .filter(|i| {
            let item = &problem.items[*i];
            item.allowed.is_none() && matches!(item.form, Form::Single | Form::Half)
        })
        .collect();
    let over = (problem.width() + problem.spare + 2).saturating_sub(problem.spaces.len() as u32);
    // The feeder of the second board takes two spaces here.
    let count = (over.max(1) as usize..=can_go.len())
        .take(12)
        .find(|count| {
            let mut changed = problem.clone();
            let gone = &can_go[..*count];
            let mut index = 0;
            changed.items.retain(|_| {
                index += 1;
                !gone.contains(&(index - 1))
            });
            changed.items.push(super::problem::Item {
                id: "feeder of a second board".to_owned(),
                form: Form::Double,
                width: 2,
                poles: vec![Default::default(), Default::default()],
                cables: Vec::new(),
                allowed: None,
                heavy: false,
            });
            fits(&changed)
        })?;
    let gone = can_go[..count].iter().map(|i| &problem.items[*i]);
    Some(Change {
        sort: Sort::SecondBoard(gone.flat_map(names).collect()),
        what: format!(
            "a second board with {count} of the single-pole circuits, on a 2-pole feeder breaker here"
        ),
        amount: count as u32,
    })
}
