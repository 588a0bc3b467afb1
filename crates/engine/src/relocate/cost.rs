//! What does the counted work of a place cost, by the shop's price book?
//! Source: the book's parts, labour, rates and remedies; from a line to its price the way is that of [`crate::price`]. Minutes of one person,
//! US dollars; every line is rounded to the cent, cable of one sort being one line.

use std::borrow::Cow;
use std::collections::BTreeMap;

use model::house::{Feeder, UTILITY};
use model::scope::Scope;
use model::units::{Feet, Hours};
use model::{Job, Material, Offer, Wire, WireSize, WiringMethod};
use shop::{Book, Count, Does, Minutes};

use super::judged::Asked;
use super::runs::{FeederRun, FeederWork};
use super::work::{Laid, Work};
use super::{Cost, Pricing, Span, Way};
use crate::price::breakers::{Asked as OfBreaker, Units};
use crate::price::circuits::{metal, raceway, sheath, size};
use crate::price::line::Lines;
use crate::price::{self, Pricer, What};

/// One staple for each four and a half feet: a count of material, not a code distance.
const FEET_PER_STAPLE: f64 = 4.5;

/// A price book for one job's move.
pub struct Costing<'b> {
    book: &'b Book,
    pricer: Pricer<'b>,
    job: &'b Job,
    units: Units<'b>,
    /// The smallest wire that takes a large connector.
    large: Option<WireSize>,
}

/// Counted things, at least and at most.
#[derive(Default)]
struct Bill {
    lines: Vec<(What<'static>, Span<Count>)>,
    unpriced: Vec<String>,
}

impl Bill {
    fn part(&mut self, name: impl Into<Cow<'static, str>>, count: Span<Count>) {
        self.lines.push((What::Part(name.into()), count));
    }

    fn work(&mut self, item: impl Into<Cow<'static, str>>, count: Span<Count>) {
        self.lines.push((What::Work(item.into()), count));
    }
}

fn whole(count: Span<u32>) -> Span<Count> {
    Span {
        low: Count::whole(i64::from(count.low)),
        high: Count::whole(i64::from(count.high)),
    }
}

fn feet(length: Span<Feet>) -> Span<Count> {
    let count = |f: Feet| Count::of(f.0).unwrap_or(Count::ZERO);
    Span {
        low: count(length.low),
        high: count(length.high),
    }
}

fn each(count: Span<Count>, by: impl Fn(Count) -> Count) -> Span<Count> {
    Span {
        low: by(count.low),
        high: by(count.high),
    }
}

fn times(count: Span<Count>, n: i64) -> Span<Count> {
    each(count, |c| c.times(Count::whole(n)))
}

impl<'b> Costing<'b> {
    /// A book, with the settings of the job's own offer, for the move of one of its boards.
    #[must_use]
    pub fn new(book: &'b Book, job: &'b Job, offer: &Offer) -> Self {
        Self {
            book,
            pricer: Pricer::new(book, offer),
            units: Units::of(job, &Scope::of(job)),
            job,
            large: "8".parse().ok(),
        }
    }

    /// Prices a bill line by line.
    fn price(&self, bill: &Bill) -> Cost {
        let mut cost = Cost {
            unpriced: bill.unpriced.clone(),
            ..Cost::default()
        };
        let mut minutes = Span::exactly(Minutes::ZERO);
        for (what, count) in &bill.lines {
            let low = self.pricer.cost_of(what, count.low);
            let high = if count.low == count.high {
                low.clone()
            } else {
                self.pricer.cost_of(what, count.high)
            };
            let (Ok(low), Ok(high)) = (low, high) else {
                let (What::Part(name) | What::Work(name)) = what else {
                    continue;
                };
                cost.unpriced.push(format!("`{name}`"));
                continue;
            };
            for (line, minutes, material, price) in [
                (
                    low,
                    &mut minutes.low,
                    &mut cost.material.low,
                    &mut cost.price.low,
                ),
                (
                    high,
                    &mut minutes.high,
                    &mut cost.material.high,
                    &mut cost.price.high,
                ),
            ] {
                *minutes += line.minutes;
                *material += line.material;
                *price += line.price();
            }
        }
        cost.hours = Span {
            low: minutes.low.hours(),
            high: minutes.high.hours(),
        };
        cost
    }

    fn laid(&self, laid: &Laid, bill: &mut Bill) {
        let (pieces, length) = (whole(laid.pieces), feet(laid.length));
        bill.work("extend-circuit", pieces);
        bill.work("extend-foot", length);
        bill.work("splice-set", pieces);
        let (Some(wire), Some(method)) = (laid.cable.wire, laid.cable.method) else {
            let what = "cable of a circuit whose `wire` or `method` nobody knows";
            bill.unpriced.push(what.to_owned());
            return;
        };
        let conductors = laid.cable.conductors;
        let connector = match wire.material {
            Material::Aluminum => "al-cu-connector",
            _ if self.large.is_some_and(|l| wire.size >= l) => "wire-connector-large",
            _ => "wire-connector",
        };
        bill.part(connector, times(pieces, conductors + 1));
        let bought = each(length, |l| l.and(self.pricer.rates().wire_waste()));
        // Copper lengthens aluminum and open wiring too; nobody lays those anew.
        let size = size(wire.size.name());
        match raceway(method) {
            Some(raceway) => {
                bill.part(format!("raceway-{raceway}"), length);
                bill.part(format!("wire-{size}-cu"), times(bought, conductors + 1));
            }
            None => {
                let name = match method {
                    WiringMethod::SER | WiringMethod::SEU => {
                        format!("cable-{}-{size}-{}-3", sheath(method), metal(wire.material))
                    }
                    _ => format!("cable-{}-{size}-cu-{conductors}", sheath(method)),
                };
                bill.part(name, bought);
                bill.part("cable-connector", times(pieces, 2));
                let staples = |l: Count| Count::of(l.hundredths() as f64 / 100.0 / FEET_PER_STAPLE);
                bill.part(
                    "staple",
                    each(length, |l| staples(l).unwrap_or(Count::ZERO)),
                );
            }
        }
    }

    fn feeder(&self, run: &FeederRun, bill: &mut Bill) {
        let Some(feeder) = self.job.after.feeders.get(run.feeder.as_str()) else {
            return;
        };
        let extra = run.extra.map(|e| Feet::from(e).max(Feet::ZERO));
        let length = match run.work {
            FeederWork::Reaches => return,
            FeederWork::SplicedInOldCabinet => extra,
            FeederWork::TooShort | FeederWork::NewAnyway => run.after,
        };
        let Some(length) = length else {
            let what = format!("feeder {}, whose length or path is unknown", run.feeder);
            bill.unpriced.push(what);
            return;
        };
        // Where its path is not known it may also reach as it is.
        let perhaps = run.at_most && run.work == FeederWork::TooShort;
        let least = if perhaps { Feet::ZERO } else { length };
        let one = whole(Span {
            low: u32::from(!perhaps),
            high: 1,
        });
        let length = feet(Span {
            low: least,
            high: length,
        });
        match run.work {
            FeederWork::TooShort => bill.work("new-feeder", one),
            FeederWork::SplicedInOldCabinet => {
                bill.work("splice-set", times(one, 2));
                bill.part("wire-connector-large", times(one, 4));
            }
            FeederWork::Reaches | FeederWork::NewAnyway => {}
        }
        bill.work("new-feeder-foot", length);
        let bought = each(length, |l| l.and(self.pricer.rates().wire_waste()));
        conductors(feeder, &run.feeder, (bought, length), one, bill);
    }

    /// What is asked of breakers, beyond the plain ones that are bought anyway.
    fn breakers(&self, asked: &[Asked], sure: bool) -> Cost {
        let mut wanted: BTreeMap<usize, OfBreaker> = BTreeMap::new();
        for one in asked
            .iter()
            .filter(|a| a.sort == "circuit" && (a.sure || !sure))
        {
            let plain = OfBreaker::default();
            let more = match self.book.remedies.get(&one.requirement).map(|r| r.does) {
                Some(Does::Afci) => OfBreaker {
                    afci: true,
                    ..plain
                },
                Some(Does::Gfci) => OfBreaker {
                    gfci: true,
                    ..plain
                },
                Some(Does::Breaker) => OfBreaker { new: true, ..plain },
                Some(Does::Tie) => OfBreaker { tie: true, ..plain },
                _ => continue,
            };
            if let Some(unit) = self.units.of_circuit(&one.name) {
                let known = wanted.entry(unit).or_default();
                *known = known.or(more);
            }
        }
        let (mut with, mut without) = (Lines::new(), Lines::new());
        for (unit, asked) in wanted {
            if let Some(unit) = self.units.all.get(unit) {
                unit.lines(asked, None, &mut with);
                if unit.bought.is_some() {
                    unit.lines(OfBreaker::default(), None, &mut without);
                }
            }
        }
        let mut cost = Cost::default();
        let mut minutes = 0;
        for (lines, sign) in [(&with, 1), (&without, -1)] {
            for gap in &lines.gaps {
                cost.unpriced.push(gap.what.clone());
            }
            for line in &lines.all {
                let Ok(one) = self.pricer.cost(line) else {
                    if let What::Part(name) | What::Work(name) = &line.what {
                        cost.unpriced.push(format!("`{name}`"));
                    }
                    continue;
                };
                let one: price::Cost = one;
                minutes += sign * one.minutes.hundredths();
                cost.material.high += one.material.times(sign);
                cost.price.high += one.price().times(sign);
            }
        }
        cost.hours.high = Minutes::from_hundredths(minutes).hours();
        cost.hours.low = cost.hours.high;
        cost.material.low = cost.material.high;
        cost.price.low = cost.price.high;
        cost
    }
}

impl Pricing for Costing<'_> {
    fn work(&self, work: &Work<'_>) -> Cost {
        let mut bill = Bill::default();
        for laid in &work.laid {
            self.laid(laid, &mut bill);
        }
        bill.work("new-box", whole(work.boxes));
        bill.part("box-and-cover", whole(work.boxes));
        let one = whole(Span::exactly(1));
        match work.way {
            Way::SpliceBox => {
                bill.work("old-cabinet-splice-box", one);
                bill.part("blank-cover-cabinet", one);
            }
            Way::Removed => {
                bill.work("remove-old-cabinet", one);
                bill.part("patch-plate", one);
            }
            Way::InPlace => {}
        }
        for feeder in work.feeders {
            self.feeder(feeder, &mut bill);
        }
        self.price(&bill)
    }

    fn asked(&self, asked: &[Asked]) -> Cost {
        let (sure, all) = (self.breakers(asked, true), self.breakers(asked, false));
        let mut bill = Bill {
            unpriced: all.unpriced,
            ..Bill::default()
        };
        // Whether work still to be done will be done right is no reason for a higher price of the place: only what is sure is counted.
        for one in asked.iter().filter(|a| a.sure) {
            let Some(remedy) = self.book.remedies.get(&one.requirement) else {
                let what = format!("what is done about `{}`", one.requirement);
                bill.unpriced.push(what);
                continue;
            };
            match remedy.does {
                Does::Lines => {
                    for part in &remedy.parts {
                        bill.part(part.item.clone(), Span::exactly(part.count));
                    }
                    for task in &remedy.labour {
                        bill.work(task.item.clone(), Span::exactly(task.count));
                    }
                }
                Does::Feeder | Does::NewFeeder => {
                    let what = format!("what `{}` asks of a feeder", one.requirement);
                    bill.unpriced.push(what);
                }
                _ => {}
            }
        }
        let range = |low: &Cost, high: &Cost| Cost {
            hours: Span {
                low: Hours(low.hours.low.0.min(high.hours.high.0)),
                high: high.hours.high,
            },
            material: Span {
                low: low.material.low.min(high.material.high),
                high: high.material.high,
            },
            price: Span {
                low: low.price.low.min(high.price.high),
                high: high.price.high,
            },
            unpriced: Vec::new(),
        };
        self.price(&bill)
            + range(
                &sure,
                &Cost {
                    unpriced: Vec::new(),
                    ..all
                },
            )
    }
}

/// Conductors of a feeder, by cable or by single wires in a raceway, all sets.
fn conductors(
    feeder: &Feeder,
    id: &str,
    (bought, laid): (Span<Count>, Span<Count>),
    one: Span<Count>,
    bill: &mut Bill,
) {
    let (Some(wire), Some(method)) = (feeder.wire.get(), feeder.method.get()) else {
        let what = format!("conductors of feeder {id}, whose `wire` or `method` nobody knows");
        bill.unpriced.push(what);
        return;
    };
    let sets = i64::from(feeder.sets.max(1));
    let (bought, laid) = (times(bought, sets), times(laid, sets));
    let name = |wire: Wire| format!("{}-{}", size(wire.size.name()), metal(wire.material));
    if let Some(raceway) = raceway(method) {
        bill.part(format!("raceway-{raceway}"), laid);
        let neutral = feeder.neutral.get().unwrap_or(wire);
        bill.part(format!("wire-{}", name(wire)), times(bought, 2));
        bill.part(format!("wire-{}", name(neutral)), bought);
        if let Some(ground) = feeder.ground.get() {
            bill.part(format!("wire-{}", name(ground)), bought);
        }
        return;
    }
    // Service-entrance cable without a ground is for service conductors alone.
    let kind = match method {
        WiringMethod::SEU if feeder.from != UTILITY => "ser",
        method => sheath(method),
    };
    bill.part(format!("cable-{kind}-{}-3", name(wire)), bought);
    bill.part("cable-connector-large", times(one, 2));
}
