//! Are the three answers about order the best there are? Each is held against every order, every sharing-out, every choice, tried one by one.
//! Reference: brute force, written here without a look at the rules under test. Seeds are fixed; seconds times weights, exact.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use engine::cutover::order::{Piece, best, bound, schedule, sum};
use engine::cutover::share::share;
use engine::cutover::split::{Between, Landing, Periods, choose};

/// A plain generator of numbers that look random: the same ones on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % below.max(1)
    }
}

fn pieces(dice: &mut Dice, count: usize, chained: bool) -> Vec<Piece> {
    (0..count)
        .map(|i| Piece {
            time: dice.roll(30),
            weight: dice.roll(12),
            follows: (chained && i > 0 && dice.roll(2) == 0).then(|| dice.roll(i as u64) as usize),
        })
        .collect()
}

/// Least weighted sum over every order that lets nobody come before what it follows.
fn least_of_all_orders(pieces: &[Piece]) -> u64 {
    fn go(pieces: &[Piece], done: &mut Vec<bool>, now: u64, so_far: u64, least: &mut u64) {
        if so_far >= *least {
            return;
        }
        if done.iter().all(|d| *d) {
            *least = so_far;
            return;
        }
        for i in 0..pieces.len() {
            if done[i] || pieces[i].follows.is_some_and(|p| !done[p]) {
                continue;
            }
            done[i] = true;
            let end = now + pieces[i].time;
            go(pieces, done, end, so_far + pieces[i].weight * end, least);
            done[i] = false;
        }
    }
    let mut least = u64::MAX;
    go(pieces, &mut vec![false; pieces.len()], 0, 0, &mut least);
    least
}

fn check_order(pieces: &[Piece]) {
    let order = best(pieces);
    let mut sorted = order.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, (0..pieces.len()).collect::<Vec<_>>(), "each once");
    for (place, job) in order.iter().enumerate() {
        if let Some(before) = pieces[*job].follows {
            let earlier = order.iter().position(|j| *j == before).unwrap();
            assert!(earlier < place, "{pieces:?}: {order:?}");
        }
    }
    let found = sum(pieces, &schedule(pieces, &order, 1));
    assert_eq!(found, least_of_all_orders(pieces), "{pieces:?}: {order:?}");
}

#[test]
fn the_order_for_one_worker_is_the_best_of_all_orders() {
    let mut dice = Dice(0x5EED_0001);
    for round in 0..300 {
        let count = 1 + round % 7;
        check_order(&pieces(&mut dice, count, false));
        check_order(&pieces(&mut dice, count, true));
    }
    check_order(&pieces(&mut dice, 9, false));
    check_order(&pieces(&mut dice, 9, true));
}

/// Every way to give the jobs to the workers; each worker then does its own in the best of all orders.
fn every_assignment(count: usize, workers: usize, mut look: impl FnMut(&[usize])) {
    let mut who = vec![0; count];
    loop {
        look(&who);
        let Some(digit) = (0..count).find(|d| who[*d] + 1 < workers) else {
            return;
        };
        who[digit] += 1;
        who[..digit].fill(0);
    }
}

#[test]
fn no_order_for_more_workers_is_below_the_bound_and_the_schedule_is_near_it() {
    let mut dice = Dice(0x5EED_0002);
    for round in 0..60 {
        let (count, workers) = (2 + round % 5, 2 + round % 2);
        let all = pieces(&mut dice, count, false);
        let mut least = u64::MAX;
        every_assignment(count, workers, |who| {
            let each = (0..workers).map(|w| {
                let own: Vec<Piece> = (0..count)
                    .filter(|j| who[*j] == w)
                    .map(|j| all[j])
                    .collect();
                least_of_all_orders(&own)
            });
            least = least.min(each.sum());
        });
        let found = sum(&all, &schedule(&all, &best(&all), workers));
        let bound = bound(&all, workers);
        assert!(
            bound <= least && least <= found,
            "{bound} {least} {found}: {all:?}"
        );
        // Kawaguchi and Kyan (1986): list scheduling by density is at most (1 + sqrt 2) / 2 of the best.
        assert!(
            found as f64 <= least as f64 * 1.2072 + 1e-9,
            "{least} {found}: {all:?}"
        );
    }
}

#[test]
fn jobs_that_follow_wait_and_workers_never_do_two_at_once() {
    let mut dice = Dice(0x5EED_0003);
    for round in 0..200 {
        let workers = 1 + round % 3;
        let all = pieces(&mut dice, 8, true);
        let placed = schedule(&all, &best(&all), workers);
        for (i, (who, start)) in placed.iter().enumerate() {
            if let Some(before) = all[i].follows {
                assert!(placed[before].1 + all[before].time <= *start);
            }
            for (j, (other, begin)) in placed.iter().enumerate().skip(i + 1) {
                let apart = start + all[i].time <= *begin || begin + all[j].time <= *start;
                assert!(who != other || apart, "{i} {j}: {placed:?}");
            }
        }
        assert!(bound(&all, workers) <= sum(&all, &placed));
    }
}

#[test]
fn work_in_the_dark_is_shared_so_that_it_ends_soonest_of_all_sharings() {
    let mut dice = Dice(0x5EED_0004);
    for round in 0..80 {
        let (count, workers) = (1 + round % 9, 1 + round % 3);
        let step = [1, 15, 60][round % 3];
        let times: Vec<u64> = (0..count).map(|_| dice.roll(90) * step).collect();
        let mut soonest = u64::MAX;
        every_assignment(count, workers, |who| {
            let mut loads = vec![0; workers];
            for (time, w) in times.iter().zip(who) {
                loads[*w] += time;
            }
            soonest = soonest.min(loads.into_iter().max().unwrap_or(0));
        });
        let shares = share(&times, workers);
        assert_eq!(shares.last_end, soonest, "{times:?} {workers}");
        assert_eq!(shares.least, soonest, "{times:?} {workers}");
        let mut loads = vec![0; workers];
        for (time, w) in times.iter().zip(&shares.who) {
            loads[*w] += time;
        }
        assert_eq!(loads.into_iter().max().unwrap_or(0), soonest);
    }
}

#[test]
fn a_hundred_jobs_of_odd_times_are_shared_within_the_old_guarantee() {
    // Graham (1969): longest first is at most 4/3 - 1/3m of the best, and the best is no less than the even share.
    let mut dice = Dice(0x5EED_0005);
    let times: Vec<u64> = (0..100).map(|_| 1 + dice.roll(100_000)).collect();
    for workers in 1..=3 {
        let shares = share(&times, workers);
        let even = times.iter().sum::<u64>() as f64 / workers as f64;
        assert!(shares.least as f64 >= even - 1.0 && shares.last_end >= shares.least);
        assert!(shares.last_end as f64 <= even * 4.0 / 3.0);
    }
}

/// Lives through the two dead periods, second by second where it matters, and adds up what runs over and the weighted darkness.
fn live_through(landings: &[Landing], periods: &Periods, first: &[usize]) -> (u64, u64) {
    let rest: Vec<usize> = (0..landings.len()).filter(|i| !first.contains(i)).collect();
    let work = |of: &[usize]| of.iter().map(|i| landings[*i].work).sum::<u64>();
    let on = |of: &[usize]| of.iter().map(|i| landings[*i].restore).sum::<u64>();
    // The order of switching on: heaviest per second, then the tightest limit.
    let switched = |of: &[usize], from: u64| -> Vec<(usize, u64)> {
        let mut order = of.to_vec();
        order.sort_by(|a, b| {
            let (a, b) = (&landings[*a], &landings[*b]);
            let heavier = (b.weight * a.restore).cmp(&(a.weight * b.restore));
            let tight = |l: &Landing| if l.limit == 0 { u64::MAX } else { l.limit };
            heavier.then(tight(a).cmp(&tight(b))).then(a.cmp(b))
        });
        let mut now = from;
        let on = order.iter().map(|i| {
            now += landings[*i].restore;
            (*i, now)
        });
        on.collect()
    };
    let all: Vec<usize> = (0..landings.len()).collect();
    let proof = periods.first + work(first);
    let first_on = switched(first, proof);
    let again = match periods.between {
        Between::Pause(pause) => proof + on(first) + pause,
        Between::Until(begins) => begins,
    };
    let second = periods.second + work(&rest);
    let second_on = switched(&all, again + second);
    let (mut over, mut sum) = (0, 0);
    over += (proof + on(first)).saturating_sub(periods.most_first);
    over += (second + on(&all)).saturating_sub(periods.most_second);
    over += (proof + on(first)).saturating_sub(again);
    for (i, end) in &second_on {
        let Landing { weight, limit, .. } = landings[*i];
        let spans = match first_on.iter().find(|(j, _)| j == i) {
            Some((_, on)) => vec![*on, end - again],
            None => vec![*end],
        };
        sum += weight * spans.iter().sum::<u64>();
        if limit > 0 {
            over += spans.iter().map(|s| s.saturating_sub(limit)).sum::<u64>();
        }
    }
    (over, sum)
}

#[test]
fn what_is_landed_before_the_first_restore_is_the_best_of_all_choices() {
    let mut dice = Dice(0x5EED_0006);
    for round in 0..200_u64 {
        let count = 2 + (round % 8) as usize;
        let landings: Vec<Landing> = (0..count as u64)
            .map(|i| Landing {
                // Those with a limit are all different, since a limit is held against the last of a kind.
                work: 300 * (1 + dice.roll(5)) + if round % 3 == 0 { i } else { 0 },
                restore: 120 * (1 + dice.roll(2)),
                weight: [0, 1, 2, 10][dice.roll(4) as usize],
                limit: if round % 3 == 0 {
                    [0, 4000, 6000][dice.roll(3) as usize]
                } else {
                    0
                },
            })
            .collect();
        let periods = Periods {
            first: 3600,
            second: 1800,
            most_first: 3600 + 300 * dice.roll(20),
            most_second: 20_000,
            between: if round % 2 == 0 {
                Between::Pause(600 * dice.roll(10))
            } else {
                Between::Until(50_000)
            },
            workers: 1,
        };
        let mut least = (u64::MAX, u64::MAX);
        for bits in 1..(1_u32 << count) - 1 {
            let first: Vec<usize> = (0..count).filter(|i| bits >> i & 1 == 1).collect();
            least = least.min(live_through(&landings, &periods, &first));
        }
        let choice = choose(&landings, &periods, None).unwrap();
        assert!(choice.all_weighed);
        assert_eq!((choice.over, choice.sum), least, "{landings:?} {periods:?}");
        assert_eq!(live_through(&landings, &periods, &choice.first), least);
    }
}

#[test]
fn a_limit_on_the_dark_time_decides_before_the_sum_does() {
    // Two alike circuits but for a limit: the one that can bear only 3 h is landed first, whatever the other weighs.
    let landing = |weight, limit| Landing {
        work: 3600,
        restore: 0,
        weight,
        limit,
    };
    let landings = [landing(100, 0), landing(1, 3 * 3600)];
    let periods = Periods {
        first: 3600,
        second: 3600,
        most_first: 8 * 3600,
        most_second: 8 * 3600,
        between: Between::Until(24 * 3600),
        workers: 1,
    };
    let choice = choose(&landings, &periods, None).unwrap();
    assert_eq!((choice.first, choice.over), (vec![1], 0));
}

#[test]
fn nothing_to_choose_from_is_no_choice() {
    let periods = Periods {
        first: 0,
        second: 0,
        most_first: 1,
        most_second: 1,
        between: Between::Pause(0),
        workers: 1,
    };
    assert!(choose(&[], &periods, None).is_none());
    assert!(choose(&[Landing::default()], &periods, None).is_none());
    assert!(best(&[]).is_empty());
    assert!(share(&[], 3).who.is_empty());
}
