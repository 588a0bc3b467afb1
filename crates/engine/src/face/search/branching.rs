//! Which two parts is what is left split into, so that neither keeps the present spread?
//! Source: branch and bound; items torn between legs first, the ones that carry much before the others.

use super::{MOST_DEPTH, NO_LAYOUT, Relaxed, Search, most_used};

impl Search<'_> {
    pub(super) fn branch(&mut self, lower: i64, relaxed: &Relaxed) -> i64 {
        let (first, second) = match self.split(relaxed) {
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
        // A part that rules nothing out would be split for ever.
        if first.is_empty() || second.is_empty() || self.depth >= MOST_DEPTH {
            self.stopped = true;
            return lower;
        }
        self.depth += 1;
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
        self.depth -= 1;
        least.max(lower)
    }

    /// Two sets of columns to ban in turn, which together leave nothing out but what is spread now.
    pub(super) fn split(&self, relaxed: &Relaxed) -> Option<(Vec<usize>, Vec<usize>)> {
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
                let (full, half) = (here(false), here(true));
                // A half on its own, where nothing else may go any more, is settled by the other rules.
                if !full.is_empty() && !half.is_empty() {
                    return Some((full, half));
                }
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

    pub(super) fn is_undecided(&self, item: usize) -> bool {
        let mut choices = self.open(item).map(|c| self.columns.all[c].choice);
        let first = choices.next();
        choices.any(|c| Some(c) != first)
    }

    pub(super) fn open(&self, item: usize) -> impl Iterator<Item = usize> + '_ {
        self.columns
            .of_item(item)
            .filter(|c| !self.lp.is_banned(*c))
    }
}
