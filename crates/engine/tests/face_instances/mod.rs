//! Boards made from a seed, for comparison with other ways of solving them. Loads, entries and old positions are invented.
#![allow(dead_code, reason = "each program that includes this uses a part")]

use engine::face::{Cable, Form, Item, Pole, Problem, Space, WholeInches, WholeVa};
use model::house::Leg;

/// Numbers from a seed: the same everywhere.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5bd1_e995);
        dice.roll(2);
        dice
    }

    /// 0 to `sides` - 1.
    pub(crate) fn roll(&mut self, sides: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as i64) % sides.max(1)
    }

    pub(crate) fn chance(&mut self, percent: i64) -> bool {
        self.roll(100) < percent
    }
}

/// What sort of board.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sort {
    pub(crate) spaces: u32,
    pub(crate) doubles: u32,
    pub(crate) tied: u32,
    pub(crate) singles: u32,
    pub(crate) tandems: bool,
    pub(crate) spare: u32,
    /// Per cent of items that have an old position in this board.
    pub(crate) old: i64,
    /// Entries, lengths and pins as a survey would have them.
    pub(crate) cables: bool,
}

/// A board with spaces numbered across, legs changing from row to row.
pub(crate) fn spaces(count: u32, tandems: bool) -> Vec<Space> {
    let mut spaces: Vec<Space> = (1..=count)
        .map(|number| {
            let row = ((number - 1) / 2) as u16;
            Space {
                number,
                column: ((number - 1) % 2) as u8,
                row,
                leg: if row.is_multiple_of(2) {
                    Leg::A
                } else {
                    Leg::B
                },
                tandem: tandems && number > count / 2,
            }
        })
        .collect();
    spaces.sort_by_key(|s| (s.column, s.row));
    spaces
}

pub(crate) fn instance(seed: u64, sort: Sort) -> Problem {
    let mut dice = Dice::new(seed);
    let mut problem = Problem {
        board: format!("seed-{seed}"),
        spaces: spaces(sort.spaces, sort.tandems),
        items: Vec::new(),
        spare: sort.spare,
    };
    for i in 0..sort.doubles {
        let half = 500 + 250 * dice.roll(20);
        let continuous = if dice.chance(30) { half } else { 0 };
        let pole = Pole {
            circuit: format!("d{i}"),
            load: WholeVa(half),
            continuous: WholeVa(continuous),
        };
        push(
            &mut problem,
            Form::Double,
            vec![pole.clone(), pole],
            continuous > 0,
        );
    }
    for i in 0..sort.tied {
        let poles = (0..2)
            .map(|p| single(&mut dice, format!("t{i}-{p}")))
            .collect();
        push(&mut problem, Form::Tied, poles, false);
    }
    for i in 0..sort.singles {
        let half = sort.tandems && dice.chance(60);
        let pole = single(&mut dice, format!("s{i}"));
        let heavy = pole.continuous.0 > 800;
        let form = if half { Form::Half } else { Form::Single };
        push(&mut problem, form, vec![pole], heavy && !half);
    }
    old_positions(&mut problem, &mut dice, sort.old);
    if sort.cables {
        cables(&mut problem, &mut dice);
    }
    problem
}

fn single(dice: &mut Dice, circuit: String) -> Pole {
    let load = match dice.roll(10) {
        0..=3 => 180 * (1 + dice.roll(10)),
        4..=6 => 1500,
        _ => 300 + dice.roll(1500),
    };
    let continuous = if dice.chance(15) { load - load % 10 } else { 0 };
    Pole {
        circuit,
        load: WholeVa(load),
        continuous: WholeVa(continuous),
    }
}

fn push(problem: &mut Problem, form: Form, poles: Vec<Pole>, heavy: bool) {
    let width = if matches!(form, Form::Double | Form::Tied) {
        2
    } else {
        1
    };
    problem.items.push(Item {
        id: poles[0].circuit.clone(),
        form,
        width,
        poles,
        cables: vec![Cable::default()],
        allowed: None,
        heavy,
    });
}

/// Puts items down at random, as an old board might have them; what finds no place counts as new.
fn old_positions(problem: &mut Problem, dice: &mut Dice, percent: i64) {
    let mut free = vec![true; problem.spaces.len()];
    for i in 0..problem.items.len() {
        if !dice.chance(percent) {
            continue;
        }
        for _ in 0..20 {
            let at = dice.roll(problem.spaces.len() as i64) as usize;
            let below = problem.below(at);
            let wide = problem.items[i].width == 2;
            let fits = free[at] && (!wide || below.is_some_and(|b| free[b]));
            if !fits {
                continue;
            }
            free[at] = false;
            let mut old = vec![problem.spaces[at].number];
            if let (true, Some(below)) = (wide, below) {
                free[below] = false;
                old.push(problem.spaces[below].number);
            }
            problem.items[i].cables[0].old = old;
            break;
        }
    }
}

fn cables(problem: &mut Problem, dice: &mut Dice) {
    let rows = problem
        .spaces
        .iter()
        .map(|s| i64::from(s.row))
        .max()
        .unwrap_or(0)
        + 1;
    for item in &mut problem.items {
        if dice.chance(15) {
            continue;
        }
        let (x, y) = match dice.roll(20) {
            0..=11 => (dice.roll(15), 0),
            12..=16 => (dice.roll(15), rows + 12),
            17..=18 => (0, 6 + dice.roll(rows)),
            _ => (14, 6 + dice.roll(rows)),
        };
        let distance = problem
            .spaces
            .iter()
            .map(|s| {
                let gutter = if s.column == 0 { 2 } else { 12 };
                WholeInches((x - gutter).abs() + (y - 6 - i64::from(s.row)).abs() + 3)
            })
            .collect();
        let cable = &mut item.cables[0];
        cable.distance = distance;
        if dice.chance(20) {
            cable.free = Some(WholeInches(8 + dice.roll(rows + 16)));
        }
        if !cable.old.is_empty() && dice.chance(6) {
            item.allowed = Some(vec![cable.old[0]]);
        }
    }
}
