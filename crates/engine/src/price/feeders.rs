//! What is done to each feeder: landed, run on, new; and what makes one pass that does not?
//! Source: the difference of the two pictures, and the smallest changes that the feeder sheets found. Feet, amperes.

use model::house::{Feeder, UTILITY};
use model::id::FeederId;
use model::scope::{Change, Scope};
use model::{Fact, Job, Material, Wire, WiringMethod};
use shop::Count;

use super::circuits::{metal, raceway, sheath, size};
use super::cost::Pricer;
use super::line::{Because, Group, Lines};
use super::works_on;
use crate::conductor::{Change as Remedy, Verdict};
use crate::facts::Place;
use crate::sheets::Sheets;

/// What requirements ask of a feeder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Asked {
    /// The smallest change that makes it pass.
    pub(crate) fix: bool,
    /// New conductors with an equipment ground.
    pub(crate) new: bool,
}

/// The same with the requirements that ask.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Wishes<'a> {
    pub(crate) fix: Option<Because<'a>>,
    pub(crate) new: Option<Because<'a>>,
}

/// A feeder of the after picture, or one that is taken out.
pub(crate) struct Run<'a> {
    pub(crate) id: &'a FeederId,
    feeder: &'a Feeder,
    change: Change,
    /// A board at one of its ends is worked on.
    lands: bool,
    /// Its device is another one than before.
    device: bool,
    /// Somebody can tell whether it passes.
    told: bool,
    fixes: Vec<Remedy>,
}

/// Every feeder of either picture.
pub(crate) fn runs<'a>(job: &'a Job, scope: &Scope, sheets: &Sheets<'_>) -> Vec<Run<'a>> {
    let before = job.before.feeders.iter();
    let gone = before.filter(|(id, _)| !job.after.feeders.contains_key(*id));
    let all = job.after.feeders.iter().chain(gone);
    all.filter_map(|(id, feeder)| {
        let change = scope.feeder(id.as_str())?;
        let old = job.before.feeders.get(id);
        let fixes = sheets.feeder(id.as_str()).map(|s| s.changes.clone());
        Some(Run {
            id,
            feeder,
            change,
            lands: works_on(scope, &feeder.to) || works_on(scope, &feeder.from),
            device: feeder.from != UTILITY
                && old.and_then(|o| o.breaker.get()) != feeder.breaker.get(),
            told: sheets
                .feeder(id.as_str())
                .is_some_and(|s| s.check.verdict != Verdict::CannotTell),
            fixes: fixes.unwrap_or_default(),
        })
    })
    .collect()
}

impl<'a> Run<'a> {
    /// Lines of the feeder with what is asked of it.
    pub(crate) fn lines(&self, asked: Wishes<'a>, pricer: &Pricer<'_>, lines: &mut Lines<'a>) {
        let place = Place::Feeder(self.id);
        let new = matches!(self.change, Change::New | Change::Replaced);
        let words = match self.change {
            Change::New => "new",
            Change::Replaced => "replaced",
            Change::Removed => "taken out",
            Change::Kept if self.lands => "landed in the new board",
            Change::Kept => "stays",
        };
        let plain = (Group::Feeders, place, Because::Work(words));
        let because = |why: Option<Because<'a>>| (Group::Feeders, place, why.unwrap_or(plain.2));
        if self.change == Change::Removed {
            lines.work(plain, "remove-circuit", Count::whole(1));
            return;
        }
        let fix = asked.fix.and_then(|_| self.fix(new));
        let wire = match (&fix, self.feeder.wire.get()) {
            (Some(Remedy::NextSize(wire) | Remedy::Copper(wire)), _) => Some(*wire),
            (_, wire) => wire,
        };
        let rewire = matches!(fix, Some(Remedy::NextSize(_) | Remedy::Copper(_)));
        if new || asked.new.is_some() || rewire {
            let why = if rewire { asked.fix } else { asked.new };
            self.conductors(wire, because(why), pricer, lines);
        } else if self.lands {
            lines.work(plain, "land-feeder", Count::whole(1));
            self.anti_oxidant(wire, plain, lines);
        }
        if new || asked.new.is_some() || rewire || self.lands {
            let wires = i64::from(self.feeder.wires.get().unwrap_or(4));
            let tests = (Group::SafetyAndTests, place, plain.2);
            lines.work(tests, "torque-termination", Count::whole(wires));
        }
        match fix {
            Some(Remedy::SmallerDevice(amps)) => self.breaker(amps.0, because(asked.fix), lines),
            _ if self.device && (new || self.change == Change::Kept) => {
                match self.feeder.breaker.get() {
                    Some(amps) => self.breaker(amps.0, plain, lines),
                    None => lines.gap(
                        format!("breaker of feeder {}", self.id),
                        format!("say `after.feeders.{}.breaker`", self.id),
                    ),
                }
            }
            _ => {}
        }
        if asked.fix.is_some() && fix.is_none() && asked.new.is_none() {
            let (what, advice) = if self.told {
                let advice = "no single change does: alter the plan, then price again";
                (
                    format!("what makes feeder {} pass", self.id),
                    advice.to_owned(),
                )
            } else {
                (
                    format!(
                        "what feeder {} takes, should it turn out too small",
                        self.id
                    ),
                    format!(
                        "find out what its worksheet feeder.{}.conductors lacks",
                        self.id
                    ),
                )
            };
            lines.gap(what, advice);
        }
    }

    /// The change that is priced: conductors where they are new anyway, else a smaller device, else larger conductors.
    fn fix(&self, new: bool) -> Option<Remedy> {
        let rank = |remedy: &Remedy| match (remedy, new) {
            (Remedy::NextSize(_), true) | (Remedy::SmallerDevice(_), false) => 0,
            (Remedy::SmallerDevice(_), true) | (Remedy::NextSize(_), false) => 1,
            (Remedy::Copper(_), _) => 2,
            (Remedy::CarryWholeDwelling | Remedy::Terminals75, _) => 3,
        };
        let priced = self.fixes.iter().filter(|f| rank(f) < 3);
        priced.min_by_key(|f| rank(f)).cloned()
    }

    fn breaker(&self, amps: f64, at: (Group, Place<'a>, Because<'a>), lines: &mut Lines<'a>) {
        lines.part(
            at,
            format!("breaker-2p-{}", amps.round() as i64),
            Count::whole(1),
        );
        lines.work(at, "two-pole", Count::whole(1));
        lines.work(at, "reland-circuit", Count::whole(1));
    }

    fn anti_oxidant(
        &self,
        wire: Option<Wire>,
        at: (Group, Place<'a>, Because<'a>),
        lines: &mut Lines<'a>,
    ) {
        if wire.is_some_and(|w| w.material != Material::Copper) {
            lines.part(at, "anti-oxidant", Count::whole(1));
        }
    }

    fn conductors(
        &self,
        wire: Option<Wire>,
        at: (Group, Place<'a>, Because<'a>),
        pricer: &Pricer<'_>,
        lines: &mut Lines<'a>,
    ) {
        lines.work(at, "new-feeder", Count::whole(1));
        self.anti_oxidant(wire, at, lines);
        let length = self.feeder.length.get().and_then(|l| Count::of(l.0));
        let Some(length) = length else {
            lines.gap(
                format!("conductors of feeder {}", self.id),
                format!("say `after.feeders.{}.length`, in feet", self.id),
            );
            return;
        };
        lines.work(at, "new-feeder-foot", length);
        self.wires(wire, length, at, pricer, lines);
        lines.part(at, "cable-connector-large", Count::whole(2));
    }

    /// Conductors and their cable or raceway of so many feet, all sets.
    fn wires(
        &self,
        wire: Option<Wire>,
        length: Count,
        at: (Group, Place<'a>, Because<'a>),
        pricer: &Pricer<'_>,
        lines: &mut Lines<'a>,
    ) {
        let (Some(wire), Some(method)) = (wire, self.feeder.method.get()) else {
            let field = if wire.is_none() { "wire" } else { "method" };
            lines.gap(
                format!("conductors of feeder {}", self.id),
                format!("say `feeders.{}.{field}`", self.id),
            );
            return;
        };
        let bought = length
            .and(pricer.rates.wire_waste())
            .times(Count::whole(i64::from(self.feeder.sets.max(1))));
        let (name, material) = (size(wire.size.name()), metal(wire.material));
        if let Some(raceway) = raceway(method) {
            let sets = Count::whole(i64::from(self.feeder.sets.max(1)));
            lines.part(at, format!("raceway-{raceway}"), length.times(sets));
            let mut hots = 2;
            match self.feeder.neutral.get() {
                Some(neutral) if neutral != wire => {
                    let (size, metal) = (size(neutral.size.name()), metal(neutral.material));
                    lines.part(at, format!("wire-{size}-{metal}"), bought);
                }
                _ => hots = 3,
            }
            let each = bought.times(Count::whole(hots));
            lines.part(at, format!("wire-{name}-{material}"), each);
            if let Some(ground) = self.feeder.ground.get() {
                let (size, metal) = (size(ground.size.name()), metal(ground.material));
                lines.part(at, format!("wire-{size}-{metal}"), bought);
            }
            return;
        }
        let sheath = if method == WiringMethod::SEU && self.feeder.from == UTILITY {
            "seu"
        } else if method == WiringMethod::SEU {
            "ser"
        } else {
            sheath(method)
        };
        lines.part(at, format!("cable-{sheath}-{name}-{material}-3"), bought);
    }

    /// Lines of a kept feeder that is spliced and run on to its board's new place, or gaps where nobody can tell.
    pub(crate) fn extension(
        &self,
        job: &Job,
        scope: &Scope,
        pricer: &Pricer<'_>,
        lines: &mut Lines<'a>,
    ) {
        let moved = |board: &str| scope.board(board).is_some_and(|b| b.relocated);
        if self.change != Change::Kept || !(moved(&self.feeder.to) || moved(&self.feeder.from)) {
            return;
        }
        let old = job
            .before
            .feeders
            .get(self.id)
            .map_or(Fact::Unknown, |f| f.length.clone());
        let (Some(old), Some(new)) = (old.get(), self.feeder.length.get()) else {
            lines.gap(
                format!("what feeder {} is lengthened by", self.id),
                format!(
                    "say its `length` before and after, in feet: `feeders.{}.length`",
                    self.id
                ),
            );
            return;
        };
        let Some(added) = Count::of((new - old).0).filter(|c| *c > Count::ZERO) else {
            return;
        };
        let at = (
            Group::Feeders,
            Place::Feeder(self.id),
            Because::Work("spliced and run on to the new place"),
        );
        lines.work(at, "new-feeder-foot", added);
        lines.work(at, "splice-set", Count::whole(2));
        lines.part(at, "wire-connector-large", Count::whole(4));
        lines.part(at, "cable-connector-large", Count::whole(2));
        self.wires(self.feeder.wire.get(), added, at, pricer, lines);
    }
}
