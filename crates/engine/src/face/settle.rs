//! From a good layout to one in which fewer heavy breakers touch, with the same loads on the legs.
//! Source: exchange of places, one pair at a time (any textbook of local search). Finds good layouts; proves nothing.

use super::columns::Columns;
use super::problem::{Form, Problem};
use super::score::sign;

/// Rounds of exchanges.
const ROUNDS: usize = 8;

/// Exchanges places, without a change of the sums on the legs, as long as `cost` falls. `layout` is a column for each item.
pub(super) fn settled(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    mut layout: Vec<usize>,
    cost: impl Fn(&[usize]) -> i64,
    work: &mut usize,
) -> Vec<usize> {
    let mut now = cost(&layout);
    for _ in 0..ROUNDS {
        let Some((least, better)) = exchanges(problem, columns, &is_open, &layout)
            .into_iter()
            .map(|new| {
                *work += 1;
                (cost(&new), new)
            })
            .min()
            .filter(|(least, _)| *least < now)
        else {
            break;
        };
        (now, layout) = (least, better);
    }
    layout
}

/// Layouts in which an item that touches another one has changed places with something else on the same legs, at no cost that counts for more
/// than touching.
fn exchanges(
    problem: &Problem,
    columns: &Columns,
    is_open: impl Fn(usize) -> bool,
    layout: &[usize],
) -> Vec<Vec<usize>> {
    let mut owner = vec![None; problem.spaces.len()];
    for (item, c) in layout.iter().enumerate() {
        for s in &columns.all[*c].spaces {
            owner[*s] = Some(item);
        }
    }
    let limit = 3 * columns.weights.touching;
    let cost = |layout: &[usize]| layout.iter().map(|c| columns.all[*c].cost).sum::<i64>();
    let now = cost(layout);
    let mut found = Vec::new();
    for item in touching(problem, &owner) {
        let here = &columns.all[layout[item]];
        for top in 0..problem.spaces.len() {
            let there: Vec<usize> = (top..top + here.spaces.len()).collect();
            let joined = |w: &[usize]| problem.below(w[0]) == Some(w[1]);
            if !there.windows(2).all(joined) || there.iter().any(|s| here.spaces.contains(s)) {
                continue;
            }
            let Some(place) = Place::of(problem, &here.spaces, &there) else {
                continue;
            };
            let mut moving: Vec<usize> = there.iter().filter_map(|s| owner[*s]).collect();
            moving.dedup();
            moving.push(item);
            let mut new = layout.to_vec();
            let all = moving.into_iter().all(|i| {
                let to = place.seat(problem, columns, i, layout[i]);
                let to = to.filter(|c| is_open(*c));
                new[i] = to.unwrap_or(new[i]);
                to.is_some()
            });
            if all && cost(&new) - now < limit {
                found.push(new);
            }
        }
    }
    found
}

/// Heavy items that touch another one.
fn touching(problem: &Problem, owner: &[Option<usize>]) -> Vec<usize> {
    let heavy = |s: usize| owner[s].filter(|i: &usize| problem.items[*i].heavy);
    let mut found = Vec::new();
    for space in 0..problem.spaces.len() {
        let below = problem.below(space).and_then(heavy);
        if let (Some(a), Some(b)) = (heavy(space), below)
            && a != b
        {
            found.extend([a, b]);
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Two stretches of spaces that change places.
struct Place<'s> {
    one: &'s [usize],
    other: &'s [usize],
    /// The legs follow one another the other way round.
    crossed: bool,
}

impl<'s> Place<'s> {
    /// `None` when their legs are not alike.
    fn of(problem: &Problem, one: &'s [usize], other: &'s [usize]) -> Option<Self> {
        let legs = |spaces: &[usize]| -> Vec<i64> {
            spaces
                .iter()
                .map(|s| sign(problem.spaces[*s].leg))
                .collect()
        };
        let (mine, mut theirs) = (legs(one), legs(other));
        let crossed = mine != theirs;
        if crossed {
            theirs.reverse();
        }
        (mine == theirs).then_some(Self {
            one,
            other,
            crossed,
        })
    }

    /// The column of an item after the change, when there is one; tandem halves do not move.
    fn seat(&self, problem: &Problem, columns: &Columns, item: usize, now: usize) -> Option<usize> {
        let from = Some(&columns.all[now]).filter(|c| !c.seat.half)?;
        let mut to = Vec::new();
        for space in &from.spaces {
            let across = |a: &[usize], b: &[usize]| {
                let at = a.iter().position(|s| s == space)?;
                Some(b[if self.crossed { b.len() - 1 - at } else { at }])
            };
            to.push(across(self.one, self.other).or_else(|| across(self.other, self.one))?);
        }
        to.sort_unstable();
        let tied = problem.items[item].form == Form::Tied;
        let turned = from.seat.turned != (tied && self.crossed);
        columns.of_item(item).find(|c| {
            let seat = columns.all[*c].seat;
            seat.space == to[0]
                && columns.all[*c].spaces == to
                && seat.turned == turned
                && !seat.half
        })
    }
}
