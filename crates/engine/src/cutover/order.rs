//! In which order do jobs come back soonest, weighed? Weighted sum of completion times, for one worker and for more.
//! Sources: Smith's rule (1956) for one worker; Horn (1972) where a job follows another; Eastman, Even and Isaacs (1964) for the bound
//! with more workers. Whole seconds times whole weights: exact.

use std::cmp::Ordering;

/// A job to be put in order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Piece {
    /// Seconds of one worker.
    pub time: u64,
    /// What a second until its end weighs.
    pub weight: u64,
    /// The job that must end before this one begins.
    pub follows: Option<usize>,
}

/// The best order for one worker. Optimal also where jobs follow one another, as long as each follows at most one and none itself:
/// the densest block of jobs goes right behind the block it waits for, so it is joined to that block, until it waits for nothing.
#[must_use]
pub fn best(pieces: &[Piece]) -> Vec<usize> {
    let mut blocks: Vec<Option<Block>> = pieces
        .iter()
        .enumerate()
        .map(|(i, p)| Some(Block::of(i, p)))
        .collect();
    let mut in_block: Vec<usize> = (0..pieces.len()).collect();
    let mut done = vec![false; pieces.len()];
    let mut order = Vec::with_capacity(pieces.len());
    loop {
        let densest = (0..blocks.len())
            .filter_map(|i| blocks[i].as_ref().map(|b| (i, b)))
            .max_by(|(i, a), (j, b)| a.density(b).then(j.cmp(i)))
            .map(|(i, _)| i);
        let Some(block) = densest.and_then(|i| blocks[i].take()) else {
            return order;
        };
        let first = block.jobs.first().copied().unwrap_or_default();
        let waits_for = pieces[first]
            .follows
            .filter(|p| *p < pieces.len() && !done[*p])
            .map(|p| in_block[p])
            .filter(|b| blocks[*b].is_some());
        match waits_for.and_then(|b| blocks[b].as_mut().map(|into| (b, into))) {
            Some((b, into)) => {
                for job in &block.jobs {
                    in_block[*job] = b;
                }
                into.join(block);
            }
            None => {
                for job in &block.jobs {
                    done[*job] = true;
                }
                order.extend(block.jobs);
            }
        }
    }
}

struct Block {
    jobs: Vec<usize>,
    time: u64,
    weight: u64,
}

impl Block {
    fn of(index: usize, piece: &Piece) -> Self {
        Self {
            jobs: vec![index],
            time: piece.time,
            weight: piece.weight,
        }
    }

    fn join(&mut self, later: Self) {
        self.jobs.extend(later.jobs);
        self.time += later.time;
        self.weight += later.weight;
    }

    fn density(&self, other: &Self) -> Ordering {
        density((self.weight, self.time), (other.weight, other.time))
    }
}

/// Weight per time, compared without dividing; no time at all is densest when it weighs anything.
pub(super) fn density(one: (u64, u64), other: (u64, u64)) -> Ordering {
    match (one.1, other.1) {
        (0, 0) => one.0.cmp(&other.0),
        (0, _) => match (one.0, other.0) {
            (0, 0) => Ordering::Equal,
            (0, _) => Ordering::Less,
            _ => Ordering::Greater,
        },
        (_, 0) => density(other, one).reverse(),
        _ => (u128::from(one.0) * u128::from(other.1))
            .cmp(&(u128::from(other.0) * u128::from(one.1))),
    }
}

/// Start of each job when workers take the jobs in this order, each the next one as soon as free and as what it follows has ended;
/// and who does it.
#[must_use]
pub fn schedule(pieces: &[Piece], order: &[usize], workers: usize) -> Vec<(usize, u64)> {
    let mut free = vec![0_u64; workers.max(1)];
    let mut placed = vec![(0, 0); pieces.len()];
    for &job in order {
        let ready = pieces[job]
            .follows
            .filter(|p| *p < pieces.len())
            .map_or(0, |p| placed[p].1 + pieces[p].time);
        let who = (0..free.len()).min_by_key(|w| (free[*w].max(ready), *w));
        let who = who.unwrap_or_default();
        let start = free[who].max(ready);
        placed[job] = (who, start);
        free[who] = start + pieces[job].time;
    }
    placed
}

/// Weighted sum of ends of a schedule.
#[must_use]
pub fn sum(pieces: &[Piece], placed: &[(usize, u64)]) -> u64 {
    let ends = pieces.iter().zip(placed);
    ends.map(|(p, (_, start))| p.weight * (start + p.time))
        .sum()
}

/// No schedule of so many workers has a smaller weighted sum.
/// For one worker the optimum itself. For more: optimum of one worker / m + (m - 1) / 2m of the sum of weight x time.
#[must_use]
pub fn bound(pieces: &[Piece], workers: usize) -> u64 {
    let m = workers.max(1) as u64;
    if m == 1 {
        return sum(pieces, &schedule(pieces, &best(pieces), 1));
    }
    let free: Vec<Piece> = pieces
        .iter()
        .map(|p| Piece {
            follows: None,
            ..*p
        })
        .collect();
    let alone = sum(&free, &schedule(&free, &best(&free), 1));
    let own: u64 = pieces.iter().map(|p| p.weight * p.time).sum();
    (2 * alone + (m - 1) * own).div_ceil(2 * m)
}
