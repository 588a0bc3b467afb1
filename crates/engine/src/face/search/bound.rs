//! How cheap can anything be that is not banned? Worked out in whole numbers from the prices of the relaxation.
//! Source: Lagrangian relaxation of the spaces; the choice of legs is made exactly by [`super::super::legs`].

use super::super::legs::{Choice, NEVER, Sums, cheapest, least};
use super::{NO_LAYOUT, PARTS, SUMS_PER_STEP, Search};

impl Search<'_> {
    /// Works out what each column and each effect costs by the present prices, in parts; gives what the prices themselves come to.
    pub(super) fn price(&mut self) -> i64 {
        let mut priced = vec![NEVER; self.columns.all.len()];
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
            priced[c] = cost;
            let least = &mut costs[column.item][column.choice];
            *least = (*least).min(cost);
        }
        (self.priced, self.effects) = (priced, costs);
        rest
    }

    /// Lower bound on everything not banned, by the present prices, and the choice of effects behind it. `None`: nothing better than the best can be there.
    pub(super) fn bound(&mut self) -> Option<(i64, Option<Vec<usize>>)> {
        let rest = self.price();
        let costs = &self.effects;
        let least = least(costs)?;
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
            |budget: i64, sums: Sums| cheapest(effects, costs, target, budget, sums, &mut work);
        // A sample of the sums often finds at once a choice that costs no more than the cheapest effects do, or little more.
        let mut sampled = None;
        let step = self.columns.weights.moves * PARTS;
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
        let (cost, choice) = found?;
        self.level = cost + rest;
        Some((whole(self.level), choice))
    }

    /// Bans the columns with which nothing better than the best layout is left, by the last bound.
    pub(super) fn ban_dear(&mut self, banned: &mut Vec<usize>) {
        if self.best_cost() >= NO_LAYOUT {
            return;
        }
        let room = (self.best_cost() - 1) * PARTS - self.level;
        for (c, column) in self.columns.all.iter().enumerate() {
            let more = self.priced[c] - self.effects[column.item][column.choice];
            if more > room && !self.lp.is_banned(c) {
                self.lp.ban(c, true);
                banned.push(c);
            }
        }
    }
}

/// The least whole cost that is not below these parts.
pub(super) fn whole(parts: i64) -> i64 {
    (parts + PARTS - 1).div_euclid(PARTS)
}
