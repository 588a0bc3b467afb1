//! Which items go on which leg so that the sums come out exactly, at least cost by the prices of the spaces?
//! Source: dynamic programming over the sums, from both ends to the middle. Whole VA, whole costs.

use super::columns::Effect;

/// Most sums kept at a time; beyond, the exactness of the sums is given up and only the prices count.
pub(super) const MOST_SUMS: usize = 40_000;
/// Sums kept when any choice will do.
pub(super) const FEW_SUMS: usize = 4_000;
pub(super) const NEVER: i64 = i64::MAX / 8;

/// Load, continuous load and number of single spaces on leg A in one number that adds up.
pub(super) fn key(effect: Effect, counted: bool) -> i64 {
    (((effect.load << 24) + effect.continuous) << 8) + i64::from(effect.on_a && counted)
}

/// What the sums must come to.
#[derive(Clone, Debug)]
pub(super) struct Target {
    /// Allowed pairs of load and continuous load, as keys without count, sorted.
    pub(super) sums: Vec<i64>,
    /// Least and most single spaces on leg A.
    pub(super) count: (i64, i64),
    /// Whether the count can matter at all.
    pub(super) counted: bool,
}

/// The cheapest choice of effects.
pub(super) enum Choice {
    /// Cost, and the effect of each item.
    Found(i64, Vec<usize>),
    /// No choice within the budget comes to the sums.
    None,
    /// Too many sums to tell.
    TooMany,
}

/// How many sums may be kept at a time.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sums {
    /// All of them: what is found is cheapest, and nothing is missed.
    All,
    /// An even sample: what is found may not be cheapest, and may be missed.
    Sample,
}

/// Cost of everything when each item takes its cheapest effect, or `None` when an item has none left.
pub(super) fn least(costs: &[Vec<i64>]) -> Option<i64> {
    let each = costs
        .iter()
        .map(|c| c.iter().copied().min().filter(|c| *c < NEVER));
    each.sum()
}

/// The cheapest choice with a cost of at most `budget`; the sums looked at are added to `work`. `costs[i][e]` is the cost of effect `e` of item `i`, [`NEVER`] when it is not open.
pub(super) fn cheapest(
    effects: &[Vec<Effect>],
    costs: &[Vec<i64>],
    target: &Target,
    budget: i64,
    sums: Sums,
    work: &mut usize,
) -> Choice {
    let mut base = 0;
    let mut base_key = 0;
    let mut choice = vec![0; effects.len()];
    let mut open: Vec<Open> = Vec::new();
    for (item, costs) in costs.iter().enumerate() {
        let Some(least) = costs.iter().copied().min().filter(|c| *c < NEVER) else {
            return Choice::None;
        };
        base += least;
        let ways: Vec<(i64, i64, usize)> = costs
            .iter()
            .enumerate()
            .filter(|(_, c)| **c < NEVER)
            .map(|(e, c)| (key(effects[item][e], target.counted), c - least, e))
            .collect();
        match ways.as_slice() {
            [(key, _, e)] => {
                base_key += key;
                choice[item] = *e;
            }
            _ => open.push(Open { item, ways }),
        }
    }
    if base > budget {
        return Choice::None;
    }
    let budget = budget - base;
    // Large and small sums alternate, so that both halves have alike ranges.
    open.sort_by_key(|o| std::cmp::Reverse(o.ways.iter().map(|w| w.0.abs()).max()));
    let halves: [Vec<&Open>; 2] = [0, 1].map(|part| open.iter().skip(part).step_by(2).collect());
    let (Some(first), Some(second)) = (
        stages(&halves[0], base_key, budget, sums, work),
        stages(&halves[1], 0, budget, sums, work),
    ) else {
        return Choice::TooMany;
    };
    let (Some(left), Some(right)) = (first.last(), second.last()) else {
        return Choice::None;
    };
    let mut best: Option<(i64, usize, usize)> = None;
    for sum in &target.sums {
        join(left, right, *sum, target.count, budget, &mut best);
    }
    let Some((cost, l, r)) = best else {
        return Choice::None;
    };
    walk_back(&halves[0], &first, l, &mut choice);
    walk_back(&halves[1], &second, r, &mut choice);
    Choice::Found(base + cost, choice)
}

struct Open {
    item: usize,
    ways: Vec<(i64, i64, usize)>,
}

type Stage = Vec<(i64, i64)>;

/// Sums with their least costs after each item, sorted by sum.
fn stages(
    items: &[&Open],
    start: i64,
    budget: i64,
    sums: Sums,
    work: &mut usize,
) -> Option<Vec<Stage>> {
    let mut all = vec![vec![(start, 0)]];
    for item in items {
        let last = all.last()?;
        let mut next: Stage = Vec::with_capacity(last.len() * 2);
        if let [one, other] = item.ways.as_slice() {
            merge(last, *one, *other, budget, &mut next);
        } else {
            for way in &item.ways {
                next.extend(
                    last.iter()
                        .map(|(k, c)| (k + way.0, c + way.1))
                        .filter(|s| s.1 <= budget),
                );
            }
            next.sort_unstable();
            next.dedup_by_key(|s| s.0);
        }
        *work += next.len();
        if sums == Sums::All && next.len() > MOST_SUMS {
            return None;
        }
        if sums == Sums::Sample && next.len() > FEW_SUMS {
            next = sample(next);
        }
        all.push(next);
    }
    Some(all)
}

/// The cheaper half of the places by cost, the others evenly by sum.
fn sample(all: Stage) -> Stage {
    let mut order: Vec<i64> = all.iter().map(|s| s.1).collect();
    let (_, limit, _) = order.select_nth_unstable(FEW_SUMS / 2);
    let limit = *limit;
    let (cheap, dear) = (FEW_SUMS / 2, FEW_SUMS - FEW_SUMS / 2);
    let count = all.iter().filter(|s| s.1 < limit).count();
    let rest = all.len() - count;
    let room = dear + cheap - count.min(cheap);
    let mut seen = 0;
    all.into_iter()
        .filter(|s| {
            if s.1 < limit {
                return true;
            }
            seen += 1;
            (seen * room) / rest != ((seen - 1) * room) / rest
        })
        .collect()
}

fn merge(
    last: &Stage,
    one: (i64, i64, usize),
    other: (i64, i64, usize),
    budget: i64,
    next: &mut Stage,
) {
    let mut a = last
        .iter()
        .map(|(k, c)| (k + one.0, c + one.1))
        .filter(|s| s.1 <= budget)
        .peekable();
    let mut b = last
        .iter()
        .map(|(k, c)| (k + other.0, c + other.1))
        .filter(|s| s.1 <= budget)
        .peekable();
    loop {
        let take = match (a.peek(), b.peek()) {
            (None, None) => return,
            (Some(x), Some(y)) if x.0 == y.0 => {
                let state = (x.0, x.1.min(y.1));
                b.next();
                a.next();
                Some(state)
            }
            (Some(x), Some(y)) if x.0 < y.0 => a.next(),
            (_, Some(_)) => b.next(),
            (Some(_), None) => a.next(),
        };
        next.extend(take);
    }
}

/// The cheapest pair of sums that comes to `sum` with a count in range.
fn join(
    left: &Stage,
    right: &Stage,
    sum: i64,
    count: (i64, i64),
    budget: i64,
    best: &mut Option<(i64, usize, usize)>,
) {
    let mut end = right.len();
    for (l, (lk, lc)) in left.iter().enumerate() {
        let wanted = sum - (lk >> 8);
        while end > 0 && (right[end - 1].0 >> 8) > wanted {
            end -= 1;
        }
        for r in (0..end).rev() {
            let (rk, rc) = right[r];
            if (rk >> 8) != wanted {
                break;
            }
            let on_a = (lk & 255) + (rk & 255);
            let cost = lc + rc;
            let better = best.is_none_or(|(b, _, _)| cost < b);
            if better && cost <= budget && (count.0..=count.1).contains(&on_a) {
                *best = Some((cost, l, r));
            }
        }
    }
}

fn walk_back(items: &[&Open], stages: &[Stage], end: usize, choice: &mut [usize]) {
    let Some((mut key, mut cost)) = stages.last().and_then(|s| s.get(end)).copied() else {
        return;
    };
    for (item, before) in items.iter().zip(stages).rev() {
        let found = item.ways.iter().find_map(|way| {
            let (k, c) = (key - way.0, cost - way.1);
            let at = before.binary_search_by_key(&k, |s| s.0).ok()?;
            (before[at].1 == c).then_some((k, c, way.2))
        });
        if let Some((k, c, e)) = found {
            (key, cost) = (k, c);
            choice[item.item] = e;
        }
    }
}

/// The continuous part of a sum without count.
pub(super) fn continuous_of(sum: i64) -> i64 {
    let low = sum & ((1 << 24) - 1);
    if low >= 1 << 23 { low - (1 << 24) } else { low }
}

/// The load part of a sum without count.
pub(super) fn load_of(sum: i64) -> i64 {
    (sum - continuous_of(sum)) >> 24
}
