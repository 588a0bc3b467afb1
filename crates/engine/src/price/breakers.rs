//! Which breaker does each circuit need, and which of them are bought?
//! Source: the difference of the two pictures; what requirements ask of a breaker comes on top. Amperes, poles.
//!
//! A shared-neutral set has one two-pole breaker. A board that is new or replaced needs a breaker for every circuit on it; a board that
//! stays needs one only for a circuit that is new there.

use std::collections::BTreeMap;

use model::Job;
use model::Said;
use model::house::{Circuit, Protection, ProtectionAt, Purpose};
use model::id::CircuitId;
use model::scope::{Change, Scope};
use shop::Count;

use super::is_bought;
use super::line::{Because, Group, Lines};
use crate::facts::Place;

/// One breaker: of a circuit, or of a shared-neutral set.
#[derive(Clone, Debug)]
pub(crate) struct Unit<'a> {
    /// Circuits on it, by name.
    pub(crate) circuits: Vec<&'a CircuitId>,
    poles: u8,
    /// Rating; `None` while nobody knows.
    amps: Option<f64>,
    /// Bought whatever requirements say, and why.
    pub(crate) bought: Option<&'static str>,
    /// Protection that the plan puts in it.
    planned: Asked,
    /// Protection that the old one may have had: nobody knows where it sits.
    pub(crate) perhaps: Option<Asked>,
    /// Shares a space with another breaker.
    tandem: Option<(&'a str, String)>,
}

/// What is asked of a breaker.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Asked {
    pub(crate) afci: bool,
    pub(crate) gfci: bool,
    pub(crate) new: bool,
    pub(crate) tie: bool,
}

impl Asked {
    pub(crate) const fn or(self, other: Self) -> Self {
        Self {
            afci: self.afci || other.afci,
            gfci: self.gfci || other.gfci,
            new: self.new || other.new,
            tie: self.tie || other.tie,
        }
    }

    fn of(protection: Protection) -> Self {
        Self {
            afci: protection.has_afci(),
            gfci: protection.has_gfci(),
            ..Self::default()
        }
    }

    const fn suffix(self) -> &'static str {
        match (self.afci, self.gfci) {
            (true, true) => "-dual",
            (true, false) => "-afci",
            (false, true) => "-gfci",
            (false, false) => "",
        }
    }
}

/// Every breaker of the after picture, and which one each circuit is on.
pub(crate) struct Units<'a> {
    pub(crate) all: Vec<Unit<'a>>,
    of: BTreeMap<&'a str, usize>,
}

impl<'a> Units<'a> {
    pub(crate) fn of(job: &'a Job, scope: &Scope) -> Self {
        let mut units = Self {
            all: Vec::new(),
            of: BTreeMap::new(),
        };
        for (id, circuit) in &job.after.circuits {
            if circuit.purpose == Purpose::Spare {
                continue;
            }
            let partner = circuit.shared_with.as_ref().filter(|p| {
                let other = job.after.circuits.get(*p);
                other
                    .is_some_and(|o| o.board == circuit.board && o.shared_with.as_ref() == Some(id))
            });
            let known = partner.and_then(|p| units.of.get(p.as_str()).copied());
            let place = match known {
                Some(place) => {
                    let unit = &mut units.all[place];
                    unit.join(id, circuit, job, scope);
                    place
                }
                None => {
                    units.all.push(Unit::of(id, circuit, job, scope));
                    units.all.len() - 1
                }
            };
            if partner.is_some() {
                units.all[place].poles = 2;
                units.all[place].tandem = None;
            }
            units.of.insert(id.as_str(), place);
        }
        units
    }

    /// The breaker that a circuit is on.
    pub(crate) fn of_circuit(&self, circuit: &str) -> Option<usize> {
        self.of.get(circuit).copied()
    }
}

impl<'a> Unit<'a> {
    fn of(id: &'a CircuitId, circuit: &'a Circuit, job: &Job, scope: &Scope) -> Self {
        let mut unit = Self {
            circuits: Vec::new(),
            poles: circuit.poles,
            amps: None,
            bought: None,
            planned: Asked::default(),
            perhaps: None,
            tandem: tandem(circuit),
        };
        unit.join(id, circuit, job, scope);
        unit
    }

    fn join(&mut self, id: &'a CircuitId, circuit: &Circuit, job: &Job, scope: &Scope) {
        self.circuits.push(id);
        self.amps = match (self.amps, circuit.amps.get()) {
            (Some(a), Some(b)) => Some(a.max(b.0)),
            (None, Some(b)) if self.circuits.len() == 1 => Some(b.0),
            _ => None,
        };
        let before = job.before.circuits.get(id);
        let change = scope.circuit(id.as_str());
        let new_here = change.is_none_or(|c| c.change == Change::New || c.other_board);
        if is_bought(scope, &circuit.board) {
            self.bought = Some("the board is new");
        } else if new_here {
            self.bought = Some("the circuit is new here");
        }
        let Some((protection, said)) = circuit.protection.get().zip(circuit.protection.said())
        else {
            return;
        };
        let asked = Asked::of(protection);
        let changed = before.and_then(|b| b.protection.get()) != Some(protection);
        match circuit.protection_at.get() {
            Some(ProtectionAt::Outlet) => {}
            Some(ProtectionAt::Breaker) => self.planned = self.planned.or(asked),
            None if said == Said::Planned || changed => self.planned = self.planned.or(asked),
            None if asked == Asked::default() => {}
            None => self.perhaps = Some(self.perhaps.unwrap_or_default().or(asked)),
        }
    }

    /// Lines of the breaker with what is asked of it; `reasons` are the requirements that ask, in order.
    pub(crate) fn lines(&self, asked: Asked, reason: Option<Because<'a>>, lines: &mut Lines<'a>) {
        let Some(first) = self.circuits.first() else {
            return;
        };
        let bought = self.bought.is_some() || asked.afci || asked.gfci || asked.new;
        let place = Place::Circuit(first);
        // A breaker that is bought anyway is no requirement's doing, unless its kind is.
        let because = match (self.bought, reason) {
            (Some(words), _) if self.planned.suffix() == self.planned.or(asked).suffix() => {
                Because::Work(words)
            }
            (_, Some(reason)) => reason,
            (words, None) => Because::Work(words.unwrap_or("the breaker is new")),
        };
        let at = (Group::Breakers, place, because);
        if !bought {
            if asked.tie {
                lines.part(at, "handle-tie", Count::whole(1));
                lines.work(at, "two-pole", Count::whole(1));
            }
            return;
        }
        let Some(amps) = self.amps else {
            lines.gap(
                format!("breaker of {}", self.names()),
                format!("say `circuits.{first}.amps`"),
            );
            return;
        };
        let kind = self.planned.or(asked);
        let amps = amps.round() as i64;
        let suffix = kind.suffix();
        match &self.tandem {
            // A tandem breaker of that protection is not made: the circuit takes a space of its own.
            Some(_) if suffix.is_empty() => {
                let half = Count::from_hundredths(50);
                lines.part(at, format!("breaker-tandem-{amps}"), half);
            }
            _ => {
                let name = format!("breaker-{}p-{amps}{suffix}", self.poles.max(1));
                lines.part(at, name, Count::whole(1));
            }
        }
        if !suffix.is_empty() {
            lines.work(at, "arc-fault-device", Count::whole(1));
        }
        if self.poles > 1 {
            lines.work(at, "two-pole", Count::whole(1));
        }
        if self.bought.is_none() {
            lines.work(at, "reland-circuit", Count::whole(1));
        }
    }

    pub(crate) fn names(&self) -> String {
        let names: Vec<&str> = self.circuits.iter().map(|c| c.as_str()).collect();
        names.join(" and ")
    }
}

/// A space with a letter is half of one that two breakers share.
fn tandem(circuit: &Circuit) -> Option<(&str, String)> {
    let [space] = circuit.spaces.known()?.as_slice() else {
        return None;
    };
    let digits = space.trim_end_matches(['A', 'B']);
    (digits.len() < space.len()).then(|| (circuit.board.as_str(), digits.to_owned()))
}
