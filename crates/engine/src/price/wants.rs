//! What does a requirement that bites ask of the take-off, and which lines do several such wishes come to together?
//! Source: the remedies of the price book. Two requirements that ask for the same thing at the same place are answered by one.

use std::collections::BTreeMap;

use model::house::House;
use model::id::CircuitId;
use model::units::Inches;
use rulebook::requirement::BoundRequirement;
use shop::{Count, Does, Remedy};

use super::breakers;
use super::cost::Pricer;
use super::feeders;
use super::line::{Because, Group, Line, Lines, Name, What};
use super::{Context, circuits};
use crate::facts::Place;

/// Why a circuit is traced.
pub(crate) const TRACED: &str = "nobody can tell what it supplies";
/// Why a protected breaker may be bought that no requirement asks for.
pub(crate) const AS_BEFORE: &str = "its old breaker had such protection";

/// One wish.
#[derive(Clone, Debug)]
pub(crate) enum Want<'a> {
    /// Of a breaker.
    Breaker(usize, breakers::Asked),
    /// Of a feeder.
    Feeder(usize, feeders::Asked),
    /// Parts and work of the book's line, at a place.
    Bill(&'a Remedy, Place<'a>),
    /// Parts and work of a chosen option, so many times, at a place.
    Option(&'a shop::ShopOption, Place<'a>),
    /// A circuit is lengthened by so much.
    Extension(&'a CircuitId, Inches),
    /// A circuit is traced.
    Trace(&'a CircuitId),
}

/// A wish with the requirement behind it, where there is one.
#[derive(Clone, Debug)]
pub(crate) struct Wish<'a> {
    pub(crate) want: Want<'a>,
    pub(crate) because: Option<Because<'a>>,
}

/// What two wishes have in common that must be counted together.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Key<'a> {
    Breaker(usize),
    Feeder(usize),
    Bill(Name<'a>, Place<'a>),
    Extension(&'a CircuitId),
    Trace(&'a CircuitId),
}

impl<'a> Want<'a> {
    pub(crate) fn key(&self) -> Key<'a> {
        match self {
            Self::Breaker(unit, _) => Key::Breaker(*unit),
            Self::Feeder(run, _) => Key::Feeder(*run),
            Self::Bill(remedy, place) => Key::Bill(lead(&remedy.parts, &remedy.labour), *place),
            Self::Option(option, place) => Key::Bill(lead(&option.parts, &option.labour), *place),
            Self::Extension(circuit, _) => Key::Extension(circuit),
            Self::Trace(circuit) => Key::Trace(circuit),
        }
    }
}

fn lead<'a>(parts: &'a [shop::Counted], labour: &'a [shop::Counted]) -> Name<'a> {
    let first = parts.first().or(labour.first());
    Name::Borrowed(first.map_or("", |c| c.item.as_str()))
}

/// What a requirement asks for where it bites.
pub(crate) enum Ask<'a> {
    /// These.
    Wishes(Vec<Wish<'a>>),
    /// Nothing that costs money beside the work as counted.
    Nothing,
    /// No part helps: the plan must change.
    Plan(&'a str),
    /// The book does not say, or not at such a place.
    NotInBook(String),
}

/// Looks up what the book does about a requirement at a place.
pub(crate) fn of<'a>(
    requirement: &'a BoundRequirement,
    place: Place<'a>,
    pricer: &Pricer<'a>,
    context: &Context<'a>,
) -> Ask<'a> {
    let id = requirement.requirement().id.as_str();
    let Some(remedy) = pricer.book.remedies.get(id) else {
        return Ask::NotInBook(format!("add a line for `{id}` to {}", shop::remedies::FILE));
    };
    let because = Some(Because::Requirement(requirement));
    let one = |want| Ask::Wishes(vec![Wish { want, because }]);
    let no_circuit = || {
        let file = shop::remedies::FILE;
        let line = remedy.line;
        Ask::NotInBook(format!(
            "{file} line {line} puts it into a breaker or feeder, and {place} has none: write its parts there"
        ))
    };
    let breaker = |asked| match circuit_of(place, &context.job.after) {
        Some(circuit) => match context.units.of_circuit(circuit) {
            Some(unit) => one(Want::Breaker(unit, asked)),
            None => no_circuit(),
        },
        None => no_circuit(),
    };
    let feeder = |asked| match context.run_of(place) {
        Some(run) => one(Want::Feeder(run, asked)),
        None => no_circuit(),
    };
    let plain = breakers::Asked::default();
    match remedy.does {
        Does::Lines => one(Want::Bill(remedy, place)),
        Does::Afci => breaker(breakers::Asked {
            afci: true,
            ..plain
        }),
        Does::Gfci => breaker(breakers::Asked {
            gfci: true,
            ..plain
        }),
        Does::Breaker => breaker(breakers::Asked { new: true, ..plain }),
        Does::Tie => breaker(breakers::Asked { tie: true, ..plain }),
        Does::Feeder => feeder(feeders::Asked {
            fix: true,
            new: false,
        }),
        Does::NewFeeder => feeder(feeders::Asked {
            fix: false,
            new: true,
        }),
        Does::Plan => Ask::Plan(&remedy.note),
        Does::Covered | Does::None => Ask::Nothing,
    }
}

/// The circuit a place belongs to.
fn circuit_of<'a>(place: Place<'a>, house: &'a House) -> Option<&'a str> {
    match place {
        Place::Circuit(id) => Some(id.as_str()),
        Place::Outlet(id) => house.outlets.get(id).map(|o| o.circuit.as_str()),
        _ => None,
    }
}

/// Lines of these wishes together. What `counted` already has is not counted again.
pub(crate) fn lines<'a>(
    wishes: &[&Wish<'a>],
    pricer: &Pricer<'a>,
    context: &Context<'a>,
    counted: &BTreeMap<(Name<'a>, What<'a>, Place<'a>), Count>,
    out: &mut Lines<'a>,
) {
    let mut of_breaker: BTreeMap<usize, (breakers::Asked, Option<Because<'a>>)> = BTreeMap::new();
    let mut of_feeder: BTreeMap<usize, feeders::Wishes<'a>> = BTreeMap::new();
    let mut bill: Vec<Line<'a>> = Vec::new();
    for wish in wishes {
        match &wish.want {
            Want::Breaker(unit, asked) => {
                let (all, reason) = of_breaker.entry(*unit).or_default();
                *all = all.or(*asked);
                *reason = reason.or(wish.because);
            }
            Want::Feeder(run, asked) => {
                let all = of_feeder.entry(*run).or_default();
                if asked.fix {
                    all.fix = all.fix.or(wish.because);
                }
                if asked.new {
                    all.new = all.new.or(wish.because);
                }
            }
            Want::Bill(remedy, place) => {
                let because = wish.because.unwrap_or(Because::Work(""));
                let at = (Group::Required, *place, because);
                merge(&mut bill, itemize(&remedy.parts, &remedy.labour, at));
            }
            Want::Option(option, place) => {
                let because = Because::Chosen(&option.name, &option.title);
                let at = (Group::Options, *place, because);
                merge(&mut bill, itemize(&option.parts, &option.labour, at));
            }
            Want::Trace(circuit) => {
                let because = Because::Work(TRACED);
                let at = (Group::SafetyAndTests, Place::Circuit(circuit), because);
                out.work(at, "trace-circuit", Count::whole(1));
            }
            Want::Extension(circuit, added) => {
                if let Some(found) = context.job.after.circuits.get(*circuit) {
                    let (job, scope) = (context.job, context.scope);
                    circuits::extension(circuit, found, job, scope, *added, pricer, out);
                }
            }
        }
    }
    for (unit, (asked, reason)) in of_breaker {
        if let Some(unit) = context.units.all.get(unit) {
            unit.lines(asked, reason, out);
        }
    }
    for (run, wishes) in of_feeder {
        if let Some(run) = context.runs.get(run) {
            run.lines(wishes, pricer, out);
        }
    }
    for mut line in bill {
        let have = counted.get(&line.key()).copied().unwrap_or(Count::ZERO);
        let more = line.count.hundredths() - have.hundredths();
        if more > 0 {
            line.count = Count::from_hundredths(more);
            out.all.push(line);
        }
    }
}

/// Lines of a bill; all carry its first part, by which the same thing asked for twice is known.
fn itemize<'a>(
    parts: &'a [shop::Counted],
    labour: &'a [shop::Counted],
    (group, place, because): (Group, Place<'a>, Because<'a>),
) -> Vec<Line<'a>> {
    let lead = lead(parts, labour);
    let parts = parts
        .iter()
        .map(|c| (What::Part(Name::Borrowed(&c.item)), c.count));
    let labour = labour
        .iter()
        .map(|c| (What::Work(Name::Borrowed(&c.item)), c.count));
    let lines = parts.chain(labour).map(|(what, count)| {
        let mut line = Line::new(group, what, count, place, because);
        line.lead = lead.clone();
        line
    });
    lines.collect()
}

/// Adds lines to a bill; a thing that is there already is counted at the larger of both counts.
fn merge<'a>(bill: &mut Vec<Line<'a>>, more: Vec<Line<'a>>) {
    for line in more {
        match bill.iter_mut().find(|l| l.key() == line.key()) {
            Some(known) => known.count = known.count.max(line.count),
            None => bill.push(line),
        }
    }
}
