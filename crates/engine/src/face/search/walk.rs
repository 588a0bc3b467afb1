//! Which of the choices that the tables hold can be seated, and what do they cost?
//! Source: a walk back through the tables of [`super::tables`]; each knot and leg is an assignment problem of its own. Whole costs.

use std::collections::BTreeMap;

use super::cells::assigned;
use super::exact::Core;

/// Looks of one walk.
const MOST_LOOKS: usize = 3_000;

/// A walk back through the tables.
pub(super) struct Walk {
    effects: Vec<usize>,
    /// Most that may be spent, in parts.
    room: i64,
    pub(super) looks: usize,
    cells: BTreeMap<(usize, u128), Option<i64>>,
    pub(super) stopped: bool,
    pub(super) first: Option<Vec<usize>>,
    pub(super) best: Option<(i64, Vec<usize>)>,
}

impl Core<'_, '_> {
    /// What a walk through all that the tables hold finds; it costs at most `room`.
    pub(super) fn walk(&self, room: i64) -> Walk {
        let mut effects: Vec<usize> = self.layout.iter().map(|c| self.column(*c).choice).collect();
        for knot in &self.knots {
            for leg in 0..2 {
                for item in &knot.fixed[leg] {
                    effects[*item] = self.effect(*item, leg);
                }
            }
        }
        let mut walk = Walk {
            effects,
            room,
            looks: 0,
            cells: BTreeMap::new(),
            stopped: false,
            first: None,
            best: None,
        };
        for level in 0..self.levels {
            for sum in self.wanted() {
                if self.has(self.knots.len(), 0, 0, level, sum) {
                    self.knot(&mut walk, self.knots.len(), level, sum, 0);
                }
            }
        }
        walk
    }

    /// Goes through the choices for the knots before `end`; those from there on cost `cost`.
    fn knot(&self, walk: &mut Walk, end: usize, level: usize, sum: usize, cost: i64) {
        if walk.stopped || cost + level as i64 * self.unit > walk.room {
            return;
        }
        let Some(at) = end.checked_sub(1) else {
            walk.first.get_or_insert_with(|| walk.effects.clone());
            if let Some(layout) = self.seated(walk)
                && walk.best.as_ref().is_none_or(|(best, _)| cost < *best)
            {
                walk.best = Some((cost, layout));
                // From here on only what is cheaper.
                walk.room = cost - 1;
            }
            return;
        };
        let (least, most) = self.knots[at].on_a();
        for count in least..=most {
            let last = self.knots[at].members.len();
            if self.has(at, last, count, level, sum) {
                self.member(walk, (at, last), (count, level, sum), cost);
            }
        }
    }

    /// Goes through the choices for the first members of a knot.
    fn member(
        &self,
        walk: &mut Walk,
        (at, members): (usize, usize),
        (count, level, sum): (usize, usize, usize),
        cost: i64,
    ) {
        walk.looks += 1;
        if walk.looks > MOST_LOOKS {
            walk.first.get_or_insert_with(|| walk.effects.clone());
            walk.stopped = true;
        }
        if walk.stopped {
            return;
        }
        let Some(last) = members.checked_sub(1) else {
            if let Some(more) = self.knot_cost(walk, at) {
                self.knot(walk, at, level, sum, cost + more);
            }
            return;
        };
        let member = &self.knots[at].members[last];
        let now = self.column(self.layout[member.item]).choice;
        for effect in [now, 1 - now] {
            let shift = if effect == 1 {
                member.load / self.grain
            } else {
                0
            };
            let (Some(count), Some(level), Some(sum)) = (
                count.checked_sub(effect),
                level.checked_sub(member.levels[effect]),
                sum.checked_sub(shift),
            ) else {
                continue;
            };
            if self.has(at, last, count, level, sum) {
                walk.effects[member.item] = effect;
                self.member(walk, (at, last), (count, level, sum), cost);
            }
        }
    }

    /// What the knot costs with these effects, when it can be seated.
    fn knot_cost(&self, walk: &mut Walk, at: usize) -> Option<i64> {
        let knot = &self.knots[at];
        let mut on_a = 0u128;
        for member in &knot.members {
            on_a |= (walk.effects[member.item] as u128) << member.item;
        }
        if let Some(known) = walk.cells.get(&(at, on_a)) {
            return *known;
        }
        let cost = self
            .cells(walk, at)
            .map(|c| c.iter().map(|(over, _)| over).sum());
        walk.looks += (knot.members.len() * knot.members.len()) / 64;
        walk.cells.insert((at, on_a), cost);
        cost
    }

    /// What each item of the knot costs above its least, with its column.
    fn cells(&self, walk: &Walk, at: usize) -> Option<Vec<(i64, usize)>> {
        let knot = &self.knots[at];
        let mut all = Vec::new();
        for leg in 0..2 {
            let mut items = knot.fixed[leg].clone();
            items.extend(
                knot.members
                    .iter()
                    .map(|m| m.item)
                    .filter(|i| walk.effects[*i] == leg),
            );
            if let Some(item) = items.iter().find(|i| !self.is_single(**i)) {
                let effect = walk.effects[*item];
                let least = self.search.effects[*item].iter().min()?;
                let mut open = self.search.open(*item);
                let column = open.find(|c| self.column(*c).choice == effect)?;
                all.push((self.search.priced[column] - least, column));
                continue;
            }
            let spaces = &knot.spaces[leg];
            let cost = |item: usize, space: usize| self.seats[items[item]][spaces[space]].0;
            let (_, places) = assigned(items.len(), spaces.len(), cost)?;
            let each = items.iter().zip(places);
            all.extend(each.map(|(item, place)| self.seats[*item][spaces[place]]));
        }
        Some(all)
    }

    /// The layout with these effects.
    fn seated(&self, walk: &Walk) -> Option<Vec<usize>> {
        let mut layout = self.layout.clone();
        for at in 0..self.knots.len() {
            for (_, column) in self.cells(walk, at)? {
                layout[self.column(column).item] = column;
            }
        }
        Some(layout)
    }
}
