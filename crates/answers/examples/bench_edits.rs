//! How long does a change take, and a look at an arrangement while a breaker is dragged? Prints milliseconds, best and middle of many.
#![allow(clippy::print_stdout, reason = "a bench prints")]

use std::time::Instant;

use serde_json::{Value, json};

const ROUNDS: usize = 200;

fn main() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/big-house-42.toml"
    );
    let Ok(text) = std::fs::read_to_string(path) else {
        println!("no demo job at {path}");
        return;
    };
    let amps = json!(["before", "circuits", "fridge", "amps"]);
    measure("read", &json!({ "command": "read", "job": text }));
    measure(
        "edit",
        &json!({ "command": "edit", "job": text, "edits": [{ "at": amps, "to": 20 }] }),
    );
    measure(
        "layout",
        &json!({ "command": "layout", "job": text, "board": "P", "spaces": { "fridge": ["5"] } }),
    );
}

fn measure(name: &str, question: &Value) {
    let question = question.to_string();
    let mut times: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            std::hint::black_box(answers::call::call(&question));
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!(
        "{name}: best {:.3} ms, middle {:.3} ms",
        times[0],
        times[ROUNDS / 2]
    );
}
