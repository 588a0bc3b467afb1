//! When nothing fits: the smallest changes that make it fit, each tried out.
//! Source: the same solver on the changed board. Sizes of boxes: common practice, no source.

use model::house::Leg;
use serde::Serialize;

use super::problem::{Form, Problem, Space};
use super::solve::solve_within;

/// Spaces of the boxes that the trade commonly has. Common practice, no source.
pub const BOX_SIZES: [u32; 12] = [6, 8, 12, 16, 20, 24, 30, 40, 42, 54, 60, 66];

/// Steps spent on trying a change.
const TRIAL: usize = 1_500;

/// A change that makes everything fit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "FaceChange")]
pub struct Change {
    /// What to change, in words.
    pub what: String,
    /// How much is changed: spaces, circuits or facts.
    pub amount: u32,
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
                what: format!("let `{}` leave its fixed place", problem.items[i].id),
                amount: 1,
            })
        })
        .collect()
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
    Some(Change {
        what: format!(
            "a board whose label allows tandem breakers in {count} more spaces, for plain breakers only"
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
        what: format!("the next size of box that fits: {size} spaces"),
        amount: size - now,
    })
}

/// The same board with more rows at its foot, legs going on as they do.
fn grown(problem: &Problem, size: u32) -> Problem {
    let mut changed = problem.clone();
    let now = problem.spaces.len() as u32;
    for number in now + 1..=size {
        let row = ((number - 1) / 2) as u16;
        let leg_of = |row: u16| changed.spaces.iter().find(|s| s.row == row).map(|s| s.leg);
        let same = row.checked_sub(2).and_then(leg_of);
        let above = row.checked_sub(1).and_then(leg_of);
        let other = above.map(|leg| if leg == Leg::A { Leg::B } else { Leg::A });
        let Some(leg) = same.or(other).or_else(|| leg_of(row)) else {
            continue;
        };
        changed.spaces.push(Space {
            number,
            column: ((number - 1) % 2) as u8,
            row,
            leg,
            tandem: false,
        });
    }
    changed.spaces.sort_by_key(|s| (s.column, s.row));
    // Lengths to the new spaces are not known; they play no part in whether it fits.
    for cable in changed.items.iter_mut().flat_map(|i| &mut i.cables) {
        cable.distance.clear();
    }
    changed
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
    Some(Change {
        what: format!(
            "a second board with {count} of the single-pole circuits, on a 2-pole feeder breaker here"
        ),
        amount: count as u32,
    })
}
