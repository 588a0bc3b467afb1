//! The cheapest way to seat everything when the sums on the legs are fixed, and a lower bound that proves it.
//! Source: branch and bound. The bound is a Lagrangian decomposition: prices on the spaces come from the linear relaxation ([`super::lp`]),
//! each item then takes its cheapest seat, and the choice of legs is made exactly ([`super::legs`]). Whole numbers throughout, 24 to a unit of cost.

use super::columns::Columns;
use super::legs::{Choice, NEVER, Sums, Target, cheapest, key, least};
use super::lp::{Lp, Variable};
use super::problem::{Problem, Seat};
use super::score::{opposite, score};
use super::swaps::swapped;

/// Parts of a unit of cost: prices are often halves or thirds.
const PARTS: i64 = 24;

/// Choices of legs that are worked out to a layout at each node.
const TRIES: usize = 1;

/// Attempts to come to the right sums by swaps.
const SWAPS: u64 = 6;

/// Sums that take about as long as one step of the relaxation.
const SUMS_PER_STEP: usize = 250;

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

/// Looks for the cheapest layout that meets the target. `known` is a layout known already, `limit` the steps allowed.
pub(super) fn search(
    problem: &Problem,
    columns: &Columns,
    halves: i64,
    target: &Target,
    limit: usize,
) -> Outcome {
    let mut steps = 0;
    let mut best = None;
    let heavy = problem.items.iter().filter(|i| i.heavy).count() > 1;
    for with_touching in [false, true] {
        let mut search = Search::new(problem, columns, halves, target, with_touching);
        search.limit = limit;
        search.lp.steps = steps;
        search.best = best.take();
        let bound = search.node(0);
        steps = search.lp.steps;
        let again = search.needs_touching && heavy && !with_touching;
        if again && search.lp.steps < limit {
            best = search.best;
            continue;
        }
        let finished = !search.stopped && !search.needs_touching;
        let bound = match &search.best {
            Some((cost, _)) => Some(bound.min(*cost)),
            None if finished => None,
            None => Some(bound),
        };
        return Outcome {
            best: search.best,
            bound,
            finished,
            steps,
        };
    }
    Outcome {
        best,
        bound: Some(0),
        finished: false,
        steps,
    }
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
    stopped: bool,
    needs_touching: bool,
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

impl<'p> Search<'p> {
    fn new(
        problem: &'p Problem,
        columns: &'p Columns,
        halves: i64,
        target: &'p Target,
        with_touching: bool,
    ) -> Self {
        let (items, spaces) = (problem.items.len(), problem.spaces.len());
        let boundaries: Vec<usize> = if with_touching {
            (0..spaces)
                .filter(|s| problem.below(*s).is_some())
                .collect()
        } else {
            Vec::new()
        };
        let mut row = items;
        let links: Vec<Option<usize>> = columns
            .effects
            .iter()
            .map(|effects| {
                (effects.len() == 2).then(|| {
                    row += 1;
                    row - 1
                })
            })
            .collect();
        let convex = row;
        let first_space = row + 1;
        let halves_row = first_space + spaces;
        let first_boundary = halves_row + usize::from(halves > 0);
        let mut variables = Vec::new();
        for column in &columns.all {
            let part = if column.seat.half { 0.5 } else { 1.0 };
            let mut rows = vec![(column.item, 1.0)];
            rows.extend(column.spaces.iter().map(|s| (first_space + s, part)));
            if column.seat.half {
                rows.push((halves_row, 1.0));
            }
            if let Some(link) = links[column.item].filter(|_| column.choice == 1) {
                rows.push((link, 1.0));
            }
            if problem.items[column.item].heavy {
                let last = column.spaces[column.spaces.len() - 1];
                for (i, boundary) in boundaries.iter().enumerate() {
                    if *boundary == last || boundary + 1 == column.spaces[0] {
                        rows.push((first_boundary + i, 1.0));
                    }
                }
            }
            variables.push(Variable::new(column.cost as f64, rows));
        }
        let mut pairs = Vec::new();
        for space in 0..spaces {
            if let Some(below) = problem.below(space)
                && opposite(problem, space, below)
            {
                pairs.push(space);
                variables.push(Variable::new(
                    -(columns.weights.pair as f64),
                    vec![(first_space + space, 1.0), (first_space + below, 1.0)],
                ));
            }
        }
        for i in 0..boundaries.len() {
            variables.push(Variable::new(
                columns.weights.touching as f64,
                vec![(first_boundary + i, -1.0)],
            ));
        }
        let no_choice = variables.len();
        variables.push(Variable::new(0.0, vec![(convex, 1.0)]));
        let mut loose = Vec::new();
        for link in links.iter().flatten() {
            for sign in [1.0, -1.0] {
                loose.push(variables.len());
                variables.push(Variable::new(0.0, vec![(*link, sign)]));
            }
        }
        let mut limits = vec![1.0; items];
        limits.extend(links.iter().flatten().map(|_| 0.0));
        limits.push(1.0);
        limits.extend((0..spaces).map(|_| 1.0));
        if halves > 0 {
            limits.push(halves as f64);
        }
        limits.extend(boundaries.iter().map(|_| 1.0));
        let most: i64 = (0..items)
            .map(|i| {
                let ways = &columns.all[columns.of_item(i)];
                ways.iter().map(|c| c.cost).max().unwrap_or(0)
            })
            .sum();
        let loosening = most as f64 + columns.weights.moves as f64;
        Self {
            problem,
            columns,
            target,
            halves,
            lp: Lp::new(variables, &limits, first_space, 16.0 * loosening),
            pairs,
            boundaries,
            best: None,
            limit: 0,
            stopped: false,
            needs_touching: false,
            first_space,
            links,
            loose,
            no_choice,
            choices: Vec::new(),
            loosening: 0.0,
            most_loosening: loosening,
        }
    }

    /// Links that do not hold yet cost this much from now on. Low at first: prices then stay near those that gave a good bound.
    fn tighten(&mut self, cost: f64) {
        self.loosening = cost;
        for loose in &self.loose {
            self.lp.set_cost(*loose, cost);
        }
    }

    fn is_loose(&self) -> bool {
        let mut used = self.lp.in_use();
        used.any(|(v, _)| self.loose.contains(&v))
    }

    /// Makes a choice of effects known to the relaxation. False when it was known.
    fn add_choice(&mut self, choice: &[usize]) -> bool {
        if self.choices.iter().any(|(_, c)| c == choice) {
            return false;
        }
        if self.choices.is_empty() {
            self.lp.ban(self.no_choice, true);
            self.tighten(self.columns.weights.moves as f64);
        }
        let mut rows = vec![(self.first_space - 1, 1.0)];
        for (link, effect) in self.links.iter().zip(choice) {
            if let Some(link) = link.filter(|_| *effect == 1) {
                rows.push((link, -1.0));
            }
        }
        let variable = self.lp.add(Variable::new(0.0, rows));
        self.choices.push((variable, choice.to_vec()));
        true
    }

    /// Works on what is not banned; gives a lower bound on it, which is at least the best cost when it is done with.
    fn node(&mut self, inherited: i64) -> i64 {
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
            let Some(choice) = choice else { break relaxed };
            let is_new = self.add_choice(&choice);
            if is_new && tried < TRIES {
                tried += 1;
                self.try_choice(&choice);
                if lower >= self.best_cost() {
                    return lower;
                }
            }
            if !is_new {
                if !self.is_loose() || self.loosening >= self.most_loosening {
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

    fn branch(&mut self, lower: i64, relaxed: &Relaxed) -> i64 {
        let (mut first, mut second) = match self.split(relaxed) {
            Some(split) => split,
            None => {
                // Whole, on target, and yet dearer than the bound: only touching can be the reason.
                if self.boundaries.is_empty() {
                    self.needs_touching = true;
                } else {
                    self.stopped = true;
                }
                return lower;
            }
        };
        for part in [&mut first, &mut second] {
            let against = |(variable, choice): &(usize, Vec<usize>)| {
                let lost = choice.iter().enumerate().any(|(item, effect)| {
                    self.links[item].is_some()
                        && !self
                            .open(item)
                            .any(|c| self.columns.all[c].choice == *effect && !part.contains(&c))
                });
                (lost && !self.lp.is_banned(*variable)).then_some(*variable)
            };
            let lost: Vec<usize> = self.choices.iter().filter_map(against).collect();
            part.extend(lost);
        }
        let mut least = NO_LAYOUT;
        for banned in [first, second] {
            for c in &banned {
                self.lp.ban(*c, true);
            }
            let below = if self.stopped || self.needs_touching {
                lower
            } else {
                self.node(lower)
            };
            least = least.min(below);
            for c in &banned {
                self.lp.ban(*c, false);
            }
        }
        least.max(lower)
    }

    /// Two sets of columns to ban in turn, which together leave nothing out but what is spread now.
    fn split(&self, relaxed: &Relaxed) -> Option<(Vec<usize>, Vec<usize>)> {
        let columns = &self.columns.all;
        // A space that is tandem in part is made so wholly, or not at all.
        if self.halves > 0 {
            let mut tandem = vec![0.0; self.problem.spaces.len()];
            for (c, x) in &relaxed.used {
                if columns[*c].seat.half {
                    tandem[columns[*c].seat.space] += x / 2.0;
                }
            }
            let partly = (0..tandem.len())
                .filter(|s| (0.05..0.95).contains(&tandem[*s]))
                .max_by(|a, b| {
                    let apart = |s: usize| (tandem[s] - 0.5).abs();
                    apart(*b).total_cmp(&apart(*a)).then(b.cmp(a))
                });
            if let Some(space) = partly {
                let here = |half: bool| {
                    (0..columns.len())
                        .filter(|c| !self.lp.is_banned(*c))
                        .filter(|c| {
                            columns[*c].seat.half == half && columns[*c].spaces.contains(&space)
                        })
                        .collect::<Vec<usize>>()
                };
                return Some((here(false), here(true)));
            }
        }
        let mut share = vec![0.0; self.problem.items.len()];
        for (c, x) in &relaxed.used {
            if columns[*c].choice == 1 {
                share[columns[*c].item] += x;
            }
        }
        let weight = |item: usize| {
            let load = self.columns.effects[item]
                .iter()
                .map(|e| e.load.abs())
                .max();
            (0.5 - (share[item] - 0.5).abs()) * (1.0 + load.unwrap_or(0) as f64)
        };
        let torn = (0..share.len())
            .filter(|i| self.links[*i].is_some() && (0.02..0.98).contains(&share[*i]))
            .max_by(|a, b| weight(*a).total_cmp(&weight(*b)).then(b.cmp(a)));
        if let Some(item) = torn {
            let with = |effect: usize| {
                self.open(item)
                    .filter(|c| columns[*c].choice == effect)
                    .collect::<Vec<usize>>()
            };
            let likely = usize::from(share[item] > 0.5);
            return Some((with(1 - likely), with(likely)));
        }
        if let Some((column, _)) = most_used(relaxed) {
            let item = columns[column].item;
            let others = self.open(item).filter(|c| *c != column).collect();
            return Some((others, vec![column]));
        }
        // Whole and yet not proven: the sums were too many. Settle the leg of the largest load that is not settled.
        let load = |item: usize| {
            self.columns.effects[item]
                .iter()
                .map(|e| e.load.abs())
                .max()
        };
        let open = (0..share.len()).filter(|i| self.is_undecided(*i));
        let item = open.max_by_key(|i| (load(*i), std::cmp::Reverse(*i)))?;
        let taken = usize::from(share[item] > 0.5);
        let with = |effect: usize| {
            let mine = self.open(item).filter(|c| columns[*c].choice == effect);
            mine.collect::<Vec<usize>>()
        };
        Some((with(1 - taken), with(taken)))
    }

    fn is_undecided(&self, item: usize) -> bool {
        let mut choices = self.open(item).map(|c| self.columns.all[c].choice);
        let first = choices.next();
        choices.any(|c| Some(c) != first)
    }

    fn open(&self, item: usize) -> impl Iterator<Item = usize> + '_ {
        self.columns
            .of_item(item)
            .filter(|c| !self.lp.is_banned(*c))
    }

    /// Seats everything with these effects on the legs; keeps what comes out when it is the best yet.
    fn try_choice(&mut self, choice: &[usize]) {
        let mut banned = Vec::new();
        for (item, effect) in choice.iter().enumerate() {
            let other = |c: &usize| self.columns.all[*c].choice != *effect;
            banned.extend(self.open(item).filter(other));
        }
        for c in &banned {
            self.lp.ban(*c, true);
        }
        let mut settled = Vec::new();
        while self.solve() && !self.lp.is_impossible() {
            let relaxed = self.relaxed();
            if relaxed.whole.is_some() {
                self.keep(&relaxed);
                break;
            }
            let Some(column) = most_used(&relaxed) else {
                break;
            };
            let item = self.columns.all[column.0].item;
            let others: Vec<usize> = self.open(item).filter(|c| *c != column.0).collect();
            if others.is_empty() {
                break;
            }
            for c in others {
                self.lp.ban(c, true);
                settled.push(c);
            }
        }
        for c in &settled {
            self.lp.ban(*c, false);
        }
        for c in &banned {
            self.lp.ban(*c, false);
        }
    }

    /// Looks for layouts with the right sums near this one.
    fn swap(&mut self, layout: &[usize]) {
        let mut from = layout.to_vec();
        let mut work = 0;
        for salt in 0..SWAPS {
            let is_open = |c: usize| !self.lp.is_banned(c);
            let (problem, columns, target) = (self.problem, self.columns, self.target);
            let new = swapped(problem, columns, is_open, &from, target, salt, &mut work);
            if let Some(new) = new {
                let seats: Vec<Seat> = new.iter().map(|c| columns.all[*c].seat).collect();
                let cost = self.cost(&seats);
                if cost < self.best_cost() {
                    self.best = Some((cost, seats));
                    if salt >= SWAPS / 2 {
                        from = new;
                    }
                }
            }
        }
        self.lp.steps += work / SUMS_PER_STEP;
    }

    /// The best layout is proven but for breakers that touch, which the bound does not know of yet.
    fn only_touching_is_left(&self, lower: i64) -> bool {
        let Some((cost, seats)) = &self.best else {
            return false;
        };
        let weight = self.columns.weights.touching;
        let touching = score(self.problem, seats).touching;
        self.boundaries.is_empty() && touching > 0 && lower >= cost - touching * weight - weight / 2
    }

    /// Settles which spaces are tandem as the relaxation suggests, and looks for layouts from there.
    fn settle_tandems(&mut self, relaxed: &Relaxed) {
        let columns = self.columns;
        let mut tandem = vec![0.0; self.problem.spaces.len()];
        for (c, x) in &relaxed.used {
            if columns.all[*c].seat.half {
                tandem[columns.all[*c].seat.space] += x;
            }
        }
        let mut order: Vec<usize> = (0..tandem.len()).filter(|s| tandem[*s] > 0.05).collect();
        order.sort_by(|a, b| tandem[*b].total_cmp(&tandem[*a]).then(a.cmp(b)));
        order.truncate((self.halves / 2) as usize);
        let mut banned = Vec::new();
        for (c, column) in columns.all.iter().enumerate() {
            let here = column.spaces.iter().any(|s| order.contains(s));
            if here != column.seat.half && !self.lp.is_banned(c) {
                banned.push(c);
            }
        }
        for c in &banned {
            self.lp.ban(*c, true);
        }
        if self.solve() && !self.lp.is_impossible() {
            let relaxed = self.relaxed();
            self.keep(&relaxed);
            if let Some(whole) = &relaxed.whole {
                self.swap(whole);
            }
        }
        for c in &banned {
            self.lp.ban(*c, false);
        }
        self.solve();
    }

    fn solve(&mut self) -> bool {
        if self.stopped {
            return false;
        }
        if !self.lp.solve(self.limit) {
            self.stopped = true;
        }
        !self.stopped
    }

    fn relaxed(&self) -> Relaxed {
        let count = self.columns.all.len();
        let used: Vec<(usize, f64)> = self.lp.in_use().filter(|(v, _)| *v < count).collect();
        let mut whole = vec![usize::MAX; self.problem.items.len()];
        for (column, x) in &used {
            if *x > 0.99 {
                whole[self.columns.all[*column].item] = *column;
            }
        }
        let all = whole.iter().all(|c| *c != usize::MAX);
        Relaxed {
            used,
            whole: all.then_some(whole),
        }
    }

    /// Keeps a whole layout that meets the target when it is the best yet.
    fn keep(&mut self, relaxed: &Relaxed) {
        let Some(whole) = &relaxed.whole else { return };
        let effect = |c: &usize| {
            let column = &self.columns.all[*c];
            self.columns.effects[column.item][column.choice]
        };
        let sum: i64 = whole.iter().map(|c| key(effect(c), false)).sum();
        if self.target.sums.binary_search(&(sum >> 8)).is_err() {
            return;
        }
        let seats: Vec<Seat> = whole.iter().map(|c| self.columns.all[*c].seat).collect();
        let cost = self.cost(&seats);
        if cost < self.best_cost() {
            self.best = Some((cost, seats));
        }
    }

    fn cost(&self, seats: &[Seat]) -> i64 {
        cost_of(self.problem, self.columns, seats)
    }

    fn best_cost(&self) -> i64 {
        self.best.as_ref().map_or(NO_LAYOUT, |(cost, _)| *cost)
    }

    /// Lower bound on everything not banned, by the present prices, and the choice of effects behind it. `None`: nothing better than the best can be there.
    fn bound(&mut self) -> Option<(i64, Option<Vec<usize>>)> {
        let prices: Vec<i64> = self
            .lp
            .prices()
            .iter()
            .map(|y| ((-y * PARTS as f64 / 2.0).round() as i64).max(0) * 2)
            .collect();
        let spaces = self.problem.spaces.len();
        let price = &prices[self.first_space..];
        let (weights, first_boundary) =
            (self.columns.weights, spaces + usize::from(self.halves > 0));
        let mut rest = -price[..spaces].iter().sum::<i64>();
        if self.halves > 0 {
            rest -= price[spaces] * self.halves;
        }
        for i in 0..self.boundaries.len() {
            let mu = price[first_boundary + i];
            rest += (weights.touching * PARTS - mu).min(0) - mu;
        }
        for space in &self.pairs {
            rest += (price[*space] + price[space + 1] - weights.pair * PARTS).min(0);
        }
        let mut costs: Vec<Vec<i64>> = self
            .columns
            .effects
            .iter()
            .map(|e| vec![NEVER; e.len()])
            .collect();
        for (c, column) in self.columns.all.iter().enumerate() {
            if self.lp.is_banned(c) {
                continue;
            }
            let part = if column.seat.half { 1 } else { 2 };
            let mut cost = column.cost * PARTS;
            for s in &column.spaces {
                cost += price[*s] * part / 2;
            }
            if column.seat.half {
                cost += price[spaces];
            }
            if self.problem.items[column.item].heavy && !self.boundaries.is_empty() {
                let last = column.spaces[column.spaces.len() - 1];
                for (i, boundary) in self.boundaries.iter().enumerate() {
                    if *boundary == last || boundary + 1 == column.spaces[0] {
                        cost += price[first_boundary + i];
                    }
                }
            }
            let least = &mut costs[column.item][column.choice];
            *least = (*least).min(cost);
        }
        let whole = |parts: i64| (parts + PARTS - 1).div_euclid(PARTS);
        let least = least(&costs)?;
        let budget = match self.best_cost() {
            NO_LAYOUT => NEVER,
            best => (best - 1) * PARTS - rest,
        };
        if least > budget {
            return None;
        }
        let (effects, target) = (&self.columns.effects, self.target);
        let mut work = 0;
        let mut at_most =
            |budget: i64, sums: Sums| cheapest(effects, &costs, target, budget, sums, &mut work);
        // A sample of the sums often finds at once a choice that costs no more than the cheapest effects do, or little more.
        let mut sampled = None;
        let step = weights.moves * PARTS;
        for more in [0, 1, 4, 16, 64, 256, 1024, NEVER / step / 2] {
            let within = budget.min(least + more * step);
            if let Choice::Found(cost, choice) = at_most(within, Sums::Sample) {
                sampled = Some((cost, choice));
                break;
            }
            if within == budget {
                break;
            }
        }
        let found = match sampled {
            Some((cost, choice)) if cost == least => Some((cost, Some(choice))),
            sampled => {
                let budget = sampled
                    .as_ref()
                    .map_or(budget, |(cost, _)| (cost - 1).min(budget));
                match at_most(budget, Sums::All) {
                    Choice::Found(cost, choice) => Some((cost, Some(choice))),
                    Choice::TooMany => Some((least, sampled.map(|s| s.1))),
                    Choice::None => sampled.map(|(cost, choice)| (cost, Some(choice))),
                }
            }
        };
        self.lp.steps += work / SUMS_PER_STEP;
        found.map(|(cost, choice)| (whole(cost + rest), choice))
    }
}

fn most_used(relaxed: &Relaxed) -> Option<(usize, f64)> {
    let spread = relaxed.used.iter().copied().filter(|(_, x)| *x < 0.99);
    spread.fold(None, |best: Option<(usize, f64)>, (c, x)| match best {
        Some((_, most)) if most >= x => best,
        _ => Some((c, x)),
    })
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
        for space in super::score::spaces_of(problem, item, *seat).unwrap_or_default() {
            used[space] = true;
        }
    }
    used.iter().filter(|u| **u).count() as i64
}
