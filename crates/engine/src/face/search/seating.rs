//! The cheapest seating of a large board, whose single poles can balance the legs in very many ways.
//! Source: best-first branch and bound. Whole numbers, as in [`super`].
//!
//! On such a board the legs cost next to nothing; what is hard is where the two-pole breakers go, on which legs the few continuous loads are
//! (see `patterns`), and to find among countless layouts of one cost one whose sums are exact. So the relaxation leaves the legs out, which
//! makes it small and mostly whole; a part is split by the seats of a two-pole breaker, then by the leg of a continuous load; a whole layout is
//! brought to the right sums at the same cost by [`super::super::groups`]. Where that fails, or breakers touch, it is split further.

use super::super::legs::least;
use super::super::score::score;
use super::bound::whole;
use super::patterns::Patterns;
use super::splits::Parts;
use super::{MOST_DEPTH, NO_LAYOUT, PARTS, Search};

/// Steps of the relaxation that take about as long as what else is done with a part.
const STEPS_PER_PART: usize = 4;

/// A part that is still to be looked at.
struct Open {
    bound: i64,
    /// Its legs are being split: such parts wait for the others.
    late: bool,
    /// The part it was split from, as an index in the list of bans.
    bans: usize,
    depth: usize,
}

/// Columns that a part leaves out, on top of those of the part it comes from.
struct Bans {
    from: Option<usize>,
    columns: Vec<usize>,
}

/// What became of a part.
enum Look {
    /// Nothing better than the best layout is left in it.
    Done,
    /// It could not be looked at to the end.
    Stopped,
    Split {
        bound: i64,
        late: bool,
        /// Columns that are left out of all the parts.
        dear: Vec<usize>,
        parts: Parts,
    },
}

impl Search<'_> {
    /// Looks at everything; gives a lower bound on it.
    pub(super) fn seating(&mut self, patterns: &Patterns) -> i64 {
        let mut bans = vec![Bans {
            from: None,
            columns: Vec::new(),
        }];
        let mut open = vec![Open {
            bound: 0,
            late: false,
            bans: 0,
            depth: 0,
        }];
        let mut left = NO_LAYOUT;
        while let Some(next) = self.next_part(&mut open) {
            if next.bound >= self.best_cost() {
                continue;
            }
            self.only_ban(&bans, next.bans);
            self.lp.steps += STEPS_PER_PART;
            let look = if next.depth > MOST_DEPTH {
                Look::Stopped
            } else {
                self.look(patterns, next.bound)
            };
            match look {
                Look::Done => {}
                Look::Stopped => {
                    self.stopped = true;
                    let rest = open.iter().map(|o| o.bound).min();
                    left = next.bound.min(rest.unwrap_or(NO_LAYOUT));
                    break;
                }
                Look::Split {
                    bound,
                    late,
                    dear,
                    parts,
                } => {
                    // The last one is looked at first.
                    for part in parts.into_iter().rev() {
                        let columns = dear.iter().copied().chain(part).collect();
                        bans.push(Bans {
                            from: Some(next.bans),
                            columns,
                        });
                        open.push(Open {
                            bound,
                            late: late || next.late,
                            bans: bans.len() - 1,
                            depth: next.depth + 1,
                        });
                    }
                }
            }
        }
        left
    }

    /// The part with the least bound, the newest of them; without a layout simply the newest.
    fn next_part(&self, open: &mut Vec<Open>) -> Option<Open> {
        if self.best.is_none() {
            return open.pop();
        }
        let at = (0..open.len())
            .min_by_key(|i| (open[*i].bound, open[*i].late, std::cmp::Reverse(*i)))?;
        Some(open.remove(at))
    }

    fn only_ban(&mut self, bans: &[Bans], last: usize) {
        let mut banned = vec![false; self.columns.all.len()];
        let mut at = Some(last);
        while let Some(part) = at {
            for c in &bans[part].columns {
                banned[*c] = true;
            }
            at = bans[part].from;
        }
        for (c, banned) in banned.into_iter().enumerate() {
            self.lp.ban(c, banned);
        }
    }

    fn look(&mut self, patterns: &Patterns, inherited: i64) -> Look {
        if !self.solve() {
            return Look::Stopped;
        }
        if self.lp.is_impossible() {
            return Look::Done;
        }
        let relaxed = self.relaxed();
        self.keep(&relaxed);
        let rest = self.price();
        let (Some(least), Some((dearer, pattern))) =
            (least(&self.effects), patterns.cheapest(&self.effects))
        else {
            return Look::Done;
        };
        let touching = self.sure_touching() * self.columns.weights.touching;
        let base = least + rest;
        let mut bound = inherited.max(whole(base + dearer) + touching);
        if bound >= self.best_cost() {
            return Look::Done;
        }
        let mut late = false;
        let mut parts = self.split_wide(&relaxed);
        let mut is_looked_through = false;
        // With fewer single poles the choice of legs by the prices says as much, at less effort.
        let looks_exactly = self.best.is_some() && self.is_crowded;
        if parts.is_empty()
            && looks_exactly
            && let Some(layout) = &relaxed.whole
            && self.split_places(layout).is_empty()
            && let Some(exact) = self.exact(patterns, layout, base, touching)
        {
            is_looked_through = true;
            late = true;
            bound = bound.max(whole(exact.bound) + touching);
            let found = exact.found.map(|found| self.settle(found));
            if bound >= self.best_cost() {
                return Look::Done;
            }
            // As cheap as can be, but for breakers that touch.
            parts = match found.filter(|f| self.cost_apart(f) <= bound) {
                Some(found) => self.split_touching(&found),
                None => self.split_leg(&relaxed, exact.choice.as_deref()),
            };
        }
        if parts.is_empty() {
            parts = self.split_pattern(&relaxed, patterns, pattern);
        }
        if parts.is_empty() {
            match &relaxed.whole {
                None => parts = self.split_seat(&relaxed),
                Some(layout) => {
                    let found = if is_looked_through {
                        None
                    } else {
                        self.balance(layout)
                    };
                    if found.is_none() && self.best.is_none() {
                        self.swap(layout);
                    }
                    if bound >= self.best_cost() {
                        return Look::Done;
                    }
                    if let Some(found) = found.filter(|f| self.cost_apart(f) <= bound) {
                        parts = self.split_touching(&found);
                    } else {
                        late = true;
                        if looks_exactly {
                            parts = self.split_places(layout);
                        }
                        if parts.is_empty() {
                            let Some((exact, choice)) = self.bound() else {
                                return Look::Done;
                            };
                            bound = bound.max(exact + touching);
                            if bound >= self.best_cost() {
                                return Look::Done;
                            }
                            parts = self.split_leg(&relaxed, choice.as_deref());
                        }
                    }
                }
            }
        }
        if parts.is_empty() {
            return Look::Stopped;
        }
        Look::Split {
            bound,
            late,
            dear: self.dear(base, dearer, touching, patterns),
            parts,
        }
    }

    /// Columns with which nothing better than the best layout is left, by the present prices: `base` is what everything costs at least,
    /// `dearer` what the continuous loads add to that.
    fn dear(&self, base: i64, dearer: i64, touching: i64, patterns: &Patterns) -> Vec<usize> {
        let best = self.best_cost();
        if best >= NO_LAYOUT {
            return Vec::new();
        }
        let room = (best - touching - 1) * PARTS - base;
        let mut found = Vec::new();
        for (item, effects) in self.effects.iter().enumerate() {
            let least = effects.iter().copied().min().unwrap_or(0);
            let continuous = patterns.items.contains(&item);
            for c in self.open(item) {
                let over = self.priced[c] - least;
                let in_pattern = self.priced[c] - effects[self.columns.all[c].choice];
                let more = if continuous {
                    over.max(dearer + in_pattern)
                } else {
                    over + dearer
                };
                if more > room {
                    found.push(c);
                }
            }
        }
        found
    }

    /// Heavy breakers that have one place left and touch in it.
    fn sure_touching(&self) -> i64 {
        let heavy = (0..self.problem.items.len()).filter(|i| self.problem.items[*i].heavy);
        let settled: Vec<usize> = heavy.filter_map(|item| self.only_place(item)).collect();
        let each = settled.iter();
        each.map(|a| settled.iter().filter(|b| self.touch(*a, **b)).count() as i64)
            .sum()
    }

    /// A column of the item when all that are open take the same spaces.
    fn only_place(&self, item: usize) -> Option<usize> {
        let mut open = self.open(item);
        let first = open.next()?;
        let space = self.columns.all[first].seat.space;
        open.all(|c| self.columns.all[c].seat.space == space)
            .then_some(first)
    }

    /// The second column starts right below the first one.
    pub(super) fn touch(&self, above: usize, below: usize) -> bool {
        let last = self.columns.all[above].spaces.last().copied();
        last.and_then(|s| self.problem.below(s)) == self.columns.all[below].spaces.first().copied()
    }

    /// Cost of a layout apart from breakers that touch.
    fn cost_apart(&self, layout: &[usize]) -> i64 {
        let seats = self.seats(layout);
        let touching = score(self.problem, &seats).touching;
        self.cost(&seats) - touching * self.columns.weights.touching
    }
}
