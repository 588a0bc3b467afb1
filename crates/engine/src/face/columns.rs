//! Every way every item can sit, each with its cost and what it does to the legs.
//! Source: [`super::problem`]. The cost holds the lower levels of a [`super::Score`] in one whole number, weighted so that no sum of lower levels reaches the next one.

use super::problem::{Form, Problem, Seat};
use super::score::{cable_costs, opposite, poles, sign, spaces_of};

/// One way for one item.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) item: usize,
    pub(super) seat: Seat,
    pub(super) cost: i64,
    pub(super) spaces: Vec<usize>,
    /// Which of the item's effects on the legs this way has: an index in [`Columns::effects`].
    pub(super) choice: usize,
}

/// What a way does to the legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Effect {
    pub(super) load: i64,
    pub(super) continuous: i64,
    /// It takes a single space of leg A.
    pub(super) on_a: bool,
}

/// Weights of the levels below the balance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weights {
    pub(super) shortfall: i64,
    pub(super) reach: i64,
    pub(super) moves: i64,
    pub(super) touching: i64,
    pub(super) pair: i64,
}

pub(super) struct Columns {
    pub(super) all: Vec<Column>,
    /// First column of each item, and the end.
    pub(super) starts: Vec<usize>,
    /// The different effects of each item.
    pub(super) effects: Vec<Vec<Effect>>,
    pub(super) weights: Weights,
}

impl Columns {
    pub(super) fn of(problem: &Problem, halves: bool) -> Self {
        let weights = weights(problem);
        let mut columns = Self {
            all: Vec::new(),
            starts: vec![0],
            effects: Vec::new(),
            weights,
        };
        for item in 0..problem.items.len() {
            let mut ways = ways(problem, item, halves, weights);
            let mut effects: Vec<Effect> = ways.iter().map(|(_, e)| *e).collect();
            effects.sort_unstable();
            effects.dedup();
            for (column, effect) in &mut ways {
                column.choice = effects.binary_search(effect).unwrap_or(0);
            }
            columns.all.extend(ways.into_iter().map(|(c, _)| c));
            columns.starts.push(columns.all.len());
            columns.effects.push(effects);
        }
        columns
    }

    /// Leaves the continuous load out of every effect.
    pub(super) fn forget_continuous(&mut self) {
        for effect in self.effects.iter_mut().flatten() {
            effect.continuous = 0;
        }
    }

    pub(super) fn of_item(&self, item: usize) -> std::ops::Range<usize> {
        self.starts[item]..self.starts[item + 1]
    }
}

fn ways(problem: &Problem, index: usize, halves: bool, weights: Weights) -> Vec<(Column, Effect)> {
    let item = &problem.items[index];
    let mut found = Vec::new();
    for space in 0..problem.spaces.len() {
        let here = &problem.spaces[space];
        if item
            .allowed
            .as_ref()
            .is_some_and(|a| !a.contains(&here.number))
        {
            continue;
        }
        let turns = item.form == Form::Tied;
        let may_halve = halves && item.form == Form::Half && here.tandem;
        for (turned, half) in [(false, false), (true, false), (false, true)] {
            if (turned && !turns) || (half && !may_halve) {
                continue;
            }
            let seat = Seat {
                space,
                half,
                turned,
            };
            let Some(spaces) = spaces_of(problem, item, seat) else {
                continue;
            };
            let two_poles = matches!(item.form, Form::Double | Form::Tied);
            if two_poles && !opposite(problem, spaces[0], spaces[1]) {
                continue;
            }
            let (short, reach, moves) = cable_costs(problem, item, seat, &spaces);
            let mut effect = Effect {
                load: 0,
                continuous: 0,
                on_a: item.width == 1 && sign(here.leg) == 1,
            };
            for (pole, at) in poles(item, seat, &spaces) {
                let sign = sign(problem.spaces[at].leg);
                effect.load += sign * item.poles[pole].load.0;
                effect.continuous += sign * item.poles[pole].continuous.0;
            }
            let column = Column {
                item: index,
                seat,
                cost: short * weights.shortfall + reach * weights.reach + moves * weights.moves,
                spaces,
                choice: 0,
            };
            found.push((column, effect));
        }
    }
    found
}

/// Each weight is above everything that the levels below it can come to.
fn weights(problem: &Problem) -> Weights {
    let above = |most: i64| (most.max(1) as u64 + 1).next_power_of_two() as i64;
    let spaces = problem.spaces.len() as i64;
    let cables = problem.items.iter().flat_map(|i| &i.cables);
    let far = |c: &super::problem::Cable| c.distance.iter().map(|d| d.0).max().unwrap_or(0);
    let reach: i64 = cables.clone().map(far).sum();
    let pair = 1;
    let touching = pair * above(spaces / 2);
    let moves = touching * above(spaces);
    let inch = moves * above(cables.count() as i64);
    Weights {
        shortfall: inch * above(reach),
        reach: inch,
        moves,
        touching,
        pair,
    }
}
