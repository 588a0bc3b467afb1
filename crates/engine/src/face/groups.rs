//! From a layout whose loads on the legs are off, to one that costs just as much and whose loads are right.
//! Source: single poles that may change places among themselves at no cost; which of them go on leg A is found by exact subset sums. Whole VA.
//!
//! Finds good layouts; proves nothing.

use super::balance::or_shifted;
use super::columns::Columns;
use super::legs::{Target, continuous_of, key, load_of};
use super::problem::Problem;

/// Largest sum of loads that is worked on, VA: keeps the tables small.
const MOST_SUM: usize = 1 << 17;

/// A single pole that may change places.
#[derive(Clone, Copy)]
struct Member {
    item: usize,
    space: usize,
    load: usize,
    on_a: bool,
}

/// The sums that can be on leg A, by how many members of the present group are there: a bit for each sum.
type Layer = Vec<Vec<u64>>;

/// Exchanges of two poles outside the groups that are looked at, and those that are looked at two at a time.
const MOST_EXCHANGES: usize = 200;
const MOST_TOGETHER: usize = 60;

/// Two poles on different legs that change places: what that adds to the cost and takes from the load that is still to go to leg A.
struct Exchange {
    cost: i64,
    load: i64,
    items: [usize; 2],
}

/// Columns of the poles that may change places, and the groups among them.
pub(super) struct Grouped<'p> {
    columns: &'p Columns,
    layout: Vec<usize>,
    seats: Vec<Vec<Option<usize>>>,
    groups: Vec<Vec<Member>>,
}

impl<'p> Grouped<'p> {
    pub(super) fn of(
        problem: &Problem,
        columns: &'p Columns,
        is_open: impl Fn(usize) -> bool,
        layout: &[usize],
    ) -> Self {
        let seats = seats(problem, columns, is_open, layout);
        let groups = groups(columns, &seats, layout);
        Self {
            columns,
            layout: layout.to_vec(),
            seats,
            groups,
        }
    }

    /// Both are of one group.
    pub(super) fn joined(&self, one: usize, other: usize) -> bool {
        let has = |g: &[Member], item: usize| g.iter().any(|m| m.item == item);
        self.groups.iter().any(|g| has(g, one) && has(g, other))
    }

    /// The cheapest layout found that has the right sums, and what it costs more than this one.
    pub(super) fn balanced(&self, target: &Target, work: &mut usize) -> Option<(i64, Vec<usize>)> {
        let now: i64 = self
            .layout
            .iter()
            .map(|c| effect_of(self.columns, *c))
            .sum();
        let total: usize = self.groups.iter().flatten().map(|m| m.load).sum();
        if total > MOST_SUM {
            return None;
        }
        let on_a = self.groups.iter().flatten().filter(|m| m.on_a);
        let on_a: i64 = on_a.map(|m| m.load as i64).sum();
        // A load that goes from leg B to leg A counts twice.
        let wanted: Vec<i64> = target
            .sums
            .iter()
            .filter(|sum| continuous_of(**sum) == continuous_of(now))
            .map(|sum| load_of(*sum) - load_of(now))
            .filter(|more| more % 2 == 0)
            .map(|more| on_a + more / 2)
            .collect();
        if wanted.is_empty() {
            return None;
        }
        let layers = layers(&self.groups, total, work);
        let last = layers.last()?;
        let reached = |load: i64| {
            let sums = wanted.iter().map(|w| w - load);
            sums.filter_map(|s| usize::try_from(s).ok())
                .find(|s| has(last, last.len() - 1, *s))
        };
        let exchanges = self.exchanges();
        let apart = |a: &Exchange, b: &Exchange| a.items.iter().all(|i| !b.items.contains(i));
        let mut ways: Vec<(i64, i64, Vec<usize>)> = vec![(0, 0, Vec::new())];
        for (i, one) in exchanges.iter().enumerate() {
            ways.push((one.cost, one.load, vec![i]));
            for (j, other) in exchanges.iter().enumerate().take(MOST_TOGETHER).skip(i + 1) {
                if i < MOST_TOGETHER && apart(one, other) {
                    ways.push((one.cost + other.cost, one.load + other.load, vec![i, j]));
                }
            }
        }
        *work += ways.len();
        ways.sort();
        let (cost, sum, used) = ways
            .into_iter()
            .find_map(|(cost, load, used)| reached(load).map(|sum| (cost, sum, used)))?;
        let mut new = self.layout.clone();
        for at in used {
            let [one, other] = exchanges[at].items;
            self.change_places(&mut new, one, other)?;
        }
        for (group, on_a) in self
            .groups
            .iter()
            .zip(&walk_back(&self.groups, &layers, sum))
        {
            let mover = |from: bool| {
                let each = group.iter().zip(on_a);
                each.filter(move |(m, a)| m.on_a == from && **a != from)
                    .map(|(m, _)| m)
            };
            for (one, other) in mover(true).zip(mover(false)) {
                self.change_places(&mut new, one.item, other.item)?;
            }
        }
        Some((cost, new))
    }

    fn space(&self, item: usize) -> usize {
        self.columns.all[self.layout[item]].spaces[0]
    }

    fn change_places(&self, layout: &mut [usize], one: usize, other: usize) -> Option<()> {
        layout[one] = self.seats[one][self.space(other)]?;
        layout[other] = self.seats[other][self.space(one)]?;
        Some(())
    }

    /// Exchanges of poles that are in no group, the cheapest first.
    fn exchanges(&self) -> Vec<Exchange> {
        let single: Vec<usize> = (0..self.layout.len())
            .filter(|i| !self.seats[*i].is_empty())
            .filter(|i| self.groups.iter().flatten().all(|m| m.item != *i))
            .collect();
        let column = |item: usize| &self.columns.all[self.layout[item]];
        let effect = |item: usize| self.columns.effects[item][column(item).choice];
        let mut found = Vec::new();
        for one in single.iter().copied().filter(|i| effect(*i).on_a) {
            for other in single.iter().copied().filter(|i| !effect(*i).on_a) {
                let to = self.seats[one][self.space(other)];
                let from = self.seats[other][self.space(one)];
                if let (Some(to), Some(from)) = (to, from) {
                    let after = self.columns.all[to].cost + self.columns.all[from].cost;
                    found.push(Exchange {
                        cost: after - column(one).cost - column(other).cost,
                        load: -effect(other).load - effect(one).load,
                        items: [one, other],
                    });
                }
            }
        }
        found.sort_by_key(|e| (e.cost, e.items));
        found.truncate(MOST_EXCHANGES);
        found
    }
}

fn effect_of(columns: &Columns, column: usize) -> i64 {
    let column = &columns.all[column];
    key(columns.effects[column.item][column.choice], false) >> 8
}

/// The column of each single pole in each space, whole spaces only; continuous loads stay where they are.
fn seats(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    layout: &[usize],
) -> Vec<Vec<Option<usize>>> {
    let mut seats = vec![Vec::new(); layout.len()];
    for (item, seats) in seats.iter_mut().enumerate() {
        let stays = columns.effects[item].iter().any(|e| e.continuous != 0);
        let here = &columns.all[layout[item]];
        if stays || here.spaces.len() != 1 || here.seat.half {
            continue;
        }
        seats.resize(problem.spaces.len(), None);
        for c in columns.of_item(item) {
            let column = &columns.all[c];
            if !column.seat.half && (is_open(c) || c == layout[item]) {
                seats[column.spaces[0]] = Some(c);
            }
        }
    }
    seats
}

/// Sets of single poles any of which can take the place of any other, all at once, without a change of the cost.
fn groups(columns: &Columns, seats: &[Vec<Option<usize>>], layout: &[usize]) -> Vec<Vec<Member>> {
    let member = |item: usize| {
        let column = &columns.all[layout[item]];
        let effect = columns.effects[item][column.choice];
        Member {
            item,
            space: column.spaces[0],
            load: effect.load.unsigned_abs() as usize,
            on_a: effect.on_a,
        }
    };
    let count = layout.len();
    let mut open: Vec<Member> = (0..count)
        .filter(|i| !seats[*i].is_empty())
        .map(member)
        .collect();
    let cost = |m: &Member, space: usize| seats[m.item][space].map(|c| columns.all[c].cost);
    // Costs are a part of the pole and a part of the space: each pole of the group costs the same more than the first one, wherever it is.
    let apart =
        |m: &Member, first: &Member, space: usize| Some(cost(m, space)? - cost(first, space)?);
    let mut groups = Vec::new();
    while !open.is_empty() {
        let first = open[0];
        let mut group: Vec<Member> = vec![first];
        for m in &open[1..] {
            let Some(mine) = apart(m, &first, m.space) else {
                continue;
            };
            let fits = group.iter().all(|g| {
                apart(m, &first, g.space) == Some(mine)
                    && apart(g, &first, m.space).is_some()
                    && apart(g, &first, m.space) == apart(g, &first, g.space)
            });
            if fits {
                group.push(*m);
            }
        }
        open.retain(|m| group.iter().all(|g| g.item != m.item));
        let on_a = group.iter().filter(|m| m.on_a).count();
        if on_a > 0 && on_a < group.len() {
            groups.push(group);
        }
    }
    groups
}

/// Reachable sums before each member and after the last one.
fn layers(groups: &[Vec<Member>], total: usize, work: &mut usize) -> Vec<Layer> {
    let words = total / 64 + 1;
    let mut start = vec![0u64; words];
    start[0] = 1;
    let mut layers: Vec<Layer> = vec![vec![start]];
    for group in groups {
        let most = group.iter().filter(|m| m.on_a).count();
        // Only full counts of the group before go on.
        let mut last: Layer = layers.pop().map_or(Vec::new(), |l| l);
        if let Some(full) = last.pop() {
            last = vec![full];
        }
        layers.push(last);
        for (k, member) in group.iter().enumerate() {
            let Some(before) = layers.last() else { break };
            let least = most.saturating_sub(group.len() - k - 1);
            let mut next: Layer = vec![Vec::new(); before.len().min(most) + 1];
            for (on_a, line) in next.iter_mut().enumerate() {
                if on_a < least || on_a > k + 1 {
                    continue;
                }
                *line = vec![0; words];
                *work += words / 24;
                if let Some(same) = before.get(on_a).filter(|l| !l.is_empty()) {
                    line.copy_from_slice(same);
                }
                if let Some(less) = on_a.checked_sub(1).and_then(|c| before.get(c)) {
                    or_shifted(line, less, member.load);
                }
            }
            layers.push(next);
        }
    }
    layers
}

fn has(layer: &Layer, on_a: usize, sum: usize) -> bool {
    let line = layer.get(on_a);
    line.and_then(|l| l.get(sum / 64))
        .is_some_and(|word| word >> (sum % 64) & 1 == 1)
}

/// Which members go on leg A so that the loads there come to `sum`.
fn walk_back(groups: &[Vec<Member>], layers: &[Layer], mut sum: usize) -> Vec<Vec<bool>> {
    let mut at = layers.len() - 1;
    let mut choice = Vec::new();
    for group in groups.iter().rev() {
        let mut on_a = group.iter().filter(|m| m.on_a).count();
        let mut mine = vec![false; group.len()];
        for (member, mine) in group.iter().zip(&mut mine).rev() {
            at -= 1;
            let stays_off = has(&layers[at], on_a, sum);
            let goes_on =
                on_a > 0 && sum >= member.load && has(&layers[at], on_a - 1, sum - member.load);
            if goes_on && (member.on_a || !stays_off) {
                *mine = true;
                on_a -= 1;
                sum -= member.load;
            }
        }
        choice.push(mine);
    }
    choice.reverse();
    choice
}
