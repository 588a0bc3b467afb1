//! The cheapest way to seat everything when the sums on the legs are fixed, and a lower bound that proves it.
//! Source: branch and bound. The bound is a Lagrangian decomposition: prices on the spaces come from the linear relaxation ([`super::lp`]),
//! each item then takes its cheapest seat, and the choice of legs is made exactly ([`super::legs`]). Whole numbers throughout, 24 to a unit of cost.
//!
//! - `relaxation`: the linear relaxation and its choices of legs; `bound`: the bound worked out from it;
//! - `layouts`: layouts tried on the way; `branching`: how what is left is split;
//! - `seating`, `splits`, `patterns`: the other way round, for boards with many single poles;
//! - `exact`, `tables`, `walk`, `cells`: an exact look through what is settled that far.

mod bound;
mod branching;
mod cells;
mod exact;
mod layouts;
mod patterns;
mod relaxation;
mod seating;
mod splits;
mod tables;
#[cfg(test)]
mod tests;
mod walk;

use patterns::Patterns;

use super::columns::Columns;
use super::legs::Target;
use super::lp::Lp;
use super::problem::{Problem, Seat};
use super::score::{score, spaces_of};
use super::solve::LARGE;

/// Parts of a unit of cost: prices are often halves or thirds.
const PARTS: i64 = 24;

/// Choices of legs that are worked out to a layout at each node.
const TRIES: usize = 1;

/// Attempts to come to the right sums by swaps.
const SWAPS: u64 = 6;

/// Sums that take about as long as one step of the relaxation.
const SUMS_PER_STEP: usize = 250;

/// Items that can be on either leg, from which the legs can be balanced in so many ways that choices of them are left out of the relaxation.
const MANY: usize = 28;

/// The same, from which a part is looked through exactly: with fewer, the choice of legs by the prices says as much at less effort.
const CROWDED: usize = 45;

/// Splits one within the other, before the search stops there.
const MOST_DEPTH: usize = 400;

/// What a search came to.
pub(super) struct Outcome {
    /// Cost and seats of the best layout.
    pub(super) best: Option<(i64, Vec<Seat>)>,
    /// No layout is cheaper than this; `None` when there is none at all.
    pub(super) bound: Option<i64>,
    /// The search came to its end.
    pub(super) finished: bool,
    /// Steps spent.
    pub(super) steps: usize,
}

/// Looks for the cheapest layout that meets the target; `limit` is the steps allowed.
pub(super) fn search(
    problem: &Problem,
    columns: &Columns,
    halves: i64,
    target: &Target,
    limit: usize,
) -> Outcome {
    let search = |kind| Search::new(problem, columns, halves, target, kind);
    let free = columns.effects.iter().filter(|e| e.len() > 1).count();
    let patterns = Patterns::of(columns, target).filter(|_| halves == 0 && free >= MANY);
    let Some(patterns) = patterns else {
        return with_links(search, 0, None, limit);
    };
    let mut first = search(Kind::Plain);
    first.limit = limit;
    if problem.spaces.len() < LARGE {
        first.limit = limit.div_ceil(2);
    }
    let bound = first.seating(&patterns);
    let outcome = first.outcome(bound);
    if outcome.finished || outcome.steps >= limit {
        return outcome;
    }
    let mut again = with_links(search, outcome.steps, outcome.best, limit);
    again.bound = again.bound.max(outcome.bound);
    again
}

/// The search in which choices of legs are part of the relaxation, after `steps` that found `best`; touching is left out of it at first.
fn with_links<'p>(
    search: impl Fn(Kind) -> Search<'p>,
    mut steps: usize,
    mut best: Option<(i64, Vec<Seat>)>,
    limit: usize,
) -> Outcome {
    let mut kind = Kind::Linked;
    loop {
        let mut search = search(kind);
        search.limit = limit;
        search.lp.steps = steps;
        search.best = best.take();
        let bound = search.node(0);
        let heavy = search.problem.items.iter().filter(|i| i.heavy).count() > 1;
        if search.needs_touching && heavy && kind == Kind::Linked && search.lp.steps < limit {
            (kind, steps, best) = (Kind::Touching, search.lp.steps, search.best);
            continue;
        }
        search.stopped |= search.needs_touching;
        return search.outcome(bound);
    }
}

/// What the relaxation holds besides items and spaces.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Plain,
    /// Choices of effects.
    Linked,
    /// Those, and the boundaries where heavy breakers touch.
    Touching,
}

struct Search<'p> {
    problem: &'p Problem,
    columns: &'p Columns,
    target: &'p Target,
    halves: i64,
    lp: Lp,
    /// Variables of whole spare pairs, with their upper space.
    pairs: Vec<usize>,
    /// Upper spaces of the boundaries where touching is counted.
    boundaries: Vec<usize>,
    best: Option<(i64, Vec<Seat>)>,
    limit: usize,
    /// Splits that are open now.
    depth: usize,
    stopped: bool,
    needs_touching: bool,
    is_crowded: bool,
    /// By the present prices: the cost of each column, and the least of each effect.
    priced: Vec<i64>,
    effects: Vec<Vec<i64>>,
    /// The last bound, in parts.
    level: i64,
    /// First row of the spaces.
    first_space: usize,
    /// Row that ties the leg of an item to the choices below, for items with two effects.
    links: Vec<Option<usize>>,
    /// Variables that loosen the links, and the one that makes choices unnecessary.
    loose: Vec<usize>,
    no_choice: usize,
    /// Choices of effects known so far, each with its variable.
    choices: Vec<(usize, Vec<usize>)>,
    /// What a loosened link costs now, and at most.
    loosening: f64,
    most_loosening: f64,
}

const NO_LAYOUT: i64 = i64::MAX / 4;

/// What the relaxation says: how much each item uses each of its columns.
struct Relaxed {
    used: Vec<(usize, f64)>,
    /// The column of each item, when none is spread.
    whole: Option<Vec<usize>>,
}

impl Search<'_> {
    fn outcome(self, bound: i64) -> Outcome {
        let finished = !self.stopped;
        let bound = match &self.best {
            Some((cost, _)) => Some(bound.min(*cost)),
            None if finished => None,
            None => Some(bound),
        };
        Outcome {
            best: self.best,
            bound,
            finished,
            steps: self.lp.steps,
        }
    }

    /// Works on what is not banned; gives a lower bound on it, which is at least the best cost when it is done with.
    fn node(&mut self, inherited: i64) -> i64 {
        let mut dear = Vec::new();
        let lower = self.node_without(&mut dear, inherited);
        for c in dear {
            self.lp.ban(c, false);
        }
        lower
    }

    /// The same; what turns out too dear is banned and put into `dear`.
    fn node_without(&mut self, dear: &mut Vec<usize>, inherited: i64) -> i64 {
        self.open_choices();
        if !self.solve() {
            return inherited;
        }
        if self.lp.is_impossible() {
            return NO_LAYOUT;
        }
        let mut lower = inherited;
        let mut tried = 0;
        let mut swaps = if inherited == 0 { 0 } else { SWAPS / 2 };
        let relaxed = loop {
            let relaxed = self.relaxed();
            self.keep(&relaxed);
            if swaps < SWAPS {
                if let Some(whole) = &relaxed.whole {
                    swaps += SWAPS / 2;
                    self.swap(whole);
                } else if self.halves > 0 {
                    swaps += SWAPS / 2;
                    self.settle_tandems(&relaxed);
                }
            }
            let Some((bound, choice)) = self.bound() else {
                return self.best_cost();
            };
            lower = lower.max(bound);
            if self.only_touching_is_left(lower) {
                self.needs_touching = true;
                return lower;
            }
            if lower >= self.best_cost() {
                return lower;
            }
            let before = dear.len();
            self.ban_dear(dear);
            if dear.len() > before {
                self.open_choices();
            }
            let in_use = |c: &usize| relaxed.used.iter().any(|(used, _)| used == c);
            let must_move = dear[before..].iter().any(in_use);
            let mut is_new = false;
            if let Some(choice) = &choice {
                is_new = self.add_choice(choice);
                if is_new && tried < TRIES {
                    tried += 1;
                    self.try_choice(choice);
                    if lower >= self.best_cost() {
                        return lower;
                    }
                }
            }
            if !is_new && !must_move {
                if choice.is_none() || !self.is_loose() || self.loosening >= self.most_loosening {
                    break relaxed;
                }
                self.tighten(self.loosening * 8.0);
            }
            if !self.solve() {
                return lower;
            }
            if self.lp.is_impossible() {
                return NO_LAYOUT;
            }
        };
        self.branch(lower, &relaxed)
    }
}

/// Cost of a layout: the levels below the balance in one number.
pub(super) fn cost_of(problem: &Problem, columns: &Columns, seats: &[Seat]) -> i64 {
    let score = score(problem, seats);
    let w = columns.weights;
    let free = problem.spaces.len() as i64 - taken(problem, seats);
    score.shortfall * w.shortfall
        + score.reach * w.reach
        + score.moves * w.moves
        + score.touching * w.touching
        - (free - score.odd_spares) / 2 * w.pair
}

/// Spaces in use.
pub(super) fn taken(problem: &Problem, seats: &[Seat]) -> i64 {
    let mut used = vec![false; problem.spaces.len()];
    for (item, seat) in problem.items.iter().zip(seats) {
        for space in spaces_of(problem, item, *seat).unwrap_or_default() {
            used[space] = true;
        }
    }
    used.iter().filter(|u| **u).count() as i64
}

fn most_used(relaxed: &Relaxed) -> Option<(usize, f64)> {
    let spread = relaxed.used.iter().copied().filter(|(_, x)| *x < 0.99);
    spread.fold(None, |best: Option<(usize, f64)>, (c, x)| match best {
        Some((_, most)) if most >= x => best,
        _ => Some((c, x)),
    })
}
