//! Feeders and what else conductors are held to. Amperes.

use editing::Edit;
use engine::conductor::voltage_drop::Drops;
use engine::conductor::{Change, Found, Verdict};
use engine::sheets::Sheets;
use engine::sheets::feeder::{FeederSheet, SizeSheet};
use model::Job;
use model::conductor::Wire;
use model::units::Amperes;
use schemars::JsonSchema;
use serde::Serialize;

/// What conductors are held to; the worksheets stand apart.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Conductors<'r> {
    feeders: Vec<FeederResult<'r>>,
    /// Calculations that belong to no feeder and no circuit.
    others: Vec<OtherResult<'r>>,
    circuits: Vec<CircuitResult<'r>>,
}

/// A feeder or the service conductors.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FeederResult<'r> {
    feeder: &'r str,
    /// The board it feeds.
    board: &'r str,
    /// It carries its load and its device protects it.
    verdict: Verdict,
    carries_load: Verdict,
    protected: Verdict,
    /// The dwelling rule may be used.
    dwelling_rule: Verdict,
    ampacity_a: &'r Found<Amperes>,
    /// Ampacity that load and device ask for.
    needed_a: Option<Amperes>,
    /// Largest device without the dwelling rule.
    largest_device_a: &'r Found<Amperes>,
    /// Smallest changes that make it pass, each tried by the same check.
    changes: Vec<ChangeInWords<'r>>,
    neutral: Option<SmallestSize<'r>>,
    /// Equipment ground.
    ground: Option<SmallestSize<'r>>,
    voltage_drop: Option<VoltageDrop<'r>>,
    raceway: Option<RacewayResult<'r>>,
    /// What was taken where the survey left a gap.
    taken: &'r [String],
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// A change that makes a feeder pass.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ChangeInWords<'r> {
    change: &'r Change,
    text: String,
    /// What makes the change in the picture after the work; none where it is no matter of a field.
    edits: Vec<Edit>,
}

/// A conductor that must have at least a size.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SmallestSize<'r> {
    smallest: Option<Wire>,
    verdict: Verdict,
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// Voltage drop under the calculated load.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct VoltageDrop<'r> {
    drops: &'r Option<Drops>,
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// Fill of a raceway.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RacewayResult<'r> {
    verdict: Verdict,
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// A calculation that belongs to no feeder and no circuit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OtherResult<'r> {
    /// Id of its worksheet.
    worksheet: &'r str,
    verdict: Verdict,
    title: &'r str,
}

/// Breaker against conductor of a branch circuit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CircuitResult<'r> {
    circuit: &'r str,
    verdict: Verdict,
    /// Id of its worksheet.
    worksheet: &'r str,
}

/// The documented form.
#[must_use]
pub fn of<'r>(sheets: &'r Sheets<'_>, job: &Job) -> Conductors<'r> {
    let others = rest(sheets).map(|(worksheet, verdict, title)| OtherResult {
        worksheet,
        verdict,
        title,
    });
    let circuits = sheets.circuits.iter().map(|c| CircuitResult {
        circuit: c.id,
        verdict: c.verdict,
        worksheet: &c.worksheet.id,
    });
    Conductors {
        feeders: sheets.feeders.iter().map(|f| of_feeder(f, job)).collect(),
        others: others.collect(),
        circuits: circuits.collect(),
    }
}

fn of_feeder<'r>(f: &'r FeederSheet<'_>, job: &Job) -> FeederResult<'r> {
    let changes = f.changes.iter().map(|change| ChangeInWords {
        change,
        text: change.describe(),
        edits: editing::remedy::of_feeder(job, f, change),
    });
    FeederResult {
        feeder: f.id,
        board: f.board,
        verdict: f.check.verdict,
        carries_load: f.check.carries_load,
        protected: f.check.protected,
        dwelling_rule: f.check.dwelling_rule_applies,
        ampacity_a: &f.check.ampacity,
        needed_a: f.check.needed,
        largest_device_a: &f.check.largest_device,
        changes: changes.collect(),
        neutral: f.neutral.as_ref().map(size),
        ground: f.ground.as_ref().map(size),
        voltage_drop: f.drop.as_ref().map(|(sheet, drops)| VoltageDrop {
            drops,
            worksheet: &sheet.id,
        }),
        raceway: f.raceway.as_ref().map(|(sheet, verdict)| RacewayResult {
            verdict: *verdict,
            worksheet: &sheet.id,
        }),
        taken: &f.said,
        worksheet: &f.check.worksheet.id,
    }
}

fn size(s: &SizeSheet) -> SmallestSize<'_> {
    SmallestSize {
        smallest: s.smallest,
        verdict: s.verdict,
        worksheet: &s.worksheet.id,
    }
}

/// Calculations that belong to no feeder and no circuit: id, verdict, title.
pub fn rest<'s>(sheets: &'s Sheets<'_>) -> impl Iterator<Item = (&'s str, Verdict, &'s str)> {
    let grounding = sheets.grounding.iter().map(|g| (&g.worksheet, g.verdict));
    let buses = sheets
        .buses
        .iter()
        .map(|b| (&b.check.worksheet, b.check.verdict));
    let splices = sheets.splices.iter().map(|s| (&s.worksheet, s.verdict));
    let all = grounding.chain(buses).chain(splices);
    all.map(|(sheet, verdict)| (sheet.id.as_str(), verdict, sheet.title.as_str()))
}

/// How many calculations fail whatever the unknown facts are.
#[must_use]
pub fn failing(sheets: &Sheets<'_>) -> usize {
    let fails = |v: &Verdict| *v == Verdict::Fail;
    let feeders = sheets.feeders.iter().flat_map(|f| {
        let sizes = [&f.neutral, &f.ground]
            .into_iter()
            .flatten()
            .map(|s| s.verdict);
        let raceway = f.raceway.as_ref().map(|r| r.1);
        sizes.chain(raceway).chain([f.check.verdict])
    });
    feeders.filter(fails).count()
        + rest(sheets).filter(|(_, v, _)| fails(v)).count()
        + sheets.circuits.iter().filter(|c| fails(&c.verdict)).count()
        + sheets
            .faults
            .iter()
            .filter(|b| fails(&b.fault.verdict))
            .count()
}
