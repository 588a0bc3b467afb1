//! Where along a wall do price or legality jump, and by what?
//! Source: two neighbouring places of the sweep, 1/64 in apart at most. US dollars; inches along the wall.

use model::Dollars;
use model::units::Inches;
use serde::Serialize;

use super::along::Seen;
use super::judged::Judged;
use super::limits::Limits;
use super::runs::FeederWork;
use super::words::{Old, words};
use super::{Legality, Span, Way};

/// One thing that changes at a cliff.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "CliffStep")]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// Circuits are lengthened by more than a number that a requirement holds lengths against.
    CrossLimit {
        /// How many.
        circuits: u32,
        /// The number.
        limit: Inches,
    },
    /// Circuits no longer reach and are lengthened.
    Lengthened {
        /// How many.
        circuits: u32,
    },
    /// A requirement asks for something, or may ask.
    Asked {
        /// The requirement.
        requirement: String,
        /// Its title.
        title: String,
        /// Its section in the job's edition.
        section: String,
        /// Sort of the things it is about, for example `circuit`.
        sort: &'static str,
        /// At how many of them, at least and, while facts are unknown, at most.
        places: Span<u32>,
    },
    /// The panel leaves its old place, and with it goes the old cabinet.
    LeavesOldPlace,
    /// A feeder no longer reaches.
    FeederTooShort {
        /// The feeder.
        feeder: String,
    },
    /// No panel may go there.
    Refused {
        /// Why, in words.
        why: String,
        /// Section, where a requirement forbids it.
        section: String,
    },
}

/// A place where the price or the law jumps.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Cliff {
    /// Along the wall: on one side of this place all is as at the place itself.
    pub at: Inches,
    /// On the other side, to the left or to the right, it is dearer or not allowed.
    pub to_the_right: bool,
    /// What happens there.
    pub steps: Vec<Step>,
    /// What it adds to the price; nothing where it only ends what is allowed.
    pub adds: Span<Dollars>,
    /// The whole in words.
    pub words: String,
}

/// Every cliff between neighbouring places.
pub(super) fn find(seen: &[Seen], judged: &[Judged], limits: &Limits, old: Old<'_>) -> Vec<Cliff> {
    let mut cliffs = Vec::new();
    for pair in seen.windows(2) {
        let [left, right] = pair else { continue };
        // Away from a change all lengths move evenly.
        if !left.change && !right.change {
            continue;
        }
        let rises =
            [(left, right), (right, left)].map(|(from, to)| steps(from, to, judged, limits));
        for (number, steps) in rises.into_iter().enumerate() {
            // A limit that is crossed where nothing follows from it is no cliff.
            let follows = |s: &Step| !matches!(s, Step::CrossLimit { .. });
            if !steps.iter().any(follows) {
                continue;
            }
            let (from, to) = if number == 0 {
                (left, right)
            } else {
                (right, left)
            };
            let at = if from.change || !to.change { from } else { to };
            let (a, b) = (&from.candidate.cost.price, &to.candidate.cost.price);
            let adds = Span {
                low: b.low - a.low,
                high: b.high - a.high,
            };
            let at = at.candidate.at.x;
            cliffs.push(Cliff {
                words: words(at, number == 0, &steps, adds, &from.candidate, old),
                at,
                to_the_right: number == 0,
                steps,
                adds,
            });
        }
    }
    cliffs
}

/// What there is at `to` and not at `from`.
fn steps(from: &Seen, to: &Seen, judged: &[Judged], limits: &Limits) -> Vec<Step> {
    let mut steps = Vec::new();
    let (a, b) = (&from.candidate, &to.candidate);
    let crossing = |limit: Inches| {
        let crosses = |(x, y): (Option<Inches>, Option<Inches>)| match (x, y) {
            (Some(x), Some(y)) => x <= limit && y > limit,
            _ => false,
        };
        let both = from.added.iter().zip(&to.added);
        let outside = |l: &[Inches]| l.contains(&limit);
        both.filter(|(x, y)| {
            (outside(&limits.outside) && crosses((x.outside, y.outside)))
                || (outside(&limits.total) && crosses((x.total, y.total)))
        })
        .count() as u32
    };
    for limit in &limits.all {
        let circuits = crossing(*limit);
        if circuits > 0 {
            steps.push(Step::CrossLimit {
                circuits,
                limit: *limit,
            });
        }
    }
    let circuits = crossing(Inches::ZERO);
    if circuits > 0 {
        steps.push(Step::Lengthened { circuits });
    }
    if let (Some(x), Some(y)) = (judged.get(a.judged), judged.get(b.judged))
        && a.judged != b.judged
    {
        asked(x, y, &mut steps);
    }
    for feeder in &b.feeders {
        let was = a.feeders.iter().find(|f| f.feeder == feeder.feeder);
        let cannot_reach =
            |w: FeederWork| matches!(w, FeederWork::TooShort | FeederWork::SplicedInOldCabinet);
        if cannot_reach(feeder.work) && !was.is_some_and(|w| cannot_reach(w.work)) {
            steps.push(Step::FeederTooShort {
                feeder: feeder.feeder.clone(),
            });
        }
    }
    if a.way == Way::InPlace && b.way != Way::InPlace {
        steps.push(Step::LeavesOldPlace);
    }
    if let (true, Legality::No(refusals)) = (a.legality.is_possible(), &b.legality) {
        steps.extend(refusals.iter().map(|r| Step::Refused {
            why: r.why.clone(),
            section: r.section.clone(),
        }));
    }
    steps
}

/// What the second place brings up beyond the first, requirement by requirement.
fn asked(x: &Judged, y: &Judged, steps: &mut Vec<Step>) {
    for asked in &y.asked {
        let known = |a: &&super::Asked| {
            a.requirement == asked.requirement
                && a.name == asked.name
                && a.sort == asked.sort
                && (a.sure || !asked.sure)
        };
        if x.asked.iter().any(|a| known(&a)) {
            continue;
        }
        let same = steps.iter_mut().find_map(|s| match s {
            Step::Asked {
                requirement,
                places,
                ..
            } if *requirement == asked.requirement => Some(places),
            _ => None,
        });
        let more = Span {
            low: u32::from(asked.sure),
            high: 1,
        };
        match same {
            Some(places) => {
                places.low += more.low;
                places.high += more.high;
            }
            None => steps.push(Step::Asked {
                requirement: asked.requirement.clone(),
                title: asked.title.clone(),
                section: asked.section.clone(),
                sort: asked.sort,
                places: more,
            }),
        }
    }
}
