//! When the dead time must be cut in two, which circuits are landed before the first restore?
//! Every choice is weighed or seen to be no better than one that was, alike circuits taken together, so the answer is the best one for one worker; for more workers their work is taken as
//! shared evenly, which no crew can better. Whole seconds times whole weights, held times the workers: exact. docs/cutover.md has the sum.

use super::weigh::{Weigher, kinds};

/// A lot to be landed in one of the two dead periods.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Landing {
    /// Seconds of work while dead, landing and torque together.
    pub work: u64,
    /// Seconds to switch it on.
    pub restore: u64,
    /// What a second of darkness weighs.
    pub weight: u64,
    /// Longest dark time it can bear, 0 when no limit is known.
    pub limit: u64,
}

/// The two dead periods around the landings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Periods {
    /// Seconds of the first one besides the landings and restores, times the workers.
    pub first: u64,
    /// Seconds of the second one besides them, times the workers.
    pub second: u64,
    /// Most seconds of the first, restores included.
    pub most_first: u64,
    /// Most seconds of the second, restores included.
    pub most_second: u64,
    /// What lies between.
    pub between: Between,
    /// People at work.
    pub workers: u64,
}

/// What lies between two dead periods.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// A pause of so many seconds after the first restores.
    Pause(u64),
    /// The second begins so many seconds after the first began.
    Until(u64),
}

/// The choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Landed in the first dead period, by place in the list.
    pub first: Vec<usize>,
    /// Seconds by which periods run over their most, and dark times over their limits; times the workers.
    pub over: u64,
    /// Weighted dark seconds, times the workers.
    pub sum: u64,
    /// Every choice was weighed.
    pub all_weighed: bool,
}

/// Most steps of the search through the choices.
const MOST_STEPS: u64 = 400_000;

/// The best choice: what runs over least, then the least weighted dark time; or, where so much running over is `allowed`, the least weighted
/// dark time that keeps within it. None when there is nothing to choose from.
#[must_use]
pub fn choose(landings: &[Landing], periods: &Periods, allowed: Option<u64>) -> Option<Choice> {
    let kinds = kinds(landings);
    let mut search = Search::new(Weigher::new(&kinds, periods), allowed.unwrap_or(0));
    search.go(0, Taken::default());
    let (over, sum, taken) = search.best?;
    let chosen = kinds.iter().zip(&taken);
    let mut first: Vec<usize> = chosen
        .flat_map(|((_, all), n)| all.iter().take(*n).copied())
        .collect();
    first.sort_unstable();
    Some(Choice {
        first,
        over,
        sum,
        all_weighed: search.steps <= MOST_STEPS,
    })
}

/// Goes through the kinds one by one, as many of each as can be, fewer, none; leaves out what cannot come to a better end.
struct Search<'a> {
    weigher: Weigher<'a>,
    allowed: u64,
    /// Work and weight of the kinds from this one on.
    left: Vec<(u64, u64)>,
    /// Kinds with a limit.
    limited: Vec<usize>,
    taken: Vec<usize>,
    /// Seconds of switching on until the last taken of each kind is on.
    on: Vec<u64>,
    best: Option<(u64, u64, Vec<usize>)>,
    steps: u64,
}

/// What is taken into the first dead period so far.
#[derive(Clone, Copy, Default)]
struct Taken {
    work: u64,
    weight: u64,
    /// Seconds of switching on, and their weighted ends.
    on: u64,
    on_weighted: u64,
}

impl<'a> Search<'a> {
    fn new(weigher: Weigher<'a>, allowed: u64) -> Self {
        let mut left = vec![(0, 0)];
        for (landing, all) in weigher.kinds.iter().rev() {
            let n = all.len() as u64;
            let (work, weight) = left.last().copied().unwrap_or_default();
            left.push((work + landing.work * n, weight + landing.weight * n));
        }
        left.reverse();
        Self {
            limited: (0..weigher.kinds.len())
                .filter(|k| weigher.kinds[*k].0.limit > 0)
                .collect(),
            taken: vec![0; weigher.kinds.len()],
            on: vec![0; weigher.kinds.len()],
            weigher,
            allowed,
            left,
            best: None,
            steps: 0,
        }
    }

    fn go(&mut self, kind: usize, so_far: Taken) {
        self.steps += 1;
        if self.steps > MOST_STEPS || self.is_hopeless(kind, so_far) {
            return;
        }
        let Some((landing, all)) = self.weigher.kinds.get(kind) else {
            return self.weigh();
        };
        for n in (0..=all.len()).rev() {
            self.taken[kind] = n;
            let count = n as u64;
            self.on[kind] = so_far.on + landing.restore * count;
            self.go(
                kind + 1,
                Taken {
                    work: so_far.work + landing.work * count,
                    weight: so_far.weight + landing.weight * count,
                    on: so_far.on + landing.restore * count,
                    on_weighted: so_far.on_weighted
                        + landing.weight
                            * (count * so_far.on + landing.restore * (count * (count + 1) / 2)),
                },
            );
        }
    }

    fn weigh(&mut self) {
        let kinds = self.weigher.kinds.iter().zip(&self.taken);
        let all_taken = kinds.clone().all(|((_, all), n)| *n == all.len());
        if all_taken || self.taken.iter().all(|n| *n == 0) {
            return;
        }
        let (over, sum) = self.weigher.weigh(&self.taken);
        let over = over.max(self.allowed);
        if self
            .best
            .as_ref()
            .is_none_or(|(o, s, _)| (over, sum) < (*o, *s))
        {
            self.best = Some((over, sum, self.taken.clone()));
        }
    }

    /// Whatever is taken of the kinds from `kind` on, it comes to no better end than the best so far.
    fn is_hopeless(&self, kind: usize, so_far: Taken) -> bool {
        let Some((best_over, best_sum, _)) = &self.best else {
            return false;
        };
        let over = self.over_at_least(kind, so_far).max(self.allowed);
        over > *best_over
            || (over == *best_over && self.sum_at_least(kind, so_far) >= i128::from(*best_sum))
    }

    /// Work taken only grows; what is left for the second period is at least what nobody can take any more. Of each limit the better of the
    /// ends that are still open counts.
    fn over_at_least(&self, kind: usize, so_far: Taken) -> u64 {
        let (w, periods) = (&self.weigher, self.weigher.periods);
        let m = periods.workers;
        let beyond = |time: u64, most: u64| time.saturating_sub(most.saturating_mul(m));
        let first = periods.first + so_far.work;
        let second = periods.second + w.work - so_far.work - self.left[kind].0;
        let begins = match periods.between {
            Between::Pause(pause) => first + (so_far.on + pause) * m,
            Between::Until(begins) => begins * m,
        };
        let mut over = beyond(first + so_far.on * m, periods.most_first)
            + beyond(second + w.restore * m, periods.most_second);
        for k in &self.limited {
            let (landing, all) = &w.kinds[*k];
            let again = second + w.last_on[*k] * m;
            let decided = *k < kind;
            let on = if decided { self.on[*k] } else { so_far.on };
            let if_first = beyond(first + on * m, landing.limit) + beyond(again, landing.limit);
            let if_second = beyond(begins + again, landing.limit);
            over += match (decided, self.taken[*k]) {
                (false, _) => if_first.min(if_second),
                (true, 0) => if_second,
                (true, n) if n == all.len() => if_first,
                _ => if_first + if_second,
            };
        }
        over
    }

    /// The weighted sum is linear in the work taken and in the weight taken, so it is least at one of the four extremes of both.
    fn sum_at_least(&self, kind: usize, so_far: Taken) -> i128 {
        let (w, periods) = (&self.weigher, self.weigher.periods);
        let m = i128::from(periods.workers);
        let wide = |n: u64| i128::from(n);
        let (more_work, more_weight) = self.left[kind];
        let all = wide(w.weight);
        let mut least = i128::MAX;
        for work in [so_far.work, so_far.work + more_work] {
            for weight in [so_far.weight, so_far.weight + more_weight] {
                let first = wide(periods.first + work);
                let second = wide(periods.second + w.work - work);
                let begins = match periods.between {
                    Between::Pause(pause) => first + wide(so_far.on + pause) * m,
                    Between::Until(begins) => wide(begins) * m,
                };
                let sum = wide(weight) * first + (all - wide(weight)) * begins + all * second;
                least = least.min(sum);
            }
        }
        least + wide(so_far.on_weighted) * m + wide(w.restores)
    }
}

/// By how much a plan runs over whose first dead period takes these lots and so long until its proof, its second one so long. Times the workers,
/// as in [`Choice::over`].
#[must_use]
pub fn over(
    landings: &[Landing],
    periods: &Periods,
    taken: &[usize],
    first: u64,
    second: u64,
) -> u64 {
    let kinds = kinds(landings);
    let weigher = Weigher::new(&kinds, periods);
    let counts: Vec<usize> = kinds
        .iter()
        .map(|(_, all)| all.iter().filter(|i| taken.contains(i)).count())
        .collect();
    let m = periods.workers;
    weigher.over(&counts, first * m, second * m)
}
