//! What the requirements say with the board at a place, and what of that the place itself brings up.
//! Source: the check of the whole job, nothing of it repeated here. Costs in US dollars of material, as the rulebook's files have them.

use model::units::Percent;
use model::{Dollars, Job};
use rulebook::requirement::Topic;
use rulebook::{FactSet, Rulebook};
use serde::Serialize;

use super::setting::Refusal;
use super::{Span, section};
use crate::check::verdicts;
use crate::conductor::Verdict;
use crate::facts::Place;
use crate::findings::{Finding, Findings};
use crate::sheets::Sheets;

/// One thing that a requirement asks for somewhere.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "AskedAtPlace")]
pub struct Asked {
    /// The requirement.
    pub requirement: String,
    /// Its title.
    pub title: String,
    /// Its section in the job's edition.
    pub section: String,
    /// Sort of the thing it is about, for example `circuit`.
    pub sort: &'static str,
    /// Name of that thing.
    pub name: String,
    /// Required; else nobody can tell yet.
    pub sure: bool,
    /// Material of the usual remedy, as the rulebook has it.
    pub material: Option<Span<Dollars>>,
}

/// Verdicts that hold at every place of one kind.
#[derive(Clone, Debug, Default, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "JudgedAtPlace")]
pub struct Judged {
    /// Requirements about the place itself that forbid it.
    pub refused: Vec<Refusal>,
    /// Requirements about the place itself that cannot be told.
    pub open: Vec<Asked>,
    /// What the place brings up, or may bring up, and the new panel at the old place would not.
    pub asked: Vec<Asked>,
    /// Requirements and places that are required and missing, in all.
    pub missing: usize,
    /// Those that cannot be told, in all.
    pub cannot_tell: usize,
    /// Feeders whose conductors or drop do not pass here and would at the old place, in words.
    pub feeders: Vec<String>,
    /// Fill of the old cabinet as a splice box, where it is one and its fill can be told.
    pub splice_fill: Option<bool>,
    /// Everything missing or open, for comparison.
    #[serde(skip)]
    pub(super) keys: Vec<Key>,
}

/// What is asked, and which feeders fail, with the new panel at the old place.
#[derive(Default)]
pub(super) struct InPlace {
    pub(super) keys: Vec<Key>,
    pub(super) feeders: Vec<String>,
}

/// A requirement at a thing, and whether it is sure.
pub(super) type Key = (String, &'static str, String, bool);

/// Facts about a place that a light, a guard, a platform or another enclosure mends: no requirement about them forbids it.
const CAN_BE_MENDED: &[&str] = &[
    "panel.ws_lit",
    "panel.exposed_to_damage",
    "panel.floor_level",
    "panel.enclosure_type_ok",
];

/// Facts that decide whether a place is allowed at all.
const DECIDES_THE_PLACE: &[&str] = &[
    "panel.location",
    "panel.ws_depth_in",
    "panel.ws_width_in",
    "panel.ws_height_in",
    "panel.highest_handle_in",
    "panel.equipment_width_in",
    "panel.door_opens_90",
    "panel.dedicated_space_clear",
    "panel.readily_accessible",
    "panel.occupant_access",
];

/// Judges a staged job. `in_place` is nothing while the new panel at the old place is worked out.
pub(super) fn judge(job: &Job, book: &Rulebook, board: &str, in_place: &InPlace) -> Judged {
    verdicts(job, book, |findings, sheets| {
        gather(findings, sheets, book, board, in_place)
    })
}

fn gather(
    findings: &Findings<'_>,
    sheets: &Sheets<'_>,
    book: &Rulebook,
    board: &str,
    in_place: &InPlace,
) -> Judged {
    let mut feeders = failing(sheets, book);
    feeders.retain(|f| !in_place.feeders.contains(f));
    let mut judged = Judged {
        feeders,
        splice_fill: sheets
            .splices
            .iter()
            .find(|s| s.board == board)
            .and_then(|s| match s.verdict {
                Verdict::Pass => Some(true),
                Verdict::Fail => Some(false),
                Verdict::CannotTell => None,
            }),
        ..Judged::default()
    };
    let set = |names: &[&str]| {
        let mut set = FactSet::EMPTY;
        for id in names.iter().filter_map(|name| book.facts().find(name)) {
            set.insert(id);
        }
        set
    };
    let (decides, mended) = (set(DECIDES_THE_PLACE), set(CAN_BE_MENDED));
    for finding in &findings.findings {
        let (missing, open) = (
            finding.is_missing(),
            finding.is_open() && !finding.is_note(),
        );
        if !missing && !open {
            continue;
        }
        let requirement = finding.requirement.requirement();
        let reads = |set: &FactSet| finding.requirement.facts().iter().any(|f| set.contains(f));
        let about_place =
            requirement.subject == Topic::Location && reads(&decides) && !reads(&mended);
        for instance in &finding.instances {
            if missing {
                judged.missing += 1;
            } else {
                judged.cannot_tell += 1;
            }
            let here = matches!(instance.place, Place::Board(b) if b.as_str() == board);
            if about_place && here {
                if missing {
                    judged.refused.push(Refusal {
                        why: requirement.title.clone(),
                        requirement: Some(requirement.id.clone()),
                        section: section(finding.requirement.cite().as_ref()),
                    });
                } else {
                    judged.open.push(asked(finding, instance.place, false));
                }
            }
            let key = |sure| {
                let (sort, name) = (instance.place.sort(), instance.place.name());
                (requirement.id.clone(), sort, name.to_owned(), sure)
            };
            let known = in_place.keys.contains(&key(true))
                || (!missing && in_place.keys.contains(&key(false)));
            let of_itself = about_place && here;
            if !known && !of_itself {
                judged.asked.push(asked(finding, instance.place, missing));
            }
            judged.keys.push(key(missing));
        }
    }
    judged.keys.sort();
    judged
}

fn asked(finding: &Finding<'_>, place: Place<'_>, sure: bool) -> Asked {
    let requirement = finding.requirement.requirement();
    Asked {
        requirement: requirement.id.clone(),
        title: requirement.title.clone(),
        section: section(finding.requirement.cite().as_ref()),
        sort: place.sort(),
        name: place.name().to_owned(),
        sure,
        material: requirement.cost.as_ref().map(|c| Span {
            low: c.low,
            high: c.high,
        }),
    }
}

/// Feeders that fail, with what they fail by.
fn failing(sheets: &Sheets<'_>, book: &Rulebook) -> Vec<String> {
    let tables = book.tables();
    let most: Option<Percent> = tables
        .limit(rulebook::tables::limit::VOLTAGE_DROP_FEEDER)
        .ok()
        .map(|l| l.value);
    let mut said = Vec::new();
    for feeder in &sheets.feeders {
        if feeder.check.verdict == Verdict::Fail {
            said.push(format!("{}: conductors do not pass", feeder.id));
        }
        let drop = feeder.drop.as_ref().and_then(|(_, drops)| *drops);
        if let (Some(drop), Some(most)) = (drop, most)
            && drop.worst > most
        {
            said.push(format!(
                "{}: voltage drop above {most}, which is advice of the code and no rule",
                feeder.id
            ));
        }
    }
    said
}
