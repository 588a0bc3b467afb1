//! Loads of each board by every method. Volt-amperes, amperes.

use std::borrow::Cow;

use editing::Edit;
use engine::conductor::Verdict;
use engine::load::{Method, Outcome, Standing, Told};
use engine::sheets::Sheets;
use engine::sheets::load::BoardLoad;
use engine::sheets::remedy::{Change, ComesTo, Remedy};
use engine::sheets::turned::Turned;
use model::Job;
use model::units::{Amperes, Unit};
use rulebook::{Check, Cite};
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
    /// What holds it: the device that protects its bus, and the device of its feeder where that is smaller.
    held_to_a: Option<Amperes>,
    /// Whether that is enough for the load by the recommended method.
    fits: Verdict,
    /// Single changes that make it fit where it does not, each tried by the same calculation; none when it fits.
    remedies: Vec<LoadRemedy<'r>>,
    /// Every method that was run.
    methods: Vec<LoadByMethod<'r>>,
    /// Readings that were taken where a sentence can be read in two ways.
    readings: &'r [Cow<'static, str>],
    /// What was taken where the survey left a gap.
    taken: &'r [String],
}

/// A change that makes the load fit, and what it comes to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LoadRemedy<'r> {
    change: &'r Change,
    text: &'r str,
    /// What it comes to.
    comes_to: ComesTo,
    /// What has to be seen to beside it.
    notes: &'r [String],
    /// Sections it rests on.
    cites: &'r [Cite],
    /// How far what it rests on was checked.
    check: Check,
    /// Other boards whose load does not fit even so.
    still_over: &'r [String],
    /// Calculations that end otherwise with it.
    verdicts: &'r [Turned],
    /// What makes the change in the picture after the work; none where it is no matter of a field.
    edits: Vec<Edit>,
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
pub fn of<'r>(sheets: &'r Sheets<'_>, job: &Job) -> Vec<LoadOfBoard<'r>> {
    sheets.loads.iter().map(|l| of_board(l, job)).collect()
}

fn of_board<'r>(load: &'r BoardLoad<'_>, job: &Job) -> LoadOfBoard<'r> {
    let remedies = load.remedies.iter().map(|r| of_remedy(r, load.board, job));
    LoadOfBoard {
        board: load.board,
        recommended: load.comparison.recommended,
        why: &load.comparison.why,
        held_to_a: load.held_to.get(),
        fits: load.fits(),
        remedies: remedies.collect(),
        methods: load.comparison.outcomes.iter().map(by_method).collect(),
        readings: &load.comparison.readings,
        taken: &load.said,
    }
}

fn of_remedy<'r>(remedy: &'r Remedy, board: &str, job: &Job) -> LoadRemedy<'r> {
    LoadRemedy {
        change: &remedy.change,
        text: &remedy.text,
        comes_to: remedy.comes_to,
        notes: &remedy.notes,
        cites: &remedy.cites,
        check: remedy.check,
        still_over: &remedy.still_over,
        verdicts: &remedy.verdicts,
        edits: editing::remedy::of_load(job, board, &remedy.change),
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
