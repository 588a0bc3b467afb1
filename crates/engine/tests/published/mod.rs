//! Reads published examples and puts their questions to the engine. One function per kind of question.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use engine::worksheet::{Value as Cell, Worksheet};
use model::units::{Amperes, CircularMils, Unit};
use model::{Edition, Material, Wire, WireSize};
use rulebook::tables::Tables;
use serde::Deserialize;
use toml::Value;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

mod fits;
mod sources;
mod wires;

/// What the engine answered, by name.
pub(crate) type Answer = BTreeMap<String, Value>;

/// One published example.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Example {
    pub(crate) id: String,
    pub(crate) title: String,
    pub(crate) source: String,
    #[serde(rename = "printed_for")]
    _printed_for: String,
    #[serde(rename = "checked")]
    _checked: String,
    pub(crate) editions: Vec<Edition>,
    #[serde(default, rename = "note")]
    _note: String,
    #[serde(default, rename = "error")]
    _error: String,
    ask: String,
    given: toml::Table,
    pub(crate) expect: BTreeMap<String, Value>,
    #[serde(default)]
    pub(crate) printed: BTreeMap<String, Value>,
    #[serde(default)]
    within: BTreeMap<String, f64>,
}

impl Example {
    /// Equal, or a number within the example's own tolerance.
    pub(crate) fn agrees(&self, name: &str, expected: &Value, found: &Value) -> bool {
        match (number(expected), number(found)) {
            (Some(a), Some(b)) => (a - b).abs() <= self.within.get(name).copied().unwrap_or(1e-3),
            _ => expected == found,
        }
    }

    pub(crate) fn text(&self, name: &str) -> &str {
        self.given[name].as_str().unwrap()
    }

    pub(crate) fn wire(&self, name: &str) -> Wire {
        self.text(name).parse().unwrap()
    }

    pub(crate) fn number(&self, name: &str) -> f64 {
        number(&self.given[name]).unwrap_or_else(|| panic!("{}: {name} is not a number", self.id))
    }

    pub(crate) fn amperes(&self, name: &str) -> Amperes {
        Amperes(self.number(name))
    }

    pub(crate) fn has(&self, name: &str) -> bool {
        self.given.contains_key(name)
    }

    pub(crate) fn given(&self, name: &str) -> &Value {
        &self.given[name]
    }

    fn metal(&self) -> Material {
        self.text("metal").parse().unwrap()
    }
}

pub(crate) fn number(value: &Value) -> Option<f64> {
    value
        .as_float()
        .or_else(|| value.as_integer().map(|i| i as f64))
}

#[derive(Deserialize)]
struct Examples {
    example: Vec<Example>,
}

pub(crate) fn read(text: &str) -> Vec<Example> {
    toml::from_str::<Examples>(text).unwrap().example
}

/// Puts the example's question to the engine.
pub(crate) fn ask(example: &Example, edition: Edition) -> Answer {
    let tables = tables();
    let book = tables.edition(edition);
    match example.ask.as_str() {
        "ampacity and device" => wires::ampacity_and_device(example, &book),
        "corrected ampacity" => wires::corrected_ampacity(example, &book),
        "dwelling size" => wires::dwelling_size(example, &book),
        "dwelling upper limit" => wires::dwelling_upper_limit(example, &book),
        "feeder size" => wires::feeder_size(example, &book),
        "weighted load" => wires::weighted_load(example, &book),
        "neutral" => wires::neutral(example, &book),
        "equipment ground" => wires::equipment(example, &book),
        "electrode conductor" => wires::electrode(example, &book),
        "bonding jumper" => wires::jumper(example, &book),
        "size for area" => [size(
            "size",
            WireSize::at_least(CircularMils(example.number("area"))).unwrap(),
        )]
        .into(),
        "two-wire drop" => sources::two_wire_drop(example),
        "fault chain" => sources::fault_chain(example, &book),
        "point to point, three phase" => sources::three_phase(example),
        "bus" => sources::bus(example, &book),
        "raceway count" => fits::raceway_count(example, &book),
        "smallest raceway" => fits::smallest(example, &book),
        "box" => fits::in_box(example, &book),
        other => panic!("{}: no question called `{other}`", example.id),
    }
}

pub(crate) fn size(name: &str, size: WireSize) -> (String, Value) {
    (name.into(), Value::String(size.name().into()))
}

pub(crate) fn quantity<U: Unit>(name: &str, value: U) -> (String, Value) {
    (name.into(), Value::Float(value.get()))
}

fn amperes(name: &str, value: Amperes) -> Answer {
    [quantity(name, value)].into()
}

/// The number on the line with this label.
pub(crate) fn on_line(name: &str, sheet: &Worksheet, label: &str) -> (String, Value) {
    (
        name.into(),
        Value::Float(
            sheet
                .number(label)
                .unwrap_or_else(|| panic!("no number on `{label}`")),
        ),
    )
}

/// The text on the first line with this label, without its metal.
fn size_on_line(name: &str, sheet: &Worksheet, label: &str) -> (String, Value) {
    let line = sheet
        .lines
        .iter()
        .find(|l| l.label == label)
        .unwrap_or_else(|| panic!("no line `{label}`"));
    let Cell::Text(text) = &line.value else {
        panic!("`{label}` is not a text")
    };
    size(name, text.parse::<Wire>().unwrap().size)
}
