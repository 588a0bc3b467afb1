//! The least cost of seating everything, when an item may be spread over several seats: the linear relaxation, and the prices of the spaces.
//! Source: the simplex method with an explicit inverse (any textbook of linear programming). Costs are the whole numbers of [`super::columns`].
//!
//! Floating point only proposes prices; every bound that is reported is worked out again in whole numbers from them, see [`super::search`].

/// Right-hand sides are moved apart by about this much, against stalling.
const APART: f64 = 1e-4;
const TINY: f64 = 1e-9;

/// One variable: its cost and where it counts.
#[derive(Clone, Debug)]
pub(super) struct Variable {
    cost: f64,
    rows: Vec<(usize, f64)>,
}

impl Variable {
    pub(super) fn new(cost: f64, rows: Vec<(usize, f64)>) -> Self {
        Self { cost, rows }
    }
}

/// All variables side by side, so that a look at many of them runs through memory in order.
#[derive(Default)]
struct Variables {
    /// Cost of each, with what a ban adds.
    costs: Vec<f64>,
    banned: Vec<bool>,
    /// Where the rows of each end in `parts`.
    ends: Vec<usize>,
    parts: Vec<(u32, f32)>,
}

impl Variables {
    fn push(&mut self, variable: &Variable) {
        self.costs.push(variable.cost);
        self.banned.push(false);
        // Parts are halves and wholes: nothing is lost.
        let rows = variable.rows.iter();
        self.parts
            .extend(rows.map(|(row, part)| (*row as u32, *part as f32)));
        self.ends.push(self.parts.len());
    }

    fn len(&self) -> usize {
        self.costs.len()
    }

    fn rows(&self, variable: usize) -> impl Iterator<Item = (usize, f64)> {
        let first = variable
            .checked_sub(1)
            .map_or(0, |before| self.ends[before]);
        let parts = self.parts[first..self.ends[variable]].iter();
        parts.map(|(row, part)| (*row as usize, f64::from(*part)))
    }
}

/// Equalities come first (each item is seated once), inequalities after them (each space is taken at most once).
pub(super) struct Lp {
    rows: usize,
    variables: Variables,
    basis: Vec<usize>,
    is_basic: Vec<bool>,
    inverse: Vec<f64>,
    values: Vec<f64>,
    limits: Vec<f64>,
    /// Steps since the inverse was worked out afresh.
    age: usize,
    prices: Vec<f64>,
    /// Variables that are not banned, and whether that is still so.
    open: Vec<usize>,
    open_is_old: bool,
    next: usize,
    /// Columns that may not be used cost this on top.
    ban_cost: f64,
    /// Steps done so far: the measure of effort.
    pub(super) steps: usize,
}

impl Lp {
    /// `limits` are the right-hand sides; the first `equalities` of them are equalities.
    pub(super) fn new(
        variables: Vec<Variable>,
        limits: &[f64],
        equalities: usize,
        ban_cost: f64,
    ) -> Self {
        let rows = limits.len();
        let mut all = Variables::default();
        variables.iter().for_each(|v| all.push(v));
        let first = all.len();
        for row in 0..rows {
            let cost = if row < equalities {
                4.0 * ban_cost
            } else {
                0.0
            };
            all.push(&Variable::new(cost, vec![(row, 1.0)]));
        }
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        let mut is_basic = vec![false; all.len()];
        is_basic[first..].fill(true);
        let mut seed = 12345u64;
        let values: Vec<f64> = limits
            .iter()
            .enumerate()
            .map(|(row, limit)| {
                seed = seed
                    .wrapping_mul(6364136223846793005)
                    .wrapping_add(1442695040888963407);
                let part = (seed >> 40) as f64 / (1u64 << 24) as f64;
                if row < equalities {
                    limit + APART / 100.0 * (1.0 + part)
                } else {
                    limit + APART * (1.0 + part)
                }
            })
            .collect();
        Self {
            rows,
            basis: (first..first + rows).collect(),
            is_basic,
            variables: all,
            inverse,
            limits: values.clone(),
            age: 0,
            values,
            prices: vec![0.0; rows],
            open: Vec::new(),
            open_is_old: true,
            next: 0,
            ban_cost,
            steps: 0,
        }
    }

    /// Starts with this variable in its row, where it counts once and alone, instead of one that has to be driven out.
    pub(super) fn start_with(&mut self, row: usize, variable: usize) {
        self.is_basic[self.basis[row]] = false;
        self.is_basic[variable] = true;
        self.basis[row] = variable;
    }

    /// Adds a variable and gives its index.
    pub(super) fn add(&mut self, variable: Variable) -> usize {
        self.variables.push(&variable);
        self.is_basic.push(false);
        self.open_is_old = true;
        self.variables.len() - 1
    }

    pub(super) fn set_cost(&mut self, variable: usize, cost: f64) {
        let banned = self.variables.banned[variable];
        let more = if banned { self.ban_cost } else { 0.0 };
        self.variables.costs[variable] = cost + more;
    }

    pub(super) fn ban(&mut self, variable: usize, banned: bool) {
        if self.variables.banned[variable] != banned {
            self.variables.banned[variable] = banned;
            self.open_is_old = true;
            let more = if banned {
                self.ban_cost
            } else {
                -self.ban_cost
            };
            self.variables.costs[variable] += more;
        }
    }

    pub(super) fn is_banned(&self, variable: usize) -> bool {
        self.variables.banned[variable]
    }

    fn cost(&self, variable: usize) -> f64 {
        self.variables.costs[variable]
    }

    /// Goes on from the last basis to the least cost, or until `limit` steps are done in all. True when the least cost is reached.
    pub(super) fn solve(&mut self, limit: usize) -> bool {
        self.price();
        if self.open_is_old {
            let banned = &self.variables.banned;
            self.open = (0..banned.len()).filter(|v| !banned[*v]).collect();
            self.open_is_old = false;
        }
        let mut since = 0;
        loop {
            let Some((entering, reduced)) = self.entering() else {
                if since == 0 {
                    return true;
                }
                // Prices drift as they are carried along: look again with fresh ones.
                self.price();
                since = 0;
                if self.entering().is_none() {
                    return true;
                }
                continue;
            };
            if self.steps >= limit {
                return false;
            }
            self.steps += 1;
            since += 1;
            let went = self.pivot(entering, reduced);
            self.age += 1;
            if !went || self.age >= 400 {
                // Rounding has piled up in the inverse: work it out afresh. A second failure in a row is one of the problem.
                if (!went && self.age == 0) || !self.invert() {
                    return false;
                }
                self.price();
            } else if since % 60 == 0 {
                self.price();
            }
        }
    }

    /// Price of each row: what one more unit of it would save, negated.
    pub(super) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// Something had to be banned or left out: there is no way to seat everything.
    pub(super) fn is_impossible(&self) -> bool {
        let each = self.basis.iter().zip(&self.values);
        each.into_iter()
            .any(|(v, x)| *x > 5e-3 && self.cost(*v) >= self.ban_cost)
    }

    /// Variables in use with how much of them.
    pub(super) fn in_use(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        let each = self.basis.iter().zip(&self.values);
        each.filter(|(_, x)| **x > 5e-3).map(|(v, x)| (*v, *x))
    }

    fn price(&mut self) {
        self.prices.fill(0.0);
        for (row, variable) in self.basis.iter().enumerate() {
            let cost = self.cost(*variable);
            if cost != 0.0 {
                let line = &self.inverse[row * self.rows..(row + 1) * self.rows];
                for (price, part) in self.prices.iter_mut().zip(line) {
                    *price += cost * part;
                }
            }
        }
    }

    /// The inverse and the values from the basis itself, by elimination. False when the basis is singular.
    fn invert(&mut self) -> bool {
        let rows = self.rows;
        let mut basis = vec![0.0; rows * rows];
        for (at, variable) in self.basis.iter().enumerate() {
            for (row, part) in self.variables.rows(*variable) {
                basis[row * rows + at] = part;
            }
        }
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        for at in 0..rows {
            let size = |row: usize| basis[row * rows + at].abs();
            let pivot = (at..rows).max_by(|a, b| size(*a).total_cmp(&size(*b)));
            let Some(pivot) = pivot.filter(|p| size(*p) > 1e-9) else {
                return false;
            };
            for k in 0..rows {
                basis.swap(pivot * rows + k, at * rows + k);
                inverse.swap(pivot * rows + k, at * rows + k);
            }
            let scale = basis[at * rows + at];
            for k in 0..rows {
                basis[at * rows + k] /= scale;
                inverse[at * rows + k] /= scale;
            }
            let lead = basis[at * rows..(at + 1) * rows].to_vec();
            let side = inverse[at * rows..(at + 1) * rows].to_vec();
            for row in (0..rows).filter(|r| *r != at) {
                let part = basis[row * rows + at];
                if part != 0.0 {
                    let line = row * rows..(row + 1) * rows;
                    for (x, l) in basis[line.clone()].iter_mut().zip(&lead) {
                        *x -= part * l;
                    }
                    for (x, l) in inverse[line].iter_mut().zip(&side) {
                        *x -= part * l;
                    }
                }
            }
        }
        for row in 0..rows {
            let line = &inverse[row * rows..(row + 1) * rows];
            self.values[row] = line.iter().zip(&self.limits).map(|(a, b)| a * b).sum();
        }
        self.inverse = inverse;
        self.age = 0;
        true
    }

    fn reduced(&self, variable: usize) -> f64 {
        let mut reduced = self.cost(variable);
        for (row, part) in self.variables.rows(variable) {
            reduced -= self.prices[row] * part;
        }
        reduced
    }

    /// The best of the first stretch of variables that holds any worth entering, going round from where the last search ended.
    fn entering(&mut self) -> Option<(usize, f64)> {
        let all = self.open.len();
        let stretch = (all / 6).max(50);
        let mut best: Option<(usize, f64)> = None;
        let mut at = self.next;
        for seen in 1..=all {
            if at >= all {
                at = 0;
            }
            let variable = self.open[at];
            if !self.is_basic[variable] {
                let reduced = self.reduced(variable);
                let least = best.map_or(-0.01, |(_, b)| b);
                if reduced < least {
                    best = Some((variable, reduced));
                }
            }
            at += 1;
            if seen % stretch == 0 && best.is_some() {
                break;
            }
        }
        self.next = at;
        best
    }

    fn pivot(&mut self, entering: usize, reduced: f64) -> bool {
        let rows = self.rows;
        let mut line = vec![0.0; rows];
        for (row, part) in self.variables.rows(entering) {
            for (i, value) in line.iter_mut().enumerate() {
                *value += self.inverse[i * rows + row] * part;
            }
        }
        let mut leaving: Option<(usize, f64)> = None;
        for (row, value) in line.iter().enumerate() {
            if *value > 1e-6 {
                let ratio = self.values[row].max(0.0) / value;
                let better = match leaving {
                    None => true,
                    Some((other, least)) => {
                        ratio < least - TINY || (ratio < least + TINY && *value > line[other])
                    }
                };
                if better {
                    leaving = Some((row, ratio));
                }
            }
        }
        let Some((leaving, ratio)) = leaving else {
            return false;
        };
        let pivot = line[leaving];
        let step = reduced / pivot;
        for (price, part) in self
            .prices
            .iter_mut()
            .zip(&self.inverse[leaving * rows..(leaving + 1) * rows])
        {
            *price += step * part;
        }
        let pivot_line: Vec<f64> = self.inverse[leaving * rows..(leaving + 1) * rows]
            .iter()
            .map(|x| x / pivot)
            .collect();
        for (row, value) in line.iter().enumerate() {
            if row != leaving && value.abs() > 1e-12 {
                let target = &mut self.inverse[row * rows..(row + 1) * rows];
                for (x, p) in target.iter_mut().zip(&pivot_line) {
                    *x -= value * p;
                }
                self.values[row] -= ratio * value;
            }
        }
        self.inverse[leaving * rows..(leaving + 1) * rows].copy_from_slice(&pivot_line);
        self.values[leaving] = ratio;
        self.is_basic[self.basis[leaving]] = false;
        self.is_basic[entering] = true;
        self.basis[leaving] = entering;
        true
    }
}
