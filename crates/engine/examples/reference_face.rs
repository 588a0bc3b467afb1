//! Boards made from seeds, with the layout found for each, as JSON for the comparison with another solver.
//! Usage: `reference_face`, or `reference_face --time` for median times in milliseconds alone.
#![allow(clippy::print_stdout, reason = "the program's output")]

#[path = "../tests/face_instances/mod.rs"]
mod face_instances;

use std::hint::black_box;
use std::time::Instant;

use engine::face::solve;
use face_instances::{Sort, instance};
use serde_json::{Value, json};

fn main() {
    let timed = std::env::args().nth(1).as_deref() == Some("--time");
    println!("{}", if timed { times() } else { instances() });
}

/// A hundred boards of several sorts, small enough for the other solver.
fn instances() -> Value {
    let all: Vec<Value> = (0..100)
        .map(|seed| {
            let problem = instance(seed, sort(seed));
            let start = Instant::now();
            let layout = solve(&problem);
            let micros = start.elapsed().as_micros() as u64;
            let mut value = json!({ "seed": seed, "problem": problem, "us": micros });
            match layout {
                Ok(layout) => value["layout"] = json!(layout),
                Err(why) => value["unsolved"] = json!(why.to_string()),
            }
            value
        })
        .collect();
    json!(all)
}

fn sort(seed: u64) -> Sort {
    let base = Sort {
        spaces: 12,
        doubles: 1,
        tied: 1,
        singles: 6,
        tandems: false,
        spare: 0,
        old: 75,
        cables: true,
    };
    match seed % 10 {
        0..=2 => base,
        3 => Sort {
            spaces: 8,
            tied: 0,
            singles: 7,
            tandems: true,
            ..base
        },
        4 | 5 => Sort {
            spaces: 14,
            doubles: 2,
            singles: 7,
            ..base
        },
        6 => Sort {
            spaces: 12,
            doubles: 2,
            singles: 7,
            tandems: true,
            ..base
        },
        7 | 8 => Sort {
            spaces: 16,
            doubles: 2,
            singles: 7 + (seed / 30) as u32,
            spare: 2,
            ..base
        },
        _ => Sort {
            spaces: 18,
            doubles: 3,
            singles: 9,
            ..base
        },
    }
}

/// Median times of boards with 42 and with 66 spaces.
fn times() -> Value {
    let typical = Sort {
        spaces: 42,
        doubles: 8,
        tied: 1,
        singles: 20,
        tandems: false,
        spare: 4,
        old: 80,
        cables: true,
    };
    let large = Sort {
        spaces: 66,
        doubles: 5,
        tied: 1,
        singles: 54,
        spare: 0,
        ..typical
    };
    json!({ "typical_42": time(typical), "largest_66": time(large) })
}

fn time(sort: Sort) -> Value {
    let (mut times, mut busy) = (Vec::new(), Vec::new());
    let mut proven = 0;
    let mut all_levels = 0;
    let seeds = 40;
    for seed in 1000..1000 + seeds {
        let problem = instance(seed, sort);
        let (start, before) = (Instant::now(), on_processor());
        let layout = black_box(solve(black_box(&problem)));
        times.push(start.elapsed().as_secs_f64() * 1e3);
        busy.extend(before.zip(on_processor()).map(|(a, b)| b - a));
        if let Ok(layout) = layout {
            proven += layout.proofs.iter().filter(|p| p.proven).count();
            all_levels += usize::from(layout.is_proven());
        }
    }
    times.sort_by(f64::total_cmp);
    busy.sort_by(f64::total_cmp);
    json!({
        "boards": seeds,
        "spaces": sort.spaces,
        "items": sort.doubles + sort.tied + sort.singles,
        "median_ms": times[times.len() / 2],
        "most_ms": times.last(),
        "median_processor_ms": busy.get(busy.len() / 2),
        "most_processor_ms": busy.last(),
        "proven_on_all_levels": all_levels,
        "levels_proven_of_8": proven as f64 / seeds as f64,
    })
}

/// Milliseconds this thread has run so far, where the system tells; unlike the clock it does not count waiting for a busy machine.
fn on_processor() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds / 1e6)
}
