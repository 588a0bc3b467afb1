#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]
//! All ways of searching against every layout there is, on small boards made from seeds.

use model::house::Leg;

use super::super::columns::Columns;
use super::super::groups::Grouped;
use super::super::legs::{NEVER, Target, continuous_of, key, load_of};
use super::super::problem::{Cable, Form, Item, Pole, Problem, Space, WholeInches, WholeVa};
use super::super::score::{faults, score};
use super::super::settle::settled;
use super::cells::assigned;
use super::patterns::Patterns;
use super::{Kind, Search, cost_of, with_links};

struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }
}

/// Two columns of `rows` rows; mostly single poles, some two-pole breakers, some heavy continuous loads, alike lengths.
fn board(seed: u64, rows: u16, forms: &[Form]) -> Problem {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
    dice.roll(2);
    let spaces: Vec<Space> = (0..2 * rows)
        .map(|at| Space {
            number: u32::from(at) + 1,
            column: (at / rows) as u8,
            row: at % rows,
            leg: if (at % rows).is_multiple_of(2) {
                Leg::A
            } else {
                Leg::B
            },
            tandem: false,
        })
        .collect();
    let items = forms.iter().enumerate().map(|(i, form)| {
        let wide = *form != Form::Single;
        let pole = |dice: &mut Dice| {
            let load = 100 * (1 + dice.roll(6) as i64);
            let continuous = if dice.roll(3) == 0 { load } else { 0 };
            Pole {
                circuit: format!("{i}"),
                load: WholeVa(load),
                continuous: WholeVa(continuous),
            }
        };
        let first = pole(&mut dice);
        let poles = match form {
            Form::Single => vec![first],
            Form::Double => vec![first.clone(), first],
            _ => vec![first, pole(&mut dice)],
        };
        let entry = dice.roll(3) as i64 * i64::from(rows);
        let lengths = spaces
            .iter()
            .map(|s| WholeInches((i64::from(s.row) - entry).abs() + 4 * i64::from(s.column)));
        let old = dice.roll(u64::from(2 * rows)) as u32 + 1;
        Item {
            id: format!("{i}"),
            form: *form,
            width: if wide { 2 } else { 1 },
            heavy: poles.iter().any(|p| p.continuous.0 > 0),
            poles,
            cables: vec![Cable {
                distance: lengths.collect(),
                free: (dice.roll(3) == 0).then_some(WholeInches(i64::from(rows))),
                old: if wide { vec![old, old + 1] } else { vec![old] },
            }],
            allowed: None,
        }
    });
    Problem {
        board: format!("seed-{seed}"),
        items: items.collect(),
        spaces: spaces.clone(),
        spare: 0,
    }
}

/// Every layout as a column for each item.
fn layouts(problem: &Problem, columns: &Columns) -> Vec<Vec<usize>> {
    fn next(
        problem: &Problem,
        columns: &Columns,
        used: &mut Vec<bool>,
        now: &mut Vec<usize>,
        all: &mut Vec<Vec<usize>>,
    ) {
        if now.len() == problem.items.len() {
            all.push(now.clone());
            return;
        }
        for c in columns.of_item(now.len()) {
            let spaces = &columns.all[c].spaces;
            if spaces.iter().any(|s| used[*s]) {
                continue;
            }
            spaces.iter().for_each(|s| used[*s] = true);
            now.push(c);
            next(problem, columns, used, now, all);
            now.pop();
            spaces.iter().for_each(|s| used[*s] = false);
        }
    }
    let mut all = Vec::new();
    next(
        problem,
        columns,
        &mut vec![false; problem.spaces.len()],
        &mut Vec::new(),
        &mut all,
    );
    all
}

fn sum(columns: &Columns, layout: &[usize]) -> i64 {
    let effect = |c: &usize| columns.effects[columns.all[*c].item][columns.all[*c].choice];
    layout.iter().map(|c| key(effect(c), false) >> 8).sum()
}

/// The sum itself, and the same with the legs changed over.
fn target(sum: i64) -> Target {
    let mut sums = vec![sum, (-load_of(sum) << 24) - continuous_of(sum)];
    sums.sort_unstable();
    sums.dedup();
    Target {
        sums,
        count: (0, 0),
        counted: false,
    }
}

#[test]
fn all_ways_of_searching_find_and_prove_the_cheapest_of_all_layouts() {
    use Form::{Double, Single, Tied};
    let sorts: [&[Form]; 4] = [
        &[Single; 6],
        &[Double, Single, Single, Single, Single],
        &[Double, Tied, Single, Single],
        &[Tied, Single, Single, Single, Single],
    ];
    for seed in 0..120 {
        let forms = sorts[seed as usize % sorts.len()];
        let problem = board(seed, 3 + (seed % 5 == 0) as u16, forms);
        let columns = Columns::of(&problem, false);
        let all = layouts(&problem, &columns);
        let cost = |layout: &Vec<usize>| {
            let seats: Vec<_> = layout.iter().map(|c| columns.all[*c].seat).collect();
            cost_of(&problem, &columns, &seats)
        };
        // The sums of some layout, and sums that may not be met at all.
        let some = sum(&columns, &all[(seed as usize * 7919) % all.len()]);
        for target in [target(some), target(some + (100 << 24))] {
            let meets = |layout: &&Vec<usize>| target.sums.contains(&sum(&columns, layout));
            let least = all.iter().filter(meets).map(cost).min();
            let search = |kind| Search::new(&problem, &columns, 0, &target, kind);
            let patterns = Patterns::of(&columns, &target).expect("few continuous loads");
            let seating = |is_crowded| {
                let mut plain = search(Kind::Plain);
                (plain.limit, plain.is_crowded) = (100_000, is_crowded);
                let bound = plain.seating(&patterns);
                plain.outcome(bound)
            };
            let outcomes = [
                seating(false),
                seating(true),
                with_links(search, 0, None, 100_000),
            ];
            for (way, outcome) in outcomes.into_iter().enumerate() {
                assert!(outcome.finished, "seed {seed}, way {way}");
                assert_eq!(outcome.bound, least, "bound of seed {seed}, way {way}");
                assert_eq!(
                    outcome.best.map(|b| b.0),
                    least,
                    "layout of seed {seed}, way {way}"
                );
            }
        }
    }
}

#[test]
fn assigned_places_cost_the_least_of_all_ways_to_assign_them() {
    /// The least of every way to place the rows from `row` on.
    fn least(costs: &[Vec<i64>], row: usize, used: &mut Vec<bool>) -> Option<i64> {
        let Some(line) = costs.get(row) else {
            return Some(0);
        };
        let mut best: Option<i64> = None;
        for (place, cost) in line.iter().enumerate() {
            if !used[place] && *cost < NEVER {
                used[place] = true;
                let all = least(costs, row + 1, used).map(|rest| rest + cost);
                used[place] = false;
                best = best.into_iter().chain(all).min();
            }
        }
        best
    }
    let (mut some, mut none) = (0, 0);
    for seed in 0..300 {
        let mut dice = Dice(seed * 977 + 1);
        let (rows, places) = (1 + dice.roll(5) as usize, 1 + dice.roll(6) as usize);
        let mut cost = || match dice.roll(3) {
            0 => NEVER,
            _ => dice.roll(9) as i64,
        };
        let costs: Vec<Vec<i64>> = (0..rows)
            .map(|_| (0..places).map(|_| cost()).collect())
            .collect();
        let found = assigned(rows, places, |row, place| costs[row][place]);
        let wanted = least(&costs, 0, &mut vec![false; places]);
        assert_eq!(found.as_ref().map(|f| f.0), wanted, "seed {seed}");
        if let Some((cost, mut seats)) = found {
            let each = seats
                .iter()
                .enumerate()
                .map(|(row, place)| costs[row][*place]);
            assert_eq!(each.sum::<i64>(), cost, "seed {seed}");
            seats.sort_unstable();
            seats.dedup();
            assert_eq!(seats.len(), rows, "no place twice, seed {seed}");
            some += 1;
        } else {
            none += 1;
        }
    }
    assert!(some > 50 && none > 50, "{some} can be assigned, {none} not");
}

#[test]
fn balanced_layouts_are_legal_have_the_right_sums_and_cost_what_is_said() {
    let mut found = 0;
    for seed in 0..60 {
        let problem = board(seed, 7, &[Form::Single; 14]);
        let columns = Columns::of(&problem, false);
        // Item by item from the top; some other order is what is wanted.
        let at = |item: usize, space: usize| {
            columns
                .of_item(item)
                .find(|c| columns.all[*c].spaces == [space])
                .expect("any space will do")
        };
        let layout: Vec<usize> = (0..14).map(|i| at(i, i)).collect();
        let other: Vec<usize> = (0..14)
            .map(|i| at(i, (i * 5 + seed as usize) % 14))
            .collect();
        let wanted = (load_of(sum(&columns, &other)) << 24) + continuous_of(sum(&columns, &layout));
        let target = target(wanted);
        let cost = |layout: &[usize]| -> i64 { layout.iter().map(|c| columns.all[*c].cost).sum() };
        let grouped = Grouped::of(&problem, &columns, |_| true, &layout);
        if let Some((more, new)) = grouped.balanced(&target, &mut 0) {
            found += 1;
            assert!(target.sums.contains(&sum(&columns, &new)), "seed {seed}");
            assert_eq!(cost(&new), cost(&layout) + more, "seed {seed}");
            let seats: Vec<_> = new.iter().map(|c| columns.all[*c].seat).collect();
            assert_eq!(
                faults(&problem, &seats),
                Vec::<String>::new(),
                "seed {seed}"
            );
        }
    }
    assert!(found > 20, "balanced {found} of 60");
}

#[test]
fn settled_layouts_are_legal_cost_no_more_and_keep_the_sums() {
    use Form::{Double, Single, Tied};
    let mut less = 0;
    for seed in 0..60 {
        let forms = [&[Double, Tied, Double, Tied][..], &[Single; 6][..]].concat();
        let problem = board(seed, 7, &forms);
        let columns = Columns::of(&problem, false);
        let mut used = vec![false; problem.spaces.len()];
        let layout: Vec<usize> = (0..forms.len())
            .map(|item| {
                let free = |c: &usize| columns.all[*c].spaces.iter().all(|s| !used[*s]);
                let c = columns.of_item(item).find(free).expect("there is room");
                columns.all[c].spaces.iter().for_each(|s| used[*s] = true);
                c
            })
            .collect();
        let seats = |l: &[usize]| -> Vec<_> { l.iter().map(|c| columns.all[*c].seat).collect() };
        let cost = |l: &[usize]| cost_of(&problem, &columns, &seats(l));
        let new = settled(&problem, &columns, |_| true, layout.clone(), cost, &mut 0);
        assert_eq!(
            faults(&problem, &seats(&new)),
            Vec::<String>::new(),
            "seed {seed}"
        );
        assert_eq!(sum(&columns, &new), sum(&columns, &layout), "seed {seed}");
        assert!(cost(&new) <= cost(&layout), "seed {seed}");
        let touching = |l: &[usize]| score(&problem, &seats(l)).touching;
        less += usize::from(touching(&new) < touching(&layout));
    }
    assert!(less > 20, "fewer touch in {less} of 60");
}
