//! How long does one question take at the door, and what is it spent on? `speed JOB.toml [ROUNDS]`.
//! Milliseconds of processor time of this process, the best of the rounds and the median; JSON on standard output.
#![allow(clippy::expect_used, clippy::print_stdout)]

use std::hint::black_box;

use serde_json::{Value, json};

fn main() {
    let mut args = std::env::args().skip(1);
    let file = args.next().expect("a job file");
    let rounds = args.next().map_or(20, |n| n.parse().expect("a number"));
    let text = std::fs::read_to_string(&file).expect("a job file that can be read");
    let time = |work: &mut dyn FnMut()| time(rounds, work);

    let job = model::JobFile::read(&text).expect("a sound job");
    let library = rulebook::Library::without_cases().expect("a sound rulebook");
    let shop = shop::Book::built_in().expect("a sound price book");
    let place = &job.job.place;
    let bound = || library.rulebook(place.edition, &[], place.permit_date);
    let book = bound().expect("a bound rulebook");
    let report = engine::check(&job.job, &book);
    let desk = answers::Desk::of(&job, book.facts());
    let parts = json!({
        "read": time(&mut || drop(black_box(model::JobFile::read(&text)))),
        "bind": time(&mut || drop(black_box(bound()))),
        "words": time(&mut || {
            black_box(engine::facts::check_stated(&job, book.facts()));
            black_box(engine::price::check_offer(&job, &shop));
        }),
        "check": time(&mut || drop(black_box(engine::check(&job.job, &book)))),
        "form": time(&mut || drop(black_box(answers::whole::of(&report, &desk)))),
        "write": time(&mut || drop(black_box(answers::text::written(&answers::whole::of(&report, &desk))))),
    });
    let commands = ["check", "face", "move", "cutover", "price", "read"];
    let calls = commands.map(|command| {
        let question = json!({ "command": command, "job": text }).to_string();
        let spent = time(&mut || drop(black_box(answers::call::call(&question))));
        (command.to_owned(), spent)
    });
    let calls: serde_json::Map<String, Value> = calls.into_iter().collect();
    println!(
        "{:#}",
        json!({ "job": file, "parts_ms": parts, "calls_ms": calls })
    );
}

/// Best and median of the rounds. The clock of the processor is read coarsely: a round goes on until it has moved far.
fn time(rounds: usize, work: &mut dyn FnMut()) -> Value {
    work();
    let mut spent: Vec<f64> = (0..rounds).map(|_| round(work)).collect();
    spent.sort_by(f64::total_cmp);
    let rounded = |ms: f64| (ms * 1e4).round() / 1e4;
    json!({ "best": rounded(spent[0]), "median": rounded(spent[rounds / 2]) })
}

/// Time of one run, over as many as take long enough to be told.
fn round(work: &mut dyn FnMut()) -> f64 {
    const LONG_ENOUGH_MS: f64 = 60.0;
    let (begin, mut runs) = (clock(), 0_u32);
    loop {
        work();
        runs += 1;
        let spent = clock() - begin;
        if spent > LONG_ENOUGH_MS {
            return spent / f64::from(runs);
        }
    }
}

/// Processor time of this process in milliseconds where Linux tells it, else the time on the wall.
fn clock() -> f64 {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok();
    let nanoseconds = told.and_then(|t| t.split(' ').next()?.parse::<f64>().ok());
    nanoseconds.map_or_else(
        || {
            std::time::SystemTime::UNIX_EPOCH
                .elapsed()
                .map_or(0.0, |t| t.as_secs_f64() * 1e3)
        },
        |ns| ns / 1e6,
    )
}
