//! What the pictures tell about the feeder that supplies a board, by the names of the dictionary.
//! Source: feeder, its check. Amperes.

use model::house::Feeder;
use model::scope::Change;
use model::{WireSize, WiringMethod};

use super::calculated::OfFeeder;
use super::told::{Told, Value, count, is, maybe, number, quantity, with, yes};

/// One feeder of the after picture, service conductors not among them.
pub(super) struct View<'j> {
    pub(super) feeder: &'j Feeder,
    pub(super) change: Change,
    pub(super) numbers: OfFeeder,
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

/// The first year in which the 2008 edition could have been in force.
const FIRST_YEAR_OF_2008_RULES: u16 = 2008;

/// Every fact about a feeder that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("feeder.exists", "", |_| is(true)),
    rule("feeder.new_or_replaced", "", |v| {
        is(matches!(v.change, Change::New | Change::Replaced))
    }),
    rule("feeder.ocpd_a", "breaker", |v| quantity(&v.feeder.breaker)),
    rule("feeder.ampacity_a", "wire", |v| {
        number(v.numbers.ampacity.map(|a| a.0))
    }),
    rule("feeder.next_std_above_ampacity_a", "wire", |v| {
        number(v.numbers.next_standard.map(|a| a.0))
    }),
    rule("feeder.load_a", "", |v| number(v.numbers.load.map(|a| a.0))),
    rule("feeder.wires", "wires", |v| count(&v.feeder.wires)),
    rule("feeder.egc_present", "ground", |v| {
        let four = with(&v.feeder.wires, |w| Value::Bool(*w >= 4));
        let seen = with(&v.feeder.ground, |_| Value::Bool(true));
        seen.or(four.filter(|(four, _)| *four == Value::Bool(true)))
    }),
    rule(
        "feeder.installed_before_2008_rules",
        "year_installed",
        |v| {
            let year = v.feeder.year_installed.get();
            let before = year.is_some_and(|y| y < FIRST_YEAR_OF_2008_RULES);
            maybe(if v.change == Change::New {
                Some(false)
            } else {
                before.then_some(true)
            })
        },
    ),
    rule("feeder.outside", "outside", |v| yes(&v.feeder.outside)),
    rule("feeder.interior", "outside", |v| {
        with(&v.feeder.outside, |outside| Value::Bool(!outside))
    }),
    rule("feeder.cable", "method", |v| {
        with(&v.feeder.method, |m| Value::Word(cable(*m)))
    }),
    rule(
        "feeder.in_thermal_insulation",
        "in_thermal_insulation",
        |v| yes(&v.feeder.in_thermal_insulation),
    ),
    rule("feeder.conductor_awg_10_or_smaller", "wire", |v| {
        let limit: Option<WireSize> = "10".parse().ok();
        limit.and_then(|limit| with(&v.feeder.wire, |w| Value::Bool(w.size <= limit)))
    }),
    rule("feeder.is_tap", "breaker", |v| {
        maybe((!v.feeder.breaker.is_unknown()).then_some(false))
    }),
    rule("feeder.egc_size_ok", "ground", |v| {
        maybe(v.numbers.ground_size)
    }),
];

/// Wiring method in the dictionary's words.
fn cable(method: WiringMethod) -> &'static str {
    match method {
        WiringMethod::NM => "NM",
        WiringMethod::SER => "SER",
        WiringMethod::SEU => "SEU",
        WiringMethod::UF => "UF",
        WiringMethod::MC => "MC",
        WiringMethod::USE => "USE",
        m if m.is_raceway() => "individual_in_raceway",
        _ => "other",
    }
}
