//! One shutdown: whatever can be done in a live house is done first; then everything is dark from lock-out until the new panel is proven;
//! then circuits come back one by one, heaviest per second of switching on first. Energized work is never planned.
//! Cut in two only where a shift or a wish for a restore round asks for it. Source: docs/cutover.md.

use super::dead::{Shutdown, Told};
use super::diary::{Diary, Step};
use super::lots::Lot;
use super::split::{self, Between, Landing, Periods};
use super::time::Seconds;
use super::{Proof, Slack, words};

impl<'j> Shutdown<'_, 'j> {
    /// The whole plan.
    pub(super) fn run(&self) -> (Diary<'j>, Slack) {
        let shift = Seconds::of(self.plan.shift);
        let mut diary = Diary::new(usize::from(self.plan.workers), shift);
        self.before(&mut diary);
        let all: Vec<usize> = (0..self.work.lots.len()).collect();
        let whole = self.length(&diary, &all);
        let start = self.start(&diary, whole);
        let fits = Diary::of_day(start) + whole <= shift;
        let wanted = self.plan.restore_round.map(Seconds::of);
        let landings = self.landings();
        let slack = match (wanted, fits) {
            (None, true) => {
                diary.wait_until(start);
                let told = self.dead_period(&mut diary, &all, true);
                self.evenly(told)
            }
            (Some(pause), true) => {
                let periods =
                    self.periods(shift - Diary::of_day(start), shift, Between::Pause(pause.0));
                self.in_two(&mut diary, start, &landings, periods)
            }
            (_, false) => {
                let today = self.start(&diary, Seconds::ZERO);
                let tomorrow = self.start(&diary, Seconds(u64::MAX / 4));
                let mut best: Option<(u64, u64, Seconds, Periods)> = None;
                for start in [today, tomorrow] {
                    let again = self.in_window(Diary::next_day(start));
                    let between = Between::Until((again - start).0);
                    let periods = self.periods(shift - Diary::of_day(start), shift, between);
                    if let Some(c) = split::choose(&landings, &periods, None)
                        && best.as_ref().is_none_or(|b| (c.over, c.sum) < (b.0, b.1))
                    {
                        best = Some((c.over, c.sum, start, periods));
                    }
                }
                match best {
                    Some((_, _, start, periods)) => {
                        self.in_two(&mut diary, start, &landings, periods)
                    }
                    None => {
                        diary.wait_until(start);
                        let told = self.dead_period(&mut diary, &all, true);
                        self.evenly(told)
                    }
                }
            }
        };
        self.finish(&mut diary);
        (diary, slack)
    }

    /// The first moment the dead period can begin so that it fits a shift.
    fn start(&self, diary: &Diary<'j>, whole: Seconds) -> Seconds {
        let now = self.in_window(diary.now());
        let fitting = self.in_window(diary.fitting(now, whole));
        if diary.fitting(fitting, whole) == fitting {
            fitting
        } else {
            now
        }
    }

    /// Not before the utility comes, where it must come.
    pub(super) fn in_window(&self, at: Seconds) -> Seconds {
        let Some((from, _)) = words::window(self.plan).filter(|_| self.work.needs_utility()) else {
            return at;
        };
        at + (from - Diary::of_day(at))
    }

    /// Length of a dead period, restores included.
    fn length(&self, diary: &Diary<'j>, lots: &[usize]) -> Seconds {
        let mut trial = diary.clone();
        trial.gather();
        let from = trial.now();
        self.dead_period(&mut trial, lots, true);
        trial.now() - from
    }

    /// Lots that must be landed in the same period: those that follow one another.
    fn groups(&self) -> Vec<Vec<usize>> {
        let lots = &self.work.lots;
        let first = |lot: usize| {
            let mut at = lot;
            while let Some(before) = lots[at].follows {
                at = before;
            }
            at
        };
        let mut groups: Vec<(usize, Vec<usize>)> = Vec::new();
        for lot in 0..lots.len() {
            match groups.iter_mut().find(|(head, _)| *head == first(lot)) {
                Some((_, group)) => group.push(lot),
                None => groups.push((first(lot), vec![lot])),
            }
        }
        groups.into_iter().map(|(_, group)| group).collect()
    }

    /// What the groups take; of their limits the tightest.
    fn landings(&self) -> Vec<Landing> {
        let each = self.groups().into_iter().map(|group| {
            let lots = || group.iter().map(|l| &self.work.lots[*l]);
            let limits = lots()
                .filter(|l| l.dark_weight() > 0)
                .filter_map(|l| l.limit);
            Landing {
                work: lots().map(|l| (l.land + l.torque).0).sum(),
                restore: lots().map(|l| l.restore.0).sum(),
                weight: lots().map(Lot::dark_weight).sum(),
                limit: limits.min().map_or(0, |l| l.0),
            }
        });
        each.collect()
    }

    /// The two dead periods without their lots.
    fn periods(&self, most_first: Seconds, most_second: Seconds, between: Between) -> Periods {
        let workers = u64::from(self.plan.workers.max(1));
        let mut trial = Diary::new(1, Seconds(u64::MAX / 4));
        self.dead_period(&mut trial, &[], true);
        // What workers share is counted once, all else once for each of them.
        let shared: u64 = trial
            .tasks
            .iter()
            .filter(|t| matches!(t.step, Step::Feeder | Step::Panel))
            .map(|t| (t.end - t.start).0)
            .sum();
        let first = (trial.now().0 - shared) * workers + shared;
        let mut trial = Diary::new(1, Seconds(u64::MAX / 4));
        self.dead_period(&mut trial, &[], false);
        let restores: Seconds = self.work.lots.iter().map(|l| l.restore).sum();
        Periods {
            first,
            second: (trial.now() - restores).0 * workers,
            most_first: most_first.0,
            most_second: most_second.0,
            between,
            workers,
        }
    }

    /// Two dead periods: chooses, tries, and takes less into the first when the workers could not share it evenly enough.
    fn in_two(
        &self,
        diary: &mut Diary<'j>,
        start: Seconds,
        landings: &[Landing],
        periods: Periods,
    ) -> Slack {
        let groups = self.groups();
        let lots_of = |chosen: &[usize]| -> Vec<usize> {
            chosen
                .iter()
                .flat_map(|g| groups[*g].iter().copied())
                .collect()
        };
        let mut tried = periods;
        let mut choice = split::choose(landings, &periods, None);
        for _ in 0..8 {
            let Some(chosen) = choice.as_ref() else { break };
            let mut trial = diary.clone();
            trial.wait_until(start);
            self.dead_period(&mut trial, &lots_of(&chosen.first), true);
            let over = (trial.now() - start) - Seconds(periods.most_first);
            if over == Seconds::ZERO || periods.workers == 1 {
                break;
            }
            tried.most_first = tried.most_first.saturating_sub(over.0);
            choice = split::choose(landings, &tried, None);
        }
        let everything = 0..self.work.lots.len();
        let taken = choice.map_or((0..groups.len()).collect(), |c| c.first);
        let first = lots_of(&taken);
        let rest: Vec<usize> = everything.filter(|l| !first.contains(l)).collect();
        diary.wait_until(start);
        let told = self.dead_period(diary, &first, true);
        if rest.is_empty() {
            return self.evenly(told);
        }
        let again = match periods.between {
            Between::Pause(pause) => diary.now() + Seconds(pause),
            Between::Until(until) => start + Seconds(until),
        };
        diary.wait_until(again);
        self.dead_period(diary, &rest, false);
        let proofs = || {
            diary
                .tasks
                .iter()
                .filter(|t| t.step == Step::Prove && t.start >= start)
        };
        let first_end = proofs().map(|t| t.end).filter(|end| *end <= again).max();
        let second_end = proofs().map(|t| t.end).max();
        let since = |from: Seconds, to: Option<Seconds>| to.map_or(0, |to| (to - from).0);
        let lengths = (since(start, first_end), since(again, second_end));
        let over = split::over(landings, &periods, &taken, lengths.0, lengths.1);
        let dark = super::weighted(diary, self.work, |id| {
            self.dark_lots().any(|l| l.circuits.contains(&id))
        });
        // Circuits that follow one another are weighed as one that comes back with its last: no proof then.
        let apart = groups.iter().all(|g| g.len() == 1);
        let least = split::choose(landings, &periods, Some(over));
        let least = least.filter(|c| apart && c.all_weighed);
        let slack = least.and_then(|c| dark.checked_sub(c.sum / periods.workers));
        match slack {
            Some(slack) if periods.workers == 1 => Slack(slack, Proof::AllChoices),
            Some(slack) => Slack(slack, Proof::Shared),
            None => Slack(0, Proof::None),
        }
    }

    /// One dead period: it could be shorter by no more than the workers were unevenly busy.
    fn evenly(&self, told: Told) -> Slack {
        let weight: u64 = self.work.lots.iter().map(Lot::dark_weight).sum();
        Slack(weight * told.idle, Proof::Order)
    }
}
