//! Into which parts is what is left of a large board split? See [`super::seating`] for the order.
//! Source: branch and bound; together the parts leave nothing out but what is spread, off the legs or touching now.

use super::patterns::Patterns;
use super::{Relaxed, Search, most_used};

/// Parts of what is left, each without some columns.
pub(super) type Parts = Vec<Vec<usize>>;

impl Search<'_> {
    /// By the place of a two-pole breaker that is spread.
    pub(super) fn split_wide(&self, relaxed: &Relaxed) -> Parts {
        let columns = &self.columns.all;
        let wide = relaxed.used.iter().copied();
        let wide = Relaxed {
            used: wide.filter(|(c, _)| columns[*c].spaces.len() > 1).collect(),
            whole: None,
        };
        let Some((most, _)) = most_used(&wide) else {
            return Vec::new();
        };
        let (here, there): (Vec<usize>, Vec<usize>) = self
            .open(columns[most].item)
            .partition(|c| columns[*c].spaces == columns[most].spaces);
        // Both circuits of a pair may share one place.
        if there.is_empty() {
            return Vec::new();
        }
        vec![there, here]
    }

    /// By the leg of the largest continuous load that is not where the cheapest choice of them has it.
    pub(super) fn split_pattern(
        &self,
        relaxed: &Relaxed,
        patterns: &Patterns,
        pattern: &[usize],
    ) -> Parts {
        let share = self.share(relaxed, |item| {
            let at = patterns.items.iter().position(|i| *i == item);
            at.map(|at| pattern[at])
        });
        let mut each = patterns.items.iter().zip(pattern);
        let off = each.find(|(item, _)| share[**item] < 0.98 && self.is_undecided(**item));
        off.map_or(Vec::new(), |(item, effect)| self.by_leg(*item, *effect))
    }

    /// By each two-pole breaker that has more places than the one it is in: one after the other elsewhere, or all of them where they are.
    pub(super) fn split_places(&self, layout: &[usize]) -> Parts {
        let columns = &self.columns.all;
        let mut parts = Vec::new();
        let mut elsewhere = Vec::new();
        for (item, c) in layout.iter().enumerate() {
            let here = &columns[*c].spaces;
            if here.len() < 2 {
                continue;
            }
            let (mine, others): (Vec<usize>, Vec<usize>) = self
                .open(item)
                .partition(|c| columns[*c].spaces[0] == here[0]);
            if !others.is_empty() {
                parts.push(elsewhere.iter().copied().chain(mine).collect());
                elsewhere.extend(others);
            }
        }
        if !parts.is_empty() {
            parts.push(elsewhere);
        }
        parts
    }

    /// By the leg of the largest load that is not where `choice` has it.
    pub(super) fn split_leg(&self, relaxed: &Relaxed, choice: Option<&[usize]>) -> Parts {
        let share = self.share(relaxed, |item| choice.map(|c| c[item]));
        let load = |item: usize| {
            let each = self.columns.effects[item].iter().map(|e| e.load.abs());
            each.max()
        };
        let off = (0..share.len()).filter(|i| share[*i] < 0.98 && self.is_undecided(*i));
        let item = off.max_by_key(|i| (load(*i), std::cmp::Reverse(*i)));
        item.map_or(Vec::new(), |item| {
            self.by_leg(item, choice.map_or(0, |c| c[item]))
        })
    }

    /// How much of each item the relaxation has where it is wanted.
    fn share(&self, relaxed: &Relaxed, wanted: impl Fn(usize) -> Option<usize>) -> Vec<f64> {
        let mut share = vec![0.0; self.problem.items.len()];
        for (c, x) in &relaxed.used {
            let column = &self.columns.all[*c];
            if wanted(column.item) == Some(column.choice) {
                share[column.item] += x;
            }
        }
        share
    }

    fn by_leg(&self, item: usize, effect: usize) -> Parts {
        let (with, without): (Vec<usize>, Vec<usize>) = self
            .open(item)
            .partition(|c| self.columns.all[*c].choice == effect);
        vec![without, with]
    }

    /// By a seat that is taken in part.
    pub(super) fn split_seat(&self, relaxed: &Relaxed) -> Parts {
        let Some((most, _)) = most_used(relaxed) else {
            return Vec::new();
        };
        let others = self.others(most);
        if others.is_empty() {
            return Vec::new();
        }
        vec![others, vec![most]]
    }

    fn others(&self, column: usize) -> Vec<usize> {
        let open = self.open(self.columns.all[column].item);
        open.filter(|c| *c != column).collect()
    }

    /// By two breakers that touch: the one elsewhere, the other elsewhere, or both there for good.
    pub(super) fn split_touching(&self, layout: &[usize]) -> Parts {
        let heavy = |c: &usize| self.problem.items[self.columns.all[*c].item].heavy;
        let heavy: Vec<usize> = layout.iter().copied().filter(heavy).collect();
        for a in &heavy {
            for b in heavy.iter().filter(|b| self.touch(*a, **b)) {
                let (but_a, but_b) = (self.others(*a), self.others(*b));
                if but_a.is_empty() && but_b.is_empty() {
                    continue;
                }
                let mut parts = Vec::new();
                if !but_a.is_empty() {
                    parts.push(vec![*a]);
                }
                if !but_b.is_empty() {
                    parts.push(but_a.iter().copied().chain([*b]).collect());
                }
                parts.push(but_a.into_iter().chain(but_b).collect());
                return parts;
            }
        }
        Vec::new()
    }
}
