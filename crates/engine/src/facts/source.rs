//! What the picture tells about a source besides the utility, by the names of the dictionary.
//! Source: source and the board it is on. Amperes.

use model::house::{Source, SourceKind};

use super::calculated::OfBoard;
use super::told::{Told, is, number, quantity, yes};

/// One source of the after picture with its board's numbers.
pub(super) struct View<'j> {
    pub(super) source: &'j Source,
    pub(super) board: Option<&'j OfBoard<'j>>,
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

/// Every fact about a source that the model can tell.
pub(super) const RULES: &[Rule] = &[
    rule("source.inverter_on_bus", "kind", |v| {
        is(v.source.kind != SourceKind::Generator)
    }),
    rule("source.generator", "kind", |v| {
        is(v.source.kind == SourceKind::Generator)
    }),
    rule("source.inverter_out_a", "output", |v| {
        quantity(&v.source.output)
    }),
    rule("source.bus_sum_a", "output", |v| number(v.bus_sum())),
    rule("source.opposite_end", "opposite_end", |v| {
        yes(&v.source.opposite_end)
    }),
];

impl View<'_> {
    /// 125 % of the inverter's output plus the device that protects the bus.
    fn bus_sum(&self) -> Option<f64> {
        let device = self.board?.supply_device.get()?;
        Some(1.25 * self.source.output.get()?.0 + device.0)
    }
}
