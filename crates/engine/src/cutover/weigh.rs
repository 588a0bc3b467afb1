//! What does one choice for two dead periods come to? The sum that [`super::split`] searches through.
//! Source: docs/cutover.md. Seconds times weight, held times the workers.

use std::collections::BTreeMap;

use super::order::density;
use super::split::{Between, Landing, Periods};

/// Alike landings together, heaviest per second of restoring first, then the tightest limit: the order in which they are switched on.
pub(super) fn kinds(landings: &[Landing]) -> Vec<(Landing, Vec<usize>)> {
    let mut kinds: BTreeMap<Landing, Vec<usize>> = BTreeMap::new();
    for (i, landing) in landings.iter().enumerate() {
        kinds.entry(*landing).or_default().push(i);
    }
    let mut kinds: Vec<(Landing, Vec<usize>)> = kinds.into_iter().collect();
    let tightest = |l: &Landing| if l.limit == 0 { u64::MAX } else { l.limit };
    kinds.sort_by(|(a, _), (b, _)| {
        density((b.weight, b.restore), (a.weight, a.restore)).then(tightest(a).cmp(&tightest(b)))
    });
    kinds
}

pub(super) struct Weigher<'a> {
    pub(super) kinds: &'a [(Landing, Vec<usize>)],
    pub(super) periods: &'a Periods,
    pub(super) work: u64,
    pub(super) restore: u64,
    pub(super) weight: u64,
    /// Of each kind: seconds from the end of the second period's proof until its last one is on.
    pub(super) last_on: Vec<u64>,
    /// Weighted restores of the second period, times the workers.
    pub(super) restores: u64,
}

impl<'a> Weigher<'a> {
    pub(super) fn new(kinds: &'a [(Landing, Vec<usize>)], periods: &'a Periods) -> Self {
        let m = periods.workers;
        let all: Vec<usize> = kinds.iter().map(|(_, all)| all.len()).collect();
        let total = |each: &dyn Fn(&Landing) -> u64| {
            kinds.iter().map(|(l, n)| each(l) * n.len() as u64).sum()
        };
        let mut last_on = Vec::with_capacity(kinds.len());
        let mut on = 0;
        for (landing, n) in kinds {
            on += landing.restore * n.len() as u64;
            last_on.push(on);
        }
        Self {
            kinds,
            periods,
            work: total(&|l| l.work),
            restore: on,
            weight: total(&|l| l.weight),
            last_on,
            restores: restores(kinds, &all).0 * m,
        }
    }

    /// Over, and weighted dark seconds, both times the workers.
    pub(super) fn weigh(&self, taken: &[usize]) -> (u64, u64) {
        let (periods, m) = (self.periods, self.periods.workers);
        let (mut work, mut weight) = (0, 0);
        for ((landing, _), n) in self.kinds.iter().zip(taken) {
            let n = *n as u64;
            work += landing.work * n;
            weight += landing.weight * n;
        }
        let first = periods.first + work;
        let second = periods.second + self.work - work;
        let (on_again, restore) = restores(self.kinds, taken);
        let begins = self.begins(first, restore);
        let sum = weight * first
            + on_again * m
            + (self.weight - weight) * begins
            + self.weight * second
            + self.restores;
        (self.over(taken, first, second), sum)
    }

    /// When the second period begins, counted from the first, times the workers.
    fn begins(&self, first: u64, restore: u64) -> u64 {
        let m = self.periods.workers;
        match self.periods.between {
            Between::Pause(pause) => first + (restore + pause) * m,
            Between::Until(begins) => begins * m,
        }
    }

    /// What periods run over their most and dark times over their limits, when the periods take so long until their proofs.
    pub(super) fn over(&self, taken: &[usize], first: u64, second: u64) -> u64 {
        let (periods, m) = (self.periods, self.periods.workers);
        let (_, restore) = restores(self.kinds, taken);
        let begins = self.begins(first, restore);
        let beyond = |time: u64, most: u64| time.saturating_sub(most.saturating_mul(m));
        let mut over = beyond(first + restore * m, periods.most_first)
            + beyond(second + self.restore * m, periods.most_second)
            + (first + restore * m).saturating_sub(begins);
        let mut on = 0;
        for (((landing, all), n), last) in self.kinds.iter().zip(taken).zip(&self.last_on) {
            on += landing.restore * *n as u64;
            if landing.limit > 0 {
                let again = second + last * m;
                let whole = begins + again;
                if *n < all.len() {
                    over += beyond(whole, landing.limit);
                }
                if *n > 0 {
                    over += beyond(first + on * m, landing.limit) + beyond(again, landing.limit);
                }
            }
        }
        over
    }
}

/// Weighted ends of the restores, one after the other, and their length.
fn restores(kinds: &[(Landing, Vec<usize>)], taken: &[usize]) -> (u64, u64) {
    let (mut sum, mut on) = (0, 0);
    for ((landing, _), n) in kinds.iter().zip(taken) {
        let n = *n as u64;
        sum += landing.weight * (n * on + landing.restore * (n * (n + 1) / 2));
        on += landing.restore * n;
    }
    (sum, on)
}
