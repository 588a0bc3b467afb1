//! On which legs can the items with continuous load be at all, when their sum is fixed?
//! Source: exact subset sums over those items alone: they are few, so that few choices of their legs come out right. Whole VA.

use super::super::columns::Columns;
use super::super::legs::{NEVER, Target, continuous_of};

/// Most choices that are looked at one by one.
const MOST_PATTERNS: usize = 2_000;

/// The items whose continuous load depends on the leg, and every choice of their effects that comes to the target.
pub(super) struct Patterns {
    pub(super) items: Vec<usize>,
    /// One effect for each of the items.
    pub(super) choices: Vec<Vec<usize>>,
}

impl Patterns {
    /// `None` when there are too many.
    pub(super) fn of(columns: &Columns, target: &Target) -> Option<Self> {
        let mut base = 0;
        let mut items: Vec<usize> = Vec::new();
        let parts = |item: usize| columns.effects[item].iter().map(|e| e.continuous);
        for item in 0..columns.effects.len() {
            let (least, most) = (parts(item).min()?, parts(item).max()?);
            if least == most {
                base += least;
            } else {
                items.push(item);
            }
        }
        let size = |item: usize| parts(item).map(i64::abs).max().unwrap_or(0);
        items.sort_by_key(|i| (std::cmp::Reverse(size(*i)), *i));
        let mut wanted: Vec<i64> = target.sums.iter().map(|s| continuous_of(*s)).collect();
        wanted.sort_unstable();
        wanted.dedup();
        let mut rest: i64 = items.iter().map(|i| size(*i)).sum();
        let mut choices: Vec<(i64, Vec<usize>)> = vec![(base, Vec::new())];
        for item in &items {
            rest -= size(*item);
            let mut next = Vec::new();
            for (sum, chosen) in &choices {
                for (effect, part) in parts(*item).enumerate() {
                    let sum = sum + part;
                    if wanted.iter().any(|w| (w - sum).abs() <= rest) {
                        let mut chosen = chosen.clone();
                        chosen.push(effect);
                        next.push((sum, chosen));
                    }
                }
            }
            if next.len() > MOST_PATTERNS {
                return None;
            }
            choices = next;
        }
        choices.retain(|(sum, _)| wanted.contains(sum));
        let choices = choices.into_iter().map(|(_, c)| c).collect();
        Some(Self { items, choices })
    }

    /// The choices that are open and at most so much dearer than the cheapest effects, the cheapest first.
    pub(super) fn within(&self, costs: &[Vec<i64>], most: i64) -> Vec<&[usize]> {
        let least = self.least(costs);
        let each = self.choices.iter();
        let mut within: Vec<(i64, &[usize])> = each
            .filter_map(|c| self.dearer(costs, &least, c).map(|d| (d, c.as_slice())))
            .filter(|(dearer, _)| *dearer <= most)
            .collect();
        within.sort();
        within.into_iter().map(|(_, c)| c).collect()
    }

    /// The cheapest choice that is open, and how much dearer than the cheapest effects it is.
    pub(super) fn cheapest(&self, costs: &[Vec<i64>]) -> Option<(i64, &[usize])> {
        let least = self.least(costs);
        let each = self.choices.iter();
        each.filter_map(|c| self.dearer(costs, &least, c).map(|d| (d, c.as_slice())))
            .min_by_key(|(dearer, _)| *dearer)
    }

    fn least(&self, costs: &[Vec<i64>]) -> Vec<i64> {
        let least = |i: &usize| costs[*i].iter().copied().min().unwrap_or(NEVER);
        self.items.iter().map(least).collect()
    }

    fn dearer(&self, costs: &[Vec<i64>], least: &[i64], choice: &[usize]) -> Option<i64> {
        let mut all = 0;
        for ((item, effect), least) in self.items.iter().zip(choice).zip(least) {
            let cost = costs[*item][*effect];
            if cost >= NEVER {
                return None;
            }
            all += cost - least;
        }
        Some(all)
    }
}
