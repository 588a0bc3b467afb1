//! Published load calculations, run through our own: each case is data with its source, under `tests/data/load`.
//! What the source prints wrong is kept too, and refused.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use engine::load::managed::{self, Management};
use engine::load::{
    Alike, CookingReading, Dwelling, Outcome, Step, Told, Units, appliances, chargers, cooking,
    cooking_circuit, dryers, existing, interval, lighting, measured, multifamily, neutral,
    optional, standard, three_phase, totals,
};
use engine::{Line, Value};
use model::house::{MeasuredDemand, System};
use model::units::{Amperes, Celsius, Kilowatts, SquareFeet, VoltAmperes, Volts};
use model::{Edition, Fact, Material, WireSize};
use rulebook::tables::{Column, Tables, TablesIn, limit};
use serde::Deserialize;

static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());

#[derive(Deserialize)]
struct File {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    title: String,
    source: String,
    #[serde(default)]
    confidence: Option<String>,
    /// True for a reading of one authority that no edition's text has.
    #[serde(default)]
    local: bool,
    editions: Vec<Edition>,
    run: Run,
    #[serde(default)]
    dwelling: Dwelling,
    #[serde(default)]
    units: Vec<Group>,
    #[serde(default)]
    lines: BTreeMap<String, f64>,
    #[serde(default)]
    result: BTreeMap<String, f64>,
    #[serde(default)]
    text: BTreeMap<String, String>,
    #[serde(default)]
    printed: BTreeMap<String, f64>,
    #[serde(default)]
    tol: BTreeMap<String, f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    count: u32,
    dwelling: Dwelling,
}

/// How many, and the nameplate VA of one.
type Pair = (u32, f64);

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Run {
    Standard,
    StandardOf,
    Optional,
    Existing,
    Multifamily,
    TwoFamily,
    Measured(MeasuredDemand),
    Managed {
        setting: f64,
        controlled: f64,
    },
    Lighting(f64),
    LightingCircuits(f64),
    LightingDemand(f64),
    Appliances(Vec<Pair>),
    Dryers(Vec<Pair>),
    Chargers(Vec<Pair>),
    Cooking {
        ratings: Vec<Pair>,
        #[serde(default)]
        reading: CookingReading,
    },
    CookingCircuit {
        cooktop: f64,
        ovens: Vec<f64>,
    },
    ThreePhase {
        general: f64,
        ranges: Vec<Pair>,
        volts: f64,
    },
    ThreePhaseRanges {
        ranges: Vec<Pair>,
        volts: f64,
    },
    ThreePhaseNeutral {
        va: f64,
        volts: f64,
    },
    Amperes {
        va: f64,
        #[serde(default)]
        line_to_neutral: f64,
        system: System,
    },
    OverLimit(f64),
    Intervals {
        kwh: Vec<f64>,
        minutes: u32,
    },
    EachOf {
        circuit: f64,
        each: f64,
        active: u32,
    },
    ServiceConductor {
        rating: f64,
        #[serde(default)]
        ambient: Option<f64>,
    },
}

/// What a run gave, by name.
#[derive(Default)]
struct Given {
    lines: Vec<Line>,
    result: BTreeMap<&'static str, f64>,
    text: BTreeMap<&'static str, String>,
}

impl Given {
    fn of(lines: Vec<Line>, result: impl IntoIterator<Item = (&'static str, f64)>) -> Self {
        Self {
            lines,
            result: result.into_iter().collect(),
            text: BTreeMap::new(),
        }
    }

    /// The number on the first line with this label, or the result of this name.
    fn find(&self, name: &str) -> Option<f64> {
        let on_line = self
            .lines
            .iter()
            .find(|l| l.label == name)
            .and_then(|l| match &l.value {
                Value::Number(q) => Some(q.value),
                _ => None,
            });
        on_line.or_else(|| self.result.get(name).copied())
    }
}

fn outcome(outcome: Outcome) -> Given {
    let mut result = BTreeMap::new();
    let mut put = |name, told: &Told<Amperes>| {
        if let Some(value) = told.exact() {
            result.insert(name, value.0);
        }
    };
    put("current", &outcome.current);
    put("rounded", &outcome.rounded);
    put("rating", &outcome.rating);
    put("neutral", &outcome.neutral);
    put("neutral_rounded", &outcome.neutral.map(Amperes::rounded));
    if let Some(demand) = outcome.demand.exact() {
        result.insert("demand", demand.0);
    }
    result.insert("applies", f64::from(u8::from(outcome.standing.applies())));
    Given {
        lines: outcome.worksheet.lines,
        result,
        text: BTreeMap::new(),
    }
}

fn step(step: Step) -> Given {
    Given::of(step.lines, [("value", step.value.0)])
}

fn alike(pairs: &[Pair]) -> Vec<Alike> {
    pairs
        .iter()
        .map(|&(count, va)| Alike {
            count,
            va: VoltAmperes(va),
        })
        .collect()
}

fn run(case: &Case, book: &TablesIn<'_>) -> Given {
    let groups: Vec<Units<'_>> = case
        .units
        .iter()
        .map(|g| Units {
            count: g.count,
            unit: &g.dwelling,
        })
        .collect();
    match &case.run {
        Run::Standard => outcome(standard::standard(&case.dwelling, book)),
        Run::StandardOf => outcome(standard::standard_of(&groups, &[], book)),
        Run::Optional => outcome(optional::optional(&case.dwelling, book)),
        Run::Existing => outcome(existing::existing(&case.dwelling, book)),
        Run::Multifamily => outcome(multifamily::multifamily(&groups, &[], book)),
        Run::TwoFamily => outcome(multifamily::two_family([groups[0].unit; 2], book)),
        Run::Measured(record) => outcome(measured::measured(&case.dwelling, record, book)),
        Run::Managed {
            setting,
            controlled,
        } => {
            let unmanaged = standard::standard(&case.dwelling, book);
            let management = Management {
                setting: Amperes(*setting),
                controlled: Told::exactly(VoltAmperes(*controlled)),
                access_is_restricted: Fact::seen(true),
            };
            outcome(managed::managed(
                &unmanaged,
                &management,
                &case.dwelling,
                book,
            ))
        }
        Run::Lighting(area) => step(lighting::lighting(SquareFeet(*area), book).unwrap()),
        Run::LightingCircuits(area) => {
            let step = lighting::branch_circuit_current(SquareFeet(*area), book).unwrap();
            Given::of(step.lines, [("current", step.value.0)])
        }
        Run::LightingDemand(va) => step(lighting::demand(VoltAmperes(*va), book).unwrap()),
        Run::Appliances(list) => {
            let list: Vec<_> = list
                .iter()
                .map(|&(count, va)| appliances::Appliance {
                    count,
                    ..appliances::Appliance::new("appliance", VoltAmperes(va))
                })
                .collect();
            let step = appliances::demand(&list, book).unwrap();
            Given::of(step.lines, [("value", step.value.value.0)])
        }
        Run::Dryers(list) => step(dryers::demand(&alike(list), book).unwrap()),
        Run::Chargers(list) => {
            let list: Vec<_> = list
                .iter()
                .map(|&(count, va)| (count, Told::exactly(VoltAmperes(va))))
                .collect();
            let step = chargers::demand(&list, book).unwrap();
            Given::of(step.lines, [("value", step.value.exact().unwrap().0)])
        }
        Run::Cooking { ratings, reading } => {
            step(cooking::feeder(&alike(ratings), *reading, book).unwrap())
        }
        Run::CookingCircuit { cooktop, ovens } => {
            let circuit = cooking_circuit::Circuit::Together {
                cooktop: VoltAmperes(*cooktop),
                ovens: ovens.iter().map(|&va| VoltAmperes(va)).collect(),
            };
            let step = cooking_circuit::branch_circuit(&circuit, book).unwrap();
            let current =
                totals::amperes(step.value, VoltAmperes::ZERO, System::SinglePhase120_240);
            let breaker = book.next_standard_rating(current).unwrap().value;
            Given::of(
                step.lines,
                [
                    ("value", step.value.0),
                    ("current", current.0),
                    ("standard", breaker.0),
                ],
            )
        }
        Run::ThreePhase {
            general,
            ranges,
            volts,
        } => {
            let step = three_phase::feeder(
                VoltAmperes(*general),
                &alike(ranges),
                &[],
                Volts(*volts),
                book,
            )
            .unwrap();
            Given::of(
                step.lines,
                [
                    ("demand", step.value.load.0),
                    ("rounded", step.value.current.rounded().0),
                    ("neutral", step.value.neutral.0),
                ],
            )
        }
        Run::ThreePhaseRanges { ranges, volts } => {
            let step = three_phase::ranges(&alike(ranges), book).unwrap();
            let current = three_phase::amperes(step.value, Volts(*volts)).rounded();
            Given::of(
                step.lines,
                [("value", step.value.0), ("rounded", current.0)],
            )
        }
        Run::ThreePhaseNeutral { va, volts } => {
            let step = three_phase::neutral_current(VoltAmperes(*va), Volts(*volts), book).unwrap();
            Given::of(step.lines, [("neutral", step.value.0)])
        }
        Run::Amperes {
            va,
            line_to_neutral,
            system,
        } => {
            let current = totals::amperes(VoltAmperes(*va), VoltAmperes(*line_to_neutral), *system);
            Given::of(
                Vec::new(),
                [("current", current.0), ("rounded", current.rounded().0)],
            )
        }
        Run::OverLimit(amperes) => {
            let step = neutral::over_limit(Amperes(*amperes), book).unwrap();
            Given::of(step.lines, [("neutral", step.value.0)])
        }
        Run::Intervals { kwh, minutes } => {
            let peak = interval::peak(kwh, *minutes).unwrap();
            let record = MeasuredDemand {
                highest_15_minute: Kilowatts(peak.recorded_kw),
                days: 365,
                generation_or_peak_shaving: Fact::seen(false),
                seasonal_loads_included: Fact::Unknown,
            };
            let part = measured::existing_part(&record, book);
            let current = part.value.exact().unwrap() / System::SinglePhase120_240.line_to_line();
            Given::of(
                part.lines,
                [
                    ("recorded_kw", peak.recorded_kw),
                    ("sliding_kw", peak.sliding_bound_kw),
                    ("current", current.0),
                ],
            )
        }
        Run::EachOf {
            circuit,
            each,
            active,
        } => {
            let step = managed::each_of(Amperes(*circuit), Amperes(*each), *active, book).unwrap();
            Given::of(step.lines, [("value", step.value.0)])
        }
        Run::ServiceConductor { rating, ambient } => service_conductor(*rating, *ambient, book),
    }
}

fn cases(file: &str) -> Vec<Case> {
    let path = format!("{}/tests/data/load/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    toml::from_str::<File>(&text)
        .unwrap_or_else(|e| panic!("{path}: {e}"))
        .case
}

/// Runs a case in each of its editions and compares every number that it expects.
fn check(case: &Case) {
    assert!(!case.editions.is_empty(), "{} names no edition", case.id);
    assert!(!case.source.is_empty(), "{} names no source", case.id);
    for &edition in &case.editions {
        let given = run(case, &TABLES.edition(edition));
        let at = format!("{} ({}) in {edition}", case.id, case.title);
        let mut compared = case.text.len();
        for (name, expected) in case.lines.iter().chain(&case.result) {
            let ours = given
                .find(name)
                .unwrap_or_else(|| panic!("{at}: `{name}` was not told: {:#?}", given.lines));
            let tolerance = case.tol.get(name).copied().unwrap_or(0.0) + 1e-6;
            assert!(
                (ours - expected).abs() <= tolerance,
                "{at}: `{name}` is {ours}, expected {expected}"
            );
            compared += 1;
        }
        for (name, expected) in &case.text {
            assert_eq!(
                given.text.get(name.as_str()),
                Some(expected),
                "{at}: `{name}`"
            );
        }
        for (name, printed) in &case.printed {
            let ours = given
                .find(name)
                .unwrap_or_else(|| panic!("{at}: `{name}` was not told"));
            assert!(
                (ours - printed).abs() > 0.5,
                "{at}: `{name}` repeats the printed error {printed}"
            );
            compared += 1;
        }
        assert!(compared > 0, "{at} expects nothing");
    }
}

const MATCHING: [&str; 4] = [
    "standard.toml",
    "optional.toml",
    "multifamily.toml",
    "steps.toml",
];
const WRONG: &str = "known_wrong_in_print.toml";
const DERIVED: &str = "derived.toml";

#[test]
fn published_examples_come_out_as_printed_in_every_edition_they_are_valid_in() {
    for case in MATCHING.iter().flat_map(|file| cases(file)) {
        assert!(
            case.confidence.is_some() && case.printed.is_empty(),
            "{}",
            case.id
        );
        check(&case);
    }
}

#[test]
fn examples_that_are_wrong_in_print_come_out_right_here() {
    for case in cases(WRONG) {
        assert!(!case.printed.is_empty(), "{} prints nothing wrong", case.id);
        check(&case);
    }
}

#[test]
fn differences_between_editions_stay_as_worked_from_the_rules() {
    for case in cases(DERIVED) {
        assert!(case.source.starts_with("not published"), "{}", case.id);
        check(&case);
    }
}

#[test]
fn every_one_of_the_fifty_published_examples_is_here() {
    let ids: BTreeSet<String> = MATCHING
        .iter()
        .chain([&WRONG])
        .flat_map(|file| cases(file))
        .map(|case| case.id)
        .collect();
    assert_eq!(ids.len(), 50, "{ids:#?}");
}

#[test]
fn a_local_reading_gives_more_than_the_text() {
    for case in cases("optional.toml").into_iter().filter(|c| c.local) {
        let book = TABLES.edition(case.editions[0]);
        let local = existing::existing(&case.dwelling, &book);
        let text = existing::existing(
            &Dwelling {
                readings: Default::default(),
                ..case.dwelling.clone()
            },
            &book,
        );
        assert!(
            local.demand.lower_bound() > text.demand.lower_bound(),
            "{}",
            case.id
        );
    }
}

/// Smallest conductors of a dwelling service: the dwelling share of its rating, found in the 75 C column.
/// The printed example corrects by the 90 C column's factor before it enters that column.
fn service_conductor(rating: f64, ambient: Option<f64>, book: &TablesIn<'_>) -> Given {
    let share = book.limit(limit::DWELLING_CONDUCTOR_SHARE).unwrap().value;
    let factor = ambient.map_or(1.0, |c| {
        book.ambient_factor(Column::C90, Celsius(c)).unwrap().value
    });
    let required = Amperes(rating) * share.factor() / factor;
    let smallest = |material| {
        WireSize::all()
            .find(|size| {
                book.ampacity(*size, material, Column::C75)
                    .is_ok_and(|a| a.value >= required)
            })
            .unwrap()
            .to_string()
    };
    let mut given = Given::of(Vec::new(), [("required", required.0)]);
    given.text.insert("copper", smallest(Material::Copper));
    given.text.insert("aluminum", smallest(Material::Aluminum));
    given
}
