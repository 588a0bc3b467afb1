//! What would keep a limit that the plan breaks, or spare a dark night? Each way is tried by planning again, and told with what it comes to.
//! Source: the same calculation. Hours.

use model::plan::{Approach, MOST_WORKERS, Plan, Transfer};
use model::units::Hours;
use model::{Fact, Job};

use super::time::{Seconds, Times};
use super::{CutOver, Limit, Step, draft, words};
use crate::saying::Saying;

/// Pause of a restore round that is tried.
const PAUSE: Hours = Hours(1.0);

/// A change of the plan, tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What is changed, in words.
    pub words: Saying,
    /// Every limit is kept then, and nothing is dark overnight.
    pub keeps_all: bool,
    /// Longest dark time then of the circuits whose limits are broken now, or which are dark overnight now.
    pub longest: Seconds,
    /// Weighted dark hours then.
    pub dark_hours: f64,
    /// When the crew leaves then.
    pub end: Seconds,
}

/// Longest day that is tried.
const LONGEST_DAY: u64 = 12;

/// Tries the ways; none when every limit is kept and nothing is dark overnight.
pub(super) fn of(job: &Job, cut: &CutOver<'_>, times: &Times) -> Vec<Way> {
    let broken: Vec<&str> = broken(cut).collect();
    let bad: Vec<&str> = bad(cut).collect();
    if bad.is_empty() {
        return Vec::new();
    }
    let bad_now = &bad;
    let names = broken.join(", ");
    let mut ways = Vec::new();
    let mut attempt = |words: Saying, change: &dyn Fn(&mut Plan)| {
        let mut plan = cut.plan.clone();
        change(&mut plan);
        let Ok(other) = draft(job, &plan, times) else {
            return;
        };
        let longest = other.circuits.iter().filter(|c| bad_now.contains(&c.id));
        ways.push(Way {
            words,
            keeps_all: self::bad(&other).next().is_none(),
            longest: longest.map(|c| c.longest()).max().unwrap_or_default(),
            dark_hours: other.score.dark_hours(),
            end: other.end,
        });
    };
    let ids: Vec<_> = job
        .before
        .circuits
        .keys()
        .filter(|id| broken.contains(&id.as_str()))
        .cloned()
        .collect();
    if !ids.is_empty() {
        attempt(words::WAY_TEMPORARY.with("circuits", names), &|p| {
            p.temporary_power.extend(ids.iter().cloned());
        });
    }
    let in_two = cut.tasks.iter().filter(|t| t.step == Step::Prove).count() > 1;
    if in_two
        && let Some(hours) = (1..=LONGEST_DAY).find(|h| *h as f64 >= day(cut).hours().0)
        && hours as f64 > cut.plan.shift.0
    {
        attempt(words::WAY_DAY.with("hours", hours), &|p| {
            p.shift = Hours(hours as f64);
        });
    }
    for more in cut.plan.workers + 1..=MOST_WORKERS {
        attempt(words::WAY_WORKERS.with("workers", more), &|p| {
            p.workers = more;
        });
    }
    if cut.plan.approach == Approach::InPlace {
        if cut.plan.restore_round.is_none() && !in_two {
            attempt(words::WAY_ROUND.with("pause", PAUSE), &|p| {
                p.restore_round = Some(PAUSE);
            });
        }
        attempt(words::WAY_NEW_FIRST.into(), &|p| {
            p.approach = Approach::NewPanelFirst;
            p.second_feeder = Fact::seen(true);
            p.transfer = Fact::seen(Transfer::OwnBox);
        });
    }
    ways
}

/// The dead periods and their restores in one.
fn day(cut: &CutOver<'_>) -> Seconds {
    let dead = cut.tasks.iter().filter(|t| {
        t.worker == 1
            && !matches!(
                t.step,
                Step::Site | Step::Map | Step::Prepare | Step::Temporary | Step::Finish
            )
    });
    dead.map(|t| t.end - t.start).sum()
}

fn broken<'c>(cut: &'c CutOver<'_>) -> impl Iterator<Item = &'c str> {
    cut.circuits
        .iter()
        .filter(|c| matches!(c.limit, Limit::Broken(_)))
        .map(|c| c.id)
}

/// Circuits whose limit is broken, or that are dark overnight.
fn bad<'c>(cut: &'c CutOver<'_>) -> impl Iterator<Item = &'c str> {
    let bad = |c: &&super::DarkCircuit<'_>| {
        matches!(c.limit, Limit::Broken(_)) || c.dark.iter().any(|d| d.is_overnight())
    };
    cut.circuits.iter().filter(bad).map(|c| c.id)
}
