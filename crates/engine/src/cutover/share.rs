//! How are jobs shared among workers so that all is done soonest? Used while everything is dark, when only the last end counts.
//! Sources: longest first (Graham, 1969: at most 4/3 - 1/3m of the best), then moves and swaps; where that is not seen to be the best, every
//! reachable sharing-out of the times is marked, and the best one taken. Whole seconds.

/// A sharing-out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shares {
    /// Who does each job.
    pub who: Vec<usize>,
    /// When the last one is done.
    pub last_end: u64,
    /// Nobody can be done sooner.
    pub least: u64,
}

/// Shares jobs among one to three workers. `last_end` is the least there is unless the job times are of too many sizes to mark.
#[must_use]
pub fn share(times: &[u64], workers: usize) -> Shares {
    let workers = workers.max(1);
    let who = longest_first(times, workers);
    let end = last_end(times, &who, workers);
    let least = least(times, workers);
    let shares = Shares {
        who,
        last_end: end,
        least,
    };
    if end > least
        && let Some(who) = marked(times, workers, end)
    {
        let last_end = last_end(times, &who, workers);
        return Shares {
            who,
            last_end,
            least: last_end,
        };
    }
    shares
}

/// Longest first, then improved.
fn longest_first(times: &[u64], workers: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..times.len()).collect();
    order.sort_by_key(|i| (std::cmp::Reverse(times[*i]), *i));
    let mut loads = vec![0_u64; workers];
    let mut who = vec![0; times.len()];
    for job in order {
        let least = (0..workers).min_by_key(|w| (loads[*w], *w)).unwrap_or(0);
        who[job] = least;
        loads[least] += times[job];
    }
    let best = least(times, workers);
    while loads.iter().max().is_some_and(|most| *most > best) {
        if !improve(times, &mut who, &mut loads) {
            break;
        }
    }
    who
}

/// One move or swap that takes time off the busiest worker without making another as busy.
fn improve(times: &[u64], who: &mut [usize], loads: &mut [u64]) -> bool {
    let busiest = (0..loads.len()).max_by_key(|w| (loads[*w], std::cmp::Reverse(*w)));
    let Some(busiest) = busiest else {
        return false;
    };
    let most = loads[busiest];
    let mut best: Option<(u64, usize, Option<usize>, usize)> = None;
    let mut consider = |after: u64, job: usize, against: Option<usize>, to: usize| {
        if after < most && best.is_none_or(|(known, ..)| after < known) {
            best = Some((after, job, against, to));
        }
    };
    for job in (0..times.len()).filter(|j| who[*j] == busiest) {
        for to in (0..loads.len()).filter(|w| *w != busiest) {
            let moved = (most - times[job]).max(loads[to] + times[job]);
            consider(moved, job, None, to);
            for other in (0..times.len()).filter(|o| who[*o] == to && times[*o] < times[job]) {
                let less = times[job] - times[other];
                consider((most - less).max(loads[to] + less), job, Some(other), to);
            }
        }
    }
    let Some((_, job, against, to)) = best else {
        return false;
    };
    let less = times[job] - against.map_or(0, |o| times[o]);
    who[job] = to;
    if let Some(other) = against {
        who[other] = busiest;
    }
    loads[busiest] -= less;
    loads[to] += less;
    true
}

/// When the last one is done.
fn last_end(times: &[u64], who: &[usize], workers: usize) -> u64 {
    let mut loads = vec![0_u64; workers.max(1)];
    for (time, worker) in times.iter().zip(who) {
        loads[*worker] += time;
    }
    loads.into_iter().max().unwrap_or(0)
}

/// Nobody can be done sooner: all the work shared evenly, or the longest job.
fn least(times: &[u64], workers: usize) -> u64 {
    let all: u64 = times.iter().sum();
    let longest = times.iter().copied().max().unwrap_or(0);
    all.div_ceil(workers.max(1) as u64).max(longest)
}

/// Most words of marks kept.
const MOST_MARKS: usize = 2_000_000;

/// Marks what the first workers can have between them, job after job; the last worker has the rest. None when that would take too much.
/// `most` is an end that is known to be possible.
fn marked(times: &[u64], workers: usize, most: u64) -> Option<Vec<usize>> {
    let step = times.iter().fold(0, |a, b| greatest_common(a, *b)).max(1);
    let times: Vec<usize> = times
        .iter()
        .map(|t| usize::try_from(t / step).ok())
        .collect::<Option<_>>()?;
    let size = usize::try_from(most / step).ok()? + 1;
    let rows = match workers {
        2 => 1,
        3 => size,
        _ => return None,
    };
    let words = size.div_ceil(64);
    let cells = rows.checked_mul(words)?.checked_mul(times.len() + 1)?;
    if cells > MOST_MARKS {
        return None;
    }
    let mut marks = vec![vec![0_u64; rows * words]];
    marks[0][0] = 1;
    for time in &times {
        let old = marks.last()?;
        let mut new = old.clone();
        for row in 0..rows {
            let from = &old[row * words..(row + 1) * words];
            shifted_into(&mut new[row * words..(row + 1) * words], from, *time, size);
            if workers == 3 && row + time < rows {
                let to = (row + time) * words;
                for (word, mark) in new[to..to + words].iter_mut().zip(from) {
                    *word |= mark;
                }
            }
        }
        marks.push(new);
    }
    let all: usize = times.iter().sum();
    let last = marks.last()?;
    let marked =
        |marks: &[u64], row: usize, at: usize| marks[row * words + at / 64] >> (at % 64) & 1 == 1;
    let reachable = (0..rows).flat_map(|row| (0..size).map(move |at| (row, at)));
    let (mut row, mut at) = reachable
        .filter(|(row, at)| row + at <= all && marked(last, *row, *at))
        .min_by_key(|(row, at)| (*row.max(at).max(&(all - row - at)), *row, *at))?;
    let mut who = vec![0; times.len()];
    for (job, time) in times.iter().enumerate().rev() {
        let before = &marks[job];
        who[job] = if marked(before, row, at) {
            workers - 1
        } else if at >= *time && marked(before, row, at - time) {
            at -= time;
            0
        } else {
            row = row.checked_sub(*time)?;
            1
        };
    }
    Some(who)
}

/// Adds the marks of `from`, moved up by `by`, as far as they stay below `size`.
fn shifted_into(into: &mut [u64], from: &[u64], by: usize, size: usize) {
    let (words, bits) = (by / 64, by % 64);
    for i in words..into.len() {
        let low = from[i - words] << bits;
        let carried = if bits > 0 && i > words {
            from[i - words - 1] >> (64 - bits)
        } else {
            0
        };
        into[i] |= low | carried;
    }
    if let Some(last) = into.last_mut()
        && !size.is_multiple_of(64)
    {
        *last &= (1 << (size % 64)) - 1;
    }
}

fn greatest_common(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { greatest_common(b, a % b) }
}
