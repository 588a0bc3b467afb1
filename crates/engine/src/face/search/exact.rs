//! Does what is left hold a layout that is cheaper than the best one, with exactly the right sums? For a part whose two-pole breakers have one
//! place each, and that leaves few choices for the legs of the continuous loads.
//! Source: this project. Whole VA, whole costs.
//!
//! A layout that costs little more than the least uses no dear columns. Single poles that can change places only among themselves without them
//! form a knot: each of its spaces is filled from it. `tables` holds the sums that the legs can have, by the count of poles on leg A in each
//! knot and by what is spent; what it says is possible is gone through in `walk` and seated exactly. So each choice that could come to the
//! sums at this cost is looked at, or none is there. What may be spent grows from round to round.

use super::super::columns::Column;
use super::super::legs::NEVER;
use super::super::score::sign;
use super::patterns::Patterns;
use super::tables::Layer;
use super::{PARTS, SUMS_PER_STEP, Search};

/// What may be spent above the least in each round, in changes of position.
const ROUNDS: [i64; 5] = [0, 1, 2, 3, 6];
/// Choices for the continuous loads.
const MOST_CHOICES: usize = 16;
/// Sums that take about as long as one look.
const WORK_OF_LOOK: usize = 20;
/// Stands for all free spaces among the items.
const FREE: usize = 127;

/// What came out for a part.
pub(super) struct Exact {
    /// Nothing in it costs less, in parts, apart from breakers that touch.
    pub(super) bound: i64,
    /// A layout with the right sums.
    pub(super) found: Option<Vec<usize>>,
    /// A choice of effects that may be as cheap as the bound.
    pub(super) choice: Option<Vec<usize>>,
}

/// A pole that can be on either leg.
pub(super) struct Member {
    pub(super) item: usize,
    /// What its second effect adds to the sum.
    pub(super) load: usize,
    /// What each effect costs, in changes of position.
    pub(super) levels: [usize; 2],
}

/// Items that change places among themselves only, and their spaces on legs B and A.
#[derive(Default)]
pub(super) struct Knot {
    items: Vec<usize>,
    pub(super) members: Vec<Member>,
    pub(super) fixed: [Vec<usize>; 2],
    pub(super) spaces: [Vec<usize>; 2],
}

impl Knot {
    /// Least and most members on leg A, or with their second effect.
    pub(super) fn on_a(&self) -> (usize, usize) {
        let room = |leg: usize| self.spaces[leg].len().saturating_sub(self.fixed[leg].len());
        let all = self.members.len();
        if self.spaces.iter().all(Vec::is_empty) {
            return (0, all);
        }
        (all.saturating_sub(room(0)), all.min(room(1)))
    }
}

pub(super) struct Core<'s, 'p> {
    pub(super) search: &'s Search<'p>,
    pub(super) knots: Vec<Knot>,
    /// For each knot the layers before and after each of its members.
    pub(super) tables: Vec<Vec<Layer>>,
    pub(super) levels: usize,
    pub(super) unit: i64,
    /// What items on one leg cost, in changes of position.
    pub(super) start: usize,
    /// Divides all loads.
    pub(super) grain: usize,
    /// What each item costs in each space above its least, with the column.
    pub(super) seats: Vec<Vec<(i64, usize)>>,
    pub(super) layout: Vec<usize>,
}

impl Search<'_> {
    /// Looks through a part whose least cost is `base`, in parts, by the present prices; `layout` is one of that cost. `None` when too many
    /// choices for the continuous loads are open, or the prices do not fit the layout.
    pub(super) fn exact(
        &mut self,
        patterns: &Patterns,
        layout: &[usize],
        base: i64,
        touching: i64,
    ) -> Option<Exact> {
        let unit = self.columns.weights.moves * PARTS;
        let mut room = (self.best_cost() - touching - 1) * PARTS - base;
        let mut exact = Exact {
            bound: base,
            found: None,
            choice: None,
        };
        let mut work = 0;
        for round in ROUNDS {
            let most = room.min((round + 1) * unit - 1);
            let choices = patterns.within(&self.effects, most);
            if choices.len() > MOST_CHOICES {
                if round == 0 {
                    return None;
                }
                break;
            }
            let mut core = Core::of(self, layout, most, unit)?;
            let mut least = most + 1;
            let mut stopped = None;
            for choice in choices {
                if !core.set(patterns, choice, most) {
                    continue;
                }
                if !core.fill(&mut work) {
                    stopped = Some(None);
                    break;
                }
                let walk = core.walk(room);
                work += walk.looks * WORK_OF_LOOK;
                if let Some((cost, found)) = walk.best {
                    least = least.min(cost);
                    exact.found = Some(found);
                    room = cost - 1;
                }
                if walk.stopped {
                    stopped = Some(walk.first);
                    break;
                }
            }
            if let Some(choice) = stopped {
                // Only what the rounds before ruled out is sure.
                exact.choice = choice;
                break;
            }
            exact.bound = base + least;
            if most >= room {
                break;
            }
        }
        self.lp.steps += work / SUMS_PER_STEP;
        Some(exact)
    }
}

impl<'s, 'p> Core<'s, 'p> {
    /// `None` when the layout itself is too dear by the prices.
    fn of(search: &'s Search<'p>, layout: &[usize], most: i64, unit: i64) -> Option<Self> {
        let (problem, columns) = (search.problem, search.columns);
        let spaces = problem.spaces.len();
        if layout.len() >= FREE || most < 0 {
            return None;
        }
        let mut owner = vec![FREE; spaces];
        for (item, c) in layout.iter().enumerate() {
            for s in &columns.all[*c].spaces {
                owner[*s] = item;
            }
        }
        let is_single = |item: usize| columns.all[layout[item]].spaces.len() == 1;
        // Who can take whose place.
        let mut seats = vec![vec![(NEVER, 0); spaces]; layout.len()];
        let mut reach = vec![0u128; FREE + 1];
        for item in 0..layout.len() {
            let least = search.effects[item].iter().copied().min()?;
            if search.effects[item].len() > 2 {
                return None;
            }
            reach[item] |= 1 << item;
            for c in search.open(item).filter(|_| is_single(item)) {
                let over = search.priced[c] - least;
                let space = columns.all[c].spaces[0];
                if over <= most {
                    seats[item][space] = (over, c);
                    reach[item] |= 1 << owner[space];
                }
            }
            if is_single(item) {
                reach[FREE] |= 1 << item;
                if seats[item][columns.all[layout[item]].spaces[0]].0 >= NEVER {
                    return None;
                }
            }
        }
        reach[FREE] |= 1 << FREE;
        for via in (0..layout.len()).chain([FREE]) {
            let further = reach[via];
            for r in &mut reach {
                if *r >> via & 1 == 1 {
                    *r |= further;
                }
            }
        }
        let tied = |a: usize, b: usize| reach[a] >> b & 1 == 1 && reach[b] >> a & 1 == 1;
        let mut core = Self {
            search,
            knots: Vec::new(),
            tables: Vec::new(),
            levels: (most / unit) as usize + 1,
            unit,
            start: 0,
            grain: 1,
            seats,
            layout: layout.to_vec(),
        };
        let mut seen = vec![false; layout.len()];
        for first in 0..layout.len() {
            if seen[first] {
                continue;
            }
            let mut knot = Knot::default();
            let own = |s: &usize| is_single(first) && tied(first, owner[*s]);
            for s in (0..spaces).filter(own) {
                let leg = usize::from(sign(problem.spaces[s].leg) == 1);
                knot.spaces[leg].push(s);
            }
            for (item, seen) in seen.iter_mut().enumerate().skip(first) {
                if item != first && !(is_single(first) && tied(first, item)) {
                    continue;
                }
                *seen = true;
                knot.items.push(item);
            }
            core.knots.push(knot);
        }
        Some(core)
    }

    /// Settles the legs of the continuous loads. False when nothing can come of it.
    fn set(&mut self, patterns: &Patterns, choice: &[usize], most: i64) -> bool {
        (self.start, self.grain) = (0, 0);
        let mut knots = std::mem::take(&mut self.knots);
        let all = knots.iter_mut().all(|knot| {
            knot.members.clear();
            knot.fixed.iter_mut().for_each(Vec::clear);
            knot.items.clone().into_iter().all(|item| {
                let at = patterns.items.iter().position(|i| *i == item);
                self.place(knot, item, most, at.map(|at| choice[at]))
                    .is_some()
            })
        });
        self.knots = knots;
        self.grain = self.grain.max(1);
        all && self.start < self.levels
    }

    /// Puts an item into its knot.
    fn place(
        &mut self,
        knot: &mut Knot,
        item: usize,
        most: i64,
        only: Option<usize>,
    ) -> Option<()> {
        let search = self.search;
        let effects = &search.columns.effects[item];
        let least = search.effects[item].iter().copied().min()?;
        let mut cost = [NEVER; 2];
        if self.is_single(item) {
            for (leg, spaces) in knot.spaces.iter().enumerate() {
                let each = spaces.iter().map(|s| self.seats[item][*s].0);
                cost[leg] = each.min().unwrap_or(NEVER);
            }
        } else {
            for (effect, over) in search.effects[item].iter().enumerate() {
                if over - least <= most {
                    cost[effect] = over - least;
                }
            }
        }
        if let Some(only) = only {
            for (leg, cost) in cost.iter_mut().enumerate() {
                if self.effect(item, leg) != only {
                    *cost = NEVER;
                }
            }
        }
        let levels = cost.map(|c| (c / self.unit) as usize);
        match cost.map(|c| c < NEVER) {
            [true, true] => {
                let [first, second] = effects.as_slice() else {
                    return None;
                };
                let load = (second.load - first.load) as usize;
                self.grain = gcd(self.grain, load);
                knot.members.push(Member { item, load, levels });
            }
            [false, false] => return None,
            [first, _] => {
                let leg = usize::from(!first);
                self.start += levels[leg];
                knot.fixed[leg].push(item);
            }
        }
        Some(())
    }

    pub(super) fn column(&self, column: usize) -> &Column {
        &self.search.columns.all[column]
    }

    pub(super) fn is_single(&self, item: usize) -> bool {
        self.search.columns.all[self.layout[item]].spaces.len() == 1
    }

    /// The effect of an item on a leg.
    pub(super) fn effect(&self, item: usize, leg: usize) -> usize {
        let effects = &self.search.columns.effects[item];
        if effects.len() < 2 || !self.is_single(item) {
            leg.min(effects.len() - 1)
        } else {
            effects
                .iter()
                .position(|e| e.on_a == (leg == 1))
                .unwrap_or(0)
        }
    }
}

fn gcd(a: usize, b: usize) -> usize {
    if b == 0 { a } else { gcd(b, a % b) }
}
