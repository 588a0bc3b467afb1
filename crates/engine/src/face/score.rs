//! Is a layout legal, and how good is it? Worked out from the board alone, without the solver that found it.
//! Source: what an inspector and a practitioner would look at, counted space by space. VA and inches.

use model::house::Leg;

use super::problem::{Form, Item, Problem, Score, Seat};

/// What is wrong with a layout, in words; empty when it is legal.
#[must_use]
pub fn faults(problem: &Problem, seats: &[Seat]) -> Vec<String> {
    let mut faults = Vec::new();
    if seats.len() != problem.items.len() {
        faults.push(format!(
            "{} places for {} items",
            seats.len(),
            problem.items.len()
        ));
        return faults;
    }
    // Two units per space: a half takes one of them.
    let mut units = vec![0u8; problem.spaces.len()];
    for (item, seat) in problem.items.iter().zip(seats) {
        let Some(spaces) = spaces_of(problem, item, *seat) else {
            faults.push(format!("`{}` runs over the end of a column", item.id));
            continue;
        };
        for space in &spaces {
            units[*space] += if seat.half { 1 } else { 2 };
        }
        let top = &problem.spaces[seat.space];
        if let Some(allowed) = &item.allowed
            && !allowed.contains(&top.number)
        {
            faults.push(format!("`{}` may not be in space {}", item.id, top.number));
        }
        if seat.half && (item.form != Form::Half || !top.tandem) {
            faults.push(format!("`{}` may not be a tandem half here", item.id));
        }
        let two_poles = matches!(item.form, Form::Double | Form::Tied);
        if two_poles && problem.spaces[spaces[0]].leg == problem.spaces[spaces[1]].leg {
            faults.push(format!("both poles of `{}` are on one leg", item.id));
        }
    }
    for (space, used) in problem.spaces.iter().zip(&units) {
        if *used > 2 {
            faults.push(format!("space {} is taken twice", space.number));
        }
    }
    let free = units.iter().filter(|u| **u == 0).count();
    if free < problem.spare as usize {
        faults.push(format!(
            "{free} spaces are left, {} were wanted",
            problem.spare
        ));
    }
    faults
}

/// The score of a legal layout.
#[must_use]
pub fn score(problem: &Problem, seats: &[Seat]) -> Score {
    let mut score = Score::default();
    let (mut load, mut continuous) = (0, 0);
    let mut heavy = vec![false; problem.spaces.len()];
    let mut starts = vec![false; problem.spaces.len()];
    let mut free = vec![true; problem.spaces.len()];
    for (item, seat) in problem.items.iter().zip(seats) {
        let Some(spaces) = spaces_of(problem, item, *seat) else {
            continue;
        };
        for space in &spaces {
            free[*space] = false;
            heavy[*space] |= item.heavy;
        }
        starts[seat.space] = true;
        score.tandem_halves += i64::from(seat.half);
        for (pole, space) in poles(item, *seat, &spaces) {
            let sign = sign(problem.spaces[space].leg);
            load += sign * item.poles[pole].load.0;
            continuous += sign * item.poles[pole].continuous.0;
        }
        let (shortfall, reach, moves) = cable_costs(problem, item, *seat, &spaces);
        score.shortfall += shortfall;
        score.reach += reach;
        score.moves += moves;
    }
    score.imbalance = load.abs();
    score.continuous = continuous.abs();
    let mut unpaired = None;
    for space in 0..problem.spaces.len() {
        let Some(below) = problem.below(space) else {
            continue;
        };
        if heavy[space] && heavy[below] && starts[below] {
            score.touching += 1;
        }
        // Free runs are paired from their top.
        let taken = unpaired == Some(space);
        if !taken && free[space] && free[below] && opposite(problem, space, below) {
            score.odd_spares -= 2;
            unpaired = Some(below);
        }
    }
    score.odd_spares += free.iter().filter(|f| **f).count() as i64;
    score
}

/// The spaces an item takes from its seat downwards, or `None` where the column ends.
pub(super) fn spaces_of(problem: &Problem, item: &Item, seat: Seat) -> Option<Vec<usize>> {
    let mut spaces = vec![seat.space];
    problem.spaces.get(seat.space)?;
    let mut last = seat.space;
    for _ in 1..item.width {
        last = problem.below(last)?;
        spaces.push(last);
    }
    Some(spaces)
}

/// Each pole of an item with the space its seat gives it.
pub(crate) fn legs_of(problem: &Problem, item: &Item, seat: Seat) -> Vec<(usize, usize)> {
    poles(
        item,
        seat,
        &spaces_of(problem, item, seat).unwrap_or_default(),
    )
}

/// Each pole of an item with the space it is in.
pub(super) fn poles(item: &Item, seat: Seat, spaces: &[usize]) -> Vec<(usize, usize)> {
    let count = item.poles.len().min(spaces.len());
    let at = |i: usize| if seat.turned { count - 1 - i } else { i };
    (0..count).map(|i| (at(i), spaces[i])).collect()
}

/// Inches short, inches of reach, and cables that leave their old position.
pub(super) fn cable_costs(
    problem: &Problem,
    item: &Item,
    seat: Seat,
    spaces: &[usize],
) -> (i64, i64, i64) {
    let (mut shortfall, mut total, mut moves) = (0, 0, 0);
    for (i, cable) in item.cables.iter().enumerate() {
        let mine: Vec<usize> = if item.cables.len() == 1 {
            spaces.to_vec()
        } else {
            let mut pairs = poles(item, seat, spaces);
            pairs.retain(|(pole, _)| *pole == i);
            pairs.into_iter().map(|(_, space)| space).collect()
        };
        let far = mine.iter().filter_map(|s| cable.distance.get(*s)).max();
        if let Some(far) = far {
            total += far.0;
            if let Some(free) = cable.free {
                shortfall += (far.0 - free.0).max(0);
            }
        }
        if !cable.old.is_empty() {
            let same = cable.old.len() == mine.len()
                && mine
                    .iter()
                    .all(|s| cable.old.contains(&problem.spaces[*s].number));
            moves += i64::from(!same);
        }
    }
    (shortfall, total, moves)
}

pub(super) fn sign(leg: Leg) -> i64 {
    if leg == Leg::A { 1 } else { -1 }
}

pub(super) fn opposite(problem: &Problem, one: usize, other: usize) -> bool {
    problem.spaces[one].leg != problem.spaces[other].leg
}
