//! From a layout whose sums on the legs are off, to one whose sums are right, by many swaps at once.
//! Source: disjoint swaps between the legs, chosen together by exact sums ([`super::legs`]). Finds good layouts; proves nothing.

use super::columns::{Columns, Effect};
use super::legs::{Choice, NEVER, Sums, Target, cheapest, key, least};
use super::problem::Problem;

/// One change that touches nothing else.
struct Change {
    cost: i64,
    effect: Effect,
    /// Items with their new columns.
    items: Vec<(usize, usize)>,
    /// Free space it uses.
    free: Option<usize>,
}

/// A layout with the right sums near `layout` (a column for each item), or `None`. Different `salt` tries different changes.
pub(super) fn swapped(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    layout: &[usize],
    target: &Target,
    salt: u64,
    work: &mut usize,
) -> Option<Vec<usize>> {
    let mut changes = changes(problem, columns, is_open, layout);
    let mixed = |c: &Change| {
        let id = c.items.iter().fold(salt, |h, (i, to)| {
            (h ^ ((i * 1000 + to) as u64)).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        });
        id >> 32
    };
    // Costs in coarse steps, so that different salts pair differently among about equals.
    let step = (columns.weights.reach / 2).max(1) * (1 + (salt as i64 % 4) * 2);
    changes.sort_by_cached_key(|c| (c.cost.div_euclid(step), mixed(c)));
    let mut used = vec![false; layout.len()];
    let mut taken = vec![false; problem.spaces.len()];
    changes.retain(|c| {
        let free = c.items.iter().all(|(i, _)| !used[*i]) && c.free.is_none_or(|s| !taken[s]);
        if free {
            for (i, _) in &c.items {
                used[*i] = true;
            }
            if let Some(s) = c.free {
                taken[s] = true;
            }
        }
        free
    });
    let now: i64 = layout
        .iter()
        .map(|c| {
            let column = &columns.all[*c];
            key(columns.effects[column.item][column.choice], false) >> 8
        })
        .sum();
    let wanted = Target {
        sums: target.sums.iter().map(|s| s - now).collect(),
        count: (0, 0),
        counted: false,
    };
    let nothing = Effect {
        load: 0,
        continuous: 0,
        on_a: false,
    };
    let effects: Vec<Vec<Effect>> = changes.iter().map(|c| vec![nothing, c.effect]).collect();
    let costs: Vec<Vec<i64>> = changes.iter().map(|c| vec![0, c.cost]).collect();
    let base = least(&costs)?;
    let step = columns.weights.moves;
    for more in [0, 2, 8, 64, 256, 2048, NEVER / step / 2] {
        let budget = base + more * step;
        if let Choice::Found(_, chosen) =
            cheapest(&effects, &costs, &wanted, budget, Sums::Sample, work)
        {
            let mut layout = layout.to_vec();
            for (change, _) in changes.iter().zip(&chosen).filter(|(_, c)| **c == 1) {
                for (item, to) in &change.items {
                    layout[*item] = *to;
                }
            }
            return Some(layout);
        }
    }
    None
}

/// Layouts one change away that leave the continuous loads where they are, with what they cost more, the cheapest first. Changes between two
/// items that are `joined` are left out.
pub(super) fn near(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    layout: &[usize],
    joined: impl Fn(usize, usize) -> bool,
) -> Vec<(i64, Vec<usize>)> {
    let mut changes = changes(problem, columns, is_open, layout);
    changes.retain(|c| {
        let within = match c.items.as_slice() {
            [(one, _), (other, _)] => joined(*one, *other),
            _ => false,
        };
        c.effect.continuous == 0 && !within
    });
    changes.sort_by_key(|c| c.cost);
    let changed = |c: &Change| {
        let mut new = layout.to_vec();
        for (item, to) in &c.items {
            new[*item] = *to;
        }
        (c.cost, new)
    };
    changes.iter().map(changed).collect()
}

/// Swaps of two single poles on different legs, single poles to free spaces of the other leg, and turned pairs.
fn changes(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    layout: &[usize],
) -> Vec<Change> {
    let mut free = vec![true; problem.spaces.len()];
    for c in layout {
        for s in &columns.all[*c].spaces {
            free[*s] = false;
        }
    }
    // The column of each single pole in each space.
    let mut at: Vec<Vec<Option<usize>>> = vec![vec![None; problem.spaces.len()]; layout.len()];
    for (c, column) in columns.all.iter().enumerate() {
        if column.spaces.len() == 1 && !column.seat.half && is_open(c) {
            at[column.item][column.spaces[0]] = Some(c);
        }
    }
    let cost = |c: usize| columns.all[c].cost;
    let effect = |c: usize| columns.effects[columns.all[c].item][columns.all[c].choice];
    let mut found = Vec::new();
    let mut add = |items: Vec<(usize, usize)>, free: Option<usize>| {
        let mut change = Change {
            cost: 0,
            effect: Effect {
                load: 0,
                continuous: 0,
                on_a: false,
            },
            items,
            free,
        };
        for (item, to) in &change.items {
            change.cost += cost(*to) - cost(layout[*item]);
            change.effect.load += effect(*to).load - effect(layout[*item]).load;
            change.effect.continuous += effect(*to).continuous - effect(layout[*item]).continuous;
        }
        let moves_nothing = change.effect.load == 0 && change.effect.continuous == 0;
        if !moves_nothing || change.cost < 0 {
            found.push(change);
        }
    };
    let single = |i: usize| {
        let column = &columns.all[layout[i]];
        column.spaces.len() == 1 && !column.seat.half
    };
    for i in 0..layout.len() {
        let here = &columns.all[layout[i]];
        if !single(i) {
            let turned = columns.of_item(i).find(|c| {
                columns.all[*c].spaces == here.spaces
                    && columns.all[*c].seat.turned != here.seat.turned
            });
            if let Some(turned) = turned.filter(|c| is_open(*c)) {
                add(vec![(i, turned)], None);
            }
            continue;
        }
        let from = here.spaces[0];
        for j in i + 1..layout.len() {
            if !single(j) {
                continue;
            }
            let to = columns.all[layout[j]].spaces[0];
            if let (Some(a), Some(b)) = (at[i][to], at[j][from]) {
                add(vec![(i, a), (j, b)], None);
            }
        }
        for s in (0..free.len()).filter(|s| free[*s]) {
            if let Some(a) = at[i][s] {
                add(vec![(i, a)], Some(s));
            }
        }
    }
    found
}
