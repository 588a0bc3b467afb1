//! Loads of each board by every method. Volt-amperes, amperes.

use std::borrow::Cow;

use engine::load::{Method, Outcome, Standing, Told};
use engine::sheets::Sheets;
use engine::sheets::load::BoardLoad;
use model::units::Unit;
use rulebook::Check;
use schemars::JsonSchema;
use serde::Serialize;

/// The load on a board; the worksheets stand apart.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LoadOfBoard<'r> {
    board: &'r str,
    /// The method to build on.
    recommended: Method,
    /// Why that one.
    why: &'r str,
    /// Every method that was run.
    methods: Vec<LoadByMethod<'r>>,
    /// Readings that were taken where a sentence can be read in two ways.
    readings: &'r [Cow<'static, str>],
    /// What was taken where the survey left a gap.
    taken: &'r [String],
}

/// What one method comes to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LoadByMethod<'r> {
    method: Method,
    /// Whether it may be used here.
    standing: &'r Standing,
    /// Calculated load.
    demand_va: Bound<'r>,
    /// The same as current, not yet rounded.
    amperes: Bound<'r>,
    /// In whole amperes.
    rounded_a: Bound<'r>,
    /// Neutral load, not yet rounded.
    neutral_a: Bound<'r>,
    /// Smallest standard rating.
    rating_a: Bound<'r>,
    /// Weakest check status of all steps.
    check: Check,
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// A number, or the least it can be while something is missing.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "LeastValue")]
pub struct Bound<'r> {
    value: f64,
    /// It is the number, and not merely the least it can be.
    exact: bool,
    /// What is missing, in words.
    missing: &'r [Cow<'static, str>],
}

/// The documented form.
#[must_use]
pub fn of<'r>(sheets: &'r Sheets<'_>) -> Vec<LoadOfBoard<'r>> {
    sheets.loads.iter().map(of_board).collect()
}

fn of_board<'r>(load: &'r BoardLoad<'_>) -> LoadOfBoard<'r> {
    LoadOfBoard {
        board: load.board,
        recommended: load.comparison.recommended,
        why: &load.comparison.why,
        methods: load.comparison.outcomes.iter().map(by_method).collect(),
        readings: &load.comparison.readings,
        taken: &load.said,
    }
}

fn by_method(o: &Outcome) -> LoadByMethod<'_> {
    LoadByMethod {
        method: o.method,
        standing: &o.standing,
        demand_va: bound(&o.demand),
        amperes: bound(&o.current),
        rounded_a: bound(&o.rounded),
        neutral_a: bound(&o.neutral),
        rating_a: bound(&o.rating),
        check: o.worksheet.check(),
        worksheet: &o.worksheet.id,
    }
}

fn bound<U: Unit>(value: &Told<U>) -> Bound<'_> {
    Bound {
        value: value.lower_bound().get(),
        exact: value.exact().is_some(),
        missing: value.missing(),
    }
}
