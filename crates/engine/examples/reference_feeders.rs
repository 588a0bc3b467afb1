//! Writes the engine's voltage drops and fault currents for a file of feeders as JSON, for comparison with other programs.
//! Usage: `reference_feeders FEEDERS.toml [--time]`. Volts and amperes; the edition does not matter to either.
//! With `--time`, prints the median time of all of them instead, in microseconds.

use std::process::ExitCode;
use std::time::Instant;

use engine::conductor::voltage_drop::{Drop, Drops};
use engine::conductor::{Loading, Run, voltage_drop};
use engine::fault::{Currents, Motors, Segment, Source, fault_currents};
use model::house::System;
use model::units::{Amperes, Feet, KilovoltAmperes, Percent};
use model::{Edition, Fact, Wire, WiringMethod};
use rulebook::tables::{Tables, TablesIn};
use serde::Deserialize;
use serde_json::{Value, json};

#[derive(Deserialize)]
struct Feeders {
    feeder: Vec<Feeder>,
}

#[derive(Deserialize)]
struct Feeder {
    id: String,
    system: System,
    transformer: Transformer,
    load: Load,
    runs: Vec<NamedRun>,
}

#[derive(Deserialize)]
struct Transformer {
    kva: KilovoltAmperes,
    impedance_percent: Percent,
    x_over_r: f64,
}

#[derive(Deserialize)]
struct Load {
    line_to_line: Amperes,
    leg_a: Amperes,
    leg_b: Amperes,
    power_factor: f64,
}

#[derive(Deserialize)]
struct NamedRun {
    name: String,
    hot: Wire,
    neutral: Wire,
    sets: u32,
    method: WiringMethod,
    length: Feet,
}

fn main() -> ExitCode {
    match report() {
        Ok(json) => {
            #[expect(clippy::print_stdout, reason = "the program's output")]
            {
                println!("{json:#}");
            }
            ExitCode::SUCCESS
        }
        Err(message) => {
            #[expect(clippy::print_stderr, reason = "the program's error message")]
            {
                eprintln!("{message}");
            }
            ExitCode::FAILURE
        }
    }
}

fn report() -> Result<Value, String> {
    let path = std::env::args()
        .nth(1)
        .ok_or("usage: reference_feeders FEEDERS.toml")?;
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{path}: {e}"))?;
    let feeders: Feeders = toml::from_str(&text).map_err(|e| format!("{path}: {e}"))?;
    let tables = Tables::built_in().map_err(|errors| {
        errors
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    })?;
    let book = tables.edition(Edition::Y2023);
    let all = || {
        feeders
            .feeder
            .iter()
            .map(|f| results(f, &book))
            .collect::<Result<Vec<_>, _>>()
    };
    match std::env::args().nth(2).as_deref() {
        None => all().map(Value::Array),
        Some("--time") => {
            let mut times = Vec::new();
            for _ in 0..ROUNDS {
                let start = Instant::now();
                std::hint::black_box(all()?);
                times.push(start.elapsed().as_secs_f64() * 1e6);
            }
            let mut steady = times.split_off(WARM_UP);
            steady.sort_by(f64::total_cmp);
            Ok(json!({ "feeders": feeders.feeder.len(), "median_us": steady[steady.len() / 2] }))
        }
        Some(other) => Err(format!("`{other}` is not an option: expected `--time`")),
    }
}

const ROUNDS: usize = 220;
const WARM_UP: usize = 20;

fn results(feeder: &Feeder, book: &TablesIn<'_>) -> Result<Value, String> {
    let load = Loading {
        line_to_line: feeder.load.line_to_line,
        leg_a: feeder.load.leg_a,
        leg_b: feeder.load.leg_b,
        power_factor: feeder.load.power_factor,
    };
    let runs: Vec<Value> = feeder
        .runs
        .iter()
        .map(|named| {
            let (_, drops) = voltage_drop(&feeder.id, feeder.system, &run(named), &load, book);
            let drops =
                drops.ok_or_else(|| format!("{}, {}: no voltage drop", feeder.id, named.name))?;
            Ok(json!({ "name": named.name, "drop": drops_json(&drops) }))
        })
        .collect::<Result<_, String>>()?;
    let source = Source::Transformer {
        size: Fact::seen(feeder.transformer.kva),
        impedance: Fact::seen(feeder.transformer.impedance_percent),
        tolerance: Percent(0.0),
        x_over_r: Fact::seen(feeder.transformer.x_over_r),
    };
    let chain: Vec<Segment> = feeder
        .runs
        .iter()
        .map(|named| Segment {
            board: named.name.clone(),
            run: Fact::seen(run(named)),
            rating: Fact::Unknown,
        })
        .collect();
    let (_, boards) = fault_currents(
        &feeder.id,
        feeder.system,
        &source,
        &chain,
        Motors::LeftOut,
        book,
    );
    let faults: Vec<Value> = boards
        .iter()
        .map(|board| {
            json!({
                "board": board.board,
                "impedance": currents(&board.impedance),
                "point_to_point": currents(&board.point_to_point),
            })
        })
        .collect();
    if faults.len() != feeder.runs.len() + 1 {
        return Err(format!("{}: no fault currents", feeder.id));
    }
    Ok(json!({ "id": feeder.id, "runs": runs, "faults": faults }))
}

fn run(named: &NamedRun) -> Run {
    Run {
        leg: named.hot,
        neutral: Some(named.neutral),
        sets: named.sets,
        method: named.method,
        length: named.length,
    }
}

fn drops_json(drops: &Drops) -> Value {
    let one = |drop: Drop| json!({ "hand": drop.hand, "exact": drop.exact });
    json!({
        "leg_a": one(drops.leg_a),
        "leg_b": one(drops.leg_b),
        "line_to_line": one(drops.line_to_line),
    })
}

fn currents(currents: &Currents) -> Value {
    json!({
        "line_to_line": currents.line_to_line.exact(),
        "line_to_neutral": currents.line_to_neutral.exact(),
    })
}
