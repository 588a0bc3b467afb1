//! At which places of a wall is it worth to look: the grid, and every place where a verdict, a cost or a course can change?
//! Source: the lengths at the places where paths bend, between which each is linear; the edges of what is on the wall. Inches along the wall.

use std::collections::BTreeMap;

use model::Fact;
use model::house::Wall;
use model::units::{Feet, Inches};

use super::along::Along;
use super::judged::{Judged, judge};
use super::runs::{CircuitRun, circuits, crossings, turns};
use super::setting::Setting;
use super::{Way, stage};

/// Finest division of a tape: how far beside a change a place is looked at, and how finely a change of a feeder's verdict is found.
const BESIDE: Inches = Inches(1.0 / 64.0);

impl Along<'_, '_> {
    /// The grid, the places where something changes, and those just beside them: place, on the grid, a change.
    pub(super) fn places(&mut self, last: Inches) -> Vec<(Inches, bool, bool)> {
        let inside = |x: &Inches| x.0 >= 0.0 && *x <= last;
        let bends = self.bends(last, &circuits(self.job, self.plan.board));
        let (mut changes, mut pieces) = self.crossings(&bends);
        pieces.extend(self.bends(last, &[]));
        pieces.retain(inside);
        self.flips = self.flips(pieces);
        changes.extend(&self.flips);
        let old = self.plan.old.position.as_ref();
        changes.extend(old.filter(|p| p.wall == self.wall).map(|p| p.x));
        changes.extend(self.ground.edges());
        changes.retain(inside);
        sort(&mut changes);

        let mut places: BTreeMap<i64, (Inches, bool, bool)> = BTreeMap::new();
        let mut put = |x: Inches, on_grid: bool, change: bool| {
            let place = places
                .entry((x.0 * 1e6).round() as i64)
                .or_insert((x, false, false));
            place.1 |= on_grid;
            place.2 |= change;
        };
        let steps = (last / self.plan.step).floor() as u32;
        for i in 0..=steps {
            put(
                (self.plan.step * f64::from(i)).to_the_millionth(),
                true,
                false,
            );
        }
        put(last, true, false);
        for x in &bends {
            put(*x, false, false);
        }
        for (i, x) in changes.iter().enumerate() {
            put(*x, false, true);
            // Just beside it, but never beyond the next change.
            let before = i.checked_sub(1).and_then(|i| changes.get(i));
            let room = before.map_or(*x, |b| *x - *b);
            let left = *x - BESIDE.min(room / 2.0);
            let room = changes.get(i + 1).map_or(last - *x, |n| *n - *x);
            let right = *x + BESIDE.min(room / 2.0);
            for side in [left, right].map(Inches::to_the_millionth) {
                if inside(&side) {
                    put(side, false, false);
                }
            }
        }
        places.into_values().collect()
    }

    /// Where a length meets a number that decides something, and of these where a feeder stops to reach. Between two bends each length is linear.
    fn crossings(&mut self, bends: &[Inches]) -> (Vec<Inches>, Vec<Inches>) {
        let lengths: Vec<Vec<Option<Inches>>> = bends.iter().map(|x| self.lengths(*x)).collect();
        let (mut all, mut of_feeders) = (Vec::new(), Vec::new());
        for (number, limits) in self.limits_of_each().iter().enumerate() {
            let of = |lengths: &Vec<Option<Inches>>| lengths.get(number).copied().flatten();
            let mut found = Vec::new();
            for (i, x) in bends.iter().enumerate() {
                let Some(here) = lengths.get(i).and_then(of) else {
                    continue;
                };
                // A bend may itself be where a length meets a limit.
                if limits.contains(&here) {
                    found.push(*x);
                }
                let next = bends.get(i + 1).zip(lengths.get(i + 1).and_then(of));
                if let Some((next, there)) = next {
                    crossings((*x, here), (*next, there), limits, &mut found);
                }
            }
            let feeder = (self.runs.len()..self.runs.len() + self.feeders.len()).contains(&number);
            if feeder {
                of_feeders.extend(&found);
            }
            all.extend(found);
        }
        (all, of_feeders)
    }

    /// Of each circuit, each feeder, and the distance from the old place, at `x`.
    fn lengths(&mut self, x: Inches) -> Vec<Option<Inches>> {
        self.move_to(x);
        let circuits = self
            .runs
            .iter()
            .map(|(run, _)| run.signed(&self.staged, self.way));
        let mut lengths: Vec<Option<Inches>> = circuits.collect();
        lengths.extend(self.feeders.iter().map(|f| self.feeder(*f).extra));
        lengths.push(self.far_from_old());
        lengths
    }

    /// For each circuit, each feeder and the distance from the old place: the numbers that matter.
    fn limits_of_each(&self) -> Vec<Vec<Inches>> {
        let mut limits: Vec<Vec<Inches>> = self
            .runs
            .iter()
            .map(|_| {
                let mut all = self.limits.outside.clone();
                // What lies inside the cabinets shifts the limits of the total length.
                let inside = match self.way {
                    Way::SpliceBox => self.plan.new.make_up.get(),
                    _ => Some(Inches::ZERO),
                };
                let total = self.limits.total.iter().filter_map(|l| Some(*l - inside?));
                all.extend(total.map(Inches::to_the_millionth));
                all
            })
            .collect();
        for (id, _) in &self.feeders {
            let before = self.job.before.feeders.get(*id);
            let slack = before.and_then(|f| f.slack.get()).unwrap_or(Inches::ZERO);
            limits.push(vec![slack]);
        }
        limits.push(self.job.candidates.farthest.into_iter().collect());
        limits
    }

    /// Both ends, and where the path of some feeder or of these circuits changes its course.
    fn bends(&self, last: Inches, runs: &[CircuitRun<'_>]) -> Vec<Inches> {
        let wall: Option<&Wall> = self.job.after.walls.get(self.wall);
        let mut bends = wall.map_or(Vec::new(), |wall| {
            let (house, board) = (&self.staged.after, self.plan.board);
            turns(
                self.job,
                house,
                board,
                (self.wall, wall),
                runs,
                &self.feeders,
            )
        });
        bends.extend([Inches::ZERO, last]);
        bends.retain(|x| x.0 >= 0.0 && *x <= last);
        sort(&mut bends);
        bends
    }

    /// Where a verdict changes because feeders get longer: fault current, drop, the short raceway. Between two of these places the lengths of
    /// feeders are linear; what follows from them is looked at at both ends and in the middle, and a difference is closed in on.
    fn flips(&mut self, mut at: Vec<Inches>) -> Vec<Inches> {
        if self.feeders.is_empty() {
            return Vec::new();
        }
        sort(&mut at);
        let still = self.ground.at(at.first().copied().unwrap_or(Inches::ZERO));
        let mut probes: Vec<Inches> = Vec::new();
        for pair in at.windows(2) {
            if let [a, b] = pair {
                probes.extend([*a, (*a + *b) / 2.0]);
            }
        }
        probes.extend(at.last());
        let told: Vec<(Inches, Judged)> = probes
            .into_iter()
            .map(|x| (x, self.told(x, &still)))
            .collect();
        let mut found = Vec::new();
        for pair in told.windows(2) {
            let [(a, at_a), (b, at_b)] = pair else {
                continue;
            };
            if same(at_a, at_b) {
                continue;
            }
            let (mut low, mut high) = (*a, *b);
            while high - low > BESIDE {
                let middle = ((low + high) / 2.0).to_the_millionth();
                if same(at_a, &self.told(middle, &still)) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            found.push(high.to_the_millionth());
        }
        found
    }

    /// Verdicts with the feeders as at `x` and everything else held.
    fn told(&mut self, x: Inches, still: &Setting) -> Judged {
        self.move_to(x);
        self.lay_feeders();
        let lengths: Vec<Fact<Feet>> = self
            .feeders
            .iter()
            .map(|(id, _)| {
                let feeders = &self.staged.after.feeders;
                feeders.get(*id).map_or(Fact::Unknown, |f| f.length.clone())
            })
            .collect();
        let origin = Inches::ZERO;
        stage::put(
            &mut self.staged.after,
            self.plan.board,
            origin,
            still,
            self.plan,
        );
        for ((id, _), length) in self.feeders.iter().zip(lengths) {
            if let Some(feeder) = self.staged.after.feeders.get_mut(*id) {
                feeder.length = length;
            }
        }
        judge(
            &self.staged,
            self.book,
            self.plan.board,
            &self.in_place.asks,
        )
    }
}

fn same(a: &Judged, b: &Judged) -> bool {
    a.keys == b.keys && a.feeders == b.feeders
}

fn sort(all: &mut Vec<Inches>) {
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.dedup();
}
