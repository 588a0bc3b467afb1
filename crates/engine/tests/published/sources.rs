//! Questions on voltage drop, fault current and power sources on a bus.

use engine::busbar::{Bus, bus_check};
use engine::conductor::Verdict;
use engine::conductor::run::Run;
use engine::conductor::voltage_drop::two_wire;
use engine::fault::point_to_point::{Joins, step};
use engine::fault::{Motors, Segment, Source, fault_currents};
use engine::worksheet::{Value as Cell, Worksheet};
use model::Fact;
use model::house::System;
use model::units::{Amperes, Feet, KilovoltAmperes, OhmsPerKft, Percent, Volts};
use rulebook::tables::TablesIn;
use toml::Value;

use super::{Answer, Example, quantity};

pub(crate) fn two_wire_drop(example: &Example) -> Answer {
    let drop = two_wire(
        OhmsPerKft(example.number("ohm_per_kft")),
        Feet(example.number("length")),
        example.amperes("amperes"),
    );
    [
        quantity("drop", drop),
        (
            "percent".into(),
            Value::Float(100.0 * (drop / Volts(example.number("volts")))),
        ),
    ]
    .into()
}

pub(crate) fn fault_chain(example: &Example, book: &TablesIn<'_>) -> Answer {
    let x_over_r = Fact::seen(example.number("x_over_r"));
    let source = if example.has("stated") {
        Source::Stated {
            line_to_line: Fact::seen(example.amperes("stated")),
            line_to_neutral: Fact::Unknown,
            x_over_r,
        }
    } else {
        Source::Transformer {
            size: Fact::seen(KilovoltAmperes(example.number("kva"))),
            impedance: Fact::seen(Percent(example.number("impedance"))),
            tolerance: Percent(example.number("tolerance")),
            x_over_r,
        }
    };
    let run = Run {
        leg: example.wire("wire"),
        neutral: Some(example.wire("wire")),
        sets: 1,
        method: Value::String(example.text("method").into())
            .try_into()
            .unwrap(),
        length: Feet(example.number("length")),
    };
    let chain = [Segment {
        board: "board".into(),
        run: Fact::seen(run),
        rating: Fact::Unknown,
    }];
    let (sheet, boards) = fault_currents(
        "example",
        System::SinglePhase120_240,
        &source,
        &chain,
        Motors::LeftOut,
        book,
    );
    let hand = &boards[1].point_to_point;
    [
        quantity(
            "source",
            boards[0].point_to_point.line_to_line.high.unwrap(),
        ),
        input("f", &sheet, "board: point to point, leg to leg", "f"),
        input("m", &sheet, "board: point to point, leg to leg", "M"),
        input(
            "f_neutral",
            &sheet,
            "board: point to point, leg to neutral",
            "f",
        ),
        input(
            "m_neutral",
            &sheet,
            "board: point to point, leg to neutral",
            "M",
        ),
        quantity("line_to_line", hand.line_to_line.high.unwrap()),
        quantity("line_to_neutral", hand.line_to_neutral.high.unwrap()),
    ]
    .into()
}

fn input(name: &str, sheet: &Worksheet, label: &str, input: &str) -> (String, Value) {
    let line = sheet
        .lines
        .iter()
        .find(|l| l.label == label)
        .unwrap_or_else(|| panic!("no line `{label}`"));
    let cell = &line.inputs.iter().find(|i| i.name == input).unwrap().value;
    let Cell::Number(quantity) = cell else {
        panic!("{input} is not a number")
    };
    (name.into(), Value::Float(quantity.value))
}

pub(crate) fn three_phase(example: &Example) -> Answer {
    let (volts, c) = (Volts(example.number("volts")), example.number("c"));
    let sets = example.number("sets") as u32;
    let it = step(
        Joins::ThreePhase,
        volts,
        example.amperes("source"),
        Feet(example.number("length")),
        c,
        c,
        sets,
    );
    [
        ("f".into(), Value::Float(it.f)),
        ("m".into(), Value::Float(it.m)),
        quantity("current", it.current),
    ]
    .into()
}

pub(crate) fn bus(example: &Example, book: &TablesIn<'_>) -> Answer {
    let fact = |name: &str| {
        if example.has(name) {
            Fact::seen(example.amperes(name))
        } else {
            Fact::Unknown
        }
    };
    let bus = Bus {
        id: "example".into(),
        rating: fact("bus"),
        main: fact("main"),
        inverter_output: fact("inverter"),
        at_opposite_end: if example.has("opposite") {
            Fact::seen(true)
        } else {
            Fact::Unknown
        },
        sum_of_breakers: Fact::Unknown,
        center_fed: Fact::seen(false),
    };
    let found = bus_check(&bus, book);
    let by_share = found.ways[1].verdict;
    let source = found
        .worksheet
        .number("Source current that counts")
        .map(Amperes);
    let mut answer = Answer::from([
        quantity("room", found.room.unwrap()),
        ("holds".into(), Value::Boolean(by_share == Verdict::Pass)),
    ]);
    answer.extend(source.map(|s| quantity("source", s)));
    answer
}
