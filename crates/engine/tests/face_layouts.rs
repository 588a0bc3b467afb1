//! Is a layout legal, is it the best, and is what it claims to be proven true?
//! Beside brute force over every layout of small boards, and identities that hold for any board.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod face_instances;

use engine::face::score::{faults, score};
use engine::face::{
    BOX_SIZES, Form, Item, Pole, Problem, Score, Seat, Unsolved, WholeVa, changes, legs, solve,
    solve_within,
};
use face_instances::{Sort, instance, spaces};
use proptest::prelude::*;

const SMALL: Sort = Sort {
    spaces: 8,
    doubles: 1,
    tied: 1,
    singles: 3,
    tandems: false,
    spare: 0,
    old: 70,
    cables: true,
};

/// The best score of all layouts, by trying each of them.
fn brute_force(problem: &Problem) -> Option<Score> {
    fn go(problem: &Problem, seats: &mut Vec<Seat>, units: &mut [u8], best: &mut Option<Score>) {
        let index = seats.len();
        let Some(item) = problem.items.get(index) else {
            if faults(problem, seats).is_empty() {
                let found = score(problem, seats);
                if best.is_none_or(|b| found < b) {
                    *best = Some(found);
                }
            }
            return;
        };
        for space in 0..problem.spaces.len() {
            for (half, turned) in [(false, false), (false, true), (true, false)] {
                if (half && item.form != Form::Half) || (turned && item.form != Form::Tied) {
                    continue;
                }
                let end = space + usize::from(item.width);
                let takes = if half { 1 } else { 2 };
                if end > units.len() || units[space..end].iter().any(|u| u + takes > 2) {
                    continue;
                }
                units[space..end].iter_mut().for_each(|u| *u += takes);
                seats.push(Seat {
                    space,
                    half,
                    turned,
                });
                go(problem, seats, units, best);
                seats.pop();
                units[space..end].iter_mut().for_each(|u| *u -= takes);
            }
        }
    }
    let mut best = None;
    let mut units = vec![0; problem.spaces.len()];
    go(problem, &mut Vec::new(), &mut units, &mut best);
    best
}

fn check(problem: &Problem) {
    let found = solve_within(problem, 50_000);
    match (brute_force(problem), found) {
        (None, Err(_)) => {}
        (Some(best), Ok(layout)) => {
            assert_eq!(layout.score, best, "{}", problem.board);
            assert!(layout.is_proven(), "{}: {:?}", problem.board, layout.proofs);
        }
        (best, found) => panic!("{}: {best:?} by force, {found:?}", problem.board),
    }
}

#[test]
fn small_boards_are_solved_as_by_trying_every_layout() {
    for seed in 0..60 {
        check(&instance(seed, SMALL));
        check(&instance(
            seed,
            Sort {
                spaces: 7,
                tied: 0,
                singles: 4,
                ..SMALL
            },
        ));
        check(&instance(
            seed,
            Sort {
                spaces: 6,
                singles: 2,
                spare: 0,
                ..SMALL
            },
        ));
    }
}

#[test]
fn small_boards_with_tandems_are_solved_as_by_trying_every_layout() {
    for seed in 0..40 {
        check(&instance(
            seed,
            Sort {
                spaces: 6,
                tied: 0,
                singles: 5,
                tandems: true,
                ..SMALL
            },
        ));
        check(&instance(
            seed,
            Sort {
                spaces: 4,
                tied: 0,
                doubles: 0,
                singles: 5,
                tandems: true,
                ..SMALL
            },
        ));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]
    #[test]
    fn a_layout_is_legal_scored_right_and_never_below_its_bound(
        seed in any::<u32>(),
        rows in 4u32..12,
        doubles in 0u32..3,
        tied in 0u32..2,
        singles in 0u32..8,
        tandems in any::<bool>(),
        spare in 0u32..3,
    ) {
        let sort = Sort { spaces: 2 * rows, doubles, tied, singles, tandems, spare, old: 70, cables: true };
        let problem = instance(u64::from(seed), sort);
        let found = solve_within(&problem, 1_500);
        if let Ok(layout) = &found {
            prop_assert_eq!(faults(&problem, &layout.seats), Vec::<String>::new());
            prop_assert_eq!(score(&problem, &layout.seats), layout.score);
            for (proof, value) in layout.proofs.iter().zip(layout.score.levels()) {
                prop_assert_eq!(proof.value, value);
                prop_assert!(proof.bound <= value);
                prop_assert!(!proof.proven || proof.bound == value);
            }
            // Both legs together carry everything, whatever goes where.
            let sums = legs(&problem, &layout.seats);
            let all: i64 = problem.items.iter().flat_map(|i| &i.poles).map(|p| p.load.0).sum();
            prop_assert_eq!(sums.load[0] + sums.load[1], all);
            prop_assert_eq!((sums.load[0] - sums.load[1]).abs(), layout.score.imbalance);
        }
        prop_assert_eq!(found, solve_within(&problem, 1_500));
    }
}

/// Single poles of these loads in a board of this many spaces.
fn singles(count: u32, loads: &[i64]) -> Problem {
    let items = loads.iter().enumerate().map(|(i, load)| Item {
        id: format!("c{i}"),
        form: Form::Half,
        width: 1,
        poles: vec![Pole {
            circuit: format!("c{i}"),
            load: WholeVa(*load),
            continuous: WholeVa(0),
        }],
        cables: Vec::new(),
        allowed: None,
        heavy: false,
    });
    Problem {
        board: "b".to_owned(),
        spaces: spaces(count, false),
        items: items.collect(),
        spare: 0,
    }
}

#[test]
fn the_least_imbalance_counts_the_spaces_of_each_leg() {
    // Two spaces a leg: 5 + 4 against 3 + 2. With room for it, 5 + 2 balances 4 + 3 exactly.
    assert_eq!(
        solve(&singles(4, &[5, 4, 3, 2])).unwrap().score.imbalance,
        0
    );
    // 6 against 3 + 2 + 1 would balance; with two spaces a leg 6 + 1 against 3 + 2 is the best.
    assert_eq!(
        solve(&singles(4, &[6, 3, 2, 1])).unwrap().score.imbalance,
        2
    );
    assert_eq!(
        solve(&singles(8, &[6, 3, 2, 1])).unwrap().score.imbalance,
        0
    );
}

#[test]
fn legs_are_a_fact_of_the_board_and_not_of_the_number() {
    // Rows A A B B: a two-pole breaker fits only where the leg changes.
    let mut problem = singles(8, &[]);
    for space in &mut problem.spaces {
        space.leg = if space.row < 2 {
            model::house::Leg::A
        } else {
            model::house::Leg::B
        };
    }
    let pole = Pole {
        circuit: "d".to_owned(),
        ..Pole::default()
    };
    problem.items = vec![Item {
        id: "d".to_owned(),
        form: Form::Double,
        width: 2,
        poles: vec![pole.clone(), pole],
        cables: Vec::new(),
        allowed: None,
        heavy: false,
    }];
    let layout = solve(&problem).unwrap();
    assert_eq!(problem.spaces[layout.seats[0].space].row, 1);
}

#[test]
fn more_circuits_than_spaces_name_the_count_and_changes_that_were_tried_out() {
    let mut problem = singles(6, &[100; 9]);
    let found = solve(&problem);
    assert_eq!(
        found,
        Err(Unsolved::TooFew {
            needed: 9,
            there: 6
        })
    );
    let offered: Vec<String> = changes(&problem).into_iter().map(|c| c.what).collect();
    assert_eq!(offered.len(), 3, "{offered:?}");
    // Each of them holds: three tandems, the next box, a second board.
    assert!(
        offered[0].contains("in 3 more spaces") && offered[1].contains("12 spaces"),
        "{offered:?}"
    );
    assert!(offered[2].contains("with 5 of"), "{offered:?}");
    for space in &mut problem.spaces[..3] {
        space.tandem = true;
    }
    assert_eq!(solve(&problem).unwrap().score.tandem_halves, 6);
    assert!(BOX_SIZES.contains(&12));
}

#[test]
fn fixed_places_that_leave_no_pair_are_found_out() {
    let mut problem = singles(4, &[10, 10]);
    problem.items[0].allowed = Some(vec![1]);
    problem.items[1].allowed = Some(vec![4]);
    let pole = Pole {
        circuit: "d".to_owned(),
        ..Pole::default()
    };
    problem.items.push(Item {
        id: "d".to_owned(),
        form: Form::Double,
        width: 2,
        poles: vec![pole.clone(), pole],
        cables: Vec::new(),
        allowed: None,
        heavy: false,
    });
    assert_eq!(solve(&problem), Err(Unsolved::NoLayout));
    let offered = changes(&problem);
    assert!(
        offered.iter().any(|c| c.what.contains("`c0`")),
        "{offered:?}"
    );
    problem.items[0].allowed = None;
    assert!(solve(&problem).is_ok());
}

#[test]
fn an_empty_board_and_a_huge_load_are_told_apart() {
    assert!(solve(&singles(4, &[])).unwrap().is_proven());
    assert!(matches!(
        solve(&singles(4, &[9_000_000])),
        Err(Unsolved::TooLarge(_))
    ));
}
