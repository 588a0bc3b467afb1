//! What the two pictures tell about a branch circuit, by the names of the dictionary.
//! Source: circuit, its loads, its board. Inches, amperes, volts.

use model::house::{Board, Circuit, Hazard, House, Leg, LoadKind, Purpose};
use model::scope::{Change, CircuitChange};
use model::{Material, Said, WiringMethod};

use super::calculated::{Calculated, Standing};
use super::told::{Told, Value, and, any, is, maybe, number, quantity, tags, with, yes};

/// One circuit of the after picture with what it touches.
pub(super) struct View<'j> {
    pub(super) id: &'j str,
    pub(super) circuit: &'j Circuit,
    pub(super) change: &'j CircuitChange,
    pub(super) board: Option<&'j Board>,
    pub(super) after: &'j House,
    pub(super) before: &'j House,
    pub(super) numbers: &'j Calculated<'j>,
}

/// How one fact is told, and the field that answers it.
pub(super) type Rule = super::Rule<for<'v> fn(&'v View<'v>) -> Told<'v>>;

const fn rule(
    fact: &'static str,
    field: &'static str,
    tell: for<'v> fn(&'v View<'v>) -> Told<'v>,
) -> Rule {
    Rule { fact, field, tell }
}

/// Every fact about a circuit that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("circuit.volts", "poles", |v| number(v.volts())),
    rule("circuit.amps", "amps", |v| quantity(&v.circuit.amps)),
    rule("circuit.new", "", |v| is(v.is_new())),
    rule("circuit.extended", "added_outside", |v| {
        yes(&v.change.extended)
    }),
    rule("circuit.ext_outside_in", "added_outside", |v| {
        quantity(&v.change.added_outside)
    }),
    rule("circuit.ext_total_in", "added_total", |v| {
        quantity(&v.change.added_total)
    }),
    rule("circuit.rewired", "", |v| {
        is(v.change.change == Change::Replaced)
    }),
    rule("circuit.shortened", "cut_shorter", |v| {
        yes(&v.change.cut_shorter)
    }),
    rule("circuit.outlets_or_devices_added", "outlets_added", |v| {
        v.outlets_added()
    }),
    rule("circuit.areas", "rooms", |v| tags(&v.circuit.rooms)),
    rule("circuit.afci_present", "protection", |v| {
        with(&v.circuit.protection, |p| Value::Bool(p.has_afci()))
    }),
    rule("circuit.fire_alarm_individual", "purpose", |v| {
        maybe(v.no_special_purpose())
    }),
    rule("circuit.arc_welder_individual", "purpose", |v| {
        maybe(v.no_special_purpose())
    }),
    rule("circuit.mwbc", "shared_with", |v| is(v.shared())),
    rule("circuit.mwbc_legs_differ", "spaces", |v| {
        maybe(v.legs_differ())
    }),
    rule("circuit.simultaneous_disconnect", "", |v| {
        maybe((v.circuit.poles > 1 && !v.shared()).then_some(true))
    }),
    rule("circuit.all_conductors_same_panel", "", |v| {
        maybe(v.partner().map(|p| p.board == v.circuit.board))
    }),
    rule("circuit.line_to_line_only", "", |v| {
        maybe(v.line_to_line_only())
    }),
    rule("circuit.common_trip_or_tie", "", |v| {
        maybe((v.circuit.poles > 1).then_some(true))
    }),
    rule("circuit.aluminum_small", "wire", |v| v.small_aluminum()),
    rule("circuit.egc_present", "ground", |v| {
        yes(&v.circuit.ground).or_else(|| maybe(v.hazard(Hazard::Ungrounded).then_some(false)))
    }),
    rule("circuit.knob_and_tube", "", |v| {
        let run_so = v.circuit.method.get() == Some(WiringMethod::KnobAndTube);
        maybe((run_so || v.hazard(Hazard::KnobAndTube)).then_some(true))
    }),
    rule("circuit.ocpd_ok_for_conductor", "wire", |v| {
        maybe(v.numbers.circuits.get(v.id).copied())
    }),
    rule("circuit.cable", "method", |v| {
        with(&v.circuit.method, |m| Value::Word(cable(*m)))
    }),
    rule(
        "circuit.range_or_dryer",
        "loads",
        |v| is(v.range_or_dryer()),
    ),
    rule("circuit.three_wire_no_egc", "ground", |v| {
        let grounded = v.circuit.ground.get();
        maybe(
            if v.is_new() || !v.range_or_dryer() || grounded == Some(true) {
                Some(false)
            } else {
                None
            },
        )
    }),
    rule("circuit.originates_at_service_equipment", "", |v| {
        let board = v.numbers.boards.get(v.circuit.board.as_str());
        maybe(
            board
                .and_then(|b| b.standing)
                .map(|s| s == Standing::Service),
        )
    }),
    rule("ev.circuit_new", "", |v| is(v.charging() && v.is_new())),
    rule("ev.individual_circuit", "loads", |v| {
        maybe(v.charger_alone())
    }),
    rule("ev.load_managed", "", |v| maybe(v.managed())),
    rule("ev.breaker_at_125pct", "amps", |v| {
        maybe(v.breaker_suits_charger())
    }),
    rule("ev.gfci_protected", "protection", |v| {
        with(&v.circuit.protection, |p| Value::Bool(p.has_gfci()))
    }),
];

/// Wiring method in the dictionary's words.
fn cable(method: WiringMethod) -> &'static str {
    match method {
        WiringMethod::NM => "NM",
        WiringMethod::AC => "AC",
        WiringMethod::MC => "MC",
        WiringMethod::SER | WiringMethod::SEU => "SE",
        WiringMethod::KnobAndTube => "K_and_T",
        m if m.is_raceway() => "individual_in_raceway",
        _ => "other",
    }
}

impl View<'_> {
    fn is_new(&self) -> bool {
        self.change.change == Change::New
    }

    fn shared(&self) -> bool {
        self.circuit.shared_with.is_some()
    }

    fn hazard(&self, hazard: Hazard) -> bool {
        self.circuit.hazards.contains(&hazard)
    }

    fn partner(&self) -> Option<&Circuit> {
        self.after.circuits.get(self.circuit.shared_with.as_ref()?)
    }

    fn loads(&self) -> impl Iterator<Item = &model::house::Load> {
        let loads = self.circuit.loads.iter();
        loads.filter_map(|l| self.after.loads.get(l))
    }

    fn volts(&self) -> Option<f64> {
        match self.circuit.poles {
            1 => Some(120.0),
            2 => Some(self.after.dwelling.system.get()?.line_to_line().0),
            _ => None,
        }
    }

    /// Stated; else as the plan has it: the job adds what the after picture adds, and nothing more.
    /// A new load on an old circuit may or may not need a new outlet.
    fn outlets_added(&self) -> Told<'static> {
        if !self.circuit.outlets_added.is_unknown() {
            return yes(&self.circuit.outlets_added);
        }
        let listed = self
            .after
            .outlets
            .iter()
            .any(|(id, o)| o.circuit == self.id && !self.before.outlets.contains_key(id));
        let before = self.before.circuits.get(self.id);
        let more = before
            .and_then(|b| Some(self.circuit.outlets.get()? > b.outlets.get()?))
            .unwrap_or(false);
        let loads = before.is_some_and(|b| self.circuit.loads.iter().any(|l| !b.loads.contains(l)));
        let added = listed || more || self.is_new();
        (added || !loads).then_some((Value::Bool(added), Said::Planned))
    }

    /// False where the circuit's listed purpose leaves no room for a fire alarm panel or a welder.
    fn no_special_purpose(&self) -> Option<bool> {
        match self.circuit.purpose {
            Purpose::SmokeAlarms => None,
            Purpose::Individual => {
                let listed = !self.circuit.loads.is_empty()
                    && self.loads().all(|l| l.kind != LoadKind::FixedAppliance);
                listed.then_some(false)
            }
            _ => Some(false),
        }
    }

    fn legs_differ(&self) -> Option<bool> {
        let partner = self.partner()?;
        if partner.board != self.circuit.board {
            return None;
        }
        Some(self.leg(self.circuit)? != self.leg(partner)?)
    }

    /// The leg of a one-pole circuit's only space.
    fn leg(&self, circuit: &Circuit) -> Option<Leg> {
        let spaces = circuit.spaces.known()?;
        let [space] = spaces.as_slice() else {
            return None;
        };
        let digits = space.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let row = digits.parse::<usize>().ok()?.checked_sub(1)? / 2;
        Some(self.board?.leg_rows.known()?.of_row(row))
    }

    fn line_to_line_only(&self) -> Option<bool> {
        if self.circuit.poles != 2 {
            return Some(false);
        }
        if self.circuit.loads.is_empty() {
            return None;
        }
        let neutral = self.loads().map(|l| l.uses_neutral.get());
        any(neutral).map(|used| !used)
    }

    fn small_aluminum(&self) -> Told<'static> {
        let said = self.circuit.wire.said();
        let by_wire = self.circuit.wire.known().map(|w| {
            let small = matches!(w.size.name(), "12" | "10");
            small && w.material == Material::Aluminum
        });
        match (by_wire, self.hazard(Hazard::AluminumBranch)) {
            (_, true) => is(true),
            (Some(small), false) => Some((Value::Bool(small), said.unwrap_or_default())),
            (None, false) => None,
        }
    }

    fn range_or_dryer(&self) -> bool {
        use LoadKind::{Cooktop, Dryer, Range, WallOven};
        self.loads()
            .any(|l| matches!(l.kind, Range | WallOven | Cooktop | Dryer))
    }

    fn charging(&self) -> bool {
        self.circuit.purpose == Purpose::VehicleCharging
            || self.loads().any(|l| l.kind == LoadKind::VehicleCharger)
    }

    fn charger_alone(&self) -> Option<bool> {
        if !self.charging() || self.circuit.loads.is_empty() {
            return None;
        }
        let mut loads = self.loads();
        Some(loads.all(|l| l.kind == LoadKind::VehicleCharger) && self.circuit.loads.len() == 1)
    }

    fn managed(&self) -> Option<bool> {
        if !self.charging() {
            return Some(false);
        }
        let mut chargers = self.loads().filter(|l| l.kind == LoadKind::VehicleCharger);
        chargers
            .any(|l| !l.managed_limit.is_unknown())
            .then_some(true)
    }

    /// Breaker, and with it the conductors it suits, at 125 % of the charger's current or more.
    fn breaker_suits_charger(&self) -> Option<bool> {
        let charger = self.loads().find(|l| l.kind == LoadKind::VehicleCharger)?;
        let volts = charger.volts.get().map(|v| v.0).or_else(|| self.volts())?;
        let current = charger
            .managed_limit
            .get()
            .or_else(|| charger.amps.get())
            .map(|a| a.0)
            .or_else(|| Some(charger.nameplate().get()?.0 / volts))?;
        let large_enough = self
            .circuit
            .amps
            .get()
            .map(|a| a.0 + 1e-9 >= 1.25 * current);
        and(large_enough, self.numbers.circuits.get(self.id).copied())
    }
}
