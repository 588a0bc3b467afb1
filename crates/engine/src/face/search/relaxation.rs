//! The linear relaxation of the seating: every column of every item, the spaces, and the choices of effects known so far.
//! Source: column generation (any textbook of integer programming). Costs are the whole numbers of [`super::super::columns`].

use super::super::columns::Columns;
use super::super::legs::Target;
use super::super::lp::{Lp, Variable};
use super::super::problem::Problem;
use super::super::score::opposite;
use super::{CROWDED, Kind, Relaxed, Search};

impl<'p> Search<'p> {
    pub(super) fn new(
        problem: &'p Problem,
        columns: &'p Columns,
        halves: i64,
        target: &'p Target,
        kind: Kind,
    ) -> Self {
        let (items, spaces) = (problem.items.len(), problem.spaces.len());
        let boundaries: Vec<usize> = if kind == Kind::Touching {
            (0..spaces)
                .filter(|s| problem.below(*s).is_some())
                .collect()
        } else {
            Vec::new()
        };
        let mut row = items;
        let links: Vec<Option<usize>> = columns
            .effects
            .iter()
            .map(|effects| {
                (kind != Kind::Plain && effects.len() == 2).then(|| {
                    row += 1;
                    row - 1
                })
            })
            .collect();
        let convex = row;
        let first_space = row + 1;
        let halves_row = first_space + spaces;
        let first_boundary = halves_row + usize::from(halves > 0);
        let mut variables = Vec::new();
        for column in &columns.all {
            let part = if column.seat.half { 0.5 } else { 1.0 };
            let mut rows = vec![(column.item, 1.0)];
            rows.extend(column.spaces.iter().map(|s| (first_space + s, part)));
            if column.seat.half {
                rows.push((halves_row, 1.0));
            }
            if let Some(link) = links[column.item].filter(|_| column.choice == 1) {
                rows.push((link, 1.0));
            }
            if problem.items[column.item].heavy {
                let last = column.spaces[column.spaces.len() - 1];
                for (i, boundary) in boundaries.iter().enumerate() {
                    if *boundary == last || boundary + 1 == column.spaces[0] {
                        rows.push((first_boundary + i, 1.0));
                    }
                }
            }
            variables.push(Variable::new(column.cost as f64, rows));
        }
        let mut pairs = Vec::new();
        for space in 0..spaces {
            if let Some(below) = problem.below(space)
                && opposite(problem, space, below)
            {
                pairs.push(space);
                variables.push(Variable::new(
                    -(columns.weights.pair as f64),
                    vec![(first_space + space, 1.0), (first_space + below, 1.0)],
                ));
            }
        }
        for i in 0..boundaries.len() {
            variables.push(Variable::new(
                columns.weights.touching as f64,
                vec![(first_boundary + i, -1.0)],
            ));
        }
        let no_choice = variables.len();
        variables.push(Variable::new(0.0, vec![(convex, 1.0)]));
        let mut loose = Vec::new();
        for link in links.iter().flatten() {
            for sign in [1.0, -1.0] {
                loose.push(variables.len());
                variables.push(Variable::new(0.0, vec![(*link, sign)]));
            }
        }
        let mut limits = vec![1.0; items];
        limits.extend(links.iter().flatten().map(|_| 0.0));
        limits.push(1.0);
        limits.extend((0..spaces).map(|_| 1.0));
        if halves > 0 {
            limits.push(halves as f64);
        }
        limits.extend(boundaries.iter().map(|_| 1.0));
        let most: i64 = (0..items)
            .map(|i| {
                let ways = &columns.all[columns.of_item(i)];
                ways.iter().map(|c| c.cost).max().unwrap_or(0)
            })
            .sum();
        let loosening = most as f64 + columns.weights.moves as f64;
        let mut lp = Lp::new(variables, &limits, first_space, 16.0 * loosening);
        for (link, loose) in links.iter().flatten().zip(loose.iter().step_by(2)) {
            lp.start_with(*link, *loose);
        }
        lp.start_with(convex, no_choice);
        Self {
            problem,
            columns,
            target,
            halves,
            lp,
            pairs,
            boundaries,
            best: None,
            limit: 0,
            depth: 0,
            stopped: false,
            needs_touching: false,
            is_crowded: columns.effects.iter().filter(|e| e.len() > 1).count() >= CROWDED,
            priced: Vec::new(),
            effects: Vec::new(),
            level: 0,
            first_space,
            links,
            loose,
            no_choice,
            choices: Vec::new(),
            loosening: 0.0,
            most_loosening: loosening,
        }
    }

    /// Links that do not hold yet cost this much from now on. Low at first: prices then stay near those that gave a good bound.
    pub(super) fn tighten(&mut self, cost: f64) {
        self.loosening = cost;
        for loose in &self.loose {
            self.lp.set_cost(*loose, cost);
        }
    }

    pub(super) fn is_loose(&self) -> bool {
        let mut used = self.lp.in_use();
        used.any(|(v, _)| self.loose.contains(&v))
    }

    /// Makes a choice of effects known to the relaxation. False when it was known.
    pub(super) fn add_choice(&mut self, choice: &[usize]) -> bool {
        if self.choices.iter().any(|(_, c)| c == choice) {
            return false;
        }
        if self.choices.is_empty() {
            self.tighten(self.columns.weights.moves as f64);
        }
        self.lp.ban(self.no_choice, true);
        let mut rows = vec![(self.first_space - 1, 1.0)];
        for (link, effect) in self.links.iter().zip(choice) {
            if let Some(link) = link.filter(|_| *effect == 1) {
                rows.push((link, -1.0));
            }
        }
        let variable = self.lp.add(Variable::new(0.0, rows));
        self.choices.push((variable, choice.to_vec()));
        true
    }

    /// Leaves open the choices that no ban rules out; where there is none, the relaxation does without.
    pub(super) fn open_choices(&mut self) {
        let mut some = false;
        for at in 0..self.choices.len() {
            let (variable, choice) = &self.choices[at];
            let lost = choice.iter().enumerate().any(|(item, effect)| {
                let mut open = self.open(item);
                self.links[item].is_some() && !open.any(|c| self.columns.all[c].choice == *effect)
            });
            let variable = *variable;
            self.lp.ban(variable, lost);
            some |= !lost;
        }
        self.lp.ban(self.no_choice, some);
    }

    pub(super) fn solve(&mut self) -> bool {
        if self.stopped {
            return false;
        }
        if !self.lp.solve(self.limit) {
            self.stopped = true;
        }
        !self.stopped
    }

    pub(super) fn relaxed(&self) -> Relaxed {
        let count = self.columns.all.len();
        let used: Vec<(usize, f64)> = self.lp.in_use().filter(|(v, _)| *v < count).collect();
        let mut whole = vec![usize::MAX; self.problem.items.len()];
        for (column, x) in &used {
            if *x > 0.99 {
                whole[self.columns.all[*column].item] = *column;
            }
        }
        let all = whole.iter().all(|c| *c != usize::MAX);
        Relaxed {
            used,
            whole: all.then_some(whole),
        }
    }
}
