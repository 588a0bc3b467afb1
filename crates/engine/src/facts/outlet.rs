//! What the two pictures tell about an outlet, by the names of the dictionary.
//! Source: outlet and its circuit. Volts, amperes.

use model::house::{Circuit, Outlet};
use model::scope::{Change, CircuitChange};

use super::told::{Told, and, has, is, maybe, number, quantity, tags};

/// One outlet of the after picture with its circuit.
pub(super) struct View<'j> {
    pub(super) outlet: &'j Outlet,
    pub(super) circuit: Option<(&'j Circuit, &'j CircuitChange)>,
    pub(super) added: bool,
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

/// Every fact about an outlet that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("receptacle.new", "receptacle", |v| {
        maybe(and(Some(v.added), v.outlet.receptacle.get()))
    }),
    rule("receptacle.replaced", "receptacle", |v| {
        let replaced = v.outlet.replaced && !v.added;
        maybe(and(Some(replaced), v.outlet.receptacle.get()))
    }),
    rule("receptacle.volts", "", |v| {
        number(v.circuit.and_then(|(c, _)| match c.poles {
            1 => Some(125.0),
            2 => Some(250.0),
            _ => None,
        }))
    }),
    // Both systems of the model stand at 120 V to ground.
    rule("receptacle.volts_to_ground", "", |_| number(Some(120.0))),
    rule("receptacle.place", "place", |v| tags(&v.outlet.place)),
    rule("receptacle.gfci_protected", "", |v| maybe(v.by_breaker())),
    rule("receptacle.grounding_means_in_box", "", |v| {
        let ground = v.circuit.and_then(|(c, _)| c.ground.get());
        maybe(ground.filter(|grounded| *grounded))
    }),
    rule("outlet.appliance", "appliance", |v| {
        tags(&v.outlet.appliance)
    }),
    rule("outlet.new_or_extended", "", |v| {
        let circuit = v.circuit.map(|(_, change)| change.change);
        is(v.added || circuit == Some(Change::New))
    }),
    rule("outlet.outdoor_at_dwelling", "place", |v| {
        maybe(has(&v.outlet.place, "outdoors"))
    }),
    rule("outlet.amps", "", |v| {
        v.circuit.and_then(|(c, _)| quantity(&c.amps))
    }),
    rule("outlet.lighting_only", "", |v| {
        maybe((v.outlet.receptacle.get() == Some(true)).then_some(false))
    }),
    rule("outlet.gfci_protected", "", |v| maybe(v.by_breaker())),
];

impl View<'_> {
    /// True where the circuit's breaker or first device protects it; another device may do so too, so never false.
    fn by_breaker(&self) -> Option<bool> {
        let protection = self.circuit?.0.protection.get()?;
        protection.has_gfci().then_some(true)
    }
}
