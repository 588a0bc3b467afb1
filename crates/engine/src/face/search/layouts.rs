//! From a relaxation or a choice of legs to layouts: tried, swapped towards the right sums, and the best one kept.
//! Source: this project; a layout counts only after [`super::super::score`] has looked at it.

use super::super::groups::Grouped;
use super::super::legs::key;
use super::super::problem::Seat;
use super::super::score::score;
use super::super::settle::settled;
use super::super::swaps::{near, swapped};
use super::{NO_LAYOUT, Relaxed, SUMS_PER_STEP, SWAPS, Search, cost_of, most_used};

/// Sums that take about as long as one look at a layout.
const SUMS_PER_LOOK: usize = 250;

/// Changes to a layout after which the sums are tried again.
const NEAR: usize = 40;

impl Search<'_> {
    /// Seats everything with these effects on the legs; keeps what comes out when it is the best yet.
    pub(super) fn try_choice(&mut self, choice: &[usize]) {
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

    /// A layout with the right sums that costs the same as this one or little more, with as few touching breakers as is easily had.
    pub(super) fn balance(&mut self, layout: &[usize]) -> Option<Vec<usize>> {
        let mut work = 0;
        let (problem, columns, target) = (self.problem, self.columns, self.target);
        let is_open = |c: usize| !self.lp.is_banned(c);
        let grouped = Grouped::of(problem, columns, is_open, layout);
        let mut found = grouped.balanced(target, &mut work);
        let dearer = |found: &Option<(i64, Vec<usize>)>, cost: i64| {
            found.as_ref().is_none_or(|(least, _)| *least > cost)
        };
        if dearer(&found, 0) && (self.best.is_none() || !self.is_crowded) {
            let joined = |a, b| grouped.joined(a, b);
            let near = near(problem, columns, is_open, layout, joined);
            for (cost, layout) in near.into_iter().take(NEAR) {
                if !dearer(&found, cost) {
                    break;
                }
                let other = Grouped::of(problem, columns, is_open, &layout);
                let more = other.balanced(target, &mut work);
                if let Some((more, layout)) = more
                    && dearer(&found, cost + more)
                {
                    found = Some((cost + more, layout));
                }
            }
        }
        self.lp.steps += work / SUMS_PER_STEP;
        found.map(|(_, new)| self.settle(new))
    }

    /// The layout with fewer breakers that touch, where exchanges help; the best one is kept.
    pub(super) fn settle(&mut self, layout: Vec<usize>) -> Vec<usize> {
        let is_open = |c: usize| !self.lp.is_banned(c);
        let cost = |layout: &[usize]| self.cost(&self.seats(layout));
        let mut looks = 0;
        let (problem, columns) = (self.problem, self.columns);
        let new = settled(problem, columns, is_open, layout, cost, &mut looks);
        self.lp.steps += looks * SUMS_PER_LOOK / SUMS_PER_STEP;
        let seats = self.seats(&new);
        let cost = self.cost(&seats);
        if cost < self.best_cost() {
            self.best = Some((cost, seats));
        }
        new
    }

    /// Looks for layouts with the right sums near this one.
    pub(super) fn swap(&mut self, layout: &[usize]) {
        let mut from = layout.to_vec();
        let mut work = 0;
        for salt in 0..SWAPS {
            let is_open = |c: usize| !self.lp.is_banned(c);
            let (problem, columns, target) = (self.problem, self.columns, self.target);
            let new = swapped(problem, columns, is_open, &from, target, salt, &mut work);
            if let Some(new) = new {
                let seats = self.seats(&new);
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

    /// Settles which spaces are tandem as the relaxation suggests, and looks for layouts from there.
    pub(super) fn settle_tandems(&mut self, relaxed: &Relaxed) {
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

    /// Keeps a whole layout that meets the target when it is the best yet.
    pub(super) fn keep(&mut self, relaxed: &Relaxed) {
        let Some(whole) = &relaxed.whole else { return };
        let effect = |c: &usize| {
            let column = &self.columns.all[*c];
            self.columns.effects[column.item][column.choice]
        };
        let sum: i64 = whole.iter().map(|c| key(effect(c), false)).sum();
        if self.target.sums.binary_search(&(sum >> 8)).is_err() {
            return;
        }
        let seats = self.seats(whole);
        let cost = self.cost(&seats);
        if cost < self.best_cost() {
            self.best = Some((cost, seats));
        }
    }

    pub(super) fn seats(&self, layout: &[usize]) -> Vec<Seat> {
        layout.iter().map(|c| self.columns.all[*c].seat).collect()
    }

    pub(super) fn cost(&self, seats: &[Seat]) -> i64 {
        cost_of(self.problem, self.columns, seats)
    }

    pub(super) fn best_cost(&self) -> i64 {
        self.best.as_ref().map_or(NO_LAYOUT, |(cost, _)| *cost)
    }

    /// The best layout is proven but for breakers that touch, which the bound does not know of yet.
    pub(super) fn only_touching_is_left(&self, lower: i64) -> bool {
        let Some((cost, seats)) = &self.best else {
            return false;
        };
        let weight = self.columns.weights.touching;
        let touching = score(self.problem, seats).touching;
        self.boundaries.is_empty() && touching > 0 && lower >= cost - touching * weight - weight / 2
    }
}
